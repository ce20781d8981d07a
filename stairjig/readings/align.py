"""Which mark read is which mark on the drawing, where their numbers differ by more than one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from stairjig.frozen import frozen
from stairjig.readings.noise import Noise

_PER_MISSING = 13.0
_PER_EXTRA = 13.0
_CAPPED = 12.0
"""A mark off spoils two spacings: that is a little cheaper than one missing and one too many."""
_MOST_MISSING = 6
_MOST_EXTRA = 3
_BAND = 6
"""How far beyond the difference in number a mark is looked for from its own place."""


@frozen
class Alignment:
    """`gone`: marks of the drawing that were not read; `more`: marks read that it does not have."""

    gone: tuple[int, ...]
    more: tuple[int, ...]


_Step = tuple[int, int]


def align(places: Sequence[float], positions: Sequence[float], noise: Noise) -> Alignment:
    """The cheapest pairing of the marks read, at `places`, with those expected, in order.

    Dynamic programming over pairs: a spacing that fits badly costs its squared error up to a cap,
    a mark missing or too many a fixed sum.
    """
    cost: dict[_Step, float] = {}
    before: dict[_Step, _Step | None] = {}
    band = abs(len(places) - len(positions)) + _BAND
    for read in range(len(places)):
        for mark in range(max(0, read - band), min(len(positions), read + band + 1)):
            pair = (read, mark)
            options = [(_ends(read, mark), None), *_from(pair, cost, places, positions, noise)]
            cost[pair], before[pair] = min(options, key=lambda option: option[0])
    reads, marks = len(places) - 1, len(positions) - 1
    last = min(cost, key=lambda pair: cost[pair] + _ends(reads - pair[0], marks - pair[1]))
    paired = list(_trace(last, before))
    return Alignment(
        tuple(sorted(set(range(len(positions))) - {mark for _, mark in paired})),
        tuple(sorted(set(range(len(places))) - {read for read, _ in paired})),
    )


def _ends(reads: int, marks: int) -> float:
    """What marks beyond the pairing cost, at either end."""
    return reads * _PER_EXTRA + marks * _PER_MISSING


def _from(
    pair: _Step,
    cost: dict[_Step, float],
    places: Sequence[float],
    positions: Sequence[float],
    noise: Noise,
) -> Iterator[tuple[float, _Step]]:
    read, mark = pair
    jumps = [(1, gone + 1) for gone in range(_MOST_MISSING)]
    jumps += [(more + 1, 1) for more in range(1, _MOST_EXTRA)]
    for reads, marks in jumps:
        past = (read - reads, mark - marks)
        if past in cost:
            spacing = places[read] - places[past[0]]
            off = (spacing - (positions[mark] - positions[past[1]])) / noise.sd
            bad = min(off * off / 4, _CAPPED)
            yield cost[past] + bad + _ends(reads - 1, marks - 1), past


def _trace(last: _Step, before: dict[_Step, _Step | None]) -> Iterator[_Step]:
    at: _Step | None = last
    while at is not None:
        yield at
        at = before[at]
