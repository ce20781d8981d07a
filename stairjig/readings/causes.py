"""What may be wrong with as many marks as there should be: one cause at a time, fitted.

Each cause says how every reading changes with its one amount; the amount is fitted by least
squares, and the cause is taken only where no reading is left further off than the tape's own
error reaches. Lengths in mm.

Some causes give the same readings. They cannot be told apart by them, so both are said:

    readings                     fit equally                                told by
    either way                   first mark off / all after it off          newel to first mark
    either way                   last mark off / a slip at the last mark    no need: one mend
    spacings without a total     a slip of a whole inch (of a mirrored      the total
                                 fraction) / that spacing misread
    running                      a mark off by as much / its reading        the spacing below it
                                 misread
    spacings, the total off      a ratio / the total misread (a mirrored    the total again
                                 fraction that comes near by chance)
    spacings of a long rail      a slight bow / nothing wrong               running readings
    spacings without a total     a slight ratio / nothing wrong             the total
    even spacings, one too few   the first / the last mark missing          newel to first mark
    even spacings, one too many  one before the first / after the last      newel to first mark
    running, no reading          the mark missing / not read                a look
    two marks                    either of them off; a ratio                newel to first mark
    three marks                  the middle one off / a bow                 a straightedge

At a first (last) spacing a whole inch long and without a total three fit: the first two rows are
then one verdict with its twin, the misread reading the other.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from stairjig.frozen import frozen
from stairjig.readings.misread import UNLIKELY, slip_to
from stairjig.readings.tape import Tape
from stairjig.readings.values import Kind, RailMarks

DRIFTS = (Kind.RATIO, Kind.BOWED)
"""What moves every mark a little more than the one before."""
UNLIKELY_CAUSE = {Kind.MISPLACED: 4.0, Kind.SHIFTED: 4.0, Kind.RATIO: 4.5, Kind.BOWED: 5.0}
"""How much less likely than no mistake, as a share of a log likelihood; our estimate."""
_OUTER_MARKS = 0.5
"""How much less likely a rail bows between its outer marks than between its ends."""
LARGEST_SHARE = 0.5
_HIDDEN = 6
LARGEST_BOW = 0.25
"""Of the rail's length: more is no bow of a rail."""


@frozen
class Cause:
    """One thing wrong.

    `index`: its mark's; of a misread reading the upper mark's, -1 for the total. `amount`: as in
    a verdict; `share` of a ratio. `unlikely`: half the sum of squared errors left over, each in
    standard deviations, and what such a cause is less likely. `lower`: a misread reading's lower
    mark; `form`: its slip of the eye; `right`: what it should have been.
    """

    kind: Kind
    index: int
    amount: float
    unlikely: float
    share: float = 0.0
    lower: int = 0
    form: str = ""
    right: float = 0.0


def fit(off: Sequence[float], change: Sequence[float], cut: float) -> float | None:
    """The amount that makes `off` less amount x `change` smallest, none of it beyond `cut`.

    Least squares, held within the amounts that leave nothing beyond `cut`; None without any.
    """
    low, high, top, weight = -math.inf, math.inf, 0.0, 0.0
    for read, per in zip(off, change, strict=True):
        if abs(per) < 1e-12:
            if abs(read) > cut:
                return None
            continue
        ends = ((read - cut) / per, (read + cut) / per)
        low, high = max(low, min(ends)), min(high, max(ends))
        if low > high:
            return None
        top, weight = top + read * per, weight + per * per
    return min(max(top / weight, low), high) if weight else None


def left(off: Sequence[float], change: Sequence[float], amount: float, sd: float) -> float:
    """Half the sum of squares that the amount leaves, in standard deviations."""
    return sum((o - amount * c) ** 2 for o, c in zip(off, change, strict=True)) / (2 * sd * sd)


def nothing_wrong(tape: Tape) -> float:
    """The same where nothing is wrong."""
    return sum(off * off for off in tape.off) / (2 * tape.noise.sd**2)


def single_causes(tape: Tape, rail: RailMarks, cut: float) -> Iterator[Cause]:
    """Every single cause that leaves no reading off by more than `cut`."""
    outside = tape.outside(cut)
    if outside:
        yield from _moved_marks(tape, outside, cut)
        yield from _slips(tape, outside, cut)
    if len(outside) == 1:
        yield from _misread(tape, outside[0], cut, rail)
    yield from drift_causes(tape, rail, cut)


def drift_causes(tape: Tape, rail: RailMarks, cut: float) -> Iterator[Cause]:
    """A ratio and a bow: those that leave no reading off by more than `cut`."""
    yield from _ratio(tape, cut)
    yield from _bow(tape, rail, cut)


def _fitted(tape: Tape, kind: Kind, index: int, shift: Sequence[float], cut: float) -> Cause | None:
    change = tape.moved(shift)
    amount = fit(tape.off, change, cut)
    if amount is None:
        return None
    unlikely = left(tape.off, change, amount, tape.noise.sd) + UNLIKELY_CAUSE[kind]
    return Cause(kind, index, amount, unlikely)


def _moved_marks(tape: Tape, outside: list[int], cut: float) -> Iterator[Cause]:
    """One mark off: it must touch every reading that is out. The first is the slips' business."""
    touching = set.intersection(*(set(tape.spans[index]) for index in outside))
    for mark in sorted(touching - {0}):
        shift = [0.0] * len(tape.positions)
        shift[mark] = 1.0
        if cause := _fitted(tape, Kind.MISPLACED, mark, shift, cut):
            yield cause


def _slips(tape: Tape, outside: list[int], cut: float) -> Iterator[Cause]:
    """All from one mark on off: every reading that is out must reach over the slip.

    Running readings just before the first that is out may be short of it by their own errors.
    """
    count = len(tape.positions)
    last = min(tape.spans[index][1] for index in outside)
    first = max(max(tape.spans[index][0] for index in outside) + 1, last - _HIDDEN)
    for mark in range(first, min(last, count - 2) + 1):
        shift = [0.0] * mark + [1.0] * (count - mark)
        if cause := _fitted(tape, Kind.SHIFTED, mark, shift, cut):
            yield cause


def _misread(tape: Tape, reading: int, cut: float, rail: RailMarks) -> Iterator[Cause]:
    read, off = tape.read[reading], tape.off[reading]
    slip = slip_to(read, read - off, cut, rail.shown.units)
    if slip is None:
        return
    is_total = tape.total and reading == len(tape.read) - 1
    lower, upper = tape.spans[reading]
    rest = nothing_wrong(tape) + ((slip.right - read + off) ** 2 - off**2) / (2 * tape.noise.sd**2)
    yield Cause(
        Kind.MISREAD,
        -1 if is_total else upper,
        read - slip.right,
        rest + UNLIKELY[slip.form],
        lower=lower,
        form=slip.form,
        right=slip.right,
    )


def _ratio(tape: Tape, cut: float) -> Iterator[Cause]:
    change = tape.moved(tape.positions)
    share = fit(tape.off, change, cut)
    if share and abs(share) <= LARGEST_SHARE:
        unlikely = left(tape.off, change, share, tape.noise.sd) + UNLIKELY_CAUSE[Kind.RATIO]
        yield Cause(Kind.RATIO, 0, share * tape.length, unlikely, share)


def _bow(tape: Tape, rail: RailMarks, cut: float) -> Iterator[Cause]:
    """A bow of the rail, or where its ends are not known or fit worse, between the outer marks."""
    if rail.level or len(tape.positions) < 3:
        return
    ends = [(rail.positions[0], rail.positions[-1], _OUTER_MARKS)]
    if rail.lower is not None and rail.upper is not None:
        ends.append((rail.lower, rail.upper, 0.0))
    fitted = [
        replace(cause, unlikely=cause.unlikely + more)
        for low, high, more in ends
        if (cause := _fitted(tape, Kind.BOWED, 0, hump(tape.positions, low, high), cut))
    ]
    best = min(fitted, key=lambda cause: cause.unlikely, default=None)
    if best and abs(best.amount) <= LARGEST_BOW * rail.length * rail.bow_shift_per_bow:
        yield best


def hump(positions: Sequence[float], lower: float, upper: float) -> list[float]:
    """How far marks move along a bowed rail, 1 in its middle: 4 u (L - u) / L^2 at u of L."""
    length = upper - lower
    return [4 * (at - lower) * (upper - at) / length**2 for at in positions]
