"""The measuring form's drawings of kinds and sides, of the flight, its line, skew and winders."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

from stairjig.drawing import Fill, Pen, Stroke
from stairjig.job.form.fields import QUESTIONS
from stairjig.pages.form.sketch import SHADE, WOOD, Sketch

if TYPE_CHECKING:
    from stairjig.drawing import Point

_AWAY = {"left": "start", "right": "end"}
_SKEWS = ("front_skew", "back_skew")
_TREAD = 2.6
"""Thickness of a drawn tread, mm."""


def code(key: str) -> str:
    """A question's code."""
    return QUESTIONS[key].code


def steps(
    at: Point, run: float, rise: float, nosing: float, count: int, left: float, right: float
) -> tuple[Point, ...]:
    """The profile of a flight going up to the right, `at` the foot of its first riser's face."""
    x, y = at
    points: list[Point] = [(left, y), (x, y)]
    for number in range(1, count + 1):
        face, top = x + (number - 1) * run, y + number * rise
        points += [(face, top - _TREAD), (face - nosing, top - _TREAD), (face - nosing, top)]
        points.append((face + run, top) if number < count else (right, top))
    return tuple(points)


def stand(sketch: Sketch, profile: tuple[Point, ...], floor: float) -> None:
    """Draw what a profile bounds from above as solid, down to `floor`."""
    ends = (profile[-1][0], floor), (profile[0][0], floor)
    sketch.items += [Fill((*profile, *ends), WOOD), Stroke(profile, Pen.HEAVY)]


def wall(sketch: Sketch, left: float, right: float, y: float) -> None:
    """A wall in plan, its face at `y`, hatched above."""
    sketch.line(Pen.HEAVY, (left, y), (right, y))
    x = left
    while x < right - 1.0:
        sketch.line(Pen.THIN, (x, y), (x + 2.0, y + 2.5))
        x += 3.0


# Kinds and sides


def kind_drawing(kind: str) -> Sketch:
    """A section of that kind in elevation."""
    sketch = Sketch(58.0, 34.0)
    {"treads": _on_treads, "level": _on_level, "sloped": _on_slope}[kind](sketch)
    return sketch


def _on_treads(sketch: Sketch) -> None:
    stand(sketch, steps((10, 2), 10.0, 4.4, 1.4, 4, 2, 56), 0.5)
    for number in range(8):
        x, tread = 10.6 + number * 5.0, number // 2 + 1
        _stick(sketch, x, 2 + tread * 4.4, 13.4 + (x - 10) * 0.44)
    _rail(sketch, (7, 12), (50, 12 + 43 * 0.44))
    _post(sketch, 4, 2, 15)
    _post(sketch, 49, 2 + 4 * 4.4, 34)


def _on_level(sketch: Sketch) -> None:
    sketch.box(2, 2, 54, 4)
    for number in range(9):
        _stick(sketch, 10.6 + number * 4.6, 6, 27)
    _rail(sketch, (6, 27), (51, 27))
    _post(sketch, 4, 6, 31)
    _post(sketch, 51, 6, 31)


def _on_slope(sketch: Sketch) -> None:
    sketch.solid((4, 2), (54, 2), (54, 18), (4, 3), pen=Pen.HEAVY)
    for number in range(9):
        x = 10.6 + number * 4.6
        _stick(sketch, x, 3 + (x - 4) * 0.3, 14 + (x - 4) * 0.3)
    _rail(sketch, (6, 14.6), (52, 14.6 + 46 * 0.3))
    _post(sketch, 4, 3, 17.5)
    _post(sketch, 51, 17.1, 32.5)


def _post(sketch: Sketch, left: float, foot: float, top: float) -> None:
    sketch.box(left, foot, 3, top - foot, grey=1.0)


def _stick(sketch: Sketch, x: float, foot: float, top: float) -> None:
    sketch.line(Pen.BASE, (x, foot), (x, top))


def _rail(sketch: Sketch, start: Point, end: Point) -> None:
    lift = 1.6
    upper = ((end[0], end[1] + lift), (start[0], start[1] + lift))
    sketch.solid(start, end, *upper, grey=SHADE)


def side_drawing(side: str) -> Sketch:
    """A flight in plan, going up the page, its balustrade on that side."""
    sketch = Sketch(36.0, 36.0)
    sketch.box(8, 1, 20, 34)
    for y in range(6, 35, 5):
        sketch.line(Pen.THIN, (8, y), (28, y))
    edge, line = (8.0, 10.0) if side == "left" else (28.0, 26.0)
    sketch.line(Pen.HEAVY, (edge, 1), (edge, 35))
    for y in range(2, 35, 3):
        sketch.disc((line, y + 0.5), 0.7, grey=0.0)
    sketch.arrow((18, 4), (18, 30), Pen.BASE)
    sketch.words("up", (15.5, 12.3) if side == "right" else (20.5, 12.3), _AWAY[side])
    return sketch


# The flight


def flight_drawing() -> Sketch:
    """Rise and nosing, in elevation."""
    sketch = Sketch(92.0, 62.0)
    run, rise, nosing, x, y = 27.0, 16.0, 4.0, 18.0, 4.0
    stand(sketch, steps((x, y), run, rise, nosing, 3, 2, 90), 1)
    second, third, top = x + run, x + 2 * run, y + 3 * rise
    sketch.measure(code("rise"), (second - nosing, y + rise), (second - nosing, y + 2 * rise), 8)
    under = top - _TREAD
    sketch.measure(code("nosing"), (third - nosing, under), (third, under), -5)
    sketch.words("the floor", (3, y + 2), "start")
    sketch.words("riser's face", (second + 1.5, y + rise + 4), "start")
    sketch.words("up the stair", (4, 56), "start")
    sketch.arrow((24, 55.5), (32, 58.5))
    return sketch


def run_drawing() -> Sketch:
    """Rise, run and depth of a tread, in elevation."""
    sketch = Sketch(92.0, 50.0)
    run, rise, nosing, x, y = 30.0, 14.0, 4.0, 14.0, 3.0
    stand(sketch, steps((x, y), run, rise, nosing, 3, 2, 90), 1)
    second, third, top = x + run, x + 2 * run, y + 2 * rise
    edge = second - nosing
    sketch.measure(code("tread_rise"), (edge, y + rise), (edge, top), 8)
    sketch.measure(code("depth"), (edge, top), (third, top), 6, 0.45)
    sketch.measure(code("run"), (second, top - _TREAD), (third, top - _TREAD), -7)
    sketch.words("up the stair", (4, 40), "start")
    sketch.arrow((24, 39.5), (32, 42.5))
    return sketch


def line_drawing() -> Sketch:
    """The line in plan, tread ends that are not parallel to it."""
    sketch = Sketch(92.0, 58.0)
    line, faces = 26.0, (8.0, 42.0, 76.0)
    for face, following in pairwise(faces):
        end = ((face, 8.0), (following, 13.0))
        sketch.items.append(Fill((*end, (following, 52), (face, 52)), WOOD))
        sketch.line(Pen.HEAVY, *end)
    wall(sketch, 2, 88, 52)
    for face in faces:
        sketch.line(Pen.NOSING, (face, 5), (face, 52))
    sketch.line(Pen.LINE, (3, line), (89, line))
    for x in (13.0, 30.0, 47.0, 64.0):
        sketch.box(x - 1.5, line - 1.5, 3, 3, grey=SHADE)
    sketch.measure(code("line"), (44.5, 8.4), (44.5, line))
    sketch.measure(code("line_back"), (73, 12.6), (73, line))
    sketch.words("the line", (91, line + 1.5), "end")
    sketch.words("tread end", (26, 6.0))
    sketch.words("front", (44, 2), "start")
    sketch.words("back", (75, 2), "end")
    sketch.words("riser's face", (43, 46), "start")
    _up(sketch, (11, 40))
    return sketch


def _up(sketch: Sketch, at: Point) -> None:
    sketch.words("up the stair", at, "start")
    sketch.arrow((at[0], at[1] - 2.5), (at[0] + 20, at[1] - 2.5))


# Skew and winders


def skew_drawing() -> Sketch:
    """A tread in plan whose risers are off square to the line."""
    sketch = Sketch(92.0, 52.0)
    line, leans = 33.0, {22.0: 16.0, 58.0: 26.0}
    ends = [[(_on(x, lean, line, y), y) for y in (6.0, 48.0)] for x, lean in leans.items()]
    (low, high), (low_back, high_back) = ends
    sketch.items.append(Fill((low, low_back, high_back, high), WOOD))
    sketch.line(Pen.HEAVY, (4, 6), (88, 6))
    sketch.line(Pen.LINE, (3, line), (89, line))
    for (x, lean), riser, key in zip(leans.items(), ends, _SKEWS, strict=True):
        sketch.line(Pen.BASE, *riser)
        sketch.line(Pen.EDGE, (x, 8), (x, 46))
        sketch.angle(code(key), (x, line), 18.5, -90, -90 + lean, 3.8)
        sketch.words("+", (x + 1.3, line - 17), "start", bold=True)
    sketch.measure(code("line_run"), (22.0, line), (58.0, line))
    sketch.words("tread end", (5, 2), "start")
    sketch.words("leaning the other way: minus", (89, 2), "end")
    _up(sketch, (66, 26))
    alike = f"{code('skew')}: all alike"
    for n, words in enumerate(("dashed: square", "to the line", alike)):
        sketch.words(words, (91, 45.5 - 4.3 * n), "end")
    return sketch


def _on(x: float, skew: float, line: float, y: float) -> float:
    """Where a riser of that skew that crosses the line at `x` runs through the height `y`."""
    return x + (line - y) * math.tan(math.radians(skew))


def winder_drawing() -> Sketch:
    """The four sides and two diagonals of a winder, in plan."""
    sketch = Sketch(92.0, 66.0)
    a, b, c, d = (30.0, 11.0), (54.0, 11.0), (80.0, 54.0), (18.0, 54.0)
    sketch.items.append(Fill((a, b, c, d), WOOD))
    wall(sketch, 8, 88, 62)
    for start, end in ((a, d), (b, c), (d, c)):
        sketch.line(Pen.BASE, start, end)
    sketch.line(Pen.HEAVY, a, b)
    sketch.line(Pen.LINE, (14, 17), (72, 17))
    sketch.words("the line", (90, 14), "end")
    sketch.measure(code("end"), a, b, -5)
    sketch.measure(code("wall"), d, c, 0.0, 0.5)
    sketch.measure(code("front"), a, d, 4, 0.6)
    sketch.measure(code("back"), b, c, -4, 0.6)
    sketch.measure(code("diagonal"), a, c, 0, 0.68)
    sketch.measure(code("check_diagonal"), b, d, 0, 0.68)
    sketch.words("front", (6, 27), "start")
    sketch.words("back", (82, 27), "end")
    sketch.words("tread end", (28, 4.5), "end")
    sketch.words("wall side", (16, 57), "start")
    return sketch
