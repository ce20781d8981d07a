"""What the strips would take on every other paper, so that the office can choose."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from stairjig.errors import Finding, Refusal
from stairjig.frozen import frozen
from stairjig.job.model import Paper
from stairjig.lengths import INCH, Shown, Units
from stairjig.pieces.values import Piece
from stairjig.sheets.elsewhere import (
    a_few,
    all_have_room,
    common_papers,
    needs_no_joint,
    nowhere,
    roll_for,
    sheets_but,
)
from stairjig.sheets.frame import Frame
from stairjig.sheets.plan import SheetPlan, cut_for, plan_sheets, wide

_FINEST = 3
"""So many times measures that read alike are told to one figure more."""


@frozen
class PaperCount:
    """How many sheets and joints all strips take on a paper."""

    name: str
    sheets: int
    joints: int


def count(plan: SheetPlan) -> PaperCount:
    """The count of a plan."""
    return PaperCount(plan.paper.name, len(plan.sheets), plan.joints)


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


def plan_or_explain(pieces: Sequence[Piece], paper: Paper, shown: Shown) -> SheetPlan:
    """The sheets; where a strip can't be cut for the paper, a refusal that names one that does."""
    try:
        return plan_sheets(pieces, paper)
    except Refusal:
        stuck = [piece for piece in pieces if _stuck(piece, paper)]
        broad = [piece for piece in stuck if wide(piece) > Frame(paper).width]
        crowded = [piece for piece in stuck if piece not in broad]
        says = [_too_wide(broad, paper, shown.units)] if broad else []
        says += [_too_crowded(crowded, paper)] if crowded else []
        mend = _mend(stuck, pieces, paper, shown)
        raise Refusal(*(replace(one, text=f"{one.text}; {mend}") for one in says)) from None


def _stuck(piece: Piece, paper: Paper) -> bool:
    try:
        cut_for(piece, Frame(paper))
    except Refusal:
        return True
    return False


def _too_wide(stuck: Sequence[Piece], paper: Paper, units: Units) -> Finding:
    """Strips that no joint helps: they are wider than the paper."""
    broad, room = _told_apart(max(map(wide, stuck)), Frame(paper).width, units)
    measures = f"it is {broad} wide" if len(stuck) == 1 else f"the widest is {broad} across"
    text = f"{_uncut(stuck, paper)}: {measures} and the paper has room for {room}"
    return Finding("too-wide", "", text)


def _too_crowded(stuck: Sequence[Piece], paper: Paper) -> Finding:
    """Strips too long for the paper, whose marks leave no room for the joints it would take."""
    crowded = "its marks stand too close together for the joints that it would take"
    return Finding("no-joint", "", f"{_uncut(stuck, paper)}: {crowded}")


def _uncut(stuck: Sequence[Piece], paper: Paper) -> str:
    more = {1: "", 2: " and 1 more strip"}.get(len(stuck), f" and {len(stuck) - 1} more strips")
    return f"{stuck[0].name}{more} can't be cut for {paper.name}"


def _told_apart(broad: float, room: float, units: Units) -> tuple[str, str]:
    """Two measures, the first the larger, in so many figures that they read apart."""
    for finer in range(_FINEST):
        said, held = _both(broad, units, finer), _both(room, units, finer)
        if said.split()[0] != held.split()[0]:
            return said, held
    held = _both(room, units, 0)
    return f"just over {held}", held


def _both(mm: float, units: Units, finer: int) -> str:
    """A measure in the job's units, and in the others behind it."""
    metric, inches = f"{mm:.{finer}f} mm", f"{mm / float(INCH):.{finer + 1}f} in"
    return f"{inches} ({metric})" if units == "inch" else f"{metric} ({inches})"


def _mend(stuck: Sequence[Piece], pieces: Sequence[Piece], paper: Paper, shown: Shown) -> str:
    """The paper that mends it: strips can be cut for it and have room on it for their words."""
    names = {piece.name for piece in stuck}
    every = a_few([*stuck, *(piece for piece in pieces if piece.name not in names)])
    sheets = sheets_but(paper)
    for sheet in sheets:
        if needs_no_joint(stuck, sheet) and all_have_room(every, sheet, shown):
            what = "needs no joint for them and has room for all words"
            return f"the smallest paper that {what} is {sheet.name}"
    if roll := roll_for(every, paper, shown):
        return roll
    for sheet in sheets:
        if all_have_room(every, sheet, shown):
            return f"the smallest paper that has room for all strips is {sheet.name}"
    alone = nowhere(every, paper, shown)
    which = (
        f"no paper has room for {alone.name}" if alone else "no one paper has room for all strips"
    )
    return f"{which} and all that it says: check the measures, or give the section a shorter name"
