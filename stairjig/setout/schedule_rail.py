"""What holds a rail while it is marked, what its bow does, and the fillets in it; lengths in mm."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from math import cos, floor, tan
from typing import TYPE_CHECKING, Literal

from stairjig.frozen import frozen
from stairjig.job.model import TreadsSection
from stairjig.lengths import DRILL, INCH, NEAR, Shown, Units
from stairjig.setout.names import ground, newel_name
from stairjig.setout.rail import bow_shift, bow_shortening
from stairjig.setout.values import LEVEL

if TYPE_CHECKING:
    from stairjig.job.model import Baluster
    from stairjig.setout.values import Mark, SectionSetout

SAMPLE_BOW: dict[Units, Fraction] = {"inch": INCH / 8, "mm": Fraction(3)}
"""A bow to give an example with, mm: a straightedge shows it plainly."""


@frozen
class BowEffect:
    """What a bow of `bow` in the middle does to the mark there: plumbed up, or off the strip."""

    bow: float
    plumbed: float
    strip: float


def rail_span(section: SectionSetout) -> float:
    """Give the rail's length along its underside, face to face or to the end mark."""
    lower, upper = section.rail.lower, section.rail.upper
    low = 0.0 if lower is None else lower
    high = section.marks[-1].rail if upper is None else upper
    return high - low


def bow_effect(section: SectionSetout, bow: float) -> BowEffect:
    """Tell what a bow does here: b tan(pitch) to a plumbed mark, 8 b^2 / (3 L) to the strip."""
    span = rail_span(section)
    strip = bow_shortening(bow, span) if span > 0 else 0.0
    return BowEffect(bow, bow_shift(bow, section.rail.pitch), strip)


def bow_limit(pitch: float, units: Units) -> Fraction | None:
    """Give the gap under a straightedge beyond which to prop again, mm; None on a level rail.

    The bow that moves a mark plumbed in the middle by `NEAR`, the least that a tape check tells
    from its own noise (common practice, no source): 1/16 in / tan(pitch), rounded down to what a
    drill's shank or a feeler proves.
    """
    if tan(pitch) <= LEVEL:
        return None
    step = DRILL[units]
    return floor(float(NEAR[units]) / tan(pitch) / float(step)) * step


def bow_limit_words(pitch: float, units: Units) -> str:
    """Say it; "" on a level rail."""
    limit = bow_limit(pitch, units)
    return "" if limit is None else Shown.fine(units).text(limit)


@frozen
class Prop:
    """A prop's length, plumb, from what it stands on to the rail's underside.

    `tread`: the printed number of the tread whose nosing it stands on, one more than the last for
    the landing's; None on the floor or a shoe.
    """

    tread: int | None
    length: float


def props(section: SectionSetout) -> tuple[Prop, ...]:
    """List a prop for each nosing, longer where one lies under the pitch line; off treads one."""
    kind = section.section
    if not isinstance(kind, TreadsSection):
        return (Prop(None, section.rail.prop),)
    first = section.treads[0].plan.number
    return tuple(
        Prop(first + n, section.rail.prop + nosing.under)
        for n, nosing in enumerate(section.nosings)
    )


@frozen
class Fillet:
    """A fillet in a plow, between two neighbours by name; `length` along the rail or the shoe."""

    between: tuple[str, str]
    length: float
    end: bool


@frozen
class FilletGroup:
    """Fillets of one length as shown; `ends`: which of them stand at a newel or a wall."""

    length: Fraction
    count: int
    ends: tuple[str, ...]


def filled(section: SectionSetout) -> tuple[Literal["rail", "shoe"], ...]:
    """Say what of a section takes fillets: a plowed rail, and a shoe that is not bored.

    A shoe whose balusters have a hole in it is bored; without one it is plowed.
    """
    bored = any(mark.type.tread_hole for mark in section.marks)
    rail: tuple[Literal["rail", "shoe"], ...] = ("rail",) if section.section.rail.plow else ()
    return (*rail, "shoe") if ground(section) == "shoe" and not bored else rail


def fillets(section: SectionSetout, on: Literal["rail", "shoe"]) -> tuple[Fillet, ...]:
    """List the fillets going up, end ones too: the level gap between faces over cos(pitch).

    On a rail a baluster's face is its width, on a shoe its base. An open end has none.
    """
    marks, slope = section.marks, cos(section.rail.pitch)
    found = [
        Fillet((low.name, high.name), _level_gap(low, high, on) / slope, end=False)
        for low, high in pairwise(marks)
    ]
    lower, upper = section.lower_newel, section.upper_newel
    if lower:
        gap = float(marks[0].s - lower.face) - _half(marks[0].type, on)
        name = newel_name("lower", lower.kind)
        found.insert(0, Fillet((name, marks[0].name), gap / slope, end=True))
    if upper:
        gap = float(upper.face - marks[-1].s) - _half(marks[-1].type, on)
        name = newel_name("upper", upper.kind)
        found.append(Fillet((marks[-1].name, name), gap / slope, end=True))
    return tuple(found)


def _half(kind: Baluster, on: Literal["rail", "shoe"]) -> float:
    return float(kind.width.mm if on == "rail" else kind.base.mm) / 2


def _level_gap(low: Mark, high: Mark, on: Literal["rail", "shoe"]) -> float:
    return float(high.s - low.s) - _half(low.type, on) - _half(high.type, on)


def fillet_groups(
    section: SectionSetout, on: Literal["rail", "shoe"], shown: Shown
) -> tuple[FilletGroup, ...]:
    """Count the fillets by their length as shown, half up, the longest first."""
    found: dict[Fraction, list[Fillet]] = {}
    for fillet in fillets(section, on):
        found.setdefault(shown.rounded(fillet.length), []).append(fillet)
    return tuple(
        FilletGroup(length, len(group), tuple(_newel_of(fillet) for fillet in group if fillet.end))
        for length, group in sorted(found.items(), reverse=True)
    )


def _newel_of(fillet: Fillet) -> str:
    return next(name for name in fillet.between if " " in name)
