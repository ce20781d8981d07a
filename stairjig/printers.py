"""What each printer draws too large or too small, measured once on the test sheet and kept.

The factors are in the user's own configuration folder (platformdirs says where that is).
"""

from __future__ import annotations

import json
import re
import shlex
from fractions import Fraction
from math import inf
from pathlib import Path

from stairjig.errors import BadInput, Place, Problem
from stairjig.frozen import frozen
from stairjig.lengths import INCH, NotALength, Shown, Units, read_length
from stairjig.sheets.bars import TEST_BARS

MOST_OFF = Fraction(3, 100)
"""A printer that is further off does something else than be off: it fits to the page."""
_MEND = (
    'that is more than a printer is off: it was printed with "fit to page", the wrong bar was '
    "measured, or in other units than its own (10 and 7 in, or 250 and 170 mm); print at actual "
    "size and measure again"
)
_NAME = re.compile(r"[^\s/\\:]{1,40}")


@frozen
class Printer:
    """A printer by name, with what is to be drawn larger for it across and along the sheet."""

    name: str
    across: float
    along: float


def measured(name: str, along: str, across: str) -> Printer:
    """The correction from the two bars as measured on a printed test sheet.

    Both bars are of one sheet, in inches or in mm: a unit that is written says which; two bare
    numbers are in the unit whose bars they come near. Raises `BadInput` for what is no length, for
    two units, and for factors beyond 3 % with the likely cause.
    """
    _check_name(name)
    units = _units_of(along, across)
    problems: list[Problem] = []
    factors = []
    for which, text, bar in zip(("--along", "--across"), (along, across), (0, 1), strict=True):
        try:
            factors.append(_factor(text, bar, which, units))
        except BadInput as bad:
            problems += bad.problems
    if problems:
        raise BadInput(*problems)
    return Printer(name, factors[1], factors[0])


def _check_name(name: str) -> None:
    if not _NAME.fullmatch(name):
        mend = "one word of up to 40 signs, without / \\ or :"
        raise BadInput(Problem(f"{name!r} is no name for a printer", mend))


def _units_of(along: str, across: str) -> Units:
    """The units of the test sheet that both bars were measured on."""
    written = {units for units in map(_written, (along, across)) if units}
    if len(written) > 1:
        text = "the two bars are measured in different units"
        raise BadInput(Problem(text, "measure both in the units that the test sheet is in"))
    return written.pop() if written else min(TEST_BARS, key=lambda u: _furthest(along, across, u))


def _written(text: str) -> Units | None:
    """The units that a reading says itself; None for a bare number, or for what is no length."""
    inches, mm = _length(text, "inch"), _length(text, "mm")
    if inches is None or inches != mm:
        return None
    return "mm" if text.rstrip().lower().endswith(("mm", "cm")) else "inch"


def _furthest(along: str, across: str, units: Units) -> Fraction | float:
    """How far the worse of two bare numbers is from its bar in those units, over its length."""
    lengths = [_length(text, units) for text in (along, across)]
    bars = zip(lengths, TEST_BARS[units], strict=True)
    return max(inf if length is None else _off(length, true) for length, true in bars)


def _length(text: str, units: Units) -> Fraction | None:
    try:
        return read_length(text, units)
    except NotALength:
        return None


def _factor(text: str, bar: int, which: str, units: Units) -> float:
    true = TEST_BARS[units][bar]
    try:
        length = read_length(text, units)
    except NotALength as error:
        raise BadInput(Problem(f"{which} {text!r} {error}")) from None
    if length <= 0:
        raise BadInput(Problem(f"{which} {text!r} is no length of a bar", "measure it again"))
    if _off(length, true) > MOST_OFF:
        shown = Shown(units, INCH / 32 if units == "inch" else Fraction(1, 2))
        raise BadInput(
            Problem(
                f"{which} {text}: the bar is {shown.text(true)} and was printed "
                f"{float(_off(length, true)) * 100:.1f} % {'short' if length < true else 'long'}",
                _MEND,
            )
        )
    return float(true / length)


def _off(length: Fraction, true: Fraction) -> Fraction:
    return abs(length / true - 1)


def remembered(name: str) -> Printer:
    """The printer kept under that name. Raises `BadInput` where there is none, or can be none."""
    _check_name(name)
    known = _load()
    if name not in known:
        have = f"known: {', '.join(sorted(known))}" if known else "none is known yet"
        mend = f"{have}; stairjig printer {shlex.quote(name)} --along L --across L keeps one"
        raise BadInput(Problem(f"there is no printer called {name!r}", mend))
    return known[name]


def keep(printer: Printer) -> Path:
    """Keep a printer under its name; where to. Raises `BadInput` where that can't be done."""
    from stairjig.files import write_whole

    known = {**_load(), printer.name: printer}
    path = _file()
    kept = {p.name: {"across": p.across, "along": p.along} for p in known.values()}
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise BadInput(Problem(f"{path.parent} can't be made: {error.strerror}")) from None
    write_whole(path, json.dumps(kept, indent=1, sort_keys=True).encode() + b"\n")
    return path


def _file() -> Path:
    from platformdirs import user_config_path

    return user_config_path("stairjig", appauthor=False) / "printers.json"


def _load() -> dict[str, Printer]:
    path = _file()
    try:
        kept = json.loads(path.read_bytes()) if path.exists() else {}
        return {name: printer_of({"name": name, **factors}) for name, factors in kept.items()}
    except (OSError, ValueError, TypeError, AttributeError, RecursionError):
        raise BadInput(
            Problem("the file of printers can't be read", "mend it or remove it", Place(str(path)))
        ) from None


def printer_of(kept: dict[str, object]) -> Printer:
    """A printer from its kept name and factors. Raises ValueError for anything else."""
    name, across, along = kept.get("name"), kept.get("across"), kept.get("along")
    if not isinstance(name, str) or not _NAME.fullmatch(name):
        raise ValueError("no name")
    factors = []
    for factor in (across, along):
        if isinstance(factor, bool) or not isinstance(factor, int | float):
            raise ValueError("no factor")
        if not abs(factor - 1) <= float(MOST_OFF) + 0.002:
            raise ValueError("a factor out of bounds")
        factors.append(float(factor))
    return Printer(name, factors[0], factors[1])
