"""What is said at a joint: its marks' names, its reading, which tile goes on which, its lap."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import islice

from stairjig.drawing import Text
from stairjig.frozen import frozen
from stairjig.lengths import Shown
from stairjig.pieces.values import SMALL, Words
from stairjig.sheets.joints import LAP
from stairjig.sheets.lanes import DROP, LEADING
from stairjig.sheets.tiles import INSIDE_EDGE, Joint, Register, Tile
from stairjig.type import width

SheetOf = Mapping[tuple[str, int], int]
"""The sheet's number for each tile, by its piece's name and its index."""
READING = 3.0
"""Height of a joint's reading where there is room, mm."""
NEAR = 15.0
"""What is said of a joint stands so near to its line where there is room, mm."""
_BESIDE_RING = 5.4
"""From a registration mark's centre to its name beyond its cross, mm."""
_BESIDE_ARM = 1.2
"""From the arm of its cross to a name beside it, mm."""
_OFF_STROKE = 0.9
"""From such a name to a riser's stroke, mm."""
_OVER_RING, _UNDER_RING = 3.45, 2.85
"""The same where a base leaves no room there, beside the arm of the cross, mm: letters that hang
below the line clear the ring above it, and a base 6 mm from the joint below it."""


@frozen
class JointWords:
    """What is said of a joint: its reading, and the sheets its two tiles are on, where known."""

    reading: str
    lower_sheet: int | None = None
    upper_sheet: int | None = None


def said_of(tiles: Sequence[Tile], shown: Shown, sheets: SheetOf) -> dict[int, JointWords]:
    """What is said of each joint of a piece, by number."""
    said = {}
    for lower in tiles[:-1]:
        piece, joint = lower.piece, lower.above
        assert joint is not None
        reading = shown.text((joint.v - piece.zero) * piece.sense)
        on = (sheets.get((piece.name, lower.index + n)) for n in (0, 1))
        said[joint.number] = JointWords(reading, *on)
    return said


def at_joint(tile: Tile, joint: Joint, said: JointWords) -> tuple[Words, Words]:
    """Its reading from the strip's zero, and what to do there and with which tile."""
    piece, reading = tile.piece, f"joint {joint.number}: {said.reading}"
    origin = piece.origin.removeprefix("mark ")
    shorter: tuple[str, ...] = (f"{reading} from {origin if '-' in origin else 'zero'}",)
    if not piece.turned:
        shorter = f"{reading} from the back edge", f"{reading} on the line"
    words = Words(
        f"{reading} from {piece.origin}", READING, v=joint.v, need=True, shorter=shorter,
        least=SMALL, within=NEAR,
    )  # fmt: skip
    return words, _partner(tile, joint, said)


def _partner(tile: Tile, joint: Joint, said: JointWords) -> Words:
    above = joint is tile.below
    sheet = said.lower_sheet if above else said.upper_sheet
    where = f", sheet {sheet}" if sheet else ""
    if above:
        number = tile.index
        longest = f"✂ cut through the rings, lay on tile {number}{where}"
        shorter: tuple[str, ...] = (
            f"✂ cut, lay on tile {number}{where}",
            f"✂ cut, on tile {number}",
        )
    else:
        number = tile.index + 2
        longest = f"tile {number}{where}, goes on here"
        shorter = (f"tile {number} goes on here", f"tile {number} here")
    return Words(longest, SMALL, True, v=joint.v, need=True, shorter=shorter, within=NEAR)


def joint_texts(tile: Tile, joint: Joint, said: JointWords) -> list[Text]:
    """What has its place at a joint: the names of its marks, and what its lap is."""
    above = joint is tile.below
    texts = [_register_name(tile, mark, 1 if above else -1) for mark in joint.marks]
    return texts if above else texts + _lap_words(tile, joint, said)


def crowded(tile: Tile, mark: Register, up: int) -> bool:
    """Whether a base or a riser leaves no room for the name beyond a mark's cross.

    `up`: 1 where the name stands above it, -1 below, where its letters hang.
    """
    u, v = mark.at
    far = _BESIDE_RING + SMALL + (0.4 if up > 0 else SMALL * DROP + 0.2)
    wide = width(mark.name, SMALL, True) / 2 + 0.5
    for spot in tile.spots:
        if abs(spot.at[1] - v) < spot.half + far and abs(spot.at[0] - u) < spot.across + wide:
            return True
    strokes = (stroke.points for stroke in tile.across)
    return any(0 <= (at - v) * up < far + _OFF_STROKE for points in strokes for _, at in points)


def _register_name(tile: Tile, mark: Register, up: int) -> Text:
    u, v = mark.at
    if not crowded(tile, mark, up):
        shift = _BESIDE_RING if up > 0 else -_BESIDE_RING - SMALL
        return Text(mark.name, (u, v + shift), SMALL, True, anchor="middle")
    at = v + (_OVER_RING if up > 0 else -_UNDER_RING - SMALL)
    if mark.name.endswith("a"):
        return Text(mark.name, (u + _BESIDE_ARM, at), SMALL, True)
    return Text(mark.name, (u - _BESIDE_ARM, at), SMALL, True, anchor="end")


def _lap_words(tile: Tile, joint: Joint, said: JointWords) -> list[Text]:
    """What the lap is and which strip's tile covers it, either side of the line."""
    left, right = (mark.at[0] for mark in joint.marks)
    section = " ".join(tile.piece.section.split())
    strip = " ".join(tile.piece.name.split()).removeprefix(f"{section} · ").upper()
    covers = f"tile {tile.index + 2}"
    sheet = (f"{covers}, sheet {said.upper_sheet}",) if said.upper_sheet else ()
    goes = ("LAP: goes under", "LAP: under", "LAP"), (*sheet, covers)
    return [
        *_lap_lines(joint, left - INSIDE_EDGE, 0.0, goes),
        *_lap_lines(joint, 0.0, right + INSIDE_EDGE, ((f"of {strip}",), (f"· {section} ·",))),
    ]


def _lap_lines(
    joint: Joint, start: float, end: float, lines: Iterable[Sequence[str]]
) -> Iterable[Text]:
    """Lines in the middle between two places of the lap, each in the longest way that fits."""
    for n, ways in enumerate(lines):
        at = (start + end) / 2, joint.v + LAP - 2.0 - SMALL - n * SMALL * LEADING
        fits = (way for way in ways if width(way, SMALL, True) <= end - start - 3.0)
        yield from (Text(way, at, SMALL, True, anchor="middle") for way in islice(fits, 1))
