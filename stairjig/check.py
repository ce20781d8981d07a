"""Tape readings held against the set-out of their job, section by section."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from stairjig.errors import BadInput, Place, Problem
from stairjig.frozen import frozen
from stairjig.readings.diagnose import diagnose
from stairjig.readings.filled import has_check_page, is_filled, read_fields
from stairjig.readings.match import match
from stairjig.readings.parse import read_csv, read_list
from stairjig.readings.say import say
from stairjig.readings.values import RailMarks, Readings, Table, Way, rail_marks
from stairjig.setout.schedule_rail import bow_limit_words
from stairjig.setout.values import SectionSetout, Setout

_GIVE = "give a CSV, --running or --spacing"


@frozen
class Checked:
    """One set of readings: what it comes to in lines of words, and whether it fails."""

    lines: tuple[str, ...]
    redo: bool


def check_list(setout: Setout, section: str | None, text: str, way: Way) -> tuple[Checked, ...]:
    """Readings in order, from the command line. Raises `BadInput`."""
    chosen = section_of(setout, section)
    readings = read_list(text, setout.job.units, way, f"--{way}")
    return (_checked(setout, chosen, readings, None),)


def check_csv(setout: Setout, section: str | None, path: Path, text: str) -> tuple[Checked, ...]:
    """Readings by name, from a CSV. Raises `BadInput`."""
    return _tables(setout, section, read_csv(text, str(path), setout.job.units))


def check_fields(
    setout: Setout, section: str | None, path: Path, fields: dict[str, str] | None
) -> tuple[Checked, ...]:
    """Readings from the filled check page of a pack. Raises `BadInput`.

    `fields`: None where the file has no place for any.
    """
    if fields is None:
        raise BadInput(Problem(f"{path} holds no readings", f"{_GIVE}, or the filled pack"))
    if not has_check_page(fields):
        raise BadInput(Problem("has no check page to fill in", _GIVE, Place(str(path))))
    tables = read_fields(fields, setout.sections, str(path), setout.job.units)
    if section is not None:
        name = section_of(setout, section).name
        tables = tuple(table for table in tables if table.section == name)
        if not tables:
            raise BadInput(Problem(f"nothing is filled in for {name}", "", Place(str(path))))
    return _tables(setout, section, tables)


def left_aside(path: Path, fields: dict[str, str] | None, used: str) -> tuple[str, ...]:
    """What is to be said where readings are given beside a check page that is filled in."""
    if not fields or not is_filled(fields):
        return ()
    return (f"{path} has its check page filled in, too; that is left aside, {used} counts",)


def _tables(setout: Setout, section: str | None, tables: Sequence[Table]) -> tuple[Checked, ...]:
    checked = []
    for table in tables:
        chosen = section_of(setout, table.section or section, table.where)
        readings = match(table, rail_marks(chosen, setout.job))
        checked.append(_checked(setout, chosen, readings, table.where))
    return tuple(checked)


def section_of(setout: Setout, name: str | None, where: Place | None = None) -> SectionSetout:
    """The section of that name, the only one where none is given. Raises `BadInput`."""
    names = ", ".join(section.name for section in setout.sections)
    if not name:
        if len(setout.sections) == 1:
            return setout.sections[0]
        mend = f"name one with --section or a column section: {names}"
        raise BadInput(Problem("the job has several sections", mend, where))
    for section in setout.sections:
        if section.name.casefold() == name.strip().casefold():
            return section
    raise BadInput(Problem(f"there is no section {name!r}", f"sections: {names}", where))


def _checked(
    setout: Setout, section: SectionSetout, readings: Readings, where: Place | None
) -> Checked:
    rail = rail_marks(section, setout.job)
    diagnosis = diagnose(readings, rail, where)
    return Checked((*say(diagnosis, rail), *bow_lines(section, rail)), diagnosis.redo)


def bow_lines(section: SectionSetout, rail: RailMarks) -> tuple[str, ...]:
    """What a gap under a straightedge means for marks plumbed to this rail."""
    shown = rail.shown
    gap = bow_limit_words(section.rail.pitch, shown.units)
    if not gap:
        return ()
    return (
        f"bow: a gap of {gap} between the rail's middle and a straightedge moves a mark plumbed "
        f"there about {shown.near}; more than that, prop the rail again",
    )
