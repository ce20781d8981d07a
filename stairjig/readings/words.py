"""A verdict in the trade's terms: what is wrong, which way and how far, and what to do."""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction

from stairjig.lengths import BURNT, WHOLE, Units
from stairjig.readings.cases import Case
from stairjig.readings.causes import Cause
from stairjig.readings.further import further
from stairjig.readings.values import Kind, RailMarks, Verdict

Said = tuple[str, str]
"""What is wrong, and what to do."""
GO_ON = "bore by these marks"
MOST_DAMP = 0.005
"""Paper moves by 0.2 to 0.4 % across its grain with damp, by notes on its stability."""
MOST_PITCH = 4.0
"""Degrees that a pitch may be mistaken by; a print at a wrong scale is likelier beyond."""
FORMS = {
    "whole": {"inch": "a whole inch", "mm": "a whole centimetre"},
    "foot": {"inch": "a whole foot", "mm": "ten whole centimetres"},
    "mirrored": {
        "inch": "the fraction taken from the wrong side of the inch mark",
        "mm": "the millimetres taken from the wrong side of the centimetre mark",
    },
    "turned": {"inch": "two digits turned round", "mm": "two digits turned round"},
    "": {"inch": "nothing else is off there", "mm": "nothing else is off there"},
}


HELD: dict[Units, tuple[Fraction, ...]] = {
    units: tuple(dict.fromkeys((BURNT[units], WHOLE[units]))) for units in BURNT
}
"""Lines of a tape that are held on the first mark where its hook is in the way, mm."""
HELD_WITHIN = 2.4


def verdicts(
    cases: Sequence[Case], rail: RailMarks, total: bool, turned: bool = False
) -> tuple[Verdict, ...]:
    """The cases in words, each with what would tell it from the other.

    `total`: there is one. `turned`: the readings would be right from the last mark down.
    """
    tells = further(cases, rail, total)
    return tuple(_verdict(case, rail, tells, turned) for case in cases)


def _verdict(case: Case, rail: RailMarks, tells: str, turned: bool) -> Verdict:
    if not case.causes:
        return _within(case, rail, tells)
    if _one_kind(case):
        return _together(case, rail, tells)
    if len(case.causes) == 1:
        return _one(case.causes[0], rail, tells)
    parts = tuple(_one(cause, rail, "") for cause in case.causes)
    marks = tuple(dict.fromkeys(mark for part in parts for mark in part.marks))
    says = "more than one thing is wrong: " + "; ".join(part.says for part in parts)
    do = "put these right from the first mark up, then tape all of them again"
    if turned:
        first, last = rail.names[0], rail.names[-1]
        do = f"from {last} down they would all be right: was it taped so? Tape from {first} up"
    return Verdict(Kind.SEVERAL, marks, 0.0, says, do, tells, parts=parts)


def _within(case: Case, rail: RailMarks, tells: str) -> Verdict:
    within = f"within {rail.shown.limit(rail.tolerance)} of the drawing"
    if case.tape.way == "running":
        return Verdict(Kind.WITHIN, (), 0.0, f"all {len(rail)} marks are {within}", GO_ON, tells)
    spacings = f"all {len(rail) - 1} spacings"
    if case.tape.total:
        return Verdict(Kind.WITHIN, (), 0.0, f"{spacings} and the total are {within}", GO_ON, tells)
    do = "tape first mark to last as well: small errors add up"
    return Verdict(Kind.WITHIN, (), 0.0, f"{spacings} are {within}", do, tells)


def _one_kind(case: Case) -> bool:
    kinds = {cause.kind for cause in case.causes}
    return len(case.causes) > 1 and kinds in ({Kind.MISSING}, {Kind.UNREAD})


def _together(case: Case, rail: RailMarks, tells: str) -> Verdict:
    """Several marks without a reading are one thing to say."""
    names = tuple(rail.names[cause.index] for cause in case.causes)
    listed = ", ".join(names)
    if case.causes[0].kind is Kind.MISSING:
        says, do = f"{len(names)} marks are missing: {listed}", "mark them, then tape all again"
    else:
        says = f"there is no reading for {listed}; the others are right"
        do = "tape these too before anything is bored"
    return Verdict(case.causes[0].kind, names, 0.0, says, do, tells)


def _one(cause: Cause, rail: RailMarks, tells: str) -> Verdict:
    says, do = _SAYS[cause.kind](cause, rail)
    amount = cause.amount
    if cause.kind is Kind.BOWED:
        amount /= rail.bow_shift_per_bow
    marks = _marks(cause, rail)
    twin = _twin(cause, rail)
    return Verdict(cause.kind, marks, amount, says, do, tells, twin, (), cause.share)


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


def _off(amount: float, rail: RailMarks) -> str:
    """`3/8″ too far up`."""
    up, down = ("along", "back") if rail.level else ("up", "down")
    far = abs(amount)
    off = rail.shown.against(far, rail.tolerance if far > rail.tolerance else None)
    return f"{off} too far {up if amount > 0 else down}"


def _over(rail: RailMarks) -> str:
    return "past" if rail.level else "above"


def _under(rail: RailMarks) -> str:
    return "before" if rail.level else "below"


def _misplaced(cause: Cause, rail: RailMarks) -> Said:
    name, off = rail.names[cause.index], _off(cause.amount, rail)
    if len(rail) == 2:
        return _first_or_rest(cause, rail)
    if cause.index == len(rail) - 1:
        says = f"mark {name}, the last, is {off}; those {_under(rail)} it are right"
        return says, "redo this one"
    return f"mark {name} is {off}; the marks on both sides are right", "redo this one"


def _shifted(cause: Cause, rail: RailMarks) -> Said:
    if cause.index == 1:
        return _first_or_rest(cause, rail)
    name, below = rail.names[cause.index], rail.names[cause.index - 1]
    says = (
        f"everything from mark {name} on is {_off(cause.amount, rail)}; {below} and "
        f"{_under(rail)} are right"
    )
    do = (
        f"the strip or the tape slipped between {below} and {name}: tape that spacing again; "
        f"if it reads the same, redo every mark from {name} on"
    )
    return says, do


def _first_or_rest(cause: Cause, rail: RailMarks) -> Said:
    first, second = rail.names[:2]
    rest = f"mark {second}" if len(rail) == 2 else f"everything from {second} on"
    says = (
        f"either mark {first}, the first, is {_off(-cause.amount, rail)}, "
        f"or {rest} is {_off(cause.amount, rail)}"
    )
    do = f"plumb mark {first} up again: redo it if it is off, else all the others"
    for held in HELD[rail.shown.units]:
        if abs(cause.amount - held) < HELD_WITHIN:
            line = rail.shown.text(held)
            do = f"was the tape held at its {line} line and that not taken off? If not, {do}"
    return says, do


def _missing(cause: Cause, rail: RailMarks) -> Said:
    at, name, shown = cause.index, rail.names[cause.index], rail.shown
    if at == 0:
        says = f"mark {name}, the first, is missing: the readings fit from {rail.names[1]} on"
        gap = rail.positions[1] - rail.positions[0]
        return says, f"mark it {shown.text(gap)} {_under(rail)} {rail.names[1]}, then tape again"
    below = rail.names[at - 1]
    gap = rail.positions[at] - rail.positions[at - 1]
    says = f"mark {name} is missing; the others are right"
    if at < len(rail) - 1:
        double = rail.positions[at + 1] - rail.positions[at - 1]
        ends = f"from {below} to {rail.names[at + 1]}"
        says = f"mark {name} is missing: {ends} is one spacing of {shown.text(double)}"
    reading = shown.text(rail.positions[at] - rail.positions[0])
    place = f"{shown.text(gap)} {_over(rail)} {below} (reading {reading})"
    return says, f"mark it {place}, then tape again"


def _unread(cause: Cause, rail: RailMarks) -> Said:
    name, below = rail.names[cause.index], rail.names[cause.index - 1]
    says = f"there is no reading for mark {name}; the others are right"
    return says, f"tape {below} to {name} too before anything is bored"


def _extra(cause: Cause, rail: RailMarks) -> Said:
    at, shown, do = cause.index, rail.shown, "cross it out, so that nobody bores it"
    if at == 0:
        place = f"{shown.text(-cause.amount)} {_under(rail)} {rail.names[0]}"
        return f"there is one mark too many, {place}, the first", do + _from_newel(cause, rail)
    above = cause.amount - rail.positions[at - 1]
    place = f"{shown.text(above)} {_over(rail)} {rail.names[at - 1]}"
    says = f"there is one mark too many, {place}"
    if at == len(rail):
        return f"{says}, the last", do
    return f"{says} and before {rail.names[at]}", do


def _from_newel(cause: Cause, rail: RailMarks) -> str:
    """What else a first reading too many may be."""
    if rail.lower is not None and abs(cause.amount - rail.lower) <= 2 * rail.tolerance:
        return f"; or the first reading is from the {rail.foot}'s face, and does not belong here"
    held = rail.shown.text(-cause.amount)
    return f"; or running readings with the tape held at {held}: take that off each of them"


def _ratio(cause: Cause, rail: RailMarks) -> Said:
    word = "long" if cause.share > 0 else "short"
    far = rail.shown.text(abs(cause.amount))
    says = f"all spacings are {abs(cause.share):.2%} {word}: {far} at the last mark"
    damp = ", or its paper moved with damp" if abs(cause.share) <= MOST_DAMP else ""
    scale = f"the strip was printed at {1 + cause.share:.2%} of its size"
    do = f"{scale}{damp}{_pitch(cause.share, rail)}"
    return says, f"{do}: tape the strip's scale bar and its whole length, then redo all marks"


def _pitch(share: float, rail: RailMarks) -> str:
    """What the pitch would have to be: m = s / cos(pitch), so cos shrinks as spacings grow."""
    pitch = math.atan(rail.bow_shift_per_bow)
    cosine = math.cos(pitch) / (1 + share)
    if rail.level or cosine >= 1:
        return ""
    other = math.degrees(math.acos(cosine))
    if abs(other - math.degrees(pitch)) > MOST_PITCH:
        return ""
    return f", or the pitch is {other:.1f}° instead of {math.degrees(pitch):.1f}°"


def _bowed(cause: Cause, rail: RailMarks) -> Said:
    bow = rail.shown.text(abs(cause.amount / rail.bow_shift_per_bow))
    shape, side = ("crown", "up") if cause.amount > 0 else ("sag", "down")
    far = rail.shown.text(abs(cause.amount))
    says = (
        f"the rail was bowed when it was marked: a {shape} of {bow} in the middle explains it; "
        f"the middle marks are {far} too far {side}, those at both ends right"
    )
    return says, "prop the rail straight, hold a straightedge to it and redo all marks"


def _misread(cause: Cause, rail: RailMarks) -> Said:
    shown = rail.shown
    read, right = shown.text(cause.right + cause.amount), shown.text(cause.right)
    which = "the total"
    if cause.index >= 0:
        which = f"the reading from {rail.names[cause.lower]} to {rail.names[cause.index]}"
    how = FORMS[cause.form][shown.units]
    says = f"{which}, {read}, looks misread: {right} fits ({how})"
    return says, "tape it again; the marks look right"


_SAYS = {
    Kind.MISPLACED: _misplaced,
    Kind.SHIFTED: _shifted,
    Kind.MISSING: _missing,
    Kind.UNREAD: _unread,
    Kind.EXTRA: _extra,
    Kind.RATIO: _ratio,
    Kind.BOWED: _bowed,
    Kind.MISREAD: _misread,
}
