"""Paper by name or size, and the margin that the printer leaves white on it."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import TYPE_CHECKING

from stairjig.errors import Place
from stairjig.job.faults import nearest, quoted
from stairjig.job.model import Paper
from stairjig.job.scalars import word
from stairjig.lengths import INCH, Length, NotALength, Units, read_length

if TYPE_CHECKING:
    from stairjig.job.fields import Fields
    from stairjig.job.scalars import Reading

SHEETS = {
    "letter": (Fraction(17, 2) * INCH, 11 * INCH),
    "legal": (Fraction(17, 2) * INCH, 14 * INCH),
    "tabloid": (11 * INCH, 17 * INCH),
    "a4": (Fraction(210), Fraction(297)),
    "a3": (Fraction(297), Fraction(420)),
}
"""Width and height in mm, portrait: ISO 216 and the US paper sizes."""
OTHER_NAMES = {"ledger": "tabloid"}
"""The same sheet lying on its side has a name of its own."""
DEFAULT = {"inch": "letter", "mm": "a4"}
LONGEST_ROLL = Fraction(5079)
"""A PDF page ends at 14,400 units, 200 in or 5080 mm (PDF Reference 1.7, annex C.2)."""
_ROLL_WIDTHS = (11 * INCH, 60 * INCH)
_SIZES = (Fraction(100), Fraction(5000))
_SIZES_SHOWN: dict[Units, str] = {"inch": "4 in to 196 in", "mm": "100 mm to 5000 mm"}
_WAYS = "letter, legal, tabloid, a4, a3, roll 24 or a size like 10 x 15"
SHEET_MARGIN = Length(Fraction(5, 16) * INCH, "5/16 in")
ROLL_MARGIN = Length(INCH / 2, "1/2 in")
"""What printers leave white, where a job does not say otherwise."""
_Size = tuple[str, Fraction, Fraction]


class NotAPaper(ValueError):  # noqa: N818
    """The text is no paper; the arguments are what is wrong and the mend."""

    def __init__(self, what: str, mend: str = "") -> None:
        super().__init__(what, mend)
        self.what, self.mend = what, mend


def read_paper(fields: Fields, override: str | None) -> Paper:
    """The job's paper, or the one that overrides it, with its margin."""
    own = _own_paper(fields)
    name, width, height = own if override is None else _overriding(override, fields.reading)
    roll = name.startswith("roll")
    margin = fields.length("margin", ROLL_MARGIN if roll else SHEET_MARGIN)
    if fields.good("margin") and margin.mm > width / 4:
        fields.wrong("margin", f"margin {quoted(str(margin))} is over a quarter of the paper")
    return Paper(name, width, height, margin, roll)


def _own_paper(fields: Fields) -> _Size:
    reading = fields.reading
    default = DEFAULT[reading.units]
    standard = (default, *SHEETS[default])
    node = fields.node("paper")
    found = None if node is None else word(node, "paper", _WAYS, reading)
    if found is None:
        return standard
    return _sized(found.text, found.where, reading) or standard


def _overriding(text: str, reading: Reading) -> _Size:
    default = DEFAULT[reading.units]
    return _sized(text, Place("--paper"), reading) or (default, *SHEETS[default])


def _sized(text: str, where: Place, reading: Reading) -> _Size | None:
    try:
        return paper_size(text, reading.units)
    except NotAPaper as error:
        reading.faults.add(f"paper {quoted(text)} {error.what}", where, error.mend)
        return None


def paper_size(text: str, units: Units) -> _Size:
    """A paper's name as the pack prints it, its width and its height in mm, portrait.

    `text` is a sheet's name, `roll` with a width in inches, or width x height, bare numbers in
    `units`. Raises `NotAPaper`, whose `what` completes "paper `text` ...".
    """
    plain = " ".join(text.casefold().split())
    plain = OTHER_NAMES.get(plain, plain)
    if plain in SHEETS:
        return (plain, *SHEETS[plain])
    if re.match("roll[ 0-9]", plain):
        return _roll(plain.removeprefix("roll"))
    sides = re.split(" ?[x×] ?", plain)
    if len(sides) == 2 and re.match("[0-9.¼½¾⅛⅜⅝⅞]", plain):
        return _custom(sides[0], sides[1], units)
    raise NotAPaper("is not known", _mend(plain))


def _mend(plain: str) -> str:
    mend = nearest(plain, [*SHEETS, *OTHER_NAMES, "roll 24"])
    return mend if mend.startswith("did") else f"use {_WAYS}"


def _roll(text: str) -> _Size:
    width = _side(text, "inch")
    low, high = _ROLL_WIDTHS
    if not low <= width <= high:
        raise NotAPaper("is no roll", "a roll is 11 to 60 inches wide: write roll 24")
    return f"roll {_written(width, 'inch')}", width, LONGEST_ROLL


def _custom(first: str, second: str, units: Units) -> _Size:
    unit = re.search('(mm|cm|in\\.?|inch(es)?|"|″)$', second)
    if unit and not re.search("[a-z\"'″′]$", first):
        first += unit[0]
    width, height = sorted((_side(first, units), _side(second, units)))
    low, high = _SIZES
    if width < low or height > high:
        raise NotAPaper("is out of bounds", f"a sheet has sides from {_SIZES_SHOWN[units]}")
    return f"{_written(width, units)} x {_written(height, units)}", width, height


def _side(text: str, units: Units) -> Fraction:
    try:
        return read_length(text.strip(), units)
    except NotALength:
        raise NotAPaper("is no size", f"use {_WAYS}") from None


def _written(mm: Fraction, units: Units) -> str:
    """One way to write an exact length, so that every way of writing it names the same paper."""
    number = mm / INCH if units == "inch" else mm
    whole, part = divmod(number, 1)
    return f"{whole} {part}" if part else str(whole)
