"""A reading too few or too many: which mark is missing, which one is one too many."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from stairjig.readings.cases import Case
from stairjig.readings.causes import Cause, fit, nothing_wrong
from stairjig.readings.noise import SLACK, Noise
from stairjig.readings.tape import tape
from stairjig.readings.values import Kind, RailMarks, Way

UNLIKELY_MISSING = 3.0
UNLIKELY_UNREAD = 3.5
UNLIKELY_EXTRA = 4.0


def missing(
    way: Way, rail: RailMarks, read: Sequence[float], total: float | None, noise: Noise
) -> Iterator[Case]:
    """The single marks that may not be on the rail, whether the rest fits or not."""
    for index in _suspects(way, rail, read, noise, len(rail) - 1):
        yield without_marks(way, rail, [index], read, total, noise)


def _suspects(
    way: Way, rail: RailMarks, read: Sequence[float], noise: Noise, last: int
) -> list[int]:
    """Where the readings first leave the drawing, and both ends: nothing else can fit.

    Up to a missing mark, or one too many, all readings agree; at it one cannot.
    """
    at = rail.positions
    base = range(len(at) - 1) if way == "spacing" else [0] * (len(at) - 1)
    expected = [at[i + 1] - at[below] for i, below in enumerate(base)]
    off = [abs(r - e) for r, e in zip(read, expected, strict=False)]
    found = {0, last}
    for cut in (noise.cut, noise.cut + SLACK):
        first = next((i for i, value in enumerate(off) if value > cut), len(off))
        found |= {mark for mark in range(first, first + 3) if mark <= last}
    return sorted(found)


def without_marks(
    way: Way,
    rail: RailMarks,
    gone: Sequence[int],
    read: Sequence[float],
    total: float | None,
    noise: Noise,
) -> Case:
    """The case that these marks are not on the rail."""
    marks = tuple(index for index in range(len(rail)) if index not in gone)
    taken = tape(way, [rail.positions[index] for index in marks], read, total, noise)
    causes = tuple(Cause(Kind.MISSING, index, 0.0, UNLIKELY_MISSING) for index in gone)
    return Case(causes, nothing_wrong(taken) + UNLIKELY_MISSING * len(gone), taken, marks)


def without_readings(
    way: Way,
    rail: RailMarks,
    gone: Sequence[int],
    read: Sequence[float],
    total: float | None,
    noise: Noise,
) -> Case:
    """The case that these marks are there and only their readings were left out."""
    taken = tape(way, rail.positions, read, total, noise, gone)
    causes = tuple(Cause(Kind.UNREAD, index, 0.0, UNLIKELY_UNREAD) for index in gone)
    unlikely = nothing_wrong(taken) + UNLIKELY_UNREAD * max(1, len(gone) > 1)
    return Case(causes, unlikely, taken, tuple(range(len(rail))))


def left_out(rail: RailMarks, read: Sequence[float], total: float, noise: Noise) -> Iterator[Case]:
    """The spacings that may only not have been read; nothing but a total can show that."""
    for index in _suspects("spacing", rail, read, noise, len(rail) - 1):
        if index:
            yield without_readings("spacing", rail, [index], read, total, noise)


def extra(
    way: Way, rail: RailMarks, read: Sequence[float], total: float | None, noise: Noise
) -> Iterator[Case]:
    """The marks read that may be one too many, whether the rest fits or not.

    The index of such a cause is the mark's that it stands before (the count, after the last), its
    amount its place along the rail from the first mark. An extra mark before the first moves
    where running readings begin: that much is fitted.
    """
    for at in _suspects(way, rail, read, noise, len(read)):
        yield without_extra(way, rail, at, read, total, noise)


def without_extra(
    way: Way,
    rail: RailMarks,
    at: int,
    read: Sequence[float],
    total: float | None,
    noise: Noise,
) -> Case:
    """The case that the mark read as number `at`, from 0, is not on the drawing."""
    rest, place = drop_mark(way, at, read, rail, noise)
    if total is not None and at == 0:
        total += place
    elif total is not None and at == len(read):
        total -= read[-1] - (read[-2] if way == "running" and len(read) > 1 else 0.0)
    taken = tape(way, rail.positions, rest, total, noise)
    cause = Cause(Kind.EXTRA, at, place, UNLIKELY_EXTRA)
    unlikely = nothing_wrong(taken) + UNLIKELY_EXTRA
    return Case((cause,), unlikely, taken, tuple(range(len(rail))))


def drop_mark(
    way: Way, at: int, read: Sequence[float], rail: RailMarks, noise: Noise
) -> tuple[list[float], float]:
    """The readings without the mark read as number `at`, and that mark's place."""
    if at == 0:
        return _without_first(way, read, rail, noise)
    place = read[at - 1] if way == "running" else sum(read[:at])
    if way == "running" or at == len(read):
        return [*read[: at - 1], *read[at:]], place
    return [*read[: at - 1], read[at - 1] + read[at], *read[at + 1 :]], place


def _without_first(
    way: Way, read: Sequence[float], rail: RailMarks, noise: Noise
) -> tuple[list[float], float]:
    if way == "spacing":
        return [*read[1:]], -read[0]
    more = [value - place for value, place in zip(read, rail.positions, strict=False)]
    ahead = fit(more, [1.0] * len(more), noise.cut)
    if ahead is None:
        ahead = sorted(more)[len(more) // 2]
    return [value - ahead for value in read[1:]], -ahead


def fits(case: Case, cut: float) -> bool:
    """Whether the case leaves no reading off by more than the tape's errors.

    Where an extra mark parts a spacing two readings make it up, and two errors.
    """
    return all(
        abs(off) <= cut * _readings_in(case, index) for index, off in enumerate(case.tape.off)
    )


def _readings_in(case: Case, index: int) -> int:
    first = case.causes[0]
    if first.kind is not Kind.EXTRA:
        return 1
    if case.tape.total and index == len(case.tape.off) - 1:
        return 3 if first.index in (0, len(case.marks)) else 1
    parted = case.tape.way == "spacing" and case.tape.spans[index][1] == first.index
    return 2 if parted else 1
