"""What the helper does with the paper: check it, compare it with the stair, cut and join it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stairjig.errors import counted
from stairjig.job.model import TreadsSection
from stairjig.pages.cover.facts import tread_list
from stairjig.pages.elevation.measures import spanned
from stairjig.pages.steps import drawings as draw
from stairjig.pages.steps.values import Step, each, on_strips, on_treads, straight
from stairjig.pages.wording import near
from stairjig.pieces.rail_strip import cut_to_its_rail
from stairjig.pieces.tread_words import SAME_TREAD
from stairjig.setout.plan import square_run
from stairjig.setout.schedule_newels import continues

if TYPE_CHECKING:
    from collections.abc import Iterator

    from stairjig.drawing import Item
    from stairjig.lengths import Real, Shown
    from stairjig.setout.values import SectionSetout, Setout


JOIN = "Join the tiles"
"""The step that says what to do where the paper and the tape differ."""


def paper_steps(setout: Setout) -> Iterator[Step]:
    """Yield the steps with the paper, up to strips that are cut and joined."""
    yield _check_print(setout)
    yield _compare(setout)
    yield _cut_out(setout)
    yield _join(setout)


def _check_print(setout: Setout) -> Step:
    return Step(
        "Check the print",
        (
            "Measure both bars of the test sheet with a steel tape, then those of every sheet of "
            "strips that you use.",
            f"Read the pack ID on every sheet and strip: it is {setout.pack_id} on all of them.",
        ),
        (),
        "A bar is out of its band, or a sheet has another pack ID: don't use it.",
        draw.scale_check(),
    )


def _compare(setout: Setout) -> Step:
    """Compare the stair with what was measured."""
    shown, flights, others = setout.job.shown, on_treads(setout), straight(setout)
    words = ["Compare it with the drawing on the cover."]
    if flights:
        words.append(
            "Count treads and risers. Measure the depth of every tread, square from the nosing's "
            "edge to the face of the next riser, and from the first riser's face to the top "
            "riser's, level."
        )
    if any(square_run(tread.plan) is None for one in flights for tread in one.treads):
        words.append("A tapered tread's depth is measured along the balusters' line.")
    if any(tread_list(setout, one) for one in flights):
        words.append("The cover lists the treads one by one: hold each against its own.")
    if others:
        words.append("Measure face to face between newels or walls.")
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
    what = counted(len(section.treads), "tread" if depths else "tapered tread")
    below = continues(setout, section)
    number = section.treads[0].plan.number
    shared = f"; riser {number} is the top riser of {below.name}, too" if below else ""
    skewed = any(tread.plan.front.skew for tread in section.treads)
    along = ", along the balusters' line," if skewed else ""
    return (
        f"{what}, {taper}{deep}first riser to top riser{along} "
        f"{shown.text(section.line_length)}{shared}"
    )


def _length(section: SectionSetout, shown: Shown) -> str:
    kind = section.section
    assert not isinstance(kind, TreadsSection)
    return shown.text(kind.length.mm)


def _cut_out(setout: Setout) -> Step:
    return Step(
        "Cut the strips out",
        (
            "Cut along the thick outline with knife and straightedge. Where a strip goes on over "
            "several tiles, the lap beyond the joint's line stays on. Cut along no dashed or "
            "dotted line.",
            *_nick(setout),
            *_long_edges(setout),
        ),
        (),
        "",
        draw.cutting(),
    )


def _nick(setout: Setout) -> tuple[str, ...]:
    if not on_treads(setout):
        return ()
    words = "Cut the nick in a tread strip's back edge, too: it clears cove or glue in the corner."
    return (
        f"{words} Where a newel that stands is drawn on a strip, cut it out; where paper touches "
        "the post, trim the paper, so that only the strip's edges place it."
        if on_strips(setout, "lower", "upper")
        else words,
    )


def _long_edges(setout: Setout) -> tuple[str, ...]:
    if not any(map(cut_to_its_rail, setout.sections)):
        return ()
    return ("The long edges of a rail strip centre it: cut them clean.",)


def _join(setout: Setout) -> Step:
    return Step(
        JOIN,
        (
            "Cut the upper tile on its lower edge, through the middle of its rings. Lay it on the "
            "lower tile's lap until the lines, the edges and both rings close; the names at the "
            "rings are alike on both tiles. Then stick it.",
            f"Lay the steel tape on the strip's line from its zero, {_zero(setout)}, and read it "
            "at every joint: the reading is printed beside it. The tape rules: where it differs by "
            f"more than {near(setout.job.units)}, open the joint and set it to the tape, even if "
            "its rings then miss; if it won't set, mark from the printed readings. A long strip "
            f"not set so can be {_far(setout)} off in damp.{_tread_joint(setout)}",
        ),
        (),
        "",
        draw.joint(),
    )


def _tread_joint(setout: Setout) -> str:
    """Say what proves a joint of a strip whose zero is on its upper tile."""
    if not on_treads(setout):
        return ""
    return " A tread strip's lower tile is set by its marks' readings."


def _far(setout: Setout) -> str:
    return "1″" if setout.job.units == "inch" else "25 mm"


def _zero(setout: Setout) -> str:
    if any(section.treads for section in setout.sections):
        return "a tread strip's back edge or a rail strip's first mark"
    return "its first mark"
