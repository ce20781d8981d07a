"""The scale of a drawing: from s and heights on the stair to mm on the page."""

from __future__ import annotations

from itertools import chain
from typing import TYPE_CHECKING

from stairjig.frozen import frozen

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from stairjig.drawing import Point

_STEPS = (1, 1.2, 1.5, 1.6, 1.8, 2, 2.2, 2.5, 2.8, 3, 3.2, 3.6, 4, 4.5, 5, 5.5, 6, 6.5, 7, 8, 9)

SMALLEST = 90_000.0


@frozen
class Pads:
    """Room for words around a drawing, mm: beside its lower and its upper end, under and over."""

    lower: float
    upper: float
    under: float
    over: float


@frozen
class View:
    """From (s, height) in mm to a drawing of one to `scale`; `origin` is where (0, 0) comes to lie.

    `sense`: 1 where the stair climbs to the right, -1 where it climbs to the left.
    """

    scale: float
    sense: int
    origin: Point
    width: float
    height: float

    def at(self, s: float, height: float) -> Point:
        """Find a point's place in the drawing, mm from its lower left corner."""
        u, v = self.origin
        return (u + self.sense * s / self.scale, v + height / self.scale)

    def all(self, points: Sequence[Point]) -> tuple[Point, ...]:
        """Find the places of several points."""
        return tuple(self.at(s, h) for s, h in points)


def scales() -> Iterator[float]:
    """Yield the scales in use, each one to so many, the largest drawing first."""
    tens = (10.0**power for power in range(5))
    return chain.from_iterable((step * ten for step in _STEPS) for ten in tens)


def scale_for(
    reach: tuple[float, float],
    heights: tuple[float, float],
    room: Point,
    pads: Callable[[float], Pads],
    sense: int,
) -> View:
    """Find the largest scale at which `reach` along s and `heights` fit in `room`.

    `pads`: the room for words at a scale.
    """
    long, high = reach[1] - reach[0], heights[1] - heights[0]

    def fits(scale: float) -> bool:
        around = pads(scale)
        across = long / scale + around.lower + around.upper
        return across <= room[0] and high / scale + around.under + around.over <= room[1]

    scale = next((one for one in scales() if fits(one)), SMALLEST)
    around = pads(scale)
    left = around.lower - reach[0] / scale if sense > 0 else around.upper + reach[1] / scale
    origin = (left, around.under - heights[0] / scale)
    across = long / scale + around.lower + around.upper
    return View(scale, sense, origin, across, high / scale + around.under + around.over)
