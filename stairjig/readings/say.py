"""A diagnosis in lines of words, for the terminal."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from stairjig.lengths import NEAR, Real, Shown
from stairjig.readings.values import Diagnosis, Kind, Neighbours, RailMarks, Verdict, Way

_MOST_LISTED = 4


def say(diagnosis: Diagnosis, rail: RailMarks) -> tuple[str, ...]:
    """What the readings say, what to do, and what is pointed out; one thing a line."""
    return (*_lines(diagnosis, rail),)


def _lines(diagnosis: Diagnosis, rail: RailMarks) -> Iterator[str]:
    count, way = diagnosis.count, diagnosis.way
    readings = f"{count} {way} reading" + ("" if count == 1 else "s")
    result = "not right" if diagnosis.redo else "right"
    yield f"{rail.section}: {readings}: {result}" if rail.section else f"{readings}: {result}"
    if count != len(rail) - 1 and diagnosis.verdict.kind is not Kind.UNREAD:
        yield f"{len(rail)} marks take {len(rail) - 1} readings after the first mark"
    yield from _within(diagnosis) if _stands(diagnosis) else _accounts(diagnosis)
    yield from _pointed_out(diagnosis.neighbours, rail, way)


def _stands(diagnosis: Diagnosis) -> bool:
    return not diagnosis.redo and diagnosis.verdict.kind is Kind.WITHIN


def _within(diagnosis: Diagnosis) -> Iterator[str]:
    """Marks that pass stay; what they may hide yet is taped again first, not redone."""
    yield _verdict(diagnosis.verdict)
    for hint in diagnosis.verdicts[1:]:
        yield f"before that, {diagnosis.verdict.tells}: it may be that {hint.says}"


def _accounts(diagnosis: Diagnosis) -> Iterator[str]:
    for number, verdict in enumerate(diagnosis.verdicts):
        yield ("or: " if number else "") + _verdict(verdict)
    if diagnosis.verdict.tells:
        yield f"to tell: {diagnosis.verdict.tells}"


def _verdict(verdict: Verdict) -> str:
    return f"{verdict.says} - {verdict.do}"


def _pointed_out(found: Sequence[Neighbours], rail: RailMarks, way: Way) -> Iterator[str]:
    """The neighbours that are off, the worst first; the diagnosis has them all in order."""
    failing = [one for one in found if one.fails]
    slight = [one for one in found if not one.fails]
    if failing:
        yield f"out of tolerance: {_listed(failing, rail, rail.tolerance)}"
    if slight:
        more = f"off by more than {rail.shown.near}"
        heading = f"within tolerance, but {more}"
        if way == "running":
            heading = f"{more} between running readings, whose errors add up"
        yield f"{heading}: {_listed(slight, rail, NEAR[rail.shown.units])}"


def _listed(found: Sequence[Neighbours], rail: RailMarks, limit: Real) -> str:
    """The worst of them, all off by more than `limit`."""
    worst = sorted(found, key=lambda one: -abs(one.off))[:_MOST_LISTED]
    more = f" and {len(found) - len(worst)} more" if len(found) > len(worst) else ""
    return ", ".join(_apart(one, rail.shown, limit) for one in worst) + more


def _apart(one: Neighbours, shown: Shown, limit: Real) -> str:
    off, word = shown.text(abs(one.off)), "long" if one.off > 0 else "short"
    over = "just over " if off == shown.limit(limit) else ""
    return f"{one.lower} to {one.upper} {over}{off} {word}"
