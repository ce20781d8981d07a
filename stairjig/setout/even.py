"""One equal gap over uneven treads: the row is free to move, and the newels with it."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from math import inf

from stairjig.errors import BadInput, Problem
from stairjig.frozen import frozen
from stairjig.job.model import Baluster
from stairjig.lengths import Real
from stairjig.setout.clearance import Moving, Span, clearance, clearest, nearest_spans
from stairjig.setout.counts import TreadCounts
from stairjig.setout.plan import reach
from stairjig.setout.spacing import Placed, centres
from stairjig.setout.values import PlanTread


@frozen
class _Foot:
    """A type's width, and where the centre of its base would stand over a nosing or riser, s."""

    width: float
    blocked: tuple[Span, ...]


Steps = dict[str, _Foot]
"""By a type's name."""

_CLOSE = 1e-9
_MOST = 2
"""How many times the fewest balusters that pass are tried before none is said to clear."""
_HALVINGS = 40


@frozen
class Hit:
    """A baluster, counted from 0 along the row, whose base is `short` mm from clearing a step."""

    index: int
    short: float


@frozen
class EvenRow:
    """The row: its balusters, its one gap, its two newel faces (s), and what it hits."""

    row: tuple[Placed, ...]
    gap: Real
    lower: Real
    upper: Real
    clearance: float
    hits: tuple[Hit, ...]


@frozen
class _Family:
    """The rows of one count: while t runs over `reach`, front and gap go on by t times their rate.

    `front`: the first baluster's front face, s. A row that is held fast has no rates.
    """

    types: tuple[Baluster, ...]
    front: Real
    gap: Real
    front_rate: int = 0
    gap_rate: int = 0
    reach: Span = (0.0, 0.0)

    @property
    def held(self) -> bool:
        """Whether there is but one row."""
        return not (self.front_rate or self.gap_rate)

    def at(self, t: float) -> tuple[Real, Real]:
        """The row's front face and its gap at t; exact where it is held."""
        if self.held:
            return self.front, self.gap
        return self.front + self.front_rate * t, self.gap + self.gap_rate * t


@frozen
class EvenSpacing:
    """Equal gaps over `treads`, all of them with balusters.

    `low`, `high`: the faces of newels that stand (s), None for those to be found; `set_back`: from
    the first riser's face to the first baluster's front, None where the row is free.
    """

    treads: tuple[PlanTread, ...]
    counts: TreadCounts
    low: Real | None
    high: Real | None
    set_back: Real | None

    def found(self) -> EvenRow:
        """The row of the fewest balusters that pass and clear every riser and nosing.

        Newels found: gap = (L - sum w) / N over the whole line, the row starting at `set_back` or
        where its bases stand clearest, its newels one gap before the first and one behind the
        last. Both standing, D apart: gap = (D - sum w) / (N + 1). One standing: the row is held by
        it, and its gap is the one whose bases stand clearest, of those that keep the other newel
        where it would be found. Where none clears, the row that comes nearest, with its hits.
        Raises `BadInput` where no number of balusters passes.
        """
        steps = self._steps()
        best: tuple[float, _Family, float] | None = None
        for number in self._numbers():
            family = self._family(number)
            worth = best[0] if best else -inf
            best = (self._clearest(family, steps, worth) if family else None) or best
            if best and best[0] >= -_CLOSE:
                break
        if best is None:
            raise BadInput(
                Problem("no number of balusters passes", "check the runs and the widths")
            )
        return self._row(*best, steps)

    def _numbers(self) -> Iterator[int]:
        """The counts to try, the fewest first; one where all are given by hand."""
        by_hand = self.counts.by_hand
        if by_hand is not None:
            yield by_hand
            return
        held = self.low is not None or self.high is not None
        distance = (self._last if self.high is None else self.high) - (
            self._first if self.low is None else self.low
        )
        fewest = max(1, self.counts.row(1 if held else 0).fewest(distance))
        yield from range(fewest, _MOST * fewest + 1)

    @property
    def _first(self) -> Real:
        return self.treads[0].front.s

    @property
    def _last(self) -> Real:
        return self.treads[-1].back.s

    def _family(self, number: int) -> _Family | None:
        """The rows of that many; None where they leave no gap, or none that passes."""
        types = self.counts.pattern.take(0, number)
        widths = self.counts.pattern.widths(number)
        if self.low is not None and self.high is not None:
            gap = (self.high - self.low - widths) / (number + 1)
            return self._passing(_Family(types, self.low + gap, gap))
        if self.low is None and self.high is None:
            gap = (self._last - self._first - widths) / number
            if self.set_back is not None:
                return self._passing(_Family(types, self._first + self.set_back, gap))
            free = _Family(types, self._first, gap, 1, 0, (0.0, float(gap) * (1 - 1e-9)))
            return self._passing(free)
        return self._held_once(types, widths)

    def _held_once(self, types: tuple[Baluster, ...], widths: Real) -> _Family | None:
        """The rows that one standing newel holds: the gap is free, or found by the set-back."""
        number, back = len(types), self.set_back
        if self.high is not None:
            front, rate = self.high - widths, -number
            low, high = (front - self._first) / (number + 1), (front - self._first) / number
            gap = None if back is None else (front - self._first - back) / number
        else:
            front, rate = self.low or 0, 1
            over = self._last - front - widths
            low, high = over / (number + 1), over / number
            gap = None if back is None else (over + back) / (number + 1)
        if gap is not None:
            return self._passing(_Family(types, front + rate * gap, gap))
        if low <= 0:
            return None
        most = self._widest(number, float(low), float(high))
        return None if most is None else _Family(types, front, 0.0, rate, 1, (float(low), most))

    def _passing(self, family: _Family) -> _Family | None:
        if family.gap <= 0:
            return None
        by_hand = self.counts.by_hand is not None
        row = self.counts.row(0)
        return family if by_hand or row.gap_passes(len(family.types), family.gap) else None

    def _widest(self, number: int, low: float, high: float) -> float | None:
        """The widest gap up to `high` that passes; None where not even `low` does."""
        row = self.counts.row(0)
        if self.counts.by_hand is not None or row.gap_passes(number, high):
            return high
        if not row.gap_passes(number, low):
            return None
        for _ in range(_HALVINGS):
            middle = (low + high) / 2
            low, high = (middle, high) if row.gap_passes(number, middle) else (low, middle)
        return low

    def _clearest(
        self, family: _Family, steps: Steps, worth: float
    ) -> tuple[float, _Family, float] | None:
        """The greatest clearance, the family and its t; None where that is not over `worth`."""
        if family.held:
            least = inf
            for kind, s in zip(family.types, _places(family, steps, 0.0), strict=True):
                least = min(least, clearance(s, steps[kind.name].blocked))
                if least <= worth:
                    return None
            return least, family, 0.0
        found = clearest(_moving(family, steps), family.reach, worth)
        return (found[0], family, found[1]) if found else None

    def _steps(self) -> Steps:
        kinds = self.counts.pattern.types
        return {kind.name: _Foot(float(kind.width.mm), self._blocked(kind)) for kind in kinds}

    def _blocked(self, kind: Baluster) -> tuple[Span, ...]:
        """Before the first riser's face and behind the last nosing is no tread to stand on."""
        half = kind.base.mm / 2
        risers = [(tread.front, tread.front_nosing) for tread in self.treads]
        risers.append((self.treads[-1].back, self.treads[-1].back_nosing))
        spans = []
        for riser, nosing in risers:
            out = reach(riser.skew, half, kind.shape)
            spans.append((float(riser.s - nosing - out), float(riser.s + out)))
        return ((-inf, spans[0][1]), *spans[1:-1], (spans[-1][0], inf))

    def _row(self, clear: float, family: _Family, t: float, steps: Steps) -> EvenRow:
        front, gap = family.at(t)
        row, hits = [], []
        places = centres(family.types, gap, front)
        for index, (kind, s) in enumerate(zip(family.types, places, strict=True)):
            tread = self._tread_at(s)
            row.append(Placed(kind, s, tread.index, s - tread.front.s))
            short = -clearance(float(s), steps[kind.name].blocked)
            if short > _CLOSE:
                hits.append(Hit(index, short))
        end = places[-1] + family.types[-1].width.mm / 2
        return EvenRow(tuple(row), gap, front - gap, end + gap, clear, tuple(hits))

    def _tread_at(self, s: Real) -> PlanTread:
        place = bisect_right(self.treads, s, key=lambda tread: tread.back.s)
        return self.treads[min(place, len(self.treads) - 1)]


def _moving(family: _Family, steps: Steps) -> Iterator[Moving]:
    ends = [_places(family, steps, t) for t in family.reach]
    for place, (kind, low, high) in enumerate(zip(family.types, *ends, strict=True)):
        rate = family.front_rate + place * family.gap_rate
        spans = nearest_spans(steps[kind.name].blocked, min(low, high), max(low, high))
        yield Moving(low - rate * family.reach[0], rate, spans)


def _places(family: _Family, steps: Steps, t: float) -> list[float]:
    front, gap = (float(length) for length in family.at(t))
    found = []
    for kind in family.types:
        width = steps[kind.name].width
        found.append(front + width / 2)
        front += width + gap
    return found
