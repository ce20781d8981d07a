"""What spacings come to when they are added up, against what honest errors add up to. In mm.

Every spacing may be within tolerance, and the last mark far out of it. A reading is off by the
tape's own error and by what it was rounded to, each on its own, with a standard deviation `sd`
(`noise`); the sum of m of them then has sd x sqrt(m), as variances add up.

Rounding is not quite a matter of chance: of spacings alike an exact tape is off alike each time,
by b = the nearest step less the spacing, and the more a tape errs the less is left of it. An honest
sum then lies about a point between 0 and B, the sum of b. Beside a total only what goes beyond both
counts; without one no reading tells what was rounded from what is off, and either is not proved.

    the first m spacings      T(m), sd x sqrt(m)
    with a total t of n       T(m) - m/(n + 1) x (T(n) - t), sd x sqrt(m (n + 1 - m)/(n + 1))
    the n against the total   T(n) - t, sd x sqrt(n + 1)

T is the sum of what spacings read too much, t what the total does; the second is the place of a
mark by least squares from both of its ends.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import accumulate

from stairjig.frozen import frozen
from stairjig.readings.tape import Tape

ANY_MARK = 4.25
"""Standard deviations from which the sum at some mark is no honest one: there are many of them."""
WHOLE = 3.25
"""The same for all spacings, which are one sum: by chance once in 900 right rails."""


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
    pairs = zip(_sums(tape, tape.off), _sums(tape, nearest(tape).off), strict=True)
    found = [_held(one, exact) for one, exact in pairs if abs(one.off) > tolerance]
    if tape.total:
        found = [one for one in found if not one.rounded]
    worst = max(found, key=lambda one: one.over, default=None)
    return worst if worst and worst.over > 1 else None


def _held(one: Sum, exact: Sum) -> Sum:
    """A sum in the light of what it comes to against an exact tape's readings."""
    return replace(one, rounded=exact.over <= 1 or one.off * exact.off < 0)


def _sums(tape: Tape, off: Sequence[float]) -> Iterator[Sum]:
    """Every sum with how many times its bound it is."""
    total = off[-1] if tape.total else None
    added = [*accumulate(off[: len(off) - tape.total])]
    count, sd = len(added), tape.noise.sd
    apart = 0.0 if total is None else added[-1] - total
    for at, sum_of in enumerate(added, start=1):
        place, many = sum_of, float(at)
        if total is not None:
            place -= at / (count + 1) * apart
            many *= (count + 1 - at) / (count + 1)
        whole = total is None and at == count
        yield Sum(at, place, False, abs(place) / ((WHOLE if whole else ANY_MARK) * sd * many**0.5))
    if total is not None:
        yield Sum(count, apart, True, abs(apart) / (WHOLE * sd * math.sqrt(count + 1)))
