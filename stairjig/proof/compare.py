"""A strip's tiles, in their place, held against the layout: their shapes and their words."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence

from stairjig.lengths import Shown
from stairjig.proof.assemble import Assembled, Laid
from stairjig.proof.atmarks import mark_faults
from stairjig.proof.expected import ExpectedPiece
from stairjig.proof.joints import Numbered, tile_sayings
from stairjig.proof.lay import lay_faults
from stairjig.proof.place import Part, parts, register_faults, shapes_on
from stairjig.proof.say import joined, phrases, spoken, tile_number
from stairjig.proof.shapes import differences, drawn
from stairjig.proof.tiles import TileRead
from stairjig.proof.told import Leaf, strip_word_faults, word_faults
from stairjig.proof.tread import is_touch, without_nick

_Faults = Callable[[ExpectedPiece], Iterable[str]]
_SHEET = re.compile(r"\bsheet (\d{1,6})\b")


def compare(piece: Assembled, expected: ExpectedPiece, shown: Shown) -> tuple[str, ...]:
    """Everything of a whole strip that is off, missing, double or saying something else."""
    faults = _fewest(piece.tiles, expected, lambda form: _strip_faults(piece.tiles, form, shown))
    return (*piece.faults, *faults)


def compare_part(
    tile: TileRead, expected: ExpectedPiece, shown: Shown, beside: Mapping[int, str]
) -> tuple[str, ...]:
    """As `compare`, for one tile of a strip: what lies between its own joints.

    `beside`: the sheets of those of its strip's tiles that are there, by their numbers.
    """
    alone = (Laid(tile, (0.0, 0.0)),)
    return _fewest(alone, expected, lambda form: _alone_faults(alone, form, shown, beside))


def _fewest(tiles: Sequence[Laid], expected: ExpectedPiece, of: _Faults) -> tuple[str, ...]:
    """What is wrong with a strip in the form, of both, that there is less wrong with."""
    forms: list[Callable[[], ExpectedPiece]] = [lambda: expected]
    forms += [expected.short] if expected.short else []
    if not _has_nosing(tiles):
        forms.reverse()
    best: tuple[str, ...] | None = None
    for form in forms:
        faults = tuple(of(form()))
        if best is None or len(faults) < len(best):
            best = faults
        if not best:
            break
    return best or ()


def _has_nosing(tiles: Sequence[Laid]) -> bool:
    """Whether there is one more dashed line across than joints and the riser make."""
    count = 0
    for laid in tiles:
        lines = [stroke for stroke in laid.tile.strokes if stroke.dashes and stroke.kinds == "l"]
        count += sum(abs(s.points[0][0] - s.points[1][0]) > 1.0 for s in lines)
        count -= len(laid.tile.registers) // 2
    return count > 1 - max(len(tiles) - 1, 0)


def _strip_faults(tiles: Sequence[Laid], piece: ExpectedPiece, shown: Shown) -> Iterable[str]:
    placed = parts(tiles, piece, shown)
    sheets = {n: (part.laid.tile.sheet,) for n, part in enumerate(placed, start=1)}
    leaves = []
    for number, part in enumerate(placed, start=1):
        leaves.append(_leaf(part, piece, Numbered(number, len(placed), sheets), shown))
    for leaf in leaves:
        yield from _tile_faults(leaf, piece)
    yield from strip_word_faults(leaves, piece)


def _alone_faults(
    tiles: Sequence[Laid], piece: ExpectedPiece, shown: Shown, beside: Mapping[int, str]
) -> Iterable[str]:
    (part,) = parts(tiles, piece, shown)
    tile, jointed = part.laid.tile, part.below is not None or part.above is not None
    number, of = tile_number(tile.texts) or (1, 1)
    if jointed and of == 1:
        yield f"{part.laid.where}: it does not say which tile of its strip it is"
    if (number == 1) != (part.below is None) or (number == of) != (part.above is None):
        yield f"{part.laid.where}: it says that it is tile {number} of {of}, but joins as another"
    sheets = {n: _sheets_said(tile, beside.get(n)) for n in (number - 1, number + 1)}
    leaf = _leaf(part, piece, Numbered(number, of, sheets), shown)
    yield from _tile_faults(leaf, piece)
    if not jointed:
        yield from strip_word_faults((leaf,), piece)


def _sheets_said(tile: TileRead, known: str | None) -> tuple[str, ...]:
    """The sheets that the tile next to one may be on: any where it is not there."""
    if known is not None:
        return (known,)
    found = _SHEET.findall(joined(tile.texts))
    return tuple(sheet for sheet in dict.fromkeys(found) if sheet != tile.sheet)


def _leaf(part: Part, piece: ExpectedPiece, numbered: Numbered, shown: Shown) -> Leaf:
    own = tuple(tile_sayings(part, piece, numbered, shown))
    return Leaf(part, spoken(part.laid.tile.texts, phrases(part, piece, own)), own)


def _tile_faults(leaf: Leaf, piece: ExpectedPiece) -> Iterable[str]:
    part, where = leaf.part, leaf.where
    tile, shift = part.laid.tile, part.laid.shift
    found = [shape for s in tile.strokes if not is_touch(shape := drawn(s, shift))]
    if tile.outline:
        found.append(without_nick(drawn(tile.outline, shift)))
    for fault in differences(shapes_on(part, piece), found):
        yield f"{where}: {fault}"
    yield from register_faults(part, piece)
    yield from mark_faults(part, piece, leaf.said)
    yield from word_faults(leaf, piece)
    yield from lay_faults(part, piece, leaf.said)
