"""The strips of a winder flight, laid in plan at their riser lines, give the measured stair back.

The stair is drawn here by plain trigonometry, taped on the drawing, and written as a job; the
strips are read from their finished sheets. Nothing of the program's own geometry is used.
"""

from __future__ import annotations

from collections import defaultdict
from itertools import pairwise
from math import hypot, radians, tan

import pytest
from packs import job_of, strip_pages, strips_pdf
from plain_reader import PlainTile, Point, joined, read_tiles

from stairjig.setout.build import set_out

LINE = 45.0
"""Tread end to line, mm."""
WALL = 900.0
"""Tread end to wall, mm."""
STAIRS = {
    "fan": [(0, 0), (300, -11), (560, -24), (830, -36)],
    "straight, then a fan": [(0, 0), (260, 0), (520, 0), (840, -17), (1120, -31)],
    "fan both ways": [(0, 14), (330, 0), (600, -15), (900, -9), (1200, 5)],
}
"""Risers by their place on the line and their skew in degrees."""

JOB = """
title: Otter Hollow
units: mm
openings: {{stair: 110, level: 110, triangle: 110, equal: passes}}
balusters: {{plain: {{shape: square, width: 32}}}}
rail: {{height: 950, depth: 60, width: 60}}
sections:
  - name: Turn
    kind: treads
    side: {side}
    rise: 185
    nosing: 20
    line: {line}
    lower_newel: {{width: 90}}
    upper_newel: {{width: 90}}
    treads:
{treads}
"""


def on(riser: tuple[float, float], y: float) -> Point:
    """A point of a riser: through (s, 0), turned off square to the line; y positive outward."""
    s, skew = riser
    return s + y * tan(radians(skew)), y


def apart(p: Point, q: Point) -> float:
    return hypot(p[0] - q[0], p[1] - q[1])


def taped(front: tuple[float, float], back: tuple[float, float]) -> str:
    """A tread as a tape reads it between two risers."""
    a, b = on(front, LINE), on(back, LINE)
    c, d = on(back, LINE - WALL), on(front, LINE - WALL)
    sides = {"end": apart(a, b), "back": apart(b, c), "wall": apart(c, d), "front": apart(d, a)}
    words = ", ".join(f"{name}: {length:.6f}" for name, length in sides.items())
    return (
        f"      - {{sides: {{{words}}}, diagonal: {apart(a, c):.6f}, "
        f"check_diagonal: {apart(b, d):.6f}}}"
    )


def strips_of(name: str, side: str) -> list[list[tuple[PlainTile, Point]]]:
    """The tread strips of a stair from its sheets, each put together, in order going up."""
    risers = STAIRS[name]
    treads = "\n".join(taped(front, back) for front, back in pairwise(risers))
    setout = set_out(job_of(JOB.format(side=side, line=LINE, treads=treads)))
    assert setout.passes
    pieces: dict[str, list[PlainTile]] = defaultdict(list)
    for tile in read_tiles(strips_pdf(strip_pages(setout))):
        pieces[tile.name].append(tile)
    return [joined(pieces[f"Turn · tread {n}"]) for n in range(1, len(risers))]


def lines_of(
    strip: list[tuple[PlainTile, Point]], side: str
) -> tuple[list[Point], list[Point], list[Point]]:
    """The strip's riser line and its back edge by two points each, and its marks: (s, y).

    The frame is the paper's own, turned so that s runs up the page and y outward.
    """
    out = 1.0 if side == "right" else -1.0

    def plan(tile_shift: Point, at: Point) -> Point:
        return at[1] + tile_shift[1], (at[0] + tile_shift[0]) * out

    marks = [plan(shift, at) for tile, shift in strip for at in tile.marks()]
    y0 = marks[0][1]
    marks = [(s, y - y0) for s, y in marks]
    across = [
        [plan(shift, p) for p in path]
        for tile, shift in strip
        for path in tile.paths[1:]
        if len(path) == 2 and abs(path[0][0] - path[1][0]) > 60
    ]
    joints = [ring[1] + shift[1] for tile, shift in strip for ring in tile.rings()]
    lines = [
        path
        for path in across
        if not any(abs(path[0][0] - at) + abs(path[1][0] - at) < 0.01 for at in joints)
    ]
    riser = max(lines, key=lambda p: (p[0][0] + p[1][0]) / 2)
    edges = [
        [plan(shift, p), plan(shift, q)]
        for tile, shift in strip
        for p, q in zip(tile.outline, [*tile.outline[1:], tile.outline[0]], strict=True)
    ]
    back = max((e for e in edges if abs(e[0][1] - e[1][1]) > 20), key=lambda e: e[0][0] + e[1][0])
    return [(s, y - y0) for s, y in riser], [(s, y - y0) for s, y in back], marks


def at_line(line: list[Point], y: float = 0.0) -> float:
    """Where a line through two points has that y."""
    (s0, y0), (s1, y1) = line
    return s0 + (s1 - s0) * (y - y0) / (y1 - y0)


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("name", STAIRS)
def test_strips_laid_at_their_riser_lines_give_the_stair_back(name: str, side: str) -> None:
    s = 0.0
    for number, strip in enumerate(strips_of(name, side)):
        front, back, marks = lines_of(strip, side)
        shift = s - at_line(front)
        for riser, line in ((number, front), (number + 1, back)):
            for y in (LINE, 0.0, LINE - WALL):
                assert at_line(line, y) + shift == pytest.approx(
                    on(STAIRS[name][riser], y)[0], abs=0.05
                )
        low, high = STAIRS[name][number][0], STAIRS[name][number + 1][0]
        assert all(low < mark + shift < high for mark, _ in marks)
        gap = (high - low - 32 * len(marks)) / len(marks)
        expected = [low + 16 + n * (32 + gap) for n in range(len(marks))]
        assert sorted(mark + shift for mark, _ in marks) == pytest.approx(expected, abs=0.02)
        s = at_line(back) + shift
