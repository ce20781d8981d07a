"""What a tile says of its own: which one of its strip it is, and all that is said at its joints."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from stairjig.frozen import frozen
from stairjig.lengths import Shown
from stairjig.proof.expected import ExpectedPiece
from stairjig.proof.place import LAP, Part
from stairjig.proof.saying import Saying

NEAR_JOINT = 300.0
"""mm from a joint to its reading and to what to do there: where marks crowd, words go far."""
_EDGE = 0.005
"""mm either way of a joint's place; a reading may come out either way at half a step."""

Sheets = Mapping[int, Sequence[str]]
"""The sheets that a tile of the strip may be on, as printed, by its number."""


@frozen
class Numbered:
    """A tile's number from 1 `of` its strip, and the sheets of those beside it."""

    number: int
    of: int
    sheets: Sheets


def tile_sayings(
    part: Part, piece: ExpectedPiece, numbered: Numbered, shown: Shown
) -> Iterable[Saying]:
    """All that one tile says and the strip as a whole does not."""
    if numbered.of > 1:
        yield Saying((f"tile {numbered.number} of {numbered.of}",), "every")
    for number, v in ((part.below, part.low), (part.above, part.high)):
        if number is not None:
            yield from _names(number, v)
            yield _reading(number, v, piece, shown)
    if part.below is not None:
        yield _lay_on(numbered, part.low)
    if part.above is not None:
        yield _goes_on(numbered, part.high)
        yield from _lap(numbered, part.high, piece)


def _names(number: int, v: float) -> Iterable[Saying]:
    """The names of the joint's registration marks, each beside its own."""
    for letter in "ab":
        yield Saying((f"J{number}{letter}",), "every", ((v, 0.0),), LAP, lies=0)


def _reading(number: int, v: float, piece: ExpectedPiece, shown: Shown) -> Saying:
    """The joint's reading from the strip's zero."""
    readings = [shown.text((v + off - piece.zero) * piece.sense) for off in (-_EDGE, 0.0, _EDGE)]
    says = [f"joint {number}: {reading}" for reading in dict.fromkeys(readings)]
    origin = piece.origin.removeprefix("mark ").removesuffix(", on the line")
    origins = piece.origin, origin if "-" in origin or piece.sense < 0 else "zero"
    ways = [f"{words} from {origin}" for words in says for origin in origins]
    ways += [f"{words} on the line" for words in says] if piece.sense < 0 else says
    return Saying(tuple(ways), "every", ((v, 0.0),), NEAR_JOINT)


def _lay_on(numbered: Numbered, v: float) -> Saying:
    """What to do with the tile below."""
    tile = f"tile {numbered.number - 1}"
    on = [f"{tile}, sheet {sheet}" for sheet in numbered.sheets.get(numbered.number - 1, ())]
    ways = (
        *(f"✂ cut through the rings, lay on {words}" for words in on),
        *(f"✂ cut, lay on {words}" for words in on),
        f"✂ cut, on {tile}",
    )
    return Saying(ways, "every", ((v, 0.0),), NEAR_JOINT)


def _goes_on(numbered: Numbered, v: float) -> Saying:
    """What comes of the tile above."""
    tile = f"tile {numbered.number + 1}"
    sheets = numbered.sheets.get(numbered.number + 1, ())
    ways = (
        *(f"{tile}, sheet {sheet}, goes on here" for sheet in sheets),
        f"{tile} goes on here",
        f"{tile} here",
    )
    return Saying(ways, "every", ((v, 0.0),), NEAR_JOINT)


def _lap(numbered: Numbered, v: float, piece: ExpectedPiece) -> Iterable[Saying]:
    """What the lap is, on the lap."""
    section = " ".join(piece.section.split())
    strip = " ".join(piece.name.split()).removeprefix(f"{section} · ").upper()
    tile = f"tile {numbered.number + 1}"
    sheets = numbered.sheets.get(numbered.number + 1, ())
    under = (*(f"{tile}, sheet {sheet}" for sheet in sheets), tile)
    here, half = ((v + LAP / 2, 0.0),), LAP / 2
    goes = ("LAP: goes under", "LAP: under", "LAP")
    known = [f"{lap} {words}" for lap in goes for words in under]
    yield Saying((*known, *goes), "every", here, half, lies=0)
    for ways in (under, (f"of {strip}",), (f"· {section} ·",)):
        yield Saying(ways, "may", here, half, lies=0)
