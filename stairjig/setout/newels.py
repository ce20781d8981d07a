"""Where the newels stand, and which balusters they take the place of."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from stairjig.errors import BadInput, Problem
from stairjig.job.model import Newel
from stairjig.lengths import Real
from stairjig.setout.spacing import Placed
from stairjig.setout.values import PlanTread, SetNewel

End = Literal["lower", "upper"]


@dataclass(frozen=True, slots=True)
class Stand:
    """Where a newel's face comes to stand (s, mm), before its gap is known."""

    face: Real
    stands: bool


def slack(newel: Newel) -> Real:
    """What a newel's narrowest part adds to the gap beside it, mm; nothing at a wall or no end."""
    return (newel.width.mm - newel.narrowest.mm) / 2 if newel.kind == "post" else Fraction(0)


def stand_on_treads(
    newel: Newel,
    end: End,
    treads: Sequence[PlanTread],
    row: Sequence[Placed],
    gaps: Mapping[int, Real],
    set_back: Real,
) -> Stand | None:
    """Where a newel of a `treads` section spaced by the tread stands; None where there is none.

    Raises `BadInput` where it is to replace a baluster that the row does not have.
    """
    if newel.kind == "none":
        return None
    if newel.place == "face" and newel.face:
        start = treads[0].front.s if end == "lower" else treads[-1].back.s
        return Stand(start + newel.face.mm, stands=True)
    if newel.place == "replaces":
        taken = _named(newel, treads, row)
        half = taken.type.width.mm / 2
        return Stand(taken.s + (half if end == "lower" else -half), stands=False)
    standing = [tread for tread in treads if not tread.bare]
    if end == "lower":
        first = standing[0]
        return Stand(first.front.s + set_back - gaps[first.index], stands=False)
    return Stand(standing[-1].back.s + set_back, stands=False)


def _named(newel: Newel, treads: Sequence[PlanTread], row: Sequence[Placed]) -> Placed:
    tread, _, place = (newel.replaces or "").partition("-")
    numbers = {plan.index: plan.number for plan in treads}
    on_it = [placed for placed in row if str(numbers[placed.tread or 0]) == tread]
    if not on_it or not 1 <= int(place) <= len(on_it):
        text = f"no baluster {newel.replaces} for the newel to replace"
        raise BadInput(Problem(text, f"tread {tread} has {len(on_it)}", newel.where))
    return on_it[int(place) - 1]


def without_taken(
    row: Sequence[Placed], lower: Stand | None, upper: Stand | None
) -> tuple[Placed, ...]:
    """The row less the balusters that a newel overlaps or leaves outside. Raises `BadInput`."""

    def clear(placed: Placed) -> bool:
        half = max(placed.type.width.mm, placed.type.base.mm) / 2
        above = lower is None or placed.s - half >= lower.face
        return above and (upper is None or placed.s + half <= upper.face)

    kept = tuple(placed for placed in row if clear(placed))
    if not kept:
        raise BadInput(Problem("the newels leave no room for a baluster", "check their places"))
    return kept


def set_newel(
    newel: Newel, end: End, stand: Stand | None, row: Sequence[Placed], even: Real
) -> SetNewel | None:
    """The newel in its place with its gap to the row; `even`: the gap that would match."""
    if stand is None or newel.kind == "none":
        return None
    up = 1 if end == "upper" else -1
    nearest = row[-1] if end == "upper" else row[0]
    edge = nearest.s + up * nearest.type.width.mm / 2
    return SetNewel(
        end=end,
        kind=newel.kind,
        width=newel.width.mm,
        narrowest=newel.narrowest.mm,
        face=stand.face,
        centre=stand.face + up * newel.width.mm / 2,
        gap=(stand.face - edge) * up,
        stands=stand.stands,
        even_face=edge + up * even if stand.stands else None,
    )
