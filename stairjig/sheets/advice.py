"""What the strips would take on every other paper, so that the office can choose."""

from __future__ import annotations

from collections.abc import Sequence

from stairjig.errors import Finding, Refusal
from stairjig.frozen import frozen
from stairjig.job.model import Paper
from stairjig.job.papers import ROLL_MARGIN, SHEET_MARGIN, SHEETS
from stairjig.lengths import INCH
from stairjig.pieces.values import Piece
from stairjig.sheets.frame import Frame
from stairjig.sheets.plan import SheetPlan, cut_for, plan_sheets, smallest_without_joints, wide


@frozen
class PaperCount:
    """How many sheets and joints all strips take on a paper."""

    name: str
    sheets: int
    joints: int


def count(plan: SheetPlan) -> PaperCount:
    """The count of a plan."""
    return PaperCount(plan.paper.name, len(plan.sheets), plan.joints)


def common_papers(beside: Paper) -> tuple[Paper, ...]:
    """The sheets that offices keep, with the margin of a job's paper, or what is usual on them."""
    usual = beside.roll and beside.margin == ROLL_MARGIN
    margin = SHEET_MARGIN if usual else beside.margin
    return tuple(Paper(name, *size, margin) for name, size in SHEETS.items())


def advice(pieces: Sequence[Piece], chosen: SheetPlan) -> tuple[PaperCount, ...]:
    """The chosen paper first, then every other common one that all strips can be cut for."""
    counts = [count(chosen)]
    for paper in common_papers(chosen.paper):
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
        broad = [piece for piece in stuck if wide(piece) > Frame(paper).width]
        told = [_too_wide(broad, paper)] if broad else []
        crowded = [piece for piece in stuck if piece not in broad]
        told += [_too_crowded(crowded, paper)] if crowded else []
        raise Refusal(*told) from None


def _stuck(piece: Piece, paper: Paper) -> bool:
    try:
        cut_for(piece, Frame(paper))
    except Refusal:
        return True
    return False


def _too_wide(stuck: Sequence[Piece], paper: Paper) -> Finding:
    """Strips that no joint helps: they are wider than the paper."""
    broad, room = _both(max(map(wide, stuck))), _both(Frame(paper).width)
    measures = f"it is {broad} wide" if len(stuck) == 1 else f"the widest is {broad} across"
    mend = _mend(stuck, paper)
    text = f"{_uncut(stuck, paper)}: {measures} and the paper has room for {room}; {mend}"
    return Finding("too-wide", "", text)


def _too_crowded(stuck: Sequence[Piece], paper: Paper) -> Finding:
    """Strips too long for the paper, whose marks leave no room for the joints it would take."""
    crowded = "its marks stand too close together for the joints that it would take"
    text = f"{_uncut(stuck, paper)}: {crowded}; {_mend(stuck, paper)}"
    return Finding("no-joint", "", text)


def _uncut(stuck: Sequence[Piece], paper: Paper) -> str:
    more = {1: "", 2: " and 1 more strip"}.get(len(stuck), f" and {len(stuck) - 1} more strips")
    return f"{stuck[0].name}{more} can't be cut for {paper.name}"


def _both(mm: float) -> str:
    return f"{mm:.0f} mm ({mm / float(INCH):.1f} in)"


def _mend(stuck: Sequence[Piece], paper: Paper) -> str:
    """The smallest paper that needs no joint for any of the strips."""
    needed = [smallest_without_joints(piece, common_papers(paper)) for piece in stuck]
    if not all(needed):
        return "take a roll, such as --paper 'roll 24'"
    largest = max((best for best in needed if best), key=lambda best: best.width * best.height)
    return f"the smallest paper that needs no joint for them is {largest.name}"
