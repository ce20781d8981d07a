"""What the paper must hold of each strip, worked out from the set-out alone: the proof's own half.

Each strip in its frame (u, v), mm: v up the stair from a tread's front riser on the line, or from
the rail's first mark; u to the right with the stair going up the page.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from functools import partial
from math import cos

from stairjig.frozen import frozen
from stairjig.job.model import Baluster, Hole, LevelSection, SlopedSection
from stairjig.lengths import Real, Shown
from stairjig.proof import words
from stairjig.proof.saying import Saying, notes
from stairjig.proof.shapes import Shape, ellipse, line, rectangle
from stairjig.proof.tread import TreadShape, tread_shape
from stairjig.setout.copies import strips
from stairjig.setout.names import rail_strip_name, shoe_strip_name, tread_strip_name
from stairjig.setout.values import Mark, SectionSetout, Setout, SetTread

Point = tuple[float, float]
NARROWEST, INSIDE = 30.0, 4.0
"""A rail's strip is as wide as the rail from here on, mm, where it reaches beyond every mark."""
FOR_WORDS = 12.0
"""What every other strip reaches beyond its widest mark, or a narrow rail's edges, mm."""
CROSS_ARM = 4.5
OPEN_END = 60.0
"""What a strip reaches beyond its end mark where there is no newel, mm."""
_TICK = 3.5
_OFF_EDGE = 4.0
"""A riser's stroke on a rail strip stops short of its edges, mm."""


@frozen
class ExpectedMark:
    """A mark: its name, its place, the tape reading beside it, its shapes, what is said of it."""

    name: str
    at: Point
    reading: str
    shapes: tuple[Shape, ...]
    notes: tuple[str, ...]

    @property
    def half(self) -> float:
        """How far its shapes and its cross reach, mm; words stand beside that."""
        return max(CROSS_ARM, *(abs(u) for shape in self.shapes for u, _ in shape.points))


@frozen
class ExpectedPiece:
    """A strip as it must come out of the paper.

    `outline`: where it is cut out. `along`: lines that run on into the laps; `edges`: those that
    stop short of joints; `across`: what stands on the one tile it falls on. `side`: the u of the
    long edge that runs along the line. A reading at v is (v - zero) * sense, counted from `origin`,
    with `reads` before it. `sayings`: all that is said but of marks and joints; `angles`: how its
    words may lie, degrees. `short`: gives the same with less in front of its riser.
    """

    name: str
    section: str
    marks: tuple[ExpectedMark, ...]
    outline: tuple[Point, ...]
    along: tuple[Shape, ...]
    edges: tuple[Shape, ...]
    across: tuple[Shape, ...]
    side: float
    zero: float
    sense: int
    origin: str
    reads: str
    sayings: tuple[Saying, ...]
    angles: tuple[int, ...]
    short: Callable[[], ExpectedPiece] | None = None

    @property
    def low(self) -> float:
        """The least v of the outline."""
        return min(v for _, v in self.outline)

    @property
    def high(self) -> float:
        """The greatest v of the outline."""
        return max(v for _, v in self.outline)


def expected_pieces(setout: Setout) -> tuple[ExpectedPiece, ...]:
    """Every strip of the job."""
    shown, pack = setout.job.shown, f"pack {setout.pack_id}"
    pieces: list[ExpectedPiece] = []
    for section in setout.sections:
        if section.treads:
            groups = strips(section, setout.job.copies)
            pieces += [_tread(section, group, shown, pack) for group in groups]
        else:
            pieces.append(_shoe(section, shown, pack))
        pieces.append(_rail(section, shown, pack))
    return tuple(pieces)


def _tread(
    section: SectionSetout, group: tuple[SetTread, ...], shown: Shown, pack: str
) -> ExpectedPiece:
    def piece(short: bool) -> ExpectedPiece:
        return _tread_piece(section, group, shown, pack, tread_shape(section, group[0], short))

    return replace(piece(False), short=partial(piece, True))


def _tread_piece(
    section: SectionSetout,
    group: tuple[SetTread, ...],
    shown: Shown,
    pack: str,
    shape: TreadShape,
) -> ExpectedPiece:
    plan = group[0].plan
    return ExpectedPiece(
        name=tread_strip_name(section, group),
        section=section.name,
        marks=tuple(
            ExpectedMark(
                mark.name,
                (0.0, float(mark.x)),
                shown.text(plan.line_run - mark.x),
                tuple(_standing(mark, float(mark.x), 1.0, float(mark.x) + shape.ahead - 0.5)),
                notes(mark.type, mark.type.tread_hole, shown),
            )
            for mark in group[0].marks
        ),
        outline=shape.outline,
        along=shape.along,
        edges=(),
        across=shape.across,
        side=shape.wall,
        zero=float(plan.line_run),
        sense=-1,
        origin="the back edge, on the line",
        reads="reads ",
        sayings=words.tread_sayings(section, group, shown, pack, shape),
        angles=(0, 90),
    )


def _standing(mark: Mark, v: float, stretch: float, below: float) -> Iterable[Shape]:
    """A baluster's base and its hole, `stretch` times as long along the strip as plumb.

    `below`: what there is of the strip under the mark; a hole that needs more is not drawn.
    """
    kind, hole = mark.type, mark.type.tread_hole
    yield _foot(f"the base of mark {mark.name}", kind, kind.base.mm, v, stretch)
    if hole and float(hole.size.mm) / 2 * stretch < below:
        half = float(hole.size.mm) / 2
        yield ellipse(f"the hole of mark {mark.name}", (0.0, v), half, half * stretch, "dashed")


def _foot(what: str, kind: Baluster, size: Real, v: float, stretch: float) -> Shape:
    shape = ellipse if kind.shape == "round" else rectangle
    half = float(size) / 2
    return shape(what, (0.0, v), half, half * stretch, "full")


def _overhead(mark: Mark, stretch: float, plowed: bool) -> Iterable[Shape]:
    """A baluster's hole in the rail as it opens there; where it has none, the baluster itself."""
    kind, hole = mark.type, mark.type.rail_hole
    if hole and not plowed:
        half = float(hole.size.mm) / 2
        what = f"the hole of mark {mark.name}"
        yield ellipse(what, (0.0, mark.rail), half, half * stretch, "dashed")
    else:
        what = f"the shape of mark {mark.name}"
        yield _foot(what, kind, kind.width.mm, mark.rail, stretch)


def _rail(section: SectionSetout, shown: Shown, pack: str) -> ExpectedPiece:
    rail = section.section.rail
    wide = float(rail.plow.width.mm if rail.plow else rail.width.mm)
    stretch, plowed = 1 / cos(section.rail.pitch), bool(rail.plow)

    def hole(mark: Mark) -> Hole | None:
        return None if plowed else mark.type.rail_hole

    marks = tuple(
        ExpectedMark(
            mark.name,
            (0.0, mark.rail),
            shown.text(mark.rail),
            tuple(_overhead(mark, stretch, plowed)),
            notes(mark.type, hole(mark), shown),
        )
        for mark in section.marks
    )
    low, high = reach(section)
    widest = max(mark.half for mark in marks)
    own = wide >= NARROWEST and wide / 2 - widest >= INSIDE
    half = wide / 2 if own else max(wide / 2, widest) + FOR_WORDS
    across = (*_riser_strokes(section, half, low, high), *_ticks(section, half))
    sayings = words.rail_sayings(section, low, high, shown, pack, own)
    name = rail_strip_name(section)
    edges = () if own else (-wide / 2, wide / 2)
    return _long(section, name, half, edges, marks, across, sayings)


def _shoe(section: SectionSetout, shown: Shown, pack: str) -> ExpectedPiece:
    assert isinstance(section.section, SlopedSection | LevelSection)
    stretch = 1 / cos(section.rail.pitch)
    marks = tuple(
        ExpectedMark(
            mark.name,
            (0.0, mark.rail),
            shown.text(mark.rail),
            tuple(_standing(mark, mark.rail, stretch, 1e9)),
            notes(mark.type, mark.type.tread_hole, shown),
        )
        for mark in section.marks
    )
    widest = max(mark.half for mark in marks)
    half = max(float(section.section.rail.width.mm) / 2, widest + FOR_WORDS)
    low, high = reach(section)
    sayings = words.shoe_sayings(section, low, high, half, shown, pack)
    return _long(section, shoe_strip_name(section), half, (), marks, (), sayings)


def _long(
    section: SectionSetout,
    name: str,
    half: float,
    edges: Sequence[float],
    marks: tuple[ExpectedMark, ...],
    across: tuple[Shape, ...],
    sayings: tuple[Saying, ...],
) -> ExpectedPiece:
    """A strip `half` wide to either side; `edges`: u of a rail's that are drawn on it."""
    low, high = reach(section)
    return ExpectedPiece(
        name=name,
        section=section.name,
        marks=marks,
        outline=((-half, low), (half, low), (half, high), (-half, high)),
        along=(line("the centre line", (0.0, low), (0.0, high), "dashed"),),
        edges=tuple(line("the rail's edge", (u, low), (u, high), "dashed") for u in edges),
        across=across,
        side=-half,
        zero=0.0,
        sense=1,
        origin=f"mark {section.marks[0].name}",
        reads="",
        sayings=sayings,
        angles=(90,),
    )


def reach(section: SectionSetout) -> tuple[float, float]:
    """The ends of a rail's or a shoe's strip: newel face to newel face, or open."""
    rail, last = section.rail, section.marks[-1]
    low = rail.lower if rail.lower is not None else -_open_end(section, section.marks[0])
    high = rail.upper if rail.upper is not None else last.rail + _open_end(section, last)
    return low, high


def _open_end(section: SectionSetout, mark: Mark) -> float:
    """From a mark to an open end, beyond whatever is drawn about it."""
    kind, past = mark.type, 10.0
    sizes = [kind.base.mm, *(hole.size.mm for hole in (kind.tread_hole, kind.rail_hole) if hole)]
    return max(OPEN_END, float(max(sizes)) / 2 / cos(section.rail.pitch) + past)


def _ticks(section: SectionSetout, half: float) -> Iterable[Shape]:
    """What stands at both edges where the first and the last mark are."""
    for mark in {mark.name: mark for mark in (section.marks[0], section.marks[-1])}.values():
        for sign in (-1.0, 1.0):
            ends = (sign * half, mark.rail), (sign * (half - _TICK), mark.rail)
            yield line(f"a tick at mark {mark.name}", *ends, "full")


def _riser_strokes(section: SectionSetout, half: float, low: float, high: float) -> Iterable[Shape]:
    across = half - _OFF_EDGE
    for name, v in words.drawn_risers(section, low, high):
        yield line(f"the line of {name}", (-across, v), (across, v), "dashed")
