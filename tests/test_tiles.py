"""Laws of cutting: tiles joined give the piece back, and the stair's place changes no strip."""

from __future__ import annotations

from itertools import pairwise
from math import hypot

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from packs import SAMPLE_NAMES, cut_pieces, job_of, sample
from shapely.geometry import Polygon
from shapely.ops import unary_union

from stairjig.drawing import Pen
from stairjig.pieces.values import Piece
from stairjig.setout.build import set_out
from stairjig.sheets.joints import LAP
from stairjig.sheets.tiles import cut_tiles, tile_strokes


def all_pieces() -> list[Piece]:
    return [piece for name in SAMPLE_NAMES for piece in cut_pieces(sample(name))]


PIECES = all_pieces()


@st.composite
def cut(draw: st.DrawFn) -> tuple[Piece, tuple[float, ...]]:
    """A piece and places to cut it at, clear of its skewed ends and its strokes."""
    piece = draw(st.sampled_from(PIECES))
    vs = [v for _, v in piece.outline]
    ends = sorted(vs)
    low = max(v for v in ends if v < (ends[0] + ends[-1]) / 2) + 1
    high = min(v for v in ends if v > (ends[0] + ends[-1]) / 2) - LAP - 1
    if high <= low:
        return piece, ()
    places = draw(st.lists(st.floats(low, high), max_size=4, unique=True))
    taken = [v for stroke in piece.across for _, v in stroke.points]
    kept = [v for v in places if all(abs(v - at) > 0.01 for at in taken)]
    return piece, tuple(sorted(kept))


@given(cut())
@settings(max_examples=60, deadline=None)
def test_tiles_less_their_laps_make_the_piece(given: tuple[Piece, tuple[float, ...]]) -> None:
    piece, places = given
    tiles = cut_tiles(piece, places, 1)
    whole = Polygon(piece.outline)
    parts = []
    for tile in tiles:
        outline = Polygon(tile.outline)
        assert outline.is_valid
        left, _, right, top = outline.bounds
        own = Polygon(((left, tile.low), (right, tile.low), (right, tile.high), (left, tile.high)))
        parts.append(outline.intersection(own))
        lap = LAP if tile.above else 0.0
        assert top == pytest.approx(tile.high + lap)
    joined = unary_union(parts)
    assert joined.symmetric_difference(whole).area < 1e-6 * whole.area
    for one, two in pairwise(parts):
        assert one.intersection(two).area < 1e-9


@given(cut())
@settings(max_examples=60, deadline=None)
def test_every_mark_and_every_stroke_across_is_drawn_once(
    given: tuple[Piece, tuple[float, ...]],
) -> None:
    piece, places = given
    tiles = cut_tiles(piece, places, 1)
    assert sorted(s.name for tile in tiles for s in tile.spots) == sorted(
        s.name for s in piece.spots
    )
    for pen in (Pen.RISER, Pen.NOSING):
        drawn = [
            hypot(s.points[1][0] - s.points[0][0], s.points[1][1] - s.points[0][1])
            for tile in tiles
            for s in tile_strokes(tile)
            if s.pen is pen
        ]
        asked = [
            hypot(s.points[1][0] - s.points[0][0], s.points[1][1] - s.points[0][1])
            for s in piece.across
            if s.pen is pen
        ]
        assert sum(drawn) == pytest.approx(sum(asked), abs=1e-6)


@given(cut())
@settings(max_examples=60, deadline=None)
def test_a_joint_has_the_same_two_marks_on_both_tiles(
    given: tuple[Piece, tuple[float, ...]],
) -> None:
    piece, places = given
    for low, high in pairwise(cut_tiles(piece, places, 7)):
        assert low.above is high.below
        assert low.above is not None
        a, b = low.above.marks
        assert a.name != b.name
        assert a.at[1] == b.at[1] == low.high == high.low
        assert b.at[0] - a.at[0] >= 18.0 - 1e-9


SHIFTED = """
title: Finch Row
units: inch
openings: irc
balusters: {{plain: {{shape: square, width: 5/8}}}}
rail: {{height: 36, depth: 2 1/2, width: 2 3/8}}
sections:
  - name: Flight
    kind: treads
    side: left
    rise: 7 1/2
    nosing: 1 1/8
    line: 1 3/4
    lower_newel: {{width: 3 1/2}}
    upper_newel: {{width: 3 1/2}}
    treads: [{before}10, 10 1/4, 10 1/8, 10 3/8]
"""


def test_what_stands_before_a_tread_changes_no_mark_on_its_strip() -> None:
    alone = cut_pieces(set_out(job_of(SHIFTED.format(before=""))))
    later = cut_pieces(set_out(job_of(SHIFTED.format(before="10 1/2, 10 1/16, "))))
    for number in (2, 3):
        one = next(p for p in alone if p.treads == (number,))
        two = next(p for p in later if p.treads == (number + 2,))
        assert one.outline == two.outline
        assert [s.at for s in one.spots] == [s.at for s in two.spots]
        assert [s.reading for s in one.spots] == [s.reading for s in two.spots]
