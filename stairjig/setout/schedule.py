"""What is bored, cut and ordered, mark by mark and in groups; all lengths in mm.

A length meant for the saw stands here as the job shows it, rounded half up to its step, so that
balusters which are cut alike are counted together.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil, cos, sin
from typing import TYPE_CHECKING, Literal

from stairjig.frozen import frozen
from stairjig.job.model import TreadsSection
from stairjig.setout.names import Ground, ground
from stairjig.setout.rail import plumb_length
from stairjig.setout.values import LEVEL

if TYPE_CHECKING:
    from collections.abc import Iterator

    from stairjig.job.model import Baluster, Hole
    from stairjig.lengths import Shown
    from stairjig.setout.values import Mark, SectionSetout, Setout

SPARES = Fraction(5, 100)
"""Ordered on top of what stands, at least one of each type (common practice, no source)."""
LEAST_COVER = 6.0
"""Wood that a blind hole should leave beyond its end, mm (common practice, no source)."""
MEASURE = "measure"
"""What stands for a cut length where a hole's depth is not given."""

Into = Ground | Literal["rail"]


@frozen
class MarkHoles:
    """The holes of one mark; `along`: how long its plumb rail hole opens along the underside.

    A hole that is not given, or not bored since the rail is plowed, is None.
    """

    mark: str
    tread: Hole | None
    rail: Hole | None
    along: float | None


def pinned(kind: Baluster, hole: Hole | None) -> bool:
    """Whether a baluster is wider than its hole, so that only a pin of its end goes in."""
    return hole is not None and kind.width.mm > hole.size.mm


def rail_hole(section: SectionSetout, kind: Baluster) -> Hole | None:
    """Give the hole that a type needs in the rail; none in a plowed one."""
    return None if section.section.rail.plow else kind.rail_hole


def mark_holes(section: SectionSetout) -> tuple[MarkHoles, ...]:
    """List the holes of every mark, going up."""
    return tuple(_of_mark(section, mark) for mark in section.marks)


def _of_mark(section: SectionSetout, mark: Mark) -> MarkHoles:
    hole = rail_hole(section, mark.type)
    along = plumb_length(float(hole.size.mm), section.rail.pitch) if hole else None
    return MarkHoles(mark.name, mark.type.tread_hole, hole, along)


@frozen
class Boring:
    """Holes bored alike: where, which, for which types and how many.

    `tilt`: radians off square to the face, the bit being plumb; `along`: how long the hole opens
    along a raking face; `cover`: the wood left beyond the hole, square to the rail or the shoe.
    """

    into: Into
    hole: Hole
    types: tuple[str, ...]
    count: int
    tilt: float
    along: float
    cover: float | None

    @property
    def least(self) -> float:
        """The thinnest wood that keeps `LEAST_COVER` beyond the hole, mm square to its face."""
        size, depth = float(self.hole.size.mm), float(self.hole.depth.mm)
        return depth * cos(self.tilt) + size / 2 * sin(self.tilt) + float(LEAST_COVER)

    @property
    def beyond(self) -> str:
        """What a hole that is too deep comes out through, in words."""
        return "the rail's top" if self.into == "rail" else "the underside of the shoe"

    @property
    def square(self) -> bool:
        """Whether the bit stands square to the face."""
        return self.tilt < LEVEL


def borings(section: SectionSetout) -> tuple[Boring, ...]:
    """List the kinds of hole: those in the treads, shoe or floor first, then the rail's."""
    holes = list(_holes(section))
    kinds = dict.fromkeys((into, hole) for into, hole, _ in holes)
    return tuple(_boring(section, into, hole, holes) for into, hole in kinds)


def _holes(section: SectionSetout) -> Iterator[tuple[Into, Hole, str]]:
    low = ground(section)
    for mark in section.marks:
        if mark.type.tread_hole:
            yield low, mark.type.tread_hole, mark.type.name
    for mark in section.marks:
        hole = rail_hole(section, mark.type)
        if hole:
            yield "rail", hole, mark.type.name


def _boring(
    section: SectionSetout,
    into: Into,
    hole: Hole,
    holes: list[tuple[Into, Hole, str]],
) -> Boring:
    types = [name for place, other, name in holes if (place, other) == (into, hole)]
    tilt = 0.0 if into in ("tread", "floor") else section.rail.pitch
    size, depth = float(hole.size.mm), float(hole.depth.mm)
    thick = _thickness(section, into)
    cover = None if thick is None else thick - depth * cos(tilt) - size / 2 * sin(tilt)
    names = tuple(dict.fromkeys(types))
    return Boring(into, hole, names, len(types), tilt, plumb_length(size, tilt), cover)


def _thickness(section: SectionSetout, into: Into) -> float | None:
    """Find how much wood is bored into, mm, square to its face; None where it is not known."""
    kind = section.section
    if into == "rail":
        return float(kind.rail.depth.mm)
    if into != "shoe" or isinstance(kind, TreadsSection):
        return None
    return float(kind.shoe_depth.mm) or None


def bevel(section: SectionSetout, kind: Baluster) -> float:
    """Give the angle to cut a top to, off square, radians: the rail's pitch for a bevel top."""
    return section.rail.pitch if kind.top == "bevel" else 0.0


def foot_bevel(section: SectionSetout, kind: Baluster) -> float:
    """Give the angle to cut a foot to, off square, radians: the slope that it stands on unbored."""
    stands = ground(section) == "shoe" and kind.tread_hole is None
    return section.rail.pitch if stands and not section.rail.level else 0.0


def long_point(section: SectionSetout, mark: Mark) -> float | None:
    """Give the whole length at the long point of a bevel, mm: of the cut, else of what is visible.

    None where no end or both have one, for then every edge is as long as the centre line.
    """
    if bool(bevel(section, mark.type)) == bool(foot_bevel(section, mark.type)):
        return None
    return (mark.visible if mark.cut is None else mark.cut) + mark.long_point


@frozen
class CutGroup:
    """Balusters of one section that are cut alike; what varies within a step is their mean.

    `cut`: their length on the centre line as shown, None where it is to be measured; `visible`:
    the same between tread and rail; `long_point`: the cut length (without one: the visible) at
    the long point of a bevel, None where no end or both have one, for then every edge is as long
    as the centre line; `bevel`, `foot`: radians off square of the top and the foot.
    """

    type: Baluster
    cut: Fraction | None
    visible: Fraction
    long_point: Fraction | None
    bevel: float
    foot: float
    marks: tuple[str, ...]

    @property
    def count(self) -> int:
        """How many."""
        return len(self.marks)


def cut_groups(section: SectionSetout, shown: Shown) -> tuple[CutGroup, ...]:
    """Group the balusters by type and length, the types as they come, the longest first."""
    found: dict[tuple[Baluster, Fraction | None, Fraction], list[Mark]] = {}
    for mark in section.marks:
        cut = None if mark.cut is None else shown.rounded(mark.cut)
        visible = shown.rounded(mark.visible)
        key = (mark.type, cut, visible if cut is None else Fraction(0))
        found.setdefault(key, []).append(mark)
    order = {kind: n for n, kind in enumerate(dict.fromkeys(mark.type for mark in section.marks))}
    keys = sorted(found, key=lambda key: (order[key[0]], -(key[1] or 0) - key[2]))
    return tuple(_group(section, shown, key[0], key[1], found[key]) for key in keys)


def _group(
    section: SectionSetout, shown: Shown, kind: Baluster, cut: Fraction | None, marks: list[Mark]
) -> CutGroup:
    visible = sum(mark.visible for mark in marks) / len(marks)
    points = [point for mark in marks if (point := long_point(section, mark)) is not None]
    return CutGroup(
        type=kind,
        cut=cut,
        visible=shown.rounded(visible),
        long_point=shown.rounded(sum(points) / len(points)) if points else None,
        bevel=bevel(section, kind),
        foot=foot_bevel(section, kind),
        marks=tuple(mark.name for mark in marks),
    )


@frozen
class Order:
    """What to order of a type: how many stand, the spares, and the longest piece as shown.

    `longest`: over its long points where an end is a bevel; `measured`: of one that stands the cut
    is not known (a hole is not given, or the rail is plowed), so that what goes into the holes
    comes on top of `longest`.
    """

    type: Baluster
    count: int
    spares: int
    longest: Fraction
    measured: bool

    @property
    def total(self) -> int:
        """How many to order."""
        return self.count + self.spares


def orders(setout: Setout) -> tuple[Order, ...]:
    """List what to order for the whole job, in its order of types; only those that stand."""
    shown = setout.job.shown
    by_type: dict[Baluster, list[float]] = {}
    uncut: set[Baluster] = set()
    for section in setout.sections:
        for mark in section.marks:
            by_type.setdefault(mark.type, []).append(_longest(section, mark))
            if mark.cut is None:
                uncut.add(mark.type)
    return tuple(
        Order(
            type=kind,
            count=len(by_type[kind]),
            spares=spares(len(by_type[kind])),
            longest=shown.rounded(max(by_type[kind])),
            measured=kind in uncut,
        )
        for kind in setout.job.balusters
        if kind in by_type
    )


def spares(count: int) -> int:
    """Give how many to order on top of `count`: `SPARES` of it, rounded up, at least one."""
    return max(1, ceil(SPARES * count))


def _longest(section: SectionSetout, mark: Mark) -> float:
    """From the lowest to the highest point of the piece, each bevel reaching beyond the centre."""
    whole = mark.visible if mark.cut is None else mark.cut
    ends = bool(bevel(section, mark.type)) + bool(foot_bevel(section, mark.type))
    return whole + ends * mark.long_point
