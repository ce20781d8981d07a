"""Running words: set in lines of a width, in paragraphs, or cut to one line."""

from __future__ import annotations

from collections.abc import Sequence

from stairjig.drawing import Text
from stairjig.type import width, wrapped

BODY = 2.8
"""Height of running words' capitals, mm; nothing that the helper needs is under 2.5."""
LEADING = 1.65
"""From line to line, over the height of capitals."""


def lines_in(text: str, size: float, room: float, bold: bool = False) -> list[str]:
    """`text` in lines no wider than `room` mm; a word that is wider is broken."""
    if text and width(text, size, bold) <= room and "  " not in text:
        return [text]
    lines: list[str] = []
    for line in wrapped(text, size, room, bold):
        while width(line, size, bold) > room and len(line) > 1:
            part = _fitting(line, size, room, bold)
            lines.append(line[:part])
            line = line[part:]
        lines.append(line)
    return lines


def paragraphs(
    texts: Sequence[str], room: float, bold_first: bool = False
) -> tuple[list[Text], float]:
    """Set paragraphs down from 0, and give how deep they go, mm."""
    items, y = [], 0.0
    for number, text in enumerate(texts):
        bold = bold_first and number == 0
        for line in lines_in(text, BODY, room, bold):
            y -= BODY * LEADING
            items.append(Text(line, (0.0, y), BODY, bold))
        y -= BODY * 0.5
    return items, -y


def fitted(text: str, size: float, room: float, bold: bool = False) -> str:
    """`text` on one line of `room` mm, its end cut off where it must be."""
    if width(text, size, bold) <= room:
        return text
    return text[: _fitting(text, size, room - width("…", size, bold), bold)].rstrip() + "…"


def _fitting(text: str, size: float, room: float, bold: bool) -> int:
    """How many characters of `text`, one at least, a line of `room` mm holds."""
    return max((n for n in range(1, len(text)) if width(text[:n], size, bold) <= room), default=1)
