"""A finished PDF, read back: its pages, its files, its form.

pypdf finds the objects of the file and unpacks its streams; what they say is worked out in this
package, which shares no code with what writes a pack. The limits keep a hostile file from taking
the machine: a pack of a hundred flights stays a good way inside them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property
from io import BytesIO
from typing import Any

from pypdf import PdfReader

from stairjig.errors import BadInput, Place, Problem
from stairjig.proof.holdings import attachments, entry, fields, words
from stairjig.proof.leaves import Pages
from stairjig.proof.library import Library, guarded
from stairjig.proof.marks import (
    ReadEllipse,
    ReadPack,
    ReadPage,
    ReadRun,
    ReadStroke,
    ReadText,
    circles,
)
from stairjig.proof.outline import look_over
from stairjig.proof.patience import Patience

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

_LARGEST_FILE = 50_000_000
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
    with guarded(where, patience):
        look_over(data)
        reader = PdfReader(BytesIO(data))
        if reader.is_encrypted:
            raise BadInput(Problem("is encrypted", "save it without a password", where))
        library, root = Library(where), reader.trailer["/Root"]
        pages = Pages(root, library, where, Patience(seconds))
        return ReadPack(
            pages=pages,
            form_pages=pages.with_fields(),
            attachments=attachments(root, library.decoded),
            title=words(entry(entry(reader.trailer, "/Info") or {}, "/Title")),
            fields=_Fields(root, library, where, patience),
            print_scaling=words(entry(entry(root, "/ViewerPreferences") or {}, "/PrintScaling")),
        )


class _Fields(Mapping[str, str]):
    """The values of the form's fields, read when the first is asked for."""

    def __init__(
        self, root: Any, library: Library, where: Place | None, patience: Patience
    ) -> None:
        self._asked = root, library, where, patience

    @cached_property
    def _values(self) -> dict[str, str]:
        root, library, where, patience = self._asked
        with guarded(where, patience):
            return dict(fields(root, library.decoded))

    def __getitem__(self, name: str) -> str:
        return self._values[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._values)

    def __len__(self) -> int:
        return len(self._values)
