"""What a reading may have been when it was misread: the usual slips of the eye. Lengths in mm."""

from __future__ import annotations

import math
from collections.abc import Iterator

from stairjig.frozen import frozen
from stairjig.lengths import FOOT, WHOLE, Units

UNLIKELY = {"whole": 2.5, "foot": 3.5, "mirrored": 4.5, "turned": 5.5}
"""How much less likely each slip of the eye is, as a share of a log likelihood; our estimate."""


@frozen
class Slip:
    """A slip of the eye: its `form` (a key of `UNLIKELY`) and the `right` reading under it."""

    form: str
    right: float


def slips(read: float, units: Units) -> Iterator[Slip]:
    """What the right reading may be where the tape was misread.

    A whole inch or foot (1 or 10 cm) more or less; the fraction taken from the wrong side of the
    inch (centimetre) mark, 3/8 for 5/8; two neighbouring digits turned round, 45 for 54.
    """
    big, unit = float(FOOT if units == "inch" else 10 * WHOLE[units]), float(WHOLE[units])
    yield from (Slip("whole", read + sign * unit) for sign in (1, -1))
    yield from (Slip("foot", read + sign * big) for sign in (1, -1))
    whole = math.floor(read / unit)
    yield Slip("mirrored", (2 * whole + 1) * unit - read)
    digit = unit if units == "inch" else 1.0
    yield from (Slip("turned", read + more * digit) for more in _turns(math.floor(read / digit)))


def _turns(number: int) -> Iterator[int]:
    """By how much a number grows when two neighbouring digits change places."""
    digits = str(number)
    for at in range(len(digits) - 1):
        turned = digits[:at] + digits[at + 1] + digits[at] + digits[at + 2 :]
        if turned != digits:
            yield int(turned) - number


def slip_to(read: float, expected: float, cut: float, units: Units) -> Slip | None:
    """The likeliest slip of the eye that explains `read` where `expected`, to `cut`, was there."""
    if read <= 0:
        return None
    fitting = [slip for slip in slips(read, units) if abs(slip.right - expected) <= cut]
    return min(fitting, key=lambda slip: UNLIKELY[slip.form], default=None)
