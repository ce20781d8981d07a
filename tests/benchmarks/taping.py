"""How true a taped rail strip comes out: the errors of its tiles laid one after the other, drawn.

    python -m tests.benchmarks.taping [TRIALS]

The strip is the program's own: sixteen treads, letter paper, its real joints and marks. A joint is
misplaced by a normal error along and across, and turned by what its two registration marks
mis-close over the distance between them. The print is off by one factor for the whole pack, the
paper has grown by damp. A tape reading is read to the nearest 1/32 in, and is printed to the job's
step. Lengths in mm. The sizes of the errors are common practice, no source; paper's growth is that
of bond across its grain, 0.2 to 0.4 %.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from math import cos, hypot, sin, sqrt
from random import Random

from stairjig.job.reader import read_job
from stairjig.lengths import INCH, Shown
from stairjig.pieces.build import cut_pieces
from stairjig.setout.build import set_out
from stairjig.sheets.frame import Frame
from stairjig.sheets.plan import cut_for

TREADS = 16
JOB = """
title: Heron Lodge
units: inch
openings: irc
balusters: {{plain: {{shape: square, width: 5/8}}}}
rail: {{height: 36, depth: 2 1/2, width: 60 mm}}
sections:
  - name: Hall flight
    kind: treads
    side: left
    rise: 7 1/2
    nosing: 1 1/8
    line: 1 3/4
    lower_newel: {{width: 3 1/2}}
    upper_newel: {{width: 3 1/2}}
    treads: [{{run: 10 1/4, times: {treads}}}]
"""


@dataclass(frozen=True, slots=True)
class Strip:
    """A strip: where its tiles end, from its low end to its high end; its marks, the first at 0."""

    ends: tuple[float, ...]
    marks: tuple[float, ...]
    shown: Shown

    def tiles(self) -> list[tuple[float, float, list[int]]]:
        """Each tile's lower and upper end and the marks on it, by their numbers."""
        return [
            (low, high, [n for n, mark in enumerate(self.marks) if low <= mark < high])
            for low, high in pairwise(self.ends)
        ]

    def printed(self, at: float) -> float:
        """The reading that is printed for a place."""
        return float(self.shown.rounded(at))


@dataclass(frozen=True, slots=True)
class Errors:
    """The errors that are drawn.

    `along`, `across`: of a joint, sigma; `close`: of one registration mark on the other, sigma;
    `apart`: between the marks of a joint; `edge`: of an edge on the rail's, sigma; `scale`: of the
    print, at the most either way; `damp`: the paper's growth; `tape`: the step a tape is read to;
    `rounded`: what a joint's printed reading is off, at the most (the program's are exact).
    """

    along: float = 0.25
    across: float = 0.25
    close: float = 0.25
    apart: float = 48.0
    edge: float = 0.25
    scale: float = 0.005
    damp: float = 0.003
    tape: float = float(INCH / 32)
    rounded: float = 0.0

    def stretch(self, rng: Random) -> float:
        """The factor by which a pack's paper is too long."""
        return (1 + rng.uniform(-self.scale, self.scale)) * (1 + self.damp)

    def turn(self, rng: Random) -> float:
        """By how much a joint turns the next tile where only its two marks hold it, radians."""
        return rng.gauss(0.0, self.close) * sqrt(2) / self.apart

    def read(self, rng: Random) -> float:
        """By how much a tape reading is set off."""
        return rng.uniform(-self.tape / 2, self.tape / 2)


Laid = list[tuple[float, float]]
"""For each mark how far it is off along the strip, and how far off its line."""
Way = Callable[[Strip, Errors, Random], Laid]


def strip_of(treads: int = TREADS, paper: str | None = None) -> Strip:
    """The rail strip of a flight of equal treads as the program cuts it."""
    setout = set_out(read_job(JOB.format(treads=treads).encode(), "job.yaml", paper))
    piece = next(piece for piece in cut_pieces(setout) if piece.kind == "rail")
    cut = cut_for(piece, Frame(setout.job.paper))
    marks = tuple(spot.at[1] for spot in cut.piece.spots)
    return Strip((cut.piece.low, *cut.joints, cut.piece.high), marks, setout.job.shown)


def free(strip: Strip, errors: Errors, rng: Random) -> Laid:
    """Taped on a bench by its registration marks alone, then laid from first mark to last."""
    stretch, at, turned = errors.stretch(rng), (strip.ends[0], 0.0), 0.0
    points: dict[int, tuple[float, float]] = {}
    for number, (low, high, marks) in enumerate(strip.tiles()):
        if number:
            at = (at[0] + rng.gauss(0.0, errors.along), at[1] + rng.gauss(0.0, errors.across))
            turned += errors.turn(rng)
        for mark in marks:
            points[mark] = _on(at, turned, (strip.marks[mark] - low) * stretch)
        at = _on(at, turned, (high - low) * stretch)
    return _from_first_to_last([points[n] for n in range(len(strip.marks))], strip.marks)


def _on(at: tuple[float, float], turned: float, far: float) -> tuple[float, float]:
    return (at[0] + far * cos(turned), at[1] + far * sin(turned))


def _from_first_to_last(points: Sequence[tuple[float, float]], marks: Sequence[float]) -> Laid:
    """The points seen along the straight line from the first to the last."""
    (x, y), (p, q) = points[0], points[-1]
    long = hypot(p - x, q - y)
    a, b = (p - x) / long, (q - y) / long
    return [
        ((u - x) * a + (v - y) * b - mark, (v - y) * a - (u - x) * b)
        for (u, v), mark in zip(points, marks, strict=True)
    ]


def laid(strip: Strip, errors: Errors, rng: Random) -> Laid:
    """Taped tile by tile on the rail, edges on the rail's: each tile by its joint alone."""
    stretch, at = errors.stretch(rng), strip.ends[0] * 1.0
    offs: Laid = [(0.0, 0.0)] * len(strip.marks)
    for number, (low, high, marks) in enumerate(strip.tiles()):
        at += rng.gauss(0.0, errors.along) if number else 0.0
        start, end = rng.gauss(0.0, errors.edge), rng.gauss(0.0, errors.edge)
        lean = hypot(high - low, end - start) / (high - low)
        for mark in marks:
            far = strip.marks[mark] - low
            aside = start + (end - start) * far / (high - low)
            offs[mark] = (at + far * stretch / lean - strip.marks[mark], aside)
        at += (high - low) * stretch / lean
    zero = offs[0][0]
    return [(along - zero, aside) for along, aside in offs]


def by_lower(strip: Strip, errors: Errors, rng: Random) -> Laid:
    """On the rail, each tile set by the tape at the reading of its lower joint."""
    return _set_by(strip, errors, rng, lambda low, _: low)


def by_middle(strip: Strip, errors: Errors, rng: Random) -> Laid:
    """On the rail, each tile set so that both its ends are off their readings alike."""
    return _set_by(strip, errors, rng, lambda low, high: (low + high) / 2)


def _set_by(
    strip: Strip, errors: Errors, rng: Random, pivot: Callable[[float, float], float]
) -> Laid:
    """Each tile set by the tape at a place of its own; the first one at the first mark."""
    stretch = errors.stretch(rng)
    offs: Laid = [(0.0, 0.0)] * len(strip.marks)
    for low, high, marks in strip.tiles():
        held = 0.0 if low <= 0.0 < high else pivot(low, high)
        ends = [_reading(strip, end, errors, rng) for end in (low, high)]
        off = 0.0 if held == 0.0 else ends[0] if held == low else sum(ends) / 2
        for mark in marks:
            offs[mark] = (off + (strip.marks[mark] - held) * (stretch - 1), 0.0)
    return offs


def _reading(strip: Strip, end: float, errors: Errors, rng: Random) -> float:
    """How far off a tile's end is set by the reading that is printed there."""
    rounding = rng.uniform(-errors.rounded, errors.rounded)
    return strip.printed(end) - end + rounding + errors.read(rng)


def by_readings(strip: Strip, errors: Errors, rng: Random) -> Laid:
    """Every mark set from its own printed reading with a steel tape, the paper only as a list."""
    return [
        (strip.printed(mark) - mark + (errors.read(rng) if mark else 0.0), 0.0)
        for mark in strip.marks
    ]


@dataclass(frozen=True, slots=True)
class Spread:
    """Sizes of errors: their mean, what 95 in 100 stay under, and the largest of all trials."""

    mean: float
    most: float
    worst: float


@dataclass(frozen=True, slots=True)
class Result:
    """What came of a way of taping: along the strip at its far mark, over all marks; off its line.

    `all_marks` takes of each trial the mark that is furthest off.
    """

    far: Spread
    all_marks: Spread
    aside: Spread


def simulate(way: Way, strip: Strip, errors: Errors, trials: int, seed: int = 1) -> Result:
    """The same strip taped `trials` times."""
    rng = Random(seed)
    far, furthest, aside = [], [], []
    for _ in range(trials):
        offs = way(strip, errors, rng)
        far.append(abs(offs[-1][0]))
        furthest.append(max(abs(along) for along, _ in offs))
        aside.append(max(abs(off) for _, off in offs))
    return Result(_spread(far), _spread(furthest), _spread(aside))


def _spread(sizes: Iterable[float]) -> Spread:
    ordered = sorted(sizes)
    return Spread(sum(ordered) / len(ordered), ordered[int(0.95 * (len(ordered) - 1))], ordered[-1])


@dataclass(frozen=True, slots=True)
class Row:
    """A line of the table."""

    says: str
    way: Way
    errors: Errors = field(default_factory=Errors)


TRUE = Errors(scale=0.0, damp=0.0)
PASSED = Errors(scale=0.003)
"""A print that its scale bars let through: 3 in 1000."""

ROUNDED = Errors(rounded=float(INCH / 32))
"""Joints that stand anywhere, their readings rounded to 1/16 in."""


def rows() -> list[Row]:
    """The table: registration marks' distance first, then print and damp, then the tape."""
    made = []
    for apart in (18.0, 30.0, 48.0, 60.0):
        errors = replace(TRUE, apart=apart)
        made.append(Row(f"free on a bench, marks {apart:g} mm apart, paper true", free, errors))
    for apart in (18.0, 60.0):
        errors = replace(TRUE, apart=apart)
        made.append(Row(f"laid to the rail, marks {apart:g} mm apart, paper true", laid, errors))
    made += [
        Row("laid to the rail, damp 0.3 %", laid, replace(TRUE, damp=0.003)),
        Row("laid to the rail, print within its bars", laid, replace(TRUE, scale=0.003)),
        Row("laid to the rail, print within its bars, damp", laid, PASSED),
        Row("laid to the rail, print off up to 0.5 %, damp", laid),
        Row("lower joint at its reading, print within its bars, damp", by_lower, PASSED),
        Row("lower joint at its reading, print off up to 0.5 %, damp", by_lower),
        Row("both joints shared, print within its bars, damp", by_middle, PASSED),
        Row("both joints shared, print off up to 0.5 %, damp", by_middle),
        Row("both joints shared, the same, their readings rounded", by_middle, ROUNDED),
        Row("every mark at its own reading", by_readings),
    ]
    return made


def table(strip: Strip, trials: int) -> str:
    """The results as a table, mm."""
    tiles, long = len(strip.ends) - 1, strip.marks[-1]
    lines = [
        f"{tiles} tiles, {len(strip.marks)} marks, the last one {long:.0f} mm from the first; "
        f"{trials} trials; mm: mean, 95 in 100 within, worst",
        f"{'':58} {'far mark':>20} {'furthest mark':>20} {'off its line':>20}",
    ]
    for row in rows():
        result = simulate(row.way, strip, row.errors, trials)
        columns = [
            f"{spread.mean:6.2f} {spread.most:6.2f} {spread.worst:6.2f}"
            for spread in (result.far, result.all_marks, result.aside)
        ]
        lines.append(f"{row.says:58} {' '.join(columns)}")
    return "\n".join(lines)


if __name__ == "__main__":
    print(table(strip_of(), int(sys.argv[1]) if sys.argv[1:] else 4000))
