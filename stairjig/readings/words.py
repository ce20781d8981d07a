"""A verdict in the trade's terms: what is wrong, which way and how far, and what to do."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from stairjig.readings.cases import Case
from stairjig.readings.causes import Cause
from stairjig.readings.further import further
from stairjig.readings.sayings import again, said
from stairjig.readings.values import Apart, Kind, Neighbours, RailMarks, Verdict

GO_ON = "bore by these marks"
MOST_CAUSES = 6
"""Readings with more to explain are not these marks' readings."""
MOST_SHARE = 0.12
"""No fit to the page and no wrong pitch makes a larger ratio that is not all that is wrong."""
_MOST_LISTED = 4


def verdicts(
    cases: Sequence[Case],
    rail: RailMarks,
    total: bool,
    turned: bool = False,
    look: Sequence[Neighbours] = (),
    apart: Apart | None = None,
) -> tuple[Verdict, ...]:
    """The cases in words, each with what would tell it from the other.

    `total`: there is one. `turned`: the readings would be right from the last mark down. `look`:
    neighbours to look at again. `apart`: the total contradicts the running readings.
    """
    tells = further(cases, rail, total)
    return tuple(
        _wrong(case, rail, tells, turned)
        if case.causes
        else _within(case, rail, tells, look, apart is not None)
        for case in cases
    )


def _wrong(case: Case, rail: RailMarks, tells: str, turned: bool) -> Verdict:
    parts = (*_parts(case, rail),)
    if strange(case):
        return _foreign(case, rail, turned)
    if len(parts) == 1:
        return replace(parts[0], says=_alone(case, rail), tells=tells)
    marks = tuple(dict.fromkeys(mark for part in parts for mark in part.marks))
    says = "more than one thing is wrong: " + "; ".join(part.says for part in parts)
    do = "put these right from the first mark up, then tape all of them again"
    if turned:
        do = _from_the_top(rail)
    return Verdict(Kind.SEVERAL, marks, 0.0, says, do, tells, parts=parts)


def _from_the_top(rail: RailMarks) -> str:
    first, last = rail.names[0], rail.names[-1]
    return f"from {last} down they would all be right: was it taped so? Tape from {first} up"


def strange(case: Case) -> bool:
    """Whether so much would have to be wrong that these are not this rail's readings."""
    unread = sum(cause.kind is Kind.UNREAD for cause in case.causes)
    wrong = len(case.causes) - unread
    few = unread > 1 and wrong > 1 and 2 * wrong > len(case.tape.read) - case.tape.total
    beside = len(case.causes) > 1 and any(abs(cause.share) > MOST_SHARE for cause in case.causes)
    return wrong > MOST_CAUSES or few or beside


def _foreign(case: Case, rail: RailMarks, turned: bool) -> Verdict:
    taken = "from mark to mark" if case.tape.way == "running" else "from the first mark"
    says = "these readings don't fit this rail"
    do = (
        f"bore nothing. Are they another section's or another job's? Were they taped {taken}, or "
        f"from another mark than {rail.names[0]}? If not, lay the strip on again and compare"
    )
    return Verdict(Kind.FOREIGN, (), 0.0, says, _from_the_top(rail) if turned else do)


def _within(
    case: Case, rail: RailMarks, tells: str, look: Sequence[Neighbours], apart: bool
) -> Verdict:
    within = f"within {rail.shown.limit(rail.tolerance)} of the drawing"
    says, do = f"all {len(rail) - 1} spacings are {within}", GO_ON
    if case.tape.way == "running":
        says = f"all {len(rail)} marks are {within}"
    elif case.tape.total:
        says = f"all {len(rail) - 1} spacings and the total are {within}"
    else:
        do = "tape first mark to last as well: small errors add up"
    if apart:
        do = "tape the total again before boring"
    return Verdict(Kind.WITHIN, (), 0.0, says, _look_again(look, do), tells)


def _look_again(look: Sequence[Neighbours], do: str) -> str:
    """What to do first, where neighbours are off by more than they should be."""
    if not look:
        return do
    worst = sorted(look, key=lambda one: -abs(one.off))[:_MOST_LISTED]
    pairs = ", ".join(f"{one.lower} to {one.upper}" for one in look if one in worst)
    more = f" and {len(look) - len(worst)} more" if len(look) > len(worst) else ""
    again = f"look again at {pairs}{more}"
    return f"{again} before boring" if do == GO_ON else f"{again}, and {do}"


def _parts(case: Case, rail: RailMarks) -> Iterator[Verdict]:
    """What is wrong from the first mark up; marks missing, or without a reading, are one thing."""
    told: set[Kind] = set()
    for cause in sorted(case.causes, key=lambda cause: (cause.index < 0, cause.index)):
        alike = [other for other in case.causes if other.kind is cause.kind]
        if cause.kind in _TOGETHER and len(alike) > 1:
            if cause.kind not in told:
                yield _together(alike, rail)
        elif cause.kind is Kind.SHIFTED and cause.kind in told:
            yield replace(_one(cause, rail), says=again(cause, rail))
        else:
            yield _one(cause, rail)
        told.add(cause.kind)


_TOGETHER = (Kind.MISSING, Kind.UNREAD)


def _alone(case: Case, rail: RailMarks) -> str:
    """What is wrong, and that nothing else is."""
    first = case.causes[0]
    if len(case.causes) > 1:
        says = _together(case.causes, rail).says
        return says if first.kind is Kind.MISSING else f"{says}; the others are right"
    says, right, _ = said(first, rail)
    return f"{says}; {right}" if right else says


def _together(causes: Sequence[Cause], rail: RailMarks) -> Verdict:
    names = tuple(rail.names[cause.index] for cause in causes)
    kind = causes[0].kind
    if kind is Kind.MISSING:
        says = f"{len(names)} marks are missing: {', '.join(names)}"
        return Verdict(kind, names, 0.0, says, "mark them, then tape all again")
    listed = f"for {', '.join(names)}"
    if len(names) > _MOST_LISTED and names == rail.names[-len(names) :]:
        listed = f"from mark {names[0]} on ({len(names)} marks)"
    says = f"there is no reading {listed}"
    return Verdict(kind, names, 0.0, says, "tape these too before anything is bored")


def _one(cause: Cause, rail: RailMarks) -> Verdict:
    says, _, do = said(cause, rail)
    amount = cause.amount
    if cause.kind is Kind.BOWED:
        amount /= rail.bow_shift_per_bow
    marks = _marks(cause, rail)
    twin = _twin(cause, rail)
    return Verdict(cause.kind, marks, amount, says, do, "", twin, (), cause.share)


def _marks(cause: Cause, rail: RailMarks) -> tuple[str, ...]:
    """The marks that a cause names; one too many is named by those that it stands between."""
    if cause.kind in (Kind.RATIO, Kind.BOWED):
        return ()
    if cause.kind is Kind.EXTRA:
        return tuple(rail.names[i] for i in (cause.index - 1, cause.index) if 0 <= i < len(rail))
    return (rail.names[cause.index],) if cause.index >= 0 else ()


def _twin(cause: Cause, rail: RailMarks) -> tuple[Kind, str, float] | None:
    """The same readings told from the other end: at the first and at the last spacing."""
    last = len(rail) - 1
    if _after_first(cause, rail):
        return Kind.MISPLACED, rail.names[0], -cause.amount
    if cause.kind is Kind.MISPLACED and cause.index == last:
        return Kind.SHIFTED, rail.names[last], cause.amount
    return None


def _after_first(cause: Cause, rail: RailMarks) -> bool:
    """Whether it may as well be the first mark that is off, the other way."""
    lone = cause.kind is Kind.MISPLACED and len(rail) == 2
    return lone or (cause.kind is Kind.SHIFTED and cause.index == 1)
