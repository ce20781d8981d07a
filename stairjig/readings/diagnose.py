"""The verdict on a rail's tape readings: which mistakes fit them, and whether they pass."""

from __future__ import annotations

from stairjig.errors import BadInput, Place, Problem
from stairjig.lengths import NEAR
from stairjig.readings.accounts import Sheet, accounts, right_from_the_top
from stairjig.readings.match import settle
from stairjig.readings.matched import spacing_limit, strange
from stairjig.readings.noise import noise_of
from stairjig.readings.table import neighbours, rows
from stairjig.readings.values import Diagnosis, RailMarks, Readings
from stairjig.readings.words import verdicts


def diagnose(readings: Readings, rail: RailMarks, where: Place | None = None) -> Diagnosis:
    """What the readings say about the rail's marks.

    A wrong number of readings is a verdict, no error. Raises `BadInput` where there are no
    readings, where they are in other units than the job, and where the rail has fewer than two
    marks; `where` is the place to name then.
    """
    if len(rail) < 2:
        what = f"{rail.section or 'the section'} has one mark: there is nothing to tape between"
        raise BadInput(Problem(what, "leave its readings out", where))
    settled = settle(readings, rail, where)
    sheet = _sheet(settled, readings, rail)
    found = accounts(sheet, settled.unread)
    cases = found.cases
    apart = None if strange(cases[0]) else found.apart
    turned = len(cases[0].causes) > 1 and right_from_the_top(sheet)
    table = rows(cases[0], rail)
    near = float(NEAR[rail.shown.units])
    look = neighbours(table, near, spacing_limit(sheet.way, sheet.noise, rail.tolerance))
    return Diagnosis(
        rail.section,
        sheet.way,
        len(sheet.read),
        verdicts(cases, rail, sheet.total is not None, turned, look, apart),
        found.redo,
        table,
        look,
        None if sheet.total is None else (rail.length, sheet.total),
        apart,
    )


def _sheet(settled: Readings, given: Readings, rail: RailMarks) -> Sheet:
    """The settled readings in floats, with the error that those given may have."""
    total = None if settled.total is None else float(settled.total)
    every = given.values if given.total is None else (*given.values, given.total)
    read = tuple(float(value) for value in settled.values)
    return Sheet(rail, settled.way or "spacing", read, total, noise_of(every))
