"""Scale bars: what proves that a sheet was printed at its true size."""

from __future__ import annotations

from fractions import Fraction
from math import ceil

from stairjig.drawing import Item, Pen, Point, Stroke, Text
from stairjig.frozen import frozen
from stairjig.lengths import INCH, Shown, Units
from stairjig.type import width

BAND = Fraction(3, 1000)
"""What a bar may be off, over its length: 1/32 in on 10 in."""
TAPE_STEP = {"inch": INCH / 32, "mm": Fraction(1, 2)}
"""No tape or rule is read finer than this, so a bar's limits stand on whole steps, mm."""
TEST_BARS: dict[Units, tuple[Fraction, Fraction]] = {
    "inch": (10 * INCH, 7 * INCH),
    "mm": (Fraction(250), Fraction(170)),
}
"""The test sheet's two bars, along and across the sheet, mm: a printer is corrected by them."""
TICK = 1.6


@frozen
class Bar:
    """A scale bar from `start`, `length` mm long, across the sheet or up it."""

    start: Point
    length: float
    upward: bool
    units: Units


def longest(room: float, units: Units) -> float:
    """The longest bar of whole inches, or of whole centimetres, that a room holds, mm."""
    step = 25.4 if units == "inch" else 10.0
    return int(room / step + 1e-9) * step


def band(length: float, units: Units) -> Fraction:
    """How far a bar of that length may measure off, either way, mm."""
    step = TAPE_STEP[units]
    steps = Fraction(length).limit_denominator(1000) * BAND / step
    return max(1, ceil(steps - Fraction(1, 2))) * step


def band_words(length: float, units: Units) -> str:
    """The band within which the sheet may be used, in words."""
    return ": use this sheet only if it measures ".join(_limits(length, units))


def _limits(length: float, units: Units) -> tuple[str, str]:
    """Which bar it is, and from what to what it may measure."""
    off = band(length, units)
    exact = Fraction(length).limit_denominator(1000)
    fine = Shown(units, INCH / 64 if units == "inch" else Fraction(1, 10))
    low, high = fine.text(exact - off), fine.text(exact + off)
    whole = f"{float(exact / INCH):g}″" if units == "inch" else f"{float(exact):g} mm"
    return f"bar {whole}", f"{low} to {high}"


def fitting_words(length: float, units: Units, size: float) -> str:
    """As `band_words`, or its limits alone where the words would run past its end."""
    words = band_words(length, units)
    if width(words, size) <= max(length, 0.0) + 10.0:
        return words
    return ": ".join(_limits(length, units))


def bar_items(bar: Bar) -> tuple[Item, ...]:
    """The bar with its ticks: inches on one side, centimetres on the other, and its numbers."""
    items: list[Item] = [_stroke(bar, 0, 0, bar.length, 0, Pen.RULE)]
    items += [_stroke(bar, at, -TICK, at, TICK, Pen.RULE) for at in (0.0, bar.length)]
    for side, step in ((1, 25.4), (-1, 10.0)):
        count = int(bar.length / step + 1e-9)
        items += [
            _stroke(bar, n * step, 0, n * step, side * TICK * 0.7, Pen.THIN)
            for n in range(1, count + 1)
        ]
    return tuple(items)


def _stroke(bar: Bar, a0: float, b0: float, a1: float, b1: float, pen: Pen) -> Stroke:
    return Stroke((_at(bar, a0, b0), _at(bar, a1, b1)), pen)


def _at(bar: Bar, along: float, off: float) -> Point:
    """A point `along` the bar and `off` to its left as it runs."""
    u, v = bar.start
    return (u - off, v + along) if bar.upward else (u + along, v + off)


def bar_words(bar: Bar, words: str, off: float, size: float) -> Text:
    """Words that run with the bar, their baseline `off` mm to its left as it runs."""
    return Text(words, _at(bar, 0, off), size, angle=90 if bar.upward else 0)
