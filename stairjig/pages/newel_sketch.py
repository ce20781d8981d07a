"""A small elevation of a section's end: the newel or wall, the nearest baluster, what is taped.

Drawn to scale from s and height, in mm on the page, y upward. The measures stand in rows under
it, each with its line from one place to the other.
"""

from __future__ import annotations

from math import tan
from typing import TYPE_CHECKING

from stairjig.drawing import Pen, Stroke, Text, rectangle
from stairjig.frozen import frozen
from stairjig.type import width

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from stairjig.drawing import Item, Point
    from stairjig.lengths import Real
    from stairjig.setout.values import SectionSetout, SetNewel

LARGEST = 0.11
"""Scale of the sketch at the most."""
WIDE = 84.0
"""Width of the sketch, mm."""
_HIGH = 24.0
"""What a newel or baluster stands up to over the highest ground in the sketch, mm on the page."""
_CLIMB = 42.0
"""What the ground in the sketch climbs at the most, mm on the page."""
_BOARD = 25.0
"""Thickness of a tread's board as drawn, mm on the stair."""
_ROW = 6.5
_BEFORE, _BEYOND, _PAST = 90.0, 150.0, 45.0
"""What is seen of the stair beyond what is measured, and of a slope or a floor, mm."""
_WORDS = 2.6


@frozen
class Measure:
    """A taped length: from one s to another, and what it says."""

    start: float
    end: float
    words: str


@frozen
class _View:
    """How s and height come to stand on the page: `low` and `floor` at its lower left corner."""

    low: float
    high: float
    floor: float
    scale: float
    base: float

    def x(self, s: Real) -> float:
        return (float(s) - self.low) * self.scale

    def at(self, s: Real, height: float) -> Point:
        return self.x(s), self.base + (height - self.floor) * self.scale


def sketch(
    section: SectionSetout, newel: SetNewel, measures: Sequence[Measure]
) -> tuple[tuple[Item, ...], float]:
    """Draw the sketch from its lower left corner; give its height too."""
    view = _view(section, newel, measures)
    grounds = [height for _, height in _profile(section, view)]
    top = view.base + (max(grounds) - view.floor) * view.scale + _HIGH
    items = [
        Stroke(tuple(view.at(s, height) for s, height in _profile(section, view)), Pen.RULE),
        *_newel(section, newel, view, top),
        *_baluster(section, newel, view, top),
        *_riser_names(section, newel, view),
        *_measures(measures, view),
    ]
    return tuple(items), top


def _view(section: SectionSetout, newel: SetNewel, measures: Sequence[Measure]) -> _View:
    out = 1 if newel.end == "upper" else -1
    places = [float(newel.face) + (float(newel.width) or 40.0) * out, _nearest(section, newel)]
    places += [place for measure in measures for place in (measure.start, measure.end)]
    before, beyond = (_BEFORE, _BEYOND) if newel.end == "lower" else (_BEYOND, _BEFORE)
    if not section.treads:
        before = beyond = _PAST
    low, high = min(places) - before, max(places) + beyond
    climb = abs(_ground(section, high) - _ground(section, low))
    said = max(width(measure.words, _WORDS) for measure in measures) + 2.0
    right = max(max(measure.start, measure.end) for measure in measures)
    scale = min(
        LARGEST, WIDE / (high - low), (WIDE - said) / (right - low), _CLIMB / max(climb, 1.0)
    )
    base = _ROW * len(measures) + 3.0
    return _View(low, high, min(_ground(section, low), _ground(section, high)), scale, base)


def _nearest(section: SectionSetout, newel: SetNewel) -> float:
    return float(section.marks[0 if newel.end == "lower" else -1].s)


def _ground(section: SectionSetout, s: float) -> float:
    """Give the height of what lies under s: floor, tread, landing, or a slope."""
    if not section.treads:
        return s * tan(section.rail.pitch)
    height = 0.0
    for tread, top in zip(section.treads, section.tops, strict=False):
        if s >= float(tread.plan.front.s) - 1e-6:
            height = float(top)
    if s >= float(section.treads[-1].plan.back.s) - 1e-6:
        height = float(section.tops[-1])
    return height


def _profile(section: SectionSetout, view: _View) -> list[Point]:
    """List the steps' outline in the view, going up."""
    points: list[Point] = [(view.low, _ground(section, view.low))]
    for s, nosing, top in _risers(section):
        if view.low < s < view.high:
            below, edge = points[-1][1], max(view.low, s - nosing)
            points += [(s, below), (s, top - _BOARD), (edge, top - _BOARD), (edge, top)]
    return [*points, (view.high, _ground(section, view.high))]


def _risers(section: SectionSetout) -> Iterator[tuple[float, float, float]]:
    """Give each riser's s, its nosing along the line and the height over it."""
    for tread, top in zip(section.treads, section.tops, strict=False):
        yield float(tread.plan.front.s), float(tread.plan.front_nosing), float(top)
    if section.treads:
        last = section.treads[-1].plan
        yield float(last.back.s), float(last.back_nosing), float(section.tops[-1])


def _newel(section: SectionSetout, newel: SetNewel, view: _View, top: float) -> Iterator[Item]:
    out = 1 if newel.end == "upper" else -1
    face = view.x(newel.face)
    foot = view.at(newel.face, _ground(section, float(newel.centre)))[1]
    if newel.kind == "wall":
        yield Stroke(((face, foot), (face, top)), Pen.HEAVY)
        yield from _hatching(face, out, foot, top)
        return
    wide = float(newel.width) * view.scale
    yield rectangle(min(face, face + out * wide), foot, wide, top - foot, Pen.HEAVY)
    middle = view.x(newel.centre)
    yield Stroke(((middle, foot), (middle, top)), Pen.LINE)


def _hatching(face: float, out: int, foot: float, top: float) -> Iterable[Item]:
    count = int((top - foot - 3.0) / 3.0)
    for n in range(count):
        y = foot + 3.0 * n
        yield Stroke(((face, y + 3.0), (face + out * 3.0, y)), Pen.THIN)


def _baluster(section: SectionSetout, newel: SetNewel, view: _View, top: float) -> Iterator[Item]:
    mark = section.marks[0 if newel.end == "lower" else -1]
    wide = float(mark.type.width.mm) * view.scale
    left, foot = view.at(mark.s, _ground(section, float(mark.s)))
    yield rectangle(left - wide / 2, foot, wide, top - foot - 5.0, Pen.BASE)
    inward = 1 if newel.end == "lower" else -1
    at = (left + inward * (wide / 2 + 1.2), top - 8.0)
    yield Text(mark.name, at, _WORDS, bold=True, anchor="start" if inward > 0 else "end")


def _riser_names(section: SectionSetout, newel: SetNewel, view: _View) -> Iterator[Item]:
    """Name each riser behind its face, past a newel or a baluster that stands there."""
    plans = [tread.plan for tread in section.treads]
    risers = [(plan.number, float(plan.front.s)) for plan in plans]
    risers += [(plan.number + 1, float(plan.back.s)) for plan in plans[-1:]]
    for number, s in risers:
        if view.low < s < view.high:
            foot = view.at(s, _ground(section, s - 1.0))
            taken = [span for span, low in _standing(section, newel, view) if low < foot[1] + 1.0]
            yield from _riser_name(f"riser {number}", foot, taken)


def _standing(
    section: SectionSetout, newel: SetNewel, view: _View
) -> Iterator[tuple[tuple[float, float], float]]:
    """Give what stands in the sketch: from where to where, and its foot."""
    mark = section.marks[0 if newel.end == "lower" else -1]
    outer = newel.face + newel.width * (1 if newel.end == "upper" else -1)
    half = mark.type.width.mm / 2
    for start, end, middle in (
        (newel.face, outer, newel.centre),
        (mark.s - half, mark.s + half, mark.s),
    ):
        low, high = sorted((view.x(start), view.x(end)))
        yield (low, high), view.at(middle, _ground(section, float(middle)))[1]


def _riser_name(words: str, foot: Point, taken: Sequence[tuple[float, float]]) -> Iterator[Item]:
    start, wide = foot[0] + 1.2, width(words, _WORDS)
    for low, high in sorted(taken):
        if start < high + 1.2 and start + wide > low - 1.2:
            start = high + 1.5
    if start + wide < WIDE:
        yield Text(words, (start, foot[1] + 1.4), _WORDS)


def _measures(measures: Sequence[Measure], view: _View) -> Iterator[Item]:
    # What reaches furthest right comes first: no line down to a row crosses another's words.
    rows = sorted(measures, key=lambda m: -max(m.start, m.end))
    for row, measure in enumerate(rows):
        y = _ROW * (len(rows) - 1 - row) + 2.5
        left, right = sorted((view.x(measure.start), view.x(measure.end)))
        for x in (left, right):
            yield Stroke(((x, y - 1.5), (x, view.base - 0.5)), Pen.FAINT)
            yield Stroke(((x, y - 1.5), (x, y + 1.5)), Pen.RULE)
        yield Stroke(((left, y), (right, y)), Pen.RULE)
        yield Text(measure.words, (right + 1.8, y - 1.2), _WORDS)
