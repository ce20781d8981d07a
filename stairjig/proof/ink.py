"""Whether what stands on a page comes out on it: no ink over words and lines, none too pale.

Held of every page, strips or not: a helper works from the test sheet, the steps and the check page
as from the strips.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from stairjig.proof.marks import Box, ReadPage, ReadStroke, ReadText

Item = ReadStroke | ReadText
Fill = tuple[ReadStroke, Box]
"""A filled shape, and what it takes of the page."""

HEAVIEST = 0.95
"""No line is drawn heavier, mm: the heaviest pen is that of edges to cut, 0.9."""
_PALEST = 0.6
"""The lightness of the palest lines; the pen of faint ones has 0.55."""
_CONTRAST, _LINE_CONTRAST = 0.4, 0.3
"""How much lighter or darker words, and lines, are than what they stand on, at the least."""
_PAPER = 1.0
_HAIR = 0.05
PICTURES = ("cover", "steps")
"""The labels of pages with drawings, where a shape may lie over another one's lines."""


def ink_faults(page: ReadPage, where: str) -> Iterable[str]:
    """What of a page can't be seen as it is to be seen, but for lines under shapes."""
    for doubt in page.doubts:
        yield f"{where}: it uses {doubt}, which may hide or change what it says"
    items = _items(page)
    yield from dict.fromkeys(f"{where}: {fault}" for fault in _line_faults(items))
    yield from (f"{where}: {fault}" for fault in _text_faults(items, _fills(items)))


def cover_faults(page: ReadPage, where: str) -> Iterable[str]:
    """Lines of a page that are under shapes, of one that has no pictures by its label."""
    if page.label.partition(" ")[0] not in PICTURES:
        items = _items(page)
        if fills := _fills(items):
            yield from dict.fromkeys(f"{where}: {fault}" for fault in _covered(items, fills))


def _items(page: ReadPage) -> list[Item]:
    items = [*page.items]
    for run in page.runs:
        items += [*run.strokes, *run.texts]
    return items


def _fills(items: Iterable[Item]) -> list[Fill]:
    return [(i, i.box) for i in items if isinstance(i, ReadStroke) and i.filled]


def _line_faults(items: Iterable[Item]) -> Iterable[str]:
    for item in items:
        if isinstance(item, ReadStroke) and item.weight > 0:
            if item.weight > HEAVIEST:
                yield f"a line is {item.weight:.1f} mm thick"
            if item.grey > _PALEST:
                yield "a line is too pale to be seen"


def _text_faults(items: Iterable[Item], fills: Sequence[Fill]) -> Iterable[str]:
    """Words under a shape, or hardly lighter or darker than what they stand on."""
    for text in items:
        if not isinstance(text, ReadText):
            continue
        over = _over(text.box, fills, _HAIR) if fills else ()
        if any(fill.order > text.order for fill in over):
            yield f"a shape lies over {text.text!r}"
        elif abs((over[-1].grey if over else _PAPER) - text.grey) < _CONTRAST:
            yield f"{text.text!r} is too pale to be read"


def _covered(items: Iterable[Item], fills: Sequence[Fill]) -> Iterable[str]:
    """Lines under a shape that is painted after them, or on one that is as dark."""
    for line in items:
        if isinstance(line, ReadStroke) and not line.filled:
            for fill in _over(line.box, fills, -_HAIR):
                if fill.order > line.order:
                    yield "a shape lies over a line"
                elif abs(fill.grey - line.grey) < _LINE_CONTRAST:
                    yield "a line is too pale to be seen on what it stands on"


def _over(box: Box, fills: Sequence[Fill], by: float) -> list[ReadStroke]:
    """The shapes that take some of a box, and reach into it by so much, mm."""
    left, low, right, high = box[0] + by, box[1] + by, box[2] - by, box[3] - by
    return [
        fill
        for fill, (start, bottom, end, top) in fills
        if bottom < high and top > low and start < right and end > left
    ]
