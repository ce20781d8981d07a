"""A sheet as it is drawn: its tiles with their words, its bars, what stands at its side."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import field

from stairjig.drawing import Item, Run, Text, moved
from stairjig.errors import Refusal
from stairjig.frozen import frozen
from stairjig.job.model import Paper
from stairjig.lengths import Shown
from stairjig.pieces.values import SMALL
from stairjig.sheets.bars import Bar, band_words, bar_items, bar_words, fitting_words, longest
from stairjig.sheets.frame import Frame
from stairjig.sheets.joint_words import SheetOf, said_of
from stairjig.sheets.lettering import Lettered, NoRoom, letter
from stairjig.sheets.plan import PlacedTile, Sheet, SheetPlan
from stairjig.sheets.refusals import no_room
from stairjig.sheets.tiles import Tile, tile_strokes
from stairjig.type import width, wrapped


@frozen
class Where:
    """The sheet's number for each tile, by its piece's name and its index; the tiles of each piece.

    `lettered` keeps the words of a piece, which are set for all its tiles at once.
    """

    sheets: SheetOf
    tiles: Mapping[str, Sequence[Tile]]
    lettered: dict[str, Lettered] = field(default_factory=dict, compare=False)

    def texts(self, tile: Tile, shown: Shown) -> tuple[Text, ...]:
        """The words of a tile. Raises `NoRoom`."""
        name = tile.piece.name
        if name not in self.lettered:
            tiles = self.tiles[name]
            self.lettered[name] = letter(tiles, said_of(tiles, shown, self.sheets))
        return self.lettered[name][tile.index]


def tile_sheets(plan: SheetPlan, first: int) -> Where:
    """Which sheet each tile is on, the first sheet of strips having the number `first`."""
    sheets: dict[tuple[str, int], int] = {}
    tiles: dict[str, list[Tile]] = {}
    for number, sheet in enumerate(plan.sheets, start=first):
        for placed in sheet.tiles:
            sheets[placed.tile.piece.name, placed.tile.index] = number
            tiles.setdefault(placed.tile.piece.name, []).append(placed.tile)
    in_order = {name: sorted(parts, key=lambda tile: tile.index) for name, parts in tiles.items()}
    return Where(sheets, in_order)


def sheet_items(
    sheet: Sheet, paper: Paper, shown: Shown, words: Sequence[str], where: Where
) -> tuple[Item | Run, ...]:
    """Everything on a sheet: its tiles, each in a run of its own, its bars and its words.

    `words`: a line for the lane at its side, in parts; the last one, the title, is cut short where
    they run past its end. `where`: the sheets of all tiles. Raises `Refusal` for a strip that has
    no room for what it must say.
    """
    try:
        runs = [tile_run(placed, shown, where) for placed in sheet.tiles]
    except NoRoom as lacking:
        raise Refusal(no_room(lacking, paper, shown)) from None
    return (*runs, *_furniture(sheet, Frame(paper), shown, words))


def tile_run(placed: PlacedTile, shown: Shown, where: Where) -> Run:
    """A tile as it stands on its sheet: its strokes, the outline first, then its words."""
    tile = placed.tile
    items = (*tile_strokes(tile), *where.texts(tile, shown))
    return Run("Tile", tuple(moved(item, placed.shift) for item in items))


def _furniture(sheet: Sheet, frame: Frame, shown: Shown, words: Sequence[str]) -> Iterable[Item]:
    up = Bar(
        (frame.margin + 1.65, frame.bottom),
        longest(sheet.height - 2 * frame.margin, shown.units),
        True,
        shown.units,
    )
    yield from bar_items(up)
    across = across_bar(sheet, frame, shown)
    if across:
        yield from bar_items(across)
        yield bar_words(across, fitting_words(across.length, shown.units, 2.5), 2.8, 2.5)
    first = f"{band_words(up.length, shown.units)} · print at actual size"
    for n, line in enumerate(side_lines(first, words, sheet.height - 2 * frame.margin)):
        yield bar_words(up, line, -4.6 - n * 4.2, SMALL)


def side_lines(first: str, words: Sequence[str], room: float) -> list[str]:
    """Two lines no longer than `room`, mm: what is said of the bar, then the sheet's words.

    The title, the last of the words, is cut short; what stands before it never is, and goes on from
    the first line to the second where it is longer than one.
    """
    *head, title = words
    shortened = (f"{title[:end].rstrip()}…" for end in range(len(title) - 1, 0, -1))
    for last in (title, *shortened):
        line = " · ".join([*head, last])
        if width(line, SMALL) <= room:
            return [first, line]
    line = " · ".join(head)
    if width(line, SMALL) <= room:
        return [first, line]
    return wrapped(f"{first} · {line}", SMALL, room)[:2]


def across_bar(sheet: Sheet, frame: Frame, shown: Shown) -> Bar | None:
    """The bar across the sheet, right of its tall tiles, as long as there is room."""
    left = frame.left
    right = frame.left + frame.width
    for placed in sheet.tiles:
        low = placed.tile.origin[1] + placed.shift[1]
        if low < frame.bottom + 5.0:
            edge = max(u for u, _ in placed.tile.outline) + placed.shift[0]
            left = max(left, edge + 3.0)
    length = longest(right - left, shown.units)
    return Bar((left, frame.bottom + 2.2), length, False, shown.units) if length > 0 else None
