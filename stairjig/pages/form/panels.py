"""Panels: items with what they take up, drawn from their lower left corner, set together, mm."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stairjig.drawing import Item, Pen, moved
from stairjig.frozen import frozen
from stairjig.pages.form.sketch import Sketch

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stairjig.drawing import Point

GAP = 2.5
"""Between questions one under the other, mm."""
_SQUARE = 5.0


@frozen
class Panel:
    """Items and what they take up."""

    items: tuple[Item, ...]
    width: float
    height: float


def panel_of(sketch: Sketch) -> Panel:
    """A drawing as a panel."""
    return Panel(tuple(sketch.items), sketch.width, sketch.height)


def placed(panel: Panel, at: Point) -> list[Item]:
    """The panel's items with its lower left corner at that point."""
    return [moved(item, at) for item in panel.items]


def stacked(panels: Sequence[Panel], gap: float = GAP) -> Panel:
    """Panels one under the other."""
    height = sum(panel.height for panel in panels) + gap * (len(panels) - 1)
    items: list[Item] = []
    y = height
    for panel in panels:
        y -= panel.height
        items += placed(panel, (0.0, y))
        y -= gap
    return Panel(tuple(items), max(panel.width for panel in panels), height)


def beside(panels: Sequence[Panel], room: float) -> Panel:
    """Panels side by side, their heads level, spread over `room` mm."""
    height = max(panel.height for panel in panels)
    free = room - sum(panel.width for panel in panels)
    gap = free / (len(panels) - 1) if len(panels) > 1 else 0.0
    items: list[Item] = []
    x = 0.0
    for panel in panels:
        items += placed(panel, (x, height - panel.height))
        x += panel.width + gap
    return Panel(tuple(items), room, height)


def squared(room: float, high: float) -> Panel:
    """Squared paper, as many squares as there is room for."""
    wide, tall = int(room // _SQUARE) * _SQUARE, int(high // _SQUARE) * _SQUARE
    sketch = Sketch(room, tall)
    for n in range(round(wide / _SQUARE) + 1):
        sketch.line(Pen.FAINT, (n * _SQUARE, 0.0), (n * _SQUARE, tall))
    for n in range(round(tall / _SQUARE) + 1):
        sketch.line(Pen.FAINT, (0.0, n * _SQUARE), (wide, n * _SQUARE))
    return panel_of(sketch)
