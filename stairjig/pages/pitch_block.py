"""The pitch block: a bevel of the pitch at full scale, to cut out for the drill guide.

It stands as it is used, seen from the side with the upper end to the right: its raking edge
against the rail's underside, its bottom edge level, its right edge plumb.
"""

from __future__ import annotations

from math import cos, degrees, floor, pi, sin, tan
from typing import TYPE_CHECKING

from stairjig.drawing import Pen, Stroke, Text, moved
from stairjig.frozen import frozen
from stairjig.type import width

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from stairjig.drawing import Item, Point
    from stairjig.lengths import Units

TAB, TALL_TAB = 18.0, 23.0
"""Height of the strip under the bevel that carries the words, mm; with words on its head, too."""
LEAST_TAB = 90.0
LEAST_LONG = 100.0
"""Raking edge of a block that is made smaller to stand on a page with other things, mm."""
LONGEST = 190.0
"""Level edge, mm at the most."""
HIGHEST = 150.0
"""Plumb edge, mm at the most."""
_WORDS = 2.8


@frozen
class Block:
    """A pitch block: its pitch (radians), its level side, its tab's width and height, mm."""

    pitch: float
    level: float
    tab: float = LEAST_TAB
    foot: float = TAB

    @property
    def plumb(self) -> float:
        """The plumb side."""
        return self.level * tan(self.pitch)

    @property
    def raking(self) -> float:
        """The raking edge."""
        return self.level / cos(self.pitch)

    @property
    def left(self) -> float:
        """How far the tab reaches beyond the bevel's foot, negative."""
        return min(0.0, self.level - self.tab)

    @property
    def size(self) -> tuple[float, float]:
        """Width and height of all that is drawn."""
        return self.level - self.left + 7.0, self.plumb + self.foot + 7.0


def block_for(
    pitch: float, room: float, units: Units, high: float = HIGHEST, foot: float = TAB
) -> Block:
    """Make the largest block of whole inches or centimetres on its level side that fits.

    `high`: its plumb side at the most, `foot`: its tab's height, mm.
    """
    step = 25.4 if units == "inch" else 10.0
    most = min(LONGEST, room - 8.0, min(high, HIGHEST) / tan(pitch))
    return Block(pitch, max(1, floor(most / step)) * step, min(LEAST_TAB, room - 8.0), foot)


def block_items(block: Block, words: Sequence[str], head: str = "") -> tuple[Item, ...]:
    """Draw the block from its lower left corner; `words` stand on its tab, the first in bold.

    `head`: what is said of it standing on its head, upside down at its foot.
    """
    right, top = block.level, block.plumb
    foot = ((block.left, 0.0),) if block.left < 0 else ()
    outline = ((block.left, -block.foot), (right, -block.foot), (right, top), (0.0, 0.0), *foot)
    items: list[Item] = [
        Stroke(outline, Pen.CUT, closed=True),
        Stroke(((0.0, 0.0), (right, 0.0)), Pen.THIN),
        Text("level", ((block.left + right) / 2, -block.foot - 4.5), _WORDS, anchor="middle"),
        Text("plumb", (right + 4.5, max(top, 8.0) / 2), _WORDS, angle=90, anchor="middle"),
        *_tab_words(block, words),
        *_head_words(block, head),
        *_bit_lines(block),
        *_rail_words(block),
    ]
    by = (-block.left, block.foot + 6.0)
    return tuple(moved(item, by) for item in items)


def _tab_words(block: Block, words: Sequence[str]) -> Iterator[Text]:
    room = block.level - block.left - 6.0
    for row, line in enumerate(words[:3]):
        bold = row == 0
        size = _WORDS if width(line, _WORDS, bold) <= room else 2.5
        if width(line, size, bold) <= room:
            yield Text(line, (block.left + 3.0, -5.0 - row * 4.8), size, bold)


def _head_words(block: Block, words: str) -> Iterator[Text]:
    room = block.level - block.left - 6.0
    if words and width(words, _WORDS, bold=True) <= room:
        yield Text(words, (block.level - 3.0, -block.foot + 5.2), _WORDS, bold=True, angle=180)


def _bit_lines(block: Block) -> Iterator[Item]:
    """Draw the bit's line, plumb, and one square to the rail, with the tilt between them."""
    pitch, start = block.pitch, block.level * 0.5
    at = (start, start * tan(pitch))
    long = min(at[1], 60.0, (block.level - start - 4.0) / sin(pitch))
    if long < 22.0:
        return
    across = (at[0] + long * sin(pitch), at[1] - long * cos(pitch))
    yield Stroke((at, (at[0], 0.0)), Pen.RULE)
    yield Stroke((at, across), Pen.EDGE)
    yield Stroke(tuple(_arc(at, long * 0.62, pitch)), Pen.THIN)
    yield Text("the bit runs so", (at[0] - 1.5, 2.0), 2.5, angle=90)
    yield Text(f"{degrees(pitch):.1f}°", (at[0] + 2.0, at[1] - long * 0.62 - 4.5), 2.5)
    room = block.level - 4.0 - across[0]
    said = [words for words in ("square to the rail", "square") if width(words, 2.5) < room]
    yield from (Text(words, (across[0] + 2.0, across[1] + 0.5), 2.5) for words in said[:1])


def _rail_words(block: Block) -> Iterator[Item]:
    """Say over the raking edge what lies against it, where there is room."""
    words, steep = "the rail lies on this edge", tan(block.pitch)
    wide = width(words, _WORDS)
    y = block.plumb * 0.72
    if y - 4.0 > (wide + 4.0) * steep and y > 12.0:
        yield Text(words, (0.0, y), _WORDS)
        start, end = (wide + 1.5, y + 1.0), (y / steep - 1.5, y + 1.0)
        yield Stroke((start, (end[0], end[1])), Pen.THIN)
        yield Stroke(((end[0] - 2.0, end[1] + 1.0), end, (end[0] - 2.0, end[1] - 1.0)), Pen.THIN)


def _arc(centre: Point, radius: float, pitch: float) -> Iterator[Point]:
    steps = 12
    for step in range(steps + 1):
        turn = -pi / 2 + pitch * step / steps
        yield centre[0] + radius * cos(turn), centre[1] + radius * sin(turn)
