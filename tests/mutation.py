"""Mutation testing of the geometry: `python tests/mutation.py [MODULE ...]`; needs cosmic-ray.

Works in a temporary copy of the repository, one mutant at a time, each in a forked process, on the
tests below with fewer drawn examples; what they leave alive meets the same tests whole and a few
more. Prints what survives, module, line, operator and the changed line, and exits 1 where any of
it is not among those explained in mutation-survivors.md.
"""

from __future__ import annotations

import ast
import importlib
import os
import re
import shutil
import signal
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from difflib import unified_diff
from functools import partial
from pathlib import Path
from typing import Any

import hypothesis
import pytest
import shapely

from cosmic_ray.mutating import mutate_code  # isort: skip  (before its other modules)
from cosmic_ray.ast import ast_nodes, get_ast
from cosmic_ray.plugins import get_operator, operator_names

ROOT = Path(__file__).resolve().parent.parent
TESTS = {
    "plan": ("plan_winders", "worked_examples", "openings"),
    "winder": ("plan_winders", "worked_examples", "openings"),
    "spacing": ("worked_examples", "openings", "setout_laws"),
    "openings": ("worked_examples", "openings"),
    "pitch": ("worked_examples", "setout_laws"),
    "rail": ("worked_examples", "newels", "openings"),
    "newels": ("newels", "worked_examples", "openings"),
    "clearance": ("even",),
    "counts": ("worked_examples", "openings", "setout_laws", "even"),
}
"""The tests that each module meets after test_survivors, likeliest to tell first."""
SLOW = (
    "test_a_base_stands_on_its_tread_just or test_enough_of_the_stairs or test_a_thousand_feet "
    "or test_the_same_lengths_written or test_most_flights_that_vary or test_a_row_held_by_one "
    "or test_a_mirrored_stair"
)
FEWER = ((r"max_examples=\d+", "max_examples=3"), (r"SEEDS = range\(60\)", "SEEDS = range(3)"))
SWAPS = {"Add": "Sub", "Sub": "Add", "Mul": "Div", "Div": "Mul", "FloorDiv": "Div", "Mod": "Add",
         "Pow": "Mul", "BitAnd": "BitOr", "BitOr": "BitAnd"}  # fmt: skip
PART_SECONDS, WHOLE_SECONDS = 20.0, 90.0


@dataclass(frozen=True)
class Mutant:
    module: str
    operator: str
    source: str
    line: int
    was: str
    now: str

    def __str__(self) -> str:
        return f"{self.module}.py:{self.line} {self.operator}: `{self.was}` -> `{self.now}`"


def wanted(name: str) -> bool:
    """Arithmetic is swapped for its opposite alone, and identity is left out of comparisons."""
    if found := re.search(r"ReplaceBinaryOperator_(\w+)_(\w+)$", name):
        return SWAPS.get(found[1]) == found[2]
    if found := re.search(r"ReplaceComparisonOperator_(\w+)_(\w+)$", name):
        return ("Is" in found[1]) == ("Is" in found[2])
    return not re.search("Decorator|Variable", name)


def bare(source: str) -> str:
    """The code less its annotations and docstrings, which change nothing here."""
    tree = ast.parse(source)
    for node in ast.walk(tree):
        if isinstance(node, ast.arg):
            node.annotation = None
        elif isinstance(node, ast.FunctionDef):
            node.returns = None
        elif isinstance(node, ast.AnnAssign):
            node.annotation = ast.Constant(None)
    return ast.dump(tree)


def changed_line(before: str, after: str) -> tuple[int, str, str]:
    old, new, line = [], [], 0
    for text in unified_diff(before.splitlines(), after.splitlines(), n=0, lineterm=""):
        if found := re.match(r"@@ -(\d+)", text):
            line = line or int(found[1])
        elif text[:1] == "-" and text[:3] != "---":
            old.append(text[1:].strip())
        elif text[:1] == "+" and text[:3] != "+++":
            new.append(text[1:].strip())
    return line, " ".join(old), " ".join(new)


def mutants(module: str) -> Iterator[Mutant]:
    source = (ROOT / "stairjig/setout" / f"{module}.py").read_text()
    seen = {bare(source)}
    nodes = list(ast_nodes(get_ast(source)))
    for name in sorted(filter(wanted, operator_names())):
        operator = get_operator(name)()
        places = sum(1 for node in nodes for _ in operator.mutation_positions(node))
        for occurrence in range(places):
            mutated = mutate_code(source.encode(), operator, occurrence)
            if (key := bare(mutated)) not in seen:
                seen.add(key)
                line, was, now = changed_line(source, mutated)
                yield Mutant(module, name.rpartition("/")[2], mutated, line, was, now)


def forked(work: Callable[[], int], seconds: float) -> int:
    """What `work` returns, in a process of its own; -1 where it takes too long."""
    child = os.fork()
    if child == 0:
        try:
            status = work()
        except BaseException:
            status = 1
        os._exit(status)
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        done, status = os.waitpid(child, os.WNOHANG)
        if done:
            return os.waitstatus_to_exitcode(status)
        time.sleep(0.005)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return -1


def parts_told(mutant: Mutant) -> int:
    """1 where a test of test_survivors fails on the module's new code, called without pytest."""
    module = importlib.import_module(f"stairjig.setout.{mutant.module}")
    tests = importlib.import_module("test_survivors")
    exec(compile(mutant.source, mutant.module, "exec"), vars(module))
    for test in [value for name, value in vars(tests).items() if name.startswith("test_")]:
        for case in cases(test):
            test(**case)
    return 0


def cases(test: Any) -> Iterator[dict[str, Any]]:
    marks = getattr(test, "pytestmark", [])
    if not marks:
        yield {}
        return
    (mark,) = marks
    names, values = mark.args
    for value in values:
        several = not isinstance(names, str)
        yield dict(zip(names, value, strict=True)) if several else {names: value}


def whole_told(folder: Path, module: str) -> int:
    """The status of pytest on the module's tests, everything imported anew."""
    for name in list(sys.modules):
        if name.split(".")[0] in {"stairjig", "test_survivors"}:
            del sys.modules[name]
    out = os.open(folder / "out.txt", os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
    os.dup2(out, 1)
    os.dup2(out, 2)
    os.chdir(folder)
    options = ["-x", "-q", "--tb=short", "-p", "no:cacheprovider", "-k", f"not ({SLOW})"]
    options += ["-W", "ignore::pytest.PytestAssertRewriteWarning"]
    status = 0
    for name in TESTS[module]:
        status = status or int(pytest.main([f"tests/test_{name}.py", *options]))
    sys.stdout.flush()
    return status


def prepared(folder: Path) -> Path:
    for name in ("stairjig", "fonts", "tests", "samples", "pyproject.toml"):
        copy = shutil.copytree if (ROOT / name).is_dir() else shutil.copy
        copy(ROOT / name, folder / name)
    os.symlink(folder / "fonts", folder / "stairjig" / "fonts")
    for test in (folder / "tests").glob("test_*.py"):
        fewer = test.read_text()
        for old, new in FEWER:
            fewer = re.sub(old, new, fewer)
        test.write_text(fewer)
    return folder


def survives(folder: Path, mutant: Mutant) -> bool:
    if forked(lambda: parts_told(mutant), PART_SECONDS):
        return False
    target = folder / "stairjig/setout" / f"{mutant.module}.py"
    whole = target.read_text()
    target.write_text(mutant.source)
    try:
        return forked(lambda: whole_told(folder, mutant.module), WHOLE_SECONDS) == 0
    finally:
        target.write_text(whole)


def main(modules: tuple[str, ...]) -> int:
    assert shapely.__version__
    hypothesis.settings.register_profile(
        "mutation", derandomize=True, database=None, deadline=None,
        phases=(hypothesis.Phase.explicit, hypothesis.Phase.generate),
    )  # fmt: skip
    hypothesis.settings.load_profile("mutation")
    explained = (ROOT / "tests/mutation-survivors.md").read_text()
    open_ends = 0
    with tempfile.TemporaryDirectory() as name:
        folder = prepared(Path(name))
        sys.path[:0] = [str(folder), str(folder / "tests")]
        importlib.import_module("test_survivors")
        for module in modules:
            sys.dont_write_bytecode = False
            source = (ROOT / "stairjig/setout" / f"{module}.py").read_text()
            if forked(partial(parts_told, Mutant(module, "", source, 0, "", "")), PART_SECONDS):
                sys.exit(f"test_survivors fails on {module} unmutated")
            if forked(partial(whole_told, folder, module), WHOLE_SECONDS):
                sys.exit((folder / "out.txt").read_text()[-3000:] + "\nthey fail unmutated")
            sys.dont_write_bytecode = True
            found = list(mutants(module))
            alive = []
            for mutant in found:
                if survives(folder, mutant):
                    alive.append(mutant)
                    new = f"`{mutant.was}` -> `{mutant.now}`" not in explained
                    open_ends += new
                    print("  " + ("NEW " if new else "explained ") + str(mutant), flush=True)
            print(f"{module}: {len(found)} mutants, {len(found) - len(alive)} killed", flush=True)
    return int(open_ends > 0)


if __name__ == "__main__":
    sys.exit(main(tuple(Path(m).stem for m in sys.argv[1:]) or tuple(TESTS)))
