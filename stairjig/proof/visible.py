"""Whether what a sheet says can be seen: black, large enough, on the paper, nothing over it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import combinations

from stairjig.job.model import Paper
from stairjig.proof.ink import HEAVIEST
from stairjig.proof.marks import CAPITALS, Box, ReadPage, ReadRun, ReadStroke, ReadText, overlap
from stairjig.proof.tiles import is_arm

Point = tuple[float, float]
_BLACK = 0.1
_THINNEST = 0.09
_HEAVIEST_ARM, _HEAVIEST_DASHED = 0.2, 0.65
"""The thickest strokes of crosses, 0.12, and dashed lines, 0.6, mm."""
_SMALLEST = 2.5 - 0.01
"""The least height of capitals, mm, but for rounding."""
_DASHES = (
    (5.0, 2.2, 1.0, 2.2),
    (14.0, 2.5),
    (2.5, 2.5),
    (9.0, 1.2, 0.8, 1.2),
    (0.5, 1.0),
    (6.0, 1.2, 0.7, 1.2, 0.7, 1.2),
)
"""Dash and space in turn, mm: joints, risers, nosings, the line, holes, a rail's edges."""
_DASH_OFF = 0.01
_HAIR = 0.05


def page_faults(page: ReadPage, number: str, paper: Paper, scale: Point) -> Iterable[str]:
    """What of a sheet of strips can't be seen as it is to be seen, or is not the job's paper."""
    where, tiles = f"sheet {number}", [run for run in page.runs if run.tag == "Tile"]
    if page.notes:
        yield f"{where}: a viewer lays fields or notes over it"
    yield from _paper_faults(page, where, paper)
    boxes = []
    for run in tiles:
        name = run.texts[0].text if run.texts else "a tile without a name"
        for fault in dict.fromkeys(_faint(run)):
            yield f"{name}, {where}: {fault}"
        boxes.append((name, _whole(run.strokes)))
    yield from _place_faults(page, where, paper, scale, boxes)
    yield from _strange_faults(page, where, boxes)


def _paper_faults(page: ReadPage, where: str, paper: Paper) -> Iterable[str]:
    wide, high = float(paper.width), float(paper.height)
    off = abs(page.width - wide)
    if not paper.roll:
        off = max(off, abs(page.height - high))
    elif page.height > high + _HAIR:
        off = page.height - high
    if off > _HAIR or page.turned:
        turned = f", turned by {page.turned}°" if page.turned else ""
        yield (
            f"{where}: its paper is {page.width:.1f} x {page.height:.1f} mm{turned}, "
            f"not {paper.name}"
        )


def _faint(run: ReadRun) -> Iterable[str]:
    for stroke in run.strokes:
        if stroke.filled:
            yield "a shape is filled, and may cover what lies under it"
        elif stroke.grey > _BLACK or stroke.weight < _THINNEST:
            yield "a line is not black or too thin to be seen"
        elif stroke.weight > _heaviest(stroke):
            yield "a line is too thick"
        elif not _is_dashed_so(stroke.dashes):
            yield "a line's dashes are those of no line of a strip"
    for text in run.texts:
        if text.grey > _BLACK or text.size * CAPITALS < _SMALLEST:
            yield f"{text.text!r} is not black or too small to be read"


def _heaviest(stroke: ReadStroke) -> float:
    """How thick a line may be, by what it can be."""
    if stroke.kinds == "l" and is_arm(stroke):
        return _HEAVIEST_ARM
    return _HEAVIEST_DASHED if stroke.dashes else HEAVIEST


def _is_dashed_so(dashes: Sequence[float]) -> bool:
    """Whether a line is full or has the dashes of one that a strip may have."""
    return not dashes or any(
        len(dashes) == len(own)
        and all(
            abs(dash - as_drawn) <= _DASH_OFF for dash, as_drawn in zip(dashes, own, strict=True)
        )
        for own in _DASHES
    )


def _whole(strokes: Sequence[ReadStroke]) -> Box:
    """What the strokes of a tile take of the page."""
    us = [u for stroke in strokes for u, _ in stroke.points] or [0.0]
    vs = [v for stroke in strokes for _, v in stroke.points] or [0.0]
    return min(us), min(vs), max(us), max(vs)


def _place_faults(
    page: ReadPage, where: str, paper: Paper, scale: Point, boxes: Sequence[tuple[str, Box]]
) -> Iterable[str]:
    """Tiles beyond the margin, as they come out on their printer, and those over each other."""
    margin, middle = float(paper.margin.mm), (page.width / 2, page.height / 2)
    room = [middle[axis] - margin + _HAIR for axis in (0, 1)]
    for name, ends in boxes:
        reach = [
            max(abs(ends[n] - middle[axis]), abs(ends[n + 2] - middle[axis])) / scale[axis]
            for n, axis in ((0, 0), (1, 1))
        ]
        if reach[0] > room[0] or reach[1] > room[1]:
            yield f"{name}, {where}: the tile reaches into the margin or off the page"
    for (name, one), (other, two) in combinations(boxes, 2):
        if overlap(one, two, -_HAIR):
            both = f"two tiles of {name}" if name == other else f"{name} and {other}"
            yield f"{where}: {both} lie over each other"


def _strange_faults(page: ReadPage, where: str, boxes: Sequence[tuple[str, Box]]) -> Iterable[str]:
    """What is no part of a tile and lies on it."""
    items = [*page.items]
    for run in page.runs:
        if run.tag != "Tile":
            items += [*run.strokes, *run.texts]
    for item in items:
        for name, tile in boxes:
            if overlap(item.box, tile, -_HAIR):
                what = repr(item.text) if isinstance(item, ReadText) else "a line or a shape"
                yield f"{name}, {where}: {what} that is no part of it lies on the tile"
