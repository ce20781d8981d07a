"""The fonts of the pack: where they are, how wide a text comes out, what they have signs for."""

from __future__ import annotations

import re
from functools import lru_cache
from importlib.resources import as_file, files
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from reportlab.pdfbase.ttfonts import TTFont

REGULAR, BOLD = "stairjig", "stairjig-bold"
_FILES = {REGULAR: "DejaVuSansCondensed.ttf", BOLD: "DejaVuSansCondensed-Bold.ttf"}
CAPITALS = 0.729
"""Height of capitals and digits over the font's size (DejaVu Sans, OS/2 table: 1493 of 2048)."""

_KEPT = re.compile(r"(?<=[0-9]) (?=[0-9]+/[0-9]|mm\b)|(?<=⌀) ")
"""Spaces within a length."""
TIE = "\0"
"""Stands for a space that no line may end at."""


@lru_cache(maxsize=1)
def _registered() -> dict[str, TTFont]:
    """The fonts by name; imported and read when the first word is measured."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    fonts = {}
    for name, file in _FILES.items():
        with as_file(files("stairjig.fonts") / file) as path:
            fonts[name] = TTFont(name, str(path), asciiReadable=True)
        pdfmetrics.registerFont(fonts[name])
    return fonts


def font(bold: bool) -> str:
    """The registered name of the font."""
    _registered()
    return BOLD if bold else REGULAR


def font_size(size: float) -> float:
    """The font's size for capitals of `size`, in the same unit."""
    return size / CAPITALS


class _Advances(dict[str, float]):
    """How far each sign moves on, in thousandths of the font's size."""

    def __init__(self, bold: bool) -> None:
        super().__init__()
        self.face = _registered()[font(bold)].face

    def __missing__(self, sign: str) -> float:
        advance = float(self.face.charWidths.get(ord(sign), self.face.defaultWidth))
        self[sign] = advance
        return advance


@lru_cache(maxsize=2)
def _advances(bold: bool) -> _Advances:
    return _Advances(bold)


def _advance(text: str, bold: bool) -> float:
    """How far a text moves on; exact, for a font's own units are binary fractions of these."""
    return sum(map(_advances(bold).__getitem__, text))


@lru_cache(maxsize=65_536)
def width(text: str, size: float, bold: bool = False) -> float:
    """How wide `text` comes out, mm, with capitals `size` mm high."""
    return 0.001 * font_size(size) * _advance(text, bold)


def missing(text: str) -> str:
    """The characters of `text` that the fonts have no sign for.

    Those beyond U+FFFF count as such: reportlab's tables of what is drawn can't name them.
    """
    faces = [font.face.charToGlyph for font in _registered().values()]
    return "".join(sorted({s for s in text if s > "\uffff" or any(ord(s) not in f for f in faces)}))


@lru_cache(maxsize=4096)
def _words(text: str, bold: bool) -> tuple[tuple[str, float], ...]:
    """A text's words, lengths undivided, and how far each moves on."""
    words = [kept.replace(TIE, " ") for kept in _KEPT.sub(TIE, text).split()]
    return tuple((word, _advance(word, bold)) for word in words)


def wrapped(text: str, size: float, room: float, bold: bool = False) -> list[str]:
    """`text` in lines no wider than `room` mm; a single word that is wider stands alone.

    No line ends within a length: `5 1/8″`, `88 mm`, `⌀ 11/16″`; nor at a `TIE`.
    """
    lines: list[str] = []
    unit, space, taken = 0.001 * font_size(size), _advance(" ", bold), 0.0
    for word, more in _words(text, bold):
        if lines and unit * (taken + space + more) <= room:
            lines[-1] = f"{lines[-1]} {word}"
            taken += space + more
        else:
            lines.append(word)
            taken = more
    return lines
