"""The pitch line: where a long straightedge laid on the nosings comes to rest."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate, pairwise
from math import atan, tan

from stairjig.frozen import frozen
from stairjig.lengths import Real
from stairjig.setout.values import Nosing, PlanTread

Point = tuple[Real, Real]


@frozen
class PitchLine:
    """A sloping line in elevation: its angle in radians and its height at s = 0, mm."""

    pitch: float
    at_zero: float

    def height(self, s: Real) -> float:
        """Its height above the first riser's foot at `s`, mm."""
        return self.at_zero + float(s) * tan(self.pitch)


def nosing_points(treads: Sequence[PlanTread], rises: Sequence[Real]) -> tuple[Point, ...]:
    """(s, height) of every nosing on the line, the landing's included, mm."""
    heights = list(accumulate(rises))
    fronts = [tread.front.s - tread.front_nosing for tread in treads]
    fronts.append(treads[-1].back.s - treads[-1].back_nosing)
    return tuple(zip(fronts, heights, strict=True))


def upper_hull(points: Sequence[Point]) -> list[Point]:
    """The upper convex hull of points in order of s."""
    hull: list[Point] = []
    for point in points:
        while len(hull) >= 2 and not _turns_down(hull[-2], hull[-1], point):
            hull.pop()
        hull.append(point)
    return hull


def _turns_down(a: Point, b: Point, c: Point) -> bool:
    return (b[1] - a[1]) * (c[0] - b[0]) > (c[1] - b[1]) * (b[0] - a[0])


def resting_line(points: Sequence[Point]) -> PitchLine:
    """Where a straightedge rests: the hull's edge above the middle; at a corner the lower edge."""
    hull = upper_hull(points)
    middle = (float(points[0][0]) + float(points[-1][0])) / 2
    for (s0, h0), (s1, h1) in pairwise(hull):
        if float(s1) >= middle - 1e-9:
            slope = (h1 - h0) / (s1 - s0)
            return PitchLine(atan(slope), float(h0 - s0 * slope))
    raise ValueError("a pitch line needs two nosings")


def line_at_pitch(points: Sequence[Point], pitch: float) -> PitchLine:
    """The line of a given pitch (radians) that rests on the nosings."""
    return PitchLine(pitch, max(float(h) - float(s) * tan(pitch) for s, h in points))


def nosings_under(points: Sequence[Point], line: PitchLine) -> tuple[Nosing, ...]:
    """Every nosing with how far it lies under the line, plumb, mm."""
    return tuple(Nosing(s, h, line.height(s) - float(h)) for s, h in points)
