"""Lanes for words on a tile: what is still free of them, and words set into it.

Words either run across the strip, line under line (`Across`), or up it in rows (`along.py`). A lane
never sets words over a stroke or over other words; what finds no room is refused.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import inf

from stairjig.drawing import Text
from stairjig.frozen import frozen
from stairjig.type import TIE, width, wrapped

DROP = 0.32
"""What letters reach below the line, over their height."""
APART = 0.9
"""Kept clear before and behind words in a row, mm."""
LEADING = 1.55
"""From line to line, over the height of capitals."""

_KEPT = re.compile(r"(?<=[A-Za-z′]) (?=[0-9])|(?<=[0-9]) (?=baluster)")
"""Spaces that no line ends at, besides those within a length."""

Span = tuple[float, float]
Accept = Callable[[Sequence[Text]], bool]


def anywhere(_: Sequence[Text]) -> bool:
    """Every place will do."""
    return True


@frozen
class Wish:
    """Where words are wanted: `near` a v, best there and no farther than `within`, mm.

    `most`: on so many lines at the most; `accept`: what a place must be like besides.
    """

    near: float | None = None
    within: float = inf
    most: int = 99
    accept: Accept = anywhere


@lru_cache(maxsize=4096)
def cut_up(text: str, size: float, room: float, bold: bool) -> Sequence[str]:
    """Words in lines, no number torn from the word before it where there is room for both.

    The last line is not left short where the lines can be as long as one another.
    """
    tied = _KEPT.sub(TIE, text)
    lines = wrapped(tied, size, room, bold)
    if any(width(line, size, bold) > room for line in lines):
        return wrapped(text, size, room, bold)
    for share in (0.7, 0.85) if len(lines) > 1 else ():
        others = wrapped(tied, size, room * share, bold)
        if len(others) == len(lines):
            return others
    return lines


@dataclass(slots=True)
class Track:
    """A band of u with the spans of v in it that are still free, in order."""

    left: float
    right: float
    free: list[Span]

    @property
    def wide(self) -> float:
        """Its width, mm."""
        return self.right - self.left

    def block(self, low: float, high: float) -> None:
        """Take a span out."""
        kept: list[Span] = []
        for start, end in self.free:
            if high <= start or low >= end:
                kept.append((start, end))
                continue
            kept += [(start, low)] if low > start else []
            kept += [(high, end)] if high < end else []
        self.free = kept


def starts(free: Sequence[Span], length: float, near: float | None) -> list[float]:
    """Where words of that length may start, best first: nearest to `near`, or highest up."""
    found = []
    for low, high in free:
        if high - low + 1e-9 >= length:
            found += [low, high - length]
            if near is not None and low <= near <= high - length:
                found.append(near)
    if near is None:
        return sorted(set(found), reverse=True)
    return sorted(set(found), key=lambda at: off(at, at + length, near))


def off(low: float, high: float, near: float) -> float:
    """How far a span stands from a place."""
    return max(near - high, low - near, 0.0)


def common(spans: Sequence[Sequence[Span]]) -> list[Span]:
    """What is free in all of several tracks, each in order."""
    shared = list(spans[0])
    for others in spans[1:]:
        shared = _merged(shared, others)
    return shared


def _merged(ours: Sequence[Span], others: Sequence[Span]) -> list[Span]:
    """What is free in both of two tracks, found on one way up them."""
    both, mine, other = [], 0, 0
    while mine < len(ours) and other < len(others):
        low, high = ours[mine], others[other]
        start, end = max(low[0], high[0]), min(low[1], high[1])
        if start < end:
            both.append((start, end))
        if low[1] < high[1]:
            mine += 1
        else:
            other += 1
    return both


@dataclass(slots=True)
class Across:
    """A lane whose words run across the strip from its inner side, lines one under the other.

    `inner`: u next to the line; the lane ends below and above at straight edges, given by their v
    at `inner` and their slope, so that short lines go further into a corner than long ones. `pad`:
    kept clear above and below words, mm.
    """

    track: Track
    inner: float
    low: float
    low_slope: float
    high: float
    high_slope: float
    pad: float = 0.0

    def put(self, words: Sequence[str], size: float, bold: bool, wish: Wish) -> list[Text] | None:
        """Words as texts, each on lines of its own, wrapped to the lane; None without room."""
        for room in (self.track.wide, self.track.wide * 0.7):
            lines = [line for some in words for line in cut_up(some, size, room, bold)]
            longest = max(width(line, size, bold) for line in lines)
            if longest <= self.track.wide and len(lines) <= wish.most:
                texts = self._set(lines, longest, size, bold, wish)
                if texts:
                    return texts
        return None

    def level(self, words: str, size: float, bold: bool, v: float, shift: float) -> Text | None:
        """One line whose middle stands at `v`, `shift` mm out from the lane's inner side."""
        half = size / 2 + 0.8
        low, high = v - half, v + half
        reach = shift + width(words, size, bold)
        bottom, top = self._limits(reach)
        if reach > self.track.wide or low < bottom or high > top:
            return None
        if not any(a <= low and high <= b for a, b in self.track.free):
            return None
        return self._line(words, v - size / 2, size, bold, shift)

    def take(self, v: float, half: float) -> None:
        """Keep the lane clear about `v`."""
        self.track.block(v - half, v + half)

    def _set(
        self, lines: Sequence[str], longest: float, size: float, bold: bool, wish: Wish
    ) -> list[Text] | None:
        height = size * (LEADING * (len(lines) - 1) + 1 + 2 * DROP)
        free = common([self.track.free, [self._limits(longest)]])
        for low in starts(free, height, wish.near):
            if wish.near is not None and off(low, low + height, wish.near) > wish.within:
                break
            top = low + height - size * (1 + DROP)
            texts = [
                self._line(line, top - n * size * LEADING, size, bold, 0.0)
                for n, line in enumerate(lines)
            ]
            if wish.accept(texts):
                self.track.block(low - self.pad, low + height + self.pad)
                return texts
        return None

    def _limits(self, reach: float) -> Span:
        return (
            self.low + max(0.0, self.low_slope * reach),
            self.high + min(0.0, self.high_slope * reach),
        )

    def _line(self, line: str, v: float, size: float, bold: bool, shift: float) -> Text:
        if self.inner <= self.track.left:
            return Text(line, (self.inner + shift, v), size, bold)
        return Text(line, (self.inner - shift, v), size, bold, anchor="end")
