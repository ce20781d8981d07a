"""The scale bars of a sheet, which prove that it was printed at its true size."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache
from math import ceil

from stairjig.frozen import frozen
from stairjig.job.model import Job
from stairjig.lengths import INCH, Shown, Units
from stairjig.proof.marks import ReadPage, ReadStroke, ReadText
from stairjig.proof.shapes import CLOSE, Shape, differences, drawn, line

Point = tuple[float, float]
BAND = Fraction(3, 1000)
"""What a bar may be off, over its length."""
TAPE_STEP = {"inch": INCH / 32, "mm": Fraction(1, 2)}
"""mm to which a tape is read: what a bar may be off is a whole number of these."""
LONGEST_TEST = {"inch": (10 * INCH, 7 * INCH), "mm": (Fraction(250), Fraction(170))}
"""The test sheet's bars, along and across, at the longest, mm."""
TICK = 1.6
TEST_LANE = 10.0
"""What the test sheet keeps for its bar along, mm."""
_STEPS = ((25.4, 1), (10.0, -1))
"""mm from tick to tick, and to which side: inches to the left as the bar runs, centimetres not."""
_STEP = {"inch": 25.4, "mm": 10.0}
_FINE = {"inch": INCH / 64, "mm": Fraction(1, 10)}
TEST_LABELS = ("test", "test 1")
"""How the test sheet, or its first page, is labelled."""
_THICK = 0.2
"""mm from which a line is a bar's own, not one of its finer ticks."""
_SHEET = re.compile(r"(?:^| · )sheet \d+ of \d+\b")
_HEAD = re.compile(r".*sheet \d+ of \d+(?: · pack [0-9A-Z]{6}(?: · REPRINT)?(?: · only for .*)?)?")
_BETWEEN = " · "
_BLACK = 0.1
_USE = " use this sheet only if it measures"
_AT_SIZE = "print at actual size"


@frozen
class _Bar:
    start: Point
    length: float
    upward: bool


def longest(room: float, units: Units) -> float:
    """The longest bar of whole inches, or of whole centimetres, that a room holds, mm."""
    return int(room / _STEP[units] + 1e-9) * _STEP[units]


def _wholes(room: float, units: Units) -> tuple[float, float]:
    """The longest bar of a room, either of two where that is whole but for a hair."""
    return longest(room - CLOSE, units), longest(room + CLOSE, units)


def band_words(length: float, units: Units) -> str:
    """What is said of a bar: its length, and what it may measure."""
    exact = Fraction(length).limit_denominator(1000)
    off = max(1, ceil(exact * BAND / TAPE_STEP[units] - Fraction(1, 2))) * TAPE_STEP[units]
    fine = Shown(units, _FINE[units])
    whole = f"{float(exact / INCH):g}″" if units == "inch" else f"{float(exact):g} mm"
    measures = f"{fine.text(exact - off)} to {fine.text(exact + off)}"
    return f"bar {whole}: use this sheet only if it measures {measures}"


def sheet_bar_faults(page: ReadPage, number: str, job: Job, scale: Point) -> Iterable[str]:
    """What is wrong with the bars of a sheet of strips: nothing else is drawn beside its tiles."""
    where = f"sheet {number}"
    bars, faults = _sheet_bars(tuple(replace(stroke, order=0) for stroke in _strokes(page, scale)))
    yield from (f"{where}: {fault}" for fault in faults)
    if up := bars[0]:
        lengths = _wholes(page.height - 2 * float(job.paper.margin.mm), job.units)
        wanted = min(lengths, key=lambda length: abs(length - up.length))
        yield from _length_faults(where, "along", up, wanted)
        words = f"{band_words(wanted, job.units)} · {_AT_SIZE}"
        if words not in " ".join(item.text for item in page.items if isinstance(item, ReadText)):
            yield f"{where}: it does not say {words!r}"
    if bars[1]:
        length = longest(bars[1].length + CLOSE, job.units)
        yield from _length_faults(where, "across", bars[1], length)
        words = band_words(length, job.units)
        yield from _said_faults(where, page, (words, words.replace(_USE, "")))


@lru_cache(maxsize=64)
def _sheet_bars(
    strokes: tuple[ReadStroke, ...],
) -> tuple[tuple[_Bar | None, _Bar | None], tuple[str, ...]]:
    """The bars that some strokes make, along and across, and what is wrong with those strokes.

    Most sheets have the same ones.
    """
    bars = _bar(strokes, True), _bar(strokes, False)
    ways = zip(bars, ("along", "across"), strict=True)
    faults = [f"it has no scale bar {way} the sheet" for bar, way in ways if bar is None]
    expected = [shape for bar in bars if bar for shape in _shapes(bar)]
    faults += differences(expected, [drawn(stroke) for stroke in strokes])
    if any(stroke.grey > _BLACK for stroke in strokes):
        faults.append("a scale bar is not black")
    return bars, tuple(faults)


def test_bar_faults(page: ReadPage, number: str, job: Job, scale: Point) -> Iterable[str]:
    """What is wrong with the two bars of the test sheet."""
    where, units, margin = f"sheet {number}", job.units, float(job.paper.margin.mm)
    most = [float(length) for length in LONGEST_TEST[units]]
    rooms = (page.height - 2 * margin, page.width - 2 * margin - TEST_LANE)
    strokes = _strokes(page, scale)
    found = [drawn(stroke) for stroke in strokes]
    for way, room, limit in zip(("along", "across"), rooms, most, strict=True):
        lengths = [min(length, limit) for length in _wholes(room, units)]
        bars = _bars(strokes, upward=way == "along")
        fits = ((b, n) for b in bars for n in lengths if abs(b.length - n) < CLOSE)
        bar, length = next(fits, (None, lengths[0]))
        if bar is None:
            yield f"{where}: the test bar {way} is missing or not {length:g} mm long"
            continue
        near = [shape for shape in found if _is_near(shape, bar)]
        if any(stroke.grey > _BLACK and _is_near(drawn(stroke), bar) for stroke in strokes):
            yield f"{where}: the test bar {way} is not black"
        missed = [f for f in differences(_shapes(bar), near) if "does not have" not in f]
        yield from (f"{where}: {fault}" for fault in missed)
        words = f"{way} · {band_words(length, units)}"
        yield from _said_faults(where, page, (words, words.partition(":")[0]))


def _is_near(shape: Shape, bar: _Bar) -> bool:
    """Whether a shape lies within a tick of a bar."""
    (u, v), high, reach = bar.start, bar.length if bar.upward else 0.0, TICK + CLOSE
    wide = bar.length - high
    return all(
        u - reach <= at[0] <= u + wide + reach and v - reach <= at[1] <= v + high + reach
        for at in shape.points
    )


def _strokes(page: ReadPage, scale: Point) -> list[ReadStroke]:
    strokes = [item for item in page.items if isinstance(item, ReadStroke)]
    if scale == (1.0, 1.0):
        return strokes
    return [
        replace(s, points=tuple((u / scale[0], v / scale[1]) for u, v in s.points)) for s in strokes
    ]


def _bars(strokes: Sequence[ReadStroke], upward: bool) -> Iterable[_Bar]:
    """The thick straight lines of one direction, the longest first."""
    found = []
    for stroke in strokes:
        if stroke.kinds == "l" and stroke.weight > _THICK:
            low, high = sorted(stroke.points)
            wide, tall = high[0] - low[0], high[1] - low[1]
            if (wide < CLOSE) if upward else (abs(tall) < CLOSE):
                start = min(low, high, key=lambda point: point[1] if upward else point[0])
                found.append(_Bar(start, abs(tall) if upward else wide, upward))
    return sorted(found, key=lambda bar: -bar.length)


def _bar(strokes: Sequence[ReadStroke], upward: bool) -> _Bar | None:
    bar = next(iter(_bars(strokes, upward)), None)
    return bar if bar and bar.length > 3 * TICK else None


def _shapes(bar: _Bar) -> list[Shape]:
    """A bar's line, its ends, and a tick for each inch and each centimetre."""
    what = f"the scale bar {'along' if bar.upward else 'across'} the sheet"
    ticks = [(0.0, 0.0, bar.length, 0.0), *((at, -TICK, at, TICK) for at in (0.0, bar.length))]
    for step, side in _STEPS:
        count = int(bar.length / step + 1e-6)
        ticks += [(n * step, 0.0, n * step, side * TICK * 0.7) for n in range(1, count + 1)]
    u, v = bar.start

    def at(along: float, off: float) -> Point:
        return (u - off, v + along) if bar.upward else (u + along, v + off)

    return [line(what, at(a, b), at(c, d), "full") for a, b, c, d in ticks]


def _length_faults(where: str, way: str, bar: _Bar, wanted: float) -> Iterable[str]:
    if abs(bar.length - wanted) > CLOSE:
        yield f"{where}: the scale bar {way} is {bar.length:.2f} mm long instead of {wanted:g}"


def _said_faults(where: str, page: ReadPage, words: Sequence[str]) -> Iterable[str]:
    if not any(isinstance(item, ReadText) and item.text in words for item in page.items):
        yield f"{where}: it does not say {words[0]!r}"


def foot_faults(page: ReadPage, number: str, job: Job, names: Sequence[str]) -> Iterable[str]:
    """What a sheet of strips says of the job and the tiles that are on it.

    At its side the names are cut short where they are long; in the document's outline never.
    """
    if " ".join(page.title.split()) != f"Sheet {number}: {', '.join(names)}":
        yield f"sheet {number}: the outline says of it {page.title!r}"
    for item in page.items:
        if isinstance(item, ReadText) and _SHEET.search(item.text):
            if not _is_named(item.text, job.title, names):
                yield f"sheet {number}: it says of itself {item.text!r}"
            return
    yield f"page {page.number}: it does not say which sheet it is"


def _is_named(words: str, title: str, names: Sequence[str]) -> bool:
    """Whether a sheet's words end with its job and tiles; they may be cut short, or left out."""
    full = f"{title} · {', '.join(names)}"
    if words.endswith(f" · {full}"):
        return True
    if not words.endswith("…"):
        return _HEAD.fullmatch(words) is not None
    parts = words[:-1].split(_BETWEEN)
    return any(full.startswith(_BETWEEN.join(parts[n:])) for n in range(len(parts)))
