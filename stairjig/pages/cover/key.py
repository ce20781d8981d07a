"""The one key of line kinds that every sheet of the pack keeps to."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stairjig.drawing import Ellipse, Pen, Stroke, Text, cross, moved
from stairjig.pages.lines import BODY, LEADING, lines_in
from stairjig.pieces.values import CROSS_ARM
from stairjig.sheets.tiles import REGISTER_RADIUS

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from stairjig.drawing import Item
    from stairjig.pages.flow import Flow

LINES = (
    (Pen.CUT, "cut", "cut here; round a newel, too"),
    (Pen.JOINT, "joint", "upper tile's edge: don't cut"),
    (Pen.RISER, "riser", "riser's face, or plumb above it"),
    (Pen.NOSING, "nosing", "a nosing's edge"),
    (Pen.LINE, "line", "centre of balusters and rail"),
    (Pen.BASE, "base", "the baluster's foot on the wood"),
    (Pen.HOLE, "hole", "a hole to bore, tread or rail"),
    (Pen.EDGE, "edge", "narrow rail; newel yet to come"),
)
_SAMPLE = 22.0
_START = _SAMPLE + 15.0
_LEAST = 6.0
_MARK = 9.3
_LEADING = BODY * LEADING * 0.9

Entry = tuple[tuple["Item", ...], str, str]
"""What is drawn, about the middle of its place; its name; what it means."""


def key(flow: Flow) -> None:
    """Set the key in two columns, or in one on narrow paper."""
    across = 2 if flow.leaf.room >= 150.0 else 1
    wide = flow.leaf.room / across
    entries = [*_line_entries(), *_mark_entries()]
    rows = [entries[start : start + across] for start in range(0, len(entries), across)]
    heights = [_height(row, wide) for row in rows]
    flow.heading("Lines and marks", follow=min(sum(heights), 120.0))
    for row, high in zip(rows, heights, strict=True):
        items: list[Item] = []
        for place, entry in enumerate(row):
            items += [moved(item, (place * wide, high / 2)) for item in _drawn(entry, wide)]
        flow.drawing(items, high)
    flow.space(2.0)


def _height(row: Sequence[Entry], wide: float) -> float:
    most = max(len(_lines(meaning, wide)) for _, _, meaning in row)
    least = _MARK if any(len(sample) > 1 for sample, _, _ in row) else _LEAST
    return max(least, most * _LEADING + 1.8)


def _lines(meaning: str, wide: float) -> list[str]:
    return lines_in(meaning, BODY, wide - _START - 3.0)


def _drawn(entry: Entry, wide: float) -> Iterator[Item]:
    """An entry, 0 being the middle of its row."""
    sample, name, meaning = entry
    yield from sample
    yield Text(name, (_SAMPLE, -BODY / 2), BODY, bold=True)
    lines = _lines(meaning, wide)
    top = (len(lines) - 1) * _LEADING / 2 - BODY / 2
    for n, line in enumerate(lines):
        yield Text(line, (_START, top - n * _LEADING), BODY)


def _line_entries() -> Iterator[Entry]:
    for pen, name, meaning in LINES:
        yield (Stroke(((1.0, 0.0), (_SAMPLE - 3.0, 0.0)), pen),), name, meaning


def _mark_entries() -> Iterator[Entry]:
    at = (_SAMPLE / 2, 0.0)
    strokes = cross(at, CROSS_ARM, Pen.CROSS)
    tick = Stroke(((_SAMPLE - 5.0, 0.0), (_SAMPLE - 2.0, 0.0)), Pen.TICK)
    yield (*strokes, tick), "cross", "a mark; tick: a plumbed one"
    ring = Ellipse(at, REGISTER_RADIUS, REGISTER_RADIUS, Pen.THIN)
    yield (ring, *strokes), "ring", "a joint's two tiles close here"
