"""Readings as distances between two marks each, held against what was expected. Lengths in mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from stairjig.frozen import frozen
from stairjig.readings.noise import Noise
from stairjig.readings.values import Way


@frozen
class Tape:
    """Readings of marks at `positions`, in order; the total, where there is one, comes last.

    `spans`: the marks (by index) that a reading lies between, the lower first. `read`: what it
    says. `off`: read less expected.
    """

    way: Way
    positions: tuple[float, ...]
    spans: tuple[tuple[int, int], ...]
    read: tuple[float, ...]
    off: tuple[float, ...]
    noise: Noise
    total: bool

    @property
    def length(self) -> float:
        """First mark to last."""
        return self.positions[-1] - self.positions[0]

    def moved(self, shift: Sequence[float]) -> list[float]:
        """How each reading changes when each mark moves by its `shift`."""
        return [shift[upper] - shift[lower] for lower, upper in self.spans]

    def outside(self, cut: float) -> list[int]:
        """The readings that are off by more than `cut`."""
        return [index for index, off in enumerate(self.off) if abs(off) > cut]


def tape(
    way: Way,
    positions: Sequence[float],
    read: Sequence[float],
    total: float | None,
    noise: Noise,
    unread: Sequence[int] = (),
) -> Tape:
    """The readings of marks at `positions`, one for each mark after the first but the `unread`.

    Where a spacing is unread its mark is there, and the next one is taped from it.
    """
    spans = [span for span in _spans(way, len(positions)) if span[1] not in unread]
    read = [*read]
    if total is not None:
        spans.append((0, len(positions) - 1))
        read.append(total)
    off = tuple(
        value - (positions[upper] - positions[lower])
        for value, (lower, upper) in zip(read, spans, strict=True)
    )
    return Tape(way, (*positions,), (*spans,), (*read,), off, noise, total is not None)


def _spans(way: Way, count: int) -> Iterator[tuple[int, int]]:
    return ((upper - 1 if way == "spacing" else 0, upper) for upper in range(1, count))
