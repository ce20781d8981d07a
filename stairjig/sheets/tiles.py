"""A strip cut into tiles: each with its outline, its own marks and its registration marks."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from itertools import pairwise

from stairjig.drawing import Ellipse, Pen, Point, Stroke, cross
from stairjig.frozen import frozen
from stairjig.pieces.shapes import band, clip_segment
from stairjig.pieces.values import CROSS_ARM, Piece, Spot
from stairjig.sheets.joints import LAP, STICK_OUT

REGISTER_RADIUS = 3.0
"""A registration mark is a circle of 6 mm with a cross."""
CLEAR_OF_JOINT = 9.0
"""Kept clear for the names of a joint's registration marks, mm."""
_NEAR = 20.0
"""What stands that near to a tile may be in the way of its words, mm."""
INSIDE_EDGE = 6.0
"""Its centre's distance from the strip's long edges, mm: as far apart as the strip allows."""


@frozen
class Register:
    """A registration mark: its name, unique in the pack, and its centre on the joint line."""

    name: str
    at: Point


@frozen
class Joint:
    """A joint of a piece: its number in the pack, its place and its two registration marks."""

    number: int
    v: float
    marks: tuple[Register, Register]


def _height(spot: Spot) -> float:
    return spot.at[1]


@frozen
class Tile:
    """Part `index` (from 0) of `of` of a piece, in the piece's frame.

    `low`, `high`: between joints or ends; the outline reaches a lap beyond `high` under the next.
    `outline` is closed, counterclockwise. `across`: the strokes that cross the strip on it or near.
    """

    piece: Piece
    index: int
    of: int
    low: float
    high: float
    below: Joint | None
    above: Joint | None
    outline: tuple[Point, ...]
    across: tuple[Stroke, ...]

    @property
    def spots(self) -> tuple[Spot, ...]:
        """The marks that stand on this tile."""
        first, last = (bisect_left(self.piece.spots, v, key=_height) for v in (self.low, self.high))
        return self.piece.spots[first:last]

    @property
    def origin(self) -> Point:
        """The lower left corner of the paper it takes, registration marks included."""
        left = min(u for u, _ in self.outline)
        low = min(v for _, v in self.outline)
        return left, low - (STICK_OUT if self.below else 0.0)

    @property
    def size(self) -> tuple[float, float]:
        """Width and height of the paper it takes, mm."""
        left, low = self.origin
        return (
            max(u for u, _ in self.outline) - left,
            max(v for _, v in self.outline) - low,
        )


def cut_tiles(piece: Piece, places: Sequence[float], first_number: int) -> tuple[Tile, ...]:
    """The piece cut at `places` (v, in order); its joints are numbered from `first_number`."""
    joints = [_joint(piece, v, first_number + n) for n, v in enumerate(places)]
    ends = [piece.low, *places, piece.high]
    around = [None, *joints, None]
    last = len(places)
    spans = [(min(vs), max(vs), stroke) for stroke in piece.across for vs in [_heights(stroke)]]
    return tuple(
        Tile(
            piece=piece,
            index=index,
            of=last + 1,
            low=low,
            high=high,
            below=around[index],
            above=around[index + 1],
            outline=_outline(piece, low, high + LAP if index < last else high, last > 0),
            across=tuple(
                stroke for first, end, stroke in spans if end > low - _NEAR and first < high + _NEAR
            ),
        )
        for index, (low, high) in enumerate(pairwise(ends))
    )


def _heights(stroke: Stroke) -> list[float]:
    return [v for _, v in stroke.points]


def _outline(piece: Piece, low: float, high: float, cut: bool) -> tuple[Point, ...]:
    return band(piece.outline, low, high) if cut else piece.outline


def _joint(piece: Piece, v: float, number: int) -> Joint:
    left, right = sides_at(piece.outline, v)
    marks = (
        Register(f"J{number}a", (left + INSIDE_EDGE, v)),
        Register(f"J{number}b", (right - INSIDE_EDGE, v)),
    )
    return Joint(number, v, marks)


def sides_at(outline: Sequence[Point], v: float) -> tuple[float, float]:
    """The left and the right edge of an outline at a height."""
    found = []
    for (u0, v0), (u1, v1) in zip(outline, (*outline[1:], outline[0]), strict=True):
        if (v0 - v) * (v1 - v) < 0:
            found.append(u0 + (u1 - u0) * (v - v0) / (v1 - v0))
    return min(found), max(found)


def tile_strokes(tile: Tile) -> tuple[Stroke | Ellipse, ...]:
    """Everything drawn on a tile but its words: the outline first."""
    strokes: list[Stroke | Ellipse] = [Stroke(tile.outline, Pen.CUT, closed=True)]
    top = max(v for _, v in tile.outline)
    for stroke in tile.piece.along:
        part = clip_segment(stroke, *_span_of(stroke, tile, top))
        strokes += [part] if part else []
    for stroke in tile.across:
        strokes += _across(stroke, tile)
    for spot in tile.spots:
        strokes += [*spot.shapes, *cross(spot.at, CROSS_ARM, Pen.CROSS)]
    if tile.above:
        left, right = sides_at(tile.piece.outline, tile.high)
        strokes.append(Stroke(((left, tile.high), (right, tile.high)), Pen.JOINT))
    for joint in (tile.below, tile.above):
        for mark in joint.marks if joint else ():
            strokes.append(Ellipse(mark.at, REGISTER_RADIUS, REGISTER_RADIUS, Pen.THIN))
            strokes += cross(mark.at, CROSS_ARM, Pen.CROSS)
    return tuple(strokes)


def _span_of(stroke: Stroke, tile: Tile, top: float) -> tuple[float, float]:
    """From where to where it is drawn: into the lap, a rail's edge clear of the joints' words."""
    if stroke.pen is not Pen.EDGE:
        return tile.low, top
    return (
        tile.low + (CLEAR_OF_JOINT if tile.below else 0.0),
        tile.high - (CLEAR_OF_JOINT if tile.above else 0.0),
    )


def _across(stroke: Stroke, tile: Tile) -> list[Stroke]:
    if stroke.closed:
        middle = sum(v for _, v in stroke.points) / len(stroke.points)
        return [stroke] if tile.low <= middle < tile.high else []
    part = clip_segment(stroke, tile.low, tile.high)
    return [part] if part else []
