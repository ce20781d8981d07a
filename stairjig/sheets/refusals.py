"""Why a strip has no room for its words on a paper, and the paper on which it has."""

from __future__ import annotations

from stairjig.errors import Finding
from stairjig.job.model import Paper
from stairjig.lengths import Shown
from stairjig.sheets.elsewhere import has_room, roll_for, sheets_but
from stairjig.sheets.lettering import NoRoom
from stairjig.sheets.plan import tile_name


def no_room(lacking: NoRoom, paper: Paper, shown: Shown) -> Finding:
    """The words that a strip has no room for, and the smallest paper that gives it room."""
    piece = lacking.tile.piece
    best = next((each for each in sheets_but(paper) if has_room(piece, each, shown)), None)
    if best:
        mend = f"the smallest paper that gives it room is {best.name}"
    else:
        mend = roll_for([piece], paper, shown) or (
            "no paper gives it more: check its measures, or give the section a shorter name"
        )
    text = f"{tile_name(lacking.tile)} has no room on {paper.name} for: {lacking.what}; {mend}"
    return Finding("no-room", "", text)
