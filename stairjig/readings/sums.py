"""What spacings come to when they are added up, against what honest errors add up to. In mm.

Every spacing may be within tolerance, and the last mark far out of it. A reading is off by the
tape's own error and by what it was rounded to, each on its own, with a standard deviation `sd`
(`noise`); the sum of m of them then has sd x sqrt(m), as variances add up.

Rounding is not quite a matter of chance: of spacings alike a tape that is read closely is off alike
each time. So what goes beyond is held against tapes of any part of that error, from none on, with
the mean and the deviation that rounding has under each. Beside a total only a sum counts that none
of them explains; without one no reading tells what was rounded from what is off: it is not proved.

    the first m spacings      T(m), sd x sqrt(m)
    with a total t of n       T(m) - m/(n + 1) x (T(n) - t), sd x sqrt(m (n + 1 - m)/(n + 1))
    the n against the total   T(n) - t, sd x sqrt(n + 1)

T is the sum of what spacings read too much, t what the total does; the second is the place of a
mark by least squares from both of its ends. Of 40,000 right rails made at random and taped from
mark to mark 36 were not proved.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from itertools import accumulate

from stairjig.frozen import frozen
from stairjig.readings.noise import HAIR, TAPE_SD
from stairjig.readings.tape import Tape

ANY_MARK = 4.25
"""Standard deviations from which the sum at some mark is no honest one: there are many of them."""
WHOLE = 3.4
"""The same for all spacings, which are one sum: by chance once in 1,500 right rails."""


@frozen
class Sum:
    """Spacings added up that go beyond honest errors: how far off at which mark, by index.

    `apart`: it is the total that they disagree with. `over`: by how many times as much. `rounded`:
    rounding may come to as much.
    """

    index: int
    off: float
    apart: bool
    over: float
    rounded: bool = False


def nearest(tape: Tape) -> Tape:
    """The same readings held against what an exact tape reads, to their own step."""
    step = tape.noise.step
    if not step:
        return tape
    due = [read - off for read, off in zip(tape.read, tape.off, strict=True)]
    off = [read - round(at / step) * step for read, at in zip(tape.read, due, strict=True)]
    return replace(tape, off=tuple(off))


def beyond(tape: Tape, tolerance: float) -> Sum | None:
    """The sum of spacings that is furthest out of what honest errors explain; None without any.

    Sums within the tolerance do not count.
    """
    if tape.way == "running":
        return None
    far = [one for one in _sums(tape) if one.over > 1 and abs(one.off) > tolerance]
    found = (replace(one, rounded=_by_rounding(tape, one)) for one in far)
    held = (one for one in found if not (one.rounded and tape.total))
    return max(held, key=lambda one: one.over, default=None)


def _sums(tape: Tape) -> Iterator[Sum]:
    """Every sum with how many times its bound it is."""
    count, sd = len(tape.off) - tape.total, tape.noise.sd
    added, total = [*accumulate(tape.off[:count])], tape.off[-1]
    apart = added[-1] - total if tape.total else 0.0
    for at, place in enumerate(added, start=1):
        many = at * (count + 1 - at) / (count + 1) if tape.total else at
        over = abs(place - at / (count + 1) * apart) / (_bound(tape, at, False) * sd * many**0.5)
        yield Sum(at, place - at / (count + 1) * apart, False, over)
    if tape.total:
        over = abs(apart) / (_bound(tape, count, True) * sd * math.sqrt(count + 1))
        yield Sum(count, apart, True, over)


def _bound(tape: Tape, index: int, apart: bool) -> float:
    whole = apart or (not tape.total and index == len(tape.off))
    return WHOLE if whole else ANY_MARK


def _weights(tape: Tape, one: Sum) -> list[float]:
    """How much of each reading's error is in a sum."""
    count = len(tape.off) - tape.total
    before = [1.0 if at < one.index else 0.0 for at in range(count)]
    if not tape.total:
        return before
    if one.apart:
        return [*before, -1.0]
    share = one.index / (count + 1)
    return [*(weight - share for weight in before), share]


def _by_rounding(tape: Tape, one: Sum) -> bool:
    """Whether a tape that errs by some part of what a tape may would honestly come to a sum."""
    due = [read - off for read, off in zip(tape.read, tape.off, strict=True)]
    weights, bound = _weights(tape, one), _bound(tape, one.index, one.apart)
    for tenths in range(11):
        errors = [rounding(at, tape.noise.step, tenths / 10 * TAPE_SD) for at in due]
        mean = sum(w * mean for w, (mean, _) in zip(weights, errors, strict=True))
        spread = sum(w * w * var for w, (_, var) in zip(weights, errors, strict=True))
        if abs(one.off - mean) <= bound * math.sqrt(spread) + HAIR:
            return True
    return False


def rounding(at: float, step: float, sd: float) -> tuple[float, float]:
    """Mean and variance of how far a reading of `at`, rounded to a step, is off; mm and mm².

    The tape errs normally, with the standard deviation given.
    """
    if not step:
        return 0.0, sd * sd
    nearest = round(at / step)
    if not sd:
        return nearest * step - at, 0.0
    reach = math.ceil(5 * sd / step) + 1
    off = [(nearest + more) * step - at for more in range(-reach, reach + 1)]
    share = [_below((one + step / 2) / sd) - _below((one - step / 2) / sd) for one in off]
    mean = sum(part * one for part, one in zip(share, off, strict=True))
    return mean, sum(part * (one - mean) ** 2 for part, one in zip(share, off, strict=True))


def _below(deviations: float) -> float:
    """The normal distribution's share below so many standard deviations."""
    return (1 + math.erf(deviations / math.sqrt(2))) / 2
