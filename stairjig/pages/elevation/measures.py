"""What an elevation's dimensions say, and the room that they take around it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stairjig.job.model import TreadsSection
from stairjig.pages.elevation import parts
from stairjig.pages.elevation.labels import LABEL
from stairjig.pages.elevation.view import Pads
from stairjig.type import width

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from stairjig.lengths import Real, Shown
    from stairjig.setout.values import SectionSetout

OFF = 4.5
"""A dimension line's distance from what it measures, mm."""
UNDER = LABEL * 1.3 + 1.2
"""A label's baseline under its dimension line, mm."""
LEADER = 6.5
"""How far an end mark's name stands over the rail, mm."""


def differing(lengths: Sequence[Real], shown: Shown) -> bool:
    """Tell whether some lengths differ as they are shown."""
    return len({shown.text(length) for length in lengths}) > 1


def spanned(lengths: Sequence[Real], shown: Shown) -> str:
    """Say a length that all have, or the least and the most."""
    least, most = min(lengths), max(lengths)
    if not differing([least, most], shown):
        return shown.text(least)
    return f"{shown.text(least)} to {shown.text(most)}"


def room_for(section: SectionSetout, shown: Shown) -> Callable[[float], Pads]:
    """Give a function from a scale to the room around the drawing for its dimensions, mm."""
    runs, rises = runs_of(section), rises_of(section)
    wide_run, narrow_run = widest(runs, shown), float(min(runs))
    beside = widest(rises, shown) + 5.0 if differing(rises, shown) else 9.0
    first = section.marks[0]
    drawn = float(first.s) - parts.reach(section)[0]
    named = width(f"first mark {first.name}", LABEL, bold=True) + 2.0
    over, upright = (12.0 if section.rail.level else LEADER + 4.0), differing(runs, shown)

    def pads(scale: float) -> Pads:
        standing = upright and wide_run + 0.5 > narrow_run / scale
        under = 2 * (OFF + UNDER) + 1.5 + (wide_run if standing else 0.0)
        lower = 10.0 if section.rail.level else max(named - drawn / scale, 10.0)
        return Pads(lower, beside, under, over)

    return pads


def widest(lengths: Sequence[Real], shown: Shown) -> float:
    """How wide the widest of some lengths comes out as a label, mm."""
    return max(width(shown.text(length), LABEL) for length in lengths)


def runs_of(section: SectionSetout) -> list[Real]:
    """The treads' line runs; off the treads the one level length."""
    return [tread.plan.line_run for tread in section.treads] or [section.line_length]


def rises_of(section: SectionSetout) -> list[Real]:
    """The rises of a flight; off the treads one of nothing."""
    kind = section.section
    return [rise.mm for rise in kind.rises] if isinstance(kind, TreadsSection) else [0]
