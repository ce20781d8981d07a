"""The strokes and words of a page, as the operators of its content stream in final points."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TYPE_CHECKING

from reportlab.pdfbase import pdfmetrics

from stairjig.drawing import Ellipse, Field, Fill, Pen, Run, Stroke, Text, rectangle
from stairjig.errors import BadInput, Problem
from stairjig.pdf.objects import POINT, Document, Name, literal, number
from stairjig.type import font, font_size, width

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from stairjig.drawing import Item, Page, Point

_ARC = 4 / 3 * (math.sqrt(2) - 1)
"""How far along the tangent the control points of a quarter circle stand, over its radius."""

_SIGNS = "½¼¾⅛⅜⅝⅞⁄⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉′″°⌀×·±≤≥–—‘’“”…←↑→↓▲▼✓"
"""Signs that get their codes first, so that the same words are the same bytes in every pack."""

_TURNS = {0: (1, 0), 90: (0, 1), 180: (-1, 0), 270: (0, -1)}
_SHARES = {"start": 0.0, "middle": 0.5, "end": 1.0}


def content(page: Page, letters: Letters) -> bytes:
    """Write the page's content stream.

    Raises:
        BadInput: the fonts have no sign for a character of the page's words.

    """
    ink = _Ink(letters)
    for item in page.items:
        if isinstance(item, Run):
            ink.run(item)
        else:
            ink.draw(item)
    return ("\n".join(ink.code) + "\n").encode("latin-1")


class _Ink:
    """Writes the operators of items and remembers which pen and which grey of fills are set."""

    def __init__(self, letters: Letters) -> None:
        self.code: list[str] = []
        self.letters = letters
        self._forget()

    def _forget(self) -> None:
        self.pen: Pen | None = None
        self.grey: float | None = None

    def run(self, run: Run) -> None:
        """Write a marked run, which sets all it needs: it depends on nothing before it."""
        self._forget()
        self.code.append(f"{Name(run.tag)} BMC")
        for item in sorted(run.items, key=lambda item: isinstance(item, Text)):
            self.draw(item)
        self.code.append("EMC")
        self._forget()

    def draw(self, item: Item) -> None:
        """Write one item; of a field, its box."""
        match item:
            case Stroke():
                self._take(item.pen)
                self.code.append(path(item.points, "s" if item.closed else "S"))
            case Ellipse():
                self._take(item.pen)
                self.code.append(_ellipse(item))
            case Fill():
                self._dip(item.grey)
                self.code.append(path(item.points, "f"))
            case Text():
                self._dip(item.grey)
                self.code.append(self.letters.shown(item))
            case Field():
                self.draw(rectangle(*item.at, item.width, item.height, Pen.THIN))

    def _take(self, pen: Pen) -> None:
        if pen is not self.pen:
            self.code.append(_change(self.pen, pen))
            self.pen = pen

    def _dip(self, grey: float) -> None:
        if grey != self.grey:
            self.code.append(f"{number(grey)} g")
            self.grey = grey


@lru_cache(maxsize=512)
def _change(before: Pen | None, pen: Pen) -> str:
    """Say what has to be said to change pens."""
    parts = []
    if before is None or before.weight != pen.weight:
        parts.append(f"{number(pen.weight * POINT)} w")
    if before is None or before.dashes != pen.dashes:
        parts.append(f"[{' '.join(number(dash * POINT) for dash in pen.dashes)}] 0 d")
    if before is None or before.grey != pen.grey:
        parts.append(f"{number(pen.grey)} G")
    return " ".join(parts)


@lru_cache(maxsize=512)
def _path_form(count: int, end: str) -> str:
    return "%.5f %.5f m" + " %.5f %.5f l" * (count - 1) + " " + end


def path(corners: Iterable[Point], end: str) -> str:
    """Write a path through points in mm, ended by the painting operator `end`."""
    numbers = [length * POINT for corner in corners for length in corner]
    return _path_form(len(numbers) // 2, end) % tuple(numbers)


_ELLIPSE_FORM = "%.5f %.5f m" + " %.5f %.5f %.5f %.5f %.5f %.5f c" * 4 + " s"


def _ellipse(ellipse: Ellipse) -> str:
    """Write four Bezier quarters, counterclockwise from the right."""
    x, y = ellipse.centre[0] * POINT, ellipse.centre[1] * POINT
    a, b = ellipse.half_width * POINT, ellipse.half_height * POINT
    p, q = a * _ARC, b * _ARC
    first = (x + a, y + q, x + p, y + b, x, y + b)
    second = (x - p, y + b, x - a, y + q, x - a, y)
    third = (x - a, y - q, x - p, y - b, x, y - b)
    fourth = (x + p, y - b, x + a, y - q, x + a, y)
    return _ELLIPSE_FORM % (x + a, y, *first, *second, *third, *fourth)


class Letters:
    """The words of one document: which codes of its fonts stand for which signs."""

    def __init__(self, document: Document) -> None:
        self.document = document
        self.fonts = {bold: pdfmetrics.getFont(font(bold)) for bold in (False, True)}
        self._codes: dict[tuple[str, bool], tuple[tuple[str, str], ...]] = {}
        for face in self.fonts.values():
            face.splitString(_SIGNS, document)
            face.getSubsetInternalName(0, document)

    def shown(self, item: Text) -> str:
        """Write one text object, from BT to ET."""
        cos, sin = _TURNS[item.angle]
        back = _SHARES[item.anchor]
        if back:
            back *= width(item.text, item.size, item.bold)
        x, y = (item.at[0] - cos * back) * POINT, (item.at[1] - sin * back) * POINT
        size = number(font_size(item.size) * POINT)
        words = " ".join(f"{name} {size} Tf {codes} Tj" for name, codes in self._of(item))
        return f"BT {cos} {sin} {-sin} {cos} {x:.5f} {y:.5f} Tm {words} ET"

    def _of(self, item: Text) -> tuple[tuple[str, str], ...]:
        """Give each stretch of the text in one subset: the subset's name, the codes."""
        key = item.text, item.bold
        if key not in self._codes:
            self._codes[key] = tuple(self._split(*key))
        return self._codes[key]

    def _split(self, text: str, bold: bool) -> Iterator[tuple[str, str]]:
        face = self.fonts[bold]
        signs = face.face.charToGlyph
        if lacking := "".join(sorted({sign for sign in text if ord(sign) not in signs})):
            what = f"the font has no sign for {lacking!r} in {text!r}"
            raise BadInput(Problem(what, "write it without"))
        for subset, codes in face.splitString(text, self.document):
            yield face.getSubsetInternalName(subset, self.document), literal(codes)
