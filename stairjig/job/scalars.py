"""One word of a job file into a length, an angle, a count, a choice or a name.

Each reader gives None for what cannot be used, after saying so; `label` is the key in the message.
"""

from __future__ import annotations

import re
import unicodedata
from fractions import Fraction
from typing import TYPE_CHECKING, Literal, TypeVar

from stairjig.frozen import frozen
from stairjig.job.document import Broken, Listing, Node, Word
from stairjig.job.faults import Faults, nearest, quoted
from stairjig.lengths import Angle, Length, NotALength, Units, read_angle, read_length

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

C = TypeVar("C", bound=str)
Floor = Literal["above zero", "from zero", "signed", "markable"]
"""What a length may be: `signed` may be negative, `markable` is 8 mm or more."""
SMALLEST_MARK = Fraction(8)
"""Below this many mm the outline of a baluster or a hole hides its own centre cross."""
_YES, _NO = ("true", "yes"), ("false", "no")
_BLANK = "\u2800\ufffc\ufffd"
"""Signs that print nothing, and the one that stands for what was lost."""
_FORMULA = ("=", "+", "-", "@")
"""What a spreadsheet, which the tables go to, begins a formula with."""
_UNHELD_MARKS = {"Mn", "Mc", "Me"}
_FROM_THE_RIGHT = {"R", "AL", "AN"}
_BAD_KINDS = {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}
_MOST_DIGITS = 9


def _none(_: str) -> str:
    return ""


@frozen
class Reading:
    """What every reader needs: the job's units, and where problems go.

    `missing` gives the characters of a text that the pack's fonts have no sign for.
    """

    units: Units
    faults: Faults
    missing: Callable[[str], str] = _none


def described(node: Node) -> str:
    """A node of the wrong kind, in words."""
    if isinstance(node, Word):
        return quoted(node.text)
    return "a list" if isinstance(node, Listing) else "a block of keys"


def word(node: Node, label: str, wanted: str, reading: Reading) -> Word | None:
    """A word that is not empty; `wanted` says what belongs there."""
    if isinstance(node, Word) and node.text.strip():
        return node
    if isinstance(node, Word):
        reading.faults.add(f"{label} is empty", node.where, f"write {wanted}")
    elif not isinstance(node, Broken):
        reading.faults.add(f"{label} is {described(node)}", node.where, f"write {wanted}")
    return None


def length(node: Node, label: str, reading: Reading, floor: Floor = "above zero") -> Length | None:
    """A length in mm, not below `floor`."""
    found = word(node, label, "a length", reading)
    if found is None:
        return None
    try:
        mm = read_length(found.text, reading.units)
    except NotALength as error:
        reading.faults.add(f"{label} {quoted(found.text)} {error}", found.where)
        return None
    under = _under(mm, floor)
    if under is None:
        return Length(mm, found.text, found.where)
    what, mend = under
    if floor == "markable" and reading.units == "mm" and "/" in found.text:
        mend = "if it is in inches, write in behind it"
    reading.faults.add(f"{label} {quoted(found.text)} {what}", found.where, mend)
    return None


def _under(mm: Fraction, floor: Floor) -> tuple[str, str] | None:
    """What is wrong with a length below its floor, and the mend; None where it is not."""
    if mm < 0 and floor != "signed":
        return "is negative", "write it without the minus"
    if mm == 0 and floor in ("above zero", "markable"):
        return "is zero", "it must be more than that"
    if mm < SMALLEST_MARK and floor == "markable":
        return f"is under {SMALLEST_MARK} mm, too small to mark", "check the reading and its unit"
    return None


def angle(node: Node, label: str, reading: Reading, low: int, high: int) -> Angle | None:
    """An angle between two bounds, neither of them reached, in degrees."""
    found = word(node, label, "degrees, like 22.5", reading)
    if found is None:
        return None
    try:
        degrees = read_angle(found.text)
    except NotALength as error:
        reading.faults.add(f"{label} {quoted(found.text)} {error}", found.where)
        return None
    if not low < degrees < high:
        reading.faults.add(
            f"{label} {quoted(found.text)} is not between {low} and {high} degrees", found.where
        )
        return None
    return Angle(degrees, found.text, found.where)


def whole(node: Node, label: str, reading: Reading, least: int, most: int) -> int | None:
    """A whole number from `least` to `most`."""
    wanted = f"a whole number from {least} to {most:,}"
    found = word(node, label, wanted, reading)
    if found is None:
        return None
    text = found.text.strip()
    if not re.fullmatch("[0-9]+", text):
        reading.faults.add(
            f"{label} {quoted(text)} is no whole number", found.where, f"write {wanted}"
        )
        return None
    digits = text.lstrip("0") or "0"
    if len(digits) > _MOST_DIGITS or not least <= int(digits) <= most:
        reading.faults.add(f"{label} {quoted(text)} is not {wanted}", found.where)
        return None
    return int(digits)


def choice(node: Node, label: str, reading: Reading, options: Sequence[C]) -> C | None:
    """One of a few words, whatever their case."""
    found = word(node, label, " or ".join(options), reading)
    if found is None:
        return None
    text = found.text.strip().casefold()
    for option in options:
        if option == text:
            return option
    reading.faults.add(
        f"{label} cannot be {quoted(found.text)}", found.where, nearest(text, options)
    )
    return None


def flag(node: Node, label: str, reading: Reading) -> bool | None:
    """`true` or `yes`, `false` or `no`."""
    text = choice(node, label, reading, (*_YES, *_NO))
    return None if text is None else text in _YES


def tidy(text: str) -> str:
    """A name as it is compared and printed: composed letters, single spaces."""
    return " ".join(unicodedata.normalize("NFC", text).split())


def name(node: Node, label: str, reading: Reading, longest: int) -> str | None:
    """Words to print: no control, formatting or unassigned characters, at most `longest`."""
    found = word(node, label, "words to print", reading)
    if found is None:
        return None
    what, mend = _unfit(found.text, longest, reading.missing)
    if what:
        reading.faults.add(f"{label} {what}", found.where, mend)
        return None
    return tidy(found.text)


def _unfit(text: str, longest: int, missing: Callable[[str], str]) -> tuple[str, str]:
    """What makes the text no name to print, and the mend; two empty texts for a good one."""
    odd = next((sign for sign in text if _is_odd(sign)), None)
    if odd:
        return f"holds a character that cannot be printed (U+{ord(odd):04X})", "take it out"
    plain = tidy(text)
    if plain.startswith(_FORMULA):
        return "begins like a formula of a spreadsheet", f'take the "{plain[0]}" away'
    if len(plain) > longest:
        return f"has {len(plain)} characters", f"keep it to {longest}"
    unset = _unset(plain, missing)
    return (f"holds {unset}", "write it in other letters") if unset else ("", "")


def _is_odd(sign: str) -> bool:
    return unicodedata.category(sign) in _BAD_KINDS or sign in _BLANK


def _unset(text: str, missing: Callable[[str], str]) -> str:
    """What of a name the pack can't set, in words; "" where it can set it all.

    Signs are set one by one from the left: words of a script that runs the other way would come
    out backward, accents that have no letter of their own beside or upon others.
    """
    if text.isascii():
        return ""
    for sign in text:
        if unicodedata.bidirectional(sign) in _FROM_THE_RIGHT:
            return f"{_shown(sign)}, of a script that runs from right to left"
        if unicodedata.category(sign) in _UNHELD_MARKS:
            return f"an accent that goes with no letter before it (U+{ord(sign):04X})"
    absent = missing(text)
    return f"{', '.join(map(_shown, absent))}, which the fonts have no sign for" if absent else ""


def _shown(sign: str) -> str:
    return f'"{sign}" (U+{ord(sign):04X})'
