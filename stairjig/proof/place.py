"""Where a strip's tiles lie in the layout's frame, and what of the layout falls on each."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import inf
from statistics import median_low

from stairjig.frozen import frozen
from stairjig.lengths import NotALength, Shown, read_length
from stairjig.proof.assemble import Laid
from stairjig.proof.expected import ExpectedMark, ExpectedPiece
from stairjig.proof.geometry import between, clipped, sides
from stairjig.proof.shapes import CLOSE, Shape
from stairjig.proof.tiles import Point, distance

FARTHEST_NAME = 45.0
"""mm within which a mark's name and reading stand from its cross."""
LAP = 15.0
"""What a tile reaches under the next one beyond their joint, mm."""
EDGE_CLEAR = 9.0
"""A narrow rail's edges stop short of joints, mm."""
INSIDE_EDGE = 6.0
"""From a strip's long edges to the registration marks, mm."""


@frozen
class Part:
    """A tile in its place: between `low` and `high` it is its own, infinite at the strip's ends.

    `below`, `above`: its joints by number, None at an end.
    """

    laid: Laid
    low: float
    high: float
    below: int | None
    above: int | None

    def holds(self, v: float) -> bool:
        """Whether that height falls on it."""
        return self.low <= v < self.high


def parts(tiles: Sequence[Laid], piece: ExpectedPiece, shown: Shown) -> list[Part]:
    """The tiles of a strip, or some of them, in their place and in order going up."""
    shift = _shift(tiles, piece, shown)
    placed = [_part(laid.moved(shift)) for laid in tiles]
    return sorted(placed, key=lambda part: part.low)


def _part(laid: Laid) -> Part:
    low, high, below, above = -inf, inf, None, None
    for number, v in _joints(laid):
        if _is_above(laid, v):
            high, above = v, number
        else:
            low, below = v, number
    return Part(laid, low, high, below, above)


def _joints(laid: Laid) -> Iterable[tuple[int, float]]:
    """Each joint on a tile, its number and its height by its first registration mark."""
    for name, at in sorted(laid.tile.registers.items(), reverse=True):
        yield int(name[1:-1]), laid.at(at)[1]


def _is_above(laid: Laid, v: float) -> bool:
    heights = [laid.at(corner)[1] for corner in laid.tile.corners] or [v]
    return v - min(heights) > max(heights) - v


def _shift(tiles: Sequence[Laid], piece: ExpectedPiece, shown: Shown) -> Point:
    """What takes the paper's frame to the layout's, by the median: one wrong part can't bend it."""
    us: list[float] = []
    vs: list[float] = []
    for laid in tiles:
        for mark, at in _called(laid, piece.marks):
            us.append(mark.at[0] - at[0])
            vs.append(mark.at[1] - at[1])
        u, v = _from_outline(laid, piece)
        us += u
        vs += v
    vs = vs or [off for laid in tiles for off in _from_joints(laid, piece, shown)]
    return median_low(us or [0.0]), median_low(vs or [0.0])


def _called(laid: Laid, marks: Sequence[ExpectedMark]) -> Iterable[tuple[ExpectedMark, Point]]:
    """The marks whose name a tile says, with the place of the cross next to it."""
    known = {mark.name: mark for mark in marks}
    for text in laid.tile.texts:
        if text.text in known and laid.tile.crosses:
            nearest = min(laid.tile.crosses, key=lambda cross: distance(text, cross.at))
            if distance(text, nearest.at) < FARTHEST_NAME + known[text.text].half:
                yield known[text.text], laid.at(nearest.at)


def _from_outline(laid: Laid, piece: ExpectedPiece) -> tuple[list[float], list[float]]:
    """What a tile's edges say: its long one, the line, and the strip's ends that are on it."""
    corners = [laid.at(corner) for corner in laid.tile.corners]
    if not corners:
        return [], []
    pick = min if piece.side < 0 else max
    us = [piece.side - pick(u for u, _ in corners)]
    line = [stroke for stroke in laid.tile.strokes if stroke.dashes and _plumb(stroke.points)]
    us += [-laid.at(stroke.points[0])[0] for stroke in line[:1]]
    heights = [v for _, v in corners]
    above = [_is_above(laid, v) for _, v in _joints(laid)]
    vs = [] if True in above else [piece.high - max(heights)]
    vs += [] if False in above else [piece.low - min(heights)]
    return us, vs


def _plumb(points: Sequence[Point]) -> bool:
    return len(points) == 2 and abs(points[0][0] - points[1][0]) < CLOSE


def _from_joints(laid: Laid, piece: ExpectedPiece, shown: Shown) -> Iterable[float]:
    """What the readings of a tile's joints say, where it has nothing that is truer."""
    heights = dict(_joints(laid))
    for text in laid.tile.texts:
        said, colon, rest = text.text.partition(": ")
        number = said.removeprefix("joint ")
        if colon and said != number and number.isdigit() and int(number) in heights:
            reading = _length(rest.partition(" from ")[0], shown)
            if reading is not None:
                yield piece.zero + piece.sense * reading - heights[int(number)]


def _length(text: str, shown: Shown) -> float | None:
    try:
        return float(read_length(text, shown.units))
    except NotALength:
        return None


def shapes_on(part: Part, piece: ExpectedPiece) -> list[Shape]:
    """Every shape that a tile must show but its crosses: the outline first."""
    outline = outline_of(part, piece)
    top = max((v for _, v in outline), default=part.high)
    shapes = [Shape("the cut outline", outline, "cut", closed=True)]
    for shape in piece.along:
        ends = clipped(shape.points[0], shape.points[1], part.low, top)
        shapes += [Shape(shape.what, ends, shape.pen)] if ends else []
    for shape in piece.edges:
        clear = part.low + EDGE_CLEAR, part.high - EDGE_CLEAR
        ends = clipped(shape.points[0], shape.points[1], *clear)
        shapes += [Shape(shape.what, ends, shape.pen)] if ends else []
    for shape in piece.across:
        shapes += _across(part, shape)
    for mark in piece.marks:
        if part.holds(mark.at[1]):
            shapes += mark.shapes
    if part.above is not None and outline and piece.low < part.high < piece.high:
        left, right = sides(piece.outline, part.high)
        joint = ((left, part.high), (right, part.high))
        shapes.append(Shape(f"the line of joint {part.above}", joint, "dashed"))
    return shapes


def outline_of(part: Part, piece: ExpectedPiece) -> tuple[Point, ...]:
    """Where a tile is cut out, its lap included, without a nick."""
    if part.below is None and part.above is None:
        return piece.outline
    return between(piece.outline, max(part.low, -1e6), min(part.high + LAP, 1e6))


def _across(part: Part, shape: Shape) -> list[Shape]:
    if shape.closed:
        middle = sum(v for _, v in shape.points) / len(shape.points)
        return [shape] if part.holds(middle) else []
    ends = clipped(shape.points[0], shape.points[1], part.low, part.high)
    return [Shape(shape.what, ends, shape.pen)] if ends else []


def register_faults(part: Part, piece: ExpectedPiece) -> Iterable[str]:
    """What of a tile's registration marks is not whole, or not where its joint is."""
    laid = part.laid
    for name in laid.tile.broken:
        yield f"{laid.where}: the cross of registration mark {name} is not in its ring"
    for number, v in ((part.below, part.low), (part.above, part.high)):
        if number is None or not piece.low < v < piece.high:
            continue
        ends = sides(piece.outline, v)
        places = zip("ab", (ends[0] + INSIDE_EDGE, ends[1] - INSIDE_EDGE), strict=True)
        for letter, u in places:
            at = laid.tile.registers.get(f"J{number}{letter}")
            if at is None:
                yield f"{laid.where}: registration mark J{number}{letter} is missing"
            elif max(abs(laid.at(at)[0] - u), abs(laid.at(at)[1] - v)) > CLOSE:
                yield f"{laid.where}: registration mark J{number}{letter} is off its place"
    strays = {name[1:-1] for name in laid.tile.registers} - {str(part.below), str(part.above)}
    if strays:
        yield f"{laid.where}: joint {min(strays)} is named where there is none"
