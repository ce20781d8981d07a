"""Why a strip has no room for its words on a paper, and the paper on which it has."""

from __future__ import annotations

from collections.abc import Iterable

from stairjig.errors import Finding, Refusal
from stairjig.job.model import Paper
from stairjig.job.papers import LONGEST_ROLL, ROLL_MARGIN
from stairjig.lengths import INCH, Shown
from stairjig.pieces.values import Piece
from stairjig.sheets.advice import common_papers
from stairjig.sheets.frame import Frame
from stairjig.sheets.joint_words import said_of
from stairjig.sheets.lettering import NoRoom, letter
from stairjig.sheets.plan import cut_for, tile_name
from stairjig.sheets.tiles import cut_tiles

_A_ROLL = Paper("roll 24", 24 * INCH, LONGEST_ROLL, ROLL_MARGIN, roll=True)
_ROLL = "take a roll, such as --paper 'roll 24'"


def no_room(lacking: NoRoom, paper: Paper, shown: Shown) -> Finding:
    """The words that a strip has no room for, and the smallest paper that gives it room."""
    piece = lacking.tile.piece
    others = (each for each in common_papers(paper) if each.name != paper.name)
    best = _smallest(piece, others, shown)
    mend = "no paper gives it more: check its measures, or give the section a shorter name"
    if best:
        mend = f"the smallest paper that gives it room is {best.name}"
    elif not paper.roll and _has_room(piece, _A_ROLL, shown):
        mend = _ROLL
    text = f"{tile_name(lacking.tile)} has no room on {paper.name} for: {lacking.what}; {mend}"
    return Finding("no-room", "", text)


def _smallest(piece: Piece, papers: Iterable[Paper], shown: Shown) -> Paper | None:
    for paper in sorted(papers, key=lambda each: each.width * each.height):
        if _has_room(piece, paper, shown):
            return paper
    return None


def _has_room(piece: Piece, paper: Paper, shown: Shown) -> bool:
    """Whether a strip can be cut for a paper and says all it must."""
    try:
        cut = cut_for(piece, Frame(paper))
        tiles = cut_tiles(cut.piece, cut.joints, 1)
        numbers = {(piece.name, tile.index): 888 for tile in tiles}
        letter(tiles, said_of(tiles, shown, numbers))
    except (Refusal, NoRoom):
        return False
    return True
