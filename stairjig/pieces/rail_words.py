"""What a rail strip and a shoe strip say, the most needed first."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, degrees

from stairjig.lengths import Shown
from stairjig.pieces.values import SMALL, Words
from stairjig.setout.names import newel_name, rail_strip_name
from stairjig.setout.values import Mark, RailSetout, SectionSetout, SetNewel

KIND = 8.0
"""Height of the word that says what a long strip lies on, mm."""
NEAR_END, NEAR_RISER = 15.0, 10.0
"""What is said of an end, or of a riser, stands so near to it, mm."""
FROM_END = 6.0
"""Nearer to an end a riser has no words, mm: they would be read of the end."""
AT = "about at"
"""What an end of a rail's strip does, which lies by its first mark and not by its ends."""
OPEN_END = 60.0
"""What the strip reaches beyond its last mark where there is no newel, mm."""
PAST_BASE = 10.0
"""And beyond that mark's base and holes, at the least, mm."""


def rail_words(
    section: SectionSetout, shown: Shown, pack_id: str, own_width: bool
) -> tuple[Words, ...]:
    """The words of the strip for a rail's underside; `own_width`: its edges are the strip's."""
    return (
        Words(rail_strip_name(section), 3.0 if section.treads else 5.0, every=True),
        Words("RAIL", KIND, bold=True, every=True, need=True, least=3.0, whole=True),
        _upward(section),
        Words(f"pack {pack_id}", 3.0, True, every=True, need=True, least=SMALL, whole=True),
        Words(
            "this face down, read from below; blank side on the wood", 3.0, True, every=True,
            need=True, shorter=("this face down, read from below", "this face down"), least=SMALL,
        ),
        *_ends(section, shown, AT if len(section.marks) > 1 else "at"),
        *_riser_words(section),
        _placing(section, shown),
        _whole_length(section, shown),
        *_seat_words(section, own_width),
        _pitch(section),
    )  # fmt: skip


def shoe_words(
    section: SectionSetout, name: str, on: str, half: float, shown: Shown, pack_id: str
) -> tuple[Words, ...]:
    """The words of the strip `name` for what the balusters stand `on`, `half` wide to each side."""
    edges, snapped = f"edges {shown.text(half)} either side of", "the snapped line"
    seat: tuple[str, ...] = (f"centred on {snapped}: {edges} it", f"{edges} {snapped}")
    if on == "shoe":
        seat = "centred on the shoe", "centre on shoe"
    return (
        Words(name, 5.0, every=True),
        Words(on.upper(), KIND, bold=True, every=True, need=True, least=3.0, whole=True),
        _upward(section),
        Words(f"pack {pack_id}", 3.0, True, every=True, need=True, least=SMALL, whole=True),
        Words("this face up", 3.0, True, every=True, need=True, least=SMALL, whole=True),
        Words(seat[0], SMALL, True, every=True, need=True, shorter=seat[1:]),
        *_ends(section, shown, "butts" if len(section.newels) == 1 else "comes to"),
        *_misses(section),
        _whole_length(section, shown),
    )


def _misses(section: SectionSetout) -> list[Words]:
    """What to do with a strip between two faces that is not as long as it is from one to one."""
    if len(section.newels) < 2:
        return []
    says = "strip too short: the same gap at both ends; too long: trim the same off both"
    short = "strip too short or too long: the same at both ends"
    return [Words(says, SMALL, need=True, shorter=(short,))]


def reach(rail: RailSetout, marks: Sequence[Mark]) -> tuple[float, float]:
    """From newel face to newel face, or beyond the end marks where an end is open."""
    low = rail.lower if rail.lower is not None else -_beyond(rail, marks[0])
    high = rail.upper if rail.upper is not None else marks[-1].rail + _beyond(rail, marks[-1])
    return low, high


def _beyond(rail: RailSetout, mark: Mark) -> float:
    """How far an open end reaches beyond a mark, clear of its base and its holes."""
    holes = (hole.size for hole in (mark.type.tread_hole, mark.type.rail_hole) if hole)
    widest = max(float(length.mm) for length in (mark.type.base, *holes))
    return max(OPEN_END, widest / 2 / cos(rail.pitch) + PAST_BASE)


def _ends(section: SectionSetout, shown: Shown, how: str) -> list[Words]:
    """What is at both ends; `how`: what an end does at its newel."""
    low, high = reach(section.rail, section.marks)
    return [
        _end(section.lower_newel, "lower", low, section.rail.lower, shown, how),
        _end(section.upper_newel, "upper", high, section.rail.upper, shown, how),
    ]


def _end(
    newel: SetNewel | None, end: str, v: float, at: float | None, shown: Shown, how: str
) -> Words:
    says = f"{end} end of the strip: open, no newel"
    shorter = (f"{end} end: open", f"{end} end")
    if newel is not None and at is not None:
        what, far = newel_name(end, newel.kind), f"{shown.text(abs(at))} from zero"
        free = "; zero rules: trim it, don't push" if how == AT else ""
        says = f"{end} end of the strip: {how} the {what}'s face, {far}{free}"
        shorter = (f"{end} end: {how} the {what}, {far}", f"{end} end: {what}")
    return Words(
        says, 3.0, v=v, first=True, need=True, shorter=shorter, least=SMALL, within=NEAR_END
    )


def _upward(section: SectionSetout) -> Words:
    """Which way the strip runs: up the stair, or on the level toward its upper end."""
    newel = section.upper_newel
    end = newel_name("upper", newel.kind) if newel else "upper end"
    says, short = (
        (f"to the {end} →", f"{end} →") if section.rail.level else ("up the stair →", "up →")
    )
    return Words(says, 5.0, True, every=True, need=True, shorter=(short,), least=SMALL, whole=True)


def _riser_words(section: SectionSetout) -> list[Words]:
    """What the strokes of the risers are, each beside its own.

    Not beside an end of the strip, which is to be cut.
    """
    low, high = reach(section.rail, section.marks)
    top = section.treads[-1].plan.number + 1 if section.treads else 0
    named = [
        ("top riser" if number == top else f"riser {number}", v)
        for number, v in drawn_risers(section)
        if low + FROM_END < v < high - FROM_END
    ]
    return [
        Words(f"{name}: don't cut", SMALL, v=v, shorter=(name,), within=NEAR_RISER)
        for name, v in named
    ]


def drawn_risers(section: SectionSetout) -> list[tuple[int, float]]:
    """The risers that a rail's strip reaches, by number and place, mm."""
    low, high = reach(section.rail, section.marks)
    return [(number, v) for number, v in section.rail.risers if low + 0.5 < v < high - 0.5]


def _placing(section: SectionSetout, shown: Shown) -> Words:
    """How the strip comes to lie on the propped rail, and when to stop."""
    first, within = section.marks[0].name, shown.near
    off = "rail or print" if section.rail.level else "pitch, rail or print"
    if len(section.marks) > 1:
        both = f"plumb {first} and {section.marks[-1].name} up"
        says = (
            f"zero is mark {first}; {both} to the propped rail; both within {within} of the edge "
            f"ticks, else stop: {off} is not as measured"
        )
        shorter: tuple[str, ...] = (
            f"zero is mark {first}; {both} to the rail; both within {within} of the ticks, else "
            "stop",
            f"zero is {first}; {both}; over {within} off: stop",
        )
    else:
        says, shorter = _alone(section, first, within)
    return Words(
        says, 3.0, v=section.marks[0].rail, need=True, roams=True, shorter=shorter, least=SMALL
    )


def _pitch(section: SectionSetout) -> Words:
    pitch = degrees(section.rail.pitch)
    return Words(f"pitch {pitch:.1f}°" if pitch else "the rail is level", SMALL)


def _seat_words(section: SectionSetout, own_width: bool) -> list[Words]:
    """What the strip lies in or is laid to, where that is not edge on edge."""
    ways: tuple[str, ...]
    if section.section.rail.plow and own_width:
        ways = "lies in the plow: no holes", "plow: no holes"
    elif section.section.rail.plow:
        ways = "over the plow, centred on it: no holes", "centred on the plow: no holes"
    elif own_width:
        flush = "flush with the rail's edges", "flush with the rail"
        return [Words(flush[0], SMALL, every=True, shorter=flush[1:], whole=True)]
    else:
        fold = "fold up on the two drawn lines, along the rail's edges"
        short = ("fold up on the drawn lines",)
        return [Words(fold, 3.0, True, every=True, need=True, shorter=short, least=SMALL)]
    return [Words(ways[0], 3.0, True, every=True, need=True, shorter=ways[1:], least=SMALL)]


def _alone(section: SectionSetout, mark: str, within: str) -> tuple[str, tuple[str, ...]]:
    """The placing of a strip with one mark, which only its ends can check."""
    says = f"zero is mark {mark}: plumb it up to the propped rail, lay the edge ticks on it"
    if not section.newels:
        return says, (f"zero is mark {mark}: plumb it up to the rail", f"zero: plumb {mark} up")
    ends = "both ends meet their faces" if len(section.newels) > 1 else "its end meets the face"
    return (
        f"{says}; {ends} within {within}, else stop",
        (f"zero is mark {mark}: plumb it up; {ends} within {within}, else stop",),
    )


def _whole_length(section: SectionSetout, shown: Shown) -> Words:
    low, high = reach(section.rail, section.marks)
    says, within = f"whole strip, end to end {shown.long(high - low)}: measure it", shown.near
    return Words(
        f"{says} before use; off by more than {within}, set its joints to their readings",
        3.0,
        need=True,
        shorter=(f"{says}; over {within} off, set the joints to their readings", says),
        least=SMALL,
    )
