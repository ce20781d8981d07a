"""A tread strip's lines as they must come out of the paper, from the tread in plan.

Worked out in (y, v): y square to the line, positive toward the tread end, v along it from the
front riser. On paper the tread end is to the left on a stair whose open side is the left one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import hypot, inf, radians, tan

from stairjig.frozen import frozen
from stairjig.job.model import TreadsSection
from stairjig.proof.geometry import common, meeting
from stairjig.proof.shapes import CLOSE, Shape, line
from stairjig.setout.plan import reach
from stairjig.setout.values import PlanTread, SectionSetout, SetNewel, SetTread

Point = tuple[float, float]
WALL_SIDE = 75.0
"""Least reach on the wall side of the line, mm."""
BEYOND_BASE = 30.0
"""Least reach beyond the widest base, mm."""
PAST_NOSING = 8.0
"""What a strip has in front of the nosing's edge, mm."""
SHORT_FRONT = 3.0
"""What a short one has in front of the riser at least, mm, and 1 mm in front of every base."""
NICK = (6.0, 4.0)
"""Half width of the nick in the back edge, mm, and its depth, more where that is steeper."""
LINE_CLEAR = 5.0
"""What the nick keeps from the line at least, mm."""
LEAST_END = 10.0
"""Where its risers meet, a strip ends where they are still so far apart, mm."""
SLIVER = 0.05
"""mm that a newel reaches onto a strip at the most where it only touches it."""
EDGE_WORDS = 5.4
"""What words beside the tread's end take, mm, clear by 2.5 of the bases."""


@frozen
class TreadShape:
    """The lines of a strip in (u, v), its outline without the nick in the back edge.

    `wall`: the u of its wall side; `ahead`: its reach in front of the riser; `edge_room`: whether
    words have room beside the tread's end. `newels`: the ends whose newel stands on it; `touched`:
    those whose newel it only touches. `front_slope`, `back_slope`: how the riser below and the back
    edge rise with u.
    """

    outline: tuple[Point, ...]
    along: tuple[Shape, ...]
    across: tuple[Shape, ...]
    wall: float
    ahead: float
    edge_room: bool
    newels: frozenset[str]
    touched: frozenset[str]
    front_slope: float
    back_slope: float


def tread_shape(section: SectionSetout, tread: SetTread, short: bool) -> TreadShape:
    """The strip of a tread, with its front part or `short` of that."""
    flight, plan = section.section, tread.plan
    assert isinstance(flight, TreadsSection)
    sign = 1.0 if flight.side == "right" else -1.0
    plane = _plane(plan, tread, flight.line.origin == "end")
    nosing = float(plan.front_nosing)
    ahead = _short_front(tread) if short else nosing + PAST_NOSING
    straight = plane.outline(ahead)

    def paper(points: Sequence[Point]) -> tuple[Point, ...]:
        return tuple((sign * y, v) for y, v in points)

    across = [Shape("the riser's line", paper(plane.across(0.0)), "dashed")]
    if not short:
        across.append(Shape("the nosing's edge", paper(plane.across(nosing)), "dashed"))
    newels, touched = set(), set()
    for newel in section.newels:
        shape = common(_foot(newel, plan), straight) if newel.kind == "post" else ()
        if _depth(shape) > SLIVER:
            pen = "cut" if newel.stands else "dashed"
            across.append(Shape(f"the {newel.end} newel", paper(shape), pen, closed=True))
            newels.add(newel.end)
        elif shape:
            touched.add(newel.end)
    return TreadShape(
        outline=paper(straight),
        along=(line("the line", (0.0, -ahead), (0.0, plane.run), "dashed"),),
        across=tuple(across),
        wall=-sign * plane.wall,
        ahead=ahead,
        edge_room=_edge_room(tread, plane),
        newels=frozenset(newels),
        touched=frozenset(touched),
        front_slope=sign * plane.front_slope,
        back_slope=sign * plane.back_slope,
    )


@frozen
class _Plane:
    """The lines that bound the strip: the risers' slopes, its reach to the end and the wall."""

    run: float
    front_slope: float
    back_slope: float
    end_front: float
    end_back: float
    wall: float

    def across(self, ahead: float) -> tuple[Point, Point]:
        """The front riser's face, or a parallel `ahead` of it along the line, edge to edge."""
        low = (self.end_front, self.end_front * self.front_slope)
        high = (self.end_back, self.run + self.end_back * self.back_slope)
        corner = meeting((0.0, -ahead), self.front_slope, low, high)
        return corner, (-self.wall, -self.wall * self.front_slope - ahead)

    def back(self, y: float) -> Point:
        return y, self.run + y * self.back_slope

    def outline(self, ahead: float) -> tuple[Point, ...]:
        return (*self.across(ahead), self.back(-self.wall), self.back(self.end_back))


def _plane(plan: PlanTread, tread: SetTread, has_end: bool) -> _Plane:
    beyond = max(float(mark.type.base.mm) for mark in tread.marks) / 2 + BEYOND_BASE
    front_slope, back_slope = (tan(radians(riser.skew)) for riser in (plan.front, plan.back))
    closing, wall, outer = back_slope - front_slope, max(WALL_SIDE, beyond), beyond
    meet = (float(plan.line_run) - LEAST_END) / abs(closing) if closing else inf
    if closing > 0:
        wall = min(wall, meet)
    else:
        outer = min(outer, meet)
    ends = (float(plan.end_front), float(plan.end_back)) if has_end else (outer, outer)
    return _Plane(float(plan.line_run), front_slope, back_slope, *ends, wall)


def _short_front(tread: SetTread) -> float:
    skew = tread.plan.front.skew
    bases = ((mark.type.base.mm / 2, mark.type.shape, mark.x) for mark in tread.marks)
    return max(SHORT_FRONT, *(float(reach(skew, half, shape) - x) + 1 for half, shape, x in bases))


def _depth(shape: Sequence[Point]) -> float:
    """How far a shape reaches along the line."""
    heights = [v for _, v in shape]
    return max(heights) - min(heights) if heights else 0.0


def _foot(newel: SetNewel, plan: PlanTread) -> tuple[Point, ...]:
    half, v = float(newel.width) / 2, float(newel.centre - plan.front.s)
    return ((-half, v - half), (half, v - half), (half, v + half), (-half, v + half))


def _edge_room(tread: SetTread, plane: _Plane) -> bool:
    sizes = [9.0]
    for mark in tread.marks:
        hole = mark.type.tread_hole
        sizes += [float(mark.type.base.mm), float(hole.size.mm) if hole else 0.0]
    return min(plane.end_front, plane.end_back) - EDGE_WORDS > max(sizes) / 2 + 2.5


def without_nick(outline: Shape) -> Shape:
    """An outline with its back edge made whole; unchanged where there is no nick of true size."""
    points = outline.points
    for n in range(len(points)):
        turned = points[n:] + points[:n]
        if len(points) > 6 and _is_nick(turned):
            return replace(outline, points=turned[5:] + turned[:1])
    return outline


def _is_nick(points: Sequence[Point]) -> bool:
    """Whether the four points after the first one are a nick in the edge from there on."""
    before, first, low, last, end, after = points[:6]
    wide = after[0] - before[0]
    steep = abs((after[1] - before[1]) / wide) if wide else inf
    half, deep = NICK[0], NICK[1] * max(1.0, steep)
    return (
        max(abs(low[0] - first[0]), abs(last[0] - end[0])) < CLOSE
        and max(abs(first[1] - low[1] - deep), abs(end[1] - last[1] - deep)) < CLOSE
        and abs(abs(end[0] - first[0]) - 2 * half) < CLOSE
        and abs(first[0] + end[0]) / 2 > half + LINE_CLEAR
        and max(_off_line(first, before, after), _off_line(end, before, after)) < CLOSE
    )


def _off_line(point: Point, start: Point, end: Point) -> float:
    """How far a point lies off the line through two others, mm."""
    du, dv = end[0] - start[0], end[1] - start[1]
    return abs((point[0] - start[0]) * dv - (point[1] - start[1]) * du) / max(hypot(du, dv), CLOSE)


def is_touch(shape: Shape) -> bool:
    """Whether it is what is left of a newel that a strip only touches: a shape without a width."""
    return shape.closed and not shape.curved and _depth(shape.points) < SLIVER
