"""Small drawings for the helper's steps at the rail: prop, plumb, mark, prove, bore.

Each is drawn in the box of `step_drawings`; none is to scale.
"""

from __future__ import annotations

from math import cos, radians, sin
from typing import TYPE_CHECKING, Literal

from stairjig.drawing import Ellipse, Fill, Pen, Stroke, cross
from stairjig.pages.elevation.labels import tick
from stairjig.pages.steps.drawings import arrow, box, label, paper, tape, wood

if TYPE_CHECKING:
    from stairjig.drawing import Item, Point

Under = Literal["stairs", "ramp", "floor"]
"""What a rail runs over."""
_RUN, _RISE = 13.0, 5.2
_RAIL = 16.2
_THICK = 3.4


def _ground(under: Under) -> tuple[Point, ...]:
    """The top of three steps, of a wall's raking cap, or of a floor."""
    if under != "stairs":
        return tuple((u, _foot(u, under)) for u in (2.0, 60.0))
    points: list[Point] = [(2.0, 2.0)]
    for n in range(3):
        u, v = 8.0 + n * _RUN, 2.0 + n * _RISE
        points += [(u, v), (u, v + _RISE)]
    return (*points, (60.0, 2.0 + 3 * _RISE))


def _underside(u: float, under: Under) -> float:
    """Height of the rail's underside over u."""
    return 25.0 if under == "floor" else 4.0 + _RAIL + (u - 8.0) * _RISE / _RUN


def _rail(under: Under, low: float = 4.0, high: float = 47.0) -> tuple[Item, ...]:
    ends = [(u, _underside(u, under)) for u in (low, high)]
    return wood((*ends, *((u, v + _THICK) for u, v in ends[::-1])))


def _foot(u: float, under: Under) -> float:
    """Height of what a prop at u stands on."""
    if under != "stairs":
        return 4.0 + (u - 8.0) * _RISE / _RUN * (under == "ramp")
    return 2.0 + sum(u >= 8.0 + n * _RUN for n in range(3)) * _RISE


def prop(under: Under) -> tuple[Item, ...]:
    """A rail on props, a straightedge along its underside."""
    items: list[Item] = [Stroke(_ground(under), Pen.RULE), *_rail(under)]
    for u in (9.0, 35.5):
        foot, top = _foot(u, under), _underside(u + 0.8, under) - 0.2
        items += wood(((u, foot), (u + 1.8, foot), (u + 1.8, top + 0.4), (u, top)))
    edge = [(u, _underside(u, under) - 0.8) for u in (11.5, 34.5)]
    items.append(
        Stroke((*edge, *((u, v - 1.4) for u, v in edge[::-1])), Pen.RULE, closed=True),
    )
    middle = _underside(24.0, under)
    return (
        *items,
        Stroke(((24.0, middle - 1.6), (40.0, 12.0)), Pen.THIN),
        label("straightedge", (40.6, 10.4) if under == "floor" else (41.0, 9.0)),
        label("prop", (12.2, _foot(9.0, under) + 6.0)),
    )


def plumb(first: str, last: str, under: Under) -> tuple[Item, ...]:
    """Plumb lines from the first and the last mark up to the rail."""
    items: list[Item] = [Stroke(_ground(under), Pen.RULE), *_rail(under)]
    low = (1.0, -4.8, "start") if under == "ramp" else (2.0, 1.6, "start")
    high = (-1.4, 1.6, "end") if under == "stairs" else low
    ends = (first, 11.0, low), (last, 32.2 if under == "stairs" else 43.0, high)
    for name, u, (off, up, anchor) in ends:
        foot, top = _foot(u, under), _underside(u, under)
        items += [
            Stroke(((u, foot), (u, top - 2.4)), Pen.THIN),
            Fill(((u - 1.0, top - 2.6), (u + 1.0, top - 2.6), (u, top))),
            label(name, (u + off, foot + up), anchor, bold=True),
        ]
    return (*items, label("plumb", (13.0, _underside(13.0, under) - 6.0)))


def rail_strip(first: str, last: str) -> tuple[Item, ...]:
    """The rail's underside as it is read from below, with its strip and the two plumbed marks."""
    items: list[Item] = [*wood(box(1.0, 15.0, 60.0, 12.0))]
    items += paper(box(4.0, 15.0, 54.0, 12.0))
    items.append(Stroke(((4.0, 21.0), (58.0, 21.0)), Pen.LINE))
    for u in (10.0, 20.5, 31.0, 41.5, 52.0):
        items += [Ellipse((u, 21.0), 2.6, 2.1, Pen.BASE), *cross((u, 21.0), 1.4, Pen.CROSS)]
    for name, u in ((first, 10.0), (last, 52.0)):
        items += [
            Stroke(((u, 27.0), (u, 31.0)), Pen.RULE),
            *(Stroke(((u, v), (u, v + 2.0)), Pen.RULE) for v in (15.0, 25.0)),
            label(name, (u, 32.2), "middle", bold=True),
        ]
    return (
        *items,
        label("zero", (10.0, 9.6), "middle"),
        Stroke(((10.0, 12.6), (10.0, 18.4)), Pen.THIN),
        *arrow((30.0, 11.0), (46.0, 11.0)),
        label("upper end", (38.0, 6.6), "middle"),
        label("seen from below", (31.0, 1.2), "middle"),
    )


def shoe_strip(sloped: bool) -> tuple[Item, ...]:
    """A strip on a shoe or floor between two newels."""
    slope = 0.28 if sloped else 0.0

    def along(low: float, high: float, under: float, over: float) -> tuple[Point, ...]:
        return tuple(
            (u, 10.0 + u * slope + off)
            for u, off in ((low, under), (high, under), (high, over), (low, over))
        )

    items: list[Item] = [*wood(along(2.0, 60.0, -6.0, 0.0))]
    items += [*wood(((2.0, 5.0), (9.0, 5.0), (9.0, 38.0), (2.0, 38.0)))]
    items += [*wood(((53.0, 16.0), (60.0, 16.0), (60.0, 39.0), (53.0, 39.0)))]
    items += paper(along(9.0, 53.0, 0.0, 1.2))
    for u in (17.0, 26.5, 36.0, 45.5):
        v = 11.2 + u * slope
        items.append(Stroke(((u, v), (u, v + 4.0)), Pen.EDGE))
    return (
        *items,
        label("newel", (11.0, 33.0)),
        Stroke(((31.0, 11.4 + 31.0 * slope), (31.0, 31.0)), Pen.THIN),
        label("strip", (31.0, 32.0), "middle"),
    )


def newel(offset: str, edge: str, down: bool, askew: bool = False) -> tuple[Item, ...]:
    """A newel from above: its centre `offset` from a riser, down the stair from it or up.

    `askew`: the riser crosses the line at an angle.
    """
    face, lean = 38.0, 5.0 * askew
    middle = 20.0 if down else 48.0
    items: list[Item] = [
        Stroke(((face + lean, 2.0), (face - lean, 32.0)), Pen.HEAVY),
        Stroke(((4.0, 17.0), (60.0, 17.0)), Pen.LINE),
        *wood(box(middle - 6.0, 11.0, 12.0, 12.0)),
        *cross((middle, 17.0), 3.0, Pen.CROSS),
    ]
    for u in (middle, face):
        items += [Stroke(((u, 24.0), (u, 30.0)), Pen.THIN), tick((u, 29.0))]
    items.append(Stroke(((middle, 29.0), (face, 29.0)), Pen.THIN))
    return (
        *items,
        label(offset, ((middle + face) / 2, 34.4), "middle", bold=True),
        label(
            edge,
            (face + lean + 1.8, 3.4) if down else (face - 1.8, 3.4),
            "start" if down else "end",
        ),
        label("newel", (middle, 6.6), "middle"),
    )


def rail_end(reading: str, lower: bool) -> tuple[Item, ...]:
    """A rail's end from the side, over the first mark: how far from zero a face meets it."""
    face, zero = (12.0, 36.0) if lower else (50.0, 14.0)
    post = box(face - 9.0 if lower else face, 3.0, 9.0, 34.0)
    ends = sorted((face, 60.0 if lower else 2.0))
    return (
        *wood(post),
        *wood(box(ends[0], 22.0, ends[1] - ends[0], 6.0)),
        *cross((zero, 22.0), 2.4, Pen.CROSS),
        Stroke(((zero, 18.0), (zero, 11.0)), Pen.THIN),
        Stroke(((face, 13.0), (zero, 13.0)), Pen.THIN),
        tick((face, 13.0)),
        tick((zero, 13.0)),
        label(reading, ((face + zero) / 2, 14.6), "middle", bold=True),
        label("zero: first mark", (zero, 7.0), "middle"),
        label("rail", (ends[0] + ends[1] - zero if lower else 34.0, 30.0), "middle"),
    )


def tape_proof(first: str, second: str, reading: str) -> tuple[Item, ...]:
    """A steel tape along the rail, hooked at the first mark."""
    items: list[Item] = [*wood(box(2.0, 20.0, 58.0, 9.0)), *tape((9.0, 16.0), 51.0)]
    for u in (9.0, 28.0, 46.0):
        items += [Stroke(((u, 20.0), (u, 29.0)), Pen.THIN), *cross((u, 24.5), 2.0, Pen.RULE)]
    return (
        *items,
        label(first, (9.0, 31.0), "middle", bold=True),
        label(second, (28.0, 31.0), "middle", bold=True),
        label("0", (9.0, 11.4), "middle"),
        label(reading, (28.0, 11.4), "middle", bold=True),
        label("underside of the rail", (31.0, 4.0), "middle"),
    )


def boring(pitch: float, shoe: bool = False) -> tuple[Item, ...]:
    """A bit in the rail's underside, its upper end to the right, tilted by the pitch (degrees).

    With the underside up a plumb hole leans out of the wood toward the rail's lower end; out of a
    `shoe`, which lies face up, toward the upper one.
    """
    lean = radians(pitch) if shoe else -radians(pitch)
    start = (32.0, 12.0)
    far = (start[0] + 22.0 * sin(lean), start[1] + 22.0 * cos(lean))
    deep = (start[0] - 7.0 * sin(lean), start[1] - 7.0 * cos(lean))
    wide = (1.2 * cos(lean), -1.2 * sin(lean))
    shank = tuple(
        (at[0] + sign * wide[0], at[1] + sign * wide[1])
        for at, sign in ((deep, -1), (deep, 1), (far, 1), (far, -1))
    )
    items: list[Item] = [*wood(box(2.0, 2.0, 58.0, 10.0))]
    items += [Fill(shank, 1.0), Stroke(shank, Pen.RULE, closed=True)]
    items.append(Stroke((start, (start[0], 34.0)), Pen.NOSING))
    words = f"{pitch:.1f}°" if pitch > 0.05 else "square"
    side = 1 if shoe else -1
    arc = [radians(90.0 - side * pitch * n / 12) for n in range(13)]
    if pitch > 0.05:
        items.append(
            Stroke(
                tuple((start[0] + 17.0 * cos(t), start[1] + 17.0 * sin(t)) for t in arc), Pen.THIN
            )
        )
    over = (start[0] + side * 12.5 * sin(radians(pitch)), 36.0)
    square = (start[0] - side * 1.5, 29.0)
    return (
        *items,
        *cross(start, 2.4, Pen.CROSS),
        label(words, over, "middle", bold=True),
        *([label("square to it", square, "end" if shoe else "start")] if pitch > 0.05 else []),
        label("shoe, face up" if shoe else "underside up", (4.0, 5.4)),
        label("UP →", (57.0, 5.4), "end"),
    )
