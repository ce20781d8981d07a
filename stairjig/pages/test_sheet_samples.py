"""Samples at true size of what stands on the strips, so that it is known when it is met."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stairjig.drawing import Ellipse, Pen, Stroke, Text, cross, moved
from stairjig.frozen import frozen
from stairjig.pages.lines import BODY, LEADING, lines_in
from stairjig.pieces.spots import base_spot
from stairjig.pieces.values import CROSS_ARM
from stairjig.sheets.joints import LAP
from stairjig.sheets.tiles import INSIDE_EDGE, REGISTER_RADIUS

if TYPE_CHECKING:
    from stairjig.drawing import Item, Point
    from stairjig.setout.values import Setout

_TILE = 50.0
_PART = 15.0
_NAME = 5.0
_NOTE = 46.0


@frozen
class Sample:
    """Something drawn at true size from its lower left corner, with words under it; mm."""

    items: tuple[Item, ...]
    width: float
    height: float
    words: str

    @property
    def texts(self) -> tuple[Text, ...]:
        """The words, in lines under the drawing."""
        lines = lines_in(self.words, BODY, self.width)
        return tuple(
            Text(line, (0.0, -BODY * 1.7 - n * BODY * LEADING), BODY)
            for n, line in enumerate(lines)
        )

    @property
    def under(self) -> float:
        """Room that the words take, mm."""
        return len(self.texts) * BODY * LEADING + 1.5


def mark_sample(setout: Setout) -> Sample:
    """Draw the job's first mark as it stands on its strip: base, hole and cross, with its name."""
    mark, shown = setout.sections[0].marks[0], setout.job.shown
    spot = base_spot(mark, (0.0, 0.0), "", shown)
    wide, high = spot.across, spot.half
    notes = [line for note in spot.notes for line in lines_in(note, BODY, _NOTE)]
    at = (wide + 2.0, max(high + 2.0, 5.0 + (len(notes) - 1) * BODY * LEADING))
    items: list[Item] = [moved(shape, at) for shape in spot.shapes]
    items += cross(at, CROSS_ARM, Pen.CROSS)
    start = at[0] + wide + 4.0
    items.append(Text(mark.name, (start, at[1] + 2.0), _NAME, bold=True))
    for n, line in enumerate(notes):
        items.append(Text(line, (start, at[1] - 3.6 - n * BODY * LEADING), BODY))
    dotted, beside = ("", "name and type")
    if mark.type.tread_hole:
        dotted, beside = ", dotted the hole", "name, type and hole"
    words = (
        f"A mark: the cross is the centre: prick where its strokes meet. Full line: "
        f"the base{dotted}. Beside it its {beside}."
    )
    return Sample(tuple(items), max(start + _NOTE, 96.0), max(at[1] + high + 2.0, 20.0), words)


def joint_samples() -> tuple[Sample, ...]:
    """Draw a joint: the lower tile with its lap, the upper tile cut, and both stuck together."""
    closed = (*_lower(lap=False), *(moved(item, (0.0, _PART)) for item in _upper(open_edge=True)))
    return (
        Sample(
            _lower(lap=True),
            _TILE,
            _PART + LAP,
            "Lower tile: cut round its lap, too. The lap stays on.",
        ),
        Sample(
            _upper(open_edge=False),
            _TILE,
            _PART + LAP,
            "Upper tile: cut through the rings, on its lower edge.",
        ),
        Sample(
            closed,
            _TILE,
            2 * _PART,
            "Joint: upper on the lap; rings and lines close. Then stick it.",
        ),
    )


def _lower(lap: bool) -> tuple[Item, ...]:
    """The lower tile's end, with its lap, or only up to the joint."""
    top = _PART + (LAP if lap else 0.0)
    items: list[Item] = []
    if lap:
        items.append(Text("LAP", (_TILE / 2 + 3.0, _PART + LAP / 2), BODY, bold=True))
    edge = ((0.0, 0.0), (0.0, top), (_TILE, top), (_TILE, 0.0))
    parts = (edge,) if lap else (edge[:2], edge[2:])
    items += [Stroke(part, Pen.CUT) for part in parts]
    items.append(Stroke(((_TILE / 2, 0.0), (_TILE / 2, top)), Pen.LINE))
    items.append(Stroke(((0.0, _PART), (_TILE, _PART)), Pen.JOINT))
    for name, at in _rings(_PART):
        items += _ring(at)
        items.append(Text(name, (at[0], _PART - 8.0), 2.5, bold=True, anchor="middle"))
    return tuple(items)


def _upper(open_edge: bool) -> tuple[Item, ...]:
    """The upper tile's end over its cut edge; the rings stand half under it before it is cut."""
    low = 0.0 if open_edge else LAP
    top = low + _PART
    edge = ((0.0, top), (0.0, low), (_TILE, low), (_TILE, top))
    items: list[Item] = [Stroke(edge, Pen.CUT)]
    items.append(Stroke(((_TILE / 2, low), (_TILE / 2, top)), Pen.LINE))
    for name, at in _rings(low):
        items += _ring(at)
        items.append(Text(name, (at[0], low + 5.4), 2.5, bold=True, anchor="middle"))
    return tuple(items)


def _rings(level: float) -> tuple[tuple[str, Point], ...]:
    return ("Ja", (INSIDE_EDGE, level)), ("Jb", (_TILE - INSIDE_EDGE, level))


def _ring(at: Point) -> list[Item]:
    ring = Ellipse(at, REGISTER_RADIUS, REGISTER_RADIUS, Pen.THIN)
    return [ring, *cross(at, CROSS_ARM, Pen.CROSS)]
