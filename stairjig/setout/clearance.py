"""Where a row that may slide or stretch stands clearest of every step.

Every baluster's centre moves as start + rate x t while t runs over a range: t is the row's place
along the line, or its one gap where one end of it is held. Every step blocks a span of s for a
centre. All lengths in mm.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Sequence
from math import inf

from stairjig.frozen import frozen

Span = tuple[float, float]
_HALVINGS = 48
_NARROW = 1e-9


@frozen
class Moving:
    """A centre at start + rate x t, and the spans of s that its base keeps it out of."""

    start: float
    rate: float
    blocked: tuple[Span, ...]

    def at(self, t: float) -> float:
        """Where it stands."""
        return self.start + self.rate * t

    def clearance(self, t: float) -> float:
        """How far it stands outside the nearest span; inside one, less how far it has to move."""
        return _clearance(self.at(t), self.blocked)


def clearance(s: float, spans: Sequence[Span]) -> float:
    """How far `s` stands outside the nearest span; inside one, less how far it has to move.

    `spans` in order.
    """
    return _clearance(s, nearest_spans(spans, s, s))


def _clearance(s: float, spans: Iterable[Span]) -> float:
    return min(max(low - s, s - high) for low, high in spans)


def nearest_spans(spans: Sequence[Span], low: float, high: float) -> tuple[Span, ...]:
    """The spans, in order, that a centre between two places can come nearest to."""
    first = bisect_right(spans, low, key=lambda span: span[1]) - 1
    last = bisect_left(spans, high, key=lambda span: span[0])
    return tuple(spans[max(first, 0) : last + 1])


def clearest(moved: Iterable[Moving], reach: Span, worth: float) -> tuple[float, float] | None:
    """The least clearance of the row where it is greatest, and that t; None where not over `worth`.

    Found by halving: for a clearance c every span, c wider on both sides, closes a piece of the
    range, and c can be had while a piece stays open. A long row that can't have `worth` shows so
    in its first few.
    """
    row: list[Moving] = []
    for moving in moved:
        row.append(moving)
        power_of_two = len(row) & (len(row) - 1) == 0
        if power_of_two and _open_place(row, reach, worth + _NARROW) is None:
            return None
    place = _open_place(row, reach, worth + _NARROW)
    if place is None:
        return None
    most = _most_clearance(row, reach)
    least = max(worth + _NARROW, -most)
    for _ in range(_HALVINGS):
        middle = (least + most) / 2
        found = _open_place(row, reach, middle)
        if found is None:
            most = middle
        else:
            least, place = middle, found
    return min(moving.clearance(place) for moving in row), place


def _most_clearance(row: Sequence[Moving], reach: Span) -> float:
    """A clearance that no place has: more than everything lies apart."""
    ends = [end for moving in row for span in moving.blocked for end in span if abs(end) < inf]
    ends += [moving.at(t) for moving in row for t in reach]
    return max(ends) - min(ends) + 1.0


def _open_place(row: Sequence[Moving], reach: Span, clear: float) -> float | None:
    """The middle of the first open piece of the range for that clearance."""
    free, end = reach
    for low, high in sorted(_closed(row, clear)):
        if low > free:
            break
        free = max(free, high)
    else:
        low = end
    if free > end:
        return None
    return (free + min(max(low, free), end)) / 2


def _closed(row: Sequence[Moving], clear: float) -> Iterator[Span]:
    for moving in row:
        for low, high in moving.blocked:
            if low - clear < high + clear:
                a = (low - clear - moving.start) / moving.rate
                b = (high + clear - moving.start) / moving.rate
                yield (a, b) if a < b else (b, a)
