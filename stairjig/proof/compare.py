"""A strip's tiles, in their place, held against the layout: their shapes and their words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence

from stairjig.frozen import frozen
from stairjig.lengths import Shown
from stairjig.proof.assemble import Assembled, Laid
from stairjig.proof.atmarks import mark_faults
from stairjig.proof.expected import ExpectedPiece
from stairjig.proof.place import Part, parts, register_faults, shapes_on
from stairjig.proof.say import (
    Figures,
    Spoken,
    phrases,
    spoken,
    strange_faults,
    tile_figures,
    tile_number,
)
from stairjig.proof.shapes import differences, drawn
from stairjig.proof.tiles import TileRead
from stairjig.proof.tread import is_touch, without_nick
from stairjig.proof.words import OPEN_SIDE, On

_Faults = Callable[[ExpectedPiece], Iterable[str]]


@frozen
class _Leaf:
    """A tile in its place, with what it says."""

    part: Part
    said: Spoken
    figures: Figures

    @property
    def where(self) -> str:
        return self.part.laid.where

    def is_on(self, on: On) -> bool:
        """Whether words that stand `on` those tiles stand on this one."""
        if on == "first":
            return self.part.below is None
        return self.part.above is None if on == "last" else on == "every"


def compare(piece: Assembled, expected: ExpectedPiece, shown: Shown) -> tuple[str, ...]:
    """Everything of a whole strip that is off, missing, double or saying something else."""
    faults = _fewest(piece.tiles, expected, lambda form: _strip_faults(piece.tiles, form, shown))
    return (*piece.faults, *faults)


def compare_part(tile: TileRead, expected: ExpectedPiece, shown: Shown) -> tuple[str, ...]:
    """As `compare`, for one tile of a strip: what lies between its own joints."""
    alone = (Laid(tile, (0.0, 0.0)),)
    return _fewest(alone, expected, lambda form: _alone_faults(alone, form, shown))


def _fewest(tiles: Sequence[Laid], expected: ExpectedPiece, of: _Faults) -> tuple[str, ...]:
    """What is wrong with a strip in the form, of both, that there is less wrong with."""
    forms = [expected, expected.short] if expected.short else [expected]
    if not _has_nosing(tiles):
        forms.reverse()
    best: tuple[str, ...] | None = None
    for form in forms:
        faults = tuple(of(form)) if form else ()
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
    sheets = {n: part.laid.tile.sheet for n, part in enumerate(placed, start=1)}
    leaves = []
    for number, part in enumerate(placed, start=1):
        near = [(n, sheets[n]) for n in (number - 1, number + 1) if n in sheets]
        figures = tile_figures([*near, (number, "")], len(placed))
        leaves.append(_leaf(part, piece, shown, figures))
        if len(placed) > 1 and tile_number(part.laid.tile.texts) != (number, len(placed)):
            yield f"{part.laid.where}: it does not say 'tile {number} of {len(placed)}'"
    for leaf in leaves:
        yield from _tile_faults(leaf, piece)
    prose = " · ".join(leaf.said.prose for leaf in leaves)
    for wanted in piece.wanted:
        if wanted.on == "once" and not _says(prose, wanted.texts):
            yield f"{piece.name}: none of its tiles says {wanted.texts[0]!r}"


def _alone_faults(tiles: Sequence[Laid], piece: ExpectedPiece, shown: Shown) -> Iterable[str]:
    (part,) = parts(tiles, piece, shown)
    texts, jointed = part.laid.tile.texts, part.below is not None or part.above is not None
    number, of = tile_number(texts) or (1, 1)
    if jointed and of == 1:
        yield f"{part.laid.where}: it does not say which tile of its strip it is"
    if (number == 1) != (part.below is None) or (number == of) != (part.above is None):
        yield f"{part.laid.where}: it says that it is tile {number} of {of}, but joins as another"
    tiles_near = [(n, "") for n in (number - 1, number, number + 1)]
    leaf = _leaf(part, piece, shown, tile_figures(tiles_near, of, any_sheet=texts))
    yield from _tile_faults(leaf, piece)
    for wanted in piece.wanted:
        if not jointed and wanted.on == "once" and not _says(leaf.said.prose, wanted.texts):
            yield f"{part.laid.where}: it does not say {wanted.texts[0]!r}"


def _leaf(part: Part, piece: ExpectedPiece, shown: Shown, figures: Figures) -> _Leaf:
    said = spoken(part.laid.tile.texts, phrases(part, piece, shown))
    return _Leaf(part, said, figures)


def _tile_faults(leaf: _Leaf, piece: ExpectedPiece) -> Iterable[str]:
    part, where = leaf.part, leaf.where
    tile, shift = part.laid.tile, part.laid.shift
    found = [shape for s in tile.strokes if not is_touch(shape := drawn(s, shift))]
    if tile.outline:
        found.append(without_nick(drawn(tile.outline, shift)))
    for fault in differences(shapes_on(part, piece), found):
        yield f"{where}: {fault}"
    yield from register_faults(part, piece)
    yield from mark_faults(part, piece, leaf.said)
    yield from strange_faults(part, piece, leaf.said, leaf.figures)
    yield from _sentence_faults(leaf)
    yield from _joint_faults(leaf)
    for text in (text for texts in leaf.said.strange for text in texts):
        if text.text.startswith(OPEN_SIDE) and part.laid.at(text.at)[0] * piece.side > 0:
            yield f"{where}: it says {OPEN_SIDE!r} on the wall side"
    for wanted in piece.wanted:
        if leaf.is_on(wanted.on) and not _says(leaf.said.prose, wanted.texts):
            yield f"{where}: it does not say {wanted.texts[0]!r}"


def _says(prose: str, texts: Sequence[str]) -> bool:
    """Whether one of the texts is said, and not as a part of longer words."""
    return any(_holds(prose, words) for words in texts)


def _holds(prose: str, words: str) -> bool:
    at = prose.find(words)
    while at >= 0:
        end = at + len(words)
        if not prose[end : end + 1].isalnum() and not prose[max(at - 1, 0) : at].isalnum():
            return True
        at = prose.find(words, at + 1)
    return False


def _sentence_faults(leaf: _Leaf) -> Iterable[str]:
    """Sentences said twice."""
    said = [item for item in leaf.said.known if item[0].kind == "sentence"]
    for words, count in Counter(words for _, words, _ in said).items():
        if count > 1:
            yield f"{leaf.where}: it says {words!r} {count} times instead of once"


def _joint_faults(leaf: _Leaf) -> Iterable[str]:
    """A joint's reading must stand on both its tiles, once, and its marks' names likewise."""
    count = Counter(p.owners[0] for p, _, _ in leaf.said.known if p.kind == "joint")
    names = Counter(words for p, words, _ in leaf.said.known if p.kind == "register")
    for number in (leaf.part.below, leaf.part.above):
        if number is None:
            continue
        if count[str(number)] != 1:
            yield f"{leaf.where}: the reading of joint {number} stands {_times(count[str(number)])}"
        for name in (f"J{number}a", f"J{number}b"):
            if names[name] != 1:
                yield f"{leaf.where}: the name {name} stands {_times(names[name])}"


def _times(count: int) -> str:
    return "nowhere on it" if count == 0 else f"{count} times on it instead of once"
