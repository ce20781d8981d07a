"""Words set on a tile: beside the marks, never over a stroke, the most needed first.

Where a strip is short of room it says less, not smaller. What it must say on every tile comes
first: the strip's name, its marks' names and readings, its joints, its tread and the pack ID.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from math import hypot

from stairjig.drawing import Text
from stairjig.pieces.values import Lane, Spot, Words
from stairjig.sheets.lanes import DROP, Accept, Across, Along, Span, Track
from stairjig.sheets.tiles import INSIDE_EDGE, Joint, Tile
from stairjig.type import width

NAME_SIZE = 5.0
"""Height of a mark's name, mm."""
READING_SIZE = 3.6
SMALL = 2.5
"""Nothing that the helper needs is smaller, mm."""
REGISTER_ROOM = 9.0
"""Kept clear of words beside a registration mark, mm; its name stands there."""
_EDGE = 1.5
_FARTHEST = 40.0
"""From a mark to its name, at the most, mm."""

Lanes = Sequence[Across] | Sequence[Along]


def letter(tile: Tile, reading_of: Mapping[int, str]) -> tuple[Text, ...]:
    """Every word of a tile, its piece's name first. `reading_of`: each joint's, by its number."""
    lanes = _lanes(tile)
    name, *others = [words for words in tile.piece.words if words.every or _falls_on(tile, words)]
    texts = _piece_name(lanes, name, tile)
    for spot in tile.spots:
        texts += _spot_words(lanes, spot, tile)
    for joint in (tile.below, tile.above):
        if joint:
            texts += _joint_words(lanes, tile, joint, reading_of[joint.number])
    if tile.of > 1:
        others.insert(2, Words(f"tile {tile.index + 1} of {tile.of}", 2.8, bold=True, every=True))
    for words in sorted(others, key=lambda words: not words.every):
        texts += _put(lanes, words)
    for spot in tile.spots:
        texts += _notes(lanes, spot, tile)
    return tuple(texts)


def _falls_on(tile: Tile, words: Words) -> bool:
    if words.v is None:
        return tile.index == 0
    low = -1e9 if tile.index == 0 else tile.low
    high = 1e9 if tile.index == tile.of - 1 else tile.high
    return low <= words.v < high


def _put(lanes: Lanes, words: Words, accept: Accept | None = None) -> list[Text]:
    """The words in the first lane that has room; large ones smaller where they must be."""
    sizes = [words.size, NAME_SIZE] if words.size > NAME_SIZE else [words.size]
    for size in sizes:
        for lane in lanes:
            more = {} if accept is None else {"accept": accept}
            texts = lane.put(words.text, size, words.bold, words.v, **more)
            if texts:
                return texts
    return []


def _piece_name(lanes: Lanes, name: Words, tile: Tile) -> list[Text]:
    """The strip's name on one line; where no lane holds it, up the strip beside its edge."""
    near = tile.low if tile.piece.turned else tile.high

    def one(texts: Sequence[Text]) -> bool:
        return len(texts) == 1

    for size in (name.size, SMALL):
        texts = _put(lanes, Words(name.text, size, True, near), one)
        if texts:
            return texts
    edge = max(u for u, _ in tile.outline) - _EDGE - SMALL * DROP
    return [Text(name.text, (edge, tile.low + REGISTER_ROOM), SMALL, True, angle=90)]


def _spot_words(lanes: Lanes, spot: Spot, tile: Tile) -> list[Text]:
    """A mark's name and its reading, nearer to it than to any other."""
    turned, mine, v = tile.piece.turned, _nearer(spot, tile), spot.at[1]
    texts = [] if turned else _level_with(lanes, spot)
    if not texts:
        texts = _put(lanes, Words(spot.name, NAME_SIZE, True, v), mine)
    if len(texts) < 2:
        words = spot.reading if turned else f"reads {spot.reading}"
        order = lanes[::-1] if turned else lanes
        for size in (READING_SIZE, SMALL):
            placed = _put(order, Words(words, size, False, v), mine)
            if placed:
                return texts + placed
    return texts


def _level_with(lanes: Lanes, spot: Spot) -> list[Text]:
    """The name level with the cross and, where it fits, the reading after it."""
    v = spot.at[1]
    for lane in lanes:
        assert isinstance(lane, Across)
        name = lane.level(spot.name, NAME_SIZE, True, v, 0.0)
        if name:
            after = width(spot.name, NAME_SIZE, True) + 3.0
            reading = lane.level(f"reads {spot.reading}", READING_SIZE, False, v, after)
            lane.take(v, NAME_SIZE / 2 + 0.8)
            return [name, reading] if reading else [name]
    return []


def _nearer(spot: Spot, tile: Tile) -> Accept:
    """Whether words stand nearer to a mark than to every other one on the tile."""
    others = [other.at for other in tile.spots if other is not spot]

    def accept(texts: Sequence[Text]) -> bool:
        own = min(_distance(text, spot.at) for text in texts)
        far = min((_distance(text, at) for text in texts for at in others), default=1e9)
        return own < min(far - 1.0, _FARTHEST)

    return accept


def _distance(text: Text, at: tuple[float, float]) -> float:
    """From the baseline of some words to a point, mm."""
    long = width(text.text, text.size, text.bold)
    u, v = text.at
    if text.anchor == "end":
        u -= long
    along, off = (at[1] - v, at[0] - u) if text.angle else (at[0] - u, at[1] - v)
    return hypot(max(-along, along - long, 0.0), off)


def _notes(lanes: Lanes, spot: Spot, tile: Tile) -> list[Text]:
    texts: list[Text] = []
    mine = _nearer(spot, tile)
    for note in spot.notes:
        near = spot.at[1] if tile.piece.turned else spot.at[1] - NAME_SIZE
        texts += _put(lanes, Words(note, SMALL, False, near), mine)
    return texts


def _joint_words(lanes: Lanes, tile: Tile, joint: Joint, reading: str) -> list[Text]:
    """Its registration marks' names beside them, and its reading from zero."""
    above = joint is tile.below
    shift = 5.4 if above else -5.4 - SMALL
    texts = [
        Text(mark.name, (mark.at[0], mark.at[1] + shift), SMALL, True, anchor="middle")
        for mark in joint.marks
    ]
    words = Words(f"joint {joint.number}: {reading} from zero", SMALL, v=joint.v)
    return texts + _put(lanes, words)


def _lanes(tile: Tile) -> Lanes:
    if tile.piece.turned:
        return [_along(tile, lane) for lane in tile.piece.lanes]
    made = [_across(tile, lane) for lane in tile.piece.lanes]
    return [lane for lane in made if lane.track.free]


def _across(tile: Tile, lane: Lane) -> Across:
    inner = lane.left if lane.left > 0 else lane.right
    track = Track(lane.left, lane.right, _free(tile, lane.left, lane.right))
    return Across(track, inner, lane.low, lane.low_slope, lane.high, lane.high_slope)


def _along(tile: Tile, lane: Lane) -> Along:
    return Along([Track(*band, _free(tile, *band)) for band in _row_bands(lane)])


def _row_bands(lane: Lane) -> Iterable[Span]:
    """Rows of small words side by side, as many as there is room for, the line's side filled."""
    row = 2.8 * (1 + DROP) + 0.35
    count = max(1, int((lane.right - lane.left) / row))
    wide = (lane.right - lane.left) / count
    return [(lane.left + n * wide, lane.left + (n + 1) * wide) for n in range(count)]


def _free(tile: Tile, left: float, right: float) -> list[Span]:
    low = tile.low + (_EDGE if tile.index else _EDGE + 0.5)
    track = Track(left, right, [(low, tile.high - _EDGE)])
    for start, end in _obstacles(tile, left, right):
        track.block(start, end)
    return track.free


def _obstacles(tile: Tile, left: float, right: float) -> Iterable[Span]:
    """Spans of v that marks, joints and strokes take in the band of u from `left` to `right`."""
    for spot in tile.spots:
        if left < spot.at[0] + spot.across + 1 and right > spot.at[0] - spot.across - 1:
            yield spot.at[1] - spot.half - 1, spot.at[1] + spot.half + 1
    for joint in (tile.below, tile.above):
        for mark in joint.marks if joint else ():
            if left < mark.at[0] + INSIDE_EDGE and right > mark.at[0] - INSIDE_EDGE:
                yield mark.at[1] - REGISTER_ROOM, mark.at[1] + REGISTER_ROOM
    for stroke in tile.piece.across:
        us, vs = [u for u, _ in stroke.points], [v for _, v in stroke.points]
        level = max(vs) - min(vs) < 1e-6
        if (stroke.closed or level) and left < max(us) + 1 and right > min(us) - 1:
            yield min(vs) - 1.2, max(vs) + 1.2
