"""What the program is called with: a command, its options, and files for it to read.

Every call is made from its own number and the seed, so that any of them can be had again.
"""

from __future__ import annotations

import contextlib
import io
import os
import tempfile
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from random import Random

from form_files import ON, PORCH, TURN, blank, by_pypdf, values
from fuzz.grammar import EDGES, NAMES, Grammar
from fuzz.mutate import JOB_CHANGES, PDF_CHANGES, changed_inside, mutated
from fuzz.pdfs import form_with, pack_with, plain_streams
from pypdf import PdfReader, PdfWriter

from stairjig.cli import main

SAMPLES = Path(__file__).parent.parent.parent / "samples"
SMALL = """\
title: Wren House
units: inch
openings: irc
balusters: {plain: {shape: square, width: 5/8, tread_hole: {size: 15/16, depth: 1}}}
rail: {height: 36, depth: 2 1/2, width: 2 3/8}
sections:
  - {name: Steps, kind: treads, side: left, rise: 7 1/2, nosing: 1 1/8, line: 1 3/4,
     lower_newel: {width: 3 1/2}, upper_newel: wall, treads: [10 1/4, {depth: 11 1/2}]}
  - {name: Ramp, kind: sloped, length: 30, pitch: 36.9, lower_newel: {width: 3}, upper_newel: none}
"""
ONE = SMALL[: SMALL.index("  - {name: Ramp")].encode()
_JOB, _PACK = "job.yaml", "pack.pdf"


@dataclass(frozen=True, slots=True)
class Call:
    """Arguments, and the files that stand in the folder: by name, their bytes."""

    kind: str
    arguments: tuple[str, ...]
    files: dict[str, bytes] = field(default_factory=dict)


@cache
def seeds() -> tuple[bytes, ...]:
    """Good job files."""
    return (SMALL.encode(), *(path.read_bytes() for path in sorted(SAMPLES.glob("*.yaml"))))


@cache
def packs() -> tuple[bytes, ...]:
    """Good PDFs: a pack, a reprint of a part of it, a measuring form; filled ones of both kinds."""
    calls = (
        ("pack", _JOB, "-o", _PACK),
        ("pack", _JOB, "-o", _PACK, "--only", "Steps:1"),
        ("form", "-o", _PACK, "--treads", "3", "--units", "inch"),
    )
    pack, reprint, form = (_made(arguments) for arguments in calls)
    return pack, reprint, form, by_pypdf(blank(), PORCH), _taped_in(pack)


def _taped_in(pack: bytes) -> bytes:
    """The pack with readings on its check page."""
    writer, out = PdfWriter(clone_from=PdfReader(io.BytesIO(pack))), io.BytesIO()
    names = writer.get_fields() or {}
    taped = {name: "4 1/4" for name in names if name.endswith("__spacing")}
    for page in writer.pages:
        if "/Annots" in page:
            writer.update_page_form_field_values(page, taped, auto_regenerate=False)
    writer.write(out)
    return out.getvalue()


@cache
def unpacked() -> tuple[bytes, ...]:
    """The same with every stream plain, so that a change meets what the pages say."""
    return tuple(plain_streams(data) for data in packs())


def _made(arguments: tuple[str, ...]) -> bytes:
    here = os.getcwd()
    with tempfile.TemporaryDirectory() as folder, contextlib.redirect_stderr(io.StringIO()):
        os.chdir(folder)
        try:
            Path(_JOB).write_text(SMALL, encoding="utf-8")
            with contextlib.redirect_stdout(io.StringIO()):
                main(arguments)
            return Path(_PACK).read_bytes()
        finally:
            os.chdir(here)


def call_of(seed: int, number: int) -> Call:
    """The call of that number."""
    chance = Random(f"{seed}-{number}")
    makers, weights = zip(*_KINDS, strict=True)
    return chance.choices(makers, weights)[0](chance)


def _written(chance: Random, wild: tuple[float, ...]) -> bytes:
    return Grammar(chance, chance.choice(wild)).job().encode("utf-8", "surrogatepass")


def _job(chance: Random) -> bytes:
    """A job file: written by chance, or a good one changed."""
    if chance.random() < 0.6:
        text = _written(chance, (0, 0, 0, 0.01, 0.05))
        return mutated(text, chance, JOB_CHANGES) if chance.random() < 0.2 else text
    return mutated(chance.choice(seeds()), chance, JOB_CHANGES)


def _layout(chance: Random) -> Call:
    form = chance.choice(((), (), ("--json",), ("--csv",)))
    paper = ("--paper", chance.choice(_PAPERS)) if chance.random() < 0.1 else ()
    return Call("layout", ("layout", _JOB, *form, *paper), {_JOB: _job(chance)})


def _pack(chance: Random) -> Call:
    extra: tuple[str, ...] = ()
    if chance.random() < 0.3:
        only = chance.choice(
            ("rail", "Section 0", "Section 0:1", "Steps:1-2", "x:", ":", "Steps:rail", "9")
        )
        extra = ("--only", only)
    elif chance.random() < 0.1:
        extra = ("--sheet", chance.choice(("1", "2", "9", "0", "-1", "x", "9" * 30)))
    text = _written(chance, (0, 0, 0, 0.01))
    return Call("pack", ("pack", _JOB, "-o", _PACK, *extra), {_JOB: text})


def _check(chance: Random) -> Call:
    job = ONE if chance.random() < 0.8 else chance.choice((SMALL.encode(), _job(chance)))
    taped = _taped(chance)
    named = chance.random() < 0.15
    section = ("--section", chance.choice(("Steps", "Ramp", *NAMES))) if named else ()
    if chance.random() < 0.6:
        way = chance.choice(("--running", "--spacing"))
        return Call("check", ("check", _JOB, *section, f"{way}={', '.join(taped)}"), {_JOB: job})
    marks = ("1-1", "1-2", "1-3", "2-1", "2-2", "2-3", "total", "3-1", "")
    start = chance.choice((0, 1))
    rows = [f"{mark},{text}" for mark, text in zip(marks[start:], taped, strict=False)]
    head = chance.choice(
        ("mark,spacing", "mark,spacing", "mark,running", "mark", "section,mark,running")
    )
    table = "\n".join([head, *rows]).encode()
    table = mutated(table, chance, JOB_CHANGES) if chance.random() < 0.4 else table
    return Call("check", ("check", _JOB, "taped.csv", *section), {_JOB: job, "taped.csv": table})


def _taped(chance: Random) -> list[str]:
    """Readings near those of two treads, running or not, some of them slips."""
    step, at, taped = chance.choice((4.25, 4.24, 4.5, 2.0)), 0.0, []
    running = chance.random() < 0.5
    for _ in range(chance.choice((5, 5, 5, 6, chance.randint(0, 9)))):
        at += step + chance.choice((0, 0, 1 / 16, -1 / 8, 1, chance.uniform(-1, 1)))
        taped.append(f"{at if running else step + chance.gauss(0, 0.05):.3f}")
    if taped and chance.random() < 0.2:
        taped[chance.randrange(len(taped))] = chance.choice(EDGES)
    return taped


def _form(chance: Random) -> Call:
    """A filled form: a good one with some answers changed, taken away or given to others."""
    filling = dict(chance.choice((PORCH, TURN)))
    for _ in range(chance.choice((0, 1, 1, 2, 5))):
        key = chance.choice(list(filling))
        other = chance.choice((*EDGES, *NAMES, "", ON, filling[chance.choice(list(filling))]))
        filling[key] = other if chance.random() < 0.7 else f"{chance.uniform(0, 40):.2f}"
    answers = values(filling)
    if chance.random() < 0.3:
        answers[chance.choice(list(answers))] = chance.choice((*EDGES, ON))
    data = form_with(answers)
    data = mutated(data, chance, PDF_CHANGES) if chance.random() < 0.1 else data
    command = chance.choice(
        (("layout",), ("layout", "--json"), ("layout", "--save-job", "saved.yaml"))
    )
    return Call("form", (*command, "form.pdf"), {"form.pdf": data})


def _carried(chance: Random) -> Call:
    """A pack whose own job, or what it says of itself, was changed."""
    made = '{"paper": "letter", "only": ["Steps:1"], "sheet": null, "printer": null}'
    files = {"job.yaml": _job(chance), "pack.json": made.encode()}
    if chance.random() < 0.5:
        files["pack.json"] = mutated(files["pack.json"], chance, JOB_CHANGES)
    command = chance.choice(("layout", "proof", "check"))
    return Call("carried", (command, _PACK), {_PACK: pack_with(files)})


def _pdf(chance: Random) -> Call:
    if chance.random() < 0.5:
        data = changed_inside(chance.choice(unpacked()), chance)
    else:
        data = mutated(chance.choice(packs()), chance, PDF_CHANGES)
    command = chance.choice(("layout", "proof", "proof", "check"))
    return Call("pdf", (command, _PACK), {_PACK: data})


def _arguments(chance: Random) -> Call:
    words = (
        "layout", "pack", "proof", "check", "printer", "new", "form", "--json", "--csv", "-o",
        "--paper", "--only", "--sheet", "--treads", "--units", "--along", "--across", "inch", "7",
        _JOB, "out.pdf", "", "-", ".", "..", "no/such/x.pdf", "x" * 300,
        "a\nb", "\x1b[2J", "é.yaml",
        "\udcff", "a\0b", "--", "--help", "--version", *_PAPERS, *EDGES[:9],
    )  # fmt: skip
    argued = chance.choices(words, k=chance.randint(0, 6))
    command = [chance.choice(words[:7])] if chance.random() < 0.8 else []
    return Call("arguments", (*command, *argued), {_JOB: seeds()[0]})


_PAPERS = ("letter", "a4", "roll 24", "10 x 15", "a9", "roll 999", "1 x 1", "x", "200 mm x 300 mm")
_KINDS = (
    (_layout, 60), (_pack, 9), (_check, 8), (_pdf, 9), (_form, 6), (_carried, 4), (_arguments, 4),
)  # fmt: skip
