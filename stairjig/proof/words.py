"""What each strip says, from the set-out alone: the proof's own half of the words.

Whoever adds a strip writes down here what it says. Whatever else stands on a tile is refused, but
for what is said of its marks (`saying.py`) and of its joints (`joints.py`).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import degrees

from stairjig.job.model import TreadsSection
from stairjig.lengths import INCH, Shown
from stairjig.proof.saying import Saying
from stairjig.proof.tread import TreadShape
from stairjig.setout.names import ground, newel_name, tread_numbers
from stairjig.setout.values import SectionSetout, SetNewel, SetTread

SAME_TREAD = INCH / 8
"""mm within which the nosing must stand where it was measured."""

NEAR_RISER, NEAR_END, NEAR_BACK = 32.0, 200.0, 160.0
"""mm from a riser, an end or the back edge to its words: where marks crowd, they go far."""
_BY_ZERO = "about at"
"""How an end stands to its newel where the strip lies by its first mark, not by its ends."""


# Tread strips


def tread_sayings(
    section: SectionSetout,
    group: Sequence[SetTread],
    shown: Shown,
    pack: str,
    shape: TreadShape,
) -> tuple[Saying, ...]:
    """What a tread strip says."""
    tread = group[0]
    return (
        Saying((pack,), "every"),
        Saying((f"Tread {tread_numbers(group)}",), "every"),
        Saying(("↑ up the stair", "↑ up"), "every", lies=0),
        Saying(("this face up",), "every"),
        _zero(section, group, shape),
        *_direction(section, shown, shape),
        Saying(
            (
                "long dashes: face of the riser below, don't cut",
                "long dashes: riser, don't cut",
            )
        ),
        _nosing(tread, shown),
        *((Saying(("short dashes: nosing edge",), "may"),) if len(shape.across) > 1 else ()),
        _measures(tread, shown),
        *_shared(group),
        *_end_notes(section, tread, shape),
        *_newel_labels(section, tread, shape),
        Saying(
            ("readings: measured from the back edge, on the line", "readings: from the back edge"),
            "may",
        ),
        Saying(("nick: clears cove or glue",), "may"),
    )


def _zero(section: SectionSetout, group: Sequence[SetTread], shape: TreadShape) -> Saying:
    number = group[0].plan.number
    if len(group) > 1:
        riser = "next riser"
    elif number == section.treads[-1].plan.number:
        riser = "top riser"
    else:
        riser = f"riser of tread {number + 1}"
    edge = "zero: this back edge"
    back = float(group[0].plan.line_run), shape.back_slope
    short = "the next riser" if len(group) > 1 else f"riser {number + 1}"
    ways = f"{edge} against the {riser}", f"zero: back edge on {short}", edge
    return Saying(ways, "last", (back,), NEAR_BACK)


def _direction(section: SectionSetout, shown: Shown, shape: TreadShape) -> Iterable[Saying]:
    """Which edge goes on the tread's end; or what to measure from where that is not straight."""
    flight = section.section
    assert isinstance(flight, TreadsSection)
    line = flight.line
    if line.origin == "end":
        edge = f"{flight.side} edge on the tread's end"
        side = ("OPEN SIDE: this edge on the tread's end", "OPEN SIDE")
        ends = shape.across[0].points[0][1], shape.outline[-1][1]
        free = shape.edge_room and not shape.newels
        yield Saying(side, "every", beside=ends if free else (0.0, 0.0), lies=90)
        yield Saying((f"{edge}: it sets the direction", edge))
        return
    front, back = shown.text(line.front.mm), shown.text(line.back.mm)
    at = front if front == back else f"{front} at the front, {back} at the back"
    both = ", front and back" if front == back else ""
    says = f"set the line {at} from the {line.origin}'s face{both}"
    yield Saying((f"no edge to register on: {says}", says))


def _nosing(tread: SetTread, shown: Shown) -> Saying:
    far, off = shown.text(tread.plan.square_nosing), shown.text(SAME_TREAD)
    says = f"nosing edge {far} in front of the long dashes"
    square = f"{says}, square to them:"
    return Saying(
        (
            f"{square} if it is off by more than {off}, this is not the tread that was measured: "
            "stop",
            f"{square} over {off} off, it is not the tread measured: stop",
            f"{says}: over {off} off, stop",
        )
    )


def _measures(tread: SetTread, shown: Shown) -> Saying:
    feet = " above the feet" if any(m.type.base.mm != m.type.width.mm for m in tread.marks) else ""
    gap = f", gap{feet} {shown.text(tread.gap)}" if tread.gap is not None else ""
    count = len(tread.marks)
    many = "" if count == 1 else "s"
    return Saying((f"line run {shown.text(tread.plan.line_run)}{gap}, {count} baluster{many}",))


def _shared(group: Sequence[SetTread]) -> Iterable[Saying]:
    if len(group) > 1:
        same = f"the same strip for treads {tread_numbers(group[1:])}"
        yield Saying((f"{same}: read their number for the first", same))


def _end_notes(section: SectionSetout, tread: SetTread, shape: TreadShape) -> Iterable[Saying]:
    """What the first and the last strip say of their newels."""
    standing = [each for each in section.treads if each.marks]
    if tread is standing[0]:
        yield _end_note(section.lower_newel, "first", "lower", tread, shape)
    if tread is standing[-1]:
        yield _end_note(section.upper_newel, "last", "upper", tread, shape)


def _end_note(
    newel: SetNewel | None, which: str, end: str, on: SetTread, shape: TreadShape
) -> Saying:
    tread = f"{which} tread with balusters"
    if newel is None:
        return Saying((f"{tread}: no {end} newel", f"{which} tread: no newel"))
    what = newel_name(end, newel.kind)
    if not newel.stands:
        return Saying((f"{tread}: the {what}'s place is on the newel sheet",
                       f"{what}: see newel sheet"))  # fmt: skip
    out = f"{tread}: the {what} stands, cut its outline out; where it touches, trim the paper"
    cut = out, f"{what}: cut it out, trim where it touches", f"{what}: cut it out"
    if newel.centre > on.plan.back.s:
        behind = f"{tread}: the {what} stands behind it; if it comes down here, cut it out"
        cut = behind, f"{what}: cut it out if it comes down here", cut[-1]
    beyond = f"{tread}: the {what} stands, beyond this strip", f"{what}: beyond this strip"
    if end in shape.touched:
        return Saying((*cut, *beyond))
    return Saying(cut if end in shape.newels else beyond)


def _newel_labels(section: SectionSetout, tread: SetTread, shape: TreadShape) -> Iterable[Saying]:
    """What is to be done with the newels that are drawn, inside of each."""
    drawn: dict[str, list[SetNewel]] = {}
    for newel in (each for each in section.newels if each.end in shape.newels):
        stands = "down here" if newel.centre > tread.plan.back.s else "stands"
        says = f"newel {stands}: CUT OUT" if newel.stands else "newel to come: don't cut"
        drawn.setdefault(says, []).append(newel)
    for says, alike in drawn.items():
        at = tuple((float(newel.centre - tread.plan.front.s), 0.0) for newel in alike)
        within = max(float(newel.width) for newel in alike) / 2
        yield Saying((says,), "any", at, within, lies=0)


# Long strips


def rail_sayings(
    section: SectionSetout, low: float, high: float, shown: Shown, pack: str, own_width: bool
) -> tuple[Saying, ...]:
    """What a rail's strip says; `own_width`: it is cut to the width of the rail, or of its plow."""
    down = "this face down"
    pitch = degrees(section.rail.pitch)
    return (
        Saying((pack,), "every"),
        _way(section),
        Saying(
            (
                f"{down}, read from below; blank side on the wood",
                f"{down}, read from below",
                down,
            ),
            "every",
        ),
        *_ends(section, low, high, shown, _BY_ZERO if len(section.marks) > 1 else "at"),
        *_risers(section, low, high),
        _placing(section, shown),
        _whole(low, high, shown),
        *_seat(section, own_width),
        Saying((f"pitch {pitch:.1f}°" if pitch else "the rail is level",), "may"),
        Saying(("RAIL",), "every"),
    )


def shoe_sayings(
    section: SectionSetout, low: float, high: float, half: float, shown: Shown, pack: str
) -> tuple[Saying, ...]:
    """What a shoe's or a floor's strip says; `half`: half of its width, mm."""
    on = ground(section)
    edges, snapped = f"edges {shown.text(half)} either side of", "the snapped line"
    seat: tuple[str, ...] = (f"centred on {snapped}: {edges} it", f"{edges} {snapped}")
    if on == "shoe":
        seat = "centred on the shoe", "centre on shoe"
    return (
        Saying((pack,), "every"),
        _way(section),
        Saying(("this face up",), "every"),
        *_ends(section, low, high, shown, "butts" if len(section.newels) == 1 else "comes to"),
        Saying(seat, "every"),
        *_misses(section),
        _whole(low, high, shown),
        Saying((on.upper(),), "every"),
    )


def _misses(section: SectionSetout) -> Iterable[Saying]:
    if len(section.newels) == 2:
        yield Saying(
            (
                "strip too short: the same gap at both ends; too long: trim the same off both",
                "strip too short or too long: the same at both ends",
            )
        )


def _way(section: SectionSetout) -> Saying:
    """Which way a long strip runs."""
    newel = section.upper_newel
    end = newel_name("upper", newel.kind) if newel else "upper end"
    level = f"to the {end} →", f"{end} →"
    return Saying(level if section.rail.level else ("up the stair →", "up →"), "every")


def _ends(
    section: SectionSetout, low: float, high: float, shown: Shown, how: str
) -> Iterable[Saying]:
    """What is at both ends of a long strip; `how`: what an end does at its newel."""
    rail, lower, upper = section.rail, section.lower_newel, section.upper_newel
    first, last = (low, 0.0), (high, 0.0)
    yield Saying(_end(lower, "lower", rail.lower, shown, how), "first", (first,), NEAR_END, (last,))
    yield Saying(_end(upper, "upper", rail.upper, shown, how), "last", (last,), NEAR_END, (first,))


def _end(
    newel: SetNewel | None, end: str, at: float | None, shown: Shown, how: str
) -> tuple[str, ...]:
    if newel is None or at is None:
        return f"{end} end of the strip: open, no newel", f"{end} end: open", f"{end} end"
    what, far = newel_name(end, newel.kind), f"{shown.text(abs(at))} from zero"
    free = "; zero rules: trim it, don't push" if how == _BY_ZERO else ""
    return (
        f"{end} end of the strip: {how} the {what}'s face, {far}{free}",
        f"{end} end: {how} the {what}, {far}",
        f"{end} end: {what}",
    )


def riser_name(section: SectionSetout, number: int) -> str:
    """A riser as a rail strip calls it, by the tread it stands in front of."""
    top = section.treads[-1].plan.number + 1 if section.treads else 0
    return "top riser" if number == top else f"riser {number}"


def drawn_risers(section: SectionSetout, low: float, high: float) -> Iterable[tuple[str, float]]:
    """The risers that a rail's strip from `low` to `high` shows, by name, and where."""
    for number, v in section.rail.risers:
        if low + 0.5 < v < high - 0.5:
            yield riser_name(section, number), v


def _risers(section: SectionSetout, low: float, high: float) -> Iterable[Saying]:
    places = {name: (v, 0.0) for name, v in drawn_risers(section, low, high)}
    for name, place in places.items():
        others = tuple(other for other in places.values() if other != place)
        yield Saying((f"{name}: don't cut", name), "may", (place,), NEAR_RISER, others)


def _placing(section: SectionSetout, shown: Shown) -> Saying:
    """How the strip comes to lie on the propped rail, and when to stop."""
    first, last, near = section.marks[0].name, section.marks[-1].name, shown.near
    if len(section.marks) == 1:
        return Saying(_placing_alone(section, first, near))
    off = "rail or print" if section.rail.level else "pitch, rail or print"
    both = f"plumb {first} and {last} up"
    return Saying(
        (
            f"zero is mark {first}; {both} to the propped rail; both within {near} of the edge "
            f"ticks, else stop: {off} is not as measured",
            f"zero is mark {first}; {both} to the rail; both within {near} of the ticks, else stop",
            f"zero is {first}; {both}; over {near} off: stop",
        )
    )


def _placing_alone(section: SectionSetout, mark: str, near: str) -> tuple[str, ...]:
    plumb = f"zero is mark {mark}: plumb it up"
    says = f"{plumb} to the propped rail, lay the edge ticks on it"
    if not section.newels:
        return says, f"{plumb} to the rail", f"zero: plumb {mark} up"
    ends = "both ends meet their faces" if len(section.newels) > 1 else "its end meets the face"
    return f"{says}; {ends} within {near}, else stop", f"{plumb}; {ends} within {near}, else stop"


def _whole(low: float, high: float, shown: Shown) -> Saying:
    says = f"whole strip, end to end {shown.long(high - low)}: measure it"
    return Saying(
        (
            f"{says} before use; off by more than {shown.near}, set its joints to their readings",
            f"{says}; over {shown.near} off, set the joints to their readings",
            says,
        )
    )


def _seat(section: SectionSetout, own_width: bool) -> Iterable[Saying]:
    """What the strip lies in or is laid to, where that is not edge on edge."""
    if section.section.rail.plow:
        over = "over the plow, centred on it: no holes", "centred on the plow: no holes"
        inside = "lies in the plow: no holes", "plow: no holes"
        yield Saying(inside if own_width else over, "every")
    elif not own_width:
        yield Saying(
            (
                "fold up on the two drawn lines, along the rail's edges",
                "fold up on the drawn lines",
            ),
            "every",
        )
    else:
        yield Saying(("flush with the rail's edges", "flush with the rail"), "any")
