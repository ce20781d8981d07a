"""Tape readings from the filled fields of a pack's check page."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from stairjig.errors import BadInput, Place, Problem
from stairjig.lengths import NotALength, Real, Units
from stairjig.readings.parse import read_reading
from stairjig.readings.values import Line, Table, Way
from stairjig.setout.values import SectionSetout

_CHECK = "check__"
_WAYS: tuple[tuple[Way, str], ...] = (
    ("spacing", "from the mark before"),
    ("running", "from the first mark"),
)


def has_check_page(fields: Mapping[str, str]) -> bool:
    """Whether a document's fields have a place for readings."""
    return any(name.startswith(_CHECK) for name in fields)


def is_filled(fields: Mapping[str, str]) -> bool:
    """Whether anything is filled in on a check page."""
    return any(name.startswith(_CHECK) and text.strip() for name, text in fields.items())


def read_fields(
    fields: Mapping[str, str], sections: Sequence[SectionSetout], file: str, units: Units
) -> tuple[Table, ...]:
    """A table for every section and column that has something in it.

    Fields are named `check__{section from 1}__{mark}__spacing` or `__running`, and
    `check__{section}__total`. Raises `BadInput` for what is no length, all at once, by the field's
    section and mark, and where nothing at all is filled in.
    """
    reader = _Reader(fields, file, units)
    tables = [
        table
        for number, section in enumerate(sections, start=1)
        for table in reader.tables(number, section)
    ]
    if reader.problems:
        raise BadInput(*reader.problems)
    if not tables:
        what = "nothing is filled in on the check page"
        what += " but a total" if is_filled(fields) else ""
        raise BadInput(
            Problem(what, "fill a column in, save the file, check it again", Place(file))
        )
    return tuple(tables)


class _Reader:
    """Reads fields one by one and keeps what is wrong with them."""

    def __init__(self, fields: Mapping[str, str], file: str, units: Units) -> None:
        self.fields, self.file, self.units = fields, file, units
        self.problems: list[Problem] = []

    def tables(self, number: int, section: SectionSetout) -> list[Table]:
        """The filled columns of one section."""
        total = self._read(f"check__{number}__total", f"{section.name}, total")
        found = []
        for way, column in _WAYS:
            lines = tuple(
                self._line(number, section.name, mark.name, way, column) for mark in section.marks
            )
            if any(line.reading is not None for line in lines):
                found.append(Table(section.name, way, lines, total, Place(self.file)))
        return found

    def _line(self, number: int, section: str, mark: str, way: Way, column: str) -> Line:
        label = f"{section}, mark {mark}, {column}"
        reading = self._read(f"check__{number}__{mark}__{way}", label)
        return Line(mark, reading, Place(self.file, label=label))

    def _read(self, name: str, label: str) -> Real | None:
        text = self.fields.get(name, "").strip()
        if not text:
            return None
        try:
            return read_reading(text, self.units)
        except NotALength as fault:
            where = Place(self.file, label=label)
            self.problems.append(Problem(f"{text!r} {fault}", "", where))
            return None
