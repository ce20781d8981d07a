"""Where a strip is cut into tiles: the fewest joints, each as far from the marks as can be."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import replace
from math import floor, inf
from operator import itemgetter

from stairjig.frozen import frozen
from stairjig.pieces.values import Piece

LAP = 15.0
"""What the lower tile reaches under the upper one beyond their joint, mm."""
STICK_OUT = 5.0
"""Paper that a joint's registration marks need below the upper tile's cut edge, mm."""
CLEAR_OF_BASE = 6.0
"""Least distance of a joint from a mark's base, mm."""
SHORTEST = 30.0
"""Least length of a tile between its ends, mm."""

_HAIR = 1e-7
"""mm that floats may be off."""

Span = tuple[float, float]
_LOW, _HIGH = itemgetter(0), itemgetter(1)


class NoJoint(Exception):  # noqa: N818
    """No legal place for a joint is left where the paper needs one."""


@frozen
class Room:
    """What the tiles of a piece may measure along the strip, mm: `length`, laps included."""

    length: float

    def reach(self, first: bool, last: bool) -> float:
        """The strip's own length on a tile, less its lap and its registration marks."""
        return self.length - (0 if last else LAP) - (0 if first else STICK_OUT)


def free_spans(piece: Piece) -> tuple[Span, ...]:
    """Where a joint may stand: clear of marks, risers and ends, in order of v."""
    shut = [(piece.low - 1.0, piece.low + SHORTEST), (piece.high - SHORTEST, piece.high + 1.0)]
    shut += piece.shut
    for spot in piece.spots:
        half = spot.half + CLEAR_OF_BASE
        shut.append((spot.at[1] - half, spot.at[1] + half))
    free, start = [], piece.low
    for low, high in sorted(shut):
        if low > start:
            free.append((start, low))
        start = max(start, high)
    return tuple(free)


def fewest_joints(piece: Piece, room: Room) -> int:
    """How many joints a piece takes at the least. Raises `NoJoint`."""
    if piece.high - piece.low <= room.length:
        return 0
    planner = _Planner(piece.low, piece.high, free_spans(piece), room, piece.zero)
    return len(planner.farthest(0.0))


def plan_joints(piece: Piece, room: Room) -> tuple[float, ...]:
    """The joints' places (v): the fewest, and of those plans one whose tightest joint is clearest.

    Each joint then takes the clearest place that the others leave it. Where it costs no joint, they
    stand only where their readings are whole steps: a tile is set by its joints' readings, and a
    rounded one would set it off. Raises `NoJoint`.
    """
    if piece.high - piece.low <= room.length:
        return ()
    planner = _Planner(piece.low, piece.high, free_spans(piece), room, piece.zero)
    count = len(planner.farthest(0.0))
    whole = replace(planner, step=piece.step)
    if piece.step and whole.fits(count, 0.0):
        planner = whole
    return planner.settle(count, planner.best_clearance(count))


@frozen
class _Planner:
    """The spans are in order and apart, so what lies about a place is found by bisection."""

    low: float
    high: float
    spans: Sequence[Span]
    room: Room
    zero: float
    step: float = 0.0

    def farthest(self, clearance: float) -> tuple[float, ...]:
        """Joints from the lower end, each as far up as it may; the fewest there can be."""
        joints: list[float] = []
        spans = self._spans(clearance)
        while self.high - (joints[-1] if joints else self.low) > self.room.reach(not joints, True):
            at = (joints[-1] if joints else self.low) + self.room.reach(not joints, False)
            joint = self._last(spans, at)
            if joint <= (joints[-1] if joints else self.low) + SHORTEST - 1e-9:
                raise NoJoint
            joints.append(joint)
        return tuple(joints)

    def _last(self, spans: Sequence[Span], at: float) -> float:
        """The last place for a joint up to `at`, minus infinity where there is none."""
        for index in range(bisect_right(spans, at, key=_LOW) - 1, -1, -1):
            low, high = spans[index]
            place = self._down(min(high, at))
            if low <= place + _HAIR:
                return place
        return -inf

    def _first(self, spans: Sequence[Span], at: float) -> float:
        """The first place for a joint from `at` on, infinity where there is none."""
        for index in range(bisect_left(spans, at, key=_HIGH), len(spans)):
            low, high = spans[index]
            place = self._up(max(low, at))
            if place <= high + _HAIR:
                return place
        return inf

    def best_clearance(self, count: int) -> float:
        """The most that the tightest of `count` joints can stand clear of what it must avoid."""
        least, most = 0.0, max((high - low) / 2 for low, high in self.spans)
        while most - least > 1e-4:
            middle = (least + most) / 2
            least, most = (middle, most) if self.fits(count, middle) else (least, middle)
        return least

    def fits(self, count: int, clearance: float) -> bool:
        """Whether so many joints do."""
        try:
            return len(self.farthest(clearance)) <= count
        except NoJoint:
            return False

    def settle(self, count: int, clearance: float) -> tuple[float, ...]:
        """The joints one after the other from the lower end, each in the clearest place left."""
        least = self._nearest(count, clearance)
        joints: list[float] = []
        for index in range(count):
            start = joints[-1] if joints else self.low
            window = (
                max(least[index], start + (SHORTEST if joints else 0.0)),
                start + self.room.reach(index == 0, False),
            )
            joints.append(self._clearest(window, clearance))
        return tuple(joints)

    def _nearest(self, count: int, clearance: float) -> list[float]:
        """The least place of each joint that lets the ones above it reach the upper end."""
        spans, places = self._spans(clearance), []
        at = self.high - self.room.reach(False, True)
        for index in range(count - 1, -1, -1):
            place = self._first(spans, at)
            places.append(place)
            at = place - self.room.reach(index == 0, False)
        return places[::-1]

    def _clearest(self, window: Span, clearance: float) -> float:
        best, place = -inf, window[1]
        about = 1.0 + self.step
        first = bisect_left(self.spans, window[0] - about, key=_HIGH)
        for low, high in self.spans[first : bisect_right(self.spans, window[1] + about, key=_LOW)]:
            middle = min(max((low + high) / 2, window[0]), window[1])
            for at in (self._down(middle), self._up(middle)):
                clear = min(at - low, high - at)
                if clear > best + 1e-9 and window[0] - _HAIR <= at <= window[1] + _HAIR:
                    best, place = clear, at
        if best < clearance - 1e-3:
            raise NoJoint
        return place

    def _down(self, at: float) -> float:
        """The place of the whole step at or below."""
        if not self.step:
            return at
        return self.zero + floor((at - self.zero + _HAIR) / self.step) * self.step

    def _up(self, at: float) -> float:
        """The place of the whole step at or above."""
        return 2 * self.zero - self._down(2 * self.zero - at)

    def _spans(self, clearance: float) -> list[Span]:
        return [
            (low + clearance, high - clearance)
            for low, high in self.spans
            if high - low >= 2 * clearance
        ]


def tightest(piece: Piece, joints: Sequence[float]) -> float:
    """How far the joint that stands nearest to what it must avoid is from it, mm."""
    spans = free_spans(piece)
    return min((max(min(at - low, high - at) for low, high in spans) for at in joints), default=inf)
