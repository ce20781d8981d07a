"""Words and figures that several sheets share."""

from __future__ import annotations

from math import degrees
from typing import TYPE_CHECKING

from stairjig.drawing import Pen, Text, rectangle
from stairjig.errors import counted
from stairjig.job.model import TreadsSection
from stairjig.lengths import NEAR, Shown, Units
from stairjig.pages.flow import Flow
from stairjig.pages.lines import BODY, LEADING, lines_in
from stairjig.pages.tables import HEAD, Blank, Column, spread
from stairjig.setout import names
from stairjig.setout.names import ground
from stairjig.setout.schedule_rail import SAMPLE_BOW, bow_effect, bow_limit_words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stairjig.setout.values import SectionSetout, SetNewel, Setout

SIGNED_ROW = 9.0
"""Height of a row that is signed, mm."""


def near(units: Units) -> str:
    """Say what neighbours may be off before they are looked at again: 1/16 in."""
    return Shown(units, NEAR[units]).near


def tiny(mm: float, units: Units) -> str:
    """Put a length in words that may be too small for a tape."""
    fine = Shown.fine(units)
    return f"less than {fine.text(fine.step)}" if mm < fine.step else fine.text(mm)


def angle(radians: float) -> str:
    """Show an angle to a tenth of a degree."""
    return f"{degrees(radians):.1f}°"


def sentence(words: str) -> str:
    """Begin words with a capital."""
    return words[:1].upper() + words[1:]


def alike_names(setout: Setout) -> bool:
    """Whether a mark of one section is called as one of another is: 1, 2, 3 on each."""
    names = [mark.name for one in setout.sections for mark in one.marks]
    return len(set(names)) < len(names)


def newel_name(newel: SetNewel) -> str:
    """Name a section's end: lower newel, upper wall."""
    return names.newel_name(newel.end, newel.kind)


def stands_on(section: SectionSetout) -> str:
    """Say what balusters stand on, as part of a sentence."""
    return {"tread": "the treads", "shoe": "the shoe", "floor": "the floor"}[ground(section)]


def kind_words(section: SectionSetout) -> str:
    """Say what kind of section it is."""
    if isinstance(section.section, TreadsSection):
        return f"{counted(len(section.treads), 'tread')}, pitch {angle(section.rail.pitch)}"
    if section.section.kind == "sloped":
        return f"sloped, pitch {angle(section.rail.pitch)}"
    return "level"


def bow_words(section: SectionSetout, units: Units) -> str:
    """Say what a bow of this rail does to its marks, and the bow beyond which to prop again."""
    if section.rail.level:
        return "Bow: this rail is level, so a sag or a crown moves no mark along it."
    effect, small = bow_effect(section, float(SAMPLE_BOW[units])), Shown.fine(units)
    return (
        f"Bow: where a string along the underside shows {small.text(effect.bow)} in the middle, a "
        f"mark plumbed up there lands {small.text(effect.plumbed)} from where it belongs: downhill "
        "on a rail that sags, uphill on one that crowns. A mark off the strip, which lies along "
        f"the wood, moves {tiny(effect.strip, units)}. Prop again before marking if the gap in the "
        f"middle is more than {bow_limit_words(section.rail.pitch, units)}."
    )


def signed_under(flow: Flow, heading: str, page: str, rows: Sequence[str]) -> None:
    """Set a heading with lines to sign under it, on one page."""
    flow.heading(heading, follow=signed_height(rows))
    sign_off(flow, page, rows)


def signed_height(rows: Sequence[str], heading: bool = False) -> float:
    """How high lines to sign stand, mm; with the heading over them."""
    return HEAD + SIGNED_ROW * len(rows) + 2.0 + (11.0 if heading else 0.0)


def sign_off(flow: Flow, page: str, rows: Sequence[str]) -> None:
    """Set lines to sign: who, name, date; fields are called `sign__page__1__name`."""
    columns = spread((Column("", 70), Column("name", 80), Column("date", 40)), flow.leaf.room)
    flow.table(
        columns,
        [
            (
                who,
                Blank(f"sign__{page}__{number}__name", f"{who}: name"),
                Blank(f"sign__{page}__{number}__date", f"{who}: date"),
            )
            for number, who in enumerate(rows, start=1)
        ],
        row_height=SIGNED_ROW,
    )


def section_heading(flow: Flow, name: str, follow: float) -> None:
    """Set a section's name, with room over it where it stands within a page."""
    if flow.y < flow.leaf.top:
        flow.space(3.0)
    flow.heading(name, follow=follow)


def framed(flow: Flow, words: str) -> None:
    """Set bold words in a frame: where to stop."""
    lines = lines_in(words, BODY, flow.leaf.room - 6.0, bold=True)
    height = BODY * LEADING * len(lines) + 4.0
    flow.space(1.5)
    flow.keep(height)
    flow.y -= height
    left, y = flow.leaf.left, flow.y
    flow.items.append(rectangle(left, y, flow.leaf.room, height, Pen.BASE))
    for row, line in enumerate(lines):
        at = (left + 3.0, y + 3.0 + (len(lines) - 1 - row) * BODY * LEADING)
        flow.items.append(Text(line, at, BODY, bold=True))
    flow.space(1.5)
