"""The smallest change to a job that would make its failing openings pass."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from stairjig.errors import BadInput
from stairjig.job.model import Job, TreadsSection
from stairjig.lengths import Length, Real
from stairjig.setout.flight import tread_counts
from stairjig.setout.straight import fewest
from stairjig.setout.values import Change, Opening, SectionSetout, SetNewel, Setout


def smallest_changes(setout: Setout) -> tuple[Change, ...]:
    """One change for each count or newel that fails; applied, it passes; less of it would not."""
    bare = replace(setout.job, allowance=Length(Fraction(0)))
    found: list[Change] = []
    for section in setout.sections:
        failing = [opening for opening in section.openings if opening.passes is False]
        if failing:
            found += _of_section(bare, section, failing)
    return tuple(found)


def _of_section(job: Job, done: SectionSetout, failing: list[Opening]) -> list[Change]:
    section = done.section
    if not isinstance(section, TreadsSection):
        if all(opening.rule == "triangle" for opening in failing):
            return []
        number = fewest(job, section)
        words = f"{number} balusters pass (now {len(done.marks)})"
        return [Change(section.name, "count", str(number), words)]
    changes = list(_newel_changes(job, done, failing))
    moved = {change.key.split(".")[0] for change in changes}
    beside = [
        opening
        for opening in failing
        if not any(name.replace(" ", "_") in moved for name in opening.between)
    ]
    return changes + (_count_changes(job, done, beside) if beside else [])


def _newel_changes(job: Job, done: SectionSetout, failing: list[Opening]) -> Iterator[Change]:
    for newel in done.newels:
        name = f"{newel.end} newel"
        for opening in failing:
            if name in opening.between and newel.stands and opening.limit is not None:
                yield _move(job, done, newel, opening)


def _move(job: Job, done: SectionSetout, newel: SetNewel, opening: Opening) -> Change:
    """The newel's face brought nearer by the fewest steps of what the job shows."""
    step, limit = job.show.mm, Fraction(opening.limit or 0)
    toward = 1 if newel.end == "lower" else -1
    end: Real = Fraction(0) if newel.end == "lower" else done.treads[-1].plan.back.s
    start = Fraction(newel.face - end)
    steps = start // step if toward < 0 else -(-start // step)
    face = steps * step
    while not job.openings.passes(opening.clear - abs(face - start), limit):
        face += toward * step
    value = job.shown.text(face).replace("″", '"')
    words = (
        f"the {newel.end} newel's gap passes with its face at {value}, "
        f"{job.shown.text(abs(face - start))} nearer the balusters"
    )
    return Change(done.name, f"{newel.end}_newel.place.face", value, words)


def _count_changes(job: Job, done: SectionSetout, failing: list[Opening]) -> list[Change]:
    section = done.section
    assert isinstance(section, TreadsSection)
    by_section = replace(
        section,
        per_tread=None,
        treads=tuple(replace(t, per_tread=None) for t in section.treads)
        if section.per_tread is None
        else section.treads,
    )
    plan = [tread.plan for tread in done.treads]
    try:
        counts = tread_counts(job, by_section, plan).choose()
    except BadInput:
        return []
    numbers = {tread.plan.number: tread.plan.index for tread in done.treads}
    hit = sorted({numbers[_tread(opening)] for opening in failing})
    if section.per_tread is not None:
        most = max(counts.values())
        words = f"{most} on a tread pass (now {section.per_tread})"
        return [Change(section.name, "per_tread", str(most), words)]
    return [
        Change(
            section.name,
            f"treads[{index}].per_tread",
            str(counts[index]),
            f"{counts[index]} on tread {section.treads[index].number} pass "
            f"(now {section.treads[index].per_tread})",
        )
        for index in hit
    ]


def _tread(opening: Opening) -> int:
    """The printed number of the tread whose gap it is: that of the lower mark, else the upper."""
    name = next(name for name in opening.between if "-" in name)
    return int(name.split("-")[0])
