"""What can stand on a page, in mm with y upward: strokes, curves, words and fields as values.

Every line's weight is named for what it means, so that one key explains all of them in black.
"""

from __future__ import annotations

from dataclasses import replace
from enum import Enum

from stairjig.frozen import frozen

Point = tuple[float, float]


class Pen(Enum):
    """What a stroke means; its value is (weight, dashes, grey), in mm and 0 black to 1 white."""

    CUT = (0.9, (), 0.0)
    JOINT = (0.3, (5.0, 2.2, 1.0, 2.2), 0.0)
    RISER = (0.6, (14.0, 2.5), 0.0)
    NOSING = (0.25, (2.5, 2.5), 0.0)
    LINE = (0.13, (9.0, 1.2, 0.8, 1.2), 0.0)
    BASE = (0.4, (), 0.0)
    HOLE = (0.3, (0.5, 1.0), 0.0)
    CROSS = (0.12, (), 0.0)
    TICK = (0.45, (), 0.0)
    EDGE = (0.25, (6.0, 1.2, 0.7, 1.2, 0.7, 1.2), 0.0)
    THIN = (0.15, (), 0.0)
    RULE = (0.25, (), 0.0)
    HEAVY = (0.8, (), 0.0)
    FAINT = (0.15, (), 0.55)

    value: tuple[float, tuple[float, ...], float]

    @property
    def weight(self) -> float:
        """The stroke's width in mm."""
        return self.value[0]

    @property
    def dashes(self) -> tuple[float, ...]:
        """Lengths of dash and space in turn, mm; empty for a full line."""
        return self.value[1]

    @property
    def grey(self) -> float:
        """0 for black to 1 for white."""
        return self.value[2]


@frozen
class Stroke:
    """A line through two or more points, back to the first one where `closed`."""

    points: tuple[Point, ...]
    pen: Pen
    closed: bool = False


@frozen
class Ellipse:
    """An ellipse square to the page, with its half axes; a circle where they are equal."""

    centre: Point
    half_width: float
    half_height: float
    pen: Pen


@frozen
class Fill:
    """A filled shape; `grey` 0 for black to 1 for white."""

    points: tuple[Point, ...]
    grey: float = 0.0


@frozen
class Text:
    """Words on one line. `size`: how high capitals and digits stand, in mm.

    `at`: on the baseline, at its start, middle or end by `anchor`; `angle`: 0, 90, 180 or 270
    degrees counterclockwise.
    """

    text: str
    at: Point
    size: float
    bold: bool = False
    angle: int = 0
    anchor: str = "start"
    grey: float = 0.0


@frozen
class Field:
    """A field to fill in a viewer: a name without dots, lower left corner, size, a hint.

    `check`: a box to tick instead of words.
    """

    name: str
    at: Point
    width: float
    height: float
    hint: str
    value: str = ""
    check: bool = False
    size: float = 3.0


Item = Stroke | Ellipse | Fill | Text | Field


@frozen
class Run:
    """Items that stand together in one marked run of the content stream, strokes before words."""

    tag: str
    items: tuple[Item, ...]


@frozen
class Page:
    """A page in mm: its label for the viewer, its line in the outline, and what stands on it."""

    width: float
    height: float
    label: str
    title: str
    items: tuple[Item | Run, ...]


def _moved(point: Point, by: Point) -> Point:
    return (point[0] + by[0], point[1] + by[1])


def moved(item: Item, by: Point) -> Item:
    """The same item, shifted."""
    match item:
        case Stroke():
            return Stroke(tuple(_moved(p, by) for p in item.points), item.pen, item.closed)
        case Ellipse():
            return Ellipse(_moved(item.centre, by), item.half_width, item.half_height, item.pen)
        case Fill():
            return Fill(tuple(_moved(p, by) for p in item.points), item.grey)
        case Text():
            return Text(
                item.text,
                _moved(item.at, by),
                item.size,
                item.bold,
                item.angle,
                item.anchor,
                item.grey,
            )
        case Field():
            return replace(item, at=_moved(item.at, by))


def rectangle(left: float, bottom: float, width: float, height: float, pen: Pen) -> Stroke:
    """A rectangle from its lower left corner."""
    right, top = left + width, bottom + height
    return Stroke(((left, bottom), (right, bottom), (right, top), (left, top)), pen, closed=True)


def cross(centre: Point, arm: float, pen: Pen) -> tuple[Stroke, Stroke]:
    """Two straight strokes, square to the page, crossing at their middles; `arm` each way."""
    u, v = centre
    return (
        Stroke(((u - arm, v), (u + arm, v)), pen),
        Stroke(((u, v - arm), (u, v + arm)), pen),
    )


def scaled(page: Page, across: float, along: float) -> Page:
    """The page drawn larger about its middle by two factors; its paper stays as it is."""
    middle = (page.width / 2, page.height / 2)

    def at(point: Point) -> Point:
        u, v = point
        return (middle[0] + (u - middle[0]) * across, middle[1] + (v - middle[1]) * along)

    def larger(item: Item | Run) -> Item | Run:
        match item:
            case Run():
                return Run(item.tag, tuple(_item(larger(part)) for part in item.items))
            case Stroke() | Fill():
                return replace(item, points=tuple(at(point) for point in item.points))
            case Ellipse():
                wide, high = item.half_width * across, item.half_height * along
                return Ellipse(at(item.centre), wide, high, item.pen)
            case Text() | Field():
                return replace(item, at=at(item.at))

    return replace(page, items=tuple(larger(item) for item in page.items))


def _item(item: Item | Run) -> Item:
    assert not isinstance(item, Run)
    return item
