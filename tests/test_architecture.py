"""Which stage imports which, and what a command loads before it runs."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parent.parent / "stairjig"
STAGES = [
    {"frozen"},
    {"errors"},
    {"ink", "lengths", "progress"},
    {"rules"},
    {"job"},
    {"setout"},
    {"drawing"},
    {"type"},
    {"pieces"},
    {"sheets"},
    {"pages"},
    {"pdf"},
    {"proof"},
    {"readings"},
    {"anew", "check", "files", "intake", "pack", "printers", "report", "terminal", "wanted"},
    {"commands"},
    {"cli"},
    {"__main__"},
]
"""In order; a stage may import itself and those before it. The package itself holds a version."""
FREE = {"stairjig", "stairjig.fonts", "stairjig.__version__"}
MODULES = sorted(PACKAGE.rglob("*.py"))
LIBRARIES = {
    "reportlab": {"pdf", "type"},
    "pypdf": {"proof", "readings", "job"},
    "yaml": {"job"},
}
PROOF_KNOWS_NOT = {"sheets", "pieces", "pages", "drawing", "type", "pdf"}
HEAVY = {"reportlab", "shapely", "pypdf", "numpy"}


def module_name(path):
    parts = path.relative_to(PACKAGE.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def stage_of(name):
    """The stage a module belongs to: the first name under the package."""
    return name.split(".")[1] if "." in name else ""


def imports_of(path):
    """Every module that is imported anywhere in a file, and whether it is on the top level."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    for node, inside in walk(tree, inside=False):
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield alias.name, not inside
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path.name} imports relatively"
            yield node.module, not inside
            if node.module == "stairjig":
                yield from ((f"stairjig.{alias.name}", not inside) for alias in node.names)


def walk(node, inside):
    for child in ast.iter_child_nodes(node):
        within = inside or isinstance(child, ast.FunctionDef | ast.AsyncFunctionDef)
        yield child, within
        yield from walk(child, within)


def rank(stage):
    for place, stages in enumerate(STAGES):
        if stage in stages:
            return place
    raise AssertionError(f"{stage} stands in no stage")


def ours(path):
    for name, _ in imports_of(path):
        if name.split(".")[0] == "stairjig" and name not in FREE:
            yield name


@pytest.mark.parametrize("path", MODULES, ids=module_name)
def test_a_module_imports_nothing_from_a_later_stage(path):
    name = module_name(path)
    if name == "stairjig":
        assert not list(ours(path))
        return
    later = {other for other in ours(path) if rank(stage_of(other)) > rank(stage_of(name))}
    assert not later


@pytest.mark.parametrize("path", MODULES, ids=module_name)
def test_a_library_is_imported_in_its_own_stages_alone(path):
    stage = stage_of(module_name(path))
    for name, _ in imports_of(path):
        library = name.split(".")[0]
        assert stage in LIBRARIES.get(library, {stage}), f"{library} in {module_name(path)}"


@pytest.mark.parametrize("path", MODULES, ids=module_name)
def test_shapely_is_imported_by_no_module_as_it_loads(path):
    assert not [name for name, top in imports_of(path) if top and name.split(".")[0] == "shapely"]


@pytest.mark.parametrize(
    "path", [path for path in MODULES if stage_of(module_name(path)) == "proof"], ids=module_name
)
def test_the_proof_knows_nothing_of_what_it_proves(path):
    """A pack is read back by code that shares marks, lengths and words with it, no drawing."""
    assert not {name for name in ours(path) if stage_of(name) in PROOF_KNOWS_NOT}


def test_the_walk_sees_every_way_to_import(tmp_path):
    """Lazy ones, those for type checkers and `from stairjig import ...` alike."""
    source = (
        "from stairjig import report, files\n"
        "if True:\n    import stairjig.pack\n"
        "class A:\n    from shapely import box\n"
        "def late():\n    from stairjig.cli import main\n    import shapely\n"
    )
    path = tmp_path / "sample.py"
    path.write_text(source)
    assert list(imports_of(path)) == [
        ("stairjig", True),
        ("stairjig.report", True),
        ("stairjig.files", True),
        ("stairjig.pack", True),
        ("shapely", True),
        ("stairjig.cli", False),
        ("shapely", False),
    ]


def loaded(*arguments):
    """The packages in memory after a command has run in a process of its own."""
    script = (
        "import sys\nfrom stairjig.cli import main\nmain(sys.argv[1:])\n"
        "print('LOADED', *sorted({name.split('.')[0] for name in sys.modules}))"
    )
    done = subprocess.run(
        [sys.executable, "-c", script, *arguments], capture_output=True, text=True, check=True
    )
    return set(done.stdout.rpartition("LOADED ")[2].split())


@pytest.mark.parametrize("arguments", [["--help"], ["pack", "--help"], ["--version"]])
def test_help_is_there_before_any_library(arguments):
    assert not loaded(*arguments) & (HEAVY | {"yaml"})


def test_a_layout_loads_no_library_it_does_not_need():
    """No PDF is read and no circle inscribed."""
    job = Path(__file__).parent.parent / "samples" / "kestrel-mill.yaml"
    found = loaded("layout", str(job), "--csv")
    assert "yaml" in found
    assert not found & {"pypdf", "shapely", "numpy"}
