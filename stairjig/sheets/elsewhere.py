"""What strips have room for on other papers than the one that they have too little room on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import accumulate

from stairjig.errors import Refusal
from stairjig.job.model import Paper
from stairjig.job.papers import LONGEST_ROLL, ROLL_MARGIN, SHEET_MARGIN, SHEETS
from stairjig.lengths import INCH, Shown
from stairjig.pieces.values import Piece
from stairjig.sheets.frame import Frame
from stairjig.sheets.plan import cut_for
from stairjig.sheets.tiles import cut_tiles

_ROLLS = (24, 36, 60)
"""Widths of rolls, inches."""
_LONG, _MANY = 24, 120
"""Marks of a strip, and of all of them, whose words are tried on every other paper: crowded ones
take their time, and a longer strip's tiles are much alike."""


def common_papers(beside: Paper) -> tuple[Paper, ...]:
    """The sheets that offices keep, with the margin of a job's paper, or what is usual on them."""
    usual = beside.roll and beside.margin == ROLL_MARGIN
    margin = SHEET_MARGIN if usual else beside.margin
    return tuple(Paper(name, *size, margin) for name, size in SHEETS.items())


def sheets_but(paper: Paper) -> list[Paper]:
    """Every common sheet but the job's own paper, the smallest first."""
    others = (each for each in common_papers(paper) if each.name != paper.name)
    return sorted(others, key=lambda each: each.width * each.height)


def roll_for(pieces: Sequence[Piece], paper: Paper, shown: Shown) -> str:
    """What says which roll has room for all of some strips; no word where none has."""
    for roll in _rolls():
        if roll.name != paper.name and all_have_room(pieces, roll, shown):
            return f"take a roll, such as --paper '{roll.name}'"
    return ""


def nowhere(pieces: Iterable[Piece], paper: Paper, shown: Shown) -> Piece | None:
    """The first of some strips that no other paper has room for."""
    others = [*sheets_but(paper), *_rolls()]
    homeless = (one for one in pieces if not any(has_room(one, each, shown) for each in others))
    return next(homeless, None)


def _rolls() -> Iterator[Paper]:
    for inches in _ROLLS:
        yield Paper(f"roll {inches}", inches * INCH, LONGEST_ROLL, ROLL_MARGIN, roll=True)


def a_few(pieces: Sequence[Piece]) -> Sequence[Piece]:
    """The first of some strips, as many as can be tried on every other paper."""
    marks = accumulate(len(piece.spots) for piece in pieces)
    return pieces[: max(1, sum(count <= _MANY for count in marks))]


def all_have_room(pieces: Iterable[Piece], paper: Paper, shown: Shown) -> bool:
    """Whether each of some strips has room on a paper."""
    return all(has_room(piece, paper, shown) for piece in pieces)


def has_room(piece: Piece, paper: Paper, shown: Shown) -> bool:
    """Whether a strip can be cut for a paper and, unless its marks are many, says all it must."""
    from stairjig.sheets.joint_words import said_of
    from stairjig.sheets.lettering import NoRoom, letter

    try:
        cut = cut_for(piece, Frame(paper))
        if len(piece.spots) > _LONG:
            return True
        tiles = cut_tiles(cut.piece, cut.joints, 1)
        numbers = {(piece.name, tile.index): 888 for tile in tiles}
        letter(tiles, said_of(tiles, shown, numbers))
    except (Refusal, NoRoom):
        return False
    return True


def needs_no_joint(pieces: Iterable[Piece], paper: Paper) -> bool:
    """Whether every one of some strips goes on a paper in one piece."""
    try:
        return not any(cut_for(piece, Frame(paper)).joints for piece in pieces)
    except Refusal:
        return False
