"""A mark drawn to shape: its base on the tread or the shoe, its plumb hole in the rail."""

from __future__ import annotations

from stairjig.drawing import Ellipse, Pen, Point, Stroke
from stairjig.job.model import Baluster, Hole
from stairjig.lengths import Shown
from stairjig.pieces.shapes import box
from stairjig.pieces.values import CROSS_ARM, Spot
from stairjig.setout.values import Mark


def base_spot(
    mark: Mark, at: Point, reading: str, shown: Shown, stretch: float = 1.0, below: float = 1e9
) -> Spot:
    """A mark on a tread or shoe, the base and the hole turned with the line.

    `stretch`: how much longer plumb shapes come out along the strip, 1 / cos of its pitch;
    `below`: paper under the mark; a hole that reaches beyond it is not drawn, only told.
    """
    kind = mark.type
    base = float(kind.base.mm)
    shapes: list[Stroke | Ellipse] = [_section(kind.shape, at, base, stretch, Pen.BASE)]
    if kind.tread_hole and float(kind.tread_hole.size.mm) / 2 * stretch < below:
        shapes.append(_round(at, float(kind.tread_hole.size.mm), stretch, Pen.HOLE))
    notes = _notes(kind, kind.tread_hole, shown)
    return _spot(mark, at, shapes, reading, notes)


def rail_spot(
    mark: Mark, at: Point, reading: str, shown: Shown, stretch: float, plowed: bool
) -> Spot:
    """A mark on the rail's underside: the plumb hole as it opens there, else the baluster."""
    kind = mark.type
    shapes: list[Stroke | Ellipse]
    if kind.rail_hole and not plowed:
        shapes = [_round(at, float(kind.rail_hole.size.mm), stretch, Pen.HOLE)]
    else:
        shapes = [_section(kind.shape, at, float(kind.width.mm), stretch, Pen.BASE)]
    notes = _notes(kind, None if plowed else kind.rail_hole, shown)
    return _spot(mark, at, shapes, reading, notes)


def rail_reach(mark: Mark, plowed: bool) -> float:
    """How far a mark reaches to either side on the rail's underside, mm."""
    hole = None if plowed else mark.type.rail_hole
    return max(CROSS_ARM, float((hole.size if hole else mark.type.width).mm) / 2)


def _spot(
    mark: Mark, at: Point, shapes: list[Stroke | Ellipse], reading: str, notes: tuple[str, ...]
) -> Spot:
    half, across = CROSS_ARM, CROSS_ARM
    for shape in shapes:
        high, wide = _halves(shape, at)
        half, across = max(half, high), max(across, wide)
    return Spot(mark.name, at, half, across, tuple(shapes), reading, notes)


def _halves(shape: Stroke | Ellipse, at: Point) -> tuple[float, float]:
    if isinstance(shape, Ellipse):
        return shape.half_height, shape.half_width
    return (
        max(abs(v - at[1]) for _, v in shape.points),
        max(abs(u - at[0]) for u, _ in shape.points),
    )


def _section(shape: str, at: Point, size: float, stretch: float, pen: Pen) -> Stroke | Ellipse:
    if shape == "round":
        return _round(at, size, stretch, pen)
    return box(at, size / 2, size / 2 * stretch, pen)


def _round(at: Point, size: float, stretch: float, pen: Pen) -> Ellipse:
    return Ellipse(at, size / 2, size / 2 * stretch, pen)


def _notes(kind: Baluster, hole: Hole | None, shown: Shown) -> tuple[str, ...]:
    sign = "⌀ " if kind.shape == "round" else ""
    size = f"{sign}{shown.text(kind.width.mm)}{' square' if kind.shape == 'square' else ''}"
    base = f", base {shown.text(kind.base.mm)}" if kind.base.mm != kind.width.mm else ""
    what = f"{kind.name}, {size}{base}"
    if hole is None:
        return (what,)
    return (what, f"bore ⌀ {shown.text(hole.size.mm)}, {shown.text(hole.depth.mm)} deep")
