"""Where balusters stand along the line, once it is known how many.

Widths `w` are the balusters' faces at the tread. A row is the result before names: the balusters
in order, each on its tread.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from itertools import accumulate

from stairjig.errors import BadInput, Problem
from stairjig.frozen import frozen
from stairjig.job.model import Baluster
from stairjig.lengths import Real
from stairjig.setout.values import PlanTread

Passes = Callable[[Real], bool]
"""Whether a clear gap passes, the allowance included."""


@frozen
class Placed:
    """A baluster at s along the line (mm), on the tread of that index (None off the treads)."""

    type: Baluster
    s: Real
    tread: int | None = None
    x: Real = Fraction(0)


def slack(baluster: Baluster) -> Fraction:
    """What a baluster's narrowest part adds to the layout gap on each of its sides, mm."""
    return (baluster.width.mm - baluster.narrowest.mm) / 2


class Pattern:
    """The order of baluster types going up; it runs on over the whole section."""

    def __init__(self, types: Sequence[Baluster]) -> None:
        self.types = tuple(types)
        self._slacks = tuple(slack(kind) for kind in self.types)
        self._sums = (Fraction(0), *accumulate(kind.width.mm for kind in self.types))

    def at(self, place: int) -> Baluster:
        """The type in that place, counted from 0."""
        return self.types[place % len(self.types)]

    def take(self, start: int, count: int) -> tuple[Baluster, ...]:
        """`count` types from the `start`th on."""
        return tuple(self.at(start + step) for step in range(count))

    def widths(self, count: int) -> Fraction:
        """What the first `count` come to, side by side, mm."""
        whole, rest = divmod(count, len(self.types))
        return self._sums[-1] * whole + self._sums[rest]

    def slack(self, place: int) -> Fraction:
        """What the narrowest part of the type in that place adds on each side, mm."""
        return self._slacks[place % len(self.types)]

    def widest_pair(self, count: int) -> Fraction:
        """The most that narrowest parts add between two of the first `count`, mm."""
        places = range(min(count - 1, len(self.types)))
        return max((self.slack(n) + self.slack(n + 1) for n in places), default=Fraction(0))


def on_tread(
    line_run: Real, types: Sequence[Baluster], set_back: Real
) -> tuple[Real, tuple[Real, ...]]:
    """Gap and centres (x, mm) of balusters on a tread, by its line run.

    gap = (L - sum w) / n; the front face of the first stands on the riser's face plus `set_back`,
    and the gap runs on to the next tread's first. Two of a kind on a tread come out as the old
    rule has it: the first centre half its diameter from the riser's face, the second half a tread
    on (Hatfield, The American House-Carpenter, article 258).
    """
    gap = (line_run - sum(kind.width.mm for kind in types)) / len(types)
    return gap, centres(types, gap, set_back)


def between_faces(distance: Real, types: Sequence[Baluster]) -> tuple[Real, tuple[Real, ...]]:
    """Gap and centres from the first face, mm: gap = (D - sum w) / (n + 1), one at each end."""
    gap = (distance - sum(kind.width.mm for kind in types)) / (len(types) + 1)
    return gap, centres(types, gap, gap)


def centres(types: Sequence[Baluster], gap: Real, front: Real) -> tuple[Real, ...]:
    """The centres of a row with one gap; `front`: the front face of its first, mm."""
    found = []
    for kind in types:
        found.append(front + kind.width.mm / 2)
        front = front + kind.width.mm + gap
    return tuple(found)


def tread_row(
    treads: Sequence[PlanTread], counts: dict[int, int], pattern: Pattern, set_back: Real
) -> tuple[tuple[Placed, ...], dict[int, Real]]:
    """The balusters of all treads by `on_tread`, and the layout gap by tread index.

    Raises `BadInput` where the balusters of a tread are wider than its line run.
    """
    row: list[Placed] = []
    gaps: dict[int, Real] = {}
    for tread in treads:
        if tread.bare:
            continue
        types = pattern.take(len(row), counts[tread.index])
        gap, places = on_tread(tread.line_run, types, set_back)
        if gap <= 0:
            raise too_wide(tread, len(types))
        gaps[tread.index] = gap
        row += [
            Placed(kind, tread.front.s + x, tread.index, x)
            for kind, x in zip(types, places, strict=True)
        ]
    return tuple(row), gaps


def too_wide(tread: PlanTread, count: int) -> BadInput:
    """What is wrong with a tread whose balusters leave no gap."""
    what = "1 baluster is" if count == 1 else f"{count} balusters are"
    return BadInput(
        Problem(
            f"tread {tread.number}: {what} wider than its run",
            "put fewer on it, or check the baluster widths and the run",
        )
    )
