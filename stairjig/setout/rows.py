"""The row of a `treads` section by either spacing, and where its newels come to stand."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from stairjig.errors import BadInput, Finding, Problem, counted
from stairjig.frozen import frozen
from stairjig.job.model import Job, TreadsSection
from stairjig.lengths import Real, Shown
from stairjig.setout import newels
from stairjig.setout.counts import TreadCounts
from stairjig.setout.even import EvenSpacing, Hit
from stairjig.setout.footing import up
from stairjig.setout.newels import Stand
from stairjig.setout.rail import Named, numbered
from stairjig.setout.spacing import Pattern, Placed, tread_row
from stairjig.setout.values import PlanTread

_NAMED_HITS = 6


@frozen
class Spaced:
    """A section's row of balusters, its layout gap by tread index, and where its newels stand.

    `taken`: how many balusters stood where the lower and the upper newel stand, or beyond; `hits`:
    with even spacing, what stands in a step; it counts along the row.
    """

    row: tuple[Placed, ...]
    gaps: dict[int, Real]
    lower: Stand | None
    upper: Stand | None
    taken: tuple[int, int] = (0, 0)
    hits: tuple[Hit, ...] = ()


def pattern_of(job: Job, names: Sequence[str]) -> Pattern:
    """The pattern of a section by its types' names."""
    return Pattern([job.baluster(name) for name in names])


def names_on(plan: Sequence[PlanTread], row: Sequence[Placed]) -> tuple[Named, ...]:
    """The row with its names, tread-baluster."""
    return numbered(row, {tread.index: tread.number for tread in plan})


def spaced(job: Job, section: TreadsSection, plan: Sequence[PlanTread]) -> Spaced:
    """The row by the section's own spacing. Raises `BadInput`."""
    by = spaced_evenly if section.spacing == "even" else spaced_by_tread
    return by(job, section, plan)


def spaced_by_tread(job: Job, section: TreadsSection, plan: Sequence[PlanTread]) -> Spaced:
    """Each tread divided by its own run. Raises `BadInput`."""
    counts = tread_counts(job, section, plan)
    set_back = section.set_back.mm if section.set_back else Fraction(0)
    row, gaps = tread_row(plan, counts.choose(), counts.pattern, set_back)
    first, last = counts.treads[0], counts.treads[-1]
    found = (first.front.s + set_back - gaps[first.index], last.back.s + set_back)
    return _ended(section, plan, row, gaps, found)


def spaced_evenly(job: Job, section: TreadsSection, plan: Sequence[PlanTread]) -> Spaced:
    """One equal gap over all treads; what stands in a step is in `hits`. Raises `BadInput`."""
    counts = tread_counts(job, section, plan)
    even = EvenSpacing(
        counts.treads,
        counts,
        newels.standing_face(section.lower_newel, "lower", plan),
        newels.standing_face(section.upper_newel, "upper", plan),
        section.set_back.mm if section.set_back else None,
    ).found()
    gaps = {tread.index: even.gap for tread in counts.treads}
    return _ended(section, plan, even.row, gaps, (even.lower, even.upper), even.hits)


def _ended(
    section: TreadsSection,
    plan: Sequence[PlanTread],
    row: tuple[Placed, ...],
    gaps: dict[int, Real],
    found: tuple[Real, Real],
    hits: tuple[Hit, ...] = (),
) -> Spaced:
    """The row between its newels, less what they take; `found`: their faces from the row alone."""
    named = names_on(plan, row)
    lower = newels.stand(section.lower_newel, "lower", plan, named, found[0])
    upper = newels.stand(section.upper_newel, "upper", plan, named, found[1])
    kept = newels.clear_of(row, lower, upper)
    dropped = row.index(kept[0])
    inside = range(dropped, dropped + len(kept))
    left = tuple(Hit(hit.index - dropped, hit.short) for hit in hits if hit.index in inside)
    return Spaced(kept, gaps, lower, upper, (dropped, len(row) - len(kept) - dropped), left)


def tread_counts(job: Job, section: TreadsSection, plan: Sequence[PlanTread]) -> TreadCounts:
    """How the section's balusters are counted: what is given by hand, the rest by its rule.

    Raises `BadInput` where a count is to be found and the rules give no limit to find it by.
    """
    standing = tuple(tread for tread in plan if not tread.bare)
    fixed = {}
    for tread in standing:
        number = section.treads[tread.index].per_tread or section.per_tread
        if number:
            fixed[tread.index] = number
    limit = job.openings.stair
    if limit is None and len(fixed) < len(standing):
        raise BadInput(
            Problem(
                f"{section.name}: without a stair limit the number on a tread can't be found",
                "give openings a stair limit, or per_tread a number",
                section.where,
            )
        )
    most = limit.mm if limit else Fraction(0)
    return TreadCounts(
        treads=standing,
        pattern=pattern_of(job, section.pattern),
        fixed=fixed,
        passes=lambda gap: job.openings.passes(gap + job.allowance.mm, most),
        lower=newels.beside(section.lower_newel, plan),
        upper=newels.beside(section.upper_newel, plan),
    )


def hit_words(plan: Sequence[PlanTread], row: Spaced, shown: Shown) -> str:
    """Why even spacing can't be done: the count that comes nearest, its marks and by how much."""
    fine = shown.finer(2)
    named = names_on(plan, row.row)
    told = [f"{named[hit.index].name} by {up(hit.short, fine)}" for hit in row.hits[:_NAMED_HITS]]
    more = len(row.hits) - len(told)
    if more:
        told.append(f"and {more} more")
    stand = "stands" if len(row.hits) == 1 else "stand"
    return (
        f"no equal spacing clears every riser and nosing; {len(row.row)} balusters come nearest, "
        f"and of these {len(row.hits)} {stand} in a step: {', '.join(told)}"
    )


def taken_notes(section: str, row: Spaced) -> tuple[Finding, ...]:
    """Newels that stand already where balusters would: how many these are."""
    ends = (("lower", row.lower, row.taken[0]), ("upper", row.upper, row.taken[1]))
    return tuple(
        Finding(
            "newel-takes",
            section,
            f"the {end} newel stands where {counted(count, 'baluster')} would: left out, and the "
            "rest of the tread is numbered anew",
        )
        for end, stand, count in ends
        if count and stand and stand.stands
    )


def even_failures(
    section: str, plan: Sequence[PlanTread], row: Spaced, shown: Shown
) -> tuple[Finding, ...]:
    """What even spacing is refused for."""
    if not row.hits:
        return ()
    text = f"{hit_words(plan, row, shown)}; take spacing: tread"
    return (Finding("even-spacing", section, text),)
