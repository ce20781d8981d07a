"""Where a page's words, fields and lines lie, and which of them get in each other's way."""

from __future__ import annotations

from itertools import combinations, pairwise
from typing import TYPE_CHECKING

from stairjig.drawing import Ellipse, Field, Fill, Run, Stroke, Text
from stairjig.type import width

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from stairjig.drawing import Item, Page, Point

Box = tuple[float, float, float, float]
"""Left, low, right and high, mm."""


def texts_of(pages: Iterable[Page]) -> list[Text]:
    return [item for page in pages for item in page.items if isinstance(item, Text)]


def words_of(pages: Iterable[Page]) -> str:
    """All words in the order in which they were set, one blank between them."""
    return " ".join(text.text for text in texts_of(pages))


def fields_of(pages: Iterable[Page]) -> list[Field]:
    return [item for page in pages for item in page.items if isinstance(item, Field)]


def text_area(text: Text) -> Box:
    """What a text covers, with what reaches over its capitals and under its line."""
    long = width(text.text, text.size, text.bold)
    back = {"start": 0.0, "middle": long / 2, "end": long}[text.anchor]
    low, high = -0.28 * text.size, 1.05 * text.size
    u, v = text.at
    if text.angle == 90:
        return u - high, v - back, u - low, v - back + long
    if text.angle == 180:
        return u + back - long, v - high, u + back, v - low
    assert text.angle == 0
    return u - back, v + low, u - back + long, v + high


def area(item: Item | Run) -> Box:
    match item:
        case Text():
            return text_area(item)
        case Field():
            return (*item.at, item.at[0] + item.width, item.at[1] + item.height)
        case Ellipse():
            (u, v), a, b = item.centre, item.half_width, item.half_height
            return u - a, v - b, u + a, v + b
        case Stroke() | Fill():
            us, vs = zip(*item.points, strict=True)
            return min(us), min(vs), max(us), max(vs)
    raise AssertionError(item)


def meet(one: Box, other: Box) -> bool:
    across = one[0] < other[2] - 0.01 and other[0] < one[2] - 0.01
    return across and one[1] < other[3] - 0.01 and other[1] < one[3] - 0.01


def clashes(page: Page) -> list[tuple[str, str]]:
    """Texts and fields that lie over one another."""
    boxes = [(item.text, area(item)) for item in page.items if isinstance(item, Text)]
    boxes += [(item.name, area(item)) for item in page.items if isinstance(item, Field)]
    return [(one, other) for (one, at), (other, there) in combinations(boxes, 2) if meet(at, there)]


def outside(page: Page, margin: float) -> list[Item | Run]:
    """What reaches into the unprinted edge of the paper."""
    right, top = page.width - margin + 1e-6, page.height - margin + 1e-6
    least = margin - 1e-6

    def inside(box: Box) -> bool:
        return box[0] >= least and box[1] >= least and box[2] <= right and box[3] <= top

    return [item for item in page.items if not inside(area(item))]


def struck_out(page: Page) -> Iterator[str]:
    """Words that a black line runs through; a faint one may pass under them."""
    found = [(text.text, text_area(text)) for text in texts_of([page])]
    for item in page.items:
        if isinstance(item, Stroke) and not item.pen.grey:
            corners = (*item.points, item.points[0]) if item.closed else item.points
            for start, end in pairwise(corners):
                yield from (text for text, box in found if _crosses(start, end, box))


def _crosses(start: Point, end: Point, box: Box) -> bool:
    """Whether a segment enters a box, a hair's breadth inside its edges (Liang and Barsky)."""
    (u0, v0), (u1, v1) = start, end
    hair = 0.15
    near, far = 0.0, 1.0
    for at, by, low, high in (
        (u0, u1 - u0, box[0] + hair, box[2] - hair),
        (v0, v1 - v0, box[1] + hair, box[3] - hair),
    ):
        if by == 0:
            if not low < at < high:
                return False
            continue
        first, last = sorted(((low - at) / by, (high - at) / by))
        near, far = max(near, first), min(far, last)
    return near < far
