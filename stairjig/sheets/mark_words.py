"""What is said of a mark: its name and its reading beside it, its type and its hole."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from math import hypot

from stairjig.drawing import Point, Text
from stairjig.pieces.values import SMALL, Spot
from stairjig.sheets.along import AFTER_NAME, Along
from stairjig.sheets.lanes import Accept, Across, Wish
from stairjig.sheets.tiles import Tile
from stairjig.type import width

NAME_SIZE = 5.0
"""Height of a mark's name, mm."""
READING_SIZE = 3.0
FARTHEST = 40.0
"""From a mark's base or hole to its name and its reading, at the most, mm."""
_BLOCK = 40.0
"""What a mark's words reach beyond the one that is nearest to it, at the most, mm."""
_BESIDE = 18.0
"""From a mark's cross to its name where name, reading and notes stand together, at the most, mm."""

Lanes = Sequence[Across | Along]


def mark_words(
    lanes: Lanes, spot: Spot, tile: Tile, noted: bool
) -> tuple[list[Text], list[Text], bool]:
    """A mark's name with its notes, and its reading; whether the notes stand.

    All are nearer to it than to any other mark; name or reading may find no room. `noted`: its
    notes are set with its name, before other words take their place.
    """
    turned, mine, v = tile.piece.turned, nearer(spot, tile), spot.at[1]
    wish = Wish(v, most=1, accept=mine)
    name: list[Text] = []
    reading: list[Text] = []
    notes: list[Text] = []
    if turned:
        together = _block(lanes[::-1], spot, mine, noted)
        name, reading, notes = together[:1], together[1:2], together[2:]
    else:
        name, reading, notes = _level_with(lanes, spot, mine, noted)
    if not name:
        name = _put(lanes, spot.name, (NAME_SIZE,), True, wish)
    if not reading:
        words = spot.reading if turned else f"reads {spot.reading}"
        order = lanes[::-1] if turned else lanes
        sizes = (READING_SIZE, SMALL)
        reading = _put(order, words, sizes, False, wish)
        if not (reading or turned):
            reading = _put(order, spot.reading, sizes, False, wish)
    if noted and not notes and name and reading:
        notes = mark_notes(lanes, spot, tile)
    return [*name, *notes], reading, bool(notes) or not spot.notes


def _block(lanes: Lanes, spot: Spot, mine: Accept, noted: bool) -> list[Text]:
    """The name and the reading on one line beside the mark, with the notes where they fit."""
    v, reach = spot.at[1], _BESIDE + max(spot.half, spot.across)

    def beside(texts: Sequence[Text]) -> bool:
        return all(mine([text]) and _distance(text, spot.at) <= reach for text in texts)

    for notes in (spot.notes, ()) if noted else ((),):
        below = [(note, SMALL, False) for note in notes]
        for size in (READING_SIZE, SMALL):
            head = ((spot.name, NAME_SIZE, True), (spot.reading, size, False))
            for lane in (lane for lane in lanes if isinstance(lane, Along)):
                texts = lane.block(head, below, Wish(v, accept=beside))
                if texts:
                    return texts
    return []


def _put(lanes: Lanes, words: str, sizes: Sequence[float], bold: bool, wish: Wish) -> list[Text]:
    for size in sizes:
        for lane in lanes:
            texts = lane.put([words], size, bold, wish)
            if texts:
                return texts
    return []


def _level_with(
    lanes: Lanes, spot: Spot, mine: Accept, noted: bool
) -> tuple[list[Text], list[Text], list[Text]]:
    """The name level with the cross and, where they fit, the reading after it and the notes."""
    v = spot.at[1]
    for lane in (lane for lane in lanes if isinstance(lane, Across)):
        name = lane.level(spot.name, NAME_SIZE, True, v, 0.0)
        if name and mine([name]):
            after = width(spot.name, NAME_SIZE, True) + AFTER_NAME
            reading = lane.level(f"reads {spot.reading}", READING_SIZE, False, v, after)
            kept = [reading] if reading and mine([reading]) else []
            lane.take(v, NAME_SIZE / 2 + 0.8)
            kept = kept or _under(lane, spot, mine)
            notes = _notes_under(lane, spot, mine) if noted and kept else []
            lane.take(v, NAME_SIZE / 2 + 0.8 + lane.pad)
            return [name], kept, notes
    return [], [], []


def _under(lane: Across, spot: Spot, mine: Accept) -> list[Text]:
    """The reading right under the name, or right above it."""
    v = spot.at[1]

    def beside(texts: Sequence[Text]) -> bool:
        return mine(texts) and abs(texts[0].at[1] + SMALL / 2 - v) < 9.0

    for words in (f"reads {spot.reading}", spot.reading):
        for size in (READING_SIZE, SMALL):
            texts = lane.put([words], size, False, Wish(v - NAME_SIZE, most=1, accept=beside))
            if texts:
                return texts
    return []


def _notes_under(lane: Across, spot: Spot, mine: Accept) -> list[Text]:
    """The notes right under the name or, where a riser stands there, right above it."""
    v = spot.at[1]

    def beside(texts: Sequence[Text]) -> bool:
        first, last = texts[0].at[1] + SMALL, texts[-1].at[1]
        return mine(texts) and (v - 14.0 < first < v or v < last < v + 8.0)

    return lane.put(spot.notes, SMALL, False, Wish(v - NAME_SIZE, accept=beside)) or []


def nearer(spot: Spot, tile: Tile) -> Accept:
    """Whether words stand nearer to a mark than to every other one on the tile."""
    farthest, spots = FARTHEST + min(spot.half, spot.across), tile.spots

    def accept(texts: Sequence[Text]) -> bool:
        own = min(_distance(text, spot.at) for text in texts)
        if own >= farthest:
            return False
        long = max(width(text.text, text.size, text.bold) for text in texts)
        near = _about(spots, spot.at[1], 2 * (own + long) + _BLOCK)
        others = (each.at for each in near if each is not spot)
        return all(own + 1.0 < _distance(text, at) for at in others for text in texts)

    return accept


def _about(spots: Sequence[Spot], v: float, reach: float) -> Sequence[Spot]:
    """Those of some marks in order that are so near to a height."""
    low = bisect_left(spots, v - reach, key=_height)
    return spots[low : bisect_right(spots, v + reach, key=_height)]


def _height(spot: Spot) -> float:
    return spot.at[1]


def _distance(text: Text, at: Point) -> float:
    """From the baseline of some words to a point, mm."""
    long = width(text.text, text.size, text.bold)
    u, v = text.at
    if text.anchor == "end":
        u -= long
    along, off = (at[1] - v, at[0] - u) if text.angle else (at[0] - u, at[1] - v)
    return hypot(max(-along, along - long, 0.0), off)


def mark_notes(lanes: Lanes, spot: Spot, tile: Tile) -> list[Text]:
    """The type and the hole, apart from the name, which they begin with; else what of it fits.

    One stands under the other, as one block.
    """
    mine, v = nearer(spot, tile), spot.at[1]
    wish = Wish(v if tile.piece.turned else v - NAME_SIZE, accept=mine)
    order = lanes[::-1] if tile.piece.turned else lanes
    if not spot.notes:
        return []
    named = f"{spot.name}: {spot.notes[0]}", *spot.notes[1:]
    for notes in (named, spot.notes):
        for lane in order:
            texts = lane.put(notes, SMALL, False, wish)
            if texts:
                return texts
    return [t for note in spot.notes for t in _put(order, note, (SMALL,), False, wish)]
