"""Tables: their columns, what stands in a cell, and how high a row comes out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from stairjig.drawing import Field, Point
from stairjig.frozen import frozen
from stairjig.pages.lines import LEADING, lines_in

HEAD = 7.0
"""A table's head is not made higher than its words need, or than this, mm."""
MOST_LINES = 14
"""Lines in one row of a table; what is longer runs on in the next row."""


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


def cell_lines(column: Column, cell: Cell, size: float, bold: bool) -> list[str]:
    """A cell's words in the lines that its column takes; a blank has none."""
    if isinstance(cell, Blank):
        return []
    return lines_in(cell, size, column.width - 2.0, bold or column.bold)


def height_of(
    columns: Sequence[Column], row: Sequence[Cell], least: float, size: float, bold: bool = False
) -> float:
    """How high a row comes out, mm."""
    cells = zip(columns, row, strict=True)
    most = max(len(cell_lines(column, cell, size, bold)) or 1 for column, cell in cells)
    return max(least, size * (LEADING * (most - 1) + 1) + 2.4)


def head_of(columns: Sequence[Column], least: float, size: float) -> float:
    """How high a table's head comes out, mm: no higher for rows that are written in."""
    return height_of(columns, [c.heading for c in columns], min(least, HEAD), size, bold=True)


def parted(columns: Sequence[Column], row: Sequence[Cell], size: float) -> Iterator[Sequence[Cell]]:
    """The row, or as many as it takes to hold its longest cell."""
    pairs = zip(columns, row, strict=True)
    cells = [cell_lines(column, cell, size, bold=False) for column, cell in pairs]
    many = max(len(lines) for lines in cells)
    yield [_part(cell, lines, 0) for cell, lines in zip(row, cells, strict=True)]
    for start in range(MOST_LINES, many, MOST_LINES):
        yield [_part("", lines, start) for lines in cells]


def _part(cell: Cell, lines: Sequence[str], start: int) -> Cell:
    if isinstance(cell, Blank) or (len(lines) <= MOST_LINES and start == 0):
        return cell
    return " ".join(lines[start : start + MOST_LINES])


def field_in(blank: Blank, at: Point, wide: float, high: float) -> Field:
    """The blank's field in its cell, `wide` by `high` mm from `at`; a tick box is square."""
    if blank.check:
        side = min(wide, high) - 3.0
        middle = (at[0] + (wide - side) / 2, at[1] + (high - side) / 2)
        return Field(blank.name, middle, side, side, blank.hint, check=True)
    return Field(blank.name, (at[0] + 2.0, at[1] + 1.0), wide - 3.0, high - 2.0, blank.hint)
