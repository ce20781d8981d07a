"""How many balusters: the fewest whose every clear gap passes."""

from __future__ import annotations

from contextlib import suppress
from fractions import Fraction
from itertools import pairwise

from stairjig.errors import BadInput, Problem
from stairjig.frozen import frozen
from stairjig.job.treads import MOST_ON_A_TREAD
from stairjig.lengths import Real
from stairjig.setout.spacing import Passes, Pattern, on_tread, slack, too_wide
from stairjig.setout.values import PlanTread


@frozen
class RowCount:
    """The fewest balusters in one row of equal gaps.

    `lower`, `upper`: what the newels' narrowest parts add to the gap beside them, mm. `more`: how
    many gaps there are beyond the balusters, 1 between two faces and 0 where a row of treads runs
    on into the next.
    """

    pattern: Pattern
    passes: Passes
    lower: Real
    upper: Real
    more: int

    def fewest(self, distance: Real) -> int:
        """The fewest over that distance, gap = (D - sum w) / (n + more), none too few for `more`.

        Raises `BadInput` where the balusters fill it before their gaps pass.
        """
        count = 1 - self.more
        while (room := distance - self.pattern.widths(count)) > 0:
            if self.gap_passes(count, room / (count + self.more)):
                return count
            count += 1
        raise BadInput(
            Problem("no number of balusters passes", "check the length, the widths and the limit")
        )

    def gap_passes(self, count: int, gap: Real) -> bool:
        """Whether that many pass with that layout gap."""
        if not count:
            return self.passes(gap + self.lower + self.upper)
        ends = (self.lower + self.pattern.slack(0), self.pattern.slack(count - 1) + self.upper)
        return self.passes(gap + max(self.pattern.widest_pair(count), *ends))


@frozen
class Beside:
    """A newel beside the balusters, and what its narrowest part adds to the gap there, mm.

    `stands`: its gap by the tread hangs on its own place, not on their number. `takes`: the place
    it takes, as a tread's index and the place on it from 0; None for one before or behind the row.
    """

    slack: Real
    stands: bool = False
    takes: tuple[int, int] | None = None

    @property
    def by_tread(self) -> Real:
        """What it adds to a layout gap by the tread."""
        return Fraction(0) if self.stands else self.slack


@frozen
class TreadCounts:
    """How the balusters of each tread are counted: by hand, or the fewest that pass.

    `treads`: those with balusters; `fixed`: by tread index what was given by hand.
    """

    treads: tuple[PlanTread, ...]
    pattern: Pattern
    fixed: dict[int, int]
    passes: Passes
    lower: Beside
    upper: Beside

    def choose(self) -> dict[int, int]:
        """Balusters by tread index.

        Evenly skewed treads share one number, the most that any of them needs; a tapered tread
        has its own fewest. Raises `BadInput` where no number passes, by what is too wide with one
        on each if anything is.
        """
        if not any(self._shares(tread) for tread in self.treads):
            return self._counted(0)[0]
        for shared in range(1, MOST_ON_A_TREAD + 1):
            with suppress(BadInput):  # one more may bring a slimmer one onto a short tread
                counts, passes = self._counted(shared)
                if passes:
                    return counts
        self._counted(1)
        raise BadInput(self._odd_one())

    def _odd_one(self) -> Problem:
        """Name the tread whose run stands out among those that share a number."""
        from statistics import median  # only for who errs

        runs = sorted(filter(self._shares, self.treads), key=lambda tread: tread.line_run)
        shortest, longest = runs[0], runs[-1]
        usual = median(float(tread.line_run) for tread in runs)
        odd, what = longest, "the longest, needs more than the others hold"
        if usual - shortest.line_run > longest.line_run - usual:
            odd, what = shortest, "the shortest, holds fewer than the others need"
        return Problem(
            f"no one number of balusters passes on all treads: tread {odd.number}, {what}",
            f"check the run of tread {odd.number} and the widths, or give per_tread",
        )

    @property
    def by_hand(self) -> int | None:
        """How many there are in all where every tread's number is given by hand."""
        numbers = [self.fixed.get(tread.index) for tread in self.treads]
        return None if None in numbers else sum(number or 0 for number in numbers)

    def row(self, more: int) -> RowCount:
        """The same balusters counted in one row of equal gaps."""
        ends = self.lower.slack, self.upper.slack
        return RowCount(self.pattern, self.passes, *ends, more)

    def _shares(self, tread: PlanTread) -> bool:
        return tread.index not in self.fixed and not tread.tapered

    def _counted(self, shared: int) -> tuple[dict[int, int], bool]:
        offset, counts, passes = 0, {}, True
        for tread in self.treads:
            if tread.index in self.fixed:
                count = self.fixed[tread.index]
            elif tread.tapered:
                count = self._fewest(tread, offset)
            else:
                count = shared
                passes = passes and self._tread_passes(tread, offset, count)
            counts[tread.index] = count
            offset += count
        return counts, passes

    def _fewest(self, tread: PlanTread, offset: int) -> int:
        for count in range(1, MOST_ON_A_TREAD + 1):
            if self._tread_passes(tread, offset, count):
                return count
        text = f"tread {tread.number}: no number of balusters passes"
        raise BadInput(Problem(text, "check widths and runs"))

    def _tread_passes(self, tread: PlanTread, offset: int, count: int) -> bool:
        types = self.pattern.take(offset, count + 1)
        gap, _ = on_tread(tread.line_run, types[:count], Fraction(0))
        if gap <= 0:
            raise too_wide(tread, count)
        sides = self._sides(tread, [slack(kind) for kind in types])
        return all(self.passes(gap + low + high) for low, high in pairwise(sides))

    def _sides(self, tread: PlanTread, sides: list[Real]) -> list[Real]:
        """What each part beside the tread's gaps adds to them, the next tread's first included."""
        count, lower, upper = len(sides) - 1, self.lower, self.upper
        if upper.takes and upper.takes[0] == tread.index and upper.takes[1] < count:
            sides = [*sides[: upper.takes[1]], upper.by_tread]
        elif upper.takes == (tread.index + 1, 0) or (tread is self.treads[-1] and not upper.takes):
            sides = [*sides[:-1], upper.by_tread]
        if lower.takes and lower.takes[0] == tread.index and lower.takes[1] < count:
            return [lower.by_tread, *sides[lower.takes[1] + 1 :]]
        return [lower.by_tread, *sides] if tread is self.treads[0] and not lower.takes else sides
