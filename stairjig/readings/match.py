"""Readings onto marks: which mark a table's line belongs to, and which way the tape was read."""

from __future__ import annotations

import difflib
import math
import re
from collections.abc import Sequence
from itertools import accumulate, pairwise

from stairjig.errors import BadInput, Place, Problem
from stairjig.lengths import INCH, Real
from stairjig.readings.values import Line, RailMarks, Readings, Table, Way

NAMELESS = ("", "?", "extra")
"""What stands for the name of a mark that is on the rail but not on the drawing."""
_DATE = re.compile(r"\d{1,2}-[A-Za-z]{3,9}|[A-Za-z]{3,9}-\d{1,2}|\d{4}-\d\d-\d\d.*")
_OWN = float(INCH) / 8
"""A first running reading up to this is the first mark's own."""
_GROWTH = 1.2
"""The last running reading is more than this many times the first; two to the mark are twice."""
_IN_RUNNING = "in a CSV under running, on the check page in the column “from the first mark”"
_IN_SPACING = "in a CSV under spacing, on the check page in the column “from the mark before”"
STOPPED = float(INCH) / 8
"""Readings that end early fit their marks within this: tape errors and rounding at the worst."""
_UNITS_OFF = (
    (float(INCH), "millimetres, read as inches"),
    (float(INCH) / 10, "centimetres, read as inches"),
    (1 / float(INCH), "inches, read as millimetres"),
    (0.1, "centimetres, read as millimetres"),
)


def recognise(values: tuple[Real, ...], rail: RailMarks, count: int | None = None) -> Way:
    """Whether the readings are spacings or run from the first mark.

    Running readings grow steadily, so that the last comes near the length taped, and spacings
    add up to it. `count`: how many spacings are covered (default: as many as readings). A single
    reading is both, and taken as a spacing.
    """
    if values and values[0] == 0:
        return "running"
    if len(values) < 2 or len(rail) < 2:
        return "spacing"
    covered = min(count or len(values), len(rail) - 1)
    length = rail.positions[covered] - rail.positions[0]
    last, added = float(values[-1]), float(sum(values))
    grows = last > _GROWTH * float(values[0])
    return "running" if grows and _far(last, length) < _far(added, length) else "spacing"


def _far(read: float, expected: float) -> float:
    return abs(math.log(max(read, 1e-9) / expected))


def match(table: Table, rail: RailMarks) -> Readings:
    """The table's readings in the rail's order.

    Marks without a reading are kept by name in `unread`. A line without a name (or `?`, `extra`)
    is a mark that is not on the drawing: then lines count in the order they were written in.
    Raises `BadInput` for names that the rail does not have or has twice, and for no readings.
    """
    problems = list(_wrong_names(table, rail))
    if problems:
        raise BadInput(*problems)
    if any(_nameless(line) for line in table.lines):
        return _in_order(table, rail)
    read = {_tidy(line.mark): line for line in table.lines}
    names = [_tidy(name) for name in rail.names]
    lines = [read.get(name) for name in names]
    taken = [index for index, line in enumerate(lines) if line and line.reading is not None]
    if not any(taken):
        raise BadInput(Problem("holds no readings", "fill in what the tape says", table.where))
    values = tuple(line.reading for line in lines[1:] if line and line.reading is not None)
    way = table.way or recognise(values, rail, taken[-1])
    unread = tuple(
        rail.names[index]
        for index, line in enumerate(lines)
        if index and (line is None or line.reading is None)
    )
    return Readings(way, _from_first(lines[0], values, way), table.total, unread)


def _from_first(first: Line | None, values: tuple[Real, ...], way: Way) -> tuple[Real, ...]:
    """The readings after the first mark, less its own where the tape did not begin at zero."""
    if first is None or not first.reading:
        return values
    if way == "spacing":
        what = f"mark {first.mark} is the first: there is no mark before it to tape from"
        mend = "write each spacing at its upper mark and leave the first line empty"
        raise BadInput(Problem(what, mend, first.where))
    if values and values[0] <= first.reading:
        what = f"mark {first.mark} reads as much as the mark after it"
        raise BadInput(Problem(what, "readings run from the first mark up", first.where))
    return tuple(value - first.reading for value in values)


def _in_order(table: Table, rail: RailMarks) -> Readings:
    values = tuple(line.reading for line in table.lines if line.reading is not None)
    first = table.lines[0]
    if first.reading is not None and _tidy(first.mark) == _tidy(rail.names[0]):
        way = table.way or recognise(values[1:], rail)
        return Readings(way, _from_first(first, values[1:], way), table.total)
    return Readings(table.way, values, table.total)


def _nameless(line: Line) -> bool:
    return line.reading is not None and line.mark.lower() in NAMELESS


def _wrong_names(table: Table, rail: RailMarks) -> list[Problem]:
    known = {_tidy(name): name for name in rail.names}
    seen: set[str] = set()
    problems = []
    for line in table.lines:
        name = _tidy(line.mark)
        if line.mark.lower() in NAMELESS:
            continue
        if name not in known:
            mend = _mend_name(name, list(known))
            problems.append(Problem(f"there is no mark {line.mark!r}", mend, line.where))
        elif name in seen:
            problems.append(Problem(f"mark {known[name]} stands twice", "keep one", line.where))
        seen.add(name)
    return problems


def _mend_name(name: str, known: list[str]) -> str:
    if _DATE.fullmatch(name):
        return "a spreadsheet has made a date of it: set the column to text"
    near = difflib.get_close_matches(name, known, 1)
    if near:
        return f"is it {near[0]}? Leave the name of a mark that is not on the drawing empty"
    return "leave the name of a mark that is not on the drawing empty"


def _tidy(name: str) -> str:
    return re.sub(r"\s*[-‐‑–]\s*", "-", name.strip())


def settle(readings: Readings, rail: RailMarks, where: Place | None = None) -> Readings:
    """The readings with their way recognised and the first mark's own line taken off.

    Raises `BadInput` where there are none, or where they are in other units than the job.
    """
    values = readings.values
    if not values:
        raise BadInput(Problem("there are no readings", "give what the tape says", where))
    way = readings.way or recognise(values, rail)
    if way == "running" and len(values) > 1 and 0 <= values[0] <= _OWN:
        values = tuple(value - values[0] for value in values[1:])
    if any(value <= 0 for value in values):
        mend = "two marks never stand in one place; leave out a reading that was not taken"
        raise BadInput(Problem("a reading is nothing", mend, where))
    _other_way(way, values, readings.unread, rail, where)
    _wrong_units(float(values[-1] if way == "running" else sum(values)), len(values), rail, where)
    unread = readings.unread or _stopped_early(way, values, rail)
    return Readings(way, values, readings.total, unread)


def _other_way(
    way: Way, values: tuple[Real, ...], unread: Sequence[str], rail: RailMarks, where: Place | None
) -> None:
    """Raise `BadInput` for readings of the one way that were given as the other."""
    grow = all(low < high for low, high in pairwise(values))
    likely = recognise(values, rail, min(len(values) + len(unread), len(rail) - 1))
    if way == "spacing" and grow and len(values) > 2 and likely == "running":
        what = "these readings grow from mark to mark, as running readings do"
        raise BadInput(Problem(what, f"give them with --running, {_IN_RUNNING}", where))
    if way == "running" and not grow:
        what = f"running readings must grow from mark to mark: {_fall(values, unread, rail)}"
        mend = "tape both again from the first mark"
        if likely == "spacing":
            mend = f"were they taped from mark to mark? Give them with --spacing, {_IN_SPACING}"
        raise BadInput(Problem(what, mend, where))


def _fall(values: tuple[Real, ...], unread: Sequence[str], rail: RailMarks) -> str:
    """The first two neighbours whose readings do not grow, by their marks."""
    names = [name for name in rail.names[1:] if name not in unread]
    above = next(at for at in range(1, len(values)) if values[at] <= values[at - 1])
    texts = [rail.shown.text(values[at]) for at in (above - 1, above)]
    if above >= len(names):
        return f"reading {above} is {texts[0]}, the next {texts[1]}"
    return f"{names[above - 1]} reads {texts[0]}, {names[above]} after it {texts[1]}"


def _stopped_early(way: Way, values: tuple[Real, ...], rail: RailMarks) -> tuple[str, ...]:
    """The marks after the last reading, where readings end two or more short and fit so far.

    One short is as likely a mark that is missing; that is left to the verdict.
    """
    count = len(values)
    if len(rail) - 1 - count < 2:
        return ()
    read = values if way == "running" else tuple(accumulate(values))
    wander = STOPPED * (count**0.5 if way == "spacing" else 1.0)
    due = (place - rail.positions[0] for place in rail.positions[1 : count + 1])
    fits = all(abs(float(at) - place) <= wander for at, place in zip(read, due, strict=True))
    return rail.names[count + 1 :] if fits else ()


def _wrong_units(read: float, count: int, rail: RailMarks, where: Place | None) -> None:
    if len(rail) < 2:
        return
    expected = rail.positions[min(count, len(rail) - 1)] - rail.positions[0]
    for factor, words in _UNITS_OFF:
        if 0.9 < read / expected / factor < 1.1:
            shown = rail.shown
            what = f"the readings come to {shown.text(read)} where {shown.text(expected)} are due"
            mend = f"they look like {words}: write the unit beside each"
            raise BadInput(Problem(what, mend, where))
