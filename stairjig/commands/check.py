"""`stairjig check`: what tape readings along the rail mean."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from stairjig.commands.parts import DONE, FAILS, Commands, command
from stairjig.errors import BadInput, Problem
from stairjig.terminal import note

if TYPE_CHECKING:
    from stairjig.readings.values import Way
    from stairjig.setout.values import Setout


def add(commands: Commands) -> None:
    """Declare the command."""
    says = "say what tape readings along the rail mean, before anything is bored"
    example = "stairjig check hall.yaml --spacing '4 1/4, 4 1/4, 4 3/16'"
    parser = command(commands, "check", says, example)
    parser.add_argument(
        "job", metavar="JOB", help="a job file, or a pack, its check page filled in"
    )
    parser.add_argument(
        "readings",
        metavar="READINGS",
        nargs="?",
        help="a CSV, mark,spacing or mark,running; or a filled pack",
    )
    parser.add_argument("--section", metavar="NAME", help="which section the readings are of")
    way = parser.add_mutually_exclusive_group()
    way.add_argument(
        "--running", metavar="LIST", help="readings from the first mark, commas between"
    )
    way.add_argument("--spacing", metavar="LIST", help="readings from mark to mark, commas between")
    parser.set_defaults(command=run)


def run(call: argparse.Namespace) -> int:
    """Judge the readings; marks that are to be made again fail."""
    from stairjig.check import check_csv, check_fields, check_list, left_aside
    from stairjig.intake import open_job, read_bytes, text_of
    from stairjig.setout.build import set_out

    path = Path(call.job)
    setout = set_out(open_job(path).job)
    given = call.running or call.spacing
    if given and call.readings:
        raise BadInput(Problem("readings are given twice", "a CSV, or a list, not both"))
    fields = _filled(setout, path, read_bytes(path))
    if given:
        way: Way = "running" if call.running else "spacing"
        checked = check_list(setout, call.section, given, way)
        note(left_aside(path, fields, f"--{way}"))
    elif call.readings:
        source = Path(call.readings)
        data = read_bytes(source)
        apart = _filled(setout, source, data)
        if apart is None:
            checked = check_csv(setout, call.section, source, text_of(data, source))
        else:
            checked = check_fields(setout, call.section, source, apart)
        note(left_aside(path, fields, str(source)))
    else:
        checked = check_fields(setout, call.section, path, fields)
    for number, one in enumerate(checked):
        print("\n".join(["", *one.lines] if number else one.lines))
    return FAILS if any(one.redo for one in checked) else DONE


def _filled(setout: Setout, path: Path, data: bytes) -> dict[str, str] | None:
    """The fields of a pack or a form; None of a file that has no place for readings."""
    from stairjig.intake import is_pdf
    from stairjig.proof.prove import filled_fields

    return filled_fields(data, setout, str(path)) if is_pdf(data) else None
