"""The treads in plan, one behind the other along the line."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import atan2, cos, degrees, hypot, radians, sqrt, tan
from typing import TYPE_CHECKING

from stairjig.errors import BadInput, Finding, Place, Problem
from stairjig.lengths import INCH, Length, Real, Shown
from stairjig.setout.values import PlanTread, Riser

if TYPE_CHECKING:
    from stairjig.job.model import Sides, Tread, TreadsSection

SAME_RISER = 1.0
"""Degrees within which two skews taped for one riser are taken as one and averaged."""
SAME_DIAGONAL = INCH / 8
"""mm within which a winder's second diagonal must agree."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """A tread's piece of the line and the skews of its two risers, degrees."""

    line_run: Real
    front_skew: float
    back_skew: float

    @property
    def skew(self) -> float | None:
        """The skew of both risers; None on a tapered tread."""
        return self.front_skew if self.front_skew == self.back_skew else None


def over_cos(length: Real, skew: float) -> Real:
    """`length` square to a riser, as long as it comes out along the line; exact at no skew."""
    return length if skew == 0 else float(length) / cos(radians(skew))


def lay_plan(
    section: TreadsSection, shown: Shown
) -> tuple[tuple[PlanTread, ...], tuple[Finding, ...]]:
    """The section's treads along the line, and what was averaged on the way.

    Raises `BadInput` for a winder that can't close, a diagonal that disagrees, for a riser that
    two treads measure differently by more than a degree, and for a tread with nothing to stand on.
    """
    problems: list[Problem] = []
    stretches = []
    for tread in section.treads:
        try:
            stretches.append(_stretch(tread, section, shown))
        except BadInput as bad:
            problems.extend(bad.problems)
    if problems:
        raise BadInput(*problems)
    skews, notes = _riser_skews(section, stretches, shown)
    treads = tuple(_in_line(section, stretches, skews))
    problems = [
        Problem(f"tread {tread.number}: {fault}", "check its measures and skews", given.where)
        for tread, given in zip(treads, section.treads, strict=True)
        for fault in _shape_faults(tread, section.line.origin == "end")
    ]
    if problems:
        raise BadInput(*problems)
    return treads, notes


def _shape_faults(tread: PlanTread, has_end: bool) -> Iterator[str]:
    """What leaves a tread without a place to stand: on the line, or at its end."""
    if tread.line_run + tread.front_nosing - tread.back_nosing <= 0:
        yield "on the line its nosing and the next one cross"
    front, back = edge_ends(tread)
    if has_end and back[0] <= front[0]:
        yield "its two risers meet before the tread end"


def edge_ends(tread: PlanTread) -> tuple[tuple[float, float], tuple[float, float]]:
    """Where the tread end meets the front and the back riser's face, (x, y), mm."""
    front, back = float(tread.end_front), float(tread.end_back)
    return (
        (front * tan(radians(tread.front.skew)), front),
        (float(tread.line_run) + back * tan(radians(tread.back.skew)), back),
    )


def _stretch(tread: Tread, section: TreadsSection, shown: Shown) -> Stretch:
    front, back = float(tread.front_skew.degrees), float(tread.back_skew.degrees)
    if tread.sides:
        return winder(tread.sides, section.line.front, tread.number, shown, tread.where)
    if tread.line_run:
        return Stretch(tread.line_run.mm, front, back)
    run = tread.run.mm if tread.run else tread.depth.mm - section.nosing.mm  # type: ignore[union-attr]
    return Stretch(over_cos(run, front), front, back)


def winder(
    sides: Sides, line: Length, number: int, shown: Shown, where: Place | None = None
) -> Stretch:
    """A tapered tread from its four sides and a diagonal: its line run and its two skews.

    A and B are the front and the back at the tread end, C and D the back and the front at the
    wall; AB lies along the line, C closes the triangle on the diagonal AC, D stands on the far
    side of AC from B. Raises `BadInput` where that can't close, where the second diagonal
    disagrees by more than 1/8 in, or where the line misses the tread.
    """
    place = f"tread {number}"
    end, back = float(sides.end.mm), float(sides.back.mm)
    wall, front = float(sides.wall.mm), float(sides.front.mm)
    diagonal = float(sides.diagonal.mm)
    try:
        c = _apex((0.0, 0.0), (end, 0.0), diagonal, back)
        d = _apex((0.0, 0.0), c, front, wall)
    except ValueError:
        raise BadInput(
            Problem(f"{place}: these sides and this diagonal can't close", "tape it again", where)
        ) from None
    _check_other_diagonal(sides, hypot(d[0] - end, d[1]), number, shown, where)
    y = -float(line.mm)
    if not max(c[1], d[1]) < y:
        raise BadInput(Problem(f"{place}: the line lies beyond its wall side", "check line", where))
    front_at = d[0] * y / d[1]
    back_at = end + (c[0] - end) * y / c[1]
    if back_at <= front_at:
        raise BadInput(Problem(f"{place}: it has no width on the line", "check its sides", where))
    return Stretch(
        back_at - front_at, degrees(atan2(-d[0], -d[1])), degrees(atan2(end - c[0], -c[1]))
    )


def _apex(
    start: tuple[float, float], end: tuple[float, float], from_start: float, from_end: float
) -> tuple[float, float]:
    """The point so far from each of two, right of the way from `start` to `end`."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    base = hypot(dx, dy)
    along = (from_start**2 - from_end**2 + base**2) / (2 * base)
    square = from_start**2 - along**2
    if square <= 0:
        raise ValueError
    off = sqrt(square)
    return (
        start[0] + (along * dx + off * dy) / base,
        start[1] + (along * dy - off * dx) / base,
    )


def _check_other_diagonal(
    sides: Sides, other: float, number: int, shown: Shown, where: Place | None
) -> None:
    if sides.check_diagonal is None:
        return
    off = float(sides.check_diagonal.mm) - other
    if abs(off) > float(SAME_DIAGONAL):
        raise BadInput(
            Problem(
                f"tread {number}: check_diagonal {sides.check_diagonal} is "
                f"{_fine(shown).text(abs(off))} {'longer' if off > 0 else 'shorter'} than the "
                "sides and the first diagonal make it",
                "one of the six is wrong: tape this tread again",
                sides.check_diagonal.where or where,
            )
        )


def _riser_skews(
    section: TreadsSection, stretches: list[Stretch], shown: Shown
) -> tuple[list[float], tuple[Finding, ...]]:
    """The skew of each riser, and which of them are means."""
    skews, notes, problems = [stretches[0].front_skew], [], []
    for (low, below), (high, above) in pairwise(zip(section.treads, stretches, strict=True)):
        mean = (below.back_skew + above.front_skew) / 2
        off = abs(below.back_skew - above.front_skew)
        both = f"treads {low.number} and {high.number}"
        if off > SAME_RISER:
            problems.append(
                Problem(
                    f"{both} share one riser, but its skew is {below.back_skew:.1f}° by the "
                    f"first and {above.front_skew:.1f}° by the second",
                    "tape them again, or begin a new section where the line turns",
                    high.where,
                )
            )
        elif off > 1e-9:
            apart = _apart_at_end(section, below.back_skew, above.front_skew, shown)
            text = f"{both} differ by {off:.2f}° about the riser they share, {apart}"
            text += "; the mean is taken"
            notes.append(Finding("riser-mean", section.name, text))
        skews.append(below.back_skew if off <= 1e-9 else mean)
    if problems:
        raise BadInput(*problems)
    return [*skews, stretches[-1].back_skew], tuple(notes)


def _apart_at_end(section: TreadsSection, low: float, high: float, shown: Shown) -> str:
    """How far apart two skews of a riser put it, furthest from the line."""
    line = section.line
    out = float(max(line.front.mm, line.back.mm))
    fine, apart = _fine(shown), out * abs(tan(radians(high)) - tan(radians(low)))
    told = fine.text(apart) if fine.rounded(apart) else f"less than {fine.text(fine.step)}"
    place = "the tread end" if line.origin == "end" else f"{shown.text(out)} from the line"
    return f"{told} at {place}"


def _fine(shown: Shown) -> Shown:
    return Shown(shown.units, shown.step / 4)


def _in_line(
    section: TreadsSection, stretches: list[Stretch], skews: list[float]
) -> list[PlanTread]:
    s: Real = Fraction(0)
    nosing, treads = section.nosing.mm, []
    for index, (tread, stretch) in enumerate(zip(section.treads, stretches, strict=True)):
        front = Riser(s, skews[index])
        s = s + stretch.line_run
        back = Riser(s, skews[index + 1])
        treads.append(
            PlanTread(
                index=index,
                number=tread.number,
                front=front,
                back=back,
                line_run=stretch.line_run,
                front_nosing=over_cos(nosing, front.skew),
                back_nosing=over_cos(nosing, back.skew),
                square_nosing=nosing,
                end_front=section.line.front.mm,
                end_back=section.line.back.mm,
                bare=tread.bare,
                skew=stretch.skew,
            )
        )
    return treads


def square_run(tread: PlanTread) -> Real | None:
    """The run square to the risers; None on a tapered tread."""
    skew = tread.skew
    if skew is None:
        return None
    return tread.line_run if skew == 0 else float(tread.line_run) * cos(radians(skew))


def reach(tread_skew: float, half: Real, shape: str) -> Real:
    """How far along the line a base reaches toward a riser of that skew before it touches it, mm.

    `half`: half its size; it is turned with the line.
    A square's corner meets it first, (half)(1 + |tan a|); a circle touches at half / cos a.
    """
    if tread_skew == 0:
        return half
    angle = radians(tread_skew)
    return float(half) * (1 + abs(tan(angle)) if shape == "square" else 1 / cos(angle))
