"""Words set on a strip's tiles: beside the marks, never over a stroke, the most needed first.

Where a strip is short of room it says less, not smaller. What it must say on every tile comes
first: the strip's name, its marks' names and readings, its joints, its tread and the pack ID.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from stairjig.drawing import Text
from stairjig.pieces.values import SMALL, Spot, Words
from stairjig.sheets.joint_words import JointWords, at_joint, joint_texts
from stairjig.sheets.lanes import Across, Along, anywhere, on_one_line
from stairjig.sheets.mark_words import NAME_SIZE, mark_notes, mark_words
from stairjig.sheets.room import Room, room_on
from stairjig.sheets.tiles import Tile

Lettered = tuple[tuple[Text, ...], ...]
_TURNED = ((False, 0), (False, 1), (False, 2))
_SPINED = ((True, 0), (True, 2))
"""How the words of a strip are set, until all it must say has room."""


class NoRoom(Exception):  # noqa: N818
    """Words that must stand on a tile find no room; `what` says which, `tile` where."""

    def __init__(self, tile: Tile, what: str) -> None:
        super().__init__(what)
        self.tile, self.what = tile, what


def letter(tiles: Sequence[Tile], joints: Mapping[int, JointWords]) -> Lettered:
    """Every word of each tile of a strip, its name first; `joints`: by number.

    Raises `NoRoom` where something that a helper can't do without finds none.
    """
    *plans, last = _TURNED if tiles[0].piece.turned else (*_TURNED, *_SPINED)
    for spined, terse in plans:
        try:
            return _lettered(tiles, joints, spined, terse)
        except NoRoom:
            continue
    return _lettered(tiles, joints, *last)


def _lettered(
    tiles: Sequence[Tile], joints: Mapping[int, JointWords], spined: bool, terse: int
) -> Lettered:
    """All words; `spined`: with a row up the side; `terse`: less so many of the longest ways."""
    pages = [_Lettering(tile, room_on(tile, spined), terse) for tile in tiles]
    for page in pages:
        page.every(joints)
    once = [words for words in tiles[0].piece.words if not (words.every or words.first)]
    for words in (words for words in once if words.need):
        _put_once(pages, words)
    for page in pages:
        page.notes()
    for words in (words for words in once if not words.need):
        _put_once(pages, words)
    return tuple(tuple(page.texts) for page in pages)


def _put_once(pages: Sequence[_Lettering], words: Words) -> None:
    """The words on the tile that they fall on, else on the first that has room for them."""
    own = [page for page in pages if words.v is None or _falls_on(page.tile, words.v)]
    others = [page for page in pages if page not in own] if words.roams else []
    for text, size in _ways(words, pages[0].terse):
        for page in (*own, *others):
            if page.put(text, size, words):
                return
    if words.need:
        raise NoRoom(own[0].tile, words.text)


def _falls_on(tile: Tile, v: float) -> bool:
    low = -1e9 if tile.index == 0 else tile.low
    high = 1e9 if tile.index == tile.of - 1 else tile.high
    return low <= v < high


def _ways(words: Words, terse: int) -> Iterable[tuple[str, float]]:
    """Every way to say it, the best first: all of it, less of it, then that smaller."""
    texts = (words.text, *words.shorter)[min(terse, len(words.shorter)) :]
    for text in texts:
        yield text, words.size
        if words.size > NAME_SIZE:
            yield text, NAME_SIZE
    if words.least:
        yield texts[-1], (words.least + words.size) / 2
        yield texts[-1], words.least


@dataclass(slots=True, eq=False)
class _Lettering:
    """A tile, what is left of its room, and the words that stand on it."""

    tile: Tile
    room: Room
    terse: int
    texts: list[Text] = field(default_factory=list)

    def lanes(self, words: Words) -> Sequence[Across | Along]:
        """Where words may stand, the best first: in front of the riser what is said of there."""
        if words.edge:
            return self.room.edges
        main = self.room.main
        in_front = words.v is not None and words.v < 0 and len(main) > 2
        return (*(main[::-1] if in_front else main), *self.room.spine)

    def every(self, joints: Mapping[int, JointWords]) -> None:
        """What has to stand on this tile whatever else there is."""
        tile, piece = self.tile, self.tile.piece
        self.texts += [t for t in piece.labels if tile.low <= t.at[1] < tile.high]
        for words in piece.words:
            if words.first and words.v is not None and _falls_on(tile, words.v):
                self.must(words)
        name, *others = [words for words in piece.words if words.every and not words.edge]
        self.texts.insert(0, self._name(name))
        for spot in tile.spots:
            self._mark(spot)
        for joint in (tile.below, tile.above):
            if joint:
                self.texts += joint_texts(tile, joint)
                for words in at_joint(tile, joint, joints[joint.number]):
                    self.must(words)
        for words in (words for words in piece.words if words.edge):
            self.must(words)
        if tile.of > 1:
            part = f"tile {tile.index + 1} of {tile.of}"
            others.insert(1, Words(part, 3.6, True, need=True, shorter=(part,), least=SMALL))
        for words in others:
            self.must(words)

    def notes(self) -> None:
        """What each mark's baluster is, where there is room."""
        for spot in self.tile.spots:
            self.texts += mark_notes(self.room.main, spot, self.tile)

    def must(self, words: Words) -> None:
        """The words in one of the ways to say them; raises `NoRoom` where they are needed."""
        if (
            not any(self.put(text, size, words) for text, size in _ways(words, self.terse))
            and words.need
        ):
            raise NoRoom(self.tile, words.text)

    def put(self, text: str, size: float, words: Words) -> bool:
        """The words, said so, in the first lane that has room, or nowhere."""
        accept = on_one_line if words.whole else anywhere
        for lane in self.lanes(words):
            texts = lane.put([text], size, words.bold, words.v, accept)
            if texts:
                self.texts += texts
                return True
        return False

    def _name(self, name: Words) -> Text:
        """The strip's name on one line."""
        near = self.tile.low if self.tile.piece.turned else self.tile.high
        for size, bold in ((name.size, True), (SMALL, True), (SMALL, False)):
            words = Words(name.text, size, bold, near, whole=True)
            if self.put(name.text, size, words):
                return self.texts.pop()
        raise NoRoom(self.tile, f"the strip's name, {name.text}")

    def _mark(self, spot: Spot) -> None:
        name, reading = mark_words(self.room.main, spot, self.tile)
        if not name or not reading:
            which = "name" if not name else "reading"
            raise NoRoom(self.tile, f"the {which} of mark {spot.name}")
        self.texts += [*name, *reading]
