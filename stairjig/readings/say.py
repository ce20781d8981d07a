"""A diagnosis in lines of words, for the terminal."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from stairjig.lengths import NEAR, Real, Shown
from stairjig.readings.values import Apart, Diagnosis, Kind, Neighbours, RailMarks, Verdict, Way
from stairjig.readings.words import GO_ON

_MOST_LISTED = 4
_UNPROVED = (Kind.UNREAD, Kind.UNPROVED)
"""What only wants a further reading: nothing that was read is wrong."""


def say(
    diagnosis: Diagnosis, rail: RailMarks, hold: str = "", alone: bool = False
) -> tuple[str, ...]:
    """What the readings say, what to do, and what is pointed out; one thing a line.

    `hold`: what is to be put right before anything is bored, though these readings be right.
    `alone`: the job has other rails, of which this says nothing.
    """
    if alone and not hold and diagnosis.verdict.do == GO_ON:
        hold = f"{GO_ON}, those of {rail.section} alone"
    return (*_lines(diagnosis, rail, hold),)


def _lines(diagnosis: Diagnosis, rail: RailMarks, hold: str) -> Iterator[str]:
    count, way = diagnosis.count, diagnosis.way
    readings = f"{count} {way} reading" + ("" if count == 1 else "s")
    section = f"{rail.section}: " if rail.section else ""
    yield f"{section}{readings}: {_result(diagnosis)}"
    if count != len(rail) - 1 and not _left_out(diagnosis.verdict):
        yield f"{len(rail)} marks take {len(rail) - 1} readings after the first mark"
    if diagnosis.apart:
        yield _apart_words(diagnosis.apart, rail.shown)
    if diagnosis.verdict.kind is Kind.UNPROVED:
        yield from _unproved(diagnosis)
    else:
        yield from _within(diagnosis, rail, hold) if _stands(diagnosis) else _accounts(diagnosis)
    if diagnosis.verdict.kind is not Kind.FOREIGN:
        yield from _pointed_out(diagnosis.neighbours, rail, way)


def _result(diagnosis: Diagnosis) -> str:
    if diagnosis.redo:
        return "not proved yet" if diagnosis.verdict.kind in _UNPROVED else "not right"
    return "right"


def _left_out(verdict: Verdict) -> bool:
    """Whether it tells that readings were left out."""
    return any(one.kind is Kind.UNREAD for one in (verdict, *verdict.parts))


def _apart_words(apart: Apart, shown: Shown) -> str:
    """That one length was taped twice and reads two ways, and what that may come of."""
    last, total = shown.text(apart.last), shown.text(apart.total)
    far = shown.text(abs(apart.total - apart.last))
    why = "one of them is wrong"
    if apart.as_drawn:
        tape = "one of the readings is wrong"
        if apart.between:
            tape = f"the tape was moved between {' and '.join(apart.between)}"
        why = f"either {tape}, or the total is wrong or copied"
    again = "tape the total again in one pull"
    if apart.between:
        again += f"; if it is right, take every reading from {apart.between[1]} on again"
    return (
        f"bore nothing: the last running reading, {last}, and the total, {total}, are one length "
        f"and read {far} apart; {why} - {again}"
    )


def _stands(diagnosis: Diagnosis) -> bool:
    return not diagnosis.redo and diagnosis.verdict.kind is Kind.WITHIN


def _within(diagnosis: Diagnosis, rail: RailMarks, hold: str) -> Iterator[str]:
    """Marks that pass stay; what they may hide yet is taped again first, not redone."""
    verdict = replace(diagnosis.verdict, do=hold) if hold else diagnosis.verdict
    whys = [why for hint in diagnosis.verdicts[1:] if (why := _hinted(hint, diagnosis, rail))]
    if whys and verdict.do.startswith(GO_ON):
        verdict = replace(verdict, do=f"{verdict.do}, after one more reading")
    yield _verdict(verdict)
    for why in whys:
        yield f"before that, {verdict.tells}: {why}"


def _hinted(hint: Verdict, diagnosis: Diagnosis, rail: RailMarks) -> str:
    """What readings that pass may hide; "" where the total is asked for in any case."""
    if diagnosis.way != "spacing" or hint.kind not in _FAINT or _passes_still(hint, rail):
        return f"it may be that {hint.says}"
    return _FAINT[hint.kind] if diagnosis.total or hint.kind is Kind.BOWED else ""


_FAINT = {
    Kind.RATIO: "spacings hardly show whether all are a little long or short",
    Kind.BOWED: "spacings hardly show a slight bow",
}
"""Drifts that chance explains as well; that a total is wanted is said in any case."""


def _passes_still(hint: Verdict, rail: RailMarks) -> bool:
    """Whether a drift would leave every mark within tolerance."""
    moves = hint.amount * (rail.bow_shift_per_bow if hint.kind is Kind.BOWED else 1.0)
    return abs(moves) <= rail.tolerance


def _unproved(diagnosis: Diagnosis) -> Iterator[str]:
    """Readings that pass and prove nothing; what they may come of, where it is so."""
    yield _verdict(diagnosis.verdict)
    for hint in diagnosis.verdicts[1:]:
        yield f"it may be that {hint.says} - if so, {hint.do}"
    if not diagnosis.neighbours and diagnosis.verdict.amount:
        yield _furthest(diagnosis)


def _furthest(diagnosis: Diagnosis) -> str:
    """The spacings that are off most the way that their sum is."""
    way = 1 if diagnosis.verdict.amount > 0 else -1
    off = [
        (round((high.spacing_off or 0.0) * way, 3), f"{low.mark} to {high.mark}")
        for low, high in pairwise(diagnosis.rows)
    ]
    worst = sorted(off, key=lambda one: -one[0])[:_MOST_LISTED]
    word = "longest" if way > 0 else "shortest"
    return f"{word} against the drawing: {', '.join(between for _, between in worst)}"


def _accounts(diagnosis: Diagnosis) -> Iterator[str]:
    for number, verdict in enumerate(diagnosis.verdicts):
        yield ("or: " if number else "") + _by(verdict, diagnosis.apart) + _verdict(verdict)
    if diagnosis.verdict.tells:
        yield f"to tell: {diagnosis.verdict.tells}"


def _by(verdict: Verdict, apart: Apart | None) -> str:
    """What a verdict on running readings stands or falls by, where the total contradicts them."""
    if apart is None:
        return ""
    if not apart.as_drawn:
        return "by the running readings "
    return f"if the total is {'right' if verdict.kind is Kind.MISREAD else 'wrong'}, "


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
    return ", ".join(_far(one, rail.shown, limit) for one in worst) + more


def _far(one: Neighbours, shown: Shown, limit: Real) -> str:
    off, word = shown.text(abs(one.off)), "long" if one.off > 0 else "short"
    over = "just over " if off == shown.limit(limit) else ""
    return f"{one.lower} to {one.upper} {over}{off} {word}"
