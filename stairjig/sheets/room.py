"""The room for words on a tile: its strip's lanes, less what marks, joints and strokes take."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from itertools import pairwise

from stairjig.frozen import frozen
from stairjig.pieces.values import Lane
from stairjig.sheets.along import Along, Row, cells_of
from stairjig.sheets.lanes import DROP, Across, Span, Track, common
from stairjig.sheets.tiles import CLEAR_OF_JOINT, INSIDE_EDGE, Tile

SPINE = 3.6
"""Width of the row that runs up a tread strip where its lanes are too narrow or too low, mm."""
_EDGE = 1.5
_ROW = 2.8 * (1 + DROP) + 0.1
_FINE = 1 + DROP
"""A row of a millimetre's height: words of 5 mm take five, those of 2.5 mm three."""


@frozen
class Room:
    """A tile's lanes: for all words, for those that run up a tread strip, beside its cut edges."""

    main: list[Across | Along]
    spine: list[Along]
    edges: list[Along]


@frozen
class Spread:
    """How far the words of one subject are kept from those of another.

    `pad`: mm before and behind, or above and below them; `moat`: rows beside words that run up the
    strip. `fine`: such rows are a third as high as figures need, so that words of every height
    take no more than they must; else each takes small words.
    """

    pad: float = 0.0
    moat: int = 0
    fine: bool = False


def room_on(tile: Tile, spread: Spread, spined: bool = False) -> Room:
    """What is free of a tile; `spined`: with a row up the outer side of its first lane."""
    taken = _Taken(tile, tuple(_obstacles(tile)))
    found = Room([], [], [])
    for lane in tile.piece.lanes:
        if lane.edge:
            found.edges.append(_row(taken, lane))
        elif tile.piece.turned:
            rows = _rows(lane, _FINE if spread.fine else _ROW)
            found.main.append(Along(taken.rows(rows), tile.low, spread.pad, spread.moat))
        else:
            if spined and not found.spine:
                lane, outer = _parted(lane)
                found.spine.append(_row(taken, outer))
            across = _across(taken, lane, spread.pad)
            found.main.extend([across] if across.track.free else [])
    return found


@frozen
class _Taken:
    """A tile and what its marks, joints and strokes take of it: spans of u, spans of v."""

    tile: Tile
    obstacles: tuple[tuple[Span, Span], ...]

    def track(self, left: float, right: float) -> Track:
        """The band of u from `left` to `right` with what is still free of it."""
        low = self.tile.low + (_EDGE if self.tile.index else _EDGE + 0.5)
        track = Track(left, right, [(low, self.tile.high - _EDGE)])
        for (first, last), span in self.obstacles:
            if left < last and right > first:
                track.block(*span)
        return track

    def rows(self, rows: Iterable[Span]) -> list[Row]:
        """The same of rows up the strip; those beside the same obstacles have the same free."""
        known: dict[tuple[Span, ...], int] = {}
        found = []
        for left, right in rows:
            spans = tuple([span for us, span in self.obstacles if left < us[1] and right > us[0]])
            if spans not in known:
                known[spans] = cells_of(self.track(left, right).free, self.tile.low)
            found.append(Row(left, right, known[spans]))
        return found


def _row(taken: _Taken, lane: Lane) -> Along:
    """A lane as one row of words up the strip, inside its slanting ends."""
    wide = lane.right - lane.left
    low = lane.low + max(0.0, lane.low_slope * wide)
    high = lane.high + min(0.0, lane.high_slope * wide)
    free = common([taken.track(lane.left, lane.right).free, [(low, high)]])
    row = Row(lane.left, lane.right, cells_of(free, taken.tile.low))
    return Along([row], taken.tile.low)


def _parted(lane: Lane) -> tuple[Lane, Lane]:
    """A lane without its outermost row, and that row."""
    rest = lane.right - lane.left - SPINE - 0.4
    sloped = replace(
        lane, low=lane.low + lane.low_slope * rest, high=lane.high + lane.high_slope * rest
    )
    if lane.left > 0:
        return replace(lane, right=lane.left + rest), replace(sloped, left=lane.right - SPINE)
    return replace(lane, left=lane.right - rest), replace(sloped, right=lane.left + SPINE)


def _across(taken: _Taken, lane: Lane, pad: float) -> Across:
    inner = lane.left if lane.left > 0 else lane.right
    track = taken.track(lane.left, lane.right)
    return Across(track, inner, lane.low, lane.low_slope, lane.high, lane.high_slope, pad)


def _rows(lane: Lane, high: float) -> list[Span]:
    """Rows at least so high side by side, as many as there is room for; none across a split."""
    ends = [lane.left, *lane.splits, lane.right]
    return [row for low, top in pairwise(ends) for row in _cut(low, top, high)]


def _cut(left: float, right: float, high: float) -> list[Span]:
    count = max(1, int((right - left) / high))
    wide = (right - left) / count
    return [(left + n * wide, left + (n + 1) * wide) for n in range(count)]


def _obstacles(tile: Tile) -> Iterable[tuple[Span, Span]]:
    for spot in tile.spots:
        (u, v), wide, high = spot.at, spot.across + 1, spot.half + 1
        yield (u - wide, u + wide), (v - high, v + high)
    for joint in (tile.below, tile.above):
        for mark in joint.marks if joint else ():
            u, v = mark.at
            yield (u - INSIDE_EDGE, u + INSIDE_EDGE), (v - CLEAR_OF_JOINT, v + CLEAR_OF_JOINT)
    for stroke in tile.across:
        us, vs = zip(*stroke.points, strict=True)
        if stroke.closed or max(vs) - min(vs) < 1e-6:
            yield (min(us) - 1, max(us) + 1), (min(vs) - 1.2, max(vs) + 1.2)
