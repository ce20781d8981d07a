"""A tapered tread from what a tape alone can measure: four sides and a diagonal."""

from __future__ import annotations

from math import atan2, degrees, hypot, sqrt
from typing import TYPE_CHECKING

from stairjig.errors import BadInput, Place, Problem
from stairjig.frozen import frozen
from stairjig.lengths import INCH, Length, Real, Shown

if TYPE_CHECKING:
    from stairjig.job.model import Sides

SAME_DIAGONAL = INCH / 8
"""mm within which a winder's second diagonal must agree."""


@frozen
class Stretch:
    """A tread's piece of the line and the skews of its two risers, degrees."""

    line_run: Real
    front_skew: float
    back_skew: float

    @property
    def skew(self) -> float | None:
        """The skew of both risers; None on a tapered tread."""
        return self.front_skew if self.front_skew == self.back_skew else None


def winder(
    sides: Sides, line: Length, number: int, shown: Shown, where: Place | None = None
) -> Stretch:
    """A tapered tread from its four sides and a diagonal: its line run and its two skews.

    A and B are the front and the back at the tread end, C and D the back and the front at the
    wall; AB lies along the line, C closes the triangle on the diagonal AC, D stands on the far
    side of AC from B. Raises `BadInput` where that can't close, where the second diagonal
    disagrees by more than 1/8 in, or where the line misses the tread.
    """
    place = f"tread {number}"
    end, back = float(sides.end.mm), float(sides.back.mm)
    wall, front = float(sides.wall.mm), float(sides.front.mm)
    diagonal = float(sides.diagonal.mm)
    try:
        c = _apex((0.0, 0.0), (end, 0.0), diagonal, back)
        d = _apex((0.0, 0.0), c, front, wall)
    except ValueError:
        raise BadInput(
            Problem(f"{place}: these sides and this diagonal can't close", "tape it again", where)
        ) from None
    _check_other_diagonal(sides, hypot(d[0] - end, d[1]), number, shown, where)
    y = -float(line.mm)
    if not max(c[1], d[1]) < y:
        raise BadInput(Problem(f"{place}: the line lies beyond its wall side", "check line", where))
    front_at = d[0] * y / d[1]
    back_at = end + (c[0] - end) * y / c[1]
    if back_at <= front_at:
        raise BadInput(Problem(f"{place}: it has no width on the line", "check its sides", where))
    return Stretch(
        back_at - front_at, degrees(atan2(-d[0], -d[1])), degrees(atan2(end - c[0], -c[1]))
    )


def _apex(
    start: tuple[float, float], end: tuple[float, float], from_start: float, from_end: float
) -> tuple[float, float]:
    """The point so far from each of two, right of the way from `start` to `end`."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    base = hypot(dx, dy)
    along = (from_start**2 - from_end**2 + base**2) / (2 * base)
    square = from_start**2 - along**2
    if square <= 0:
        raise ValueError
    off = sqrt(square)
    return (
        start[0] + (along * dx + off * dy) / base,
        start[1] + (along * dy - off * dx) / base,
    )


def _check_other_diagonal(
    sides: Sides, other: float, number: int, shown: Shown, where: Place | None
) -> None:
    if sides.check_diagonal is None:
        return
    off = float(sides.check_diagonal.mm) - other
    if abs(off) > float(SAME_DIAGONAL):
        raise BadInput(
            Problem(
                f"tread {number}: check_diagonal {sides.check_diagonal} is "
                f"{shown.finer(4).text(abs(off))} {'longer' if off > 0 else 'shorter'} than the "
                "sides and the first diagonal make it",
                "one of the six is wrong: tape this tread again",
                sides.check_diagonal.where or where,
            )
        )
