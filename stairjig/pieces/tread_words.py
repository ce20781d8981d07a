"""What a tread strip says, the most needed first."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from stairjig.job.model import TreadsSection
from stairjig.lengths import INCH, Shown
from stairjig.pieces.values import SMALL, Words
from stairjig.setout.names import newel_name, tread_numbers, tread_strip_name
from stairjig.setout.values import PlanTread, SectionSetout, SetNewel, SetTread

NEAR_BACK = 15.0
"""What is said of the back edge stands so near to it, mm."""
NEAR_NOSING = 6.0
"""What names the nosing's edge stands so near to it, mm."""
SAME_TREAD = INCH / 8
"""mm within which a tread must agree with what was measured."""


def tread_words(
    section: SectionSetout,
    treads: Sequence[SetTread],
    shown: Shown,
    pack_id: str,
    newels: Collection[str],
    nick: bool,
    nosing: bool,
) -> tuple[Words, ...]:
    """The words of the strip for one tread or several alike.

    `newels`: the ends whose newel is drawn on it; `nick`, `nosing`: whether there is one, and
    whether its edge is drawn.
    """
    tread, flight = treads[0], section.section
    assert isinstance(flight, TreadsSection)
    plan = tread.plan
    back = float(plan.line_run)
    return (
        Words(tread_strip_name(section, treads), 3.0, every=True),
        Words(
            _back_edge(section, treads), 3.0, True, v=back, first=True, need=True,
            shorter=(_back_edge_short(treads), "zero: this back edge"), least=SMALL,
            within=NEAR_BACK,
        ),
        Words(f"Tread {tread_numbers(treads)}", 8.0, True, every=True, need=True),
        Words(f"pack {pack_id}", 3.0, True, every=True, need=True, least=SMALL, whole=True),
        Words(
            "↑ up the stair", 3.0, True, every=True, need=True, shorter=("↑ up",), least=SMALL,
            level=True,
        ),
        Words("this face up", 3.0, True, every=True, need=True, least=SMALL),
        *_sideways(flight, shown),
        Words(
            "long dashes: face of the riser below, don't cut", SMALL, v=-1.0, need=True, roams=True,
            shorter=("long dashes: riser, don't cut",),
        ),
        _nosing_check(plan, shown),
        *([_nosing_edge(plan)] if nosing else []),
        *_notes(section, treads, newels),
        Words(_measures(tread, shown), 3.0, need=True, least=SMALL),
        Words(
            "readings: measured from the back edge, on the line", SMALL,
            shorter=("readings: from the back edge",),
        ),
        *([Words("nick: clears cove or glue", SMALL, v=back)] if nick else []),
    )  # fmt: skip


def _nosing_edge(plan: PlanTread) -> Words:
    at = -float(plan.front_nosing)
    return Words("short dashes: nosing edge", SMALL, v=at, within=NEAR_NOSING)


def _nosing_check(plan: PlanTread, shown: Shown) -> Words:
    """The check that this is the tread that was measured."""
    says = f"nosing edge {shown.text(plan.square_nosing)} in front of the long dashes"
    off = shown.text(SAME_TREAD)
    return Words(
        f"{says}, square to them: if it is off by more than {off}, this is not the tread that was "
        "measured: stop",
        3.0,
        v=-1.0,
        need=True,
        roams=True,
        least=SMALL,
        shorter=(
            f"{says}, square to them: over {off} off, it is not the tread measured: stop",
            f"{says}: over {off} off, stop",
        ),
    )


def _back_edge(section: SectionSetout, treads: Sequence[SetTread]) -> str:
    if len(treads) > 1:
        return "zero: this back edge against the next riser"
    number = treads[0].plan.number
    if number == section.treads[-1].plan.number:
        return "zero: this back edge against the top riser"
    return f"zero: this back edge against the riser of tread {number + 1}"


def _back_edge_short(treads: Sequence[SetTread]) -> str:
    riser = f"riser {treads[0].plan.number + 1}" if len(treads) == 1 else "the next riser"
    return f"zero: back edge on {riser}"


def _measures(tread: SetTread, shown: Shown) -> str:
    count = len(tread.marks)
    feet = any(mark.type.base.mm != mark.type.width.mm for mark in tread.marks)
    what = "gap above the feet" if feet else "gap"
    gap = f", {what} {shown.text(tread.gap)}" if tread.gap is not None else ""
    balusters = f"{count} baluster{'s' if count != 1 else ''}"
    return f"line run {shown.text(tread.plan.line_run)}{gap}, {balusters}"


def _sideways(flight: TreadsSection, shown: Shown) -> tuple[Words, ...]:
    """Which edge goes on the tread's end, beside it and in a sentence; or what to measure from."""
    line = flight.line
    front, back = shown.text(line.front.mm), shown.text(line.back.mm)
    if line.origin == "end":
        edge = f"{flight.side} edge on the tread's end"
        return (
            Words(
                "OPEN SIDE: this edge on the tread's end", 3.0, True, every=True, edge=True,
                shorter=("OPEN SIDE",), least=SMALL,
            ),
            Words(f"{edge}: it sets the direction", SMALL, need=True, shorter=(edge,)),
        )  # fmt: skip
    at = front if front == back else f"{front} at the front, {back} at the back"
    both = ", front and back" if front == back else ""
    says = f"set the line {at} from the {line.origin}'s face{both}"
    return (Words(f"no edge to register on: {says}", SMALL, need=True, shorter=(says,)),)


def _notes(
    section: SectionSetout, treads: Sequence[SetTread], drawn: Collection[str]
) -> list[Words]:
    notes: list[tuple[str, ...]] = []
    if len(treads) > 1:
        same = f"the same strip for treads {tread_numbers(treads[1:])}"
        notes.append((f"{same}: read their number for the first", same))
    tread = treads[0]
    standing = [each for each in section.treads if each.marks]
    if tread is standing[0]:
        notes.append(_end_note(section.lower_newel, "first", "lower", tread, drawn))
    if tread is standing[-1]:
        notes.append(_end_note(section.upper_newel, "last", "upper", tread, drawn))
    return [
        Words(note, 3.0, True, need=True, shorter=tuple(short), least=SMALL)
        for note, *short in notes
    ]


def _end_note(
    newel: SetNewel | None, which: str, end: str, on: SetTread, drawn: Collection[str]
) -> tuple[str, ...]:
    """What the first or the last tread, `on`, says of its newel, and the same in short."""
    tread = f"{which} tread with balusters"
    if newel is None:
        return f"{tread}: no {end} newel", f"{which} tread: no newel"
    what = newel_name(end, newel.kind)
    if newel.stands and end in drawn:
        if newel.centre > on.plan.back.s:
            out = f"{tread}: the {what} stands behind it; if it comes down here, cut it out"
            return out, f"{what}: cut it out if it comes down here", f"{what}: cut it out"
        out = f"{tread}: the {what} stands, cut its outline out; where it touches, trim the paper"
        return out, f"{what}: cut it out, trim where it touches", f"{what}: cut it out"
    if newel.stands:
        return f"{tread}: the {what} stands, beyond this strip", f"{what}: beyond this strip"
    return f"{tread}: the {what}'s place is on the newel sheet", f"{what}: see newel sheet"
