"""The newels that stand on a tread's strip, and what is to be done where they are drawn."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from stairjig.drawing import Pen, Point, Stroke, Text
from stairjig.pieces.shapes import inside, meets, within
from stairjig.pieces.values import SMALL
from stairjig.setout.values import SectionSetout, SetNewel, SetTread
from stairjig.type import width

Drawn = Sequence[tuple[SetNewel, Stroke]]
_STEP = 2.0
"""From one place that is tried for a label to the next, mm."""


def drawn_newels(section: SectionSetout, tread: SetTread, outline: Sequence[Point]) -> Drawn:
    """The newels that stand on a strip, to be cut out where they stand already."""
    shapes = []
    for newel in section.newels:
        if newel.kind == "post":
            shape = within(_footprint(newel, tread), outline)
            if len(shape) >= 3:
                pen = Pen.CUT if newel.stands else Pen.EDGE
                shapes.append((newel, Stroke(shape, pen, closed=True)))
    return shapes


def newel_labels(
    drawn: Drawn, tread: SetTread, lines: Sequence[Sequence[Point]]
) -> tuple[Text, ...]:
    """What to do with each, inside it on the wall side of the line, clear of some lines.

    A newel without room for it has none.
    """
    return tuple(text for newel, shape in drawn for text in _labels(newel, tread, shape, lines))


def _says(newel: SetNewel, tread: SetTread) -> tuple[str, str]:
    if not newel.stands:
        return "newel to come:", "don't cut"
    behind = newel.centre > tread.plan.back.s
    return "newel down here:" if behind else "newel stands:", "CUT OUT"


def _labels(
    newel: SetNewel, tread: SetTread, shape: Stroke, lines: Sequence[Sequence[Point]]
) -> tuple[Text, ...]:
    says = _says(newel, tread)
    wide, high = max(width(line, SMALL, True) for line in says), SMALL * 3.0
    for u, v in _places(shape):
        box = (u - 0.3, v - high), (u + 0.3 + wide, v + 1.0)
        corners = ((a, b) for a in (box[0][0], box[1][0]) for b in (box[0][1], box[1][1]))
        if all(inside(shape.points, corner) for corner in corners) and not any(
            meets(line, *box) for line in lines
        ):
            return tuple(
                Text(line, (u, v - SMALL - n * SMALL * 1.6), SMALL, True)
                for n, line in enumerate(says)
            )
    return ()


def _places(shape: Stroke) -> Iterator[Point]:
    """Where a label may begin: next to the line first, from the top down, then farther out."""
    us, vs = zip(*shape.points, strict=True)
    low, top, far = min(vs), max(vs), max(us)
    for out in range(max(0, int((far - 1.5) / _STEP))):
        for down in range(int((top - low) / _STEP)):
            yield 1.5 + out * _STEP, top - 1.0 - down * _STEP


def _footprint(newel: SetNewel, tread: SetTread) -> tuple[Point, ...]:
    half = float(newel.width) / 2
    v = float(newel.centre - tread.plan.front.s)
    return ((-half, v - half), (half, v - half), (half, v + half), (-half, v + half))
