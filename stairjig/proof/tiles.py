"""The tiles of a read pack: what of a run is outline, cross, registration mark and words."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import hypot

from stairjig.proof.marks import ReadRun, ReadStroke, ReadText, circles

Point = tuple[float, float]
CROSS = 9.0
"""Length of a centre cross's strokes, mm."""
REGISTER = 3.0
"""Radius of a registration mark's circle, mm."""
_NEAR = 0.35
"""mm within which two strokes are taken to belong to one cross."""
_REGISTER_NAME = re.compile(r"J\d+[ab]")


@dataclass(frozen=True, slots=True)
class Cross:
    """Two strokes crossing; `off`: how far apart their middles lie, mm."""

    at: Point
    off: float


@dataclass(frozen=True, slots=True)
class TileRead:
    """A tile as printed, in its sheet's frame, mm; `registers`: centres by their names."""

    sheet: int
    name: str
    outline: tuple[Point, ...]
    lines: tuple[tuple[Point, Point], ...]
    crosses: tuple[Cross, ...]
    registers: dict[str, Point]
    unnamed: int
    texts: tuple[ReadText, ...]


def read_tile(run: ReadRun, sheet: int, scale: Point = (1.0, 1.0)) -> TileRead:
    """A tile from its run of the content stream.

    `scale`: how much larger it was drawn across and along, to come out true on its printer.
    """
    strokes = [_points(stroke, scale) for stroke in run.strokes]
    straight = [
        (points[0], points[1])
        for stroke, points in zip(run.strokes, strokes, strict=True)
        if len(points) == 2 and not stroke.is_curve
    ]
    crosses = list(_crosses(straight))
    rings = [
        (ring.centre[0] / scale[0], ring.centre[1] / scale[1])
        for ring in circles(run.strokes)
        if abs(ring.half_width / scale[0] - REGISTER) < 0.1
        and abs(ring.half_height / scale[1] - REGISTER) < 0.1
    ]
    registered = {_nearest(ring, crosses): ring for ring in rings}
    texts = tuple(_true(text, scale) for text in run.texts)
    names = [text for text in texts if _REGISTER_NAME.fullmatch(text.text)]
    registers = _named(registered, names)
    return TileRead(
        sheet=sheet,
        name=texts[0].text if texts else "",
        outline=strokes[0] if strokes else (),
        lines=tuple(straight),
        crosses=tuple(cross for n, cross in enumerate(crosses) if n not in registered),
        registers=registers,
        unnamed=len(rings) - len(registers),
        texts=texts,
    )


def _true(text: ReadText, scale: Point) -> ReadText:
    """The words at their true place; how wide they run hardly changes."""
    return replace(text, at=(text.at[0] / scale[0], text.at[1] / scale[1]))


def _points(stroke: ReadStroke, scale: Point) -> tuple[Point, ...]:
    return tuple((u / scale[0], v / scale[1]) for u, v in stroke.points)


def _crosses(lines: Sequence[tuple[Point, Point]]) -> Iterable[Cross]:
    nine = [line for line in lines if abs(_length(line) - CROSS) < 0.2]
    level = [_middle(line) for line in nine if abs(line[0][1] - line[1][1]) < 0.2]
    plumb = [_middle(line) for line in nine if abs(line[0][0] - line[1][0]) < 0.2]
    for at in level:
        other = min(plumb, key=lambda point: _apart(at, point), default=None)
        if other is not None and _apart(at, other) < _NEAR:
            plumb.remove(other)
            middle = ((at[0] + other[0]) / 2, (at[1] + other[1]) / 2)
            yield Cross(middle, _apart(at, other))
        else:
            yield Cross(at, CROSS)
    for at in plumb:
        yield Cross(at, CROSS)


def _length(line: tuple[Point, Point]) -> float:
    return _apart(*line)


def _middle(line: tuple[Point, Point]) -> Point:
    return ((line[0][0] + line[1][0]) / 2, (line[0][1] + line[1][1]) / 2)


def _apart(p: Point, q: Point) -> float:
    return hypot(p[0] - q[0], p[1] - q[1])


def _nearest(at: Point, crosses: Sequence[Cross]) -> int:
    return min(range(len(crosses)), key=lambda n: _apart(at, crosses[n].at), default=-1)


def _named(registered: dict[int, Point], names: Sequence[ReadText]) -> dict[str, Point]:
    named = {}
    for ring in registered.values():
        here = [text for text in names if distance(text, ring) < 10.0]
        if here:
            nearest = min(here, key=lambda text: distance(text, ring))
            named[nearest.text] = ring
    return named


def distance(text: ReadText, at: Point) -> float:
    """How far the baseline of some words is from a point, mm."""
    along, off = at[0] - text.at[0], at[1] - text.at[1]
    if 45 < text.angle % 180 < 135:
        along, off = (off, along) if text.angle < 180 else (-off, along)
    elif 90 < text.angle < 270:
        along = -along
    beyond = max(-along, along - text.width, 0.0)
    return hypot(beyond, off)
