"""Plane geometry for the strips: clipping, mirroring, where lines cross. All in mm."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import overload

from stairjig.drawing import Ellipse, Pen, Point, Stroke


def clipped(polygon: Sequence[Point], a: float, b: float, c: float) -> tuple[Point, ...]:
    """The part of a polygon with a u + b v <= c; empty where there is none."""
    kept: list[Point] = []
    for (u0, v0), (u1, v1) in zip(polygon, (*polygon[1:], polygon[0]), strict=True):
        low, high = a * u0 + b * v0 - c, a * u1 + b * v1 - c
        if low <= 0:
            kept.append((u0, v0))
        if low * high < 0:
            share = low / (low - high)
            kept.append((u0 + (u1 - u0) * share, v0 + (v1 - v0) * share))
    return tuple(kept)


def within(polygon: Sequence[Point], window: Sequence[Point]) -> tuple[Point, ...]:
    """The part of a polygon inside a convex, counterclockwise window."""
    part = tuple(polygon)
    for (u0, v0), (u1, v1) in zip(window, (*window[1:], window[0]), strict=True):
        if not part:
            return ()
        a, b = v1 - v0, u0 - u1
        part = clipped(part, a, b, a * u0 + b * v0)
    return part


def inside(polygon: Sequence[Point], point: Point) -> bool:
    """Whether a point lies inside a convex polygon, whichever way round it runs."""
    turns = [
        (u1 - u0) * (point[1] - v0) - (v1 - v0) * (point[0] - u0)
        for (u0, v0), (u1, v1) in zip(polygon, (*polygon[1:], polygon[0]), strict=True)
    ]
    return min(turns) >= 0 or max(turns) <= 0


def meets(path: Sequence[Point], low: Point, high: Point) -> bool:
    """Whether an open path runs through the rectangle from `low` to `high`."""
    return any(_runs_through(start, end, low, high) for start, end in pairwise(path))


def _runs_through(start: Point, end: Point, low: Point, high: Point) -> bool:
    """Whether a straight line does (clipping after Liang and Barsky, 1984)."""
    first, last = 0.0, 1.0
    for at, to, least, most in zip(start, end, low, high, strict=True):
        step = to - at
        if step == 0:
            if not least < at < most:
                return False
            continue
        enters, leaves = sorted(((least - at) / step, (most - at) / step))
        first, last = max(first, enters), min(last, leaves)
    return first < last


def band(polygon: Sequence[Point], low: float, high: float) -> tuple[Point, ...]:
    """The part of a polygon with v from `low` to `high`."""
    return clipped(clipped(polygon, 0, -1, -low), 0, 1, high)


def crossing(p: Point, q: Point, r: Point, s: Point) -> Point:
    """Where the line through p and q crosses the line through r and s, which aren't parallel."""
    du, dv, eu, ev = q[0] - p[0], q[1] - p[1], s[0] - r[0], s[1] - r[1]
    share = ((r[0] - p[0]) * ev - (r[1] - p[1]) * eu) / (du * ev - dv * eu)
    return (p[0] + share * du, p[1] + share * dv)


def clip_segment(stroke: Stroke, low: float, high: float) -> Stroke | None:
    """The part of a two-point stroke with v from `low` to `high`; None where there is none."""
    (u0, v0), (u1, v1) = stroke.points
    if v0 == v1:
        return stroke if low <= v0 <= high else None
    start, end = sorted(((low - v0) / (v1 - v0), (high - v0) / (v1 - v0)))
    start, end = max(start, 0.0), min(end, 1.0)
    if start >= end:
        return None

    def at(share: float) -> Point:
        return (u0 + (u1 - u0) * share, v0 + (v1 - v0) * share)

    return Stroke((at(start), at(end)), stroke.pen)


def box(centre: Point, half_width: float, half_height: float, pen: Pen) -> Stroke:
    """A rectangle about a centre."""
    u, v = centre
    low, high = v - half_height, v + half_height
    left, right = u - half_width, u + half_width
    return Stroke(((left, low), (right, low), (right, high), (left, high)), pen, closed=True)


@overload
def mirrored(shape: Stroke) -> Stroke: ...
@overload
def mirrored(shape: Ellipse) -> Ellipse: ...
def mirrored(shape: Stroke | Ellipse) -> Stroke | Ellipse:
    """The shape with u reversed; a closed stroke stays counterclockwise."""
    if isinstance(shape, Ellipse):
        u, v = shape.centre
        return Ellipse((-u, v), shape.half_width, shape.half_height, shape.pen)
    points = tuple((-u, v) for u, v in shape.points)
    return Stroke(points[::-1] if shape.closed else points, shape.pen, shape.closed)
