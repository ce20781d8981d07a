"""A section with skewed or tapered treads in plan, to the scale of its elevation over it."""

from __future__ import annotations

from math import radians, tan
from typing import TYPE_CHECKING

from stairjig.drawing import Ellipse, Fill, Pen, Stroke, Text
from stairjig.pages.elevation import parts
from stairjig.pages.elevation.elevation import Drawing, shaded
from stairjig.pages.elevation.labels import LABEL, Labels

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from stairjig.drawing import Item, Point
    from stairjig.pages.elevation.view import View
    from stairjig.setout.values import Mark, PlanTread, Riser, SectionSetout, SetNewel

WALL_SIDE = 300.0
"""Treads are drawn this far on the wall side of the line, mm, where they go on that far."""
_UNDER = 10.0
"""Room under the treads for the risers' skews, in two rows, mm."""

_UPPER_ROW, _LOWER_ROW = 5.0, 1.0
"""Baselines of those rows, from the foot of the drawing, mm."""


def has_plan(section: SectionSetout) -> bool:
    """Tell whether a section needs a plan: one of its risers is off square to the line."""
    return any(riser.skew for riser in _risers(section))


def plan_view(section: SectionSetout, view: View, kinds: Sequence[str]) -> Drawing:
    """Draw the treads from above, the open side toward the foot of the page.

    `view`: the elevation's, whose scale and places along s are kept; `kinds`: the types of
    balusters in the order of their shades.
    """
    plan = _Plan(section, view, kinds)
    return Drawing(tuple(plan.draw()), view.width, plan.height, view.scale)


def _risers(section: SectionSetout) -> list[Riser]:
    treads = [tread.plan for tread in section.treads]
    return [*(plan.front for plan in treads), treads[-1].back] if treads else []


def wall_side(section: SectionSetout) -> float:
    """How far the treads are drawn on the wall side, mm: short of where two risers meet."""
    most = WALL_SIDE
    for tread in section.treads:
        plan = tread.plan
        closing = tan(radians(plan.back.skew)) - tan(radians(plan.front.skew))
        if closing > 0:
            most = min(most, 0.8 * float(plan.line_run) / closing)
    slants = [abs(tan(radians(riser.skew))) for riser in _risers(section)]
    return min(most, parts.BEYOND / max(slants)) if any(slants) else most


class _Plan:
    """One plan being drawn, (s, y) to the page: y, positive toward the tread end, goes down."""

    def __init__(self, section: SectionSetout, view: View, kinds: Sequence[str]) -> None:
        self.section, self.view, self.kinds = section, view, kinds
        self.wall = wall_side(section)
        self.end = max(float(max(one.plan.end_front, one.plan.end_back)) for one in section.treads)
        self.height = (self.wall + self.end) / view.scale + _UNDER + LABEL * 2
        self.labels = Labels(view.width, self.height)

    def at(self, s: float, y: float) -> Point:
        """Find a point's place in the drawing, mm."""
        return self.view.at(s, 0.0)[0], _UNDER + (self.end - y) / self.view.scale

    def draw(self) -> Iterator[Item]:
        """Yield everything in the plan."""
        for tread in self.section.treads:
            yield from self._tread(tread.plan)
        last = self.section.treads[-1].plan
        yield self._across(last.back, float(last.end_back), Pen.RULE)
        yield self._across(last.back, float(last.end_back), Pen.NOSING, float(last.back_nosing))
        low, high = parts.ends(self.section)
        yield Stroke((self.at(low, 0.0), self.at(high, 0.0)), Pen.LINE)
        for mark in self.section.marks:
            yield from self._base(mark)
        for newel in self.section.newels:
            yield from self._newel(newel)
        self._words()
        yield from self.labels.texts

    def _tread(self, plan: PlanTread) -> Iterator[Item]:
        front, back = float(plan.end_front), float(plan.end_back)
        yield self._across(plan.front, front, Pen.RULE)
        if plan.front_nosing:
            yield self._across(plan.front, front, Pen.NOSING, float(plan.front_nosing))
        yield Stroke((self._on(plan.front, front), self._on(plan.back, back)), Pen.RULE)
        wall = (self._on(plan.front, -self.wall), self._on(plan.back, -self.wall))
        yield Stroke(wall, Pen.FAINT)

    def _on(self, riser: Riser, y: float, ahead: float = 0.0) -> Point:
        return self.at(float(riser.s) - ahead + y * tan(radians(riser.skew)), y)

    def _across(self, riser: Riser, end: float, pen: Pen, ahead: float = 0.0) -> Stroke:
        """A riser's face, or its nosing's edge `ahead` mm in front of it along the line."""
        return Stroke((self._on(riser, end, ahead), self._on(riser, -self.wall, ahead)), pen)

    def _base(self, mark: Mark) -> Iterator[Item]:
        half, kind = float(mark.type.base.mm) / 2, self.kinds.index(mark.type.name)
        if mark.type.shape == "round":
            radius = half / self.view.scale
            yield Ellipse(self.at(float(mark.s), 0.0), radius, radius, Pen.CROSS)
            half *= 0.7
        yield from shaded(self._box(float(mark.s), half), kind)

    def _box(self, s: float, half: float) -> tuple[Point, ...]:
        return (
            self.at(s - half, half),
            self.at(s + half, half),
            self.at(s + half, -half),
            self.at(s - half, -half),
        )

    def _newel(self, newel: SetNewel) -> Iterator[Item]:
        if newel.kind == "post":
            shape = self._box(float(newel.centre), float(newel.width) / 2)
            yield Fill(shape, grey=0.94)
            yield Stroke(shape, Pen.BASE, closed=True)
            return
        face = float(newel.face)
        yield Stroke((self.at(face, self.end), self.at(face, -self.wall)), Pen.HEAVY)

    def _words(self) -> None:
        """Tread numbers on the wall side; the risers' skews under their outer ends."""
        for tread in self.section.treads:
            plan = tread.plan
            ends = [self._on(riser, -self.wall)[0] for riser in (plan.front, plan.back)]
            at = (sum(ends) / 2, self.height - LABEL * 1.3)
            self.labels.put(Text(str(plan.number), at, LABEL, True, anchor="middle"))
        risers = _risers(self.section)
        skews = [f"{riser.skew:.1f}°" for riser in risers]
        if len(set(skews)) == 1:
            words = f"every riser {skews[0]} off square to the line"
            middle = sum(self._on(riser, self.end)[0] for riser in risers) / len(risers)
            self.labels.put(Text(words, (middle, _UPPER_ROW), LABEL, anchor="middle"))
            return
        feet = [self._on(riser, self.end)[0] for riser in risers]
        for rows in (_UPPER_ROW,), (_UPPER_ROW, _LOWER_ROW):
            texts = [
                Text(skew, (foot, rows[n % len(rows)]), LABEL, anchor="middle")
                for n, (foot, skew) in enumerate(zip(feet, skews, strict=True))
            ]
            if self.labels.put_all(texts):
                return
