"""The treads in plan, one behind the other along the line."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise
from math import cos, radians, tan
from typing import TYPE_CHECKING

from stairjig.errors import BadInput, Finding, Problem
from stairjig.lengths import Real, Shown
from stairjig.setout.values import PlanTread, Riser
from stairjig.setout.winder import Stretch, winder

if TYPE_CHECKING:
    from stairjig.job.model import Tread, TreadsSection

SAME_RISER = 1.0
"""Degrees within which two skews taped for one riser are taken as one and averaged."""


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


def _riser_skews(
    section: TreadsSection, stretches: list[Stretch], shown: Shown
) -> tuple[list[float], tuple[Finding, ...]]:
    """The skew of each riser, and which of them are means."""
    skews, notes, problems = [stretches[0].front_skew], [], _riser_problems(section, stretches)
    for (low, below), (high, above) in pairwise(zip(section.treads, stretches, strict=True)):
        mean = (below.back_skew + above.front_skew) / 2
        off = abs(below.back_skew - above.front_skew)
        both = f"treads {low.number} and {high.number}"
        if off > 1e-9:
            apart = _apart_at_end(section, below.back_skew, above.front_skew, shown)
            text = f"{both} differ by {off:.2f}° about the riser they share, {apart}"
            text += "; the mean is taken"
            notes.append(Finding("riser-mean", section.name, text))
        skews.append(below.back_skew if off <= 1e-9 else mean)
    if problems:
        raise BadInput(*problems)
    return [*skews, stretches[-1].back_skew], tuple(notes)


def _riser_problems(section: TreadsSection, stretches: list[Stretch]) -> list[Problem]:
    """Risers whose skew two treads have differently; a winder at odds with both beside it alone."""
    pairs = list(pairwise(zip(section.treads, stretches, strict=True)))
    odd = [abs(below.back_skew - above.front_skew) > SAME_RISER for (_, below), (_, above) in pairs]
    alone = {
        index
        for index, tread in enumerate(section.treads)
        if tread.sides and 0 < index < len(pairs) and odd[index - 1] and odd[index]
    }
    problems = [
        Problem(
            f"tread {section.treads[index].number} agrees with neither tread beside it about the "
            "riser they share",
            "tape it again: are its diagonals changed over, or its end and its wall side?",
            section.treads[index].where,
        )
        for index in sorted(alone)
    ]
    for index, ((low, below), (high, above)) in enumerate(pairs):
        if odd[index] and not alone & {index, index + 1}:
            text = (
                f"treads {low.number} and {high.number} share one riser, but its skew is "
                f"{below.back_skew:.1f}° by the first and {above.front_skew:.1f}° by the second"
            )
            mend = "tape them again, or begin a new section where the line turns"
            problems.append(Problem(text, mend, high.where))
    return problems


def _apart_at_end(section: TreadsSection, low: float, high: float, shown: Shown) -> str:
    """How far apart two skews of a riser put it, furthest from the line."""
    line = section.line
    out = float(max(line.front.mm, line.back.mm))
    fine, apart = shown.finer(4), out * abs(tan(radians(high)) - tan(radians(low)))
    told = fine.text(apart) if fine.rounded(apart) else f"less than {fine.text(fine.step)}"
    place = "the tread end" if line.origin == "end" else f"{shown.text(out)} from the line"
    return f"{told} at {place}"


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
