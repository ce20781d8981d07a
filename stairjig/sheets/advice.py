"""What the strips would take on every other paper, so that the office can choose."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from stairjig.errors import Finding, Refusal
from stairjig.job.model import Paper
from stairjig.job.papers import SHEETS
from stairjig.lengths import INCH, Length
from stairjig.pieces.values import Piece
from stairjig.sheets.frame import Frame
from stairjig.sheets.plan import SheetPlan, cut_for, plan_sheets, smallest_without_joints

_MARGIN = Length(INCH * 5 / 16, "5/16 in")


@dataclass(frozen=True, slots=True)
class PaperCount:
    """How many sheets and joints all strips take on a paper."""

    name: str
    sheets: int
    joints: int


def count(plan: SheetPlan) -> PaperCount:
    """The count of a plan."""
    return PaperCount(plan.paper.name, len(plan.sheets), plan.joints)


def common_papers() -> tuple[Paper, ...]:
    """The sheets that offices keep, with the usual margin."""
    return tuple(Paper(name, *size, _MARGIN) for name, size in SHEETS.items())


def advice(pieces: Sequence[Piece], chosen: SheetPlan) -> tuple[PaperCount, ...]:
    """The chosen paper first, then every other common one that all strips can be cut for."""
    counts = [count(chosen)]
    for paper in common_papers():
        if paper.name != chosen.paper.name:
            try:
                counts.append(count(plan_sheets(pieces, paper)))
            except Refusal:
                continue
    return tuple(counts)


def plan_or_explain(pieces: Sequence[Piece], paper: Paper) -> SheetPlan:
    """The sheets; where a strip can't be cut for the paper, a refusal that names one that does."""
    try:
        return plan_sheets(pieces, paper)
    except Refusal:
        stuck = [piece for piece in pieces if _stuck(piece, paper)]
        raise Refusal(_explained(stuck, paper)) from None


def _stuck(piece: Piece, paper: Paper) -> bool:
    try:
        cut_for(piece, Frame(paper))
    except Refusal:
        return True
    return False


def _explained(stuck: Sequence[Piece], paper: Paper) -> Finding:
    """The strips that can't be cut, and the smallest paper that needs no joint for any of them."""
    more = f" and {len(stuck) - 1} more strips" if len(stuck) > 1 else ""
    needed = [smallest_without_joints(piece, common_papers()) for piece in stuck]
    mend = "take a roll, such as --paper 'roll 24'"
    if all(needed):
        largest = max((best for best in needed if best), key=lambda best: best.width * best.height)
        mend = f"the smallest paper that needs no joint for them is {largest.name}"
    text = f"{stuck[0].name}{more} can't be cut for {paper.name} clear of the marks; {mend}"
    return Finding("no-joint", "", text)
