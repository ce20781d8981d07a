"""Long tables of narrow rows, folded: read down the left half of the page, then the right."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from stairjig.drawing import moved
from stairjig.pages.flow import Flow
from stairjig.pages.lines import BODY
from stairjig.pages.tables import Blank, Column, head_of, height_of, parted
from stairjig.type import width

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from stairjig.drawing import Page
    from stairjig.pages.tables import Cell

FILLED_ROW = 9.0
"""Height of a row that is written in by hand, mm."""
CLOSE_ROW = 8.0
"""The same where a page is spared."""
_FEW = 90.0
"""A last page is spared that is filled no further, mm."""
_GAP = 6.0
"""Between the halves, mm."""
_LEAST = 88.0
"""A half is not made narrower, mm."""
_EDGES = 3.2
"""What a cell needs beside its words, mm."""
_PINCHED = 0.8
"""How much of its width a column that is written in keeps at the least."""
_TOGETHER = 3
"""Rows that stand on a page at the least, but at a table's end."""


def closed_up(set_at: Callable[[float], Flow]) -> tuple[Page, ...]:
    """Pages of rows to fill in, the rows closer together where that saves a page.

    `set_at`: sets all of them with rows of a height, mm.
    """
    flow = set_at(FILLED_ROW)
    if flow.done and flow.leaf.top - flow.y < _FEW:
        closer = set_at(CLOSE_ROW)
        flow = closer if len(closer.done) < len(flow.done) else flow
    return flow.pages()


def folded(
    flow: Flow,
    columns: Sequence[Column],
    rows: Sequence[Sequence[Cell]],
    row_height: float,
    above: str,
    foot: float = 0.0,
) -> None:
    """Set a table in as many even columns as the leaf holds, on as many pages as it takes.

    Nothing where there are no rows. `above`: words that say on a following page what runs on;
    `foot`: the height of what follows the table, mm, and takes some of its rows along where it has
    to go to the next page.
    """
    if not rows:
        return
    across, columns = _columns(columns, rows, flow.leaf.room)
    step = (flow.leaf.room + _GAP) / across
    rest = [part for row in rows for part in parted(columns, row, BODY)]
    head = head_of(columns, row_height, BODY)
    while rest:
        heights = [height_of(columns, row, row_height, BODY) for row in rest]
        pages = len(flow.done)
        flow.keep(head + sum(heights[:_TOGETHER]))
        if len(flow.done) > pages:
            _runs_on(flow, above)
        left, even = flow.y - flow.leaf.bottom - head, _even(heights, across)
        most = len(heights)
        if even <= left < even + foot:
            most = max(_TOGETHER, most - across * _TOGETHER)
            even = _even(heights[:most], across)
        taken = _taken(heights[:most], across, min(left, even))
        _page(flow, columns, rest, taken, row_height, step)
        rest = rest[sum(taken) :]
        if rest:
            flow.turn()
            _runs_on(flow, above)


def _runs_on(flow: Flow, above: str) -> None:
    """Say over a table what it goes on with: a loose page must say whose rows it holds."""
    flow.words(above, bold=True)
    flow.space(1.5)


def _columns(
    columns: Sequence[Column], rows: Sequence[Sequence[Cell]], room: float
) -> tuple[int, tuple[Column, ...]]:
    """In how many parts a table stands side by side in `room` mm, and the columns of one."""
    cells = list(zip(*rows, strict=True))
    least = [_snug(column, some) for column, some in zip(columns, cells, strict=True)]
    need = sum(column.width for column in least)
    across = max(1, int((room + _GAP) / (max(need, _LEAST) + _GAP)))
    over = (room - (across - 1) * _GAP) / across - need
    shares = [column.width * _written_in(some) for column, some in zip(columns, cells, strict=True)]
    return across, tuple(
        replace(column, width=column.width + over * share / sum(shares))
        for column, share in zip(least, shares, strict=True)
    )


def _written_in(cells: Sequence[Cell]) -> bool:
    return any(isinstance(cell, Blank) for cell in cells)


def _snug(column: Column, cells: Sequence[Cell]) -> Column:
    """A column no wider than it must be: its heading may break between words, its words too.

    A column of words is as wide as they come, at most its own width; what is written in has it.
    """
    head = max(width(word, BODY, bold=True) for word in column.heading.split()) + _EDGES
    if _written_in(cells):
        return replace(column, width=max(head, column.width * _PINCHED))
    wide = max(width(cell, BODY, column.bold) for cell in cells if isinstance(cell, str)) + _EDGES
    return replace(column, width=max(min(column.width, wide), head))


def _page(
    flow: Flow,
    columns: Sequence[Column],
    rows: Sequence[Sequence[Cell]],
    taken: Sequence[int],
    row_height: float,
    step: float,
) -> None:
    """Set the columns of one page side by side, so many rows in each."""
    first, lowest = 0, flow.y
    for place, count in enumerate(taken):
        part = Flow(flow.leaf, "", "")
        part.y = flow.y
        part.table(columns, rows[first : first + count], row_height)
        flow.items += [moved(item, (place * step, 0.0)) for item in part.items]
        first, lowest = first + count, min(lowest, part.y)
    flow.y = lowest


def _even(heights: Sequence[float], across: int) -> float:
    """The least height at which the rows, kept in order, fit in the columns."""
    target = max(sum(heights) / across, *heights)
    while sum(_taken(heights, across, target)) < len(heights):
        target += 1.0
    return target


def _taken(heights: Sequence[float], across: int, target: float) -> list[int]:
    """How many rows each column takes at that height, one at least."""
    taken, first = [], 0
    for _ in range(across):
        used, count = 0.0, 0
        for height in heights[first:]:
            if count and used + height > target + 1e-6:
                break
            used, count = used + height, count + 1
        if count:
            taken.append(count)
        first += count
    return taken
