"""Where to stop: the word in white on black, and when, beside it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stairjig.drawing import Fill, Text
from stairjig.pages.lines import BODY, LEADING, lines_in
from stairjig.type import width

if TYPE_CHECKING:
    from stairjig.drawing import Item

_SIZE = 3.0


def stop_items(words: str, left: float, room: float, top: float) -> tuple[tuple[Item, ...], float]:
    """Draw a stop from `left` to `room`, its top at `top`; gives its items and its foot, mm."""
    tag = width("STOP", _SIZE, bold=True) + 5.0
    start = left + tag + 3.0
    lines = lines_in(words, BODY, room - start, bold=True)
    high = _SIZE + 3.6
    y = top - 1.6
    corners = ((left, y - high), (left + tag, y - high), (left + tag, y), (left, y))
    items: list[Item] = [
        Fill(corners),
        Text("STOP", (left + 2.5, y - high + 1.8), _SIZE, bold=True, grey=1.0),
    ]
    for n, line in enumerate(lines):
        at = (start, y - high + 1.9 - n * BODY * LEADING)
        items.append(Text(line, at, BODY, bold=True))
    low = min(y - high, y - high + 1.9 - (len(lines) - 1) * BODY * LEADING) - 0.8
    return tuple(items), low
