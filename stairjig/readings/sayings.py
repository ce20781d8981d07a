"""One cause in the trade's terms: what is wrong, what is right then, and what to do."""

from __future__ import annotations

import math
from fractions import Fraction

from stairjig.lengths import BURNT, WHOLE, Shown, Units
from stairjig.readings.causes import Cause
from stairjig.readings.values import Kind, RailMarks

Said = tuple[str, str, str]
"""What is wrong; what is right then, where nothing else is wrong; and what to do."""
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
    "": {"inch": "as the other readings have it", "mm": "as the other readings have it"},
}


HELD: dict[Units, tuple[Fraction, ...]] = {
    units: tuple(dict.fromkeys((BURNT[units], WHOLE[units]))) for units in BURNT
}
"""Lines of a tape that are held on the first mark where its hook is in the way, mm."""
HELD_WITHIN = 2.4


def said(cause: Cause, rail: RailMarks) -> Said:
    """The cause in words."""
    return _SAYS[cause.kind](cause, rail)


def again(cause: Cause, rail: RailMarks) -> str:
    """One more slip beside another, in words: what it adds to that."""
    far = rail.shown.text(abs(cause.amount))
    return f"from mark {rail.names[cause.index]} on another {far} {_way(cause.amount, rail)}"


def _way(amount: float, rail: RailMarks) -> str:
    up, down = ("along", "back") if rail.level else ("up", "down")
    return up if amount > 0 else down


def too_far(amount: float, rail: RailMarks) -> str:
    """How far off a mark is in words: `3/8″ too far up`."""
    far = abs(amount)
    shown = rail.shown if rail.shown.rounded(far) else Shown.fine(rail.shown.units)
    off = shown.against(far, rail.tolerance if far > rail.tolerance else None)
    return f"{off} too far {_way(amount, rail)}"


def _over(rail: RailMarks) -> str:
    return "past" if rail.level else "above"


def _under(rail: RailMarks) -> str:
    return "before" if rail.level else "below"


def _misplaced(cause: Cause, rail: RailMarks) -> Said:
    name, off = rail.names[cause.index], too_far(cause.amount, rail)
    if len(rail) == 2:
        return _first_or_rest(cause, rail)
    if cause.index == len(rail) - 1:
        right = f"those {_under(rail)} it are right"
        return f"mark {name}, the last, is {off}", right, "redo this one"
    return f"mark {name} is {off}", "the marks on both sides are right", "redo this one"


def _shifted(cause: Cause, rail: RailMarks) -> Said:
    if cause.index == 1:
        return _first_or_rest(cause, rail)
    name, below = rail.names[cause.index], rail.names[cause.index - 1]
    says = f"everything from mark {name} on is {too_far(cause.amount, rail)}"
    right = f"{below} and {_under(rail)} are right"
    do = (
        f"the strip or the tape slipped between {below} and {name}: tape that spacing again; "
        f"if it reads the same, redo every mark from {name} on"
    )
    return says, right, do


def _first_or_rest(cause: Cause, rail: RailMarks) -> Said:
    first, second = rail.names[:2]
    rest = f"mark {second}" if len(rail) == 2 else f"everything from {second} on"
    says = (
        f"either mark {first}, the first, is {too_far(-cause.amount, rail)}, "
        f"or {rest} is {too_far(cause.amount, rail)}"
    )
    do = f"plumb mark {first} up again: redo it if it is off, else all the others"
    for held in HELD[rail.shown.units]:
        if abs(cause.amount - held) < HELD_WITHIN:
            line = rail.shown.text(held)
            do = f"was the tape held at its {line} line and that not taken off? If not, {do}"
    return says, "", do


def _missing(cause: Cause, rail: RailMarks) -> Said:
    at, name, shown = cause.index, rail.names[cause.index], rail.shown
    if at == 0:
        gap = rail.positions[1] - rail.positions[0]
        do = f"mark it {shown.text(gap)} {_under(rail)} {rail.names[1]}, then tape again"
        fit = f"the readings fit from {rail.names[1]} on"
        return f"mark {name}, the first, is missing", fit, do
    below = rail.names[at - 1]
    gap = rail.positions[at] - rail.positions[at - 1]
    reading = shown.text(rail.positions[at] - rail.positions[0])
    place = f"{shown.text(gap)} {_over(rail)} {below} (reading {reading})"
    do = f"mark it {place}, then tape again"
    if at == len(rail) - 1:
        return f"mark {name} is missing", "the others are right", do
    double = rail.positions[at + 1] - rail.positions[at - 1]
    ends = f"from {below} to {rail.names[at + 1]}"
    return f"mark {name} is missing: {ends} is one spacing of {shown.text(double)}", "", do


def _unread(cause: Cause, rail: RailMarks) -> Said:
    name, below = rail.names[cause.index], rail.names[cause.index - 1]
    do = f"tape {below} to {name} too before anything is bored"
    return f"there is no reading for mark {name}", "what was read is right", do


def _extra(cause: Cause, rail: RailMarks) -> Said:
    at, shown, do = cause.index, rail.shown, "cross it out, so that nobody bores it"
    if at == 0:
        beyond = f"{shown.text(-cause.amount)} {_under(rail)} {rail.names[0]}, "
        says = f"there is one mark too many, {beyond if cause.amount < 0 else ''}the first"
        return says, "", do + (_from_newel(cause, rail) if cause.amount < 0 else "")
    above = cause.amount - rail.positions[at - 1]
    place = f"{shown.text(above)} {_over(rail)} {rail.names[at - 1]}"
    if above <= 0 or (at < len(rail) and cause.amount >= rail.positions[at]):
        place = f"where the tape reads {shown.text(cause.amount)} from {rail.names[0]}"
    says = f"there is one mark too many, {place}"
    if at == len(rail):
        return f"{says}, the last", "", do
    return f"{says} and before {rail.names[at]}", "", do


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
    do = f"{do}: tape the strip's scale bar and its whole length, then redo all marks"
    return says, "", do


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
    says = f"the rail was bowed when it was marked: a {shape} of {bow} in the middle explains it"
    right = f"the middle marks are {far} too far {side}, those at both ends right"
    return says, right, "prop the rail straight, hold a straightedge to it and redo all marks"


def _misread(cause: Cause, rail: RailMarks) -> Said:
    shown = rail.shown
    read, right = shown.text(cause.right + cause.amount), shown.text(cause.right)
    which = "the total"
    if cause.index >= 0:
        which = f"the reading from {rail.names[cause.lower]} to {rail.names[cause.index]}"
    how = FORMS[cause.form][shown.units]
    says = f"{which}, {read}, looks misread: {right} fits ({how})"
    pull = " in one pull" if cause.index < 0 else ""
    return says, "", f"tape it again{pull}: {right} means that the marks are right"


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
