"""Words, tables and drawings set one under the other, over as many pages as they need."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from stairjig.drawing import Fill, Item, Page, Pen, Stroke, Text, moved
from stairjig.pages.leaf import Leaf
from stairjig.pages.lines import BODY, LEADING, lines_in
from stairjig.pages.tables import Blank, Cell, Column, field_in, head_of, height_of, parted


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
                self.items.append(field_in(cell, (x, self.y), column.width, height))
            else:
                self._cell(column, cell, x, height, size, bold or column.bold)
            x += column.width

    def _cell(
        self, column: Column, cell: str, x: float, height: float, size: float, bold: bool
    ) -> None:
        at = {"start": x + 1.0, "middle": x + column.width / 2, "end": x + column.width - 2.0}
        lines = lines_in(cell, size, column.width - 2.0, bold)
        block = size + (len(lines) - 1) * size * LEADING
        y = self.y + (height + block) / 2 - size
        for line in lines:
            place = (at[column.anchor], y)
            self.items.append(Text(line, place, size, bold, anchor=column.anchor))
            y -= size * LEADING
