"""What stands in a section's elevation, as points (s, height) in mm on the stair itself.

Heights are above the first riser's foot; on level and sloped sections above the shoe's base, or
the floor, at s = 0. Nothing here knows of a scale.
"""

from __future__ import annotations

from math import cos, tan
from typing import TYPE_CHECKING

from stairjig.frozen import frozen
from stairjig.job.model import SlopedSection, TreadsSection

if TYPE_CHECKING:
    from collections.abc import Iterator

    from stairjig.drawing import Point
    from stairjig.setout.values import Mark, SectionSetout, SetNewel

THICKNESS = 26.0
"""A tread is drawn this thick, mm; it is not measured."""
BEYOND = 280.0
"""Floor and landing are drawn this far past the first and the last riser or newel, mm."""
NEWEL_CAP = 130.0
"""A newel is drawn this far above the rail, mm."""
OPEN_END = 60.0
"""Rail drawn past the last mark where there is no newel, mm."""
BLOCK = 260.0
"""A turned newel is drawn square this far up from its foot, mm."""
BELOW_SLOPE = 320.0
"""Wall drawn under the lower end of a sloped section, mm."""


@frozen
class Lines:
    """The sloping lines of a section: pitch line (or shoe's base), rail's top and underside."""

    slope: float
    at_zero: float
    height: float
    depth: float

    def base(self, s: float) -> float:
        """Height of the pitch line, or of the shoe's base, at s."""
        return self.at_zero + s * self.slope

    def top(self, s: float) -> float:
        """Height of the rail's top at s."""
        return self.base(s) + self.height

    def underside(self, s: float) -> float:
        """Height of the rail's underside at s: its depth is square to it, so depth / cos plumb."""
        return self.top(s) - self.depth


def lines_of(section: SectionSetout) -> Lines:
    """Find the sloping lines of a section."""
    rail, pitch = section.section.rail, section.rail.pitch
    depth = float(rail.depth.mm) / cos(pitch)
    return Lines(tan(pitch), section.rail.height_at_zero, float(rail.height.mm), depth)


def ground(section: SectionSetout, s: float) -> float:
    """Height of what stands under s: the floor, a tread, the landing, or the shoe's base."""
    if not section.treads:
        return lines_of(section).base(s)
    faces = [float(tread.plan.front.s) for tread in section.treads]
    faces.append(float(section.treads[-1].plan.back.s))
    passed = sum(face <= s + 1e-6 for face in faces)
    return float(section.tops[passed - 1]) if passed else 0.0


def steps(section: SectionSetout) -> tuple[Point, ...]:
    """Floor, risers, treads with their nosings and landing, from below up; empty off the treads."""
    if not section.treads:
        return ()
    low, high = reach(section)
    points: list[Point] = [(low, 0.0)]
    faces = [(tread.plan.front.s, tread.plan.front_nosing) for tread in section.treads]
    last = section.treads[-1].plan
    faces.append((last.back.s, last.back_nosing))
    for (face, nosing), top in zip(faces, section.tops, strict=True):
        s, h = float(face), float(top)
        edge = s - float(nosing)
        under = max(h - THICKNESS, points[-1][1])
        points += [(s, points[-1][1]), (s, under), (edge, under), (edge, h)]
    points.append((high, points[-1][1]))
    return tuple(points)


def ends(section: SectionSetout) -> tuple[float, float]:
    """Where the rail ends, s: at the newels' faces, or past the end marks where there is none."""
    lower, upper = section.lower_newel, section.upper_newel
    return (
        float(lower.face) if lower else float(section.marks[0].s) - OPEN_END,
        float(upper.face) if upper else float(section.marks[-1].s) + OPEN_END,
    )


def reach(section: SectionSetout) -> tuple[float, float]:
    """From where to where along s the section is drawn."""
    low, high = ends(section)
    for newel in section.newels:
        half = float(newel.width) / 2
        low, high = min(low, float(newel.centre) - half), max(high, float(newel.centre) + half)
    if section.treads:
        first, last = section.treads[0].plan, section.treads[-1].plan
        low = min(low, float(first.front.s - first.front_nosing))
        high = max(high, float(last.back.s))
    beyond = _beyond(section)
    return low - beyond, high + beyond


def _beyond(section: SectionSetout) -> float:
    """How far the ground is drawn past the ends: on a steep slope less far along s."""
    slope = 0.0 if section.treads else lines_of(section).slope
    return min(BEYOND, 0.7 * BELOW_SLOPE / slope) if slope else BEYOND


def heights(section: SectionSetout) -> tuple[float, float]:
    """From which to which height the section is drawn."""
    lines, (low, high) = lines_of(section), reach(section)
    beyond, bottom = _beyond(section), 0.0
    if isinstance(section.section, SlopedSection):
        bottom = lines.base(low + beyond) - BELOW_SLOPE
    elif not section.treads:
        bottom = -60.0
    return bottom, lines.top(high - beyond) + NEWEL_CAP


def rail_shape(section: SectionSetout) -> tuple[Point, ...]:
    """The rail between its ends, counterclockwise from its lower end's underside."""
    lines, (low, high) = lines_of(section), ends(section)
    return (
        (low, lines.underside(low)),
        (high, lines.underside(high)),
        (high, lines.top(high)),
        (low, lines.top(low)),
    )


def shoe_shape(section: SectionSetout) -> tuple[Point, ...]:
    """The shoe rail between its ends; empty where there is none."""
    shoe = 0.0 if isinstance(section.section, TreadsSection) else _shoe(section)
    if not shoe:
        return ()
    lines, (low, high) = lines_of(section), ends(section)
    base = ((low, lines.base(low)), (high, lines.base(high)))
    return (*base, *((s, h + shoe) for s, h in base[::-1]))


def _shoe(section: SectionSetout) -> float:
    kind = section.section
    assert not isinstance(kind, TreadsSection)
    return float(kind.shoe_depth.mm) / cos(section.rail.pitch)


def wall_below(section: SectionSetout) -> tuple[Point, ...]:
    """The knee wall or stringer under a sloped section; empty where a bottom rail spans treads."""
    kind = section.section
    if not isinstance(kind, SlopedSection) or kind.bottom_rail:
        return ()
    lines, (low, high) = lines_of(section), reach(section)
    bottom = heights(section)[0]
    return ((low, bottom), (high, bottom), (high, lines.base(high)), (low, lines.base(low)))


def steps_below(section: SectionSetout) -> tuple[Point, ...]:
    """Steps under a bottom rail, its lift below it, drawn from s = 0 on for their triangle."""
    kind = section.section
    if not isinstance(kind, SlopedSection) or not kind.bottom_rail:
        return ()
    bottom = kind.bottom_rail
    rise, run, nosing = float(bottom.rise.mm), float(bottom.run.mm), float(bottom.nosing.mm)
    lines, (low, high) = lines_of(section), ends(section)
    points: list[Point] = []
    edge = low
    while edge < high:
        h = lines.base(edge) - float(bottom.lift.mm)
        points += [(edge + nosing, h - rise), (edge + nosing, h - THICKNESS), (edge, h - THICKNESS)]
        points.append((edge, h))
        edge += run
    points.append((edge + nosing, points[-1][1]))
    return tuple(points)


def newel_shape(section: SectionSetout, newel: SetNewel) -> tuple[Point, ...]:
    """A post from its foot to above the rail, at its narrowest between foot and rail."""
    lines, s = lines_of(section), float(newel.centre)
    wide, narrow = float(newel.width) / 2, float(newel.narrowest) / 2
    foot = ground(section, s)
    top, block = lines.top(s) + NEWEL_CAP, lines.underside(s) - 60.0
    right = [(wide, foot), (wide, top)]
    if narrow < wide and foot + BLOCK < block:
        turned = [(wide, foot + BLOCK), (narrow, foot + BLOCK + 40.0)]
        turned += [(narrow, block - 40.0), (wide, block)]
        right = [right[0], *turned, right[1]]
    left = [(-off, h) for off, h in right[::-1]]
    return tuple((s + off, h) for off, h in (*right, *left))


def wall_face(section: SectionSetout, newel: SetNewel) -> tuple[Point, Point]:
    """The face of a wall that a section ends at, from its foot to above the rail."""
    s = float(newel.face)
    return (s, ground(section, s)), (s, lines_of(section).top(s) + NEWEL_CAP)


def baluster_shape(section: SectionSetout, mark: Mark) -> tuple[Point, ...]:
    """A baluster from its foot to the rail's underside, at its face's width."""
    lines, s, half = lines_of(section), float(mark.s), float(mark.type.width.mm) / 2
    foot = lines.underside(s) - mark.visible
    lean = 0.0 if section.treads else half * lines.slope
    return (
        (s - half, foot - lean),
        (s + half, foot + lean),
        (s + half, lines.underside(s + half)),
        (s - half, lines.underside(s - half)),
    )


def balusters(section: SectionSetout) -> Iterator[tuple[Mark, tuple[Point, ...]]]:
    """Yield every mark with its baluster's shape."""
    for mark in section.marks:
        yield mark, baluster_shape(section, mark)
