"""Words, tables and drawings set one under the other, over as many pages as they need."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from stairjig.drawing import Fill, Item, Page, Pen, Stroke, Text, moved
from stairjig.job.model import Paper
from stairjig.type import width, wrapped

BODY = 2.8
"""Height of running words' capitals, mm; nothing that the helper needs is under 2.5."""
LEADING = 1.75
"""From line to line, over the height of capitals."""
FOOT = 9.0
"""Kept free at the foot for the sheet's number, title and pack ID, mm."""
WIDEST = 260.0
TALLEST = 420.0


@dataclass(frozen=True, slots=True)
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


@dataclass(frozen=True, slots=True)
class Column:
    """A table's column: its heading, its width in mm, and how its words stand."""

    heading: str
    width: float
    anchor: str = "start"
    bold: bool = False


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
        self.keep(size * 2 + follow)
        self.y -= size * 1.6
        self.items.append(Text(words, (self.leaf.left, self.y), size, bold=True))
        self.y -= size * 0.5

    def words(self, words: str, size: float = BODY, bold: bool = False, indent: float = 0.0, mark: str = "") -> None:  # fmt: skip
        """Running words, wrapped; `mark` stands before the first line, in the indent."""
        lines = wrapped(words, size, self.leaf.room - indent, bold)
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
        rows: Sequence[Sequence[str]],
        row_height: float = 5.5,
        size: float = BODY,
    ) -> None:
        """A table whose head stands again on every page it runs on to; long cells are wrapped."""
        if not rows:
            return
        heights = [self._row_height(columns, row, row_height, size) for row in rows]
        self.keep(row_height + heights[0])
        self._head(columns, row_height, size)
        for row, height in zip(rows, heights, strict=True):
            if self.y - height < self.leaf.bottom:
                self.turn()
                self._head(columns, row_height, size)
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
        band = ((self.leaf.left, self.y), (right, self.y), (right, self.y + height), (self.leaf.left, self.y + height))  # fmt: skip
        self.items.append(Fill(band, grey=0.88))
        self._cells(columns, [column.heading for column in columns], height, size, bold=True)

    def _row(self, columns: Sequence[Column], row: Sequence[str], height: float, size: float) -> None:  # fmt: skip
        self.y -= height
        self._cells(columns, row, height, size, bold=False)
        right = self.leaf.left + sum(column.width for column in columns)
        self.items.append(Stroke(((self.leaf.left, self.y), (right, self.y)), Pen.FAINT))

    def _cells(
        self, columns: Sequence[Column], row: Sequence[str], height: float, size: float, bold: bool
    ) -> None:
        x = self.leaf.left
        for column, cell in zip(columns, row, strict=True):
            at = {"start": x + 1.0, "middle": x + column.width / 2, "end": x + column.width - 1.0}
            lines = wrapped(cell, size, column.width - 2.0, bold or column.bold)
            block = size + (len(lines) - 1) * size * LEADING
            y = self.y + (height + block) / 2 - size
            for line in lines:
                text = Text(line, (at[column.anchor], y), size, bold or column.bold, anchor=column.anchor)  # fmt: skip
                self.items.append(text)
                y -= size * LEADING
            x += column.width

    def _row_height(
        self, columns: Sequence[Column], row: Sequence[str], least: float, size: float
    ) -> float:
        most = max(
            len(wrapped(cell, size, column.width - 2.0, column.bold)) or 1
            for column, cell in zip(columns, row, strict=True)
        )
        return max(least, size * (LEADING * (most - 1) + 1) + 2.4)


def numbered(pages: Sequence[Page], title: str, pack_id: str, first: int, of: int) -> tuple[Page, ...]:  # fmt: skip
    """The pages with their foot: sheet k of n, title, pack ID."""
    return tuple(
        replace(
            page, items=(*page.items, *_foot(page, f"sheet {first + n} of {of}", title, pack_id))
        )
        for n, page in enumerate(pages)
    )


def _foot(page: Page, sheet: str, title: str, pack_id: str) -> tuple[Item, ...]:
    margin = 7.94
    left, right, y = (
        margin + 4.0,
        min(page.width - margin - 4.0, margin + 4.0 + WIDEST),
        margin + 2.0,
    )
    right_words = f"pack {pack_id}"
    return (
        Stroke(((left, y + 4.6), (right, y + 4.6)), Pen.THIN),
        Text(sheet, (left, y), 2.8, bold=True),
        Text(title, (left + width(sheet, 2.8, True) + 6.0, y), 2.5),
        Text(right_words, (right, y), 2.8, bold=True, anchor="end"),
    )
