"""What a file's streams and fonts hold, unpacked within bounds, and damage told in one line."""

from __future__ import annotations

import logging
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any

from pypdf.generic import StreamObject

from stairjig.errors import BadInput, Place, Problem
from stairjig.proof.fontcodes import Codes, read_font
from stairjig.proof.holdings import entry
from stairjig.proof.patience import Patience, TooLong

_LARGEST_STREAM = 50_000_000
_LARGEST_PAGE = 10_000_000
_MOST_UNPACKED = 100_000_000
"""Bytes of all streams together, each as often as it is carried out."""


@contextmanager
def guarded(where: Place | None, patience: Patience) -> Iterator[None]:
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
class Library:
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
