"""Text to readings: a CSV to tables, a list from the command line to readings in order."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator
from fractions import Fraction

from stairjig.errors import BadInput, Place, Problem
from stairjig.frozen import frozen
from stairjig.lengths import NotALength, Units, read_length
from stairjig.readings.values import Line, Readings, Table, Way

TOTAL = "total"
COLUMNS = ("section", "mark", "spacing", "running")
MOST_TEXT = 256_000
"""Characters in a CSV of readings."""
MOST_LINES = 12_000
_WAYS: tuple[Way, ...] = ("spacing", "running")
_TOTAL_ITEM = re.compile(r"total\s*[:=]?\s*(?P<length>\S.*)", re.IGNORECASE | re.DOTALL)
_DECIMAL_COMMA = re.compile(r"(?<=\d),(?=\d)")


def read_reading(text: str, units: Units) -> Fraction:
    """One reading off the tape, in mm; zero is one. Raises `NotALength`."""
    mm = read_length(text, units)
    if mm < 0:
        raise NotALength("is negative; readings run from the first mark up")
    return mm


@frozen
class _Head:
    """A CSV's header: what parts its fields, which column is which, and the readings' way."""

    delimiter: str
    columns: tuple[str, ...]
    way: Way


def read_csv(text: str, file: str, units: Units, parted: str = "") -> tuple[Table, ...]:
    """The tables in a CSV with header `mark,spacing` or `mark,running`, one for each section.

    A column `section` parts a job's sections; the line of the mark `total` holds first to last.
    Semicolons and tabs part fields as well; a line that begins with # is a remark. An empty
    reading stays in as None. `parted`: the sections, by name, where the CSV must say of which
    each line is. Raises `BadInput` with every problem and its line.
    """
    if len(text) > MOST_TEXT:
        raise BadInput(Problem("is too long for readings", "give the CSV alone", Place(file)))
    lines = [
        (number, line)
        for number, line in enumerate(text.removeprefix("\ufeff").splitlines(), 1)
        if line.strip() and not line.lstrip().startswith("#")
    ]
    if not lines:
        raise BadInput(Problem("holds no readings", "begin with mark,spacing", Place(file)))
    head = _head(*lines[0], file)
    if parted and "section" not in head.columns:
        what = "the job has several sections, and the CSV has no column section"
        mend = f"add the column, or name the one it is of with --section: {parted}"
        raise BadInput(Problem(what, mend, Place(file, lines[0][0], 1)))
    return _Reader(head, file, units).tables(lines[1:])


def _head(number: int, line: str, file: str) -> _Head:
    delimiter = max(",;\t", key=line.count)
    columns = tuple(cell.strip().lower() for cell in next(csv.reader([line], delimiter=delimiter)))
    where = Place(file, number, 1)
    mend = "the header is mark,spacing or mark,running, with a column section where needed"
    problems = [
        Problem(f"has a column {column!r} that is not known", mend, where)
        for column in columns
        if column not in COLUMNS
    ]
    problems += [
        Problem(f"has the column {column} twice", mend, where)
        for column in COLUMNS
        if columns.count(column) > 1
    ]
    ways = [way for way in _WAYS if way in columns]
    if "mark" not in columns or len(ways) != 1:
        problems.append(Problem("does not begin with the header of readings", mend, where))
    if problems:
        raise BadInput(*problems)
    return _Head(delimiter, columns, ways[0])


class _Reader:
    """Reads the lines under a header, and keeps every problem until the end."""

    def __init__(self, head: _Head, file: str, units: Units) -> None:
        self.head, self.file, self.units = head, file, units
        self.problems: list[Problem] = []
        self.lines: dict[str, list[Line]] = {}
        self.totals: dict[str, Line] = {}
        self.first: dict[str, Place] = {}

    def tables(self, lines: list[tuple[int, str]]) -> tuple[Table, ...]:
        if len(lines) > MOST_LINES:
            raise BadInput(Problem(f"has over {MOST_LINES} lines", "", Place(self.file)))
        for number, line in lines:
            self._line(number, line)
        if not self.problems and not self.lines:
            self._fault("holds no readings", "one line for each mark", Place(self.file))
        if self.problems:
            raise BadInput(*self.problems)
        return tuple(
            Table(
                section,
                self.head.way,
                tuple(lines_of),
                self.totals[section].reading if section in self.totals else None,
                self.first[section],
            )
            for section, lines_of in self.lines.items()
        )

    def _fault(self, what: str, mend: str, where: Place) -> None:
        self.problems.append(Problem(what, mend, where))

    def _line(self, number: int, line: str) -> None:
        cells = [cell.strip() for cell in next(csv.reader([line], delimiter=self.head.delimiter))]
        where = Place(self.file, number, 1)
        if not any(cells):
            return
        if len(cells) > len(self.head.columns) and any(cells[len(self.head.columns) :]):
            mend = "part the fields with semicolons where a comma is the decimal sign"
            self._fault("has more fields than the header", mend, where)
            return
        fields = dict(zip(self.head.columns, cells, strict=False))
        section, mark = fields.get("section", ""), fields.get("mark", "")
        if "section" in self.head.columns and not section:
            self._fault("does not say its section", "every line needs one", where)
        entry = Line(mark, self._reading(fields.get(self.head.way, ""), where), where)
        self.first.setdefault(section, where)
        if mark.lower() != TOTAL:
            self.lines.setdefault(section, []).append(entry)
        elif section in self.totals:
            mend = "one total, first mark to last; a column section parts the rails of several"
            self._fault("is a second total", mend, where)
        else:
            self.totals[section] = entry

    def _reading(self, text: str, where: Place) -> Fraction | None:
        if not text:
            return None
        try:
            return read_reading(text, self.units)
        except NotALength as fault:
            self._fault(f"{text!r} {fault}", "", where)
            return None


def read_list(text: str, units: Units, way: Way | None = None, source: str = "") -> Readings:
    """Readings in order from the command line: `4 3/4, 4 13/16; 4 3/4`, last `total 72 1/4`.

    Comma, semicolon or new line part them; blanks do not, a fraction has some. In mm a comma is
    the decimal sign where semicolons, new lines or commas with a blank part the readings.
    `source`: what to name in a problem. Raises `BadInput` with every problem and its place.
    """
    values: list[Fraction] = []
    total: Fraction | None = None
    problems: list[Problem] = []
    for number, item in enumerate(_items(text, units), 1):
        where = Place(source or "readings", label=f"reading {number}")
        named = _TOTAL_ITEM.fullmatch(item)
        try:
            if not item:
                raise NotALength("is empty; leave a reading out without a comma of its own")
            if named and total is not None:
                raise NotALength("is a second total; give one, first mark to last")
            if named:
                total = read_reading(named["length"], units)
            else:
                values.append(read_reading(item, units))
        except NotALength as fault:
            problems.append(Problem(f"{item!r} {fault}" if item else str(fault), "", where))
    if not values and not problems:
        mend = "write them like 4 3/4, 4 13/16" if units == "inch" else "write them like 121; 120,5"
        problems.append(Problem("holds no readings", mend, Place(source or "readings")))
    if problems:
        raise BadInput(*problems)
    return Readings(way, tuple(values), total)


def _items(text: str, units: Units) -> Iterator[str]:
    if len(text) > MOST_TEXT:
        raise BadInput(Problem("is too long for readings", "give the readings alone"))
    parted = re.search(r"[;\n]|,\s", text.strip())
    if units == "mm" and parted:
        text = _DECIMAL_COMMA.sub(".", text)
    items = [item.strip() for item in re.split(r"[,;\n]", text)]
    while items and not items[-1]:
        items.pop()
    lines = {index for index, item in enumerate(items) if not item and _blank_line(text, index)}
    return (item for index, item in enumerate(items) if index not in lines)


def _blank_line(text: str, index: int) -> bool:
    """Whether the empty item of that index only comes of a new line beside another sign."""
    marks = re.findall(r"[,;\n]", text)
    return "\n" in marks[max(index - 1, 0) : index + 1]
