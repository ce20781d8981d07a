"""A `level` or `sloped` section set out: equal gaps between two faces that stand."""

from __future__ import annotations

from fractions import Fraction
from math import cos, radians

from stairjig.errors import BadInput, Problem
from stairjig.job.model import Job, LevelSection, SlopedSection
from stairjig.lengths import Real
from stairjig.setout import newels, openings
from stairjig.setout.counts import RowCount
from stairjig.setout.pitch import PitchLine
from stairjig.setout.rail import Named, marks_on, numbered, set_rail
from stairjig.setout.rows import pattern_of
from stairjig.setout.spacing import Placed, between_faces
from stairjig.setout.values import Opening, SectionSetout, SetNewel


def level_distance(section: LevelSection | SlopedSection) -> Real:
    """Face to face, level, mm: on a slope length x cos(pitch)."""
    if isinstance(section, LevelSection):
        return section.length.mm
    return float(section.length.mm) * cos(_pitch(section))


def rule_of(section: LevelSection | SlopedSection) -> openings.Rule:
    """Which limit its openings are held against."""
    return "level" if isinstance(section, LevelSection) else "stair"


def fewest(job: Job, section: LevelSection | SlopedSection) -> int:
    """The fewest balusters that pass with the allowance. Raises `BadInput`."""
    rule = rule_of(section)
    limit = openings.limit_of(job.openings, rule)
    if limit is None:
        raise BadInput(
            Problem(
                f"{section.name}: without a {rule} limit the number of balusters can't be found",
                f"give openings a {rule} limit, or count a number",
                section.where,
            )
        )
    row = RowCount(
        pattern=pattern_of(job, section.pattern),
        passes=lambda gap: job.openings.passes(gap + job.allowance.mm, limit.mm),
        lower=newels.slack(section.lower_newel),
        upper=newels.slack(section.upper_newel),
        more=1,
    )
    return row.fewest(level_distance(section))


def set_straight(job: Job, section: LevelSection | SlopedSection) -> SectionSetout:
    """The whole section in numbers. Raises `BadInput` where nothing fits or passes."""
    distance = level_distance(section)
    gap, row = _divided(job, section, distance)
    named = numbered(row, {})
    lower = newels.set_newel(section.lower_newel, "lower", newels.Stand(Fraction(0)), row, gap)
    upper = newels.set_newel(section.upper_newel, "upper", newels.Stand(distance), row, gap)
    pitch = PitchLine(_pitch(section), 0.0)
    lift = float(section.shoe_depth.mm)
    rail = set_rail(pitch, named[0].placed.s, (lower, upper), (), section.rail, lift)
    stands = [pitch.height(mark.placed.s) for mark in named]
    return SectionSetout(
        section=section,
        line_length=distance,
        gap=gap,
        treads=(),
        marks=marks_on(named, pitch, rail.prop, stands, section.rail.plow is not None),
        lower_newel=lower,
        upper_newel=upper,
        rail=rail,
        nosings=(),
        tops=(),
        openings=_openings(job, section, named, lower, upper),
    )


def _divided(
    job: Job, section: LevelSection | SlopedSection, distance: Real
) -> tuple[Real, tuple[Placed, ...]]:
    """The gap and the balusters between the faces. Raises `BadInput` where they don't fit."""
    count = section.count or fewest(job, section)
    if count < 1:
        raise BadInput(
            Problem(f"{section.name}: it needs no baluster", "check its length", section.where)
        )
    types = pattern_of(job, section.pattern).take(0, count)
    gap, places = between_faces(distance, types)
    if gap <= 0:
        what = "1 baluster is" if count == 1 else f"{count} balusters are"
        raise BadInput(
            Problem(
                f"{section.name}: {what} wider than its length",
                "put fewer, or check the widths",
                section.where,
            )
        )
    return gap, tuple(Placed(kind, s) for kind, s in zip(types, places, strict=True))


def _pitch(section: LevelSection | SlopedSection) -> float:
    return radians(section.pitch.degrees) if isinstance(section, SlopedSection) else 0.0


def _openings(
    job: Job,
    section: LevelSection | SlopedSection,
    named: tuple[Named, ...],
    lower: SetNewel | None,
    upper: SetNewel | None,
) -> tuple[Opening, ...]:
    found = [
        openings.judged(between, rule_of(section), clear, job.openings)
        for between, clear in openings.clear_gaps(named, lower, upper)
    ]
    bottom = section.bottom_rail if isinstance(section, SlopedSection) else None
    if bottom:
        sphere = openings.triangle_sphere(
            bottom.rise.mm, bottom.run.mm, bottom.nosing.mm, bottom.lift.mm
        )
        found.append(openings.judged(("bottom rail", "steps"), "triangle", sphere, job.openings))
    return tuple(found)
