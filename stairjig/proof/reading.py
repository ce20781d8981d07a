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
from io import BytesIO
from typing import Any, overload

from pypdf import PdfReader
from pypdf.generic import NameObject, NullObject, StreamObject, create_string_object

from stairjig.errors import BadInput, Place, Problem
from stairjig.proof.fontcodes import Codes, read_font
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
_MOST_PAGES = 5_000
_MOST_NODES = 100_000
_WIDEST_PAGE = 20_000.0
"""Points; the format's own limit is 14,400."""


def read_pdf(data: bytes, name: str = "", form: bool = True) -> ReadPack:
    """Read a PDF. `name`: what the file is called in what is said about it.

    `form`: with the fields of its form; a proof, which asks for none, is faster without.

    Raises:
        BadInput: it is no PDF, is damaged beyond reading, is encrypted, or is too large. Of a
            page's content that is found when the page is asked for.

    """
    where = Place(name) if name else None
    if len(data) > _LARGEST_FILE:
        raise BadInput(Problem(f"is over {_LARGEST_FILE // 10**6} MB", "no pack is", where))
    size = len(data) / 1e6
    with _guarded(where, Patience(2 + 2 * size)):
        look_over(data)
        reader = PdfReader(BytesIO(data))
        if reader.is_encrypted:
            raise BadInput(Problem("is encrypted", "save it without a password", where))
        library, root = _Library(where), reader.trailer["/Root"]
        return ReadPack(
            pages=_Pages(
                list(_leaves(root)), _labels(root), library, where, Patience(5 + 5 * size)
            ),
            attachments=_attachments(root, library),
            title=_words(_entry(_entry(reader.trailer, "/Info") or {}, "/Title")),
            fields=dict(_fields(root, library)) if form else {},
            print_scaling=_words(_entry(_entry(root, "/ViewerPreferences") or {}, "/PrintScaling")),
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
        data = _unpacked(StreamObject.get_data(stream), _entry(stream, "/Filter"))
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


def _entry(holder: Any, key: str) -> Any:
    """Give what stands under the key, itself where there is only a reference; None if nothing."""
    value = holder.get(key)
    value = None if value is None else value.get_object()
    return None if isinstance(value, NullObject) else value


def _words(value: Any) -> str:
    """Read a text string, or a name without its slash; "" for nothing."""
    if value is None:
        return ""
    if isinstance(value, bytes):
        return value.decode("latin-1")
    text = str(value)
    return text[1:] if isinstance(value, NameObject) else text


class _Nodes:
    """Counts the nodes of a tree and refuses one that is met twice: trees may be made to loop."""

    def __init__(self) -> None:
        self.seen: set[int] = set()
        self.kept: list[Any] = []
        self.count = 0

    def enter(self, node: Any) -> None:
        self.count += 1
        if id(node) in self.seen or self.count > _MOST_NODES:
            raise ValueError("a tree that loops or is too large")
        self.seen.add(id(node))
        self.kept.append(node)  # so that its id stays its own


# Pages

_INHERITED = ("/Resources", "/MediaBox", "/CropBox", "/Rotate")
_OWN = ("/Contents", "/UserUnit")


def _leaves(root: Any) -> Iterator[dict[str, Any]]:
    """Give what is said of each page, in order, by itself or by a node above it (7.7.3)."""
    nodes, count = _Nodes(), 0
    waiting: list[tuple[Any, dict[str, Any]]] = [(root["/Pages"], {})]
    while waiting:
        node, above = waiting.pop()
        own = {key: node[key] for key in _INHERITED if _entry(node, key) is not None}
        said = above | own
        kids = _entry(node, "/Kids")
        if kids is None:
            count += 1
            if count > _MOST_PAGES:
                raise ValueError("too many pages")
            yield said | {key: node.get(key) for key in _OWN if key in node}
        else:
            nodes.enter(node)
            waiting += [(kid.get_object(), said) for kid in reversed(kids)]
            if len(waiting) > _MOST_NODES:
                raise ValueError("too many pages")


@dataclass(frozen=True, slots=True)
class _Pages(Sequence[ReadPage]):
    """The pages, each read when it is asked for."""

    leaves: list[dict[str, Any]]
    labels: Mapping[int, str]
    library: _Library
    where: Place | None
    patience: Patience

    def __len__(self) -> int:
        return len(self.leaves)

    @overload
    def __getitem__(self, index: int) -> ReadPage: ...
    @overload
    def __getitem__(self, index: slice) -> Sequence[ReadPage]: ...
    def __getitem__(self, index: int | slice) -> ReadPage | Sequence[ReadPage]:
        numbers = range(len(self.leaves))
        if isinstance(index, slice):
            return [self._read(number) for number in numbers[index]]
        return self._read(numbers[index])

    def _read(self, index: int) -> ReadPage:
        with _guarded(self.where, self.patience), self.library.counting(index):
            return self._page(index)

    def _page(self, index: int) -> ReadPage:
        leaf = self.leaves[index]
        left, bottom, right, top = _box(leaf)
        unit = _POINT * float(_entry(leaf, "/UserUnit") or 1)
        ctm = (unit, 0.0, 0.0, unit, -left * unit, -bottom * unit)
        painter = Painter(ctm, self.library)
        painter.page(self._content(leaf), leaf.get("/Resources", {}))
        return ReadPage(
            number=index + 1,
            width=(right - left) * unit,
            height=(top - bottom) * unit,
            label=self.labels.get(index, str(index + 1)),
            turned=int(leaf.get("/Rotate", 0)) % 360,
            items=tuple(painter.items),
            runs=tuple(painter.runs),
        )

    def _content(self, leaf: dict[str, Any]) -> bytes:
        """Unpack the page's content; several streams are one (7.8.2)."""
        content = _entry(leaf, "/Contents")
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


def _labels(root: Any) -> dict[int, str]:
    """Read the pages' labels, of those that have one each (12.4.2)."""
    tree = _entry(root, "/PageLabels")
    labels = {}
    for index, label in _tree(tree, "/Nums") if tree is not None else ():
        number = str(int(_entry(label, "/St") or 1)) if _entry(label, "/S") is not None else ""
        labels[int(index)] = _words(_entry(label, "/P")) + number
    return labels


# Files and fields


def _tree(root: Any, key: str) -> Iterator[tuple[Any, Any]]:
    """Go through a tree of names or numbers, in order (7.9.6, 7.9.7)."""
    nodes, waiting = _Nodes(), [root]
    while waiting:
        node = waiting.pop()
        nodes.enter(node)
        leaves = [leaf.get_object() for leaf in _entry(node, key) or ()]
        yield from zip(leaves[::2], leaves[1::2], strict=True)
        waiting += [kid.get_object() for kid in reversed(_entry(node, "/Kids") or ())]


def _attachments(root: Any, library: _Library) -> dict[str, bytes]:
    """Unpack the embedded files, by name (7.11.4)."""
    names = _entry(_entry(root, "/Names") or {}, "/EmbeddedFiles")
    found: dict[str, bytes] = {}
    for key, file in _tree(names, "/Names") if names is not None else ():
        name = _words(_entry(file, "/UF")) or _words(_entry(file, "/F")) or _words(key)
        held = file["/EF"]
        stream = _entry(held, "/UF")
        found[name] = library.decoded(held["/F"] if stream is None else stream)
    return found


def _fields(root: Any, library: _Library) -> Iterator[tuple[str, str]]:
    """Give each field's full name and value (12.7.3).

    A box counts as ticked, too, where a viewer has changed only what it shows (12.5.5), not its
    value.
    """
    form, nodes = _entry(root, "/AcroForm"), _Nodes()
    fields = (_entry(form, "/Fields") or ()) if form is not None else ()
    waiting = [(kid.get_object(), "", None) for kid in reversed(fields)]
    while waiting:
        node, prefix, above = waiting.pop()
        nodes.enter(node)
        own = _words(_entry(node, "/T"))
        name = ".".join(part for part in (prefix, own) if part)
        value = _entry(node, "/V")
        value = above if value is None else value
        kids = [kid.get_object() for kid in _entry(node, "/Kids") or ()]
        named = [(kid, name, value) for kid in reversed(kids) if "/T" in kid]
        waiting += named
        if not named and name:
            shown = [_entry(widget, "/AS") for widget in (node, *kids)]
            yield name, _value(value, library) or next(filter(None, map(_value, shown)), "")


def _value(value: Any, library: _Library | None = None) -> str:
    """Read a field's value, a text string or a stream of one; "" for a box that is not ticked."""
    if library and isinstance(value, StreamObject):
        value = create_string_object(library.decoded(value))
    words = _words(value)
    unticked = isinstance(value, NameObject) and words == "Off"
    return "" if unticked else words
