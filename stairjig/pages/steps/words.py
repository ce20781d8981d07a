"""What the helper does up to the marks on treads, shoe or floor, with the job's own figures."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stairjig.job.model import TreadsSection
from stairjig.pages.elevation.measures import spanned
from stairjig.pages.steps import drawings as draw
from stairjig.pages.steps import drawings_rail as draw_rail
from stairjig.pages.steps.rail import rail_steps
from stairjig.pages.steps.values import Step, by_what, each, in_a_row
from stairjig.pages.wording import alike_names, near
from stairjig.pieces.rail_strip import cut_to_its_rail
from stairjig.pieces.tread_words import SAME_TREAD
from stairjig.setout.names import ground
from stairjig.setout.plan import square_run
from stairjig.setout.schedule_newels import continues

if TYPE_CHECKING:
    from collections.abc import Iterator

    from stairjig.drawing import Item
    from stairjig.lengths import Real, Shown
    from stairjig.setout.values import SectionSetout, Setout


JOIN = "Join the tiles"
"""The step that says what to do where the paper and the tape differ."""


def steps_of(setout: Setout) -> tuple[Step, ...]:
    """List the steps of a job in their order; only those that its sections call for."""
    return (*_paper_steps(setout), *_ground_steps(setout), *rail_steps(setout))


def on_treads(setout: Setout) -> tuple[SectionSetout, ...]:
    """Pick the sections whose balusters stand on treads."""
    return tuple(one for one in setout.sections if isinstance(one.section, TreadsSection))


def straight(setout: Setout) -> tuple[SectionSetout, ...]:
    """Pick the sections whose balusters stand on a shoe or a floor."""
    return tuple(one for one in setout.sections if not isinstance(one.section, TreadsSection))


def have_at_hand(setout: Setout) -> str:
    """List what the work takes."""
    edge = "6 ft" if setout.job.units == "inch" else "1.8 m"
    return (
        "steel tape, plumb bob or laser, straightedge of "
        f"{edge} or more, sharp knife, awl, pencil, low-tack tape, props and clamps"
    )


def _paper_steps(setout: Setout) -> Iterator[Step]:
    yield Step(
        "Check the print",
        (
            "Tape both bars of the test sheet, then the bars of every sheet you use.",
            f"Read the pack ID on every sheet and strip: it is {setout.pack_id} on all of them.",
        ),
        (),
        "A bar is out of its band, or a sheet has another pack ID: don't use it.",
        draw.scale_check(),
    )
    yield _compare(setout)
    yield Step(
        "Cut the strips out",
        (
            "Cut along the thick outline with knife and straightedge. Where a strip goes on over "
            "several tiles, the lap beyond the joint's dashed line stays on. Cut no other dashed "
            "line.",
            *_nick(setout),
            *_long_edges(setout),
        ),
        (),
        "",
        draw.cutting(),
    )
    yield Step(
        JOIN,
        (
            "Cut the upper tile on its lower edge, through the middle of its rings. Lay it on the "
            "lower tile's lap until the lines, the edges and both rings close; the names at the "
            "rings are alike on both tiles. Then tape it.",
            f"Lay the steel tape from the strip's zero, {_zero(setout)}, and read it at every "
            "joint: the reading is printed beside it. The tape rules over the paper: where they "
            "differ, open the joint and set it to the tape; where that can't be done, mark from "
            f"the printed readings. So set, marks stay within about {near(setout.job.units)}; a "
            f"long strip not set so can be {_far(setout)} off in damp.",
        ),
        (),
        "",
        draw.joint(),
    )


def _long_edges(setout: Setout) -> tuple[str, ...]:
    if not any(map(cut_to_its_rail, setout.sections)):
        return ()
    return ("The long edges of a rail strip centre it: cut them clean.",)


def _far(setout: Setout) -> str:
    return "1″" if setout.job.units == "inch" else "25 mm"


def _zero(setout: Setout) -> str:
    if any(section.treads for section in setout.sections):
        return "a tread strip's back edge or a rail strip's first mark"
    return "its first mark"


def _nick(setout: Setout) -> tuple[str, ...]:
    if not on_treads(setout):
        return ()
    words = "Cut the nick in a tread strip's back edge, too: it clears cove or glue in the corner."
    stands = any(newel.stands for section in on_treads(setout) for newel in section.newels)
    return (f"{words} Where a newel stands already, cut its outline out." if stands else words,)


def _compare(setout: Setout) -> Step:
    """Compare the stair with what was measured."""
    shown, flights, others = setout.job.shown, on_treads(setout), straight(setout)
    words = ["Compare it with the drawing on the cover."]
    if flights:
        words.append(
            "Count treads and risers. Tape the depth of every tread, nosing edge to the face of "
            "the next riser, and from the first riser's face to the top riser's, level."
        )
    if others:
        words.append("Tape face to face between newels or walls.")
    first = (flights or others)[0]
    return Step(
        "Is it this stair?" if flights else "Is it this place?",
        (" ".join(words),),
        each(setout, setout.sections, lambda one: _measures(setout, one), "on the cover"),
        f"A measure is off by more than {shown.text(SAME_TREAD)}: it is not what was measured.",
        _compare_drawing(first, shown),
    )


def _compare_drawing(section: SectionSetout, shown: Shown) -> tuple[Item, ...]:
    depths = _depths(section)
    if section.treads and depths:
        nosing = section.treads[0].plan.square_nosing
        return draw.depth_check(shown.text(depths[0]), shown.text(nosing))
    if section.treads:
        return draw.depth_check("", shown.text(section.treads[0].plan.square_nosing))
    return draw.face_check(_length(section, shown))


def _depths(section: SectionSetout) -> list[Real]:
    plans = [tread.plan for tread in section.treads]
    runs = [(plan, square_run(plan)) for plan in plans]
    return [run + plan.square_nosing for plan, run in runs if run is not None]


def _measures(setout: Setout, section: SectionSetout) -> str:
    shown = setout.job.shown
    if not section.treads:
        slope = "level" if section.rail.level else "along the slope"
        return f"{_length(section, shown)} face to face, {slope}"
    depths = _depths(section)
    deep = f"depth {spanned(depths, shown)}, " if depths else ""
    tapered = len(section.treads) - len(depths)
    taper = f"{tapered} of them tapered, " if tapered and depths else ""
    what = "treads" if depths else "tapered treads"
    below = continues(setout, section)
    number = section.treads[0].plan.number
    shared = f"; riser {number} is the top riser of {below.name}, too" if below else ""
    return (
        f"{len(section.treads)} {what}, {taper}{deep}first riser to top riser "
        f"{shown.text(section.line_length)}{shared}"
    )


def _length(section: SectionSetout, shown: Shown) -> str:
    kind = section.section
    assert not isinstance(kind, TreadsSection)
    return shown.text(kind.length.mm)


def _ground_steps(setout: Setout) -> Iterator[Step]:
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
    tapered = any(square_run(one.plan) is None for one in flights[0].treads)
    return Step(
        "Lay each tread strip on its tread",
        (
            f"Its section and its tread's number are on it{shared}. This face up, the arrow up "
            f"the stair; {by_what(flights, _sideways)}. Push it on until its back edge "
            "touches the face of the next riser at the line. Tape it down with low-tack tape.",
            "The long-dashed line across is the face of the riser below. It lies under the nosing, "
            "where no tape reaches: the nosing's edge stands in front of it by the figure given.",
        ),
        in_a_row(setout, flights, lambda one: _nosing(one, shown), "on their strips"),
        f"The nosing's edge is off by more than {shown.text(SAME_TREAD)}: it is not the tread that "
        "was measured.",
        draw.tread_strip(first.side, tapered),
    )


def _sideways(section: SectionSetout) -> str:
    """Say what sets a tread's strip sideways."""
    kind = section.section
    assert isinstance(kind, TreadsSection)
    if kind.line.origin == "end":
        return "the long cut edge on the tread's end: it sets the direction"
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
        "floor": "On a floor the carpenter snaps the line first: the strip's own line lies on it.",
    }
    return Step(
        f"Lay the strip on {on}",
        (
            "This face up, between the faces that it is named for: its ends say which. "
            f"{' '.join(lies[where] for where in grounds)} If it misses both faces, split the "
            "difference. Tape its whole length first; where the paper is off, set "
            f"it to the tape, as at “{JOIN}”.",
        ),
        each(setout, others, lambda one: _strip_length(one, shown), "on its strip"),
        "There is no line on the floor: don't guess where it runs." if "floor" in grounds else "",
        draw_rail.shoe_strip(any(not one.rail.level for one in others)),
    )


def _strip_length(section: SectionSetout, shown: Shown) -> str:
    length = section.rail.length
    return "" if length is None else f"whole strip {shown.long(length)}"


def _zero_of(section: SectionSetout) -> str:
    return "the back edge, on the line" if section.treads else "mark 1"


def _prick(setout: Setout) -> Step:
    """Prick and name the marks, and read one of them back."""
    first = setout.sections[0]
    name = first.marks[1].name if len(first.marks) > 1 else first.marks[0].name
    zero = by_what(setout.sections, _zero_of)
    look = near(setout.job.units)
    names = (
        " Two sections count from 1: write the section's name beside mark 1, too."
        if alike_names(setout)
        else ""
    )
    return Step(
        "Prick and name every mark",
        (
            "With the strip taped down, prick the middle of every cross through the paper. Write "
            f"its name beside it before you lift the strip, and draw the line on lightly.{names}",
            f"Then tape from {zero}: every cross reads what is printed beside it, within {look}. "
            "If one does not, lay the strip again.",
        ),
        (),
        f"A cross is still off by more than {look}.",
        draw.pricking(name),
    )
