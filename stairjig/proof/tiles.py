"""The tiles of a read pack: what of a run is outline, cross, registration mark and words."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from math import hypot

from stairjig.frozen import frozen
from stairjig.proof.marks import ReadRun, ReadStroke, ReadText, circles

Point = tuple[float, float]
CROSS = 9.0
"""Length of a centre cross's strokes, mm."""
REGISTER = 3.0
"""Radius of a registration mark's circle, mm."""
_NEAR = 0.35
"""mm within which two strokes are taken to belong to one cross."""
_SAME = 0.2
_NAME_NEAR = 10.0
_REGISTER_NAME = re.compile(r"J\d+[ab]")


@frozen
class Cross:
    """Two strokes crossing; `off`: how far apart their middles lie, mm."""

    at: Point
    off: float


@frozen
class TileRead:
    """A tile as printed, in its sheet's frame, mm.

    `sheet`: the number printed on it. `strokes`: all but the outline, the crosses and the
    registration marks, whose centres `registers` gives by their names. `broken`: registration marks
    whose circle and cross are not about one point. `heading`: the words of the name; `texts`: all
    others.
    """

    sheet: str
    name: str
    outline: ReadStroke | None
    strokes: tuple[ReadStroke, ...]
    crosses: tuple[Cross, ...]
    registers: dict[str, Point]
    unnamed: int
    broken: tuple[str, ...]
    heading: ReadText | None
    texts: tuple[ReadText, ...]

    @property
    def corners(self) -> tuple[Point, ...]:
        """The corners of its outline."""
        return self.outline.points if self.outline else ()


def read_tile(run: ReadRun, sheet: str, scale: Point = (1.0, 1.0)) -> TileRead:
    """A tile from its run of the content stream.

    `scale`: how much larger it was drawn across and along, to come out true on its printer.
    """
    strokes, texts = run.strokes, run.texts
    if scale != (1.0, 1.0):
        strokes = tuple(_true(stroke, scale) for stroke in strokes)
        texts = tuple(_true_text(text, scale) for text in texts)
    outline, rest = (strokes[0], strokes[1:]) if strokes else (None, ())
    nine, rest = _parted(rest)
    crosses = list(_crosses(nine))
    rings = [
        ring
        for ring in circles(rest)
        if abs(ring.half_width - REGISTER) < 0.1 and abs(ring.half_height - REGISTER) < 0.1
    ]
    held = {id(ring.stroke) for ring in rings}
    registered = {_nearest(ring.centre, crosses): ring.centre for ring in rings}
    names = [text for text in texts if _REGISTER_NAME.fullmatch(text.text)]
    registers = _named([ring.centre for ring in rings], names)
    return TileRead(
        sheet=sheet,
        name=" ".join(texts[0].text.split()) if texts else "",
        outline=outline,
        strokes=tuple(stroke for stroke in rest if id(stroke) not in held),
        crosses=tuple(cross for n, cross in enumerate(crosses) if n not in registered),
        registers=registers,
        unnamed=len(rings) - len(registers),
        broken=tuple(_broken(registers, crosses)),
        heading=texts[0] if texts else None,
        texts=texts[1:],
    )


def _true(stroke: ReadStroke, scale: Point) -> ReadStroke:
    return replace(stroke, points=tuple((u / scale[0], v / scale[1]) for u, v in stroke.points))


def _true_text(text: ReadText, scale: Point) -> ReadText:
    """The words at their true place; what they are longer or shorter there is left off each end."""
    off = text.width * abs(1 - 1 / scale[1 if text.upright else 0])
    away = off if text.angle < 180 else -off
    u, v = text.at[0] / scale[0], text.at[1] / scale[1]
    at = (u, v + away) if text.upright else (u + away, v)
    return replace(text, at=at, width=max(text.width - 2 * off, 0.0))


def _parted(
    strokes: Iterable[ReadStroke],
) -> tuple[list[tuple[Point, Point]], tuple[ReadStroke, ...]]:
    """The straight strokes that are as long as a cross's, and the others."""
    nine, rest = [], []
    for stroke in strokes:
        if stroke.kinds == "l" and is_arm(stroke):
            nine.append((stroke.points[0], stroke.points[1]))
        else:
            rest.append(stroke)
    return nine, tuple(rest)


def is_arm(stroke: ReadStroke) -> bool:
    """Whether a straight line is as long as a cross's strokes, and as square to the sheet."""
    (u0, v0), (u1, v1) = stroke.points
    wide, high = abs(u1 - u0), abs(v1 - v0)
    return min(wide, high) < _SAME and abs(max(wide, high) - CROSS) < _SAME and not stroke.dashes


def _crosses(lines: Sequence[tuple[Point, Point]]) -> Iterable[Cross]:
    level = [_middle(line) for line in lines if abs(line[0][1] - line[1][1]) < _SAME]
    plumb = [_middle(line) for line in lines if abs(line[0][0] - line[1][0]) < _SAME]
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


def _middle(line: tuple[Point, Point]) -> Point:
    return ((line[0][0] + line[1][0]) / 2, (line[0][1] + line[1][1]) / 2)


def _apart(p: Point, q: Point) -> float:
    return hypot(p[0] - q[0], p[1] - q[1])


def _nearest(at: Point, crosses: Sequence[Cross]) -> int:
    return min(range(len(crosses)), key=lambda n: _apart(at, crosses[n].at), default=-1)


def _named(rings: Sequence[Point], names: Sequence[ReadText]) -> dict[str, Point]:
    named = {}
    for ring in rings:
        here = [text for text in names if distance(text, ring) < _NAME_NEAR]
        if here:
            nearest = min(here, key=lambda text: distance(text, ring))
            named[nearest.text] = ring
    return named


def _broken(registers: dict[str, Point], crosses: Sequence[Cross]) -> Iterable[str]:
    for name, ring in registers.items():
        nearest = _nearest(ring, crosses)
        apart = _apart(ring, crosses[nearest].at) + crosses[nearest].off if crosses else CROSS
        if apart > _SAME / 10:
            yield name


def distance(text: ReadText, at: Point) -> float:
    """How far the baseline of some words is from a point, mm."""
    along, off = at[0] - text.at[0], at[1] - text.at[1]
    if 45 < text.angle % 180 < 135:
        along, off = (off, along) if text.angle < 180 else (-off, along)
    elif 90 < text.angle < 270:
        along = -along
    beyond = max(-along, along - text.width, 0.0)
    return hypot(beyond, off)
