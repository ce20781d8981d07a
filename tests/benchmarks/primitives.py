"""What a finished pack draws, as a list that a bare reportlab script can draw again.

    python -m tests.benchmarks.primitives PACK OUT

Lengths in points, in the order in which they were painted. A page is (width, height, items); an
item is a tuple that begins with its kind:

    line      x, y, x, y, pen        path     points, closed, filled, pen
    ellipse   x, y, x, y, pen        text     words, x, y, degrees, size, bold, grey
    field     name, x, y, width, height, value, tooltip, size, tick

with a pen as (weight, dashes, grey).
"""

from __future__ import annotations

import pickle
import sys
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from typing import Any

from pypdf import PdfReader

from stairjig.proof.marks import ReadPage, ReadStroke, ReadText, circles
from stairjig.proof.reading import read_pdf
from stairjig.type import CAPITALS, width

_POINT = 72 / 25.4
Item = tuple[Any, ...]


def primitives(data: bytes) -> dict[str, Any]:
    """The pages' items, the fields among them, and the files that the pack carries."""
    read, fields = read_pdf(data, seconds=None), list(_fields(data))
    pages = [
        (page.width * _POINT, page.height * _POINT, [*_items(page), *boxes])
        for page, boxes in zip(read.pages, fields, strict=True)
    ]
    return {"pages": pages, "files": dict(read.attachments), "title": read.title}


def _items(page: ReadPage) -> Iterator[Item]:
    marks: list[ReadStroke | ReadText] = list(page.items)
    for run in page.runs:
        marks += [*run.strokes, *run.texts]
    for mark in sorted(marks, key=lambda mark: mark.order):
        yield _text(mark) if isinstance(mark, ReadText) else _stroke(mark)


def _text(text: ReadText) -> Item:
    """A text; bold where only the bold font runs as wide."""
    size = text.size * CAPITALS
    off = [abs(width(text.text, size, bold) - text.width) for bold in (False, True)]
    place = (text.at[0] * _POINT, text.at[1] * _POINT)
    return ("text", text.text, *place, text.angle, text.size * _POINT, off[1] < off[0], text.grey)


def _stroke(stroke: ReadStroke) -> Item:
    pen = (stroke.weight * _POINT, tuple(d * _POINT for d in stroke.dashes), stroke.grey)
    points = [(x * _POINT, y * _POINT) for x, y in stroke.points]
    for ring in circles([stroke]):
        (x, y), a, b = ring.centre, ring.half_width, ring.half_height
        corners = ((x - a) * _POINT, (y - b) * _POINT, (x + a) * _POINT, (y + b) * _POINT)
        return ("ellipse", *corners, pen)
    if stroke.is_curve:
        raise ValueError("a curve that is no ellipse")
    if len(points) == 2 and not stroke.closed and not stroke.filled:
        return ("line", *points[0], *points[1], pen)
    return ("path", points, stroke.closed, stroke.filled, pen)


def _fields(data: bytes) -> Iterator[list[Item]]:
    """The fields of each page."""
    for page in PdfReader(BytesIO(data)).pages:
        yield [_field(note.get_object()) for note in page.get("/Annots", ())]


def _field(note: Any) -> Item:
    left, low, right, high = (float(number) for number in note["/Rect"])
    tick = note["/FT"] == "/Btn"
    size = 0.0 if tick else float(str(note["/DA"]).split()[1])
    value = "" if tick else str(note.get("/V", ""))
    box = (left, low, right - left, high - low)
    return ("field", str(note["/T"]), *box, value, str(note["/TU"]), size, tick)


if __name__ == "__main__":
    Path(sys.argv[2]).write_bytes(pickle.dumps(primitives(Path(sys.argv[1]).read_bytes()), 5))
