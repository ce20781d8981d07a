"""The strip for a rail's underside, and the one for a shoe rail or a floor.

v runs along it from the first mark, up the stair; u is 0 on its centre line. Never mirrored: the
rail strip is read from below, the shoe strip from above, and both are the same to either side.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, degrees

from stairjig.drawing import Pen, Point, Stroke
from stairjig.job.model import LevelSection, SlopedSection
from stairjig.lengths import INCH, Shown
from stairjig.pieces.spots import base_spot, rail_spot
from stairjig.pieces.values import Lane, Piece, Spot, Words
from stairjig.setout.names import rail_strip_name, shoe_strip_name
from stairjig.setout.values import Mark, RailSetout, SectionSetout, SetNewel

NARROWEST = 30.0
"""A strip is never narrower than this, mm; a narrower rail's edges are drawn on it."""
OPEN_END = 60.0
"""What the strip reaches beyond its last mark where there is no newel, mm."""
PLACING = INCH / 16
"""mm within which the plumbed first and last marks must meet the strip's."""
FROM_EDGE = 4.0
"""A riser's stroke stops short of the cut edges, mm: it is not to be cut."""
NO_JOINT_NEAR = 6.0
"""mm either side of a riser's stroke where no joint may stand."""


def rail_strip(section: SectionSetout, shown: Shown, pack_id: str) -> Piece:
    """The strip for the underside of the rail over a section."""
    rail = section.section.rail
    wide = float(rail.plow.width.mm if rail.plow else rail.width.mm)
    stretch = 1 / cos(section.rail.pitch)
    spots = tuple(
        rail_spot(mark, (0.0, mark.rail), shown.text(mark.rail), shown, stretch, bool(rail.plow))
        for mark in section.marks
    )
    words = [
        Words(rail_strip_name(section), 2.8, every=True),
        Words(f"pack {pack_id}", 2.8, bold=True, every=True),
        Words("up the stair →", 5.0, bold=True, every=True),
        Words("this face down, read from below; blank side on the wood", 2.8, True, every=True),
        *_ends(section, shown),
        *_riser_words(section),
        *_placing(section, "plumb", shown),
    ]
    if rail.plow:
        words.append(Words("lies in the plow: no holes", 2.8, bold=True))
    risers = tuple(at for _, at in section.rail.risers)
    name = rail_strip_name(section)
    return _strip(section, "rail", name, wide, spots, tuple(words), risers, shown)


def shoe_strip(section: SectionSetout, shown: Shown, pack_id: str) -> Piece:
    """The strip for the shoe rail of a sloped or level section, or for its floor."""
    kind = section.section
    assert isinstance(kind, SlopedSection | LevelSection)
    stretch = 1 / cos(section.rail.pitch)
    spots = tuple(
        base_spot(mark, (0.0, mark.rail), shown.text(mark.rail), shown, stretch)
        for mark in section.marks
    )
    widest = max(float(mark.type.base.mm) for mark in section.marks)
    wide = max(float(kind.rail.width.mm), widest + 16.0)
    on = "shoe" if kind.shoe_depth.mm else "floor"
    name = shoe_strip_name(section)
    words = (
        Words(name, 2.8, every=True),
        Words(
            "up the stair →" if section.rail.pitch else "to the upper end →", 4.0, True, every=True
        ),
        Words("this face up", 2.8, bold=True, every=True),
        Words(f"pack {pack_id}", 2.8, bold=True, every=True),
        *_ends(section, shown),
        Words(f"centre the strip on the {on}; if it misses both newels, split the difference", 2.5),
        *_whole_length(section, shown),
    )
    return _strip(section, "shoe", name, wide, spots, words, (), shown)


def _strip(
    section: SectionSetout,
    kind: str,
    name: str,
    wide: float,
    spots: tuple[Spot, ...],
    words: tuple[Words, ...],
    risers: Sequence[float],
    shown: Shown,
) -> Piece:
    half = max(wide, NARROWEST) / 2
    low, high = _reach(section.rail, section.marks)
    reach, side = half - FROM_EDGE, min(wide / 2 if wide < NARROWEST else half, half) - 1.5
    across = tuple(
        Stroke(((-reach, v), (reach, v)), Pen.RISER) for v in risers if low + 0.5 < v < high - 0.5
    )
    along = [Stroke(((0.0, low), (0.0, high)), Pen.LINE)]
    if wide < NARROWEST:
        edges = (-wide / 2, wide / 2)
        along += [Stroke(((u, low), (u, high)), Pen.EDGE) for u in edges]
    outline: tuple[Point, ...] = ((-half, low), (half, low), (half, high), (-half, high))
    return Piece(
        name=name,
        section=section.name,
        kind="rail" if kind == "rail" else "shoe",
        treads=(),
        outline=outline,
        along=tuple(along),
        across=across,
        spots=spots,
        shut=tuple((v - NO_JOINT_NEAR, v + NO_JOINT_NEAR) for v in risers),
        lanes=(Lane(-side, -1.2, low, high), Lane(1.2, side, low, high)),
        words=words,
        turned=True,
        zero=0.0,
        sense=1,
        origin=f"mark {section.marks[0].name}",
        step=float(shown.step),
    )


def _reach(rail: RailSetout, marks: Sequence[Mark]) -> tuple[float, float]:
    """From newel face to newel face, or beyond the end marks where an end is open."""
    low = rail.lower if rail.lower is not None else -OPEN_END
    high = rail.upper if rail.upper is not None else marks[-1].rail + OPEN_END
    return low, high


def _ends(section: SectionSetout, shown: Shown) -> list[Words]:
    low, high = _reach(section.rail, section.marks)
    return [
        _end(section.lower_newel, "lower", low, section.rail.lower, shown),
        _end(section.upper_newel, "upper", high, section.rail.upper, shown),
    ]


def _end(newel: SetNewel | None, end: str, v: float, at: float | None, shown: Shown) -> Words:
    if newel is None or at is None:
        return Words(f"{end} end of the strip: open, no newel", 2.5, v=v, first=True)
    what = "newel" if newel.kind == "post" else "wall"
    says = f"{end} end of the strip: butts the {end} {what}'s face, {shown.text(abs(at))} from zero"
    return Words(says, 2.5, v=v, first=True)


def _riser_words(section: SectionSetout) -> list[Words]:
    """What the strokes of the risers are, each beside its own."""
    top = section.treads[-1].plan.number + 1 if section.treads else 0
    return [
        Words(f"{'top riser' if number == top else f'riser {number}'}: don't cut", 2.5, v=v + 1.3)
        for number, v in section.rail.risers
    ]


def _placing(section: SectionSetout, verb: str, shown: Shown) -> list[Words]:
    first, last = section.marks[0], section.marks[-1]
    within = shown.text(PLACING)
    near = (
        f"zero is mark {first.name}; {verb} {first.name} and {last.name} up to the propped rail; "
        f"both within {within} of this strip's, else stop: pitch, rail or print is not as measured"
    )
    slope = f"pitch {degrees(section.rail.pitch):.1f}°"
    return [Words(near, 2.5, v=first.rail), Words(slope, 2.5), *_whole_length(section, shown)]


def _whole_length(section: SectionSetout, shown: Shown) -> list[Words]:
    low, high = _reach(section.rail, section.marks)
    return [
        Words(
            f"whole strip, end to end {shown.long(high - low)}: tape it before use; off by more "
            f"than {shown.text(PLACING)}, mark from the printed readings",
            2.5,
        )
    ]
