"""The measuring form's drawings of level and sloped sections, ends, rail and balusters."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from stairjig.drawing import Fill, Pen, moved
from stairjig.pages.form.drawings import code, stand, steps
from stairjig.pages.form.sketch import SHADE, Sketch

if TYPE_CHECKING:
    from stairjig.drawing import Point

_SLOPE = math.radians(27)


# On the level and on a slope


def level_drawing() -> Sketch:
    """Length and shoe of a level section."""
    sketch = Sketch(92.0, 40.0)
    sketch.box(2, 2, 88, 4)
    for x in (4.0, 76.0):
        sketch.box(x, 6, 6, 30)
    sketch.box(10, 6, 66, 3.2, grey=SHADE)
    for x in range(17, 76, 9):
        sketch.line(Pen.BASE, (x, 9.2), (x, 31))
    sketch.box(10, 31, 66, 3.2, grey=SHADE)
    sketch.measure(code("length"), (10, 20), (76, 20))
    sketch.line(Pen.THIN, (82, 9.2), (88, 9.2))
    sketch.measure(code("shoe_depth"), (86.5, 6), (86.5, 9.2))
    return sketch


def slope_drawing() -> Sketch:
    """Length along the slope, pitch and shoe of a sloped section."""
    sketch = Sketch(92.0, 62.0)
    rise = math.tan(_SLOPE)

    def up(x: float, plumb: float) -> Point:
        return x, 5 + (x - 8) * rise + plumb

    sketch.solid((8, 2), (88, 2), up(88, 0), up(8, 0), pen=Pen.HEAVY)
    for left in (8.0, 78.0):
        top = up(left + 6, 16)[1]
        sketch.solid(up(left, 0), up(left + 6, 0), (left + 6, top), (left, top))
    sketch.solid(up(14, 0), up(78, 0), up(78, 3.4), up(14, 3.4), grey=SHADE)
    for x in range(20, 78, 9):
        sketch.line(Pen.BASE, up(x, 3.4), up(x, 12))
    sketch.solid(up(14, 12), up(78, 12), up(78, 15.4), up(14, 15.4), grey=SHADE)
    sketch.measure(code("length"), up(14, 7.7), up(78, 7.7))
    sketch.line(Pen.EDGE, (8, 5), (62, 5))
    sketch.angle(code("pitch"), (8, 5), 36, 0, math.degrees(_SLOPE))
    return sketch


def bottom_rail_drawing() -> Sketch:
    """A bottom rail over open treads, and the stair under it."""
    sketch = Sketch(92.0, 60.0)
    run, rise, nosing, x, y = 26.0, 12.0, 4.0, 16.0, 3.0
    stand(sketch, steps((x, y), run, rise, nosing, 3, 4, 90), 1)
    slope = rise / run

    def over(at: float, plumb: float) -> Point:
        return at, y + rise + (at - x + nosing) * slope + plumb

    sketch.solid(over(5, 5), over(80, 5), over(80, 9), over(5, 9), grey=SHADE)
    for at in range(9, 80, 9):
        sketch.line(Pen.BASE, over(at, 9), over(at, 12))
    third, low = x + 2 * run, y + 2 * rise
    sketch.measure(code("lift"), over(x - nosing, 0), over(x - nosing, 5))
    sketch.measure(code("under_rise"), (third + 15, low), (third + 15, low + rise))
    sketch.line(Pen.THIN, (third, low), (third + 17, low))
    sketch.measure(code("under_run"), (x + run, low - 2.6), (third, low - 2.6), -6)
    sketch.measure(
        code("under_nosing"), (third - nosing, low + rise - 2.6), (third, low + rise - 2.6), -4
    )
    return sketch


# The ends


def ends_drawing() -> Sketch:
    """Both newels in elevation, each with the riser that it is measured from."""
    sketch = Sketch(186.0, 62.0)
    _lower(sketch)
    upper = Sketch(92.0, 62.0)
    _upper(upper)
    sketch.items += [moved(item, (94.0, 0.0)) for item in upper.items]
    return sketch


def _lower(sketch: Sketch) -> None:
    stand(sketch, ((4, 8), (52, 8), (52, 24), (46, 24), (46, 27), (88, 27)), 3)
    _newel(sketch, 22, 8)
    sketch.measure(code("face"), (52, 16), (31, 16), 0, 0.42)
    sketch.measure(code("newel_width"), (22, 11), (31, 11), 0)
    sketch.measure(code("newel_narrowest"), (24.5, 36), (28.5, 36))
    sketch.words("lower end", (3, 57), "start", bold=True)
    sketch.words("first riser's face", (54, 16), "start")
    sketch.words("here below it: minus", (54, 11), "start")
    _plus(sketch, (40, 50))


def _upper(sketch: Sketch) -> None:
    stand(sketch, ((4, 11), (40, 11), (40, 24), (34, 24), (34, 27), (88, 27)), 3)
    _newel(sketch, 58, 27)
    sketch.line(Pen.EDGE, (40, 24), (40, 42))
    sketch.measure(code("face"), (40, 39), (58, 39), 0, 0.5)
    sketch.measure(code("newel_width"), (58, 30), (67, 30))
    sketch.measure(code("newel_narrowest"), (60.5, 55), (64.5, 55))
    sketch.words("upper end", (3, 57), "start", bold=True)
    sketch.words("top riser's face", (38, 15), "end")
    sketch.words("the landing", (44, 20), "start")
    _plus(sketch, (8, 48))


def _newel(sketch: Sketch, left: float, foot: float) -> None:
    sketch.box(left, foot, 9, 18, grey=SHADE)
    sketch.box(left + 2.5, foot + 18, 4, 12, grey=SHADE)
    sketch.box(left + 0.5, foot + 30, 8, 3, grey=SHADE)


def _plus(sketch: Sketch, at: Point) -> None:
    sketch.words("+ up the stair", at, "start")
    sketch.arrow((at[0], at[1] - 2.5), (at[0] + 20, at[1] - 2.5))


# The rail


def rail_drawing() -> Sketch:
    """The rail's height and depth over the nosings."""
    sketch = Sketch(92.0, 74.0)
    run, rise, nosing, x, y = 26.0, 13.0, 4.0, 22.0, 3.0
    stand(sketch, steps((x, y), run, rise, nosing, 3, 4, 88), 1)
    slope = rise / run

    def over(at: float, plumb: float) -> Point:
        return at, y + rise + (at - x + nosing) * slope + plumb

    sketch.line(Pen.EDGE, over(6, 0), over(84, 0))
    sketch.solid(over(6, 17), over(84, 17), over(84, 24), over(6, 24), grey=SHADE)
    at = x + run - nosing
    sketch.measure(code("height"), over(at, 0), over(at, 24), 0, 0.4)
    lean = math.atan(slope)
    top = over(70, 24)
    deep = 7 * math.cos(lean)
    under = (top[0] + deep * math.sin(lean), top[1] - deep * math.cos(lean))
    sketch.measure(code("rail_depth"), top, under)
    sketch.words("dashed: on the nosings", (87, 6), "end")
    return sketch


def section_drawing() -> Sketch:
    """The rail cut across: its underside and the plow in it."""
    sketch = Sketch(92.0, 40.0)
    body = ((26, 14), (37, 14), (37, 19), (55, 19), (55, 14), (66, 14), (66, 26))
    crown = tuple((46 + 20 * math.cos(t), 26 + 10 * math.sin(t)) for t in _half_turn())
    sketch.solid(*body, *crown, grey=SHADE)
    sketch.measure(code("rail_width"), (26, 14), (66, 14), -8)
    sketch.measure(code("plow_width"), (37, 17), (55, 17), 0, 0.5)
    sketch.measure(code("plow_depth"), (66, 14), (66, 19), -6)
    sketch.words("the rail, cut square", (2, 36), "start")
    return sketch


def _half_turn() -> list[float]:
    return [math.pi * n / 10 for n in range(11)]


def taped_drawing() -> Sketch:
    """The propped rail's underside, taped from mark to mark and from newel to newel."""
    sketch = Sketch(92.0, 62.0)
    rise = math.tan(_SLOPE)

    def up(x: float, plumb: float) -> Point:
        return x, 17 + (x - 10) * rise + plumb

    for left in (4.0, 82.0):
        foot = up(left, -6)[1]
        sketch.solid((left, foot), (left + 6, foot), up(left + 6, 5), (left, up(left + 6, 5)[1]))
    sketch.solid(up(10, 0), up(82, 0), up(82, 5), up(10, 5), grey=SHADE)
    marks = (22.0, 70.0)
    for x, key in zip(marks, ("from", "to"), strict=True):
        sketch.line(Pen.EDGE, up(x, -15), up(x, 0))
        sketch.code(code(key), up(x, -17))
    sketch.measure(code("taped"), up(marks[0], 0), up(marks[1], 0), -4, 0.56)
    sketch.measure(code("rail_length"), up(10, 0), up(82, 0), -10, 0.4)
    sketch.words("along the underside", (2, 58), "start")
    sketch.words("plumbed up from", (90, 10), "end")
    sketch.words("the marks", (90, 5.5), "end")
    return sketch


# The balusters


def baluster_drawing() -> Sketch:
    """A baluster between its two holes."""
    sketch = Sketch(46.0, 136.0)
    middle = 22.0
    sketch.box(2, 2, 42, 20)
    sketch.box(2, 114, 42, 20)
    for y, way, key in ((22.0, -8.0, "tread_hole"), (114.0, 8.0, "rail_hole")):
        hole = ((middle - 4, y), (middle + 4, y), (middle + 4, y + way), (middle - 4, y + way))
        sketch.items.append(Fill(hole, SHADE))
        sketch.line(Pen.HOLE, *hole, closed=True)
        sketch.measure(code(key), (middle - 4, y + way / 2), (middle + 4, y + way / 2))
        sketch.measure(code(f"{key}_depth"), (middle - 14, y), (middle - 14, y + way))
    for left, foot, wide, high in ((-8, 22, 16, 5), (-5.5, 27, 11, 31), (-4, 103, 8, 11)):
        sketch.box(middle + left, foot, wide, high, grey=1.0)
    turned = ((-5.5, 58), (5.5, 58), (2.5, 74), (4.0, 103), (-4.0, 103), (-2.5, 74))
    sketch.solid(*((middle + x, y) for x, y in turned), grey=1.0)
    sketch.measure(code("base"), (middle - 8, 24.5), (middle + 8, 24.5), outside=True)
    sketch.measure(code("width"), (middle - 5.5, 40), (middle + 5.5, 40), outside=True)
    sketch.measure(code("narrowest"), (middle - 2.5, 74), (middle + 2.5, 74))
    sketch.line(Pen.THIN, (middle + 3, 112), (middle + 12, 108))
    sketch.code(code("top"), (middle + 14, 107))
    sketch.words("the rail", (43, 129.5), "end")
    sketch.words("the tread", (43, 4), "end")
    return sketch


def set_back_drawing() -> Sketch:
    """The set-back on a tread, in elevation."""
    sketch = Sketch(70.0, 36.0)
    stand(sketch, ((3, 4), (20, 4), (20, 13), (15, 13), (15, 16), (60, 16), (60, 30), (68, 30)), 1)
    for x in (28.0, 44.0):
        sketch.box(x, 16, 5, 19, grey=1.0)
    sketch.line(Pen.EDGE, (20, 13), (20, 27))
    sketch.measure(code("set_back"), (28, 24), (20, 24))
    sketch.words("riser's face", (21, 31), "end")
    return sketch
