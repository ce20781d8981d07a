"""Where the newels stand, and which balusters they take the place of."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Literal

from stairjig.errors import BadInput, Problem
from stairjig.frozen import frozen
from stairjig.job.model import Newel
from stairjig.lengths import Real
from stairjig.setout.counts import Beside
from stairjig.setout.rail import Named
from stairjig.setout.spacing import Placed
from stairjig.setout.values import PlanTread, SetNewel

End = Literal["lower", "upper"]


@frozen
class Stand:
    """Where a newel's face comes to stand (s, mm), and why.

    `stands`: it was there before the layout. `takes`: it takes the place of what it overlaps.
    """

    face: Real
    stands: bool = False
    takes: bool = False


def slack(newel: Newel) -> Real:
    """What a newel's narrowest part adds to the gap beside it, mm; nothing at a wall or no end."""
    return (newel.width.mm - newel.narrowest.mm) / 2 if newel.kind == "post" else Fraction(0)


def beside(newel: Newel, treads: Sequence[PlanTread]) -> Beside:
    """What a newel of a `treads` section adds to the gaps of the row."""
    takes = None
    if newel.replaces:
        number, place = map(int, newel.replaces.split("-"))
        takes = (number - treads[0].number, place - 1)
    return Beside(slack(newel), newel.place == "face", takes)


def standing_face(newel: Newel, end: End, treads: Sequence[PlanTread]) -> Real | None:
    """The face (s, mm) of a newel that stands already; None for any other."""
    if newel.place != "face" or newel.face is None:
        return None
    riser = treads[0].front if end == "lower" else treads[-1].back
    return riser.s + newel.face.mm


def stand(
    newel: Newel, end: End, treads: Sequence[PlanTread], row: Sequence[Named], found: Real
) -> Stand | None:
    """Where a newel of a `treads` section stands; None where there is none.

    `found`: the face (s, mm) that the row asks for. Raises `BadInput` where it is to replace a
    baluster that the row does not have.
    """
    if newel.kind == "none":
        return None
    face = standing_face(newel, end, treads)
    if face is not None:
        return Stand(face, stands=True, takes=True)
    if newel.place == "replaces":
        taken = _replaced(newel, row)
        half = taken.type.width.mm / 2
        return Stand(taken.s + (half if end == "lower" else -half), takes=True)
    return Stand(found)


def _replaced(newel: Newel, row: Sequence[Named]) -> Placed:
    for mark in row:
        if mark.name == newel.replaces:
            return mark.placed
    tread = (newel.replaces or "").partition("-")[0]
    count = sum(str(mark.tread) == tread for mark in row)
    text = f"there is no baluster {newel.replaces} for the newel to replace"
    raise BadInput(Problem(text, f"tread {tread} has {count}", newel.where))


def clear_of(
    row: tuple[Placed, ...], lower: Stand | None, upper: Stand | None
) -> tuple[Placed, ...]:
    """The row less the balusters that a newel overlaps or leaves outside. Raises `BadInput`."""
    kept = tuple(
        placed
        for placed in row
        if (lower is None or not lower.takes or placed.s - _half(placed) >= lower.face)
        and (upper is None or not upper.takes or placed.s + _half(placed) <= upper.face)
    )
    if not kept:
        raise BadInput(Problem("the newels leave no room for a baluster", "check their places"))
    return kept


def _half(placed: Placed) -> Real:
    return max(placed.type.width.mm, placed.type.base.mm) / 2


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
        kind="post" if newel.kind == "post" else "wall",
        width=newel.width.mm,
        narrowest=newel.narrowest.mm,
        face=stand.face,
        centre=stand.face + up * newel.width.mm / 2,
        gap=(stand.face - edge) * up,
        stands=stand.stands,
        even_face=edge + up * even if stand.stands else None,
    )
