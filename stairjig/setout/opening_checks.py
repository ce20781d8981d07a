"""What is said of openings, of the ends that hold them, and of the holes of square bars."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import sqrt

from stairjig.errors import Finding, gap_words
from stairjig.job.model import Baluster, Newel, Section, TreadsSection
from stairjig.lengths import DRILL, Real, Shown
from stairjig.rules import CLOSE, RULE_SETS, RuleSet
from stairjig.setout.footing import up
from stairjig.setout.openings import Rule, limit_of
from stairjig.setout.values import Opening, SectionSetout, SetNewel


def end_warnings(section: Section, done: SectionSetout, shown: Shown) -> tuple[Finding, ...]:
    """Ends whose gap is not checked, walls taken to stand somewhere, newels that spoil the gaps."""
    return (
        *_of_end(section, "lower", section.lower_newel, done.lower_newel, shown),
        *_of_end(section, "upper", section.upper_newel, done.upper_newel, shown),
    )


def _of_end(
    section: Section, end: str, asked: Newel, newel: SetNewel | None, shown: Shown
) -> Iterator[Finding]:
    if newel is None:
        text = f"there is no {end} newel: the opening at that end is not checked"
        yield Finding("newel-none", section.name, text)
        return
    if asked.kind == "wall" and isinstance(section, TreadsSection):
        text = (
            f"the {end} wall is taken to stand {shown.text(newel.gap)} from the nearest baluster; "
            "tape that before anything is bored"
        )
        yield Finding("wall-assumed", section.name, text)
    off = newel.uneven(shown.step)
    if off:
        text = (
            f"the {end} newel's gap is {shown.text(newel.gap)}; its face {shown.text(abs(off))} "
            f"further {'down' if off > 0 else 'up'} the stair would even it with the gaps beside it"
        )
        yield Finding("newel-uneven", section.name, text)


_RULES: tuple[Rule, ...] = ("stair", "level", "triangle")
WIDEST_USUAL = {
    rule: max(limit.mm for named in RULE_SETS.values() if (limit := limit_of(named, rule)))
    for rule in _RULES
}
"""The widest limit that any of the named rule sets has for each kind of opening, mm."""


def wide_limit_warnings(rules: RuleSet, shown: Shown) -> tuple[Finding, ...]:
    """Limits given by hand that are wider than any named rule set's: a digit too many, perhaps."""
    found = []
    for kind, usual in WIDEST_USUAL.items():
        limit = limit_of(rules, kind)
        if limit and limit.mm > usual:
            text = (
                f"the {kind} limit of {shown.limit(limit.mm)} is wider than any rule set here has "
                f"({shown.limit(usual)}): is it what the local official said?"
            )
            found.append(Finding("limit-wide", "", text))
    return tuple(found)


def opening_warnings(
    section: str, openings: Sequence[Opening], rules: RuleSet, allowance: Real, shown: Shown
) -> tuple[Finding, ...]:
    """Gaps that pass bare but not with the allowance, mark by mark; limits that are not given."""
    found = [
        Finding(
            "thin-pass",
            section,
            f"{_opening(o)}, {_beside(o, shown)}, passes the {o.rule} limit of "
            f"{shown.limit(o.limit or 0)} by less than the allowance of {shown.limit(allowance)}",
            o.between,
        )
        for o in openings
        if o.passes and not rules.passes(o.clear + allowance, Fraction(o.limit or 0))
    ]
    for rule in dict.fromkeys(o.rule for o in openings if o.limit is None):
        text = f"no {rule} limit is given: these openings are not checked"
        found.append(Finding("limit-missing", section, text))
    return tuple(found)


def opening_failures(
    section: str, openings: Sequence[Opening], rules: RuleSet, shown: Shown
) -> tuple[Finding, ...]:
    """The openings that fail, with marks, gap and limit."""
    fine = shown.finer(4)
    found = []
    for o in openings:
        limit = limit_of(rules, o.rule)
        if o.passes is False and limit:
            equal = " (a gap exactly at it fails)" if _equal(o) else ""
            text = (
                f"{_opening(o)} is {_beside(o, fine)} and the {o.rule} limit is "
                f"{shown.limit(limit.mm)}{equal} ({rules.name}, {limit.section})"
            )
            found.append(Finding("opening", section, text, o.between))
    return tuple(found)


def _opening(opening: Opening) -> str:
    if opening.rule == "triangle":
        return f"the largest sphere between {' and '.join(opening.between)}"
    return gap_words(*opening.between)


def _equal(opening: Opening) -> bool:
    return opening.limit is not None and abs(float(opening.clear - opening.limit)) <= CLOSE


def _beside(opening: Opening, shown: Shown) -> str:
    """The gap in words that say on which side of its limit it lies."""
    if _equal(opening):
        return shown.text(opening.clear)
    return shown.against(opening.clear, opening.limit)


def gap_range(gaps: Sequence[Real], shown: Shown) -> str:
    """Gaps that differ, in words: the least to the most."""
    least, most = shown.text(min(gaps)), shown.text(max(gaps))
    return f"about {least}" if least == most else f"{least} to {most}"


def square_in_round_warnings(
    section: str, kinds: Sequence[Baluster], shown: Shown
) -> tuple[Finding, ...]:
    """Square bars, square to their end, in round holes smaller than their diagonal, s sqrt 2."""
    drills = Shown(shown.units, DRILL[shown.units])
    found = []
    for kind in kinds:
        diagonal = float(kind.narrowest.mm) * sqrt(2)
        small = [
            place
            for place, hole in (("tread", kind.tread_hole), ("rail", kind.rail_hole))
            if hole and float(hole.size.mm) < diagonal - CLOSE
        ]
        if small and kind.shape == kind.top == "square":
            text = (
                f"{kind.name}: a bar of {shown.limit(kind.narrowest.mm)} that is square to its end "
                f"needs a round hole of {up(diagonal, drills)} or more; "
                f"its {' and '.join(small)} {'holes are' if len(small) > 1 else 'hole is'} smaller"
            )
            found.append(Finding("square-in-round", section, text))
    return tuple(found)
