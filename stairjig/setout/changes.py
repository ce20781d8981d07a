"""The smallest change to a job that would make its failing openings pass."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from stairjig.errors import BadInput
from stairjig.frozen import frozen
from stairjig.job.model import Job, SlopedSection, Tread, TreadsSection
from stairjig.job.treads import MOST_ON_A_TREAD
from stairjig.lengths import Length, Real
from stairjig.setout.flight import set_flight
from stairjig.setout.footing import base_findings
from stairjig.setout.names import newel_name
from stairjig.setout.newels import End
from stairjig.setout.openings import triangle_sphere
from stairjig.setout.rows import tread_counts
from stairjig.setout.straight import fewest
from stairjig.setout.values import Change, Opening, SectionSetout, SetNewel, Setout, SetTread

_ENDS: tuple[End, ...] = ("lower", "upper")
_MOST_MORE = 2
"""Balusters more than its neighbours that a tread may take to meet a newel."""


def smallest_changes(setout: Setout) -> tuple[Change, ...]:
    """One change for each count, newel or bottom rail that fails: all of them make it pass.

    A change of a step less would not, a step being one baluster or what the job shows.
    """
    found: list[Change] = []
    for done in setout.sections:
        failing = _failing(done)
        if not failing:
            continue
        if isinstance(done.section, TreadsSection):
            found += _of_flight(setout.job, done.section)
        else:
            found += _of_straight(setout.job, done, failing)
    return tuple(found)


def _of_straight(job: Job, done: SectionSetout, failing: Sequence[Opening]) -> Iterator[Change]:
    section = done.section
    assert not isinstance(section, TreadsSection)
    triangles = [opening for opening in failing if opening.rule == "triangle"]
    if len(failing) > len(triangles):
        bare = replace(job, allowance=Length(Fraction(0)))
        try:
            number = fewest(bare, section)
        except BadInput:
            return
        words = f"{_balusters(number)} (now {len(done.marks)})"
        yield Change(section.name, "count", str(number), words)
    if triangles and isinstance(section, SlopedSection):
        yield from _lower_rail(job, section)


def _balusters(number: int) -> str:
    return "1 baluster passes" if number == 1 else f"{number} balusters pass"


def _lower_rail(job: Job, section: SlopedSection) -> Iterator[Change]:
    """The bottom rail brought down by the fewest steps of what the job shows."""
    rail, limit, step = section.bottom_rail, job.openings.triangle, job.show.mm
    if rail is None or limit is None:
        return
    steps = -(-rail.lift.mm // step) - 1
    while steps >= 0:
        lift = steps * step
        sphere = triangle_sphere(rail.rise.mm, rail.run.mm, rail.nosing.mm, lift)
        if job.openings.passes(sphere, limit.mm):
            value = _written(job, lift)
            shown = job.shown
            words = (
                f"the bottom rail passes {shown.text(lift)} above the nosings "
                f"(now {shown.limit(rail.lift.mm)})"
            )
            yield Change(section.name, "bottom_rail.lift", value, words)
            return
        steps -= 1


def _of_flight(job: Job, section: TreadsSection) -> Iterator[Change]:
    """More balusters first, then the newels that stand, whose gaps hang on them."""
    settled = _settled(job, section)
    if settled is None:
        return
    counts = list((_even_counts if section.spacing == "even" else _counts)(section, settled))
    yield from counts
    counted = {change.key for change in counts}
    for end in _ENDS:
        found = _beside(job, settled, end)
        if found:
            change, settled = _crowded(job, settled, found, counted) or _moved(job, settled, found)
            counted.add(change.key)
            yield change


@frozen
class _Beside:
    """A newel that stands and the gap beside it that fails, in a section as it is set out."""

    done: SectionSetout
    newel: SetNewel
    opening: Opening

    @property
    def tread(self) -> SetTread:
        """The tread of the baluster beside it."""
        number = _tread(self.opening)
        return next(tread for tread in self.done.treads if tread.plan.number == number)


def _beside(job: Job, section: TreadsSection, end: End) -> _Beside | None:
    done = set_flight(job, section).setout
    for name, newel in _standing(section, done).items():
        for opening in _failing(done) if newel.end == end else ():
            if name in opening.between:
                return _Beside(done, newel, opening)
    return None


def _crowded(
    job: Job, section: TreadsSection, found: _Beside, counted: set[str]
) -> tuple[Change, TreadsSection] | None:
    """The fewest more on the tread beside a newel that pass and leave it standing.

    None where they would be over `_MOST_MORE`, or are more already than were asked for.
    """
    tread = found.tread
    index, key = tread.plan.index, f"treads[{tread.plan.index}].per_tread"
    now = tread_counts(job, section, [tread.plan for tread in found.done.treads]).choose()[index]
    for number in range(now + 1, now + 1 + _MOST_MORE) if key not in counted else ():
        tried = _with_tread(section, index, replace(section.treads[index], per_tread=number))
        if _passes(job, tried, found):
            words = (
                f"{number} on tread {tread.plan.number} pass (now {now}) and leave the "
                f"{found.newel.end} newel standing; else {_moved(job, section, found)[0].words}"
            )
            return Change(section.name, key, str(number), words), tried
    return None


def _with_tread(section: TreadsSection, index: int, tread: Tread) -> TreadsSection:
    return replace(section, treads=(*section.treads[:index], tread, *section.treads[index + 1 :]))


def _passes(job: Job, section: TreadsSection, found: _Beside) -> bool:
    """Whether the newel's gap passes and nothing fails that did not fail before."""
    try:
        done = set_flight(job, section).setout
    except BadInput:
        return False
    name = newel_name(found.newel.end, found.newel.kind)
    others = {end for opening in _failing(found.done) for end in opening.between} - {name}
    standing = _standing(section, done).keys() & others
    return not base_findings(done, job.shown) and all(
        standing & set(opening.between) for opening in _failing(done)
    )


def _moved(job: Job, section: TreadsSection, found: _Beside) -> tuple[Change, TreadsSection]:
    """The newel nearer the balusters, and the section with it there."""
    face, change = _move(job, found.done, found.newel, found.opening)
    key = f"{found.newel.end}_newel"
    moved = replace(getattr(section, key), face=Length(face))
    return change, replace(section, **{key: moved})


def _standing(section: TreadsSection, done: SectionSetout) -> dict[str, SetNewel]:
    """By name the newels whose gap hangs on their own place: standing ones, by the tread."""
    if section.spacing == "even":
        return {}
    return {newel_name(one.end, one.kind): one for one in done.newels if one.stands}


def _failing(done: SectionSetout) -> list[Opening]:
    return [opening for opening in done.openings if opening.passes is False]


def _settled(job: Job, section: TreadsSection) -> TreadsSection | None:
    """The section with just as many more where they were counted by hand as its gaps need.

    None where that can't be had. Gaps beside newels that stand are left to those.
    """
    for _ in range(MOST_ON_A_TREAD * len(section.treads)):
        try:
            done = set_flight(job, section).setout
        except BadInput:
            return None
        standing = _standing(section, done)
        failing = [gap for gap in _failing(done) if standing.keys().isdisjoint(gap.between)]
        if not failing:
            return section
        raised = _one_more(section, done, failing)
        if raised is None:
            return None
        section = raised
    return None


def _one_more(
    section: TreadsSection, done: SectionSetout, failing: Sequence[Opening]
) -> TreadsSection | None:
    """One more on each tread with a failing gap: its own number, the section's where all fail.

    None where a number was found, not given: nothing is counted too low then.
    """
    standing = [tread.plan for tread in done.treads if not tread.plan.bare]
    failing_on = {_tread(opening) for opening in failing}
    hit = {tread.index for tread in standing if tread.number in failing_on}
    if section.spacing == "even":
        hit = {standing[0].index}
    shared = {tread.index for tread in standing if not section.treads[tread.index].per_tread}
    treads, per_tread = list(section.treads), section.per_tread
    if hit & shared and per_tread is None:
        return None
    if shared and shared <= hit and per_tread:
        per_tread, hit = per_tread + 1, hit - shared
    for index in hit:
        own = treads[index].per_tread or section.per_tread or 0
        treads[index] = replace(treads[index], per_tread=own + 1)
    return replace(section, treads=tuple(treads), per_tread=per_tread)


def _counts(section: TreadsSection, settled: TreadsSection) -> Iterator[Change]:
    if settled.per_tread != section.per_tread:
        words = f"{settled.per_tread} on a tread pass (now {section.per_tread})"
        yield Change(section.name, "per_tread", str(settled.per_tread), words)
    for index, (now, then) in enumerate(zip(section.treads, settled.treads, strict=True)):
        if now.per_tread != then.per_tread:
            had = now.per_tread or section.per_tread
            words = f"{then.per_tread} on tread {now.number} pass (now {had})"
            yield Change(section.name, f"treads[{index}].per_tread", str(then.per_tread), words)


def _even_counts(section: TreadsSection, settled: TreadsSection) -> Iterator[Change]:
    """One row has one number, the sum of what its treads are given."""
    now, then = _in_all(section), _in_all(settled)
    for change in _counts(section, settled):
        words = f"{_balusters(then)} in all (now {now}): per_tread {change.value} on one tread"
        yield replace(change, words=words)


def _in_all(section: TreadsSection) -> int:
    counts = (tread.per_tread or section.per_tread or 0 for tread in section.treads)
    return sum(count for tread, count in zip(section.treads, counts, strict=True) if not tread.bare)


def _move(
    job: Job, done: SectionSetout, newel: SetNewel, opening: Opening
) -> tuple[Fraction, Change]:
    """The newel's face brought nearer by the fewest steps of what the job shows."""
    step, limit = job.show.mm, Fraction(opening.limit or 0)
    toward = 1 if newel.end == "lower" else -1
    riser: Real = Fraction(0) if newel.end == "lower" else done.treads[-1].plan.back.s
    start = Fraction(newel.face) - Fraction(riser)
    face = (start // step if toward < 0 else -(-start // step)) * step
    while not job.openings.passes(opening.clear - abs(face - start), limit):
        face += toward * step
    value = _written(job, face)
    words = (
        f"the {newel.end} newel's gap passes with its face at {job.shown.text(face)}, "
        f"{job.shown.text(abs(face - start))} nearer the balusters"
    )
    return face, Change(done.name, f"{newel.end}_newel.place.face", value, words)


def _written(job: Job, length: Real) -> str:
    """A length as a job file has it."""
    return job.shown.text(length).replace("″", '"')


def _tread(opening: Opening) -> int:
    """The printed number of the tread whose gap it is: that of the lower mark, else the upper."""
    name = next(name for name in opening.between if "-" in name)
    return int(name.split("-")[0])
