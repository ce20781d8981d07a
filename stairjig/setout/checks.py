"""What a rule set says of heights, rises, runs, nosing and pitch: warned about, never refused."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise
from math import degrees

from stairjig.errors import Finding
from stairjig.job.model import Baluster, LevelSection, Section, SlopedSection, TreadsSection
from stairjig.lengths import Real, Shown
from stairjig.rules import Range, RuleSet
from stairjig.setout.plan import square_run
from stairjig.setout.values import Opening, PlanTread, SetNewel

_HAIR = 1e-6


def height_warnings(section: Section, rules: RuleSet, shown: Shown) -> tuple[Finding, ...]:
    """The rail's height against the rule set's band for a stair or a level."""
    level = isinstance(section, LevelSection)
    band = rules.level_height if level else rules.stair_height
    height = section.rail.height.mm
    if band is None or band.holds(height):
        return ()
    return (_outside("rail-height", section.name, "the rail's height", height, band, rules, shown),)


def stair_warnings(
    section: TreadsSection, plan: Sequence[PlanTread], pitch: float, rules: RuleSet, shown: Shown
) -> tuple[Finding, ...]:
    """Rises, runs, nosing and pitch (radians) against the rule set."""
    rises = [(f"rise {n}", rise.mm) for n, rise in enumerate(section.rises, start=1)]
    straight = [(f"tread {tread.number}", square_run(tread)) for tread in plan]
    runs = [(name, run) for name, run in straight if run is not None]
    name, found = section.name, []
    for code, label, measures, band in (
        ("rise", "rise", rises, rules.rise),
        ("run", "run", runs, rules.run),
    ):
        found += _band(code, name, label, measures, band, rules, shown)
        found += _uniform(code, name, measures, rules, shown)
    nosing = section.nosing.mm
    if rules.nosing and not rules.nosing.holds(nosing):
        found.append(_outside("nosing", name, "the nosing", nosing, rules.nosing, rules, shown))
    if rules.pitch and not rules.pitch.holds(degrees(pitch)):
        text = f"the pitch of {degrees(pitch):.1f}° is over {float(rules.pitch.most or 0):g}°"
        found.append(Finding("pitch", name, f"{text} ({rules.name}, {rules.pitch.section})"))
    return tuple(found)


def _band(
    code: str,
    section: str,
    label: str,
    measures: Sequence[tuple[str, Real]],
    band: Range | None,
    rules: RuleSet,
    shown: Shown,
) -> list[Finding]:
    if band is None:
        return []
    out = [(name, mm) for name, mm in measures if not band.holds(mm)]
    if not out:
        return []
    name, worst = max(out, key=lambda measure: _distance(measure[1], band))
    others = f" and {len(out) - 1} more" if len(out) > 1 else ""
    what = f"the {label} at {name}{others}" if label not in name else f"{name}{others}"
    return [_outside(code, section, what, worst, band, rules, shown)]


def _size(measure: tuple[str, Real]) -> Real:
    return measure[1]


def _distance(mm: Real, band: Range) -> float:
    low = float((band.least or 0) - mm) if band.least is not None else 0.0
    high = float(mm - (band.most or 0)) if band.most is not None else 0.0
    return max(low, high)


def _outside(
    code: str, section: str, what: str, mm: Real, band: Range, rules: RuleSet, shown: Shown
) -> Finding:
    if band.least is not None and mm < band.least:
        side = f"under {shown.text(band.least)}"
    else:
        side = f"over {shown.text(band.most or 0)}"
    text = f"{what}, {shown.text(mm)}, is {side} ({rules.name}, {band.section})"
    return Finding(code, section, text)


def _uniform(
    code: str, section: str, measures: Sequence[tuple[str, Real]], rules: RuleSet, shown: Shown
) -> list[Finding]:
    found = []
    if rules.uniform and len(measures) > 1:
        least = min(measures, key=_size)
        most = max(measures, key=_size)
        off = most[1] - least[1]
        if off > rules.uniform.mm + Fraction(1, 10**6):
            text = (
                f"{most[0]} is {shown.text(off)} more than {least[0]}; at most "
                f"{shown.text(rules.uniform.mm)} ({rules.name}, {rules.uniform.section})"
            )
            found.append(Finding(f"uniform-{code}", section, text))
    if rules.neighbours:
        for (low, below), (high, above) in pairwise(measures):
            off = max(above - below, below - above)
            if off > rules.neighbours.mm + Fraction(1, 10**6):
                text = (
                    f"{low} and {high} differ by {shown.text(off)}; neighbours at most "
                    f"{shown.text(rules.neighbours.mm)} ({rules.name}, {rules.neighbours.section})"
                )
                found.append(Finding(f"neighbours-{code}", section, text))
    return found


def end_warnings(
    section: Section, newels: Sequence[SetNewel | None], shown: Shown
) -> tuple[Finding, ...]:
    """Ends whose gap is not checked, walls taken to stand somewhere, newels that spoil the gaps."""
    found = []
    for end, newel, asked in zip(
        ("lower", "upper"), newels, (section.lower_newel, section.upper_newel), strict=True
    ):
        if asked.kind == "none":
            text = f"there is no {end} newel: the opening at that end is not checked"
            found.append(Finding("newel-none", section.name, text))
        elif asked.kind == "wall" and isinstance(section, TreadsSection) and newel:
            text = (
                f"the {end} wall is taken to stand {shown.text(newel.gap)} from the nearest "
                "baluster; tape that before anything is bored"
            )
            found.append(Finding("wall-assumed", section.name, text))
        if newel and newel.stands and newel.even_face is not None:
            off = float(newel.face - newel.even_face)
            if abs(off) > shown.step / 2:
                text = (
                    f"the {end} newel's gap is {shown.text(newel.gap)}; its face "
                    f"{shown.text(abs(off))} further {'down' if off > 0 else 'up'} the stair "
                    "would even it with the gaps beside it"
                )
                found.append(Finding("newel-uneven", section.name, text))
    return tuple(found)


def opening_warnings(
    section: str, openings: Sequence[Opening], rules: RuleSet, allowance: Real, shown: Shown
) -> tuple[Finding, ...]:
    """Gaps that pass bare but not with the allowance, mark by mark; limits that are not given."""
    thin = [
        opening
        for opening in openings
        if opening.limit is not None
        and opening.passes
        and not rules.passes(opening.clear + allowance, Fraction(opening.limit))
    ]
    found = [
        Finding(
            "thin-pass",
            section,
            f"the gap from {o.between[0]} to {o.between[1]}, {shown.text(o.clear)}, passes "
            f"{shown.text(o.limit or 0)} by less than the allowance of {shown.text(allowance)}",
        )
        for o in thin
    ]
    if any(opening.limit is None for opening in openings):
        rule = next(opening.rule for opening in openings if opening.limit is None)
        text = f"no {rule} limit is given: these openings are not checked"
        found.append(Finding("limit-missing", section, text))
    return tuple(found)


def opening_failures(
    section: str, openings: Sequence[Opening], rules: RuleSet, shown: Shown
) -> tuple[Finding, ...]:
    """The openings that fail, with marks, gap and limit."""
    fine = Shown(shown.units, shown.step / 4)
    return tuple(
        Finding(
            "opening",
            section,
            f"the gap from {o.between[0]} to {o.between[1]} is {_over(o, fine)}"
            f" and the {o.rule} limit is {shown.text(o.limit or 0)}"
            f"{' (a gap exactly at it fails)' if _equal(o) else ''} ({rules.name})",
        )
        for o in openings
        if o.passes is False
    )


def _equal(opening: Opening) -> bool:
    return opening.limit is not None and abs(float(opening.clear - opening.limit)) <= _HAIR


def _over(opening: Opening, shown: Shown) -> str:
    text = shown.text(opening.clear)
    at_limit = text == shown.text(opening.limit or 0)
    return f"just over {text}" if at_limit and not _equal(opening) else text


def gap_range(gaps: Sequence[Real], shown: Shown) -> str:
    """Gaps in words: one length, or the least to the most."""
    least, most = min(gaps), max(gaps)
    if shown.text(least) == shown.text(most):
        return shown.text(least)
    return f"{shown.text(least)} to {shown.text(most)}"


def small_hole_warnings(
    section: SlopedSection | LevelSection | TreadsSection, kinds: Sequence[Baluster]
) -> tuple[Finding, ...]:
    """Square bars, square to their end, in round holes smaller than their diagonal."""
    found = []
    for kind in kinds:
        if kind.shape != "square" or kind.top != "square":
            continue
        diagonal = float(kind.narrowest.mm) * 2**0.5
        small = [
            place
            for place, hole in (("tread", kind.tread_hole), ("rail", kind.rail_hole))
            if hole and float(hole.size.mm) < diagonal - _HAIR
        ]
        if small:
            text = (
                f"{kind.name}: a square bar of {kind.narrowest} needs a round hole of at least "
                f"{diagonal / 25.4:.3f} in ({diagonal:.1f} mm) where it is square to its end; the "
                f"{' and '.join(small)} hole is smaller"
            )
            found.append(Finding("square-in-round", section.name, text))
    return tuple(found)
