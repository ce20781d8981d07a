"""A drawing in the making: wood, lines, and measures with their arrows and codes, in mm."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from stairjig.drawing import Ellipse, Fill, Item, Pen, Point, Stroke, Text
from stairjig.type import width

WORDS = 2.5
"""Height of the capitals of words in a drawing, mm."""
WOOD, SHADE = 0.93, 0.8
"""Greys of what is drawn as solid, and of what stands behind it or is groove and shadow."""
_ROUND = 20
_HEAD = 2.0
_SHORTEST = 11.0
_STICK = 3.5


def code_radius(code: str) -> float:
    """Half the width of a code's disc."""
    return max(3.0, width(code, WORDS, bold=True) / 2 + 0.9)


@dataclass(slots=True)
class Sketch:
    """Collects items; `width` and `height` are what the drawing takes up."""

    width: float
    height: float
    items: list[Item] = field(default_factory=list)

    def line(self, pen: Pen, *points: Point, closed: bool = False) -> None:
        """A stroke through the points."""
        self.items.append(Stroke(points, pen, closed))

    def solid(self, *points: Point, grey: float = WOOD, pen: Pen = Pen.BASE) -> None:
        """A filled shape with its outline."""
        self.items += [Fill(points, grey), Stroke(points, pen, closed=True)]

    def box(self, left: float, bottom: float, wide: float, high: float, grey: float = WOOD) -> None:
        """A filled rectangle with its outline."""
        right, top = left + wide, bottom + high
        self.solid((left, bottom), (right, bottom), (right, top), (left, top), grey=grey)

    def disc(self, centre: Point, radius: float, grey: float = 1.0, pen: Pen = Pen.BASE) -> None:
        """A filled circle with its outline."""
        self._round(centre, radius, radius, grey, pen)

    def _round(self, centre: Point, wide: float, high: float, grey: float, pen: Pen) -> None:
        turns = (2 * math.pi * n / _ROUND for n in range(_ROUND))
        rim = tuple((centre[0] + wide * math.cos(t), centre[1] + high * math.sin(t)) for t in turns)
        self.items += [Fill(rim, grey), Ellipse(centre, wide, high, pen)]

    def words(
        self, text: str, at: Point, anchor: str = "middle", bold: bool = False, angle: int = 0
    ) -> None:
        """Words on one line."""
        self.items.append(Text(text, at, WORDS, bold, angle, anchor))

    def code(self, code: str, at: Point) -> None:
        """A question's code on a white disc, as beside its box."""
        self._round(at, code_radius(code), 3.0, 1.0, Pen.RULE)
        self.words(code, (at[0], at[1] - WORDS / 2), bold=True)

    def head(self, tip: Point, toward: Point) -> None:
        """A filled arrow head at `tip`, pointing the way of `toward`."""
        length = math.hypot(*toward)
        u, v = toward[0] / length, toward[1] / length
        back = (tip[0] - u * _HEAD, tip[1] - v * _HEAD)
        half = _HEAD * 0.3
        sides = ((back[0] - v * half, back[1] + u * half), (back[0] + v * half, back[1] - u * half))
        self.items.append(Fill((tip, *sides)))

    def arrow(self, start: Point, end: Point, pen: Pen = Pen.RULE) -> None:
        """A line with a head at its end."""
        self.line(pen, start, end)
        self.head(end, (end[0] - start[0], end[1] - start[1]))

    def measure(
        self,
        code: str,
        start: Point,
        end: Point,
        off: float = 0.0,
        share: float = 0.5,
        outside: bool = False,
    ) -> None:
        """A measure from `start` to `end`, drawn `off` mm to the left of that way.

        Its code stands at `share` of the length; a short measure, and one that is to be, has its
        arrows outside and the code beyond its end.
        """
        dx, dy = end[0] - start[0], end[1] - start[1]
        length = math.hypot(dx, dy)
        u, v = dx / length, dy / length
        a, b = ((p[0] - v * off, p[1] + u * off) for p in (start, end))
        if off:
            past = math.copysign(1.2, off)
            for p, q in ((start, a), (end, b)):
                self.line(Pen.THIN, p, (q[0] - v * past, q[1] + u * past))
        if outside or length < _SHORTEST:
            self._short(code, a, b, (u, v))
            return
        self.line(Pen.RULE, a, b)
        self.head(a, (-u, -v))
        self.head(b, (u, v))
        self.code(code, (a[0] + dx * share, a[1] + dy * share))

    def _short(self, code: str, a: Point, b: Point, way: Point) -> None:
        u, v = way
        self.arrow((a[0] - u * _STICK, a[1] - v * _STICK), a)
        self.arrow((b[0] + u * _STICK, b[1] + v * _STICK), b)
        reach = _STICK + math.hypot(u * code_radius(code), v * 3.0)
        self.code(code, (b[0] + u * reach, b[1] + v * reach))

    def arc(self, centre: Point, radius: float, first: float, last: float, pen: Pen) -> None:
        """Part of a circle, from one angle to the other in degrees counterclockwise from right."""
        turns = [math.radians(first + (last - first) * n / 12) for n in range(13)]
        rim = [(centre[0] + radius * math.cos(t), centre[1] + radius * math.sin(t)) for t in turns]
        self.line(pen, *rim)

    def angle(
        self,
        code: str,
        centre: Point,
        radius: float,
        first: float,
        last: float,
        beyond: float = 4.5,
    ) -> None:
        """An angle between two directions, its code `beyond` mm outside the arc."""
        self.arc(centre, radius, first, last, Pen.RULE)
        middle, reach = math.radians((first + last) / 2), radius + beyond
        self.code(
            code, (centre[0] + reach * math.cos(middle), centre[1] + reach * math.sin(middle))
        )
