"""Every clear gap held against the rules: the largest sphere that fits in each opening."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from math import sqrt
from typing import Literal

from stairjig.lengths import Real
from stairjig.rules import Limit, RuleSet
from stairjig.setout.names import newel_name
from stairjig.setout.rail import Named
from stairjig.setout.spacing import slack
from stairjig.setout.values import Opening, SetNewel

Rule = Literal["stair", "level", "triangle"]


def clear_gaps(
    named: Sequence[Named], lower: SetNewel | None, upper: SetNewel | None
) -> tuple[tuple[tuple[str, str], Real], ...]:
    """Between neighbours by name, the clear gap at their narrowest parts, mm.

    Balusters are plumb, so a gap is level whatever the rake: between two of them the largest
    circle of the elevation is the gap itself.
    """
    gaps: list[tuple[tuple[str, str], Real]] = []
    if lower:
        clear = lower.gap + _newel_slack(lower) + slack(named[0].placed.type)
        gaps.append(((newel_name(lower.end, lower.kind), named[0].name), clear))
    for low, high in itertools.pairwise(named):
        below, above = low.placed, high.placed
        widths = below.type.width.mm + above.type.width.mm
        layout = above.s - below.s - widths / 2
        gaps.append(((low.name, high.name), layout + slack(below.type) + slack(above.type)))
    if upper:
        clear = upper.gap + _newel_slack(upper) + slack(named[-1].placed.type)
        gaps.append(((named[-1].name, newel_name(upper.end, upper.kind)), clear))
    return tuple(gaps)


def _newel_slack(newel: SetNewel) -> Real:
    return (newel.width - newel.narrowest) / 2


def judged(between: tuple[str, str], rule: Rule, clear: Real, rules: RuleSet) -> Opening:
    """An opening held against its limit; not judged where the rule set has none."""
    limit = limit_of(rules, rule)
    passes = rules.passes(clear, limit.mm) if limit else None
    return Opening(between, rule, clear, limit.mm if limit else None, passes)


def limit_of(rules: RuleSet, rule: Rule) -> Limit | None:
    """The rule set's limit for that kind of opening."""
    return {"stair": rules.stair, "level": rules.level, "triangle": rules.triangle}[rule]


def triangle_sphere(rise: Real, run: Real, nosing: Real, lift: Real) -> float:
    """The largest sphere, as a diameter in mm, in the triangle of riser, tread and bottom rail.

    Legs a = R (G + n) / G + v plumb and b = a G / R level, the nosing being part of it; a right
    triangle's incircle has the diameter a + b - c. `lift`: v, plumb from the nosing line.
    """
    a = float(rise) * float(run + nosing) / float(run) + float(lift)
    b = a * float(run) / float(rise)
    return a + b - sqrt(a * a + b * b)
