"""Lanes whose words run up the strip, in rows one beside the other.

What is free of a row is kept as the bits of a number, one for each cell of its length: what is
free of several rows is their `and`, and words that need n cells start where n bits in turn are set.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from math import ceil, floor

from stairjig.drawing import Text
from stairjig.sheets.lanes import APART, DROP, LEADING, Span, Wish, cut_up
from stairjig.type import width

CELL = 0.2
"""Length of a cell, mm."""
AFTER_NAME = 3.0
"""From a mark's name to the reading behind it, mm."""
_ROOMS = (400.0, 180.0, 120.0, 85.0, 60.0, 42.0, 30.0)
"""Widths that words are wrapped to, mm, one after the other."""

Line = tuple[str, float, bool]
"""Words on a line, their height and whether they are bold."""
Band = tuple[int, int]
"""The first of some rows, and the one behind the last."""
Needs = tuple[float, ...]
"""How high some lines are, mm."""


@dataclass(slots=True)
class Row:
    """A band of u with a bit for each cell of its length that is still free."""

    left: float
    right: float
    free: int


def cells_of(free: Sequence[Span], low: float) -> int:
    """The bits of free spans, their cells counted from `low`."""
    bits = 0
    for start, end in free:
        first, last = ceil((start - low) / CELL - 1e-6), floor((end - low) / CELL + 1e-6)
        if first < last:
            bits |= (1 << last) - (1 << max(first, 0))
    return bits


def roomy(free: int, cells: int) -> int:
    """Where so many cells in turn are free: the bits of the first of them."""
    run = 1
    while free and run * 2 <= cells:
        free &= free >> run
        run *= 2
    return free & free >> (cells - run)


def places(starts: int, cells: int, near: int | None) -> Sequence[int]:
    """Where words may start, the best first: about a cell, or as far up as can be."""
    if not starts or near is None:
        return (starts.bit_length() - 1,) if starts else ()
    near = max(near, 0)
    below = (starts & ((2 << near) - 1)).bit_length() - 1
    above = starts >> near
    if not above:
        return (below,)
    up = near + (above & -above).bit_length() - 1
    if below < 0:
        return (up,)
    return (below, up) if near - below - cells <= up - near else (up, below)


@dataclass(slots=True)
class Along:
    """A lane of `rows` from left to right; the one next to the line is filled first.

    `low`: v of its first cell. `pad`: kept clear before and behind words, mm; `moat`: rows kept
    clear beside them. `bands`, `shared`: what has been found.
    """

    rows: list[Row]
    low: float
    pad: float = 0.0
    moat: int = 0
    bands: dict[Needs, Sequence[Sequence[Band]]] = field(init=False)
    shared: dict[Band, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.bands = _bands_in(tuple((row.left, row.right) for row in self.rows))

    def put(self, words: Sequence[str], size: float, bold: bool, wish: Wish) -> list[Text] | None:
        """Words as texts turned up the strip, in as many rows as they need; None where none are.

        Where subjects are set apart, lines are led if there is room.
        """
        tried: dict[int, Sequence[Sequence[Line]]] = {}
        for room in _ROOMS:
            lines = [line for some in words for line in cut_up(some, size, room, bold)]
            if len(lines) > wish.most:
                break
            tried.setdefault(len(lines), [[(line, size, bold)] for line in lines])
        led = [(LEADING, rows) for count, rows in tried.items() if count > 1 and self.moat]
        close = [(1 + DROP, rows) for rows in tried.values()]
        for high, rows in (*close[: 1 in tried], *led, *close[1 in tried :]):
            texts = self._set(rows, wish, high)
            if texts:
                return texts
        return None

    def block(self, head: Sequence[Line], notes: Sequence[Line], wish: Wish) -> list[Text] | None:
        """A mark's words level with it, or next to it: its name and reading, its notes below."""
        return self._set([head, *([note] for note in notes)], wish, 1 + DROP, level=True)

    def _set(
        self, lines: Sequence[Sequence[Line]], wish: Wish, high: float, level: bool = False
    ) -> list[Text] | None:
        """Lines in neighbouring bands, as near as can be to a height; `level`: their middle is.

        `high`: how high a band is at the least, over the height of capitals.
        """
        cells = ceil((max(map(_long, lines)) + 2 * APART) / CELL - 1e-6)
        at = None if wish.near is None else round((wish.near - self.low) / CELL)
        target = at - cells // 2 if at is not None and level else at
        least, best = min(wish.within, 1e6) / CELL + 0.5, None
        known: dict[int, Sequence[int]] = {0: ()}
        for bands in self.bands[tuple([line[0][1] * high for line in lines])]:
            rows = bands[0][0], bands[-1][1]
            free = self._free(rows)
            if free not in known:
                known[free] = places(roomy(free, cells), cells, target)
            for start in known[free]:
                far = _off(start, cells, at, level)
                if far >= least:
                    break
                texts = self._texts(lines, bands, self.low + start * CELL + APART)
                if wish.accept(texts):
                    least, best = far, (texts, rows, start)
                    break
            if not least:
                break
        if best is None:
            return None
        self._take(best[1], best[2], cells)
        return best[0]

    def _texts(
        self, lines: Sequence[Sequence[Line]], bands: Sequence[Band], v: float
    ) -> list[Text]:
        texts = []
        for line, band in zip(lines, bands, strict=True):
            u, at = self._baseline(band, line[0][1]), v
            for words, size, bold in line:
                texts.append(Text(words, (u, at), size, bold, angle=90))
                at += width(words, size, bold) + AFTER_NAME
        return texts

    def _free(self, band: Band) -> int:
        """What is free of all rows of a band."""
        free = self.shared.get(band)
        if free is None:
            free = -1
            for row in self.rows[band[0] : band[1]]:
                free &= row.free
            self.shared[band] = free
        return free

    def _take(self, band: Band, start: int, cells: int) -> None:
        """Keep words and what is about them clear of others."""
        self.shared.clear()
        pad = round(self.pad / CELL)
        for at in range(max(0, band[0] - self.moat), min(len(self.rows), band[1] + self.moat)):
            more = pad if band[0] <= at < band[1] else 0
            self.rows[at].free &= ~((1 << (start + cells + more)) - (1 << max(0, start - more)))

    def _baseline(self, band: Band, size: float) -> float:
        """The baseline's u: words stand in the middle of their band, their feet to the right."""
        left, right = self.rows[band[0]].left, self.rows[band[1] - 1].right
        return right - (right - left - size * (1 + DROP)) / 2 - size * DROP


class _Bands(dict[Needs, Sequence[Sequence[Band]]]):
    """By how high lines are, the runs of rows with room for them, the one next to the line first.

    They are found once for all lanes of the same rows.
    """

    def __init__(self, rows: Sequence[Span]) -> None:
        self._rows = rows
        order = range(len(rows))
        self._inward = order[::-1] if rows and rows[-1][1] <= 0 else order

    def __missing__(self, needs: Needs) -> Sequence[Sequence[Band]]:
        runs = (_banded_from(self._rows, first, needs) for first in self._inward)
        self[needs] = [bands for bands in runs if bands]
        return self[needs]


_bands_in = lru_cache(maxsize=512)(_Bands)


def _banded_from(rows: Sequence[Span], at: int, needs: Sequence[float]) -> list[Band]:
    """The bands from a row on, none where the rows do not suffice."""
    bands: list[Band] = []
    for need in needs:
        first, end = at, rows[at][0] + need - 1e-9 if at < len(rows) else 0.0
        while at < len(rows) and (at == first or rows[at - 1][1] < end):
            at += 1
        if at == first or rows[at - 1][1] < end:
            return []
        bands.append((first, at))
    return bands


def _long(line: Sequence[Line]) -> float:
    """How long the words on a line are, mm."""
    return sum(width(*words) + AFTER_NAME for words in line) - AFTER_NAME


def _off(start: int, cells: int, at: int | None, level: bool) -> int:
    """How far words stand from a height, in cells: their nearer end, or their middle."""
    if at is None:
        return 0
    return abs(start + cells // 2 - at) if level else max(at - start - cells, start - at, 0)
