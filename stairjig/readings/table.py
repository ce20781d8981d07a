"""The verdict's table: expected, read and difference, mark by mark."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

from stairjig.readings.cases import Case
from stairjig.readings.tape import Tape
from stairjig.readings.values import Neighbours, RailMarks, Row

_HAIR = 1e-6


def rows(case: Case, rail: RailMarks) -> tuple[Row, ...]:
    """One row for each mark that the case takes to be on the rail, spacings from the one before."""
    positions = case.tape.positions
    running = _running(case.tape)
    spacings = _spacings(case.tape, running)
    return tuple(
        Row(
            rail.names[mark],
            positions[index] - positions[index - 1] if index else None,
            positions[index] - positions[0],
            spacings[index],
            running[index],
        )
        for index, mark in enumerate(case.marks)
    )


def _marks_read(taken: Tape) -> dict[int, float]:
    """The reading at each mark by index, the total left out."""
    count = len(taken.spans) - taken.total
    return {taken.spans[index][1]: taken.read[index] for index in range(count)}


def _running(taken: Tape) -> list[float | None]:
    read = _marks_read(taken)
    running: list[float | None] = [0.0]
    for index in range(1, len(taken.positions)):
        below, value = running[-1], read.get(index)
        if taken.way == "running" or value is None:
            running.append(value)
        else:
            running.append(None if below is None else below + value)
    return running


def _spacings(taken: Tape, running: list[float | None]) -> list[float | None]:
    if taken.way == "spacing":
        read = _marks_read(taken)
        return [read.get(index) for index in range(len(taken.positions))]
    pairs = pairwise(running)
    return [None, *(None if a is None or b is None else b - a for a, b in pairs)]


def neighbours(table: Iterable[Row], near: float, limit: float) -> tuple[Neighbours, ...]:
    """Neighbours that are off by more than `near`; they fail beyond `limit`."""
    found = []
    below: Row | None = None
    for row in table:
        off = row.spacing_off
        if below is not None and off is not None and abs(off) > near + _HAIR:
            found.append(Neighbours(below.mark, row.mark, off, abs(off) > limit + _HAIR))
        below = row
    return tuple(found)
