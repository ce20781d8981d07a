"""Words set on a strip's tiles: beside the marks, never over a stroke, the most needed first.

Where a tile is short of room its words move closer together, then it says less, then smaller. What
it must say comes first: what is beside its joints and its marks, its strip's name, the pack ID.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from math import inf

from stairjig.drawing import Text
from stairjig.frozen import frozen
from stairjig.pieces.values import SMALL, Words
from stairjig.sheets.along import Along
from stairjig.sheets.joint_words import JointWords, at_joint, joint_texts
from stairjig.sheets.lanes import Across, Wish
from stairjig.sheets.mark_words import NAME_SIZE, mark_notes, mark_words
from stairjig.sheets.room import Room, Spread, room_on
from stairjig.sheets.tiles import Tile

Lettered = tuple[tuple[Text, ...], ...]


@frozen
class _Way:
    """How the words of a tile are set.

    `spread`: what is kept clear between subjects; `noted`: each mark's notes with its name; `near`:
    a joint's reading and a strip's title before all others, so that they have their places, and
    nothing farther from what it is said of than so many times what it should be; `terse`: less so
    many of the longest ways to say it; `spined`: with a row up the side.
    """

    spread: Spread = Spread()
    noted: bool = False
    near: int = 0
    terse: int = 0
    spined: bool = False


_SMALL = 3
"""So terse, words are set at their least size at once."""
_LOOSE = (
    _Way(Spread(1.4, 2, True), True, 1),
    _Way(Spread(0.9, 1, True), True, 2),
    _Way(Spread(0.5, 0, True), True, 2, 1),
    _Way(Spread(), True, 2, 1),
    _Way(Spread(), False, 3, 2),
)
_TIGHT = tuple(_Way(terse=terse) for terse in range(_SMALL + 1))
_SPINED = tuple(_Way(terse=terse, spined=True) for terse in (0, 2, _SMALL))
"""How the words of a tile are set, one way after the other until all it must say has room."""
NEAR_TITLE = 30.0
"""A strip's name stands so near to where its words begin, mm, while there is room."""
_MANY = 40
"""Tiles of a strip that are set more tightly one by one."""
_COLUMN = 18
"""Lines that are shorter than so many letters make a column."""


class NoRoom(Exception):  # noqa: N818
    """Words that must stand on a tile find no room; `what` says which, `tile` where."""

    def __init__(self, tile: Tile, what: str) -> None:
        super().__init__(what)
        self.tile, self.what = tile, what


def letter(tiles: Sequence[Tile], joints: Mapping[int, JointWords]) -> Lettered:
    """Every word of each tile of a strip, its name first; `joints`: by number.

    Each tile is set as loosely as it can be; where that comes to nothing, all in one way. Raises
    `NoRoom` where something that a helper can't do without finds no room.
    """
    tight = _TIGHT if tiles[0].piece.turned else (*_TIGHT, *_SPINED)
    *others, last = ((way,) for way in tight)
    for ways in ((*_LOOSE, *tight), *others):
        try:
            return _Strip(tiles, joints, ways).lettered()
        except NoRoom:
            continue
    return _Strip(tiles, joints, last).lettered()


class _Strip:
    """The tiles of a strip, each set in one of the `ways` left to it."""

    def __init__(
        self, tiles: Sequence[Tile], joints: Mapping[int, JointWords], ways: Sequence[_Way]
    ) -> None:
        self.tiles, self.joints, self.ways = tiles, joints, ways
        self.tried = [0] * len(tiles)
        self.pages: list[_Lettering] = []

    def lettered(self) -> Lettered:
        """All words; a tile without room for its own is set more tightly, until all have it."""
        self.pages = [self._page(tile) for tile in self.tiles]
        while True:
            try:
                self._once()
            except NoRoom as lacking:
                if len(self.tiles) > _MANY:
                    self._all_tighter(lacking)
                else:
                    self._tighter(lacking)
                self.pages = [self._page(page.tile) if page.more else page for page in self.pages]
            else:
                return tuple(tuple(page.texts) for page in self.pages)

    def _page(self, tile: Tile) -> _Lettering:
        """A tile with all that it says whatever the others say."""
        while True:
            way = self.ways[self.tried[tile.index]]
            page = _Lettering(tile, room_on(tile, way.spread, way.spined), way)
            try:
                page.every(self.joints)
            except NoRoom as lacking:
                self._tighter(lacking)
            else:
                return page

    def _tighter(self, lacking: NoRoom) -> None:
        """Set a tile in its next way; raises what it lacks where there is none left."""
        at = lacking.tile.index
        if self.tried[at] + 1 == len(self.ways):
            raise lacking
        self.tried[at] += 1
        if self.pages:
            self.pages[at].more = True

    def _all_tighter(self, lacking: NoRoom) -> None:
        """Set every tile in its next way: of many, one after the other would take too long."""
        last = len(self.ways) - 1
        if min(self.tried) == last:
            raise lacking
        self.tried = [min(tried + 1, last) for tried in self.tried]
        for page in self.pages:
            page.more = True

    def _once(self) -> None:
        """What stands on one of the tiles, the needed before what each mark's baluster is."""
        once = [words for words in self.tiles[0].piece.words if not _on_its_tile(words)]
        for words in (words for words in once if words.need):
            self._put(words)
        for page in self.pages:
            page.notes()
        for words in (words for words in once if not words.need):
            self._put(words)

    def _put(self, words: Words) -> None:
        """The words on the tile that they fall on, else on the first that has room for them."""
        own = [page for page in self.pages if words.v is None or _falls_on(page.tile, words.v)]
        others = [page for page in self.pages if page not in own] if words.roams else []
        if _put_on(own, words) or _put_on(others, words):
            return
        if words.need:
            least = min((*own, *others), key=lambda page: self.tried[page.tile.index])
            raise NoRoom(least.tile, words.text)


def _put_on(pages: Sequence[_Lettering], words: Words) -> bool:
    """Whether one of some tiles has room for the words: all of them first, then less."""
    for terse in sorted({page.way.terse for page in pages}):
        ways = [(way, few) for few in (True, False) for way in _ways(words, terse)]
        for (text, size), few in ways:
            for page in pages:
                if page.way.terse >= terse and few in page.few and page.put(text, size, words, few):
                    page.more = True
                    return True
    return False


def _on_its_tile(words: Words) -> bool:
    """Whether words stand on each tile, or on the one that they fall on before the rest is set."""
    return words.every or words.first or _of_a_line(words)


def _of_a_line(words: Words) -> bool:
    """Whether words say of a line what it is: where they have no room beside it, they are left."""
    return words.within > 0 and not words.need


def _falls_on(tile: Tile, v: float) -> bool:
    low = -1e9 if tile.index == 0 else tile.low
    high = 1e9 if tile.index == tile.of - 1 else tile.high
    return low <= v < high


def _which(tile: Tile) -> Iterable[Words]:
    """Which tile of its strip it is."""
    if tile.of > 1:
        part = f"tile {tile.index + 1} of {tile.of}"
        yield Words(part, 3.0, True, need=True, least=SMALL, whole=True)


def _ways(words: Words, terse: int) -> Iterable[tuple[str, float]]:
    """Every way to say it, the best first: all of it, less of it, then that at the least size."""
    texts = (words.text, *words.shorter)[min(terse, len(words.shorter)) :]
    for text in texts if terse < _SMALL or not words.least else ():
        yield text, words.size
        if words.size > NAME_SIZE:
            yield text, NAME_SIZE
    if words.least:
        yield texts[-1], words.least


@dataclass(slots=True, eq=False)
class _Lettering:
    """A tile, what is left of its room, and the words that stand on it.

    `noted`: the marks whose notes do; `more`: it holds words that stand on no other tile.
    """

    tile: Tile
    room: Room
    way: _Way
    texts: list[Text] = field(default_factory=list)
    noted: set[str] = field(default_factory=set)
    more: bool = False

    def lanes(self, words: Words) -> Sequence[Across | Along]:
        """Where words may stand, the best first: in front of the riser what is said of there."""
        if words.edge:
            return self.room.edges
        main = self.room.main
        in_front = words.v is not None and words.v < 0 and len(main) > 2
        titled = words.every and words.v is not None and self.tile.piece.turned
        if in_front:
            main = [*main[2:], *main[:2]]
        lanes = main[::-1] if titled else main
        return lanes if words.level else (*lanes, *self.room.spine)

    def every(self, joints: Mapping[int, JointWords]) -> None:
        """What has to stand on this tile whatever else there is."""
        tile, piece = self.tile, self.tile.piece
        self.texts += [t for t in piece.labels if tile.low <= t.at[1] < tile.high]
        self.musts(
            words for words in piece.words if words.first and _falls_on(tile, words.v or 0.0)
        )
        name, title, *others = [words for words in piece.words if words.every and not words.edge]
        both = [at for at in (tile.below, tile.above) if at]
        said = [at_joint(tile, joint, joints[joint.number]) for joint in both]
        if self.way.near:
            at = self._start if piece.turned else None
            self.musts(reading for reading, _ in said)
            self._marks()
            self.musts(partner for _, partner in said)
            self._lines()
            self.musts([replace(title, v=at, whole=True)])
            self._name(name)
        else:
            self._name(name)
            self._marks()
            self.musts(words for pair in said for words in pair)
            self._lines()
            others = [*others, replace(title, size=3.0)] if piece.turned else [title, *others]
        for joint in both:
            self.texts += joint_texts(tile, joint, joints[joint.number])
        self.musts(words for words in piece.words if words.edge)
        self.musts((*_which(tile), *others))

    def _lines(self) -> None:
        """What the lines across this tile are, where there is room beside them."""
        words = self.tile.piece.words
        self.musts(w for w in words if _of_a_line(w) and _falls_on(self.tile, w.v or 0.0))

    @property
    def _start(self) -> float:
        """Where its words begin: at the lower end of a long strip, at the top of a tread's."""
        return self.tile.low if self.tile.piece.turned else self.tile.high

    def notes(self) -> None:
        """What each mark's baluster is, where there is room."""
        for spot in self.tile.spots:
            if spot.name not in self.noted:
                self.texts += mark_notes(self.room.main, spot, self.tile)

    def musts(self, many: Iterable[Words]) -> None:
        """Each in one of the ways to say it; raises `NoRoom` for one that is needed."""
        for words in many:
            ways = [(*way, words, few) for few in self.few for way in _ways(words, self.way.terse)]
            if not any(self.put(*way) for way in ways) and words.need:
                raise NoRoom(self.tile, words.text)

    @property
    def few(self) -> Sequence[bool]:
        """Words stand on few lines; where nothing else helps, on as many as it takes."""
        return (True,) if self.way.spread.fine else (True, False)

    def put(self, text: str, size: float, words: Words, few: bool = True) -> bool:
        """The words, said so, in the first lane that has room, or nowhere; `few`: no column."""
        most = 1 if words.whole else 1 + len(text) // _COLUMN if few else 99
        within = words.within * self.way.near or (inf if words.need else words.within * 2) or inf
        wish = Wish(words.v, within, most)
        for lane in self.lanes(words):
            texts = lane.put([text], size, words.bold, wish)
            if texts:
                self.texts += texts
                return True
        return False

    def _name(self, name: Words) -> None:
        """The strip's name on one line, before all other words."""
        looks = [(size, True) for size in (name.size, 3.0, SMALL)] + [(SMALL, False)]
        for size, bold in looks:
            for within in (NEAR_TITLE, 0.0):
                words = Words(
                    name.text, size, bold, self._start, every=True, whole=True, within=within
                )
                if self.put(name.text, size, words):
                    self.texts.insert(0, self.texts.pop())
                    return
        raise NoRoom(self.tile, f"the strip's name, {name.text}")

    def _marks(self) -> None:
        """Each mark's name and its reading."""
        for spot in self.tile.spots:
            name, reading, noted = mark_words(self.room.main, spot, self.tile, self.way.noted)
            if not name or not reading:
                which = "name" if not name else "reading"
                raise NoRoom(self.tile, f"the {which} of mark {spot.name}")
            self.texts += [*name, *reading]
            if noted:
                self.noted.add(spot.name)
