"""A finished PDF, read back: its pages, its files, its form.

pypdf finds the objects of the file and unpacks its streams; what they say is worked out in this
package, which shares no code with what writes a pack. The limits keep a hostile file from taking
the machine: a pack of a hundred flights stays a good way inside them.
"""

from __future__ import annotations

import logging
import math
import zlib
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import cached_property
from io import BytesIO
from typing import Any, overload

from pypdf import PdfReader
from pypdf.generic import StreamObject

from stairjig.errors import BadInput, Place, Problem
from stairjig.proof.fontcodes import Codes, read_font
from stairjig.proof.holdings import MOST_NODES, Nodes, attachments, entry, fields, labels, words
from stairjig.proof.marks import (
    ReadEllipse,
    ReadPack,
    ReadPage,
    ReadRun,
    ReadStroke,
    ReadText,
    circles,
)
from stairjig.proof.operators import Painter
from stairjig.proof.outline import look_over
from stairjig.proof.patience import Patience, TooLong

__all__ = [
    "ReadEllipse",
    "ReadPack",
    "ReadPage",
    "ReadRun",
    "ReadStroke",
    "ReadText",
    "circles",
    "read_pdf",
]

_POINT = 25.4 / 72
_LARGEST_FILE = 50_000_000
_LARGEST_STREAM = 50_000_000
_LARGEST_PAGE = 10_000_000
_MOST_UNPACKED = 100_000_000
"""Bytes of all streams together, each as often as it is carried out."""
_MOST_PAGES = 20_000
_WIDEST_PAGE = 20_000.0
"""Points; the format's own limit is 14,400."""
OPENING = 1.2
"""Seconds of the processor that a file may take: the largest form takes two thirds of it."""
A_MARK = 0.02
"""Seconds more for each mark that a pack is to hold: several times what its pages take to read."""


def read_pdf(data: bytes, name: str = "", seconds: float | None = OPENING) -> ReadPack:
    """Read a PDF. `name`: what the file is called in what is said about it.

    `seconds`: how long the processor may take for all but its pages, and again as long for those;
    None for a file made here.

    Raises:
        BadInput: it is no PDF, is damaged beyond reading, is encrypted, is too large or takes too
            long. Of a page or of the form that is found when it is asked for.

    """
    where = Place(name) if name else None
    if len(data) > _LARGEST_FILE:
        raise BadInput(Problem(f"is over {_LARGEST_FILE // 10**6} MB", "no pack is", where))
    patience = Patience(seconds)
    with _guarded(where, patience):
        look_over(data)
        reader = PdfReader(BytesIO(data))
        if reader.is_encrypted:
            raise BadInput(Problem("is encrypted", "save it without a password", where))
        library, root = _Library(where), reader.trailer["/Root"]
        pages = _Pages(root, library, where, Patience(seconds))
        return ReadPack(
            pages=pages,
            form_pages=pages.with_fields(),
            attachments=attachments(root, library.decoded),
            title=words(entry(entry(reader.trailer, "/Info") or {}, "/Title")),
            fields=_Fields(root, library, where, patience),
            print_scaling=words(entry(entry(root, "/ViewerPreferences") or {}, "/PrintScaling")),
        )


@contextmanager
def _guarded(where: Place | None, patience: Patience) -> Iterator[None]:
    """Turn whatever a damaged file leads to into one line, and keep the library's log still.

    Every exception, for nobody can list what hostile bytes lead to.
    """
    log = logging.getLogger("pypdf")
    level = log.level
    log.setLevel(logging.CRITICAL + 1)
    try:
        with patience.spending():
            yield
    except BadInput:
        raise
    except TooLong:
        raise BadInput(
            Problem("takes longer to read than any pack does", "is it the right file?", where)
        ) from None
    except Exception as error:
        raise BadInput(
            Problem("is no PDF that stairjig can read", "save or download it again", where)
        ) from error
    finally:
        log.setLevel(level)


@dataclass(slots=True)
class _Library:
    """Unpacks streams and reads fonts, and keeps count of how much came out."""

    where: Place | None
    unpacked: int = 0
    allowed: int = _MOST_UNPACKED
    pages: dict[int, int] = field(default_factory=dict)
    fonts: dict[int, tuple[Any, Codes]] = field(default_factory=dict)

    def decoded(self, stream: Any) -> bytes:
        """Unpack a stream; one that is cut short or damaged is not mended, but a zlib.error."""
        data = _unpacked(StreamObject.get_data(stream), entry(stream, "/Filter"))
        self.unpacked += len(data)
        if self.unpacked > self.allowed:
            raise BadInput(Problem("holds more than any pack does", where=self.where))
        return data

    def font(self, font: Any) -> Codes:
        """Read the font of that dictionary, once."""
        if id(font) not in self.fonts:
            self.fonts[id(font)] = font, read_font(font, self.decoded)
        return self.fonts[id(font)][1]

    @contextmanager
    def counting(self, page: int) -> Iterator[None]:
        """Count what the page unpacks, instead of what it did at an earlier reading."""
        self.unpacked -= self.pages.pop(page, 0)
        before, allowed = self.unpacked, self.allowed
        self.allowed = min(allowed, before + _LARGEST_PAGE)
        try:
            yield
        finally:
            self.pages[page] = self.unpacked - before
            self.allowed = allowed


def _unpacked(data: bytes, filters: Any) -> bytes:
    """Undo the filters, which are Flate or none: the others are for pictures, or for old mail."""
    for name in filters if isinstance(filters, list) else [filters] if filters else []:
        if name.get_object() != "/FlateDecode":
            raise ValueError("a stream that is packed in a way that no pack is")
        inflater = zlib.decompressobj()
        data = inflater.decompress(data, _LARGEST_STREAM)
        if not inflater.eof:
            raise ValueError("a stream that is cut short or blows up")
    return data


class _Fields(Mapping[str, str]):
    """The values of the form's fields, read when the first is asked for."""

    def __init__(
        self, root: Any, library: _Library, where: Place | None, patience: Patience
    ) -> None:
        self._asked = root, library, where, patience

    @cached_property
    def _values(self) -> dict[str, str]:
        root, library, where, patience = self._asked
        with _guarded(where, patience):
            return dict(fields(root, library.decoded))

    def __getitem__(self, name: str) -> str:
        return self._values[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._values)

    def __len__(self) -> int:
        return len(self._values)


# Pages

_INHERITED = ("/Resources", "/MediaBox", "/CropBox", "/Rotate")
_OWN = ("/Contents", "/UserUnit", "/Annots")


def _leaves(root: Any) -> Iterator[dict[str, Any]]:
    """Give what is said of each page, in order, by itself or by a node above it (7.7.3)."""
    nodes, count = Nodes(), 0
    waiting: list[tuple[Any, dict[str, Any]]] = [(root["/Pages"], {})]
    while waiting:
        node, above = waiting.pop()
        own = {key: node[key] for key in _INHERITED if entry(node, key) is not None}
        said = above | own
        kids = entry(node, "/Kids")
        if kids is None:
            count += 1
            if count > _MOST_PAGES:
                raise ValueError("too many pages")
            yield said | {key: node.get(key) for key in _OWN if key in node}
        else:
            nodes.enter(node)
            waiting += [(kid.get_object(), said) for kid in reversed(kids)]
            if len(waiting) > MOST_NODES:
                raise ValueError("too many pages")


class _Pages(Sequence[ReadPage]):
    """The pages, found when the first is asked for, each read when it is asked for."""

    def __init__(
        self, root: Any, library: _Library, where: Place | None, patience: Patience
    ) -> None:
        self._root = root
        self.library = library
        self._where = where
        self._patience = patience

    @cached_property
    def _leaves(self) -> list[dict[str, Any]]:
        with _guarded(self._where, self._patience):
            return list(_leaves(self._root))

    @cached_property
    def _labels(self) -> Mapping[int, str]:
        return labels(self._root)

    def __len__(self) -> int:
        return len(self._leaves)

    @overload
    def __getitem__(self, index: int) -> ReadPage: ...
    @overload
    def __getitem__(self, index: slice) -> Sequence[ReadPage]: ...
    def __getitem__(self, index: int | slice) -> ReadPage | Sequence[ReadPage]:
        numbers = range(len(self))
        if isinstance(index, slice):
            return [self._read(number) for number in numbers[index]]
        return self._read(numbers[index])

    def with_fields(self) -> Iterator[ReadPage]:
        """Read the pages that have something to fill in."""
        for index, leaf in enumerate(self._leaves):
            if "/Annots" in leaf:
                yield self._read(index)

    def _read(self, index: int) -> ReadPage:
        with _guarded(self._where, self._patience), self.library.counting(index):
            return self._page(index)

    def _page(self, index: int) -> ReadPage:
        leaf = self._leaves[index]
        left, bottom, right, top = _box(leaf)
        unit = _POINT * float(entry(leaf, "/UserUnit") or 1)
        ctm = (unit, 0.0, 0.0, unit, -left * unit, -bottom * unit)
        painter = Painter(ctm, self.library)
        painter.page(self._content(leaf), leaf.get("/Resources", {}))
        return ReadPage(
            number=index + 1,
            width=(right - left) * unit,
            height=(top - bottom) * unit,
            label=self._labels.get(index, str(index + 1)),
            turned=int(leaf.get("/Rotate", 0)) % 360,
            items=tuple(painter.items),
            runs=tuple(painter.runs),
            doubts=tuple(sorted(painter.doubts)),
            notes=len(entry(leaf, "/Annots") or ()),
        )

    def _content(self, leaf: dict[str, Any]) -> bytes:
        """Unpack the page's content; several streams are one (7.8.2)."""
        content = entry(leaf, "/Contents")
        if content is None:
            return b""
        if not isinstance(content, list):
            return self.library.decoded(content)
        return b"\n".join(self.library.decoded(part.get_object()) for part in content)


def _box(leaf: dict[str, Any]) -> tuple[float, float, float, float]:
    """Give what a viewer shows of the page, in points: left, bottom, right, top."""
    box = leaf.get("/CropBox", leaf["/MediaBox"])
    a, b, c, d = (float(number.get_object()) for number in box)
    if not all(math.isfinite(number) for number in (a, b, c, d)):
        raise ValueError("a page without a size")
    if not (0 < abs(c - a) < _WIDEST_PAGE and 0 < abs(d - b) < _WIDEST_PAGE):
        raise ValueError("a page without a size")
    return min(a, c), min(b, d), max(a, c), max(b, d)
