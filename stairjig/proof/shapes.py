"""Shapes on the paper held against those of the layout: what is there, off, missing, too many."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import floor, hypot

from stairjig.frozen import frozen
from stairjig.proof.marks import ReadStroke, circles

Point = tuple[float, float]
CLOSE = 0.02
"""mm that anything may be off at most."""
_CELL = 4.0
_FAR = 40.0
"""mm within which a shape that is off is taken for one that is missed."""
_THICK = 0.5
"""mm from which a full line is one to cut along."""
_PENS = {"cut": "a cut edge", "dashed": "a dashed line", "full": "a full line"}


@frozen
class Shape:
    """A shape through its corners, or through the ends of an ellipse's axes where `curved`.

    `pen`: `cut` along, `dashed` or `full`; `what` it is, in words.
    """

    what: str
    points: tuple[Point, ...]
    pen: str
    closed: bool = False
    curved: bool = False

    @property
    def kind(self) -> tuple[int, bool, bool]:
        """What shapes must share to be compared."""
        return len(self.points), self.closed, self.curved


def ellipse(what: str, at: Point, wide: float, high: float, pen: str) -> Shape:
    """An ellipse square to the strip, by its half axes."""
    u, v = at
    ends = ((u + wide, v), (u, v + high), (u - wide, v), (u, v - high))
    return Shape(what, ends, pen, closed=True, curved=True)


def rectangle(what: str, at: Point, wide: float, high: float, pen: str) -> Shape:
    """A rectangle about a centre, by half its sides."""
    u, v = at
    corners = (
        (u - wide, v - high),
        (u + wide, v - high),
        (u + wide, v + high),
        (u - wide, v + high),
    )
    return Shape(what, corners, pen, closed=True)


def line(what: str, start: Point, end: Point, pen: str) -> Shape:
    """A straight line."""
    return Shape(what, (start, end), pen)


def drawn(stroke: ReadStroke, shift: Point = (0.0, 0.0)) -> Shape:
    """A stroke as it was read, moved by `shift`."""
    u, v = shift
    points = stroke.points
    curved = bool(stroke.kinds.strip("l"))
    if curved and next(circles((stroke,)), None):
        points = points[:10:3]
    moved = tuple((point[0] + u, point[1] + v) for point in points)
    return Shape("", moved, pen_of(stroke), stroke.closed, curved)


def pen_of(stroke: ReadStroke) -> str:
    """How a stroke is drawn; a full line that is thick is one to cut along."""
    if stroke.dashes:
        return "dashed"
    return "cut" if stroke.weight > _THICK else "full"


def differences(expected: Sequence[Shape], found: Sequence[Shape]) -> Iterable[str]:
    """What is off, missing or too many on the paper, in words."""
    cells: dict[tuple[object, int, int], list[int]] = {}
    for number, shape in enumerate(expected):
        for cell in _cells(shape):
            cells.setdefault(cell, []).append(number)
    taken: set[int] = set()
    strange: list[Shape] = []
    for shape in found:
        near = _near(shape, expected, cells)
        same = next((number for number in near if number not in taken), None)
        if same is None:
            strange.append(shape)
            continue
        taken.add(same)
        if shape.pen != expected[same].pen:
            yield f"{expected[same].what} is drawn as {_PENS[shape.pen]}"
    missing = [shape for number, shape in enumerate(expected) if number not in taken]
    yield from _pairs(missing, strange, expected)


def _corner(shape: Shape) -> Point:
    """The mean of its points."""
    count = len(shape.points)
    return sum(u for u, _ in shape.points) / count, sum(v for _, v in shape.points) / count


def _cells(shape: Shape) -> set[tuple[object, int, int]]:
    u, v = _corner(shape)
    kind, near = shape.kind, 2 * CLOSE
    return {
        (kind, floor((u + du) / _CELL), floor((v + dv) / _CELL))
        for du in (-near, near)
        for dv in (-near, near)
    }


def _near(
    shape: Shape,
    expected: Sequence[Shape],
    cells: dict[tuple[object, int, int], list[int]],
) -> Iterable[int]:
    """Which of the expected shapes it is; several may lie on each other."""
    u, v = _corner(shape)
    for number in cells.get((shape.kind, floor(u / _CELL), floor(v / _CELL)), ()):
        if off(expected[number], shape) <= CLOSE:
            yield number


def off(shape: Shape, other: Shape) -> float:
    """How far the points of two shapes of one kind lie apart at the most, mm."""
    points, count = shape.points, len(shape.points)
    u, v = points[0]
    start = min(
        range(count),
        key=lambda n: abs(other.points[n][0] - u) + abs(other.points[n][1] - v),
    )
    around = other.points[start:] + other.points[:start]
    return min(_apart(points, around), _apart(points, (around[0], *around[:0:-1])))


def _apart(points: Sequence[Point], others: Sequence[Point]) -> float:
    return max(hypot(p[0] - q[0], p[1] - q[1]) for p, q in zip(points, others, strict=True))


def _pairs(missing: list[Shape], strange: list[Shape], expected: Sequence[Shape]) -> Iterable[str]:
    """What is missing, beside what of its kind stands nearest to its place; then what is left."""
    for shape in missing:
        others = [other for other in strange if other.kind == shape.kind]
        nearest = min(others, key=lambda other: off(shape, other), default=None)
        if nearest is None or off(shape, nearest) > _FAR:
            yield f"{shape.what} is missing"
        else:
            strange.remove(nearest)
            yield f"{shape.what} is {off(shape, nearest):.3f} mm off"
    for shape in strange:
        twin = next((e for e in expected if e.kind == shape.kind and off(e, shape) <= CLOSE), None)
        if twin:
            yield f"{twin.what} is drawn twice"
        else:
            yield "there is a line or a shape that the layout does not have"
