"""Measures that are far from any usual one: a slip of the pen or of the unit, most likely."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from stairjig.errors import Finding
from stairjig.job.model import Baluster, Job, Section, TreadsSection
from stairjig.lengths import INCH, Length, Units
from stairjig.rules import Range
from stairjig.setout.checks import height_band

MOST_OFF: dict[Units, Fraction] = {"inch": INCH / 4, "mm": Fraction(6)}
"""A tolerance or an allowance is seldom over that, mm (common practice, no source)."""
_USUAL: dict[str, tuple[tuple[int, int], tuple[int, int]]] = {
    "newel": ((1, 12), (25, 300)),
    "height": ((20, 60), (500, 1500)),
    "rail": ((0, 6), (0, 150)),
    "nosing": ((0, 3), (0, 75)),
    "baluster": ((0, 4), (0, 100)),
}
"""The least and the most that is met with, in inches and in mm (common practice, no source)."""
DEEPEST: dict[Units, Fraction] = {"inch": 12 * INCH, "mm": Fraction(305)}
"""A tread is seldom deeper, nosing's edge to riser, mm (common practice, no source)."""


def job_slips(job: Job) -> tuple[Finding, ...]:
    """Say where the tolerance lets marks pass that are plainly off, the allowance asks for much."""
    shown, most = job.shown, MOST_OFF[job.units]
    found = []
    if job.tolerance.mm > most:
        text = (
            f"the tolerance of {shown.limit(job.tolerance.mm)} lets marks pass that are over "
            f"{shown.limit(most)} off: is it what you mean?"
        )
        found.append(Finding("tolerance-wide", "", text))
    if job.allowance.mm > most:
        text = (
            f"the allowance of {shown.limit(job.allowance.mm)} keeps every gap that far inside its "
            "limit and may take more balusters than are needed: is it what you mean?"
        )
        found.append(Finding("allowance-wide", "", text))
    return tuple(found)


def section_slips(job: Job, section: Section, kinds: Sequence[Baluster]) -> tuple[Finding, ...]:
    """Say which measures of newels, rail, nosing and balusters lie outside any usual ones.

    What the rule set itself warns of is left to it.
    """
    shown, found = job.shown, []
    for words, kind, length in _measures(job, section, kinds):
        least, most = _bounds(kind, job.units)
        if least <= length.mm <= most:
            continue
        side, limit = ("under", least) if length.mm < least else ("over", most)
        text = (
            f"{words}, {shown.limit(length.mm)}, is {side} {shown.limit(limit)}, which is out of "
            "the usual: read it again"
        )
        found.append(Finding("measure-unusual", section.name, text))
    return tuple(found)


def depth_slips(job: Job, section: TreadsSection) -> tuple[Finding, ...]:
    """Say where every tread is given by its run and so deep that its depth was taped, perhaps.

    A run that the rule set asks for makes no tread too deep.
    """
    shown, rules, nosing = job.shown, job.openings, section.nosing.mm
    runs = [tread.run for tread in section.treads if tread.run]
    asked = (rules.run.least if rules.run else None) or Fraction(0)
    deepest = max(DEEPEST[job.units], asked + nosing)
    odd_nosing = not 0 < nosing <= _bounds("nosing", job.units)[1]
    if odd_nosing or len(runs) < len(section.treads):
        return ()
    if min(run.mm for run in runs) + nosing <= deepest:
        return ()
    run = runs[0]
    text = (
        f"run {shown.limit(run.mm)} and nosing {shown.limit(nosing)} make a tread "
        f"{shown.limit(run.mm + nosing)} deep: if it was taped from the nosing's edge, write what "
        f"was taped as {{depth: {run}}}"
    )
    return (Finding("depth-as-run", section.name, text),)


def _measures(
    job: Job, section: Section, kinds: Sequence[Baluster]
) -> Iterator[tuple[str, str, Length]]:
    """A measure in words, which of the usual ones it is, and its length."""
    for end, newel in (("lower", section.lower_newel), ("upper", section.upper_newel)):
        if newel.kind == "post":
            yield f"the width of the {end} newel", "newel", newel.width
    rail, rules = section.rail, job.openings
    if _silent(height_band(section, rules), rail.height):
        yield "the rail's height", "height", rail.height
    yield "the rail's depth", "rail", rail.depth
    yield "the rail's width", "rail", rail.width
    if isinstance(section, TreadsSection) and _silent(rules.nosing, section.nosing):
        yield "the nosing", "nosing", section.nosing
    for kind in kinds:
        yield f"the width of {kind.name}", "baluster", kind.width


def _silent(band: Range | None, length: Length) -> bool:
    """Whether a rule set has nothing to say of a measure."""
    return band is None or band.holds(length.mm)


def _bounds(kind: str, units: Units) -> tuple[Fraction, Fraction]:
    inches, mm = _USUAL[kind]
    if units == "inch":
        return inches[0] * INCH, inches[1] * INCH
    return Fraction(mm[0]), Fraction(mm[1])
