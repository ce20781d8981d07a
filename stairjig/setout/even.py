"""One equal gap over uneven treads: the row is free to move, and the newels with it."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from stairjig.errors import BadInput, Problem
from stairjig.job.model import Baluster
from stairjig.lengths import Real
from stairjig.setout.plan import reach
from stairjig.setout.spacing import Passes, Pattern, Placed, slack
from stairjig.setout.values import PlanTread

Span = tuple[float, float]
_STEPS = 128
"""Places tried for the row where none clears everything, to name the one that comes nearest."""


@dataclass(frozen=True, slots=True)
class Hit:
    """A baluster, counted from 0 along the row, whose base is `short` mm from clearing a step."""

    index: int
    tread: int
    short: float


@dataclass(frozen=True, slots=True)
class EvenRow:
    """The row: its balusters, its one gap, how far it starts up the line, and what it hits."""

    row: tuple[Placed, ...]
    gap: Real
    start: Real
    clearance: float
    hits: tuple[Hit, ...]


@dataclass(frozen=True, slots=True)
class EvenSpacing:
    """Equal gaps over the treads from `treads[0]` to `treads[-1]`, all with balusters.

    `lower`, `upper`: what the newels' narrowest parts add to the gap beside them, mm.
    """

    treads: Sequence[PlanTread]
    pattern: Pattern
    passes: Passes
    lower: Real
    upper: Real

    def found(self, set_back: Real | None, count: int | None = None) -> EvenRow:
        """The row with both newels found: the fewest balusters that pass and clear every step.

        gap = (L - sum w) / N over the whole line; the row starts at `set_back`, or where its bases
        stand clearest of risers and nosings. Where none clears, the row that comes nearest, with
        its hits. Raises `BadInput` where no number of balusters passes.
        """
        if count is not None:
            return self._best_row(count, set_back)
        fewest = self._fewest()
        best: EvenRow | None = None
        for number in range(fewest, 2 * fewest + 1):
            row = self._best_row(number, set_back)
            if not row.hits:
                return row
            if best is None or row.clearance > best.clearance:
                best = row
        assert best is not None
        return best

    def between(self, low: Real, high: Real, count: int | None = None) -> EvenRow:
        """The row between two newel faces that stand: gap = (D - sum w) / (N + 1)."""
        number, best = count or 1, None
        most = count or 2 * self._fewest()
        while number <= most:
            types = self.pattern.take(0, number)
            gap = (high - low - sum(kind.width.mm for kind in types)) / (number + 1)
            if gap <= 0:
                break
            if count or self._gap_passes(types, gap):
                row = self._row(types, gap, low + gap - self._first)
                if not row.hits or count:
                    return row
                best = row if best is None or row.clearance > best.clearance else best
            number += 1
        if best is None:
            raise _none_passes()
        return best

    @property
    def _first(self) -> Real:
        return self.treads[0].front.s

    @property
    def _length(self) -> Real:
        return self.treads[-1].back.s - self._first

    def _fewest(self) -> int:
        number = 1
        while True:
            types = self.pattern.take(0, number)
            gap = (self._length - sum(kind.width.mm for kind in types)) / number
            if gap <= 0:
                raise _none_passes()
            if self._gap_passes(types, gap):
                return number
            number += 1

    def _gap_passes(self, types: Sequence[Baluster], gap: Real) -> bool:
        sides = [self.lower, *(slack(kind) for kind in types), self.upper]
        return self.passes(gap + max(a + b for a, b in itertools.pairwise(sides)))

    def _best_row(self, number: int, set_back: Real | None) -> EvenRow:
        types = self.pattern.take(0, number)
        gap = (self._length - sum(kind.width.mm for kind in types)) / number
        if set_back is not None:
            return self._row(types, gap, set_back)
        start = self._clear_start(types, gap)
        if start is not None:
            return self._row(types, gap, start)
        tried = [self._row(types, gap, gap * Fraction(step, _STEPS)) for step in range(_STEPS)]
        return max(tried, key=lambda row: row.clearance)

    def _clear_start(self, types: Sequence[Baluster], gap: Real) -> float | None:
        """The start in [0, gap) with the widest clearance; None where something is always hit."""
        width = float(gap)
        blocked = sorted(
            (low - s, high - s)
            for kind, s in zip(types, self._places(types, gap), strict=True)
            for low, high in self._bands(kind)
            if high - s > -width and low - s < 2 * width
        )
        best: tuple[float, float] | None = None
        free = -2 * width
        for low, high in [*blocked, (3 * width, 3 * width)]:
            if low > free:
                start = min(max((free + low) / 2, 0.0), width * (1 - 1e-9))
                clearance = min(start - free, low - start)
                if clearance > 0 and (best is None or clearance > best[0] + 1e-9):
                    best = (clearance, start)
            free = max(free, high)
        return best[1] if best else None

    def _places(self, types: Sequence[Baluster], gap: Real) -> list[float]:
        places, front = [], float(self._first)
        for kind in types:
            width = float(kind.width.mm)
            places.append(front + width / 2)
            front += width + float(gap)
        return places

    def _bands(self, kind: Baluster) -> list[Span]:
        """Where the centre of such a base would stand over a nosing or across a riser, s."""
        half = kind.base.mm / 2
        ends = [(tread.front, tread.front_nosing) for tread in self.treads]
        ends.append((self.treads[-1].back, self.treads[-1].back_nosing))
        return [
            (
                float(riser.s - nosing - reach(riser.skew, half, kind.shape)),
                float(riser.s + reach(riser.skew, half, kind.shape)),
            )
            for riser, nosing in ends
        ]

    def _row(self, types: Sequence[Baluster], gap: Real, start: Real) -> EvenRow:
        row, hits, clearance = [], [], float("inf")
        front = self._first + start
        for index, kind in enumerate(types):
            s = front + kind.width.mm / 2
            front = front + kind.width.mm + gap
            tread = self._tread_at(s)
            row.append(Placed(kind, s, tread.index, s - tread.front.s))
            clear = min(_clear_of(float(s), band) for band in self._bands(kind))
            clearance = min(clearance, clear)
            if clear < -1e-9:
                hits.append(Hit(index, tread.number, -clear))
        return EvenRow(tuple(row), gap, start, clearance, tuple(hits))

    def _tread_at(self, s: Real) -> PlanTread:
        for tread in self.treads:
            if s < tread.back.s:
                return tread
        return self.treads[-1]


def _clear_of(s: float, band: Span) -> float:
    """How far `s` is outside the band; inside it, less nothing by how far it has to move."""
    low, high = band
    return max(low - s, s - high)


def _none_passes() -> BadInput:
    return BadInput(Problem("no number of balusters passes", "check the runs and the widths"))
