"""A verdict in the trade's terms: what is wrong, which way and how far, and what to do."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from stairjig.readings.cases import Case
from stairjig.readings.causes import Cause
from stairjig.readings.further import further
from stairjig.readings.matched import strange
from stairjig.readings.sayings import again, said, too_far
from stairjig.readings.values import Apart, Kind, Neighbours, RailMarks, Verdict

GO_ON = "bore by these marks"
_MOST_LISTED = 4
_MOST_ROWS = 8
"""Rows of marks without a reading that are listed."""


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
    if case.causes[0].kind is Kind.UNPROVED and len(case.causes) == 1:
        return _unproved(case, rail, tells)
    parts = (*_parts(case, rail),)
    if strange(case):
        return _foreign(case, rail, turned)
    if len(parts) == 1:
        return replace(parts[0], says=_alone(case, rail), tells=tells)
    marks = tuple(dict.fromkeys(mark for part in parts for mark in part.marks))
    says = "more than one thing is wrong: " + "; ".join(part.says for part in parts)
    do = _redo_several(case)
    if turned:
        do = _from_the_top(rail)
    return Verdict(Kind.SEVERAL, marks, 0.0, says, do, tells, parts=parts)


def _redo_several(case: Case) -> str:
    """What to do; running readings hold every mark by itself, and those not named are right."""
    alone = all(cause.kind is Kind.MISPLACED for cause in case.causes)
    if alone and case.tape.way == "running":
        return f"redo these {len(case.causes)} marks and tape them again; the others are right"
    return "put these right from the first mark up, then tape all of them again"


def _from_the_top(rail: RailMarks) -> str:
    first, last = rail.names[0], rail.names[-1]
    return f"from {last} down they would all be right: was it taped so? Tape from {first} up"


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
        do = _as_well(case, rail)
    if apart:
        do = "tape the total again before boring"
    return Verdict(Kind.WITHIN, (), 0.0, says, _look_again(look, do), tells)


def _unproved(case: Case, rail: RailMarks, tells: str) -> Verdict:
    """Spacings that pass one by one and not together."""
    cause, shown = case.causes[0], rail.shown
    total = " and the total" if case.tape.total else ""
    within = f"within {shown.limit(rail.tolerance)} of the drawing"
    says = f"all {len(rail) - 1} spacings{total} are {within}, but {_sum_words(cause, case, rail)}"
    marks = (rail.names[cause.index],) if cause.amount else ()
    return Verdict(Kind.UNPROVED, marks, cause.amount, says, f"bore nothing yet: {tells}", tells)


def _sum_words(cause: Cause, case: Case, rail: RailMarks) -> str:
    """What spacings that pass one by one come to, which is more than honest ones do."""
    if not cause.amount:
        return "they drift by more than a tape's own errors do"
    name, shown = rail.names[cause.index], rail.shown
    far, word = shown.text(abs(cause.amount)), _long(cause.amount)
    errors = "more than a tape's own errors come to"
    if cause.form == "apart":
        added, total = shown.text(sum(case.tape.read[:-1])), shown.text(case.tape.read[-1])
        says = f"they add up to {added} where the total is {total}, {far} {word}: {errors}"
        return f"{says}; the total is misread or copied, or each spacing was read a little {word}"
    if case.tape.total:
        return f"between both ends they have mark {name} {too_far(cause.amount, rail)}: {errors}"
    says = f"added up to mark {name} they are {far} {word}: {errors}"
    return f"{says}, unless each was rounded the same way" if cause.form else says


def _long(amount: float) -> str:
    return "long" if amount > 0 else "short"


def _as_well(case: Case, rail: RailMarks) -> str:
    """What is to be taped besides spacings; how much of it their own errors may be."""
    added, shown = sum(case.tape.off), rail.shown
    do = "tape first mark to last as well"
    if abs(added) <= rail.tolerance:
        return f"{do}: small errors add up"
    off = f"{shown.text(abs(added))} {_long(added)}"
    return f"{do}, {shown.text(rail.length)} is right: small errors add up, here to {off}"


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
    for cause in sorted(case.causes, key=_place):
        alike = [other for other in case.causes if other.kind is cause.kind]
        if cause.kind in _TOGETHER and len(alike) > 1:
            if cause.kind not in told:
                yield _together(alike, rail)
        elif cause.kind is Kind.SHIFTED and cause.kind in told:
            yield replace(_one(cause, rail), says=again(cause, rail))
        else:
            yield _one(cause, rail)
        told.add(cause.kind)


def _place(cause: Cause) -> tuple[bool, bool, int]:
    """Where a cause is told: in the marks' order, the total and what was not read last."""
    return cause.kind is Kind.UNREAD, cause.index < 0, cause.index


_TOGETHER = (Kind.MISSING, Kind.UNREAD)


def _alone(case: Case, rail: RailMarks) -> str:
    """What is wrong, and that nothing else is."""
    first = case.causes[0]
    if len(case.causes) > 1:
        says = _together(case.causes, rail).says
        if first.kind is Kind.MISSING:
            return says
        rest = "what was read is right" if first.kind is Kind.UNREAD else "the others are right"
        return f"{says}; {rest}"
    says, right, _ = said(first, rail)
    return f"{says}; {right}" if right else says


def _together(causes: Sequence[Cause], rail: RailMarks) -> Verdict:
    names = tuple(rail.names[cause.index] for cause in causes)
    kind = causes[0].kind
    if kind is Kind.MISSING:
        says = f"{len(names)} marks are missing: {', '.join(names)}"
        return Verdict(kind, names, 0.0, says, "mark them, then tape all again")
    says = f"there is no reading {_unread(sorted(cause.index for cause in causes), rail)}"
    return Verdict(kind, names, 0.0, says, "tape these too before anything is bored")


def _unread(at: Sequence[int], rail: RailMarks) -> str:
    """The marks without a reading, those in a row from the first of them to the last."""
    count = f"({len(at)} marks)"
    if len(at) <= _MOST_LISTED:
        return f"for {', '.join(rail.names[index] for index in at)}"
    if at[-1] - at[0] == len(at) - 1 and at[-1] == len(rail) - 1:
        return f"from mark {rail.names[at[0]]} on {count}"
    rows: list[list[int]] = []
    for index in at:
        if rows and index == rows[-1][-1] + 1:
            rows[-1].append(index)
        else:
            rows.append([index])
    names = ((rail.names[row[0]], rail.names[row[-1]]) for row in rows)
    listed = [low if low == high else f"{low} to {high}" for low, high in names]
    if more := len(listed) - _MOST_ROWS:
        listed = listed if more < 0 else [*listed[:_MOST_ROWS], f"{more} more in between"]
    return f"for {', '.join(listed)} {count}"


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
