"""The paths of a content stream: how they are made and painted (8.5).

Section numbers are those of ISO 32000-1.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from stairjig.proof.marks import ReadStroke
from stairjig.proof.surface import Surface

if TYPE_CHECKING:
    from stairjig.proof.marks import Point
    from stairjig.proof.tokens import Matrix


@dataclass(slots=True)
class _Subpath:
    points: list[Point]
    kinds: list[str] = field(default_factory=list)
    closed: bool = False


class Paths(Surface):
    """Makes paths and paints them."""

    def __init__(self, ctm: Matrix) -> None:
        super().__init__(ctm)
        self._path: list[_Subpath] = []

    def _at(self, u: bytes, v: bytes) -> Point:
        a, b, c, d, e, f = self._state.ctm
        x, y = float(u), float(v)
        return (a * x + c * y + e, b * x + d * y + f)

    def _open(self) -> _Subpath:
        subpath = self._path[-1]
        if subpath.closed:
            subpath = _Subpath([subpath.points[0]])
            self._path.append(subpath)
        return subpath

    def _move(self, operands: list[bytes]) -> None:
        x, y = operands
        self._path.append(_Subpath([self._at(x, y)]))

    def _straight(self, operands: list[bytes]) -> None:
        x, y = operands
        subpath = self._open()
        subpath.points.append(self._at(x, y))
        subpath.kinds.append("l")

    def _curve(self, operands: list[bytes]) -> None:
        a, b, c, d, e, f = operands
        self._bend((self._at(a, b), self._at(c, d), self._at(e, f)))

    def _curve_from_here(self, operands: list[bytes]) -> None:
        c, d, e, f = operands
        self._bend((self._open().points[-1], self._at(c, d), self._at(e, f)))

    def _curve_to_end(self, operands: list[bytes]) -> None:
        a, b, e, f = operands
        self._bend((self._at(a, b), self._at(e, f), self._at(e, f)))

    def _bend(self, points: tuple[Point, Point, Point]) -> None:
        subpath = self._open()
        subpath.points += points
        subpath.kinds.append("c")

    def _rectangle(self, operands: list[bytes]) -> None:
        x, y, width, height = map(float, operands)
        corners = ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
        a, b, c, d, e, f = self._state.ctm
        points = [(a * u + c * v + e, b * u + d * v + f) for u, v in corners]
        self._path.append(_Subpath(points, ["l"] * 3, closed=True))

    def _close(self, _: list[bytes]) -> None:
        if self._path:
            self._path[-1].closed = True

    def _drop(self, _: list[bytes]) -> None:
        self._path = []

    def _paint(self, stroke: bool, fill: bool) -> None:
        state = self._state
        weight = state.weight * state.scale if stroke else 0.0
        dashes = tuple(dash * state.scale for dash in state.dashes) if stroke else ()
        grey = state.stroke if stroke else state.fill
        for part in self._path:
            if part.kinds:
                points, closed = tuple(part.points), part.closed or fill
                order, self._count = self._count, self._count + 1
                self._marks.append(
                    ReadStroke(
                        points, closed, weight, "".join(part.kinds), dashes, grey, fill, order
                    )
                )
        self._path = []
