"""Words, tables and drawings set one under the other, over as many pages as they need."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace

from stairjig.drawing import Field, Fill, Item, Page, Pen, Point, Stroke, Text, moved
from stairjig.frozen import frozen
from stairjig.job.model import Paper
from stairjig.type import width, wrapped

BODY = 2.8
"""Height of running words' capitals, mm; nothing that the helper needs is under 2.5."""
LEADING = 1.65
"""From line to line, over the height of capitals."""
FOOT = 9.0
"""Kept free at the foot for the sheet's number, title and pack ID, mm."""
HEAD = 7.0
"""A table's head is not made higher than its words need, or than this, mm."""
WIDEST = 260.0
TALLEST = 420.0
MOST_LINES = 14
"""Lines in one row of a table; what is longer runs on in the next row."""


@frozen
class Leaf:
    """The paper that a flow is set on, mm; on a roll a leaf as tall as is handy."""

    width: float
    height: float
    margin: float

    @property
    def left(self) -> float:
        """Where words begin."""
        return self.margin + 4.0

    @property
    def right(self) -> float:
        """Where words end at the latest; a wide sheet is not filled."""
        return min(self.width - self.margin - 4.0, self.left + WIDEST)

    @property
    def top(self) -> float:
        """Where words begin, from the foot of the page."""
        return self.height - self.margin - 3.0

    @property
    def bottom(self) -> float:
        """Where they end."""
        return self.margin + FOOT

    @property
    def room(self) -> float:
        """How wide words may run."""
        return self.right - self.left


def leaf_of(paper: Paper) -> Leaf:
    """The leaf of a paper."""
    high = min(float(paper.height), TALLEST) if paper.roll else float(paper.height)
    return Leaf(float(paper.width), max(high, float(paper.width) + 1), float(paper.margin.mm))


@frozen
class Column:
    """A table's column: its heading, its width in mm, and how its words stand."""

    heading: str
    width: float
    anchor: str = "start"
    bold: bool = False


@frozen
class Blank:
    """A cell to fill in, by hand or in a viewer: its field's name, its hint, a box to tick."""

    name: str
    hint: str
    check: bool = False


Cell = str | Blank


def spread(columns: Sequence[Column], room: float, most: float = 200.0) -> tuple[Column, ...]:
    """The columns in the same shares over `room` mm, or over `most` where there is more."""
    stretch = min(room, most) / sum(column.width for column in columns)
    return tuple(replace(column, width=column.width * stretch) for column in columns)


@dataclass(slots=True)
class Flow:
    """Sets items down the page and turns it when it is full."""

    leaf: Leaf
    label: str
    title: str
    items: list[Item] = field(default_factory=list)
    done: list[tuple[Item, ...]] = field(default_factory=list)
    y: float = 0.0

    def __post_init__(self) -> None:
        """Start at the head of the first page."""
        self.y = self.leaf.top

    def copy(self) -> Flow:
        """The same so far, to go on from without it."""
        copied = Flow(self.leaf, self.label, self.title, [*self.items], [*self.done])
        copied.y = self.y
        return copied

    def turn(self) -> None:
        """Begin a new page."""
        self.done.append(tuple(self.items))
        self.items = []
        self.y = self.leaf.top

    def keep(self, height: float) -> None:
        """Turn the page if less than `height` is left on it."""
        if self.y - height < self.leaf.bottom and self.items:
            self.turn()

    def space(self, height: float) -> None:
        """Leave room."""
        self.y -= height

    def heading(self, words: str, size: float = 4.5, follow: float = 20.0) -> None:
        """A heading, with at least `follow` mm of what it heads on the same page."""
        lines = lines_in(words, size, self.leaf.room, bold=True)
        self.keep(size * (1.4 * len(lines) + 0.85) + follow)
        self.y -= size * (0.35 if self.items else 0.2)
        for line in lines:
            self.y -= size * 1.4
            self.items.append(Text(line, (self.leaf.left, self.y), size, bold=True))
        self.y -= size * 0.5

    def words(
        self,
        words: str,
        size: float = BODY,
        bold: bool = False,
        indent: float = 0.0,
        mark: str = "",
    ) -> None:
        """Running words, wrapped; `mark` stands before the first line, in the indent."""
        lines = lines_in(words, size, self.leaf.room - indent, bold)
        self.keep(size * LEADING * min(len(lines), 3))
        for number, line in enumerate(lines):
            self.keep(size * LEADING)
            self.y -= size * LEADING
            if mark and number == 0:
                self.items.append(Text(mark, (self.leaf.left, self.y), size, bold=True))
            self.items.append(Text(line, (self.leaf.left + indent, self.y), size, bold))
        self.y -= size * 0.35

    def rule(self) -> None:
        """A thin line right across."""
        self.y -= 1.5
        ends = ((self.leaf.left, self.y), (self.leaf.right, self.y))
        self.items.append(Stroke(ends, Pen.THIN))
        self.y -= 1.5

    def drawing(self, items: Iterable[Item], height: float) -> None:
        """Items drawn from their own lower left corner, `height` mm in all."""
        self.keep(height)
        self.y -= height
        self.items += [moved(item, (self.leaf.left, self.y)) for item in items]

    def table(
        self,
        columns: Sequence[Column],
        rows: Sequence[Sequence[Cell]],
        row_height: float = 5.5,
        size: float = BODY,
        above: str = "",
    ) -> None:
        """A table whose head stands again on every page it runs on to; long cells are wrapped.

        `above`: words that stand over the head there, to say what it is that runs on.
        """
        rows = [part for row in rows for part in parted(columns, row, size)]
        if not rows:
            return
        heights = [height_of(columns, row, row_height, size) for row in rows]
        head = head_of(columns, row_height, size)
        self.keep(head + heights[0])
        self._head(columns, head, size)
        for row, height in zip(rows, heights, strict=True):
            if self.y - height < self.leaf.bottom:
                self.turn()
                if above:
                    self.words(above, size, bold=True)
                    self.y -= 1.5
                self._head(columns, head, size)
            self._row(columns, row, height, size)
        self.y -= 2.0

    def pages(self) -> tuple[Page, ...]:
        """The pages, the foot still empty."""
        if self.items:
            self.turn()
        many = len(self.done) > 1
        return tuple(
            Page(
                self.leaf.width,
                self.leaf.height,
                f"{self.label} {number}" if many else self.label,
                self.title if number == 1 else "",
                items,
            )
            for number, items in enumerate(self.done, start=1)
        )

    def _head(self, columns: Sequence[Column], height: float, size: float) -> None:
        self.y -= height
        right = self.leaf.left + sum(column.width for column in columns)
        left, top = self.leaf.left, self.y + height
        band = ((left, self.y), (right, self.y), (right, top), (left, top))
        self.items.append(Fill(band, grey=0.88))
        self._cells(columns, [column.heading for column in columns], height, size, bold=True)

    def _row(
        self, columns: Sequence[Column], row: Sequence[Cell], height: float, size: float
    ) -> None:
        self.y -= height
        self._cells(columns, row, height, size, bold=False)
        right = self.leaf.left + sum(column.width for column in columns)
        self.items.append(Stroke(((self.leaf.left, self.y), (right, self.y)), Pen.FAINT))

    def _cells(
        self, columns: Sequence[Column], row: Sequence[Cell], height: float, size: float, bold: bool
    ) -> None:
        x = self.leaf.left
        for column, cell in zip(columns, row, strict=True):
            if isinstance(cell, Blank):
                self.items.append(_field(cell, (x, self.y), column.width, height))
            else:
                self._cell(column, cell, x, height, size, bold or column.bold)
            x += column.width

    def _cell(
        self, column: Column, cell: str, x: float, height: float, size: float, bold: bool
    ) -> None:
        at = {"start": x + 1.0, "middle": x + column.width / 2, "end": x + column.width - 1.0}
        lines = lines_in(cell, size, column.width - 2.0, bold)
        block = size + (len(lines) - 1) * size * LEADING
        y = self.y + (height + block) / 2 - size
        for line in lines:
            place = (at[column.anchor], y)
            self.items.append(Text(line, place, size, bold, anchor=column.anchor))
            y -= size * LEADING


def _cell_lines(column: Column, cell: Cell, size: float, bold: bool) -> list[str]:
    if isinstance(cell, Blank):
        return []
    return lines_in(cell, size, column.width - 2.0, bold or column.bold)


def height_of(
    columns: Sequence[Column], row: Sequence[Cell], least: float, size: float, bold: bool = False
) -> float:
    """How high a row comes out, mm."""
    cells = zip(columns, row, strict=True)
    most = max(len(_cell_lines(column, cell, size, bold)) or 1 for column, cell in cells)
    return max(least, size * (LEADING * (most - 1) + 1) + 2.4)


def head_of(columns: Sequence[Column], least: float, size: float) -> float:
    """How high a table's head comes out, mm: no higher for rows that are written in."""
    return height_of(columns, [c.heading for c in columns], min(least, HEAD), size, bold=True)


def parted(columns: Sequence[Column], row: Sequence[Cell], size: float) -> Iterator[Sequence[Cell]]:
    """The row, or as many as it takes to hold its longest cell."""
    pairs = zip(columns, row, strict=True)
    cells = [_cell_lines(column, cell, size, bold=False) for column, cell in pairs]
    many = max(len(lines) for lines in cells)
    yield [_part(cell, lines, 0) for cell, lines in zip(row, cells, strict=True)]
    for start in range(MOST_LINES, many, MOST_LINES):
        yield [_part("", lines, start) for lines in cells]


def _part(cell: Cell, lines: Sequence[str], start: int) -> Cell:
    if isinstance(cell, Blank) or (len(lines) <= MOST_LINES and start == 0):
        return cell
    return " ".join(lines[start : start + MOST_LINES])


def _field(blank: Blank, at: Point, wide: float, high: float) -> Field:
    """The blank's field in its cell, a tick box square."""
    if blank.check:
        side = min(wide, high) - 3.0
        middle = (at[0] + (wide - side) / 2, at[1] + (high - side) / 2)
        return Field(blank.name, middle, side, side, blank.hint, check=True)
    return Field(blank.name, (at[0] + 2.0, at[1] + 1.0), wide - 3.0, high - 2.0, blank.hint)


def lines_in(text: str, size: float, room: float, bold: bool = False) -> list[str]:
    """`text` in lines no wider than `room` mm; a word that is wider is broken."""
    if text and width(text, size, bold) <= room and "  " not in text:
        return [text]
    lines: list[str] = []
    for line in wrapped(text, size, room, bold):
        while width(line, size, bold) > room and len(line) > 1:
            part = _fitting(line, size, room, bold)
            lines.append(line[:part])
            line = line[part:]
        lines.append(line)
    return lines


def paragraphs(
    texts: Sequence[str], room: float, bold_first: bool = False
) -> tuple[list[Text], float]:
    """Set paragraphs down from 0, and give how deep they go, mm."""
    items, y = [], 0.0
    for number, text in enumerate(texts):
        bold = bold_first and number == 0
        for line in lines_in(text, BODY, room, bold):
            y -= BODY * LEADING
            items.append(Text(line, (0.0, y), BODY, bold))
        y -= BODY * 0.5
    return items, -y


def fitted(text: str, size: float, room: float, bold: bool = False) -> str:
    """`text` on one line of `room` mm, its end cut off where it must be."""
    if width(text, size, bold) <= room:
        return text
    return text[: _fitting(text, size, room - width("…", size, bold), bold)].rstrip() + "…"


def _fitting(text: str, size: float, room: float, bold: bool) -> int:
    """How many characters of `text`, one at least, a line of `room` mm holds."""
    return max((n for n in range(1, len(text)) if width(text[:n], size, bold) <= room), default=1)


def numbered(
    pages: Sequence[Page], title: str, pack_id: str, first: int, of: int, margin: float
) -> tuple[Page, ...]:
    """The pages with their foot: sheet k of n, title, pack ID; `margin` is the leaf's."""
    return tuple(
        replace(
            page,
            items=(*page.items, *_foot(page, f"sheet {first + n} of {of}", title, pack_id, margin)),
        )
        for n, page in enumerate(pages)
    )


def _foot(page: Page, sheet: str, title: str, pack_id: str, margin: float) -> tuple[Item, ...]:
    left, y = margin + 4.0, margin + 2.0
    right = min(page.width - margin - 4.0, left + WIDEST)
    pack = f"pack {pack_id}"
    start = left + width(sheet, 2.8, bold=True) + 6.0
    room = right - width(pack, 2.8, bold=True) - 6.0 - start
    return (
        Stroke(((left, y + 4.6), (right, y + 4.6)), Pen.THIN),
        Text(sheet, (left, y), 2.8, bold=True),
        Text(fitted(title, 2.5, room), (start, y), 2.5),
        Text(pack, (right, y), 2.8, bold=True, anchor="end"),
    )
