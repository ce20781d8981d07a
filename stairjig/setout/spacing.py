"""How many balusters, and where along the line.

Widths `w` are the balusters' faces at the tread. `Row` is the result before names: the balusters
in order, each on its tread.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor

from stairjig.errors import BadInput, Problem
from stairjig.job.model import Baluster
from stairjig.lengths import Real
from stairjig.setout.values import PlanTread

MOST_ON_A_TREAD = 50


@dataclass(frozen=True, slots=True)
class Placed:
    """A baluster at s along the line (mm), on the tread of that index (None off the treads)."""

    type: Baluster
    s: Real
    tread: int | None = None
    x: Real = Fraction(0)


def slack(baluster: Baluster) -> Fraction:
    """What a baluster's narrowest part adds to the layout gap on each of its sides, mm."""
    return (baluster.width.mm - baluster.narrowest.mm) / 2


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
    centres, front = [], set_back
    for kind in types:
        centres.append(front + kind.width.mm / 2)
        front = front + kind.width.mm + gap
    return gap, tuple(centres)


class Pattern:
    """The order of baluster types going up; it runs on over the whole section."""

    def __init__(self, types: Sequence[Baluster]) -> None:
        self._types = tuple(types)

    def take(self, start: int, count: int) -> tuple[Baluster, ...]:
        """`count` types from the `start`th on."""
        kinds = len(self._types)
        return tuple(self._types[(start + step) % kinds] for step in range(count))


Passes = Callable[[Real], bool]
"""Whether a clear gap passes, the allowance included."""


@dataclass(frozen=True, slots=True)
class TreadCounts:
    """How the balusters of each tread are counted: by hand, or the fewest that pass.

    `fixed`: by tread index what was given by hand; `lower`, `upper`: what a newel's narrowest
    part adds to the gap beside it, mm.
    """

    treads: tuple[PlanTread, ...]
    pattern: Pattern
    fixed: dict[int, int]
    passes: Passes
    lower: Real
    upper: Real

    def choose(self) -> dict[int, int]:
        """Balusters by tread index, bare ones left out.

        Evenly skewed treads share one number, the most that any of them needs; a tapered tread
        has its own fewest. Raises `BadInput` where no number passes.
        """
        if not any(self._shares(tread) for tread in self._standing()):
            return self._counted(0)[0]
        for shared in range(1, MOST_ON_A_TREAD + 1):
            counts, passes = self._counted(shared)
            if passes:
                return counts
        raise BadInput(Problem("no number of balusters on a tread passes", "check widths and runs"))

    def fewest(self, tread: PlanTread, offset: int) -> int:
        """The fewest balusters whose every gap passes on that tread. Raises `BadInput`."""
        for count in range(1, MOST_ON_A_TREAD + 1):
            if self._tread_passes(tread, offset, count):
                return count
        text = f"tread {tread.number}: no number of balusters passes"
        raise BadInput(Problem(text, "check widths and runs"))

    def _standing(self) -> list[PlanTread]:
        return [tread for tread in self.treads if not tread.bare]

    def _shares(self, tread: PlanTread) -> bool:
        return tread.index not in self.fixed and not tread.tapered

    def _counted(self, shared: int) -> tuple[dict[int, int], bool]:
        offset, counts, passes = 0, {}, True
        for tread in self._standing():
            if tread.index in self.fixed:
                count = self.fixed[tread.index]
            elif tread.tapered:
                count = self.fewest(tread, offset)
            else:
                count = shared
                passes = passes and self._tread_passes(tread, offset, count)
            counts[tread.index] = count
            offset += count
        return counts, passes

    def _tread_passes(self, tread: PlanTread, offset: int, count: int) -> bool:
        types = self.pattern.take(offset, count + 1)
        gap, _ = on_tread(tread.line_run, types[:count], Fraction(0))
        if gap <= 0:
            text = f"tread {tread.number}: {count} balusters are wider than its run"
            raise BadInput(Problem(text, "check the baluster widths and the run"))
        sides: list[Real] = [slack(kind) for kind in types]
        standing = self._standing()
        if tread is standing[-1]:
            sides[-1] = self.upper
        most = max(low + high for low, high in itertools.pairwise(sides))
        if tread is standing[0]:
            most = max(most, self.lower + sides[0])
        return self.passes(gap + most)


def tread_row(
    treads: Sequence[PlanTread], counts: dict[int, int], pattern: Pattern, set_back: Real
) -> tuple[tuple[Placed, ...], dict[int, Real]]:
    """The balusters of all treads by `on_tread`, and the layout gap by tread index.

    Raises `BadInput` where the balusters of a tread are wider than its line run.
    """
    row, gaps, offset = [], {}, 0
    for tread in treads:
        if tread.bare:
            continue
        types = pattern.take(offset, counts[tread.index])
        offset += len(types)
        gap, centres = on_tread(tread.line_run, types, set_back)
        if gap <= 0:
            text = f"tread {tread.number}: {len(types)} balusters are wider than its run"
            raise BadInput(Problem(text, "put fewer on it, or check the baluster widths"))
        gaps[tread.index] = gap
        row += [
            Placed(kind, tread.front.s + x, tread.index, x)
            for kind, x in zip(types, centres, strict=True)
        ]
    return tuple(row), gaps


def between_faces(distance: Real, types: Sequence[Baluster]) -> tuple[Real, tuple[Real, ...]]:
    """Gap and centres from the first face, mm: gap = (D - sum w) / (n + 1), one at each end."""
    gap = (distance - sum(kind.width.mm for kind in types)) / (len(types) + 1)
    centres, front = [], gap
    for kind in types:
        centres.append(front + kind.width.mm / 2)
        front = front + kind.width.mm + gap
    return gap, tuple(centres)


def fewest_between(
    distance: Real, pattern: Pattern, passes: Passes, lower: Real, upper: Real
) -> int:
    """The fewest balusters between two faces whose every gap passes. Raises `BadInput`.

    `lower`, `upper`: what the newels' narrowest parts add beside them, mm.
    """
    count = 0
    while True:
        types = pattern.take(0, count)
        gap, _ = between_faces(distance, types)
        if gap <= 0:
            raise BadInput(
                Problem("no number of balusters passes", "check the length and the widths")
            )
        sides = [lower, *(slack(kind) for kind in types), upper]
        if passes(gap + max(low + high for low, high in itertools.pairwise(sides))):
            return count
        count += 1


def fewest_equal(distance: Real, width: Real, limit: Real, equal_fails: bool) -> int:
    """The closed form of `fewest_between` for one width: n with (D - n w) / (n + 1) under `limit`.

    floor((D - g) / (w + g)) + 1 for a strict limit, else the ceiling; never below 0.
    """
    steps = (distance - limit) / (width + limit)
    return max(0, floor(steps) + 1 if equal_fails else ceil(steps))
