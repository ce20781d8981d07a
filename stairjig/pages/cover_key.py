"""The one key of line kinds that every sheet of the pack keeps to."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stairjig.drawing import Ellipse, Pen, Stroke, Text, cross, moved
from stairjig.pages.flow import BODY, LEADING, lines_in
from stairjig.pieces.values import CROSS_ARM
from stairjig.sheets.tiles import REGISTER_RADIUS

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from stairjig.drawing import Item
    from stairjig.pages.flow import Flow

LINES = (
    (Pen.CUT, "cut", "cut along it: the edge of a strip"),
    (Pen.JOINT, "joint", "cut the upper tile here, lay it on the lower one's lap"),
    (Pen.RISER, "riser", "face of a riser; on a rail strip where it lands, plumb"),
    (Pen.NOSING, "nosing", "the nosing's edge, in front of its riser"),
    (Pen.LINE, "line", "the line: centre of balusters and rail"),
    (Pen.BASE, "base", "outline of a baluster's base; in a rail its plumb hole"),
    (Pen.HOLE, "hole", "a hole to bore"),
    (Pen.EDGE, "edge", "edge of a narrow rail; newel that is still to come"),
)
_SAMPLE = 24.0
_ROW = 10.5


def key(flow: Flow) -> None:
    """Set the key in two columns, or in one on narrow paper."""
    across = 2 if flow.leaf.room >= 150.0 else 1
    wide = flow.leaf.room / across
    cells = [*_line_cells(wide), *_mark_cells(wide)]
    flow.heading("Lines and marks", follow=_ROW * (len(cells) + 1) // across)
    for start in range(0, len(cells), across):
        items: list[Item] = []
        for place, cell in enumerate(cells[start : start + across]):
            items += _shifted(cell, place * wide)
        flow.drawing(items, _ROW)
    flow.space(2.0)


def _shifted(cell: Sequence[Item], by: float) -> list[Item]:
    return [moved(item, (by, 0.0)) for item in cell]


def _line_cells(wide: float) -> Iterator[list[Item]]:
    for pen, name, meaning in LINES:
        stroke = Stroke(((1.0, _ROW / 2), (_SAMPLE - 3.0, _ROW / 2)), pen)
        yield [stroke, *_words(name, meaning, wide)]


def _mark_cells(wide: float) -> Iterator[list[Item]]:
    at = (_SAMPLE / 2, _ROW / 2)
    meaning = "a mark, the centre of a baluster: two strokes of 9 mm"
    yield [*cross(at, CROSS_ARM, Pen.CROSS), *_words("cross", meaning, wide)]
    ring = Ellipse(at, REGISTER_RADIUS, REGISTER_RADIUS, Pen.THIN)
    meaning = "a joint's registration mark, half on each tile"
    yield [ring, *cross(at, CROSS_ARM, Pen.CROSS), *_words("ring", meaning, wide)]


def _words(name: str, meaning: str, wide: float) -> list[Item]:
    start = _SAMPLE + 15.5
    lines = lines_in(meaning, BODY, wide - start - 3.0)
    middle = _ROW / 2 - BODY / 2
    top = middle + (len(lines) - 1) * BODY * LEADING * 0.45
    items: list[Item] = [Text(name, (_SAMPLE, middle), BODY, bold=True)]
    items += [
        Text(line, (start, top - n * BODY * LEADING * 0.9), BODY) for n, line in enumerate(lines)
    ]
    return items
