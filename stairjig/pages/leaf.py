"""The paper that pages are set on, and what stands at the foot of each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from stairjig.drawing import Item, Page, Pen, Stroke, Text
from stairjig.frozen import frozen
from stairjig.job.model import Paper
from stairjig.pages.lines import fitted
from stairjig.type import width

FOOT = 9.0
"""Kept free at the foot for the sheet's number, title and pack ID, mm."""
WIDEST = 260.0
TALLEST = 420.0


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
