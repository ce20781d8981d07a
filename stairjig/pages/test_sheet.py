"""The test sheet: bars as long as the paper allows, and what marks and joints look like."""

from __future__ import annotations

from fractions import Fraction
from math import sqrt
from typing import TYPE_CHECKING

from stairjig.drawing import Pen, Stroke, Text, moved, rectangle
from stairjig.frozen import frozen
from stairjig.lengths import Shown
from stairjig.pages.flow import Flow
from stairjig.pages.leaf import Leaf
from stairjig.pages.lines import BODY
from stairjig.pages.tables import Blank, Column, spread
from stairjig.pages.test_sheet_samples import Sample, joint_samples, mark_sample
from stairjig.sheets.bars import TEST_BARS, Bar, band, band_words, bar_items, longest
from stairjig.type import width

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stairjig.drawing import Item, Page
    from stairjig.lengths import Units
    from stairjig.setout.values import Setout

LANE = 10.0
"""Kept free beside the words for the bars, mm."""
_BAR_OFF = 2.2
_TOP = 3.0
_BARS = (
    Column("bar", 44, bold=True),
    Column("true length", 34, "end", bold=True),
    Column("good from", 30, "end"),
    Column("to", 30, "end"),
    Column("it measures", 54, "middle"),
)
_BETWEEN = 9.0


@frozen
class _Inner(Leaf):
    """The part of a leaf that the bars leave to the words."""

    @property
    def left(self) -> float:
        """Where words begin, right of the bar along the sheet."""
        return self.margin + LANE + 4.0

    @property
    def top(self) -> float:
        """Where words begin, under the bar across the sheet."""
        return self.height - self.margin - LANE - 3.0


def test_bars(leaf: Leaf, units: Units) -> tuple[Bar, Bar]:
    """Give the test sheet's bars, along the sheet and across it, as long as it holds them.

    They are of whole inches, or of whole centimetres.
    """
    up = leaf.height - 2 * leaf.margin
    true = [float(length) for length in TEST_BARS[units]]
    long = min(longest(up, units), true[0])
    along = Bar((leaf.margin + _BAR_OFF, leaf.margin), long, True, units)
    left = leaf.margin + LANE
    right = leaf.width - leaf.margin
    level = leaf.height - leaf.margin - _TOP
    return along, Bar((left, level), min(longest(right - left, units), true[1]), False, units)


def test_sheet_pages(setout: Setout, leaf: Leaf) -> tuple[Page, ...]:
    """Set the test sheet."""
    units = setout.job.units
    bars = test_bars(leaf, units)
    flow = Flow(_Inner(leaf.width, leaf.height, leaf.margin), "test", "Test sheet")
    flow.items += _bars_drawn(bars)
    flow.heading("Test sheet", 5.5)
    flow.words(
        "Measure both bars with a steel tape before any other sheet is used: one up the left, "
        "one along the top. Their ticks are inches on one side, centimetres on the other.",
        bold=True,
    )
    flow.space(1.5)
    rows = [_bar_row(bar) for bar in bars]
    flow.table(spread(_BARS, flow.leaf.room), rows, row_height=9.0)
    flow.heading("If a bar is off", 3.6, follow=10.0)
    for number, (words, command) in enumerate(mends(setout, bars), start=1):
        flow.words(words, indent=6.0, mark=str(number))
        if command:
            flow.words(command, indent=12.0, bold=True)
    flow.words(
        "Damp makes paper grow by 0.2 to 0.4 % across its grain. Keep the sheets flat and dry; on "
        "a long strip the steel tape rules over the paper."
    )
    flow.space(1.0)
    flow.heading("True size", 3.6, follow=62.0)
    flow.space(1.0)
    _samples(flow, (_square(units), mark_sample(setout)))
    flow.space(2.0)
    _samples(flow, joint_samples())
    return flow.pages()


def _bar_row(bar: Bar) -> tuple[str | Blank, ...]:
    exact, off, fine = _exact(bar), band(bar.length, bar.units), Shown.fine(bar.units)
    name = "along" if bar.upward else "across"
    blank = Blank(f"test__{name}", f"bar {name} the sheet: what it measures")
    words = f"{name} the sheet"
    return words, fine.text(exact), fine.text(exact - off), fine.text(exact + off), blank


def _exact(bar: Bar) -> Fraction:
    return Fraction(bar.length).limit_denominator(1000)


def _bars_drawn(bars: tuple[Bar, Bar]) -> list[Item]:
    """Draw both bars with their ends and their bands."""
    along, across = bars
    u, v = along.start
    items: list[Item] = [*bar_items(along), *bar_items(across)]
    words = f"along · {band_words(along.length, along.units)}"
    items.append(Text(words, (u + 5.2, v + 14.0), BODY, angle=90))
    words = f"across · {band_words(across.length, across.units)}"
    if width(words, BODY) > across.length:
        words = words.split(":")[0]
    items.append(Text(words, (across.start[0], across.start[1] - 6.2), BODY))
    return items


def mends(setout: Setout, bars: tuple[Bar, Bar]) -> tuple[tuple[str, str], ...]:
    """Say what to do about a bar that is off, the likeliest cause first, each with its command."""
    along, across = bars
    fine = Shown.fine(setout.job.units)
    exact = _exact(along)
    fitted = fine.text(exact * Fraction(94, 100))
    unit = "inches" if setout.job.units == "inch" else "millimetres"
    lengths = [fine.plain(_exact(bar) * Fraction(996, 1000)) for bar in (along, across)]
    return (
        (
            "Print again at “actual size” or 100 %, from a PDF viewer. Switch off “fit”, “shrink "
            f"to page” and “scale to paper size”. (A bar that reads about {fitted} instead of "
            f"{fine.text(exact)} was fitted to the page.)",
            "",
        ),
        (
            "Still off, by the same little on every print: it is the printer. Measure both bars "
            f"and give the office what they measure, in {unit}. For the office: name the printer "
            "so, then make the pack again with --printer and that name:",
            f'stairjig printer office --along "{lengths[0]}" --across "{lengths[1]}"',
        ),
        (
            "Off, and not the same twice: use another printer. Throw away every sheet whose bar is "
            "out of its band.",
            "",
        ),
    )


def _square(units: Units) -> Sample:
    """Draw a square that shows whether the two directions agree and stand square."""
    side = 50.8 if units == "inch" else 50.0
    fine = Shown.fine(units)
    exact = Fraction(side).limit_denominator(10)
    corners = ((0.0, 0.0), (side, side)), ((0.0, side), (side, 0.0))
    items = (
        rectangle(0.0, 0.0, side, side, Pen.RULE),
        *(Stroke(ends, Pen.FAINT) for ends in corners),
    )
    words = f"Square: each side {fine.text(exact)}, both diagonals {fine.text(side * sqrt(2))}"
    return Sample(items, side, side, words)


def _samples(flow: Flow, samples: Sequence[Sample]) -> None:
    """Set samples side by side, as many as a row holds, their words under them."""
    row: list[Sample] = []
    for sample in samples:
        wide = sum(one.width + _BETWEEN for one in (*row, sample)) - _BETWEEN
        if row and wide > flow.leaf.room:
            _row(flow, row)
            row = []
        row.append(sample)
    _row(flow, row)


def _row(flow: Flow, row: Sequence[Sample]) -> None:
    """Set one row of samples, their feet on one level."""
    under = max(sample.under for sample in row)
    items: list[Item] = []
    left = 0.0
    for sample in row:
        items += [moved(item, (left, under)) for item in sample.items]
        items += [moved(text, (left, under)) for text in sample.texts]
        left += sample.width + _BETWEEN
    flow.drawing(items, under + max(sample.height for sample in row))
    flow.space(3.0)
