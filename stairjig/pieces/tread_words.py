"""What a tread strip says, the most needed first."""

from __future__ import annotations

from collections.abc import Sequence

from stairjig.job.model import TreadsSection
from stairjig.lengths import INCH, Shown
from stairjig.pieces.values import LABEL, Words
from stairjig.setout.names import tread_numbers, tread_strip_name
from stairjig.setout.values import PlanTread, SectionSetout, SetNewel, SetTread

SAME_TREAD = INCH / 8
"""mm within which a tread must agree with what was measured."""


def tread_words(
    section: SectionSetout, treads: Sequence[SetTread], shown: Shown, pack_id: str, newel: bool
) -> tuple[Words, ...]:
    """The words of the strip for one tread or several alike; `newel`: one is drawn on it."""
    tread, flight = treads[0], section.section
    assert isinstance(flight, TreadsSection)
    plan = tread.plan
    words = [
        Words(tread_strip_name(section, treads), 2.8, every=True),
        Words(_back_edge(section, treads), 2.8, bold=True, v=float(plan.line_run), first=True),
        Words(f"pack {pack_id}", 2.8, bold=True, every=True),
        Words(f"Tread {tread_numbers(treads)}", 8.0, bold=True, every=True),
        Words("↑ up the stair · this face up", 2.9, bold=True, every=True),
        *_sideways(flight, shown),
        Words("long dashes: face of the riser below, don't cut", 2.5, v=-1.0),
        Words(_nosing_check(plan, shown), 2.5, v=-1.0),
        Words(_measures(tread, shown), 2.8),
        Words("readings: tape from the back edge, on the line", 2.5),
        Words("nick: clears cove or glue", 2.5, v=float(plan.line_run)),
    ]
    words += [Words(note, 2.8, bold=True) for note in _notes(section, treads, newel)]
    return tuple(words)


def _nosing_check(plan: PlanTread, shown: Shown) -> str:
    return (
        f"nosing edge {shown.text(plan.square_nosing)} in front of that line, square to it: if it "
        f"is off by more than {shown.text(SAME_TREAD)}, this is not the tread that was measured: "
        "stop"
    )


def _back_edge(section: SectionSetout, treads: Sequence[SetTread]) -> str:
    if len(treads) > 1:
        return "zero: this back edge against the next riser"
    number = treads[0].plan.number
    if number == section.treads[-1].plan.number:
        return "zero: this back edge against the top riser"
    return f"zero: this back edge against the riser of tread {number + 1}"


def _measures(tread: SetTread, shown: Shown) -> str:
    count = len(tread.marks)
    gap = f", gap {shown.text(tread.gap)}" if tread.gap is not None else ""
    balusters = f"{count} baluster{'s' if count != 1 else ''}"
    return f"line run {shown.text(tread.plan.line_run)}{gap}, {balusters}"


def _sideways(flight: TreadsSection, shown: Shown) -> tuple[Words, ...]:
    """Which edge goes on the tread's end, beside it and in a sentence; or what to measure from."""
    line = flight.line
    front, back = shown.text(line.front.mm), shown.text(line.back.mm)
    if line.origin == "end":
        edge = "OPEN SIDE: this edge on the tread's end"
        says = f"{flight.side} edge on the tread's end: it sets the direction"
        return Words(edge, LABEL, bold=True, every=True, edge=True), Words(says, 2.5)
    where = "string" if line.origin == "string" else "wall"
    at = front if front == back else f"{front} at the front, {back} at the back"
    return (Words(f"no edge to register on: set the line {at} from the {where}", 2.5),)


def _notes(section: SectionSetout, treads: Sequence[SetTread], drawn: bool) -> list[str]:
    notes = []
    if len(treads) > 1:
        others = tread_numbers(treads[1:])
        notes.append(f"the same strip for treads {others}: read their number for the first")
    tread = treads[0]
    standing = [each for each in section.treads if each.marks]
    if tread is standing[0]:
        notes.append(_end_note(section.lower_newel, "first tread with balusters", "lower", drawn))
    if tread is standing[-1]:
        notes.append(_end_note(section.upper_newel, "last tread with balusters", "upper", drawn))
    return notes


def _end_note(newel: SetNewel | None, which: str, end: str, drawn: bool) -> str:
    if newel is None:
        return f"{which}: no {end} newel"
    what = "newel" if newel.kind == "post" else "wall"
    if newel.stands and drawn:
        return f"{which}: the {end} {what} stands, cut it out where it is drawn"
    if newel.stands:
        return f"{which}: the {end} {what} stands, beyond this strip"
    return f"{which}: the {end} {what}'s place is on the newel sheet"
