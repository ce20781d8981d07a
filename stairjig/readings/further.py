"""The further reading that would tell two accounts of the same readings apart."""

from __future__ import annotations

from collections.abc import Sequence

from stairjig.readings.cases import Case
from stairjig.readings.causes import Cause
from stairjig.readings.values import Kind, RailMarks

_ENDS = (Kind.MISSING, Kind.EXTRA)
_MOVES = (Kind.MISPLACED, Kind.SHIFTED)


def further(cases: Sequence[Case], rail: RailMarks, total: bool) -> str:
    """What to tape or to look at next; "" where nothing is open."""
    if (cause := cases[0].causes[:1]) and cause[0].kind is Kind.UNPROVED:
        return _to_prove(cause[0], rail, total)
    open_ends = [_at_first(case, rail) for case in cases]
    asks = [*dict.fromkeys(ask for ask in open_ends if ask)]
    if len(cases) == 2:
        asks.insert(0, _between(cases[0], cases[1], rail, total))
    return "; ".join(dict.fromkeys(asks))


def _to_prove(cause: Cause, rail: RailMarks, total: bool) -> str:
    """What proves marks whose spacings add up to too much, or may drift."""
    if not total and cause.index == len(rail) - 1:
        return f"tape the total, first mark to last: {rail.shown.long(rail.length)} is right"
    return _all_running(rail, cause.index)


def _at_first(case: Case, rail: RailMarks) -> str:
    """The first mark off, or all the others: only what stands beside the first can tell."""
    if len(case.causes) != 1:
        return ""
    cause = case.causes[0]
    lone = len(rail) == 2 and cause.kind is Kind.MISPLACED
    return _newel(rail) if lone or (cause.kind is Kind.SHIFTED and cause.index == 1) else ""


def _newel(rail: RailMarks) -> str:
    first = rail.names[0]
    if rail.lower is None:
        return f"plumb mark {first} up from below: it tells whether the first mark is right"
    due = rail.shown.text(-rail.lower)
    return f"tape from the {rail.foot}'s face to mark {first}, underside: {due} is right"


def _between(one: Case, two: Case, rail: RailMarks, total: bool) -> str:
    causes = [case.causes[0] for case in (one, two) if case.causes]
    kinds = {cause.kind for cause in causes}
    if Kind.MISREAD in kinds:
        return _misread(causes, one, rail, total)
    if len(causes) == 1:
        return _hint(causes[0], one, rail, total)
    if kinds == {Kind.MISSING, Kind.UNREAD}:
        return f"look whether mark {rail.names[causes[0].index]} is on the rail"
    if len(kinds) == 1 and kinds <= {*_ENDS}:
        return _which_end(causes, rail)
    if Kind.BOWED in kinds:
        return "lay a straightedge along the rail's underside: it shows a bow"
    if one.tape.way == "spacing":
        return _all_running(rail)
    return "tape every spacing by itself, from neighbour to neighbour"


def _misread(causes: Sequence[Cause], case: Case, rail: RailMarks, total: bool) -> str:
    misread = next(cause for cause in causes if cause.kind is Kind.MISREAD)
    shown = rail.shown
    if misread.index < 0:
        return f"tape the total again: {shown.long(misread.right)} means that it was misread"
    if case.tape.way == "spacing" and not total:
        right = shown.long(rail.length)
        return f"tape the total, first mark to last: {right} means that the reading was wrong"
    below = rail.names[misread.index - 1]
    gap = shown.text(rail.positions[misread.index] - rail.positions[misread.index - 1])
    return (
        f"tape {below} to {rail.names[misread.index]} by itself: "
        f"{gap} means that the reading was wrong"
    )


def _hint(cause: Cause, case: Case, rail: RailMarks, total: bool) -> str:
    """Within tolerance, or one thing that would be out of it."""
    if cause.kind is Kind.RATIO and case.tape.way == "spacing" and not total:
        return f"tape the total, first mark to last: {rail.shown.long(rail.length)} is right"
    if cause.kind is Kind.BOWED and case.tape.way == "spacing":
        return _all_running(rail)
    if cause.kind in _MOVES:
        return f"tape both spacings beside mark {rail.names[cause.index]} again"
    return "take all readings again"


def _all_running(rail: RailMarks, at: int = 0) -> str:
    middle = at if 0 < at < len(rail) - 1 else len(rail) // 2
    due = rail.shown.long(rail.positions[middle] - rail.positions[0])
    return f"take running readings from the first mark: {due} is right at {rail.names[middle]}"


def _which_end(causes: Sequence[Cause], rail: RailMarks) -> str:
    if causes[0].index == 0 or causes[1].index == 0:
        return _newel(rail)
    low = min(cause.index for cause in causes)
    below = rail.names[max(low - 1, 0)]
    past = "past" if rail.level else "above"
    return f"look at the marks {past} {below}: tape each from it and compare with the drawing"
