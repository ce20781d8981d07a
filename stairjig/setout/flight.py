"""A `treads` section set out: balusters standing on the treads of an open stringer."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate

from stairjig.errors import Finding
from stairjig.frozen import frozen
from stairjig.job.model import Job, TreadsSection
from stairjig.lengths import Real
from stairjig.setout import newels, openings, rows
from stairjig.setout.pitch import (
    PitchLine,
    line_at_pitch,
    nosing_points,
    nosings_under,
    resting_line,
)
from stairjig.setout.plan import lay_plan
from stairjig.setout.rail import Named, marks_on, set_rail, taped_pitch
from stairjig.setout.rows import Spaced
from stairjig.setout.values import Mark, PlanTread, RailSetout, SectionSetout, SetNewel, SetTread

_SAME = 1e-9
"""Gaps closer than this, mm, are one."""


@frozen
class Flight:
    """A flight set out, with what its spacing has to say of itself."""

    setout: SectionSetout
    notes: tuple[Finding, ...]
    failures: tuple[Finding, ...]


def set_flight(job: Job, section: TreadsSection) -> Flight:
    """The whole section in numbers. Raises `BadInput` for measures that make no stair."""
    plan, notes = lay_plan(section, job.shown)
    spaced = rows.spaced(job, section, plan)
    named = rows.names_on(plan, spaced.row)
    lower, upper = _newel(section, "lower", spaced), _newel(section, "upper", spaced)
    points = nosing_points(plan, [rise.mm for rise in section.rises])
    pitch = resting_line(points)
    if section.rail_taped:
        pitch = line_at_pitch(points, taped_pitch(section.rail_taped, named))
    rail = _rail(section, plan, named, pitch, (lower, upper))
    tops = tuple(accumulate(rise.mm for rise in section.rises))
    marks = _marks(section, plan, named, pitch, rail.prop, tops)
    gaps = list(spaced.gaps.values())
    setout = SectionSetout(
        section=section,
        line_length=plan[-1].back.s - plan[0].front.s,
        gap=gaps[0] if max(gaps) - min(gaps) <= _SAME else None,
        treads=_treads(plan, spaced.gaps, marks),
        marks=marks,
        lower_newel=lower,
        upper_newel=upper,
        rail=rail,
        nosings=nosings_under(points, pitch),
        tops=tops,
        openings=tuple(
            openings.judged(between, "stair", clear, job.openings)
            for between, clear in openings.clear_gaps(named, lower, upper)
        ),
    )
    notes += rows.taken_notes(section.name, spaced)
    return Flight(setout, notes, rows.even_failures(section.name, plan, spaced, job.shown))


def _newel(section: TreadsSection, end: newels.End, spaced: Spaced) -> SetNewel | None:
    newel = section.lower_newel if end == "lower" else section.upper_newel
    stand = spaced.lower if end == "lower" else spaced.upper
    beside = spaced.row[0] if end == "lower" else spaced.row[-1]
    return newels.set_newel(newel, end, stand, spaced.row, spaced.gaps[beside.tread or 0])


def _rail(
    section: TreadsSection,
    plan: Sequence[PlanTread],
    named: Sequence[Named],
    pitch: PitchLine,
    ends: tuple[SetNewel | None, SetNewel | None],
) -> RailSetout:
    risers = [(tread.number, tread.front.s) for tread in plan]
    risers.append((plan[-1].number + 1, plan[-1].back.s))
    return set_rail(pitch, named[0].placed.s, ends, risers, section.rail)


def _marks(
    section: TreadsSection,
    plan: Sequence[PlanTread],
    named: Sequence[Named],
    pitch: PitchLine,
    prop: float,
    tops: Sequence[Real],
) -> tuple[Mark, ...]:
    heights = {tread.number: tops[tread.index] for tread in plan}
    stands = [heights[mark.tread or 0] for mark in named]
    return marks_on(named, pitch, prop, stands, section.rail.plow is not None)


def _treads(
    plan: Sequence[PlanTread], gaps: dict[int, Real], marks: Sequence[Mark]
) -> tuple[SetTread, ...]:
    by_tread: dict[int | None, list[Mark]] = {}
    for mark in marks:
        by_tread.setdefault(mark.tread, []).append(mark)
    return tuple(
        SetTread(tread, gaps.get(tread.index), tuple(by_tread.get(tread.number, ())))
        for tread in plan
    )
