"""A length as a carpenter writes it and as the paper shows it.

Lengths are exact fractions of a millimetre. An inch is 25.4 mm exactly (international yard and
pound agreement, 1959), a foot twelve of them.
"""

from __future__ import annotations

import re
from dataclasses import field
from fractions import Fraction
from functools import lru_cache
from math import floor
from typing import TYPE_CHECKING, Literal

from stairjig.frozen import frozen

if TYPE_CHECKING:
    from stairjig.errors import Place

Units = Literal["inch", "mm"]
Real = Fraction | float
"""A length in mm: exact where the layout has a closed form, else a float."""

INCH = Fraction(127, 5)
FOOT = 12 * INCH
CM = Fraction(10)
NEAR: dict[Units, Fraction] = {"inch": INCH / 16, "mm": Fraction(3, 2)}
"""What marks that are plumbed or taped twice are held to: 1/16 in, in mm jobs 1.5 mm."""
DRILL: dict[Units, Fraction] = {"inch": INCH / 64, "mm": Fraction(1, 2)}
"""The steps that drill bits come in, which prove a gap."""
WHOLE: dict[Units, Fraction] = {"inch": INCH, "mm": Fraction(10)}
"""What a tape is misread by at a glance: a whole inch, or a centimetre."""
BURNT: dict[Units, Fraction] = {"inch": INCH, "mm": Fraction(100)}
"""The tape's line that is held on the first mark where its hook is in the way."""
LONG = {"inch": 3 * FOOT, "mm": Fraction(10_000)}
"""From here on a length is shown in feet, or in metres, besides."""

_VULGAR = {
    "¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
    "⅓": "1/3", "⅔": "2/3", "⅙": "1/6", "⅚": "5/6", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5",
}  # fmt: skip
_RAISED = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉", "01234567890123456789")
_BUILT = re.compile("([⁰¹²³⁴⁵⁶⁷⁸⁹]{1,3})[⁄/]([₀₁₂₃₄₅₆₇₈₉]{1,3})")
_SIGNS = str.maketrans({
    "″": '"', "”": '"', "“": '"', "′": "'", "’": "'", "‘": "'", "⁄": "/",
    "−": "-", "‐": "-", "‑": "-", "‒": "-", "–": "-",
})  # fmt: skip
# The digits are spelled out: `\d` would also match those of every other script.
_NUMBER = r"(?:[0-9]+(?:\.[0-9]+)?|\.[0-9]+)"
_MIXED = re.compile(
    rf"(?:(?P<whole>{_NUMBER})(?:\s+|-)(?=[0-9]+\s?/))?(?P<num>{_NUMBER})(?:\s?/\s?(?P<den>[0-9]+))?"
)
_FEET = re.compile(
    rf"(?P<feet>{_NUMBER})\s*(?:'|(?:ft|feet|foot)(?![a-z]))\s*-?\s*(?P<rest>(?!['-]).*)"
)
_UNIT = re.compile(r"\s*(?P<unit>\"|''|inch(?:es)?|in\.?|mm|cm)")
_UNIT_SIZE = {"mm": Fraction(1), "cm": CM}
_THOUSANDS = re.compile("[0-9],[0-9]{3}(?![0-9])")
_LONGEST_TEXT = 40
_LONGEST = 1000 * FOOT
_HAIR = Fraction(1, 10**9)
_NEAR = 1e-6
"""Of a step; a float of less than a kilometre is nowhere near as far off."""


class NotALength(ValueError):  # noqa: N818
    """The text is no length; the message says what a length looks like."""


@frozen
class Length:
    """A measure in mm, with the text it was written as and its place; those don't compare."""

    mm: Fraction
    text: str = field(default="", compare=False)
    where: Place | None = field(default=None, compare=False)

    def __str__(self) -> str:
        return self.text or f"{float(self.mm):g} mm"


@frozen
class Angle:
    """An angle in degrees, with the text it was written as and its place; those don't compare."""

    degrees: Fraction
    text: str = field(default="", compare=False)
    where: Place | None = field(default=None, compare=False)

    def __str__(self) -> str:
        return self.text or f"{float(self.degrees):g}"


def _plain(text: str) -> str:
    """The text with typographic fractions, primes and signs spelled in plain characters."""
    text = _BUILT.sub(lambda built: f" {built[1]}/{built[2]} ".translate(_RAISED), text)
    for sign, spelled in _VULGAR.items():
        text = text.replace(sign, f" {spelled} ")
    text = " ".join(text.translate(_SIGNS).lower().split())
    return text.replace("- ", "-").replace(" '", "'").replace(' "', '"')


def _number(text: str, example: str) -> Fraction:
    """A whole, decimal or mixed number such as `10`, `10.25`, `10 1/4` or `10-1/4`."""
    match = _MIXED.fullmatch(text.strip())
    if not match:
        raise NotALength(f"is no length; write it like {example}")
    whole, num, den = match["whole"], match["num"], match["den"]
    if den is None:
        return Fraction(num)
    if "." in num or (whole and "." in whole):
        raise NotALength("mixes a decimal point with a fraction; write one or the other")
    return Fraction(whole or 0) + _fraction(num, den, bool(whole))


def _fraction(num: str, den: str, beside_whole: bool) -> Fraction:
    """A proper fraction: `21/2` is far more often 2 1/2 with the space lost than ten and a half."""
    if int(den) == 0:
        raise NotALength("divides by zero")
    if int(num) < int(den):
        return Fraction(int(num), int(den))
    if beside_whole:
        raise NotALength("has a fraction of one or more beside a whole number; is a digit missing?")
    raise NotALength("is a fraction of one or more; is a space missing, as in 10 1/4?")


def _split_sign(plain: str) -> tuple[int, str]:
    """The sign, and the rest."""
    if plain.startswith(("-", "+")):
        return (-1 if plain[0] == "-" else 1), plain[1:].strip()
    return 1, plain


def _pointed(plain: str, units: Units) -> str:
    """The text with a decimal comma made a point, where millimetres or centimetres are meant."""
    if units != "mm" and not plain.endswith(("mm", "cm")):
        return plain
    if _THOUSANDS.search(plain):
        raise NotALength("has a comma before three digits; write 2400 or 2.4, whichever is meant")
    return re.sub("(?<=[0-9]),(?=[0-9])", ".", plain)


def read_length(text: str, units: Units) -> Fraction:
    """The length written as `text`, exactly, in mm.

    Reads `10`, `10.25`, `10 1/4`, `10-1/4`, `10¼`, `10 1/4"`, `3' 6 1/2"`, `3′ 6½″`, `260 mm`,
    `26 cm`, in mm jobs also `26,5`; a bare number is in `units`, a leading sign is kept. Raises
    `NotALength`, whose message completes "`text` ...".
    """
    example = "10 1/4 or 3' 6 1/2\"" if units == "inch" else "260 or 26.5"
    if len(text) > _LONGEST_TEXT:
        raise NotALength(f"is too long for a length; write it like {example}")
    sign, plain = _split_sign(_pointed(_plain(text), units))
    mm = _magnitude(plain, units, example)
    if mm > _LONGEST:
        raise NotALength("is over 1,000 feet; that is no measure of a stair")
    return sign * mm


def _magnitude(plain: str, units: Units, example: str) -> Fraction:
    feet = _FEET.fullmatch(plain)
    if feet:
        return _feet_and_inches(feet["feet"], feet["rest"], example)
    number, size = _split_unit(plain)
    if size is None:
        size = INCH if units == "inch" else Fraction(1)
    return _number(number, example) * size


def _split_unit(plain: str) -> tuple[str, Fraction | None]:
    """The number in front of the unit, and the unit's size in mm (None: no unit is written)."""
    for unit in _UNIT.finditer(plain):
        if unit.end() == len(plain):
            return plain[: unit.start()], _UNIT_SIZE.get(unit["unit"], INCH)
    return plain, None


def _feet_and_inches(feet: str, rest: str, example: str) -> Fraction:
    """Feet, and the inches written behind them."""
    if not rest:
        return Fraction(feet) * FOOT
    number, size = _split_unit(rest)
    if size not in (None, INCH):
        raise NotALength("mixes feet with millimetres; write one or the other")
    if "." in feet:
        raise NotALength("has inches beside a decimal of a foot; write one or the other")
    inches = _number(number, example)
    if inches >= 12:
        raise NotALength("has twelve inches or more beside the feet; check the reading")
    return Fraction(feet) * FOOT + inches * INCH


def read_angle(text: str) -> Fraction:
    """An angle in degrees, exactly, from `22.5`, `22 1/2`, `-21.8` or `36.9°`.

    Raises `NotALength`, whose message completes "`text` ...".
    """
    if len(text) > _LONGEST_TEXT:
        raise NotALength("is too long for an angle; write degrees like 22.5")
    plain = re.sub(r"\s*(°|deg\.?|degrees)$", "", _plain(text))
    sign, plain = _split_sign(plain)
    try:
        return sign * _number(plain, "22.5")
    except NotALength:
        raise NotALength("is no angle; write degrees like 22.5") from None


@frozen
class Shown:
    """How lengths are shown: in which units and to which step (mm, exact)."""

    units: Units
    step: Fraction

    def rounded(self, mm: Real) -> Fraction:
        """`mm` to the nearest step, a half away from zero.

        Half up is the rule of US Navy training manual 14044 for the carpenter's sixteenths;
        Python's own `round` would take half to even. A float within `_HAIR` of a half counts as
        one, so that two ways of computing the same length show the same figure.
        """
        return self._steps(mm) * self.step

    def _steps(self, mm: Real) -> int:
        """How many steps that is; of a float in floats, unless it comes near a half."""
        if isinstance(mm, float):
            near = abs(mm) / float(self.step) + 0.5
            whole = floor(near)
            if not _NEAR < near - whole < 1 - _NEAR:
                whole = floor((abs(Fraction(mm)) + _HAIR) / self.step + Fraction(1, 2))
        else:
            top = abs(mm.numerator) * self.step.denominator
            bottom = mm.denominator * self.step.numerator
            whole = (2 * top + bottom) // (2 * bottom)
        return -whole if mm < 0 else whole

    def plain(self, mm: Real) -> str:
        """The rounded length without its unit: `10 13/16`, `-3 7/8`, `88`, `26.5`."""
        return _figures(self.units, self.step, self._steps(mm))

    def text(self, mm: Real) -> str:
        """The rounded length with its unit, as a tape reads: `10 13/16″` or `88 mm`."""
        return self.plain(mm) + ("″" if self.units == "inch" else " mm")

    def finer(self, parts: int) -> Shown:
        """The same to a part of the step, for what a whole step says too little of."""
        return Shown(self.units, self.step / parts)

    @classmethod
    def fine(cls, units: Units) -> Shown:
        """Lengths in 64ths or tenths of a millimetre, for what is small."""
        return cls(units, INCH / 64 if units == "inch" else Fraction(1, 10))

    def against(self, mm: Real, limit: Real | None) -> str:
        """As `text`; where it reads like its limit but is not, with the side it lies on."""
        text = self.text(mm)
        if limit is None or mm == limit or text != self.text(limit):
            return text
        return f"just {'under' if mm < limit else 'over'} {text}"

    def limit(self, mm: Real) -> str:
        """A length that something is held to, whole where an eighth of the step can say it."""
        steps = Fraction(mm).limit_denominator(1000) / self.step
        for part in (1, 2, 4, 8):
            if (steps * part).denominator == 1:
                return self.finer(part).text(mm)
        return self.text(mm)

    @property
    def near(self) -> str:
        """`NEAR` in words."""
        return self.limit(NEAR[self.units])

    def long(self, mm: Real) -> str:
        """As `text`, with feet and inches added for long ones: `79 11/16″ (6′ 7 11/16″)`."""
        rounded = self.rounded(mm)
        if self.units == "mm" or abs(rounded) < LONG["inch"]:
            return self.text(mm)
        feet, inches = divmod(abs(rounded), FOOT)
        sign = "-" if rounded < 0 else ""
        return f"{self.text(mm)} ({sign}{feet}′ {_mixed(inches / INCH)}″)"


@lru_cache(maxsize=16_384)
def _figures(units: Units, step: Fraction, steps: int) -> str:
    """So many steps without their unit; a pack says few lengths, and each of them often."""
    sign, length = "-" if steps < 0 else "", abs(steps) * step
    return sign + (f"{float(length):.10g}" if units == "mm" else _mixed(length / INCH))


def _mixed(inches: Fraction) -> str:
    whole, part = divmod(inches, 1)
    if not part:
        return str(whole)
    return f"{whole} {part}" if whole else str(part)
