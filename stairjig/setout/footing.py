"""Whether every base stands wholly on its tread, and every hole clear of the riser's joint."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import cos, radians

from stairjig.errors import Finding
from stairjig.lengths import INCH, Real, Shown
from stairjig.setout.plan import reach
from stairjig.setout.values import Mark, PlanTread, SetTread

BREAKOUT = INCH / 8
"""Wood to leave between a hole and the riser's face, mm (common practice, no source)."""
_CLOSE = 1e-9


@dataclass(frozen=True, slots=True)
class Overhang:
    """A mark whose base reaches `over` mm beyond an edge of its tread."""

    mark: Mark
    edge: str
    over: float


def overhangs(tread: SetTread) -> tuple[Overhang, ...]:
    """The bases that stand over their own nosing's edge, under the next nosing, or off the end."""
    found = []
    for mark in tread.marks:
        for edge, over in _overs(tread.plan, mark):
            if over > _CLOSE:
                found.append(Overhang(mark, edge, float(over)))
    return tuple(found)


def _overs(plan: PlanTread, mark: Mark) -> Iterable[tuple[str, Real]]:
    half, shape = mark.type.base.mm / 2, mark.type.shape
    front = reach(plan.front.skew, half, shape) - mark.x - plan.front_nosing
    back = mark.x + reach(plan.back.skew, half, shape) + plan.back_nosing - plan.line_run
    share = mark.x / plan.line_run
    end = plan.end_front + (plan.end_back - plan.end_front) * share
    return (
        ("over its own nosing", front),
        ("under the nosing of the step above", back),
        ("off the tread end", half - end),
    )


def overhang_findings(
    section: str, treads: Sequence[SetTread], shown: Shown, has_end: bool
) -> tuple[Finding, ...]:
    """What each overhanging base is refused for, and what would clear it."""
    findings = []
    for tread in treads:
        for hang in overhangs(tread):
            if hang.edge == "off the tread end" and not has_end:
                continue
            text = f"the base of mark {hang.mark.name} stands {hang.edge} by {up(hang.over, shown)}"
            findings.append(Finding("base", section, f"{text}; {_mend(hang, shown)}"))
    return tuple(findings)


def _mend(hang: Overhang, shown: Shown) -> str:
    least = up(hang.over, shown)
    if hang.edge == "over its own nosing":
        return f"set the balusters back by {least} more (set_back)"
    if hang.edge == "off the tread end":
        return f"move the line in by {least}"
    return f"put one more on the tread, or a smaller base, or take {least} off set_back"


def up(mm: float, shown: Shown) -> str:
    """A length to the next step up, as shown: what is at least needed."""
    rounded = shown.rounded(mm)
    return shown.text(rounded if rounded >= mm - _CLOSE else rounded + shown.step)


def breakout_findings(
    section: str, treads: Sequence[SetTread], shown: Shown, set_back: Real
) -> tuple[Finding, ...]:
    """One warning for holes too near a riser's face, with the set_back that clears them."""
    near, needed = [], Fraction(0)
    for tread in treads:
        for mark in tread.marks:
            short = _short_of_riser(tread.plan, mark)
            if short > _CLOSE:
                near.append(mark.name)
                needed = max(needed, Fraction(short))
    if not near:
        return ()
    value = up(float(set_back + needed), shown)
    text = (
        f"the tread hole of {listed(near)} comes nearer than {shown.text(BREAKOUT)} to the riser's "
        f"face and may break out into the joint; set_back {value} clears it"
    )
    return (Finding("hole-near-riser", section, text),)


def _short_of_riser(plan: PlanTread, mark: Mark) -> float:
    if not mark.type.tread_hole:
        return 0.0
    radius = mark.type.tread_hole.size.mm / 2
    least = float(radius + BREAKOUT)
    front = float(mark.x) * cos(radians(plan.front.skew))
    return least - front


def listed(names: Sequence[str], most: int = 6) -> str:
    """Mark names in words: `mark 1-1`, `marks 1-1, 2-1 and 4 more`."""
    if len(names) == 1:
        return f"mark {names[0]}"
    if len(names) <= most:
        return f"marks {', '.join(names[:-1])} and {names[-1]}"
    return f"marks {', '.join(names[:most])} and {len(names) - most} more"
