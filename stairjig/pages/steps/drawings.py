"""Small drawings for the helper's steps: printing, cutting, joining, laying strips on treads.

Each is drawn in a box of `WIDE` by `HIGH` mm from its lower left corner; none is to scale.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from stairjig.drawing import Ellipse, Fill, Pen, Stroke, Text, cross, rectangle
from stairjig.pages.elevation.labels import LABEL, tick

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stairjig.drawing import Item, Point

WIDE, HIGH = 62.0, 40.0
WOOD = 0.9


def label(words: str, at: Point, anchor: str = "start", bold: bool = False) -> Text:
    """Put words in a drawing."""
    return Text(words, at, LABEL, bold, anchor=anchor)


def wood(points: Sequence[Point], pen: Pen = Pen.RULE) -> tuple[Item, ...]:
    """Draw a piece of wood."""
    return Fill(tuple(points), WOOD), Stroke(tuple(points), pen, closed=True)


def box(left: float, bottom: float, wide: float, high: float) -> tuple[Point, ...]:
    """The corners of a rectangle."""
    return rectangle(left, bottom, wide, high, Pen.RULE).points


def paper(points: Sequence[Point]) -> tuple[Item, ...]:
    """Draw a strip: white, with its cut edge."""
    return Fill(tuple(points), 1.0), Stroke(tuple(points), Pen.CUT, closed=True)


def arrow(start: Point, end: Point) -> tuple[Item, ...]:
    """Draw a stroke with a filled head at its end, level or upright."""
    du, dv = end[0] - start[0], end[1] - start[1]
    long = (du * du + dv * dv) ** 0.5
    du, dv = du / long, dv / long
    back = (end[0] - 2.4 * du, end[1] - 2.4 * dv)
    head = ((back[0] - dv, back[1] + du), end, (back[0] + dv, back[1] - du))
    return Stroke((start, back), Pen.RULE), Fill(head)


def tape(start: Point, long: float, upright: bool = False) -> tuple[Item, ...]:
    """Draw a steel tape, 3 mm wide, with its ticks and the hook at its zero."""
    u, v = start
    edge = box(u, v, 3.0, long) if upright else box(u, v, long, 3.0)
    items: list[Item] = [Fill(edge, 1.0), Stroke(edge, Pen.RULE, closed=True)]
    for n in range(1, int(long / 2.5)):
        reach = 1.5 if n % 4 else 2.4
        at = n * 2.5
        ends = ((u, v + at), (u + reach, v + at)) if upright else ((u + at, v), (u + at, v + reach))
        items.append(Stroke(ends, Pen.THIN))
    hook = box(u - 0.8, v - 0.8, 4.6, 0.8) if upright else box(u - 0.8, v - 0.8, 0.8, 4.6)
    return (*items, Fill(hook))


def scale_check() -> tuple[Item, ...]:
    """A sheet with a tape along each of its bars."""
    sheet = box(3.0, 1.0, 31.0, 38.0)
    bars = (
        Stroke(((6.0, 6.0), (6.0, 36.0)), Pen.RULE),
        Stroke(((14.0, 5.0), (31.0, 5.0)), Pen.RULE),
    )
    ends = [(6.0, 6.0), (6.0, 36.0)]
    marks = [Stroke(((u - 1.2, v), (u + 1.2, v)), Pen.RULE) for u, v in ends]
    marks += [Stroke(((u, 3.8), (u, 6.2)), Pen.RULE) for u in (14.0, 31.0)]
    return (
        Stroke(sheet, Pen.THIN, closed=True),
        *bars,
        *marks,
        *tape((7.6, 6.0), 30.0, upright=True),
        *tape((14.0, 6.8), 17.0),
        Stroke(((10.8, 28.0), (38.0, 28.0)), Pen.THIN),
        label("steel tape", (39.0, 26.8)),
        Stroke(((6.0, 34.0), (38.0, 34.0)), Pen.THIN),
        label("bar along", (39.0, 32.8)),
        Stroke(((29.0, 5.0), (38.0, 3.4)), Pen.THIN),
        label("bar across", (39.0, 2.4)),
    )


def depth_check(depth: str, nosing: str) -> tuple[Item, ...]:
    """A tread in section: its depth, nosing edge to the next riser's face."""
    tread = ((6.0, 12.0), (50.0, 12.0), (50.0, 15.0), (6.0, 15.0))
    upper = ((45.0, 32.0), (60.0, 32.0), (60.0, 35.0), (45.0, 35.0))
    return (
        *wood(tread),
        *wood(upper),
        *wood(box(50.0, 12.0, 2.4, 20.0)),
        *wood(box(11.0, 1.0, 2.4, 11.0)),
        *tape((6.0, 15.6), 44.0),
        label(f"depth {depth}", (28.0, 21.0), "middle", bold=True),
        Stroke(((11.0, 12.0), (11.0, 27.5)), Pen.NOSING),
        Stroke(((6.0, 15.0), (6.0, 27.5)), Pen.THIN),
        Stroke(((6.0, 26.5), (11.0, 26.5)), Pen.THIN),
        tick((6.0, 26.5)),
        tick((11.0, 26.5)),
        label(f"nosing {nosing}", (13.0, 25.4)),
        label("riser below", (15.5, 4.0)),
        label("next riser", (51.2, 5.6), "middle"),
        Stroke(((51.2, 8.8), (51.2, 12.0)), Pen.THIN),
    )


def face_check(length: str) -> tuple[Item, ...]:
    """A tape on the floor between two faces."""
    return (
        *wood(box(2.0, 8.0, 7.0, 30.0)),
        *wood(box(53.0, 8.0, 7.0, 30.0)),
        Stroke(((0.0, 8.0), (62.0, 8.0)), Pen.RULE),
        *tape((9.0, 8.6), 44.0),
        label(f"{length} face to face", (31.0, 16.0), "middle", bold=True),
        label("newel or wall", (11.0, 30.0)),
    )


def cutting() -> tuple[Item, ...]:
    """A tile, cut along its outline, its lap left on."""
    outline = box(4.0, 3.0, 24.0, 34.0)
    blade = ((28.4, 12.0), (34.0, 17.0), (35.2, 15.6))
    handle = ((34.0, 17.0), (45.0, 27.0), (47.4, 24.6), (35.2, 15.6))
    return (
        Stroke(outline, Pen.CUT, closed=True),
        Stroke(((4.0, 28.0), (28.0, 28.0)), Pen.JOINT),
        Stroke(((16.0, 3.0), (16.0, 37.0)), Pen.LINE),
        *cross((16.0, 14.0), 3.0, Pen.CROSS),
        Fill(blade),
        *wood(handle),
        label("lap", (10.0, 31.2), "middle"),
        label("stays on", (31.0, 31.2)),
        label("knife on the", (36.0, 9.0)),
        label("thick line", (36.0, 4.6)),
    )


def joint() -> tuple[Item, ...]:
    """An upper tile coming down on the lower one's lap; the joint closed, a tape on its line."""
    items: list[Item] = [
        Stroke(((3.0, 1.0), (3.0, 20.0), (23.0, 20.0), (23.0, 1.0)), Pen.CUT),
    ]
    items.append(Stroke(((3.0, 14.0), (23.0, 14.0)), Pen.JOINT))
    items.append(Stroke(((3.0, 39.0), (3.0, 27.0), (23.0, 27.0), (23.0, 39.0)), Pen.CUT))
    items += [
        Stroke(((29.0, 1.0), (29.0, 39.0)), Pen.CUT),
        Stroke(((49.0, 1.0), (49.0, 39.0)), Pen.CUT),
        Stroke(((29.0, 14.0), (49.0, 14.0)), Pen.CUT),
        Stroke(((39.0, 1.0), (39.0, 39.0)), Pen.LINE),
    ]
    for left in (3.0, 29.0):
        for off in (3.5, 16.5):
            items += _ring((left + off, 14.0))
    items += [*_ring((6.5, 27.0)), *_ring((19.5, 27.0))]
    return (
        *items,
        *arrow((13.0, 26.0), (13.0, 20.6)),
        *tape((39.0, 1.0), 38.0, upright=True),
        label("upper tile", (13.0, 33.0), "middle"),
        label("lap", (13.0, 15.8), "middle"),
        label("lower tile", (13.0, 4.0), "middle"),
        label("closed", (50.6, 33.0), bold=True),
        label("steel", (50.6, 17.0)),
        label("tape", (50.6, 12.8)),
        Fill(box(39.0, 13.6, 3.0, 0.8)),
    )


def _ring(at: Point) -> tuple[Item, ...]:
    return Ellipse(at, 1.8, 1.8, Pen.THIN), *cross(at, 2.6, Pen.CROSS)


def tread_strip(
    side: Literal["left", "right"], slopes: tuple[float, float] = (0.0, 0.0)
) -> tuple[Item, ...]:
    """A tread from above with its strip: the end's edge on the tread end, the back on the riser.

    `slopes`: how its front and its back fall toward the tread end.
    """
    lift = max(0.0, 6.4 * slopes[0] * 5.0)

    def front(u: float, off: float = 0.0) -> float:
        return 4.0 + lift - slopes[0] * (36.0 - u) + off

    def back(u: float) -> float:
        return 34.0 - slopes[1] * (36.0 - u) - max(0.0, -slopes[1]) * 32.0

    riser = ((4.0, back(4.0)), (36.0, back(36.0)))
    items: list[Item] = [
        *wood(((4.0, front(4.0)), (36.0, front(36.0)), *riser[::-1])),
        Fill((*riser, *((u, v + 3.0) for u, v in riser[::-1])), 0.6),
        Stroke(riser, Pen.HEAVY),
    ]
    nick = tuple((u, back(u) - deep) for u, deep in ((18, 0.0), (18, 1.4), (14, 1.4), (14, 0.0)))
    ends = (4.0, front(4.0, 3.4)), (25.0, front(25.0, 3.4))
    items += [
        *paper((*ends, (25.0, back(25.0)), *nick, riser[0])),
        Stroke(((4.4, front(4.4, 4.8)), (24.6, front(24.6, 4.8))), Pen.RISER),
        Stroke(((10.0, front(10.0, 3.4)), (10.0, back(10.0))), Pen.LINE),
    ]
    low, high = front(10.0, 7.0), back(10.0) - 7.0
    for v in (low, (low + high) / 2, high):
        items += [rectangle(8.0, v - 2.0, 4.0, 4.0, Pen.BASE), *cross((10.0, v), 1.4, Pen.CROSS)]
    names = (
        ("next riser", 35.0, back(35.0) + 1.5),
        ("strip", 24.0, (front(24.0) + back(24.0)) / 2 + 3.0),
        ("riser below", 24.0, front(24.0, 4.8)),
        ("nosing edge", 35.0, front(35.0)),
    )
    for _, u, v in names:
        items.append(Stroke(((u, v), (38.4, v)), Pen.THIN))
    if side == "right":
        items = [_flipped(item) for item in items]
    at, anchor = (39.0, "start") if side == "left" else (WIDE - 39.0, "end")
    return (*items, *(label(words, (at, v - 1.2), anchor) for words, _, v in names))


def _flipped(item: Item) -> Item:
    """Mirror a shape left to right in its box."""
    match item:
        case Stroke():
            points = tuple((WIDE - u, v) for u, v in item.points)
            return Stroke(points, item.pen, item.closed)
        case Fill():
            return Fill(tuple((WIDE - u, v) for u, v in item.points), item.grey)
        case _:
            return item


def pricking(name: str) -> tuple[Item, ...]:
    """An awl through the paper where a cross's strokes meet, and the name beside it."""
    tip = (24.0, 14.0)
    awl = ((tip[0] - 0.9, 24.0), tip, (tip[0] + 0.9, 24.0))
    handle = ((21.4, 24.0), (26.6, 24.0), (26.0, 37.0), (22.0, 37.0))
    return (
        *wood(box(2.0, 3.0, 58.0, 10.0)),
        Stroke(((6.0, 13.7), (46.0, 13.7)), Pen.CUT),
        Fill(awl),
        *wood(handle),
        Stroke(((tip[0], 13.0), (tip[0], 10.6)), Pen.RULE),
        label("awl", (30.0, 30.0)),
        Stroke(((38.0, 14.0), (42.0, 20.0)), Pen.THIN),
        label("strip", (41.0, 21.0)),
        label(f"write {name}", (24.0, 6.2), "middle", bold=True),
    )
