"""`stairjig pack`: the pack to print, proved before it is written."""

from __future__ import annotations

import argparse
import contextlib
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from stairjig.commands.parts import DONE, Commands, add_job, command, save_job
from stairjig.errors import BadInput, Problem, counted, in_words
from stairjig.terminal import note, progress

if TYPE_CHECKING:
    from stairjig.pack import Pack


def add(commands: Commands) -> None:
    """Declare the command."""
    says = "write the pack: strips and sheets to print, as a PDF that has been proved"
    parser = command(commands, "pack", says, "stairjig pack hall.yaml -o hall.pdf")
    add_job(parser)
    parser.add_argument(
        "-o", "--output", metavar="FILE", help="where to; else JOB's name with .pdf, here"
    )
    parser.add_argument(
        "--printer", metavar="NAME", help="correct for a printer, see stairjig printer"
    )
    parser.add_argument(
        "--only",
        metavar="STRIPS",
        action="append",
        default=[],
        help="reprint some strips: 'Hall flight:2,4-6', 'Hall flight:rail', rail",
    )
    parser.add_argument("--sheet", metavar="K", type=int, help="reprint one sheet by its number")
    parser.set_defaults(command=run)


def run(call: argparse.Namespace) -> int:
    """Make the pack, prove it, and only then write it."""
    from stairjig.files import check_target, write_whole
    from stairjig.intake import check_replaceable, open_job
    from stairjig.printers import remembered

    path = _output(call)
    opened = open_job(Path(call.job), call.paper)
    check_target(path)
    check_replaceable(path)
    from stairjig.pack import make_pack

    printer = remembered(call.printer) if call.printer else None
    wanted = opened.wanted.overridden(call.only, call.sheet, printer)
    with progress(sys.stderr) as tell:
        pack = make_pack(opened.job, wanted, tell=tell)
    save_job(call, opened.job.source)
    write_whole(path, pack.data)
    note(in_words(pack.setout.warnings))
    print(f"{path}: {_packed(pack, wanted.reprint)}; read back and proved")
    return DONE


def _output(call: argparse.Namespace) -> Path:
    """The file to write: never the input itself, nor the job file that is wanted beside it."""
    from stairjig.files import target

    source = Path(call.job)
    part = "-reprint" if call.only or call.sheet is not None else ""
    path = Path(f"{source.stem}{part}.pdf") if call.output is None else target(call.output)
    if call.output is None and _same(source, path):
        path = Path(f"{source.stem}-pack.pdf")
    if _same(source, path):
        raise BadInput(Problem(f"{path} is the input itself", "name another file with -o"))
    if call.save_job is not None and Path(call.save_job).absolute() == path.absolute():
        raise BadInput(Problem(f"{path} is to be both pack and job file", "name two files"))
    return path


def _same(one: Path, other: Path) -> bool:
    if one.absolute() == other.absolute():
        return True
    with contextlib.suppress(OSError, ValueError):  # one of the two is not there
        return one.samefile(other)
    return False


def _packed(pack: Pack, reprint: bool) -> str:
    paper = pack.papers[0]
    sheets = counted(pack.sheets, "sheet")
    if reprint:
        return f"a reprint of {sheets} on {paper.name}, pack {pack.setout.pack_id}"
    return (
        f"{sheets} on {paper.name}, {paper.sheets} of them strips with "
        f"{counted(paper.joints, 'joint')}, pack {pack.setout.pack_id}"
    )
