"""Whether the letters of an embedded font are those that its table of codes says.

What a page shows are the glyphs of the font that is in the file; what is read of it is what another
table says of their codes. So each glyph is held against the one of that sign in the pack's own
fonts. Tables are those of the TrueType format.
"""

from __future__ import annotations

import struct
from bisect import bisect_left
from functools import cached_property, lru_cache
from importlib.resources import files
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

_FILES = {
    "DejaVuSansCondensed": "DejaVuSansCondensed.ttf",
    "DejaVuSansCondensed-Bold": "DejaVuSansCondensed-Bold.ttf",
}
"""The pack's fonts by their names."""
_WORDS, _MORE = 0x0001, 0x0020
_SCALES = ((0x0008, 2), (0x0040, 4), (0x0080, 8))
"""Flags of a glyph made of others, and what follows them, bytes (table `glyf`)."""
_DEEPEST = 4
_WIDTH = 1.0
"""Thousandths of the font's size that a letter may be wider or narrower than its own."""

Part = tuple[bytes, int]
"""What a glyph says of one that it is made of, but for its number, and that number."""


class Face:
    """The glyphs of a font. Damage raises whatever comes of it."""

    def __init__(self, data: bytes) -> None:
        self._data = data
        count = self._number(4)
        entries = (struct.unpack_from(">4sIII", data, 12 + 16 * n) for n in range(count))
        self._tables: dict[bytes, tuple[int, int]] = {
            tag: (start, long) for tag, _, start, long in entries
        }

    def _at(self, tag: bytes) -> int:
        return self._tables[tag][0]

    def _number(self, at: int) -> int:
        return int.from_bytes(self._data[at : at + 2], "big")

    @cached_property
    def _offsets(self) -> tuple[int, ...]:
        """Where each glyph begins in the table of glyphs, and where the last one ends."""
        start, size = self._tables[b"loca"]
        if self._number(self._at(b"head") + 50):
            return struct.unpack_from(f">{size // 4}I", self._data, start)
        return tuple(2 * n for n in struct.unpack_from(f">{size // 2}H", self._data, start))

    def glyph(self, number: int) -> bytes:
        """A glyph's outline, as it is written; none for a space."""
        start = self._at(b"glyf")
        return self._data[start + self._offsets[number] : start + self._offsets[number + 1]]

    def width(self, number: int) -> float:
        """How far a glyph moves on, in thousandths of the font's size."""
        full = self._number(self._at(b"hhea") + 34)
        at = self._at(b"hmtx") + 4 * min(number, full - 1)
        return self._number(at) * 1000 / self._number(self._at(b"head") + 18)

    @cached_property
    def codes(self) -> Mapping[int, int]:
        """The glyph of each code: of an embedded font, whose one table is a plain list."""
        at = self._at(b"cmap")
        _, count, _, _, off = struct.unpack_from(">HHHHI", self._data, at)
        kind, _, _, first, many = struct.unpack_from(">5H", self._data, at + off)
        if (count, kind) != (1, 6):
            raise ValueError("a font with other tables of codes than a pack's")
        return dict(enumerate(struct.unpack_from(f">{many}H", self._data, at + off + 10), first))

    @cached_property
    def _segments(self) -> tuple[int, tuple[int, ...]]:
        """Where the table of Unicode's first 65,536 signs lies (format 4), its segments' ends."""
        at = self._at(b"cmap")
        for n in range(self._number(at + 2)):
            platform, encoding, off = struct.unpack_from(">HHI", self._data, at + 4 + 8 * n)
            kind, _, _, twice = struct.unpack_from(">4H", self._data, at + off)
            if (platform, encoding, kind) == (3, 1, 4):
                ends = struct.unpack_from(f">{twice // 2}H", self._data, at + off + 14)
                return at + off, ends
        raise ValueError("a font without a table of signs")

    def of_sign(self, sign: int) -> int:
        """The glyph of a sign; the one for missing signs, 0, where there is none."""
        start, ends = self._segments
        n, size = bisect_left(ends, sign), 2 * len(ends)
        firsts, deltas, ranges = (start + 16 + size * k + 2 * n for k in (1, 2, 3))
        first, delta, off = map(self._number, (firsts, deltas, ranges))
        if n >= len(ends) or sign < first:
            return 0
        glyph = self._number(ranges + off + 2 * (sign - first)) if off else sign
        return (glyph + delta) & 0xFFFF if glyph else 0


@lru_cache(maxsize=2)
def own_face(name: str) -> Face:
    """One of the pack's fonts. Raises `KeyError` for another."""
    return Face((files("stairjig.fonts") / _FILES[name]).read_bytes())


def strange_letters(
    name: str, data: bytes, signs: Mapping[int, str], widths: Mapping[int, float]
) -> bool:
    """Whether a font shows for some code another letter than its sign, or at another width.

    `name`: what the font is called, its subset's tag before a plus; `signs`: by code, what each is
    said to be; `widths`: over the font's size.
    """
    try:
        face, own = Face(data), own_face(name.rpartition("+")[2])
        glyphs = face.codes
        for code, sign in signs.items():
            number = own.of_sign(ord(sign)) if len(sign) == 1 else 0
            wide = abs(widths.get(code, 0.0) * 1000 - own.width(number)) > _WIDTH
            if wide or not _same(face, glyphs.get(code, 0), own, number):
                return True
    except (ValueError, KeyError, IndexError, struct.error):
        return True
    return False


def _same(face: Face, one: int, own: Face, other: int, deep: int = 0) -> bool:
    """Whether two glyphs look the same; those made of others have their numbers apart."""
    mine, true = face.glyph(one), own.glyph(other)
    if mine[:2] < b"\x80" or true[:2] < b"\x80" or deep > _DEEPEST:
        return mine.rstrip(b"\0") == true.rstrip(b"\0")
    ours, theirs = list(_parts(mine)), list(_parts(true))
    return [said for said, _ in ours] == [said for said, _ in theirs] and all(
        _same(face, a, own, b, deep + 1) for (_, a), (_, b) in zip(ours, theirs, strict=True)
    )


def _parts(glyph: bytes) -> Iterator[Part]:
    """What a glyph is made of, one after the other."""
    at, flags = 10, _MORE
    while flags & _MORE:
        flags, number = struct.unpack_from(">HH", glyph, at)
        end = at + 4 + (4 if flags & _WORDS else 2)
        end += next((size for flag, size in _SCALES if flags & flag), 0)
        yield glyph[at : at + 2] + glyph[at + 4 : end], number
        at = end
