"""A `treads` section set out: balusters standing on the treads of an open stringer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate

from stairjig.errors import BadInput, Finding, Problem
from stairjig.job.model import Job, Newel, TreadsSection
from stairjig.lengths import Real
from stairjig.setout import newels, openings
from stairjig.setout.even import EvenRow, EvenSpacing
from stairjig.setout.newels import Stand
from stairjig.setout.pitch import (
    PitchLine,
    line_at_pitch,
    nosing_points,
    nosings_under,
    resting_line,
)
from stairjig.setout.plan import lay_plan
from stairjig.setout.rail import Named, marks_on, numbered, set_rail, taped_pitch
from stairjig.setout.spacing import Pattern, Placed, TreadCounts, tread_row
from stairjig.setout.values import Mark, PlanTread, SectionSetout, SetNewel, SetTread


@dataclass(frozen=True, slots=True)
class Flight:
    """A flight set out, with what its spacing has to say of itself."""

    setout: SectionSetout
    notes: tuple[Finding, ...]
    failures: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Spaced:
    """A section's row of balusters, its layout gap by tread index, and where its newels stand."""

    row: tuple[Placed, ...]
    gaps: dict[int, Real]
    lower: Stand | None
    upper: Stand | None
    hits: tuple[Finding, ...] = ()


def set_flight(job: Job, section: TreadsSection) -> Flight:
    """The whole section in numbers. Raises `BadInput` for measures that make no stair."""
    plan, notes = lay_plan(section)
    even = section.spacing == "even"
    spaced = spaced_evenly(job, section, plan) if even else spaced_by_tread(job, section, plan)
    named = numbered(spaced.row, {tread.index: tread.number for tread in plan})
    lower = _newel(section, "lower", spaced)
    upper = _newel(section, "upper", spaced)
    points = nosing_points(plan, [rise.mm for rise in section.rises])
    pitch = resting_line(points)
    if section.rail_taped:
        pitch = line_at_pitch(points, taped_pitch(section.rail_taped, named))
    risers = [(tread.number, tread.front.s) for tread in plan]
    risers.append((plan[-1].number + 1, plan[-1].back.s))
    rail = set_rail(pitch, named[0].placed.s, (lower, upper), risers, section.rail)
    tops = tuple(accumulate(rise.mm for rise in section.rises))
    marks = _marks(plan, named, pitch, rail.prop, tops)
    setout = SectionSetout(
        section=section,
        line_length=plan[-1].back.s - plan[0].front.s,
        gap=_one_gap(list(spaced.gaps.values())),
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
    return Flight(setout, notes, spaced.hits)


def pattern_of(job: Job, names: Sequence[str]) -> Pattern:
    """The pattern of a section by its types' names."""
    return Pattern([job.baluster(name) for name in names])


def tread_counts(job: Job, section: TreadsSection, plan: Sequence[PlanTread]) -> TreadCounts:
    """How the section's balusters are counted: what is given by hand, the rest by its rule.

    Raises `BadInput` where a count is to be found and the rules give no limit to find it by.
    """
    fixed = {
        tread.index: given.per_tread or section.per_tread
        for tread, given in zip(plan, section.treads, strict=True)
        if given.per_tread or section.per_tread
    }
    limit = job.openings.stair
    if limit is None and any(not tread.bare and tread.index not in fixed for tread in plan):
        raise BadInput(
            Problem(
                f"{section.name}: without a stair limit the number on a tread can't be found",
                "give openings a stair limit, or per_tread a number",
                section.where,
            )
        )
    most = limit.mm if limit else Fraction(0)
    lower, upper = openings.newel_slacks(section.lower_newel, section.upper_newel)
    return TreadCounts(
        treads=tuple(plan),
        pattern=pattern_of(job, section.pattern),
        fixed={index: count for index, count in fixed.items() if count},
        passes=lambda gap: job.openings.passes(gap + job.allowance.mm, most),
        lower=lower,
        upper=upper,
    )


def spaced_by_tread(job: Job, section: TreadsSection, plan: Sequence[PlanTread]) -> Spaced:
    """Each tread divided by its own run. Raises `BadInput`."""
    counts = tread_counts(job, section, plan)
    set_back = section.set_back.mm if section.set_back else Fraction(0)
    row, gaps = tread_row(plan, counts.choose(), counts.pattern, set_back)
    lower, upper = (
        newels.stand_on_treads(newel, end, plan, row, gaps, set_back)
        for newel, end in _ends(section)
    )
    return Spaced(newels.without_taken(row, lower, upper), gaps, lower, upper)


def spaced_evenly(job: Job, section: TreadsSection, plan: Sequence[PlanTread]) -> Spaced:
    """One equal gap over all treads; what stands in a step is in `hits`. Raises `BadInput`."""
    counts = tread_counts(job, section, plan)
    standing = [tread for tread in plan if not tread.bare]
    even = EvenSpacing(standing, counts.pattern, counts.passes, counts.lower, counts.upper)
    set_back = section.set_back.mm if section.set_back else None
    by_hand = [counts.fixed.get(tread.index) for tread in standing]
    number = sum(count or 0 for count in by_hand) if all(by_hand) else None
    low, high = (
        newels.stand_on_treads(newel, end, plan, (), {standing[0].index: Fraction(0)}, Fraction(0))
        if newel.place != "replaces"
        else None
        for newel, end in _ends(section)
    )
    if (low and low.stands) or (high and high.stands):
        return _even_between(section, even, low, high, number)
    row = even.found(set_back, number)
    first, length = standing[0].front.s, standing[-1].back.s - standing[0].front.s
    lower = Stand(first + row.start - row.gap, stands=False) if low else None
    upper = Stand(first + row.start + length, stands=False) if high else None
    gaps = {tread.index: row.gap for tread in standing}
    return Spaced(row.row, gaps, lower, upper, _hits(section, row))


def _ends(section: TreadsSection) -> tuple[tuple[Newel, newels.End], tuple[Newel, newels.End]]:
    return (section.lower_newel, "lower"), (section.upper_newel, "upper")


def _even_between(
    section: TreadsSection,
    even: EvenSpacing,
    low: Stand | None,
    high: Stand | None,
    number: int | None,
) -> Spaced:
    start = low.face if low else even.treads[0].front.s
    end = high.face if high else even.treads[-1].back.s
    row = even.between(start, end, number)
    gaps = {tread.index: row.gap for tread in even.treads}
    return Spaced(row.row, gaps, low, high, _hits(section, row))


def _hits(section: TreadsSection, row: EvenRow) -> tuple[Finding, ...]:
    if not row.hits:
        return ()
    worst = "; ".join(
        f"baluster {hit.index + 1}, at tread {hit.tread}, by {hit.short:.1f} mm "
        f"({hit.short / 25.4:.2f} in)"
        for hit in row.hits[:6]
    )
    text = (
        f"no equal spacing clears every riser and nosing; {len(row.row)} balusters come nearest, "
        f"and {len(row.hits)} of them stand in a step: {worst}; take spacing: tread"
    )
    return (Finding("even-spacing", section.name, text),)


def _newel(section: TreadsSection, end: newels.End, spaced: Spaced) -> SetNewel | None:
    newel = section.lower_newel if end == "lower" else section.upper_newel
    stand = spaced.lower if end == "lower" else spaced.upper
    beside = spaced.row[0] if end == "lower" else spaced.row[-1]
    return newels.set_newel(newel, end, stand, spaced.row, spaced.gaps[beside.tread or 0])


def _marks(
    plan: Sequence[PlanTread],
    named: Sequence[Named],
    pitch: PitchLine,
    prop: float,
    tops: Sequence[Real],
) -> tuple[Mark, ...]:
    heights = {tread.number: tops[tread.index] for tread in plan}
    return marks_on(named, pitch, prop, [heights[mark.tread or 0] for mark in named])


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


def _one_gap(gaps: Sequence[Real]) -> Real | None:
    return gaps[0] if max(gaps) - min(gaps) <= 1e-9 else None
