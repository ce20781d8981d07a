"""The strip for a rail's underside, and the one for a shoe rail or a floor.

v runs along it from the first mark, up the stair; u is 0 on its centre line. Never mirrored: the
rail strip is read from below, the shoe strip from above, and both are the same to either side.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import cos

from stairjig.drawing import Pen, Stroke
from stairjig.job.model import LevelSection, SlopedSection
from stairjig.lengths import Shown
from stairjig.pieces.rail_words import drawn_risers, rail_words, reach, shoe_words
from stairjig.pieces.spots import base_spot, rail_reach, rail_spot
from stairjig.pieces.values import Lane, Piece, PieceKind, Spot, Words
from stairjig.setout.names import ground, shoe_strip_name
from stairjig.setout.values import SectionSetout

NARROWEST = 30.0
"""A strip is as wide as its rail from here on, mm; on a wider one a narrower rail's edges are."""
INSIDE = 4.0
"""Least from the widest mark to the edge of a strip that is as wide as its rail, mm."""
FOR_WORDS = 12.0
"""Kept for words beside the widest mark and the rail's edges on any other strip, mm."""
TICK = 3.5
"""At its plumbed marks a rail's strip has a tick at both edges, mm: the paper hides the wood."""
FROM_EDGE = 4.0
"""A riser's stroke stops short of the cut edges, mm: it is not to be cut."""
LINE_ROOM, EDGE_ROOM, CUT_ROOM = 1.2, 0.8, 1.5
"""Kept clear of words beside the line, a rail's edge and a cut edge, mm."""
LEAST_ROW = 3.5
"""The narrowest row of words, mm."""
NO_JOINT_NEAR = 6.0
"""mm either side of a riser's stroke where no joint may stand."""


def rail_strip(section: SectionSetout, shown: Shown, pack_id: str) -> Piece:
    """The strip for the underside of the rail over a section."""
    half, plowed = _seat(section) / 2, bool(section.section.rail.plow)
    stretch = 1 / cos(section.rail.pitch)
    spots = tuple(
        rail_spot(mark, (0.0, mark.rail), shown.text(mark.rail), shown, stretch, plowed)
        for mark in section.marks
    )
    own = cut_to_its_rail(section)
    words = rail_words(section, shown, pack_id, own)
    risers = tuple(at for _, at in drawn_risers(section))
    edges = () if own else (-half, half)
    reached = half if own else max(half, _widest(spots)) + FOR_WORDS
    piece = _strip(section, "rail", reached, edges, spots, words, risers, shown)
    return replace(piece, across=(*piece.across, *_ticks(section, reached)))


def _ticks(section: SectionSetout, half: float) -> Iterator[Stroke]:
    """At both edges where the first and the last mark are, which are squared round the rail."""
    for v in dict.fromkeys((section.marks[0].rail, section.marks[-1].rail)):
        yield Stroke(((-half, v), (TICK - half, v)), Pen.TICK)
        yield Stroke(((half - TICK, v), (half, v)), Pen.TICK)


def cut_to_its_rail(section: SectionSetout) -> bool:
    """Whether the rail's strip is as wide as the rail, or as its plow, and lies edge on edge.

    Else it is wider, and the edges that it is laid to are drawn on it.
    """
    plowed = bool(section.section.rail.plow)
    widest = max(rail_reach(mark, plowed) for mark in section.marks)
    return _seat(section) >= NARROWEST and _seat(section) / 2 - widest >= INSIDE


def _seat(section: SectionSetout) -> float:
    """How wide what the rail's strip is centred on is, mm: the rail, or the plow in it."""
    rail = section.section.rail
    return float(rail.plow.width.mm if rail.plow else rail.width.mm)


def shoe_strip(section: SectionSetout, shown: Shown, pack_id: str) -> Piece:
    """The strip for the shoe rail of a sloped or level section, or for its floor."""
    kind = section.section
    assert isinstance(kind, SlopedSection | LevelSection)
    stretch = 1 / cos(section.rail.pitch)
    spots = tuple(
        base_spot(mark, (0.0, mark.rail), shown.text(mark.rail), shown, stretch)
        for mark in section.marks
    )
    half = max(float(kind.rail.width.mm) / 2, _widest(spots) + FOR_WORDS)
    words = shoe_words(section, shoe_strip_name(section), ground(section), half, shown, pack_id)
    return _strip(section, "shoe", half, (), spots, words, (), shown)


def _widest(spots: Sequence[Spot]) -> float:
    """How far the marks reach to either side of the line, mm."""
    return max(spot.across for spot in spots)


def _strip(
    section: SectionSetout,
    kind: PieceKind,
    half: float,
    edges: Sequence[float],
    spots: tuple[Spot, ...],
    words: tuple[Words, ...],
    risers: Sequence[float],
    shown: Shown,
) -> Piece:
    """A strip `half` mm wide to either side; `edges`: u of the rail's edges drawn on it."""
    low, high = reach(section.rail, section.marks)
    end = half - FROM_EDGE
    across = tuple(Stroke(((-end, v), (end, v)), Pen.RISER) for v in risers)
    line = Stroke(((0.0, low), (0.0, high)), Pen.LINE)
    drawn = (Stroke(((u, low), (u, high)), Pen.EDGE) for u in edges)
    return Piece(
        name=words[0].text,
        section=section.name,
        kind=kind,
        treads=(),
        outline=((-half, low), (half, low), (half, high), (-half, high)),
        along=(line, *drawn),
        across=across,
        spots=spots,
        shut=tuple((v - NO_JOINT_NEAR, v + NO_JOINT_NEAR) for v in risers),
        lanes=_lanes(half, edges, _widest(spots), (low, high)),
        words=words,
        turned=True,
        zero=0.0,
        sense=1,
        origin=f"mark {section.marks[0].name}",
        step=float(shown.step),
    )


def _lanes(
    half: float, edges: Sequence[float], widest: float, ends: tuple[float, float]
) -> tuple[Lane, ...]:
    """Room for words either side of the line and of the rail's edges, parted beside the marks."""
    stops = [LINE_ROOM, *(u + gap for u in edges if u > 0 for gap in (-EDGE_ROOM, EDGE_ROOM))]
    stops.append(half - CUT_ROOM)
    lanes: list[Lane] = []
    for inner, outer in zip(stops[::2], stops[1::2], strict=True):
        split = widest + 1.0
        parted = inner < split - LEAST_ROW and LEAST_ROW <= outer - split <= 3 * LEAST_ROW
        splits = (split,) if parted else ()
        mirrored = tuple(-at for at in splits)
        lanes = [
            Lane(-outer, -inner, *ends, splits=mirrored),
            *lanes,
            Lane(inner, outer, *ends, splits=splits),
        ]
    return tuple(lane for lane in lanes if lane.right - lane.left >= LEAST_ROW)
