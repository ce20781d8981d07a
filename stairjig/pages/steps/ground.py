"""What the helper marks on treads, shoe or floor."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stairjig.job.model import TreadsSection
from stairjig.pages.steps import drawings as draw
from stairjig.pages.steps import drawings_rail as draw_rail
from stairjig.pages.steps.paper import JOIN
from stairjig.pages.steps.values import (
    Step,
    by_what,
    each,
    in_a_row,
    on_strips,
    on_treads,
    straight,
)
from stairjig.pages.wording import alike_names, near
from stairjig.pieces.tread_words import SAME_TREAD
from stairjig.setout.names import ground

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from stairjig.lengths import Shown
    from stairjig.setout.values import SectionSetout, Setout

_SLOPE = 0.25
"""A riser in a drawing leans no more."""


def ground_steps(setout: Setout) -> Iterator[Step]:
    """Yield the steps with the strips on treads, shoe or floor."""
    flights, others = on_treads(setout), straight(setout)
    if flights:
        yield _lay_tread_strip(setout, flights)
    if others:
        yield _lay_shoe_strip(setout, others)
    yield _prick(setout)


def _lay_tread_strip(setout: Setout, flights: tuple[SectionSetout, ...]) -> Step:
    shown, first = setout.job.shown, flights[0].section
    assert isinstance(first, TreadsSection)
    shared = ", or the numbers of all treads it serves" if setout.job.copies == "shared" else ""
    return Step(
        "Lay each tread strip on its tread",
        (
            f"Its section and its tread's number are on it{shared}. This face up, the arrow up "
            f"the stair; {by_what(flights, _sideways)}. Push it on until its back edge "
            "touches the face of the next riser at the line; clean the corner, and where it "
            "touches before the line does, trim it, don't turn it. Stick it down with low-tack "
            "tape.",
            "The long-dashed line across is the face of the riser below. It lies under the nosing, "
            "where no tape reaches: the nosing's edge stands in front of it by the figure given.",
        ),
        in_a_row(setout, flights, lambda one: _nosing(one, shown), "on their strips"),
        f"The nosing's edge is off by more than {shown.text(SAME_TREAD)}: it is not the tread that "
        f"was measured.{_no_return(flights)}",
        draw.tread_strip(first.side, _slopes(flights[0])),
    )


def _slopes(section: SectionSetout) -> tuple[float, float]:
    """How a tread's risers lie in the drawing: as on the section's most tapered tread."""
    plans = [one.plan for one in section.treads]
    plan = max(plans, key=lambda one: abs(one.front.skew - one.back.skew))
    front, back = (max(-_SLOPE, min(_SLOPE, -at.skew / 100)) for at in (plan.front, plan.back))
    return front, back


def _no_return(flights: Sequence[SectionSetout]) -> str:
    """Say what else stops a strip that is laid to the tread's end."""
    kinds = (one.section for one in flights)
    ends = [kind for kind in kinds if isinstance(kind, TreadsSection) and kind.line.origin == "end"]
    return " The return nosing is not on yet." if ends else ""


def _sideways(section: SectionSetout) -> str:
    """Say what sets a tread's strip sideways."""
    kind = section.section
    assert isinstance(kind, TreadsSection)
    if kind.line.origin == "end":
        return "the long cut edge on the tread's end, return nosing and all: it sets the direction"
    return f"the line set from the {kind.line.origin}, as the strip says"


def _nosing(section: SectionSetout, shown: Shown) -> str:
    kind = section.section
    assert isinstance(kind, TreadsSection)
    edge = shown.text(kind.nosing.mm)
    return f"nosing edge {edge} in front of that line, square to it; open side {kind.side}"


def _lay_shoe_strip(setout: Setout, others: tuple[SectionSetout, ...]) -> Step:
    shown = setout.job.shown
    grounds = dict.fromkeys(map(ground, others))
    on = " or ".join(f"the {where}" for where in grounds)
    lies = {
        "shoe": "On a shoe it lies centred.",
        "floor": "On a floor the carpenter snaps the line first. The strip hides it: tick half "
        "the strip's width each side of it, as the strip says, and lay its edges to the ticks.",
    }
    return Step(
        f"Lay the strip on {on}",
        (
            f"This face up, the arrow as it says; {by_what(others, _between)}. "
            f"{' '.join(lies[where] for where in grounds)} Measure its whole length first; where "
            f"the paper is off, set its joints to the steel tape, as at “{JOIN}”.",
        ),
        each(setout, others, lambda one: _strip_length(one, shown), "on its strip"),
        "There is no line on the floor: don't guess where it runs." if "floor" in grounds else "",
        draw_rail.shoe_strip(any(not one.rail.level for one in others)),
    )


def _between(section: SectionSetout) -> str:
    """Say what a strip's ends meet."""
    if len(section.newels) == 2:
        return (
            "its ends come to the faces that they name: if it is too short, leave the same gap at "
            "both, if too long, trim the same off both"
        )
    if section.newels:
        return "one end meets the face that it names, the other is open"
    return "both its ends are open: lay it where the first mark is to stand"


def _strip_length(section: SectionSetout, shown: Shown) -> str:
    length = section.rail.length
    return "" if length is None else f"whole strip {shown.long(length)}"


def _prick(setout: Setout) -> Step:
    """Prick and name the marks, and read one of them back."""
    first = setout.sections[0]
    name = first.marks[1].name if len(first.marks) > 1 else first.marks[0].name
    zero = by_what(setout.sections, _zero_of)
    look = near(setout.job.units)
    names = (
        " Sections here call their marks the same: write the section's name beside the first of "
        "them, too."
        if alike_names(setout)
        else ""
    )
    return Step(
        "Prick and name every mark",
        (
            f"First measure from {zero}: every cross reads what is printed beside it, within "
            f"{look}. If one does not, set its joint or lay the strip again.{_hidden(setout)}",
            "Then prick the middle of every cross that has a name through the paper, never a "
            "joint's ring, and nothing else. Fold the strip back, still stuck at one edge, and "
            f"write every name beside its prick, then take the strip off.{names}",
        ),
        (),
        f"A cross is still off by more than {look}.",
        draw.pricking(name),
    )


def _hidden(setout: Setout) -> str:
    """Say where to measure from on a tread whose back edge a newel covers at the line."""
    if not on_strips(setout, "upper"):
        return ""
    return (
        " Where a newel covers the back edge, measure from a straightedge laid along it, never "
        "from the post."
    )


def _zero_of(section: SectionSetout) -> str:
    return "the back edge, on the line" if section.treads else "mark 1"
