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
        "readings", metavar="READINGS", nargs="?", help="a CSV: mark,spacing or mark,running"
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
    from stairjig.intake import open_job, read_bytes, read_text
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
        checked = check_csv(setout, call.section, source, read_text(source))
        note(left_aside(path, fields, str(source)))
    else:
        checked = check_fields(setout, call.section, path, fields)
    for number, one in enumerate(checked):
        print("\n".join(["", *one.lines] if number else one.lines))
    return FAILS if any(one.redo for one in checked) else DONE


def _filled(setout: Setout, path: Path, data: bytes) -> dict[str, str] | None:
    """The fields of a pack or a form; None of a job file, which has no place for readings."""
    from stairjig.intake import is_pdf
    from stairjig.proof.prove import patience_for
    from stairjig.proof.reading import read_pdf

    if not is_pdf(data):
        return None
    return dict(read_pdf(data, str(path), patience_for(setout)).fields)
