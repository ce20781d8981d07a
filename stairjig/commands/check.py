"""`stairjig check`: what tape readings along the rail mean."""

from __future__ import annotations

import argparse
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from stairjig.commands.parts import DONE, FAILS, Commands, command
from stairjig.errors import BadInput, Problem, in_words
from stairjig.terminal import note

if TYPE_CHECKING:
    from stairjig.check import Checked
    from stairjig.readings.values import Way
    from stairjig.setout.values import Setout


def add(commands: Commands) -> None:
    """Declare the command."""
    says = "say what tape readings along the rail mean, before anything is bored"
    example = (
        "stairjig check hall.yaml --running '6 5/16, 12 11/16, 18 15/16, 25 1/4, 31 5/8, "
        "38 1/16, 44 3/8, 50 3/4, 57 1/16, 63 7/16, 69 3/4'"
    )
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
    parser.late = "readings"
    parser.set_defaults(command=run)


def run(call: argparse.Namespace) -> int:
    """Judge the readings; marks that are to be made again fail."""
    from stairjig.intake import open_job
    from stairjig.setout.build import set_out

    path = Path(call.job)
    setout = set_out(open_job(path).job)
    if (call.running or call.spacing) and call.readings:
        way = "--running" if call.running else "--spacing"
        mend = "a CSV, or a list, not both; a list stands in quotes"
        raise BadInput(Problem(f"readings are given twice, {way} and {call.readings}", mend))
    note(in_words(found for found in setout.warnings if found.code == "tolerance-wide"))
    checked = _checked(call, setout, path)
    for number, one in enumerate(checked):
        print("\n".join(["", *one.lines] if number else one.lines))
    return FAILS if any(one.redo for one in checked) else DONE


def _checked(call: argparse.Namespace, setout: Setout, path: Path) -> tuple[Checked, ...]:
    """The readings' verdicts, and what the other boxes of a filled pack come to."""
    from stairjig.check import (
        Checked,
        boxes_of,
        check_csv,
        check_fields,
        check_list,
        hold_for,
        left_aside,
    )
    from stairjig.intake import read_bytes, text_of

    fields = _filled(setout, path, read_bytes(path))
    source = Path(call.readings) if call.readings else path
    data = read_bytes(source) if call.readings else b""
    apart = _apart(setout, source, data) if call.readings else None
    boxes = boxes_of(setout, call.section, fields if apart is None else apart)
    hold = hold_for(boxes)
    if given := call.running or call.spacing:
        way: Way = "running" if call.running else "spacing"
        found = check_list(setout, call.section, given, way, hold)
        note(left_aside(path, fields, f"--{way}"))
    elif not call.readings:
        found = check_fields(setout, call.section, path, fields, boxes)
    else:
        if apart is None:
            found = check_csv(setout, call.section, source, text_of(data, source), hold)
        else:
            found = check_fields(setout, call.section, source, apart, boxes)
        note(left_aside(path, fields, str(source)))
    return (*found, Checked(boxes.lines, boxes.fails)) if boxes else found


def _apart(setout: Setout, source: Path, data: bytes) -> dict[str, str] | None:
    """The fields of a filled pack that is given beside a job; of another job's it is told."""
    try:
        return _filled(setout, source, data)
    except BadInput as bad:
        mend = f"check the filled pack by itself: stairjig check '{source}'"
        problems = [one if one.mend else replace(one, mend=mend) for one in bad.problems]
        raise BadInput(*problems) from None


def _filled(setout: Setout, path: Path, data: bytes) -> dict[str, str] | None:
    """The fields of a pack or a form; None of a file that has no place for readings."""
    from stairjig.intake import is_pdf
    from stairjig.proof.prove import filled_fields

    return filled_fields(data, setout, str(path)) if is_pdf(data) else None
