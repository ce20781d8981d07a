"""What the paper must say, worked out from the set-out alone: the proof's own half.

Each strip in its frame (u, v), mm: v up the stair from a tread's front riser on the line, or from
the rail's first mark; u to the right with the stair going up the page.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import radians, tan

from stairjig.job.model import Baluster, TreadsSection
from stairjig.lengths import Shown
from stairjig.setout.copies import strips
from stairjig.setout.names import (
    rail_strip_name,
    shoe_strip_name,
    tread_numbers,
    tread_strip_name,
)
from stairjig.setout.values import SectionSetout, Setout, SetTread

Point = tuple[float, float]
NARROWEST = 30.0
CROSS_ARM = 4.5
OPEN_END = 60.0


@dataclass(frozen=True, slots=True)
class ExpectedMark:
    """A mark: its name, its place on the strip, the tape reading printed beside it.

    `half`: how far its base, its hole or its cross reaches from there, mm.
    """

    name: str
    at: Point
    reading: str
    half: float = CROSS_ARM


@dataclass(frozen=True, slots=True)
class Edge:
    """A straight line that must be there: a cut edge or a printed stroke, through two points."""

    what: str
    start: Point
    end: Point
    printed: bool


@dataclass(frozen=True, slots=True)
class ExpectedPiece:
    """A strip as it must come out of the paper.

    `sentences`: words that, where their beginning is printed, must go on so; `banners`: large
    words that stand on each of its tiles. A reading at v is (v - zero) * sense.
    """

    name: str
    section: str
    marks: tuple[ExpectedMark, ...]
    edges: tuple[Edge, ...]
    banners: tuple[str, ...]
    sentences: tuple[tuple[str, str], ...]
    zero: float
    sense: int


def expected_pieces(setout: Setout) -> tuple[ExpectedPiece, ...]:
    """Every strip of the job."""
    shown, pack = setout.job.shown, f"pack {setout.pack_id}"
    pieces: list[ExpectedPiece] = []
    for section in setout.sections:
        if section.treads:
            groups = strips(section, setout.job.copies)
            pieces += [_tread(section, group, shown, pack) for group in groups]
        else:
            pieces.append(
                _long(section, shoe_strip_name(section), _shoe_half(section), shown, pack)
            )
        pieces.append(_long(section, rail_strip_name(section), _rail_half(section), shown, pack))
    return tuple(pieces)


def _tread(
    section: SectionSetout, group: tuple[SetTread, ...], shown: Shown, pack: str
) -> ExpectedPiece:
    tread, flight = group[0], section.section
    assert isinstance(flight, TreadsSection)
    plan, sign = tread.plan, 1.0 if flight.side == "right" else -1.0
    run = float(plan.line_run)

    def riser(v: float, skew: float, what: str, printed: bool) -> Edge:
        slope = sign * tan(radians(skew))
        return Edge(what, (0.0, v), (1.0, v + slope), printed)

    edges = [
        riser(0.0, plan.front.skew, "the riser's line", True),
        riser(run, plan.back.skew, "the back edge", False),
    ]
    if flight.line.origin == "end":
        front, back = float(plan.end_front), float(plan.end_back)
        low = (sign * front, front * tan(radians(plan.front.skew)))
        high = (sign * back, run + back * tan(radians(plan.back.skew)))
        edges.append(Edge("the tread-end edge", low, high, False))
    marks = tuple(
        ExpectedMark(
            mark.name, (0.0, float(mark.x)), shown.text(plan.line_run - mark.x), _foot(mark.type)
        )
        for mark in tread.marks
    )
    gap = f", gap {shown.text(tread.gap)}" if tread.gap is not None else ""
    nosing = f"{shown.text(plan.square_nosing)} in front of the long dashes"
    return ExpectedPiece(
        name=tread_strip_name(section, group),
        section=section.name,
        marks=marks,
        edges=tuple(edges),
        banners=(f"Tread {tread_numbers(group)}", pack),
        sentences=(
            ("line run ", f"{shown.text(plan.line_run)}{gap}, {len(tread.marks)} baluster"),
            ("nosing edge ", nosing),
        ),
        zero=run,
        sense=-1,
    )


def _rail_half(section: SectionSetout) -> float:
    """Half the strip: the rail's own, or room for words beside what a narrow rail has on it."""
    rail = section.section.rail
    own = float(rail.plow.width.mm if rail.plow else rail.width.mm) / 2
    holes = [
        mark.type.rail_hole.size.mm if mark.type.rail_hole and not rail.plow else mark.type.width.mm
        for mark in section.marks
    ]
    widest = max(CROSS_ARM, float(max(holes)) / 2)
    return own if own >= NARROWEST / 2 and own - widest >= 4.0 else max(own, widest) + 12.0


def _shoe_half(section: SectionSetout) -> float:
    widest = max(_foot(mark.type) for mark in section.marks)
    return max(float(section.section.rail.width.mm) / 2, widest + 12.0)


def _foot(kind: Baluster) -> float:
    hole = kind.tread_hole.size.mm if kind.tread_hole else 0
    return max(CROSS_ARM, float(max(kind.base.mm, hole)) / 2)


def _long(section: SectionSetout, name: str, half: float, shown: Shown, pack: str) -> ExpectedPiece:
    rail = section.rail
    low = rail.lower if rail.lower is not None else -OPEN_END
    high = rail.upper if rail.upper is not None else section.marks[-1].rail + OPEN_END
    edges = [
        Edge("the lower end", (-half, low), (half, low), False),
        Edge("the upper end", (-half, high), (half, high), False),
        Edge("the left edge", (-half, low), (-half, high), False),
        Edge("the right edge", (half, low), (half, high), False),
    ]
    if name == rail_strip_name(section):
        edges += _riser_strokes(section, half, low, high)
    marks = tuple(
        ExpectedMark(mark.name, (0.0, mark.rail), shown.text(mark.rail), _foot(mark.type))
        for mark in section.marks
    )
    return ExpectedPiece(
        name=name,
        section=section.name,
        marks=marks,
        edges=tuple(edges),
        banners=(pack,),
        sentences=(("whole strip, end to end ", f"{shown.long(high - low)}:"),),
        zero=0.0,
        sense=1,
    )


def _riser_strokes(section: SectionSetout, half: float, low: float, high: float) -> Iterable[Edge]:
    for number, v in section.rail.risers:
        if low + 0.5 < v < high - 0.5:
            yield Edge(f"the riser of tread {number}", (-half, v), (half, v), True)
