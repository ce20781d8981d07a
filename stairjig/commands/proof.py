"""`stairjig proof`: a pack from disk held against its own job."""

from __future__ import annotations

import argparse
import shlex
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from stairjig.commands.parts import DONE, Commands, command
from stairjig.errors import Finding, Refusal
from stairjig.terminal import progress

if TYPE_CHECKING:
    from stairjig.setout.values import Setout


def add(commands: Commands) -> None:
    """Declare the command."""
    says = "read a pack back and hold every mark against the layout of its own job"
    parser = command(commands, "proof", says, "stairjig proof hall.pdf")
    parser.add_argument("pack", metavar="PACK", help="a pack, as PDF")
    parser.set_defaults(command=run)


def run(call: argparse.Namespace) -> int:
    """Prove a pack; what is off is refused."""
    from stairjig.anew import comparable, differences
    from stairjig.intake import check_no_text, open_pack, read_bytes
    from stairjig.pieces.build import cut_pieces
    from stairjig.pieces.selection import chosen
    from stairjig.proof.prove import prove
    from stairjig.setout.build import set_out

    path = Path(call.pack)
    data = read_bytes(path)
    check_no_text(data, path)
    opened = open_pack(data, str(path))
    setout, wanted = set_out(opened.job), opened.wanted
    only = chosen(cut_pieces(setout), wanted.only) if wanted.only else None
    part = wanted.sheet is not None
    with progress(sys.stderr) as tell:
        faults = prove(data, setout, only, wanted.scale, part, str(path), tell)
        alike = comparable(opened)
        if alike and not faults:
            faults = differences(data, opened, setout, str(path), tell)
    if faults:
        raise Refusal(*_told(faults, path))
    print(f"{path}: pack {setout.pack_id}, {_proved(setout, wanted.reprint)}")
    print(_ALIKE if alike else _OTHER)
    return DONE


_MOST_TOLD = 12
"""Faults that are told one by one: a sheet that is scaled or missing has a hundred."""


def _told(faults: Sequence[Finding], path: Path) -> Sequence[Finding]:
    """The faults; the first of many, with what to do about it."""
    more = len(faults) - _MOST_TOLD
    if more <= 0:
        return faults
    head = (
        f"{path} is not as it was made, in {len(faults)} places: use none of its paper and make it "
        f"anew: stairjig pack {shlex.quote(str(path))} -o new.pdf"
    )
    tail = f"and {more} more like these"
    said = *faults[:_MOST_TOLD], Finding("proof-more", "", tail)
    return (Finding("proof-many", "", head), *said)


_ALIKE = "every page is as it was made, but for what is filled in"
_OTHER = (
    "made with another version: its strips, bars and check rows are proved, the other pages not "
    "looked at"
)


def _proved(setout: Setout, reprint: bool) -> str:
    if reprint:
        return "a reprint; every mark on it is in its place"
    marks = sum(len(section.marks) for section in setout.sections)
    return f"{marks} marks on treads and rail, all in their places"
