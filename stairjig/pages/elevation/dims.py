"""The dimensions of an elevation: what a carpenter checks by eye before anything is cut out."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import accumulate, pairwise
from math import cos, degrees, hypot, sin
from typing import TYPE_CHECKING

from stairjig.drawing import Pen, Stroke, Text
from stairjig.pages.elevation import parts
from stairjig.pages.elevation.labels import LABEL, Labels, chain, tick
from stairjig.pages.elevation.measures import (
    LEADER,
    OFF,
    UNDER,
    differing,
    rises_of,
    runs_of,
    spanned,
    widest,
)
from stairjig.pages.elevation.view import View
from stairjig.type import width

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stairjig.drawing import Item, Point
    from stairjig.lengths import Real, Shown
    from stairjig.setout.values import SectionSetout, SetTread

_TRIANGLE = 14.0


@dataclass(slots=True)
class Dimensions:
    """Draws a section's dimensions; their words go to `labels`, those most needed first."""

    section: SectionSetout
    shown: Shown
    view: View
    labels: Labels
    items: list[Item] = field(default_factory=list)

    def draw(self) -> list[Item]:
        """Draw the dimension lines."""
        self._keep_off_newels()
        self._end_marks()
        self._rail_and_pitch()
        level = self._spans()
        if self.section.treads:
            self._rises()
        self._newels(level)
        self._numbers()
        return self.items

    @property
    def _sloped(self) -> bool:
        return not self.section.rail.level

    def _away(self) -> str:
        """How words stand that grow from a slope into the empty corner over it."""
        return "end" if self.view.sense > 0 else "start"

    def _keep_off_newels(self) -> None:
        """Leave the newels' heads, which stand up over the rail, clear of words."""
        for newel in self.section.newels:
            if newel.kind == "post":
                shape = self.view.all(parts.newel_shape(self.section, newel))
                self.labels.reserve(shape)

    def _rail_and_pitch(self) -> None:
        """The rail's length along a line over it, newel face to newel face, and the pitch.

        Its words are the longest that leave the pitch its room.
        """
        length = self.section.rail.length
        if length is None:
            self._pitch()
            return
        lines, (low, high) = parts.lines_of(self.section), parts.ends(self.section)
        ends = [_raised(self.view.at(s, lines.top(s)), OFF) for s in (low, high)]
        self.items += [Stroke((ends[0], ends[1]), Pen.THIN), *(tick(end) for end in ends)]
        long = self.shown.text(length)
        for words in (f"rail, face to face {long}", f"rail {long}", long):
            before = self.labels.state
            if self._length(ends, words) and self._pitch():
                return
            self.labels.back_to(before)
        self._pitch()
        self._length(ends, long)

    def _length(self, ends: Sequence[Point], words: str) -> bool:
        """Put the rail's length over its line where there is room."""
        shares = (0.56, 0.5, 0.62, 0.44, 0.7, 0.36, 0.78) if self._sloped else (0.5,)
        return self.labels.put(*(self._over(_between(ends, share), words) for share in shares))

    def _over(self, at: Point, words: str) -> Text:
        """Words just over a point of a line over the rail."""
        if not self._sloped:
            return Text(words, _raised(at, 1.6), LABEL, anchor="middle")
        shift = -1.0 if self.view.sense > 0 else 1.0
        return Text(words, (at[0] + shift, at[1] + 1.6), LABEL, anchor=self._away())

    def _pitch(self) -> bool:
        """The pitch, as a triangle over the rail; tell whether it stands where it has to."""
        pitch, sense = self.section.rail.pitch, self.view.sense
        lines, (low, high) = parts.lines_of(self.section), parts.ends(self.section)
        if not pitch or hypot(high - low, lines.top(high) - lines.top(low)) / self.view.scale < 30:
            return True
        for share in (0.24, 0.34, 0.44, 0.54, 0.64):
            at = low + (high - low) * share
            start = _raised(self.view.at(at, lines.top(at)), OFF + 2.5)
            corner = _raised(start, _TRIANGLE * sin(pitch))
            end = (start[0] + _TRIANGLE * cos(pitch) * sense, corner[1])
            beside = (start[0] - sense * 1.4, (start[1] + corner[1]) / 2 - 0.5)
            words = Text(f"pitch {degrees(pitch):.1f}°", beside, LABEL, anchor=self._away())
            shape = start, corner, end
            if self.labels.clear(shape) and self.labels.put(words):
                self.items.append(Stroke(shape, Pen.THIN, closed=True))
                self.labels.reserve(shape)
                return True
        return False

    def _end_marks(self) -> None:
        """The names of the first and the last mark, each on a leader from the rail."""
        ends = (0, -1) if len(self.section.marks) > 1 else (0,)
        leaders = [self._leader(index) for index in ends]
        for words in ("first mark {}", "last mark {}"), ("{}", "{}"):
            texts = [
                self._named(at, index, word.format(self.section.marks[index].name))
                for at, index, word in zip(leaders, ends, words, strict=False)
            ]
            if self.labels.put_all(texts):
                return

    def _leader(self, index: int) -> Point:
        """Draw the leader over an end mark; gives where its words stand."""
        mark, lines = self.section.marks[index], parts.lines_of(self.section)
        foot = self.view.at(float(mark.s), lines.top(float(mark.s)))
        high = foot[1] + (LEADER if self._sloped else LEADER + 3.5)
        newel = self.section.lower_newel
        if index == 0 and self._sloped and newel:
            top = lines.top(float(newel.centre)) + parts.NEWEL_CAP
            high = max(high, self.view.at(0.0, top)[1] + 1.6)
        self.items.append(Stroke((foot, (foot[0], high + LABEL)), Pen.THIN))
        self.labels.reserve(((foot[0] - 0.4, foot[1]), (foot[0] + 0.4, high + LABEL)))
        return foot[0], high

    def _named(self, at: Point, index: int, words: str) -> Text:
        """The words of a leader, on the side where the drawing leaves room for them."""
        flat = ("start", "end") if self.view.sense > 0 else ("end", "start")
        anchor = self._away() if self._sloped else flat[index]
        shift = -1.0 if anchor == "end" else 1.0
        return Text(words, (at[0] + shift, at[1]), LABEL, bold=True, anchor=anchor)

    def _spans(self) -> float:
        """Each tread's line run, or the distance between two faces; returns the level under it."""
        low = parts.heights(self.section)[0]
        level = self.view.at(0.0, low)[1] - OFF
        faces = self._faces()
        places = [self.view.at(face, 0.0)[0] for face in faces]
        self.items += chain(places, level)
        if self.section.treads:
            self._witness(faces, level)
        runs = runs_of(self.section)
        if differing(runs, self.shown):
            return self._each_run(places, runs, level)
        middle = (places[0] + places[-1]) / 2
        words = self._alike_runs(runs)
        self.labels.put(Text(words, (middle, level - UNDER), LABEL, anchor="middle"))
        return level - UNDER

    def _alike_runs(self, runs: Sequence[Real]) -> str:
        """How many runs, and how long each; where that is not exact, they only are equal."""
        each, shown = runs[0], self.shown
        if not self.section.treads:
            return f"{shown.text(each)} face to face, level"
        skewed = any(tread.plan.front.skew for tread in self.section.treads)
        what = "line run" if skewed else ""
        if len(runs) > 1 and shown.rounded(each) * len(runs) != shown.rounded(sum(runs)):
            return f"{len(runs)} equal {what or 'run'}s"
        count = f"{len(runs)} × " if len(runs) > 1 else ""
        return f"{count}{shown.text(each)} {what}".rstrip()

    def _faces(self) -> list[float]:
        """Where the risers' faces stand, or the ends of a section without treads; s."""
        if self.section.treads:
            treads = [tread.plan for tread in self.section.treads]
            return [*(float(plan.front.s) for plan in treads), float(treads[-1].back.s)]
        return [0.0, float(self.section.line_length)]

    def _witness(self, faces: Sequence[float], level: float) -> None:
        """Faint lines from the risers' feet down to their dimension."""
        for face, top in zip(faces, (0.0, *self.section.tops), strict=False):
            u, v = self.view.at(face, float(top))
            self.items.append(Stroke(((u, v), (u, level)), Pen.FAINT))

    def _each_run(self, places: Sequence[float], runs: Sequence[Real], level: float) -> float:
        """Each run under its own tread: level, else upright, else only the least and the most."""
        flat, upright = [], []
        for run, (a, b) in zip(runs, pairwise(places), strict=True):
            words, u = self.shown.text(run), (a + b) / 2
            flat.append(Text(words, (u, level - UNDER), LABEL, anchor="middle"))
            down = (u + LABEL / 2, level - 1.2)
            upright.append(Text(words, down, LABEL, angle=90, anchor="end"))
        if self.labels.put_all(flat):
            return level - UNDER
        if self.labels.put_all(upright):
            return level - 1.2 - widest(runs, self.shown)
        words_all = f"line runs {spanned(runs, self.shown)}, see the list of treads"
        middle = (places[0] + places[-1]) / 2
        self.labels.put(Text(words_all, (middle, level - UNDER), LABEL, anchor="middle"))
        return level - UNDER

    def _rises(self) -> None:
        """Each rise beside the upper end, or what they all are."""
        sense, rises = self.view.sense, rises_of(self.section)
        level = self.view.at(parts.reach(self.section)[1], 0.0)[0] + sense * 3.0
        heights = [0.0, *(float(top) for top in accumulate(rises))]
        places = [self.view.at(0.0, height)[1] for height in heights]
        self.items += chain(places, level, upright=True)
        anchor = "start" if sense > 0 else "end"
        if differing(rises, self.shown):
            each = []
            for rise, (a, b) in zip(rises, pairwise(places), strict=True):
                at = (level + sense * 1.6, (a + b - LABEL) / 2)
                each.append(Text(self.shown.text(rise), at, LABEL, anchor=anchor))
            if self.labels.put_all(each):
                return
        words = f"{len(rises)} × {spanned(rises, self.shown)}"
        u = level + (1.2 + LABEL if sense > 0 else -2.0)
        middle = (places[0] + places[-1]) / 2
        self.labels.put(Text(words, (u, middle), LABEL, angle=90, anchor="middle"))

    def _newels(self, under: float) -> None:
        """From the newels' centres to the end risers, or from one to the other off the treads."""
        posts = [newel for newel in self.section.newels if newel.kind == "post"]
        treads = bool(self.section.treads)
        if not posts or not (treads or len(self.section.newels) == 2):
            return
        level = under - OFF
        faces = self._faces()
        centres = [float(newel.centre) for newel in self.section.newels]
        ends = [faces[0], faces[-1]] if treads else []
        places = sorted(self.view.at(s, 0.0)[0] for s in (*centres, *ends))
        self.items += chain(places, level)
        if treads:
            for newel in posts:
                face = faces[0] if newel.end == "lower" else faces[-1]
                off = abs(float(newel.centre) - face)
                self._outward(float(newel.centre), face, level, self.shown.text(off))
            whole = self.shown.text(self.section.line_length)
            self._interval(faces[0], faces[-1], level, f"first riser to top riser {whole}", whole)
        else:
            other = "newel centre" if len(posts) == 2 else "wall"
            words = f"newel centre to {other} {self.shown.text(centres[1] - centres[0])}"
            self._interval(centres[0], centres[1], level, words)

    def _outward(self, end: float, face: float, level: float, words: str) -> None:
        """Put words under a short interval, from its `face` out, so that the middle keeps room."""
        at, out = self.view.at(face, 0.0)[0], self.view.at(end, 0.0)[0]
        sign = 1.0 if out > at else -1.0
        start = Text(
            words, (at - sign, level - UNDER), LABEL, anchor="start" if sign > 0 else "end"
        )
        beside = (max(at, out) if sign > 0 else min(at, out)) + sign * 1.5, level - LABEL / 2
        self.labels.put(start, Text(words, beside, LABEL, anchor="start" if sign > 0 else "end"))

    def _interval(self, start: float, end: float, level: float, *words: str) -> None:
        """Put the longest of some words under the middle of an interval, or beside its ends."""
        a, b = sorted(self.view.at(s, 0.0)[0] for s in (start, end))
        low, beside = level - UNDER, level - LABEL / 2
        under = [Text(each, ((a + b) / 2, low), LABEL, anchor="middle") for each in words]
        left = Text(words[-1], (a - 1.5, beside), LABEL, anchor="end")
        right = Text(words[-1], (b + 1.5, beside), LABEL)
        self.labels.put(*under, left, right, beside=3.0)

    def _numbers(self) -> None:
        """Put each tread's number under it where it has room, or every so many's."""
        treads = [tread for tread in self.section.treads if self._has_room(tread)]
        for every in (1, 2, 3, 5, 10, 20, 50):
            some = [tread for tread in treads[1:-1] if tread.plan.number % every == 0]
            numbered = (*treads[:1], *some, *treads[1:][-1:])
            if self.labels.put_all([self._number(tread) for tread in numbered]):
                return

    def _has_room(self, tread: SetTread) -> bool:
        span = float(tread.plan.line_run) / self.view.scale
        return width(str(tread.plan.number), LABEL, bold=True) + 0.35 <= span

    def _number(self, tread: SetTread) -> Text:
        middle = float(tread.plan.front.s + tread.plan.line_run / 2)
        u, v = self.view.at(middle, float(self.section.tops[tread.plan.index]))
        down = v - parts.THICKNESS / self.view.scale - LABEL * 1.1 - 0.8
        return Text(str(tread.plan.number), (u, down), LABEL, bold=True, anchor="middle")


def _raised(at: Point, by: float) -> Point:
    return at[0], at[1] + by


def _between(ends: Sequence[Point], share: float) -> Point:
    (u0, v0), (u1, v1) = ends
    return u0 + (u1 - u0) * share, v0 + (v1 - v0) * share
