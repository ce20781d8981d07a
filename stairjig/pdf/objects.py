"""The objects that a PDF is made of, and how numbers and strings stand in it.

reportlab keeps the objects of a document, subsets its fonts and puts the file together.
"""

from __future__ import annotations

import zlib
from typing import TYPE_CHECKING, Any

from reportlab.pdfbase import pdfdoc

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

POINT = 72 / 25.4
"""Points in a millimetre."""

Dict = pdfdoc.PDFDictionary
Array = pdfdoc.PDFArray
Name = pdfdoc.PDFName
Words = pdfdoc.PDFString
Reference = pdfdoc.PDFObjectReference
Document = Any
"""reportlab's `PDFDocument`, which has no types of its own."""

_ESCAPES = {
    code: f"\\{chr(code)}" if 32 <= code < 127 else f"\\{code:03o}"
    for code in (*range(32), *b"\\()", *range(127, 256))
}


def number(value: float) -> str:
    """Write a number to five decimals, no longer than it has to be."""
    text = f"{value:.5f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def points(lengths: Iterable[float]) -> Any:
    """Make an array of lengths in points from lengths in mm, finer than reportlab would."""
    return Array([number(length * POINT) for length in lengths])


def literal(codes: bytes) -> str:
    """Write a string of codes as it stands in a content stream (7.3.4.2)."""
    return f"({codes.decode('latin-1').translate(_ESCAPES)})"


def stream(document: Document, content: bytes, entries: Mapping[str, Any]) -> Any:
    """Add a stream, compressed; return its reference."""
    dictionary = Dict({**entries, "Filter": Name("FlateDecode")})
    return document.Reference(pdfdoc.PDFStream(dictionary, zlib.compress(content)))
