"""Plane geometry of the proof's own: cutting polygons and lines, where edges cross. All in mm."""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot

Point = tuple[float, float]
Plane = tuple[float, float, float]
"""An edge as a, b, c: a u + b v - c is how far a point lies inside of it, mm."""


def cut(polygon: Sequence[Point], a: float, b: float, c: float) -> tuple[Point, ...]:
    """The part of a polygon with a u + b v <= c."""
    kept: list[Point] = []
    before = polygon[-1] if polygon else (0.0, 0.0)
    over = a * before[0] + b * before[1] - c
    for point in polygon:
        here = a * point[0] + b * point[1] - c
        if here * over < 0:
            share = over / (over - here)
            kept.append(tuple(p + (q - p) * share for p, q in zip(before, point, strict=True)))  # type: ignore[arg-type]
        if here <= 0:
            kept.append(point)
        before, over = point, here
    return tuple(kept)


def between(polygon: Sequence[Point], low: float, high: float) -> tuple[Point, ...]:
    """The part of a polygon with v from `low` to `high`."""
    return cut(cut(polygon, 0.0, -1.0, -low), 0.0, 1.0, high)


def common(polygon: Sequence[Point], window: Sequence[Point]) -> tuple[Point, ...]:
    """The part of a polygon inside a convex window, whichever way round that runs."""
    corners = window if _turns_left(window) else window[::-1]
    part = tuple(polygon)
    for (u0, v0), (u1, v1) in zip(corners, (*corners[1:], corners[0]), strict=True):
        a, b = v1 - v0, u0 - u1
        part = cut(part, a, b, a * u0 + b * v0)
    return part


def _turns_left(corners: Sequence[Point]) -> bool:
    around = zip(corners, (*corners[1:], corners[0]), strict=True)
    return sum(u0 * v1 - u1 * v0 for (u0, v0), (u1, v1) in around) > 0


def clipped(start: Point, end: Point, low: float, high: float) -> tuple[Point, Point] | None:
    """The part of a line with v from `low` to `high`; None where there is none."""
    (u0, v0), (u1, v1) = sorted((start, end), key=lambda point: point[1])
    if v1 < low or v0 > high:
        return None
    slope = (u1 - u0) / (v1 - v0) if v1 > v0 else 0.0
    first = (u0 + (low - v0) * slope, low) if v0 < low else (u0, v0)
    last = (u0 + (high - v0) * slope, high) if v1 > high else (u1, v1)
    return first, last


def sides(outline: Sequence[Point], v: float) -> tuple[float, float]:
    """The left and the right edge of an outline at a height; it must reach beyond that."""
    found = []
    for (u0, v0), (u1, v1) in zip(outline, (*outline[1:], outline[0]), strict=True):
        if (v0 - v) * (v1 - v) < 0:
            found.append(u0 + (u1 - u0) * (v - v0) / (v1 - v0))
    return min(found), max(found)


def meeting(p: Point, slope_p: float, q: Point, r: Point) -> Point:
    """Where the line v = v_p + slope (u - u_p) meets the line through q and r."""
    du, dv = r[0] - q[0], r[1] - q[1]
    share = (p[1] + slope_p * (q[0] - p[0]) - q[1]) / (dv - slope_p * du)
    return (q[0] + share * du, q[1] + share * dv)


def inward(polygon: Sequence[Point]) -> list[Plane]:
    """The edges of a convex polygon, whichever way round it runs."""
    corners = polygon if _turns_left(polygon) else polygon[::-1]
    edges = []
    for (u0, v0), (u1, v1) in zip(corners, (*corners[1:], corners[0]), strict=True):
        long = hypot(u1 - u0, v1 - v0)
        if long > 0:
            a, b = (v0 - v1) / long, (u1 - u0) / long
            edges.append((a, b, a * u0 + b * v0))
    return edges
