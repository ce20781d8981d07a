"""The whole job set out, with everything that there is to warn of and to refuse."""

from __future__ import annotations

from stairjig.errors import BadInput, Finding, Problem
from stairjig.job.identity import pack_id
from stairjig.job.model import MOST_BALUSTERS, Job, Section, TreadsSection
from stairjig.setout import checks, footing, opening_checks
from stairjig.setout.changes import smallest_changes
from stairjig.setout.compare import even_counts, spacing_notes
from stairjig.setout.disagree import rail_warnings
from stairjig.setout.flight import set_flight
from stairjig.setout.odd_fractions import odd_fractions
from stairjig.setout.slips import depth_slips, job_slips, section_slips
from stairjig.setout.standing import close_warnings, open_warnings
from stairjig.setout.straight import set_straight
from stairjig.setout.values import SectionSetout, Setout
from stairjig.setout.wood import cover_warnings, depth_failures, loose_warnings, side_warnings


def set_out(job: Job) -> Setout:
    """Every section in numbers, its warnings and what it is refused for.

    Raises `BadInput`, all sections' problems at once, for measures that make no stair.
    """
    sections: list[SectionSetout] = []
    warnings = list(opening_checks.wide_limit_warnings(job.openings, job.shown))
    warnings += (*job_slips(job), *odd_fractions(job))
    failures: list[Finding] = []
    problems: list[Problem] = []
    balusters = 0
    for section in job.sections:
        try:
            done, said, refused = _set_section(job, section)
        except BadInput as bad:
            problems += [_named(problem, section) for problem in bad.problems]
            continue
        sections.append(done)
        balusters += len(done.marks)
        if balusters > MOST_BALUSTERS:
            text = f"the job comes to over {MOST_BALUSTERS:,} balusters"
            raise BadInput(Problem(text, "divide it into several jobs", section.where))
        warnings += said
        failures += refused
    if problems:
        raise BadInput(*problems)
    setout = Setout(job, pack_id(job), tuple(sections), tuple(warnings), tuple(failures))
    return _with_changes(setout) if failures else setout


def _named(problem: Problem, section: Section) -> Problem:
    """The problem with its section and the section's place where it has none of its own."""
    what = problem.what if section.name in problem.what else f"{section.name}: {problem.what}"
    return Problem(what, problem.mend, problem.where or section.where)


def _set_section(
    job: Job, section: Section
) -> tuple[SectionSetout, tuple[Finding, ...], tuple[Finding, ...]]:
    """A section, what there is to warn of, and what it is refused for."""
    shown, rules = job.shown, job.openings
    warnings, failures = (), ()  # type: tuple[Finding, ...], tuple[Finding, ...]
    if isinstance(section, TreadsSection):
        flight = set_flight(job, section)
        done, failures = flight.setout, flight.failures
        warnings = flight.notes + _flight_warnings(job, section, done)
    else:
        done = set_straight(job, section)
    kinds = tuple({mark.type.name: mark.type for mark in done.marks}.values())
    warnings = (
        *warnings,
        *checks.height_warnings(section, done.nosings, rules, shown),
        *checks.pitch_warnings(section, done.rail.pitch, rules, shown),
        *opening_checks.end_warnings(section, done, shown),
        *opening_checks.opening_warnings(
            section.name, done.openings, rules, job.allowance.mm, shown
        ),
        *opening_checks.square_in_round_warnings(section.name, kinds, shown),
        *cover_warnings(done, shown),
        *side_warnings(done, shown),
        *loose_warnings(done, kinds, shown),
        *section_slips(job, section, kinds),
    )
    failures = failures or footing.base_findings(done, shown)
    refused = opening_checks.opening_failures(section.name, done.openings, rules, shown)
    return done, warnings, (*failures, *refused, *depth_failures(done, shown))


def _flight_warnings(job: Job, section: TreadsSection, done: SectionSetout) -> tuple[Finding, ...]:
    shown = job.shown
    plan = [tread.plan for tread in done.treads]
    return (
        *checks.stair_warnings(section, plan, job.openings, shown),
        *depth_slips(job, section),
        *footing.breakout_findings(section, done.treads, shown),
        *spacing_notes(job, section, done),
        *even_counts(section, done),
        *rail_warnings(job, section, done),
        *open_warnings(section, done, shown),
        *close_warnings(job, section, done),
    )


def _with_changes(setout: Setout) -> Setout:
    changes = smallest_changes(setout)
    return Setout(
        setout.job, setout.pack_id, setout.sections, setout.warnings, setout.failures, changes
    )
