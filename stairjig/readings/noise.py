"""How far a reading may be off by the tape's own error.

One error a reading: normal with a standard deviation of 1/32 in, cut at 1/16 in, and what the
reading was rounded to. Lengths in mm.
"""

from __future__ import annotations

from collections.abc import Iterable

from stairjig.frozen import frozen
from stairjig.lengths import INCH, Real

TAPE_CUT = float(INCH) / 16
TAPE_SD = float(INCH) / 32 * 0.8796
"""Of a normal distribution with sigma 1/32 in, cut at two sigma: sqrt(1 - 4 phi(2) / P(2))."""
HAIR = 1e-5
"""What floats may add to a bound, mm."""
SLACK = float(INCH) / 32
"""Where nothing fits the tape's errors as they should be, they may be this much larger."""
STEPS = tuple(float(step) for step in (INCH / 16, 1, INCH / 32, 0.5, INCH / 100, 0.1))
"""Steps a reading is given to, largest first: 1/16 in, 1 mm, 1/32 in, 1/2 mm, 1/100 in, 1/10 mm."""


@frozen
class Noise:
    """`cut`: the largest error of a reading; `sd`: its standard deviation; `step`: its step."""

    cut: float
    sd: float
    step: float = 0.0


def noise_of(values: Iterable[Real]) -> Noise:
    """The error of such readings: the tape's, with half the step they are all rounded to."""
    read = [float(value) for value in values]
    step = next((step for step in STEPS if all(_falls_on(value, step) for value in read)), 0.0)
    return Noise(TAPE_CUT + step / 2, (TAPE_SD**2 + step**2 / 12) ** 0.5, step)


def _falls_on(value: float, step: float) -> bool:
    return abs(value / step - round(value / step)) * step < 1e-6
