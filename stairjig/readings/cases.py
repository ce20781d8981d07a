"""A case: one whole account of the readings - what is wrong, and what is left when it is so."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import pairwise

from stairjig.frozen import frozen
from stairjig.readings.causes import Cause, nothing_wrong
from stairjig.readings.tape import Tape

PER_CAUSE = 12.0
"""What each further cause makes a case less likely."""
_CAPPED = 8.0
"""No single reading counts for more than this against a case that leaves it unexplained."""


@frozen
class Case:
    """What may be wrong, `causes` by index on the rail, and the readings taken that way.

    `marks`: the rail's mark at each of the tape's positions. `unlikely`: the smaller, the better
    it fits. No causes: nothing is wrong.
    """

    causes: tuple[Cause, ...]
    unlikely: float
    tape: Tape
    marks: tuple[int, ...]

    def key(self) -> tuple[object, ...]:
        """What makes two cases the same in words."""
        return tuple((cause.kind, cause.index) for cause in self.causes)


def clean(tape: Tape, marks: Sequence[int]) -> Case:
    """The case that nothing is wrong with these marks."""
    return Case((), nothing_wrong(tape), tape, (*marks,))


def with_causes(base: Case, causes: Iterable[Cause], unlikely: float) -> Case:
    """The case with more causes, given by index on the case's own tape."""
    named = tuple(_on_rail(cause, base.marks) for cause in causes)
    return replace(base, causes=(*base.causes, *named), unlikely=unlikely)


def _on_rail(cause: Cause, marks: Sequence[int]) -> Cause:
    index = cause.index if cause.index < 0 else marks[cause.index]
    return replace(cause, index=index, lower=marks[cause.lower])


def likeliest(cases: Iterable[Case], most: int, within: float) -> list[Case]:
    """The best few, no two the same in words, none further than `within` behind the best."""
    chosen: list[Case] = []
    for case in sorted(cases, key=lambda case: case.unlikely):
        if chosen and case.unlikely > chosen[0].unlikely + within:
            break
        if all(case.key() != other.key() for other in chosen):
            chosen.append(case)
    return chosen[:most]


def half_spacing(case: Case) -> float:
    """Half the smallest spacing: a mark that is off by more was taken for its neighbour, mm."""
    return min(upper - lower for lower, upper in pairwise(case.tape.positions)) / 2


def capped(off: Iterable[float], sd: float) -> float:
    """Half the sum of squares left, in standard deviations, no reading for more than a few."""
    return sum(min(value * value / (2 * sd * sd), _CAPPED) for value in off)
