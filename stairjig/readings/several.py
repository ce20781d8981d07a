"""More than one thing wrong at once: what the readings fall apart into. Lengths in mm.

No claim is made that this is the one account of them: it names the marks that are out.
"""

from __future__ import annotations

import statistics
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import accumulate
from operator import mul

from stairjig.readings.causes import LARGEST_BOW, LARGEST_SHARE, Cause, hump
from stairjig.readings.misread import slip_to
from stairjig.readings.tape import Tape
from stairjig.readings.values import Kind, RailMarks

_LONGEST_EXCURSION = 3
"""So many neighbours are called misplaced one by one; more of them are a slip and a slip back."""
_AHEAD = 6
_MOST_PAIRED = 250
"""On longer rails no drift is looked for beside another mistake: it would take too long."""


def several_causes(tape: Tape, rail: RailMarks, cut: float) -> tuple[Cause, ...]:
    """What is wrong, mark by mark from the first up; a drift and one more thing where it fits."""
    stepped = (*_steps(tape, cut),)
    if len(stepped) > 2 and len(tape.positions) <= _MOST_PAIRED:
        stepped = _drift_and_one(tape, rail, cut) or stepped
    return _with_total(tape, rail, cut, stepped)


def _levels(tape: Tape, cut: float) -> tuple[list[int], list[float]]:
    """The marks, and how far each stands off; spacings are added up without small errors.

    A mark without a running reading is left out: nothing is known of it.
    """
    readings = list(zip(tape.spans, tape.off, strict=True))[: len(tape.spans) - tape.total]
    if tape.way == "running":
        return [0, *(upper for (_, upper), _ in readings)], [0.0, *(off for _, off in readings)]
    steps = {upper: off for (_, upper), off in readings if abs(off) > cut}
    more = (steps.get(upper, 0.0) for upper in range(len(tape.positions)))
    return [*range(len(tape.positions))], [*accumulate(more)]


def _steps(tape: Tape, cut: float) -> Iterator[Cause]:
    marks, levels = _levels(tape, cut)
    for cause in _stepped(levels, cut, tape.way == "running"):
        yield replace(cause, index=marks[cause.index])


def _stepped(levels: Sequence[float], cut: float, running: bool) -> Iterator[Cause]:
    base, near = 0.0, cut if running else 1e-9
    mark, last = 1, len(levels) - 1
    while mark <= last:
        if abs(levels[mark] - base) <= near:
            mark += 1
            continue
        back = _back(levels, mark, base, near if running else 2 * cut)
        if running and not back and mark < last and abs(levels[mark + 1] - levels[mark]) > 2 * cut:
            back = mark + 1  # the next one does not stand off alike, so it is no slip
        if back or mark == last:
            yield from _misplaced(levels, mark, back or mark + 1, base, near)
            mark = back or mark + 1
            base = base if running or mark > last else levels[mark]
            continue
        level = _level(levels, mark, cut)
        yield Cause(Kind.SHIFTED, mark, level - base, 0.0)
        base, near = level, 1.5 * cut if running else near
        mark += 1


def _back(levels: Sequence[float], mark: int, base: float, near: float) -> int | None:
    """The next mark, a few on, that stands where those before `mark` do."""
    ahead = range(mark + 1, min(mark + _LONGEST_EXCURSION + 1, len(levels)))
    return next((at for at in ahead if abs(levels[at] - base) <= near), None)


def _misplaced(
    levels: Sequence[float], start: int, stop: int, base: float, near: float
) -> Iterator[Cause]:
    for mark in range(start, stop):
        if abs(levels[mark] - base) > near:
            yield Cause(Kind.MISPLACED, mark, levels[mark] - base, 0.0)


def _level(levels: Sequence[float], mark: int, cut: float) -> float:
    ahead = levels[mark : mark + _AHEAD]
    return statistics.median(level for level in ahead if abs(level - levels[mark]) <= 2 * cut)


def _with_total(
    tape: Tape, rail: RailMarks, cut: float, causes: tuple[Cause, ...]
) -> tuple[Cause, ...]:
    """The causes, with a misread reading among them where the total disagrees with their sum."""
    if not tape.total or any(cause.kind in (Kind.RATIO, Kind.BOWED) for cause in causes):
        return causes
    over_last = (Kind.SHIFTED, Kind.MISPLACED)
    last = len(tape.positions) - 1
    reach = [
        c for c in causes if c.kind in over_last and (c.kind is Kind.SHIFTED or c.index == last)
    ]
    apart = tape.off[-1] - sum(cause.amount for cause in reach)
    wander = 4 * tape.noise.sd * len(tape.spans) ** 0.5
    near = max(2 * cut, wander if tape.way == "spacing" else 0.0)
    if abs(apart) <= near:
        return causes
    blamed = next((cause for cause in reach if abs(cause.amount + apart) <= near), None)
    if blamed is None:
        return (*causes, misread(tape, len(tape.spans) - 1, -1, cut, rail))
    at = next(i for i, span in enumerate(tape.spans) if span[1] == blamed.index)
    wrong = misread(tape, at, blamed.index, cut, rail)
    return tuple(wrong if cause is blamed else cause for cause in causes)


def misread(tape: Tape, reading: int, index: int, cut: float, rail: RailMarks) -> Cause:
    """That a reading is wrong and its mark right; `index` is the mark's, -1 for the total."""
    read, expected = tape.read[reading], tape.read[reading] - tape.off[reading]
    slip = slip_to(read, expected, cut, rail.shown.units)
    right = slip.right if slip else expected
    form = slip.form if slip else ""
    lower = tape.spans[reading][0]
    return Cause(Kind.MISREAD, index, read - right, 0.0, lower=lower, form=form, right=right)


def _drift_and_one(tape: Tape, rail: RailMarks, cut: float) -> tuple[Cause, ...]:
    """A ratio or a bow with one mark or slip besides; empty where none fits."""
    best: tuple[float, tuple[Cause, ...]] = (cut, ())
    others = [*_others(tape)]
    for drift, drifting, most in _drifts(tape, rail):
        for other, change in others:
            amounts = _fit_two(tape.off, drifting, change)
            if amounts and abs(amounts[0]) > most:
                continue
            left = _worst(tape.off, drifting, change, amounts) if amounts else cut
            if amounts and left < best[0]:
                best = left, _pair(tape, drift, other, *amounts)
    return best[1]


def _pair(tape: Tape, drift: Kind, other: Cause, much: float, amount: float) -> tuple[Cause, ...]:
    share = much if drift is Kind.RATIO else 0.0
    size = much * tape.length if drift is Kind.RATIO else much
    return Cause(drift, 0, size, 0.0, share), replace(other, amount=amount)


def _drifts(tape: Tape, rail: RailMarks) -> Iterator[tuple[Kind, list[float], float]]:
    """What drifts, what it does to the readings, and how much of it is still believed."""
    yield Kind.RATIO, tape.moved(tape.positions), LARGEST_SHARE
    if not rail.level:
        shift = hump(tape.positions, tape.positions[0], tape.positions[-1])
        most = LARGEST_BOW * rail.length * rail.bow_shift_per_bow
        yield Kind.BOWED, tape.moved(shift), most


def _others(tape: Tape) -> Iterator[tuple[Cause, list[float]]]:
    count = len(tape.positions)
    for mark in range(1, count):
        one = [0.0] * count
        one[mark] = 1.0
        yield Cause(Kind.MISPLACED, mark, 0.0, 0.0), tape.moved(one)
        if mark < count - 1:
            after = [0.0] * mark + [1.0] * (count - mark)
            yield Cause(Kind.SHIFTED, mark, 0.0, 0.0), tape.moved(after)


def _dot(one: Sequence[float], two: Sequence[float]) -> float:
    return sum(map(mul, one, two), 0.0)


def _fit_two(
    off: Sequence[float], first: Sequence[float], second: Sequence[float]
) -> tuple[float, float] | None:
    """Least squares for two amounts; None where the two change the readings alike."""
    aa, bb, ab = _dot(first, first), _dot(second, second), _dot(first, second)
    ar, br = _dot(first, off), _dot(second, off)
    root = aa * bb - ab * ab
    if root <= 1e-9 * aa * bb:
        return None
    return (ar * bb - br * ab) / root, (br * aa - ar * ab) / root


def _worst(
    off: Sequence[float],
    first: Sequence[float],
    second: Sequence[float],
    amounts: tuple[float, float],
) -> float:
    one, two = amounts
    return max([abs(r - one * a - two * b) for r, a, b in zip(off, first, second, strict=True)])
