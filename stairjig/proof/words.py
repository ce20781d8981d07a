"""What the strips must say, from the set-out alone: the proof's own half of the words.

What holds a figure is compared as it stands; of other words only those are known here without which
a strip would be used wrongly, and those that would mislead.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import degrees
from typing import Literal

from stairjig.frozen import frozen
from stairjig.job.model import Baluster, Hole, TreadsSection
from stairjig.lengths import INCH, Shown
from stairjig.setout.names import newel_name, tread_numbers
from stairjig.setout.values import SectionSetout, SetNewel, SetTread

SAME_TREAD = INCH / 8
"""mm within which the nosing must stand where it was measured."""

OPEN_SIDE = "OPEN SIDE"
"""What is said beside the tread's end."""

On = Literal["every", "first", "last", "once"]


@frozen
class Wanted:
    """Words one of which must be said: on every tile, on the first or last one, or on any."""

    texts: tuple[str, ...]
    on: On


def notes(kind: Baluster, hole: Hole | None, shown: Shown) -> tuple[str, ...]:
    """What is said beside a mark: the baluster's type and size, then its hole."""
    sign = "⌀ " if kind.shape == "round" else ""
    square = " square" if kind.shape == "square" else ""
    base = f", base {shown.text(kind.base.mm)}" if kind.base.mm != kind.width.mm else ""
    what = f"{kind.name}, {sign}{shown.text(kind.width.mm)}{square}{base}"
    if hole is None:
        return (_plain(what),)
    return (_plain(what), f"bore ⌀ {shown.text(hole.size.mm)}, {shown.text(hole.depth.mm)} deep")


def _plain(text: str) -> str:
    return " ".join(text.split())


def tread_sentences(
    section: SectionSetout, group: Sequence[SetTread], shown: Shown, pack: str
) -> tuple[str, ...]:
    """A tread strip's sentences with figures."""
    tread, flight = group[0], section.section
    assert isinstance(flight, TreadsSection)
    said = [
        pack,
        f"Tread {tread_numbers(group)}",
        _zero(section, group),
        _measures(tread, shown),
        _nosing(tread, shown),
    ]
    if flight.line.origin != "end":
        front, back = shown.text(flight.line.front.mm), shown.text(flight.line.back.mm)
        at = front if front == back else f"{front} at the front, {back} at the back"
        source = "string" if flight.line.origin == "string" else "wall"
        what = f"no edge to register on: set the line {at} from the {source}"
        said.append(what)
    if len(group) > 1:
        others = tread_numbers(group[1:])
        what = f"the same strip for treads {others}: read their number for the first"
        said.append(what)
    return tuple(said)


def _zero(section: SectionSetout, group: Sequence[SetTread]) -> str:
    number = group[0].plan.number
    if len(group) > 1:
        riser = "next riser"
    elif number == section.treads[-1].plan.number:
        riser = "top riser"
    else:
        riser = f"riser of tread {number + 1}"
    return f"zero: this back edge against the {riser}"


def _measures(tread: SetTread, shown: Shown) -> str:
    gap = f", gap {shown.text(tread.gap)}" if tread.gap is not None else ""
    count = len(tread.marks)
    many = "" if count == 1 else "s"
    return f"line run {shown.text(tread.plan.line_run)}{gap}, {count} baluster{many}"


def _nosing(tread: SetTread, shown: Shown) -> str:
    return (
        f"nosing edge {shown.text(tread.plan.square_nosing)} in front of the long dashes, square "
        f"to them: if it is off by more than {shown.text(SAME_TREAD)}, this is not the tread that "
        "was measured: stop"
    )


def tread_wanted(
    section: SectionSetout, group: Sequence[SetTread], pack: str, edge_room: bool
) -> tuple[Wanted, ...]:
    """What a tread strip must not fail to say."""
    flight = section.section
    assert isinstance(flight, TreadsSection)
    every = [(pack,), (f"Tread {tread_numbers(group)}",), ("this face up",), ("↑ up",)]
    once = [("long dashes",), ("nosing edge",)]
    if flight.line.origin != "end":
        once.append(("set the line",))
    elif edge_room:
        once.append((OPEN_SIDE,))
    if flight.line.origin == "end":
        once.append((f"{flight.side} edge on the tread's end",))
    return (
        *(Wanted(texts, "every") for texts in every),
        *(Wanted(texts, "once") for texts in once),
        Wanted(("zero: this back edge",), "last"),
    )


def tread_never(section: SectionSetout) -> tuple[str, ...]:
    """What a tread strip must not say."""
    flight = section.section
    assert isinstance(flight, TreadsSection)
    other = "left" if flight.side == "right" else "right"
    side = f"{other} edge on the tread's end"
    edges = () if flight.line.origin == "end" else (OPEN_SIDE, "edge on the tread's end")
    return ("this face down", side, *edges)


def riser_name(section: SectionSetout, number: int) -> str:
    """A riser as a rail strip calls it, by the tread it stands in front of."""
    top = section.treads[-1].plan.number + 1 if section.treads else 0
    return "top riser" if number == top else f"riser {number}"


def rail_sentences(
    section: SectionSetout, low: float, high: float, shown: Shown, pack: str
) -> tuple[str, ...]:
    """A rail strip's sentences with figures."""
    first, last = section.marks[0].name, section.marks[-1].name
    place = (
        f"zero is mark {first}; zero is {first}; plumb {first} and {last} up to the propped rail; "
        f"both within {shown.near} of this strip's, else stop"
    )
    risers = [
        f"{riser_name(section, number)}{rest}"
        for number, _ in section.rail.risers
        for rest in ("", ": don't cut")
    ]
    return (
        pack,
        *_ends(section, shown),
        *risers,
        place,
        f"pitch {degrees(section.rail.pitch):.1f}°",
        _whole(low, high, shown),
    )


def shoe_sentences(
    section: SectionSetout, low: float, high: float, shown: Shown, pack: str
) -> tuple[str, ...]:
    """A shoe or floor strip's sentences with figures."""
    ends = _ends(section, shown)
    return (pack, *ends, _whole(low, high, shown))


def _ends(section: SectionSetout, shown: Shown) -> tuple[str, ...]:
    rail, lower, upper = section.rail, section.lower_newel, section.upper_newel
    return _end(lower, "lower", rail.lower, shown) + _end(upper, "upper", rail.upper, shown)


def _end(
    newel: SetNewel | None, end: Literal["lower", "upper"], at: float | None, shown: Shown
) -> tuple[str, ...]:
    """What is said of an end, at length and shorter."""
    if newel is None or at is None:
        return f"{end} end of the strip: open, no newel", f"{end} end: open", f"{end} end"
    what, far = newel_name(end, newel.kind), f"{shown.text(abs(at))} from zero"
    return (
        f"{end} end of the strip: butts the {what}'s face, {far}",
        f"{end} end: butts the {what}, {far}",
        f"{end} end: {what}",
    )


def _whole(low: float, high: float, shown: Shown) -> str:
    return (
        f"whole strip, end to end {shown.long(high - low)}: tape it before use; off by more than "
        f"{shown.near}, mark from the printed readings"
    )


def rail_wanted(
    section: SectionSetout, low: float, high: float, shown: Shown, pack: str
) -> tuple[Wanted, ...]:
    """What a rail strip must not fail to say."""
    first = section.marks[0].name
    every = [(pack,), ("this face down",), _way(section)]
    once = [(f"zero is mark {first}", f"zero is {first}"), (shown.long(high - low),)]
    if section.section.rail.plow:
        once.append(("no holes",))
    return _long_wanted(every, once)


def shoe_wanted(
    section: SectionSetout, low: float, high: float, shown: Shown, pack: str
) -> tuple[Wanted, ...]:
    """What a shoe's or a floor's strip must not fail to say."""
    every = [(pack,), ("this face up",), _way(section)]
    return _long_wanted(every, [(shown.long(high - low),), ("centre the strip",)])


def _way(section: SectionSetout) -> tuple[str, ...]:
    """Which way a long strip runs."""
    newel = section.upper_newel
    level = f"{newel_name('upper', newel.kind) if newel else 'upper end'} →"
    return ("up the stair →", "up →") if section.rail.pitch else (level,)


def _long_wanted(
    every: Sequence[tuple[str, ...]], once: Sequence[tuple[str, ...]]
) -> tuple[Wanted, ...]:
    return (
        *(Wanted(texts, "every") for texts in every),
        *(Wanted(texts, "once") for texts in once),
        Wanted(("lower end",), "first"),
        Wanted(("upper end",), "last"),
    )
