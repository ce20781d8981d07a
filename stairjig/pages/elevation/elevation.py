"""A section drawn in elevation, to scale, as seen from its open side."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stairjig.drawing import Ellipse, Fill, Pen, Stroke
from stairjig.frozen import frozen
from stairjig.job.model import TreadsSection
from stairjig.pages.elevation import parts
from stairjig.pages.elevation.dims import Dimensions
from stairjig.pages.elevation.labels import Labels
from stairjig.pages.elevation.measures import room_for
from stairjig.pages.elevation.view import View, scale_for

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from stairjig.drawing import Item, Point
    from stairjig.lengths import Shown
    from stairjig.setout.values import SectionSetout

SHADES = (None, 0.0, 0.6, 0.85)
"""How types of balusters are told apart: white, black, grey, light; then again with a ring."""


@frozen
class Drawing:
    """A drawing from its own lower left corner, mm; `scale`: one to so many."""

    items: tuple[Item, ...]
    width: float
    height: float
    scale: float


def kinds_of(sections: Sequence[SectionSetout]) -> tuple[str, ...]:
    """List the types of balusters that stand in some sections, in order of first use."""
    return tuple(dict.fromkeys(mark.type.name for one in sections for mark in one.marks))


def elevation_view(section: SectionSetout, shown: Shown, room: Point) -> View:
    """Find the scale at which a section and its dimensions fit in `room` (width, height), mm.

    A section whose open side is on the left climbs to the left, as it does for whoever stands
    there.
    """
    side = section.section.side if isinstance(section.section, TreadsSection) else "right"
    return scale_for(
        parts.reach(section),
        parts.heights(section),
        room,
        room_for(section, shown),
        -1 if side == "left" else 1,
    )


def elevation(
    section: SectionSetout, shown: Shown, room: Point, kinds: Sequence[str] = ()
) -> Drawing:
    """Draw a section with its steps, newels, rail and every baluster, and what to check by eye.

    `room`: width and height it may take, mm; `kinds`: the job's types of balusters, in the order
    of their shades.
    """
    view = elevation_view(section, shown, room)
    shades = tuple(kinds) or kinds_of([section])
    labels = Labels(view.width, view.height)
    items: list[Item] = [*_structure(section, view), *_balusters(section, view, shades)]
    items += _newels(section, view)
    items += Dimensions(section, shown, view, labels).draw()
    return Drawing((*items, *labels.texts), view.width, view.height, view.scale)


def _structure(section: SectionSetout, view: View) -> Iterator[Item]:
    wall = parts.wall_below(section)
    if wall:
        yield Fill(view.all(wall), grey=0.95)
    for line, pen in (
        (parts.steps(section), Pen.RULE),
        (parts.steps_below(section), Pen.FAINT),
        (_ground_line(section), Pen.RULE),
    ):
        if line:
            yield Stroke(view.all(line), pen)
    for shape in (parts.shoe_shape(section), parts.rail_shape(section)):
        if shape:
            yield Stroke(view.all(shape), Pen.BASE, closed=True)


def _ground_line(section: SectionSetout) -> tuple[Point, ...]:
    """The floor, or the top of the wall, under a section without steps of its own."""
    if section.treads or parts.steps_below(section):
        return ()
    lines, (low, high) = parts.lines_of(section), parts.reach(section)
    return ((low, lines.base(low)), (high, lines.base(high)))


def _balusters(section: SectionSetout, view: View, kinds: Sequence[str]) -> Iterator[Item]:
    for mark, shape in parts.balusters(section):
        yield from shaded(view.all(shape), kinds.index(mark.type.name))


def shaded(shape: tuple[Point, ...], kind: int) -> Iterator[Item]:
    """Draw a baluster's shape in the shade of its type, by its place among the types."""
    grey = SHADES[kind % len(SHADES)]
    if grey is not None:
        yield Fill(shape, grey)
    yield Stroke(shape, Pen.CROSS, closed=True)
    if kind >= len(SHADES):
        middle = (
            sum(u for u, _ in shape) / len(shape),
            sum(v for _, v in shape) / len(shape),
        )
        yield Ellipse(middle, 0.9, 0.9, Pen.THIN)


def _newels(section: SectionSetout, view: View) -> Iterator[Item]:
    for newel in section.newels:
        if newel.kind == "post":
            shape = view.all(parts.newel_shape(section, newel))
            yield Fill(shape, grey=0.94)
            yield Stroke(shape, Pen.BASE, closed=True)
            continue
        foot, top = view.all(parts.wall_face(section, newel))
        yield Stroke((foot, top), Pen.HEAVY)
        yield from _hatching(foot, top, view.sense * (1 if newel.end == "upper" else -1))


def _hatching(foot: Point, top: Point, away: int) -> Iterator[Item]:
    """Short slanting strokes on a wall's far side."""
    v = foot[1]
    while v + 2.0 <= top[1]:
        yield Stroke(((foot[0], v), (foot[0] + away * 2.0, v + 2.0)), Pen.FAINT)
        v += 2.0
