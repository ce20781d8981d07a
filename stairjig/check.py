"""Tape readings held against the set-out of their job, section by section."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

from stairjig.errors import BadInput, Place, Problem
from stairjig.frozen import frozen
from stairjig.readings.boxes import BarBand, Boxes, judge_boxes
from stairjig.readings.diagnose import diagnose
from stairjig.readings.filled import has_check_page, is_filled, read_fields
from stairjig.readings.match import match
from stairjig.readings.parse import read_csv, read_list
from stairjig.readings.say import say
from stairjig.readings.values import Diagnosis, Kind, RailMarks, Readings, Table, Way, rail_marks
from stairjig.setout.schedule_rail import bow_limit_words
from stairjig.setout.values import SectionSetout, Setout

_GIVE = "give a CSV, --running or --spacing"
_HOLD = "but bore nothing yet: see below what else is filled in and is not right"
_COLUMNS = "but bore nothing yet: the other column says otherwise"
_EMPTY = "the check page is empty, and no mark is proved: tape them before anything is bored"
_SILENT = "bore nothing there; tape its marks, or judge the others alone by --section"


@frozen
class Checked:
    """One set of readings: what it comes to in lines of words, and whether it fails."""

    lines: tuple[str, ...]
    redo: bool


def check_list(
    setout: Setout, section: str | None, text: str, way: Way, hold: str = ""
) -> tuple[Checked, ...]:
    """Readings in order, from the command line. Raises `BadInput`.

    `hold`: what to put right before anything is bored, though the readings be right.
    """
    chosen = section_of(setout, section)
    readings = read_list(text, setout.job.units, way, f"--{way}")
    alone = _several(setout)
    return (_shown(setout, _diagnosed(setout, chosen, readings, None), hold, alone),)


def check_csv(
    setout: Setout, section: str | None, path: Path, text: str, hold: str = ""
) -> tuple[Checked, ...]:
    """Readings by name, from a CSV. Raises `BadInput`."""
    several = len(setout.sections) > 1 and section is None
    names = ", ".join(one.name for one in setout.sections) if several else ""
    tables = read_csv(text, str(path), setout.job.units, names)
    return _tables(setout, section, _of(setout, section, tables, path), hold)


def check_fields(
    setout: Setout,
    section: str | None,
    path: Path,
    fields: dict[str, str] | None,
    boxes: Boxes | None = None,
) -> tuple[Checked, ...]:
    """Readings from the filled check page of a pack. Raises `BadInput`.

    `fields`: None where the file has no place for any. `boxes`: what else is filled in; then an
    empty check page is told beside it.
    """
    if fields is None:
        raise BadInput(Problem(f"{path} holds no readings", f"{_GIVE}, or the filled pack"))
    if not has_check_page(fields):
        raise BadInput(Problem("has no check page to fill in", _GIVE, Place(str(path))))
    if boxes and not is_filled(fields):
        return (Checked((_EMPTY,), redo=True),)
    tables = read_fields(fields, setout.sections, str(path), setout.job.units)
    return _tables(setout, section, _of(setout, section, tables, path), hold_for(boxes))


def _of(
    setout: Setout, section: str | None, tables: tuple[Table, ...], path: Path
) -> tuple[Table, ...]:
    """The tables of the section that is asked for, all where none is."""
    if section is None:
        return tables
    name = section_of(setout, section).name.casefold()
    kept = tuple(t for t in tables if not t.section or t.section.strip().casefold() == name)
    if not kept:
        what = f"nothing is filled in for {section_of(setout, section).name}"
        raise BadInput(Problem(what, "leave --section out to check the others", Place(str(path))))
    return kept


def boxes_of(setout: Setout, section: str | None, fields: dict[str, str] | None) -> Boxes | None:
    """What is filled in on a pack besides its check page, judged; None where nothing is."""
    if not fields:
        return None
    from stairjig.pages.leaf import leaf_of
    from stairjig.pages.test_sheet import test_bars
    from stairjig.sheets.bars import band

    units, bars = setout.job.units, test_bars(leaf_of(setout.job.paper), setout.job.units)
    held = [
        BarBand(way, Fraction(bar.length).limit_denominator(1000), band(bar.length, units))
        for way, bar in zip(("along", "across"), bars, strict=True)
    ]
    name = section_of(setout, section).name if section else ""
    return judge_boxes(fields, setout, held, name)


def hold_for(boxes: Boxes | None) -> str:
    """What keeps right marks from being bored by, "" where nothing does."""
    return "" if boxes is None or not boxes.fails else _HOLD


def left_aside(path: Path, fields: dict[str, str] | None, used: str) -> tuple[str, ...]:
    """What is to be said where readings are given beside a check page that is filled in."""
    if not fields or not is_filled(fields):
        return ()
    return (f"{path} has its check page filled in, too; that is left aside, {used} counts",)


def _tables(
    setout: Setout, section: str | None, tables: Sequence[Table], hold: str
) -> tuple[Checked, ...]:
    """The tables' verdicts; both columns of a section are held against each other.

    Sections without readings are told and fail, unless `section` is all that is asked for.
    """
    read = []
    for table in tables:
        chosen = section_of(setout, table.section or section, table.where)
        readings = match(table, rail_marks(chosen, setout.job))
        read.append((_diagnosed(setout, chosen, readings, table.where), readings, table.where))
    looked = [_beside(setout, one, readings, where, read) for one, readings, where in read]
    failing = {one.name for one in looked if one.found.redo or one.found.apart}
    both = {one.name for one in looked if sum(two.name == one.name for two in looked) > 1}
    alone = len({one.name for one in looked}) < len(setout.sections) and _several(setout)
    shown = (
        _shown(setout, one, hold or (_COLUMNS if one.name in failing & both else ""), alone)
        for one in looked
    )
    return (*shown, *(() if section else _silent(setout, {one.name for one in looked})))


def _beside(
    setout: Setout, one: _Diagnosed, readings: Readings, where: Place | None, read: Sequence[_Read]
) -> _Diagnosed:
    """Spacings in the light of the running readings of the same rail, where there are any.

    A total that those contradict counts for nothing; where they are right, the last is a total.
    """
    running = [two for two in read if two[0].name == one.name and two[0].found.way == "running"]
    if one.found.way == "running" or not running:
        return one
    (beside, taken, _) = running[0]
    total = readings.total
    if beside.found.apart:
        total = None
    elif one.found.verdict.kind is Kind.UNPROVED and not beside.found.redo:
        total = taken.values[-1] if total is None else total
    if total == readings.total:
        return one
    return _diagnosed(setout, one.section, replace(readings, total=total), where)


def _silent(setout: Setout, told: Collection[str]) -> Iterator[Checked]:
    """The sections that can be taped and are not among those told of: nothing proves them."""
    for section in setout.sections:
        if section.name not in told and len(section.marks) > 1:
            yield Checked((f"{section.name}: no readings yet: not proved - {_SILENT}",), redo=True)


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


@frozen
class _Diagnosed:
    """A section's readings with their verdict; `fits`: the section that they fit instead."""

    section: SectionSetout
    found: Diagnosis
    fits: str = ""

    @property
    def name(self) -> str:
        return self.section.name


_Read = tuple[_Diagnosed, Readings, Place | None]


def _diagnosed(
    setout: Setout, section: SectionSetout, readings: Readings, where: Place | None
) -> _Diagnosed:
    found = diagnose(readings, rail_marks(section, setout.job), where)
    strange = found.verdict.kind in (Kind.SEVERAL, Kind.FOREIGN)
    return _Diagnosed(section, found, _fitting(setout, section, readings) if strange else "")


def _fitting(setout: Setout, section: SectionSetout, readings: Readings) -> str:
    """The other section that the readings fit as they are, "" where none is."""
    for other in setout.sections:
        if other is not section and len(other.marks) == len(readings.values) + 1:
            try:
                if not diagnose(readings, rail_marks(other, setout.job)).redo:
                    return other.name
            except BadInput:
                continue
    return ""


def _several(setout: Setout) -> bool:
    """Whether more than one section has marks to be taped from one another."""
    return sum(len(section.marks) > 1 for section in setout.sections) > 1


def _shown(setout: Setout, one: _Diagnosed, hold: str, alone: bool) -> Checked:
    """The verdict in words; `alone`: it is not on all of the job's sections."""
    rail = rail_marks(one.section, setout.job)
    lines = say(one.found, rail, hold, alone)
    if one.fits:
        where = f"they don't fit this rail, and all of them fit {one.fits}"
        return Checked((lines[0], f"{where} - give them as its readings"), one.found.redo)
    return Checked((*lines, *bow_lines(one.section, rail)), one.found.redo)


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
