"""Whether two files show the same pages: a fingerprint of all that each page is drawn from.

Where `prove` reads what the pages say, this looks at nothing but bytes, so that no way to paint is
forgotten. What a viewer changes when a pack is filled in, values and looks of fields, is left out.
"""

from __future__ import annotations

import hashlib
from io import BytesIO
from itertools import zip_longest
from typing import TYPE_CHECKING, Any, cast

from pypdf import PdfReader
from pypdf.generic import (
    ArrayObject,
    BooleanObject,
    DictionaryObject,
    FloatObject,
    NullObject,
    NumberObject,
    StreamObject,
)

from stairjig.errors import Place
from stairjig.frozen import frozen
from stairjig.proof.holdings import MOST_NODES, entry, words
from stairjig.proof.library import Library, guarded
from stairjig.proof.outline import look_over
from stairjig.proof.patience import Patience

if TYPE_CHECKING:
    from collections.abc import Collection

_PACKING = {"/Length", "/Filter"}
"""How a stream is packed, which its unpacked bytes do not hang on."""
_OF_PAGE = {"/Parent", "/Annots", "/Contents", "/StructParents", "/Metadata"}
"""What is looked at by itself, or paints nothing."""
_OF_FIELD = {
    "/P", "/Parent", "/Kids", "/V", "/AP", "/AS", "/DA", "/M", "/MK", "/NM", "/Type", "/T", "/FT",
    "/Ff", "/TU", "/MaxLen", "/Rect",
}  # fmt: skip
"""What is looked at by itself, changes as a field is filled in, or stands above it then."""
_ROUNDED = 0.01
"""Points that a field's corner may be off where a filler has written it anew."""
_OF_FILE = {
    "/Type", "/Pages", "/Outlines", "/AcroForm", "/Names", "/Metadata", "/Version", "/Extensions",
}  # fmt: skip
_DEEPEST = 60


@frozen
class Source:
    """What a page is drawn from, as a fingerprint, and its fields: name, kind and corners (pt)."""

    drawn: str
    fields: tuple[tuple[str, tuple[float, ...]], ...] = ()

    def same(self, other: Source) -> bool:
        """Whether both show the same; a filler may write corners in coarser figures."""
        return self.drawn == other.drawn and all(
            one[0] == two[0] and all(map(_near, one[1], two[1]))
            for one, two in zip_longest(self.fields, other.fields, fillvalue=("", ()))
        )


def _near(one: float, other: float) -> bool:
    return abs(one - other) < _ROUNDED


def sources(data: bytes, name: str = "", seconds: float | None = None) -> tuple[Source, ...]:
    """One for how the file is to be shown, then one for each of its pages, in order.

    `name`, `seconds`: as for `read_pdf`, whose errors it raises.
    """
    where = Place(name) if name else None
    with guarded(where, Patience(seconds)):
        look_over(data)
        reader = PdfReader(BytesIO(data))
        file = _File(Library(where))
        root = reader.trailer["/Root"]
        pages = (file.page(page) for page in reader.pages)
        return Source(file.entries(cast("DictionaryObject", root), _OF_FILE)), *pages


class _File:
    """The objects of a file, each fingerprinted once."""

    def __init__(self, library: Library) -> None:
        self._library = library
        self._known: dict[int, tuple[Any, str]] = {}
        self._open: set[int] = set()

    def page(self, page: DictionaryObject) -> Source:
        """Give what a page is drawn from: by itself, and from the nodes above it."""
        parts, fields = [self.entries(page, _OF_PAGE), self._contents(page)], []
        for annotation in entry(page, "/Annots") or ():
            held = annotation.get_object()
            if held.get("/Subtype") == "/Widget":
                fields.append(self._field(held))
            else:
                parts.append(self.entries(held, {"/P", "/Popup"}))
        node, count = entry(page, "/Parent"), 0
        while node is not None and count < MOST_NODES:
            parts.append(self.entries(node, {"/Parent", "/Kids", "/Count", "/Type"}))
            node, count = entry(node, "/Parent"), count + 1
        return Source(_digest(*parts), tuple(sorted(fields)))

    def _contents(self, page: DictionaryObject) -> str:
        found = entry(page, "/Contents")
        streams = found if isinstance(found, ArrayObject) else [found] if found else []
        objects = [stream.get_object() for stream in streams]
        laid = [self.entries(each, _PACKING) for each in objects]
        drawn = b"\n".join(self._library.decoded(each) for each in objects)
        return _digest(*(each for each in laid if each != _digest()), drawn.rstrip())

    def _field(self, widget: DictionaryObject) -> tuple[str, tuple[float, ...]]:
        above = entry(widget, "/Parent") or {}
        name = words(entry(widget, "/T") or entry(above, "/T"))
        corners = tuple(float(corner) for corner in entry(widget, "/Rect") or ())
        return f"{name} {self.entries(widget, _OF_FIELD)}", corners

    def entries(self, held: DictionaryObject, left_out: Collection[str], deep: int = 0) -> str:
        """Fingerprint a dictionary's entries, some left out."""
        keys = sorted(key for key in held if key not in left_out)
        return _digest(*(f"{key} {self._value(held.raw_get(key), deep + 1)}" for key in keys))

    def _value(self, value: Any, deep: int = 0) -> str:
        """Fingerprint any value; pages and what comes round to itself count as such."""
        held = value.get_object() if value is not None else None
        if deep > _DEEPEST:
            raise ValueError("objects in objects, too deep")
        if not isinstance(held, DictionaryObject | ArrayObject):
            return _plain(held)
        if isinstance(held, DictionaryObject) and held.get("/Type") in ("/Page", "/Pages"):
            return "a page"
        if id(held) in self._open:
            return "round"
        if id(held) not in self._known:
            self._open.add(id(held))
            self._known[id(held)] = held, self._compound(held, deep)
            self._open.discard(id(held))
        return self._known[id(held)][1]

    def _compound(self, held: DictionaryObject | ArrayObject, deep: int) -> str:
        if isinstance(held, ArrayObject):
            return _digest("[", *(self._value(each, deep + 1) for each in held))
        if isinstance(held, StreamObject):
            unpacked = self._library.decoded(held)
            return _digest("stream", self.entries(held, _PACKING, deep), unpacked)
        return self.entries(held, (), deep)


def _plain(held: Any) -> str:
    if held is None or isinstance(held, NullObject):
        return "null"
    if isinstance(held, NumberObject | FloatObject) and not isinstance(held, BooleanObject):
        return f"{float(held):.5f}"
    return f"{type(held).__mro__[1].__name__} {held!r}"


def _digest(*parts: str | bytes) -> str:
    found = hashlib.sha256()
    for part in parts:
        data = part if isinstance(part, bytes) else part.encode("utf-8", "surrogatepass")
        found.update(b"%d:" % len(data) + data)
    return found.hexdigest()
