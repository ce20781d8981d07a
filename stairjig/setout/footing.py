"""Whether every base stands wholly on its tread, and every hole clear of the riser's joint."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from itertools import groupby, pairwise
from math import cos, hypot, radians
from operator import itemgetter

from stairjig.errors import Finding
from stairjig.frozen import frozen
from stairjig.job.model import TreadsSection
from stairjig.lengths import INCH, Real, Shown
from stairjig.setout.names import newel_name
from stairjig.setout.plan import edge_ends, reach
from stairjig.setout.values import Mark, PlanTread, SectionSetout, SetTread

BREAKOUT = INCH / 8
"""Wood to leave between a hole and the riser's face, mm (common practice, no source)."""
FRONT, BACK, END = "over its own nosing", "under the nosing of the step above", "off the tread end"
_SEVERAL = {FRONT: "over their own nosings"}
_CLOSE = 1e-9


@frozen
class Overhang:
    """A mark whose base reaches `over` mm beyond an edge of its tread.

    Along the line at the front and the back, square to it at the tread end.
    """

    mark: Mark
    edge: str
    over: float


def overhangs(tread: SetTread) -> tuple[Overhang, ...]:
    """The bases that stand over their own nosing's edge, under the next nosing, or off the end."""
    return tuple(
        Overhang(mark, edge, over)
        for mark in tread.marks
        for edge, over in edges_over(tread.plan, mark)
        if over > _CLOSE
    )


def edges_over(plan: PlanTread, mark: Mark) -> tuple[tuple[str, float], ...]:
    """By edge, how far the base reaches beyond it, mm; negative inside."""
    half, shape = mark.type.base.mm / 2, mark.type.shape
    front = reach(plan.front.skew, half, shape) - mark.x - plan.front_nosing
    back = mark.x + reach(plan.back.skew, half, shape) + plan.back_nosing - plan.line_run
    return ((FRONT, float(front)), (BACK, float(back)), (END, _over_end(plan, mark)))


def _over_end(plan: PlanTread, mark: Mark) -> float:
    """How far in, square to the line, the base would have to move to stand inside the tread end."""
    (x0, y0), (x1, y1) = edge_ends(plan)
    slope, half = (y1 - y0) / (x1 - x0), float(mark.type.base.mm) / 2
    out = half * (1 + abs(slope) if mark.type.shape == "square" else hypot(1, slope))
    return out - (y0 + slope * (float(mark.x) - x0))


def base_findings(done: SectionSetout, shown: Shown) -> tuple[Finding, ...]:
    """What bases are refused for: those that leave their tread, and those that meet."""
    section = done.section
    found = list(_meeting(done, shown))
    if isinstance(section, TreadsSection):
        set_back = section.set_back.mm if section.set_back else Fraction(0)
        alike: dict[tuple[str, str, str], list[str]] = {}
        for tread in done.treads:
            for hang in overhangs(tread):
                if hang.edge != END or section.line.origin == "end":
                    mend = _mend(hang, tread, set_back, shown)
                    key = (hang.edge, up(hang.over, shown), mend)
                    alike.setdefault(key, []).append(hang.mark.name)
        found += [Finding("base", section.name, _off(*key, names)) for key, names in alike.items()]
    return tuple(found)


def _off(edge: str, by: str, mend: str, names: Sequence[str]) -> str:
    stands = f"base of {listed(names)} stands {edge}"
    if len(names) > 1:
        stands = f"bases of {listed(names, most=30)} stand {_SEVERAL.get(edge, edge)}"
    return f"the {stands} by {by}; {mend}"


def _meeting(done: SectionSetout, shown: Shown) -> Iterable[Finding]:
    """Bases wider than the gap lets them be, along the line; those alike in a row at once."""
    feet = [(f"mark {mark.name}", mark.s, mark.type.base.mm / 2) for mark in done.marks]
    lower, upper = done.lower_newel, done.upper_newel
    if lower:
        feet.insert(0, (f"the {newel_name('lower', lower.kind)}", lower.face, Fraction(0)))
    if upper:
        feet.append((f"the {newel_name('upper', upper.kind)}", upper.face, Fraction(0)))
    pairs = []
    for (low, s0, half0), (high, s1, half1) in pairwise(feet):
        over = float(half0 + half1 - (s1 - s0))
        pairs.append((low, high, up(over, shown) if over > _CLOSE else ""))
    for by, alike in groupby(pairs, key=itemgetter(2)):
        first, *others = list(alike)
        if by:
            which = f"the bases of {first[0]} and {first[1]} meet"
            if others:
                which = f"all bases from {first[0]} to {others[-1][1]} meet"
            yield Finding("base", done.name, f"{which} by {by}; take smaller bases")


def _room(tread: SetTread, edge: str) -> float:
    """How far the tread's balusters may move toward an edge before a base crosses it, mm."""
    return min(-dict(edges_over(tread.plan, mark))[edge] for mark in tread.marks)


def _mend(hang: Overhang, tread: SetTread, set_back: Real, shown: Shown) -> str:
    if hang.edge == END:
        return f"move the line in by {up(hang.over, shown)}"
    further = up_to_step(float(set_back) + hang.over, shown)
    if hang.edge == FRONT and _room(tread, BACK) >= further - set_back:
        return f"set_back {shown.text(further)} clears it"
    nearer = -up_to_step(hang.over - float(set_back), shown)
    if hang.edge == BACK and nearer >= 0 and _room(tread, FRONT) >= set_back - nearer:
        return f"set_back {shown.text(nearer)} clears it"
    return "take a smaller base" + (", or put fewer on the tread" if len(tread.marks) > 1 else "")


def up_to_step(mm: float, shown: Shown) -> Fraction:
    """A length to the next step up: what is at least needed."""
    rounded = shown.rounded(mm)
    return rounded if rounded >= mm - _CLOSE else rounded + shown.step


def up(mm: float, shown: Shown) -> str:
    """The same in words."""
    return shown.text(up_to_step(mm, shown))


def breakout_findings(
    section: TreadsSection, treads: Sequence[SetTread], shown: Shown
) -> tuple[Finding, ...]:
    """One warning for holes too near a riser's face, with the set_back that clears them."""
    short = {
        mark.name: (tread, _short_of_riser(tread.plan, mark))
        for tread in treads
        for mark in tread.marks
        if _short_of_riser(tread.plan, mark) > _CLOSE
    }
    if not short:
        return ()
    text = (
        f"the tread hole of {listed(list(short))} comes nearer than {shown.text(BREAKOUT)} to the "
        f"riser's face and may break out into the joint; {_further(section, short.values(), shown)}"
    )
    return (Finding("hole-near-riser", section.name, text),)


def _short_of_riser(plan: PlanTread, mark: Mark) -> float:
    """How much further along the line the hole would have to stand, mm."""
    if not mark.type.tread_hole:
        return 0.0
    least = mark.type.tread_hole.size.mm / 2 + BREAKOUT
    return float(least) / cos(radians(plan.front.skew)) - float(mark.x)


def _further(section: TreadsSection, short: Iterable[tuple[SetTread, float]], shown: Shown) -> str:
    if section.spacing == "even":
        return "spacing: tread with a set_back would clear it"
    needed = list(short)
    set_back = section.set_back.mm if section.set_back else Fraction(0)
    further = up_to_step(float(set_back) + max(lack for _, lack in needed), shown)
    if any(_room(tread, BACK) < further - set_back for tread, _ in needed):
        return "no set_back clears both it and the nosing of the step above"
    return f"set_back {shown.text(further)} clears it"


def listed(names: Sequence[str], most: int = 6) -> str:
    """Mark names in words: `mark 1-1`, `marks 1-1, 2-1 and 4 more`."""
    if len(names) == 1:
        return f"mark {names[0]}"
    if len(names) <= most:
        return f"marks {', '.join(names[:-1])} and {names[-1]}"
    return f"marks {', '.join(names[:most])} and {len(names) - most} more"
