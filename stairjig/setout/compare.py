"""Spacing by the tread held against one equal gap, where the runs of a flight differ."""

from __future__ import annotations

from dataclasses import replace

from stairjig.errors import BadInput, Finding
from stairjig.job.model import Job, TreadsSection
from stairjig.setout.opening_checks import gap_range
from stairjig.setout.rows import hit_words, spaced_by_tread, spaced_evenly
from stairjig.setout.values import SectionSetout

_SAME = 1e-6
"""Gaps closer than this, mm, do not vary."""


def spacing_notes(job: Job, section: TreadsSection, done: SectionSetout) -> tuple[Finding, ...]:
    """How far the gaps vary by the tread, and what one equal gap would be or why there is none.

    Nothing where all treads have the same gap.
    """
    plan = [tread.plan for tread in done.treads]
    try:
        by_tread = spaced_by_tread(job, section, plan)
    except BadInput:
        return ()
    gaps = list(by_tread.gaps.values())
    if max(gaps) - min(gaps) <= _SAME:
        return ()
    if section.spacing == "even":
        text = f"every gap is equal; spacing: tread would have gaps of {gap_range(gaps, job.shown)}"
        text += f" with {len(by_tread.row)} balusters"
    else:
        text = f"spacing by the tread has gaps of {gap_range(gaps, job.shown)}"
        text += f" with {len(by_tread.row)} balusters; {_even(job, section, done)}"
    return (Finding("spacing-comparison", section.name, text),)


def even_counts(section: TreadsSection, done: SectionSetout) -> tuple[Finding, ...]:
    """Where one equal gap puts another number on a tread than it was given by hand."""
    if section.spacing != "even":
        return ()
    told = [
        f"{len(tread.marks)} on tread {given.number} (per_tread {asked})"
        for given, tread in zip(section.treads, done.treads, strict=True)
        if (asked := given.per_tread or section.per_tread)
        and not given.bare
        and asked != len(tread.marks)
    ]
    if not told:
        return ()
    text = f"spacing: even shares out the sum of all per_tread: it puts {', '.join(told)}"
    return (Finding("even-count", section.name, text),)


def _even(job: Job, section: TreadsSection, done: SectionSetout) -> str:
    plan = [tread.plan for tread in done.treads]
    if section.spacing == "tread" and section.set_back and section.set_back.mm == 0:
        section = replace(section, set_back=None)
    try:
        even = spaced_evenly(job, section, plan)
    except BadInput as bad:
        return f"even spacing can't be done: {bad.problems[0].what}"
    if even.hits:
        return f"even spacing can't be done: {hit_words(plan, even, job.shown)}"
    gap = next(iter(even.gaps.values()))
    return f"spacing: even makes every gap {job.shown.text(gap)} with {len(even.row)} balusters"
