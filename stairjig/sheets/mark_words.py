"""What is said of a mark: its name and its reading beside it, its type and its hole."""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot

from stairjig.drawing import Point, Text
from stairjig.pieces.values import SMALL, Spot
from stairjig.sheets.lanes import Accept, Across, Along, on_one_line
from stairjig.sheets.tiles import Tile
from stairjig.type import width

NAME_SIZE = 5.0
"""Height of a mark's name, mm."""
READING_SIZE = 3.6
FARTHEST = 40.0
"""From a mark's base or hole to its name and its reading, at the most, mm."""

Lanes = Sequence[Across | Along]


def mark_words(lanes: Lanes, spot: Spot, tile: Tile) -> tuple[list[Text], list[Text]]:
    """A mark's name and its reading, nearer to it than to any other; either may find no room."""
    turned, mine, v = tile.piece.turned, nearer(spot, tile), spot.at[1]

    def mine_on_one_line(texts: Sequence[Text]) -> bool:
        return on_one_line(texts) and mine(texts)

    name, reading = ([], []) if turned else _level_with(lanes, spot, mine)
    if not name:
        name = _put(lanes, spot.name, (NAME_SIZE,), True, v, mine_on_one_line)
    if not reading:
        words = spot.reading if turned else f"reads {spot.reading}"
        order = lanes[::-1] if turned else lanes
        sizes = (READING_SIZE, SMALL)
        reading = _put(order, words, sizes, False, v, mine_on_one_line)
        if not (reading or turned):
            reading = _put(order, spot.reading, sizes, False, v, mine_on_one_line)
    return name, reading


def _put(
    lanes: Lanes, words: str, sizes: Sequence[float], bold: bool, near: float, accept: Accept
) -> list[Text]:
    for size in sizes:
        for lane in lanes:
            texts = lane.put([words], size, bold, near, accept)
            if texts:
                return texts
    return []


def _level_with(lanes: Lanes, spot: Spot, mine: Accept) -> tuple[list[Text], list[Text]]:
    """The name level with the cross and, where it fits, the reading after it."""
    v = spot.at[1]
    for lane in (lane for lane in lanes if isinstance(lane, Across)):
        name = lane.level(spot.name, NAME_SIZE, True, v, 0.0)
        if name and mine([name]):
            after = width(spot.name, NAME_SIZE, True) + 3.0
            reading = lane.level(f"reads {spot.reading}", READING_SIZE, False, v, after)
            lane.take(v, NAME_SIZE / 2 + 0.8)
            return [name], [reading] if reading and mine([reading]) else []
    return [], []


def nearer(spot: Spot, tile: Tile) -> Accept:
    """Whether words stand nearer to a mark than to every other one on the tile."""
    others = [other.at for other in tile.spots if other is not spot]
    farthest = FARTHEST + min(spot.half, spot.across)

    def accept(texts: Sequence[Text]) -> bool:
        own = min(_distance(text, spot.at) for text in texts)
        far = min((_distance(text, at) for text in texts for at in others), default=1e9)
        return own < min(far - 1.0, farthest)

    return accept


def _distance(text: Text, at: Point) -> float:
    """From the baseline of some words to a point, mm."""
    long = width(text.text, text.size, text.bold)
    u, v = text.at
    if text.anchor == "end":
        u -= long
    along, off = (at[1] - v, at[0] - u) if text.angle else (at[0] - u, at[1] - v)
    return hypot(max(-along, along - long, 0.0), off)


def mark_notes(lanes: Lanes, spot: Spot, tile: Tile) -> list[Text]:
    """The type and the hole, one under the other as one block, else as much of it as fits."""
    mine, v = nearer(spot, tile), spot.at[1]
    near = v if tile.piece.turned else v - NAME_SIZE
    for lane in lanes:
        texts = lane.put(spot.notes, SMALL, False, near, mine)
        if texts:
            return texts
    return [t for note in spot.notes for t in _put(lanes, note, (SMALL,), False, near, mine)]
