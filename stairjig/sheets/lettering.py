"""Words set on a tile: beside the marks, never over a stroke, the most needed first.

Where a strip is short of room it says less, not smaller. What it must say on every tile comes
first: the strip's name, its marks' names and readings, its joints, its tread and the pack ID.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from math import hypot

from stairjig.drawing import Text
from stairjig.pieces.values import Lane, Spot, Words
from stairjig.sheets.joints import LAP
from stairjig.sheets.lanes import DROP, Accept, Across, Along, Span, Track, anywhere, common
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

Lanes = Sequence[Across | Along]


@dataclass(frozen=True, slots=True)
class JointWords:
    """What is said of a joint: its reading, and the sheets its two tiles are on, where known."""

    reading: str
    lower_sheet: int | None = None
    upper_sheet: int | None = None


def letter(tile: Tile, joints: Mapping[int, JointWords]) -> tuple[Text, ...]:
    """Every word of a tile, its piece's name first. `joints`: by number."""
    main, edges = _lanes(tile)
    every = [words for words in tile.piece.words if words.every or _falls_on(tile, words)]
    name, *others = [words for words in every if not words.edge]
    texts = [label for label in tile.piece.labels if tile.low <= label.at[1] < tile.high]
    for words in (words for words in others if words.first):
        texts += _put(main, words)
    named = _piece_name(main, name, tile)
    for spot in tile.spots:
        texts += _spot_words(main, spot, tile)
    for joint in (tile.below, tile.above):
        if joint:
            texts += _joint_words(main, tile, joint, joints[joint.number])
    for words in (words for words in every if words.edge):
        texts += _put(edges, words) or _put(edges, replace(words, text=words.text.split(":")[0]))
    must = [words for words in others if words.every]
    if tile.of > 1:
        must.insert(1, Words(f"tile {tile.index + 1} of {tile.of}", 3.6, bold=True, every=True))
    for words in must:
        texts += _put(main, words)
    for spot in tile.spots:
        texts += _notes(main, spot, tile)
    for words in others:
        if not (words.first or words.every):
            texts += _put(main, words)
    return (*named, *texts)


def _falls_on(tile: Tile, words: Words) -> bool:
    if words.v is None:
        return tile.index == 0
    low = -1e9 if tile.index == 0 else tile.low
    high = 1e9 if tile.index == tile.of - 1 else tile.high
    return low <= words.v < high


def _put(lanes: Lanes, words: Words, accept: Accept = anywhere) -> list[Text]:
    """The words in the first lane that has room; large ones smaller where they must be."""
    sizes = [words.size, NAME_SIZE] if words.size > NAME_SIZE else [words.size]
    in_front = words.v is not None and words.v < 0 and len(lanes) > 2
    for size in sizes:
        for lane in lanes[::-1] if in_front else lanes:
            texts = lane.put([words.text], size, words.bold, words.v, accept)
            if texts:
                return texts
    return []


def _piece_name(lanes: Lanes, name: Words, tile: Tile) -> list[Text]:
    """The strip's name on one line; where no lane holds it, up the strip beside its edge."""
    near = tile.low if tile.piece.turned else tile.high
    for size in (name.size, SMALL):
        texts = _put(lanes, Words(name.text, size, True, near), _on_one_line)
        if texts:
            return texts
    edge = max(u for u, _ in tile.outline) - _EDGE - SMALL * DROP
    return [Text(name.text, (edge, tile.low + REGISTER_ROOM), SMALL, True, angle=90)]


def _on_one_line(texts: Sequence[Text]) -> bool:
    return len(texts) == 1


def _spot_words(lanes: Lanes, spot: Spot, tile: Tile) -> list[Text]:
    """A mark's name and its reading, nearer to it than to any other."""
    turned, mine, v = tile.piece.turned, _nearer(spot, tile), spot.at[1]

    def mine_on_one_line(texts: Sequence[Text]) -> bool:
        return _on_one_line(texts) and mine(texts)

    texts = [] if turned else _level_with(lanes, spot)
    if not texts:
        texts = _put(lanes, Words(spot.name, NAME_SIZE, True, v), mine_on_one_line)
    if len(texts) < 2:
        words = spot.reading if turned else f"reads {spot.reading}"
        order = lanes[::-1] if turned else lanes
        for size in (READING_SIZE, SMALL):
            placed = _put(order, Words(words, size, False, v), mine_on_one_line)
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
    """The type and the hole, one under the other as one block, else as much of it as fits."""
    mine, v = _nearer(spot, tile), spot.at[1]
    near = v if tile.piece.turned else v - NAME_SIZE
    for lane in lanes:
        texts = lane.put(spot.notes, SMALL, False, near, mine)
        if texts:
            return texts
    return [t for note in spot.notes for t in _put(lanes, Words(note, SMALL, False, near), mine)]


def _joint_words(lanes: Lanes, tile: Tile, joint: Joint, said: JointWords) -> list[Text]:
    """Its registration marks' names beside them, its reading, and which tile it goes with."""
    above = joint is tile.below
    shift = 5.4 if above else -5.4 - SMALL
    texts = [
        Text(mark.name, (mark.at[0], mark.at[1] + shift), SMALL, True, anchor="middle")
        for mark in joint.marks
    ]
    reading = f"joint {joint.number}: {said.reading} from {tile.piece.origin}"
    texts += _put(lanes, Words(reading, SMALL, v=joint.v), _on_one_line)
    texts += _put(lanes, Words(_partner(tile, above, said), SMALL, bold=True, v=joint.v))
    return texts if above else texts + _lap_words(tile, joint)


def _partner(tile: Tile, above: bool, said: JointWords) -> str:
    """What to do at a joint, and with which tile."""
    sheet = said.lower_sheet if above else said.upper_sheet
    where = f", sheet {sheet}" if sheet else ""
    if above:
        return f"✂ cut through the rings, lay on tile {tile.index}{where}"
    return f"tile {tile.index + 2}{where}, goes on here"


def _lap_words(tile: Tile, joint: Joint) -> list[Text]:
    """What the lap is, either side of the line, beyond the registration marks."""
    left, right = (mark.at[0] for mark in joint.marks)
    v = joint.v + LAP - 2.0 - SMALL
    texts = []
    for words, start, end in (
        ("LAP: keep", left - INSIDE_EDGE, 0.0),
        (f"under tile {tile.index + 2}", 0.0, right + INSIDE_EDGE),
    ):
        for shorter in (words, words.split(":")[0], words.removeprefix("under ")):
            if width(shorter, SMALL, True) <= end - start - 3.0:
                at = ((start + end) / 2, v)
                texts.append(Text(shorter, at, SMALL, True, anchor="middle"))
                break
    return texts


def _lanes(tile: Tile) -> tuple[list[Across | Along], list[Across | Along]]:
    """The lanes of a tile: for all words, and beside its cut edges."""
    main: list[Across | Along] = []
    edges: list[Across | Along] = []
    taken = _Taken(tile, tuple(_obstacles(tile)))
    for lane in tile.piece.lanes:
        if lane.edge:
            edges.append(Along([Track(lane.left, lane.right, _free_in(taken, lane))]))
        elif tile.piece.turned:
            main.append(Along([taken.track(*band) for band in _row_bands(lane)]))
        else:
            across = _across(taken, lane)
            main += [across] if across.track.free else []
    return main, edges


@dataclass(frozen=True, slots=True)
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


def _free_in(taken: _Taken, lane: Lane) -> list[Span]:
    """What is free of a lane beside an edge, inside its slanting ends."""
    wide = lane.right - lane.left
    low = lane.low + max(0.0, lane.low_slope * wide)
    high = lane.high + min(0.0, lane.high_slope * wide)
    return common([taken.track(lane.left, lane.right).free, [(low, high)]])


def _across(taken: _Taken, lane: Lane) -> Across:
    inner = lane.left if lane.left > 0 else lane.right
    track = taken.track(lane.left, lane.right)
    return Across(track, inner, lane.low, lane.low_slope, lane.high, lane.high_slope)


def _row_bands(lane: Lane) -> Iterable[Span]:
    """Rows of small words side by side, as many as there is room for, the line's side filled."""
    row = 2.8 * (1 + DROP) + 0.35
    count = max(1, int((lane.right - lane.left) / row))
    wide = (lane.right - lane.left) / count
    return [(lane.left + n * wide, lane.left + (n + 1) * wide) for n in range(count)]


def _obstacles(tile: Tile) -> Iterable[tuple[Span, Span]]:
    for spot in tile.spots:
        (u, v), wide, high = spot.at, spot.across + 1, spot.half + 1
        yield (u - wide, u + wide), (v - high, v + high)
    for joint in (tile.below, tile.above):
        for mark in joint.marks if joint else ():
            u, v = mark.at
            yield (u - INSIDE_EDGE, u + INSIDE_EDGE), (v - REGISTER_ROOM, v + REGISTER_ROOM)
    for stroke in tile.piece.across:
        us, vs = zip(*stroke.points, strict=True)
        if stroke.closed or max(vs) - min(vs) < 1e-6:
            yield (min(us) - 1, max(us) + 1), (min(vs) - 1.2, max(vs) + 1.2)
