"""What was read from the pages of a finished PDF, in mm with y upward, from the page's corner."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from stairjig.frozen import frozen

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

Point = tuple[float, float]
Box = tuple[float, float, float, float]
"""Left, bottom, right, top, mm."""
CAPITALS = 0.729
"""How high capitals stand, over a font's size (the pack's fonts' own measure)."""

_ARC = 0.5522847498
"""Control points of a quarter circle stand at this share of the radius: 4/3 (sqrt 2 - 1)."""

_OFF = 0.002
"""How far, over the larger half axis, a control point may stand off for a curve to be an ellipse.

An ellipse taken for one is then nowhere off by more than a thousandth of its half axis.
"""


def overlap(one: Box, two: Box, by: float) -> bool:
    """Whether two boxes lie over each other by more than so much, mm, or as near if below 0."""
    across = min(one[2], two[2]) - max(one[0], two[0])
    up = min(one[3], two[3]) - max(one[1], two[1])
    return across > by and up > by


@frozen
class ReadStroke:
    """One painted subpath: its corners, and the control points of its curves, in order.

    `kinds`: a letter for each segment after the first point, `l` a straight one (one point), `c` a
    Bezier curve (two control points, then its end). `weight` and `dashes` in mm, weight 0 where the
    shape is only filled. `grey`: 0 black to 1 white, of the stroke, or of the fill where there is
    no stroke. `order`: how many things were painted on the page before it.
    """

    points: tuple[Point, ...]
    closed: bool
    weight: float
    kinds: str
    dashes: tuple[float, ...]
    grey: float
    filled: bool
    order: int

    @property
    def is_curve(self) -> bool:
        """Whether any segment is curved."""
        return "c" in self.kinds

    @property
    def box(self) -> Box:
        """What it takes, by its points."""
        us, vs = zip(*self.points, strict=True)
        return min(us), min(vs), max(us), max(vs)


@frozen
class ReadText:
    """Words on one line. `at`: start of the baseline; `angle`: degrees counterclockwise, 0 to 360.

    `size`: the font's size (not its capitals' height), mm; `width`: how far the words run, mm.
    """

    text: str
    at: Point
    angle: float
    size: float
    width: float
    grey: float
    order: int

    @property
    def upright(self) -> bool:
        """Whether it runs up or down the page."""
        return 45 < self.angle % 180 < 135

    @property
    def box(self) -> Box:
        """What its letters take, from the line that they stand on to the top of capitals."""
        (u, v), long, high = self.at, self.width, self.size * CAPITALS
        if self.upright:
            return (u - high, v, u, v + long) if self.angle < 180 else (u, v - long, u + high, v)
        turned = 90 < self.angle < 270
        return (u - long, v - high, u, v) if turned else (u, v, u + long, v + high)


@frozen
class ReadRun:
    """A marked run of the content stream, from BMC or BDC to EMC; `tag` without its slash."""

    tag: str
    strokes: tuple[ReadStroke, ...]
    texts: tuple[ReadText, ...]


@frozen
class ReadPage:
    """A page: its number from 1, its size in mm, its label, what stands outside runs, the runs.

    `turned`: degrees clockwise by which a viewer turns the page; the rest is as it is unturned.
    `doubts`: what was met, in words, that may hide or change what is read. `notes`: how many
    fields, notes or other things a viewer lays over the page. `title`: its line in the document's
    outline, "" for none.
    """

    number: int
    width: float
    height: float
    label: str
    turned: int
    items: tuple[ReadStroke | ReadText, ...]
    runs: tuple[ReadRun, ...]
    doubts: tuple[str, ...] = ()
    notes: int = 0
    title: str = ""


@frozen
class ReadPack:
    """A document. `pages` are read anew each time they are asked for, to spare memory.

    So go through them once; what cannot be read raises `BadInput` there. `form_pages`: those that
    have something to fill in. `fields`: the value of each form field by its full name, "" where
    empty or not ticked. `print_scaling`: the viewer preference of that name, "" for none.
    """

    pages: Sequence[ReadPage]
    form_pages: Iterable[ReadPage]
    attachments: Mapping[str, bytes]
    title: str
    fields: Mapping[str, str]
    print_scaling: str


@frozen
class ReadEllipse:
    """An ellipse square to the page, made of four curves; a circle where its half axes agree."""

    centre: Point
    half_width: float
    half_height: float
    stroke: ReadStroke


def circles(strokes: Iterable[ReadStroke]) -> Iterator[ReadEllipse]:
    """Find the circles and ellipses, in order, each closed and made of four Bezier quarters."""
    for stroke in strokes:
        if stroke.kinds == "cccc" and stroke.closed and (found := _ellipse(stroke)):
            yield found


def _ellipse(stroke: ReadStroke) -> ReadEllipse | None:
    points = stroke.points
    ends = points[:10:3]
    x, y = (sum(end[axis] for end in ends) / 4 for axis in (0, 1))
    a = max(abs(end[0] - x) for end in ends)
    b = max(abs(end[1] - y) for end in ends)
    centre, room = (x, y), _OFF * max(a, b)
    drawn = zip(points, _quarters(centre, (*ends, ends[0])), strict=True)
    on_axes = all(min(abs(end[0] - x), abs(end[1] - y)) <= room for end in ends)
    fits = on_axes and all(abs(p[0] - q[0]) + abs(p[1] - q[1]) <= room for p, q in drawn)
    return ReadEllipse(centre, a, b, stroke) if fits and min(a, b) > 0 else None


def _quarters(centre: Point, ends: Sequence[Point]) -> Iterator[Point]:
    """Give the points of a true ellipse's four curves through those ends of its axes."""
    yield ends[0]
    for start, end in pairwise(ends):
        yield _toward(start, end, centre)
        yield _toward(end, start, centre)
        yield end


def _toward(here: Point, there: Point, centre: Point) -> Point:
    return (here[0] + _ARC * (there[0] - centre[0]), here[1] + _ARC * (there[1] - centre[1]))
