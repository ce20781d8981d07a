"""A file's pages: what is said of each, and what stands on it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from typing import Any, overload

from stairjig.errors import Place
from stairjig.proof.holdings import MOST_NODES, Nodes, entry, labels, titles
from stairjig.proof.library import Library, guarded
from stairjig.proof.marks import ReadPage
from stairjig.proof.operators import Painter
from stairjig.proof.patience import Patience

_POINT = 25.4 / 72
_MOST_PAGES = 20_000
_WIDEST_PAGE = 20_000.0
"""Points; the format's own limit is 14,400."""
_INHERITED = ("/Resources", "/MediaBox", "/CropBox", "/Rotate")
_NUMBER = "number"
"""The number of a page's object, with what is said of it."""
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
            number = getattr(node.indirect_reference, "idnum", 0)
            yield said | {key: node.get(key) for key in _OWN if key in node} | {_NUMBER: number}
        else:
            nodes.enter(node)
            waiting += [(kid.get_object(), said) for kid in reversed(kids)]
            if len(waiting) > MOST_NODES:
                raise ValueError("too many pages")


class Pages(Sequence[ReadPage]):
    """The pages, found when the first is asked for, each read when it is asked for."""

    def __init__(
        self, root: Any, library: Library, where: Place | None, patience: Patience
    ) -> None:
        self._root = root
        self.library = library
        self._where = where
        self._patience = patience

    @cached_property
    def _leaves(self) -> list[dict[str, Any]]:
        with guarded(self._where, self._patience):
            return list(_leaves(self._root))

    @cached_property
    def _labels(self) -> Mapping[int, str]:
        return labels(self._root)

    @cached_property
    def _titles(self) -> Mapping[int, str]:
        return titles(self._root)

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
        with guarded(self._where, self._patience), self.library.counting(index):
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
            title=self._titles.get(leaf[_NUMBER], ""),
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
