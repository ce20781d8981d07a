"""A diagnosis in lines of words, for the terminal."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

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
    for number, verdict in enumerate(diagnosis.verdicts):
        yield ("or: " if number else "") + _verdict(verdict)
    if diagnosis.verdict.tells:
        yield f"to tell: {diagnosis.verdict.tells}"
    yield from _pointed_out(diagnosis.neighbours, rail, way)


def _verdict(verdict: Verdict) -> str:
    return f"{verdict.says} - {verdict.do}"


def _pointed_out(found: Sequence[Neighbours], rail: RailMarks, way: Way) -> Iterator[str]:
    """The neighbours that are off, the worst first; the diagnosis has them all in order."""
    failing = [one for one in found if one.fails]
    slight = [one for one in found if not one.fails]
    if failing:
        yield f"out of tolerance: {_listed(failing, rail)}"
    if slight:
        more = f"off by more than {rail.shown.near}"
        heading = f"within tolerance, but {more}"
        if way == "running":
            heading = f"{more} between running readings, whose errors add up"
        yield f"{heading}: {_listed(slight, rail)}"


def _listed(found: Sequence[Neighbours], rail: RailMarks) -> str:
    worst = sorted(found, key=lambda one: -abs(one.off))[:_MOST_LISTED]
    more = f" and {len(found) - len(worst)} more" if len(found) > len(worst) else ""
    return ", ".join(_apart(one, rail) for one in worst) + more


def _apart(one: Neighbours, rail: RailMarks) -> str:
    word = "long" if one.off > 0 else "short"
    return f"{one.lower} to {one.upper} {rail.shown.text(abs(one.off))} {word}"
