"""What the codes of a PDF's font say, by its own table for the purpose, and how wide they run."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any, TypeVar

from stairjig.frozen import frozen
from stairjig.proof.glyphs import strange_letters
from stairjig.proof.tokens import digits

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Mapping

T = TypeVar("T")

_MOST_STEPS = 200_000
"""Lines and steps of a table; a font of two bytes has 65,536 codes at most."""

_HEX = rb"<([0-9A-Fa-f\s]*)>"
_ONE = re.compile(_HEX)
_PAIR = re.compile(_HEX + rb"\s*" + _HEX)
_RANGE = re.compile(_HEX + rb"\s*" + _HEX + rb"\s*(?:" + _HEX + rb"|\[([^\]]*)\])")


class _Table(dict[int, T]):
    """By code, with one answer for all codes that it does not know."""

    def __init__(self, entries: Iterable[tuple[int, T]], unknown: T) -> None:
        super().__init__(entries)
        self.unknown = unknown

    def __missing__(self, code: int) -> T:
        return self.unknown


@frozen
class Codes:
    """A font: what its codes say, how wide they run over its size, how many bytes each takes.

    `doubt`: why its letters may not show what they say, "" for no reason.
    """

    signs: _Table[str]
    widths: _Table[float]
    length: int
    doubt: str = ""

    def words(self, codes: bytes) -> str:
        """Say what the codes say; a code that says nothing comes out as U+FFFD."""
        return "".join(map(self.signs.__getitem__, self._each(codes)))

    def width(self, codes: bytes) -> float:
        """Add up how far the codes run, over the font's size."""
        return sum(map(self.widths.__getitem__, self._each(codes)))

    def _each(self, codes: bytes) -> Iterable[int]:
        if self.length == 1:
            return codes
        starts = range(0, len(codes), self.length)
        return [int.from_bytes(codes[start : start + self.length], "big") for start in starts]


def read_font(font: Any, decoded: Callable[[Any], bytes]) -> Codes:
    """Read a font's dictionary; `decoded` gives a stream's bytes.

    Without a table of its own (`ToUnicode`) a font of single bytes is taken for WinAnsi, and of a
    composite font nothing is known.
    """
    table = font.get("/ToUnicode")
    if table is not None:
        signs, length = _read_table(decoded(table.get_object()))
    elif font.get("/Subtype") == "/Type0":
        signs, length = {}, 2
    else:
        signs, length = _windows(), 1
    widths = _widths(font) if length == 1 else {}
    missing = "\N{REPLACEMENT CHARACTER}"
    doubt = _doubt(font, decoded, signs, widths)
    return Codes(_Table(signs.items(), missing), _Table(widths.items(), 0.0), length, doubt)


def _doubt(
    font: Any,
    decoded: Callable[[Any], bytes],
    signs: Mapping[int, str],
    widths: Mapping[int, float],
) -> str:
    """Say what is wrong with the letters themselves, which are in the file (9.8, 9.9)."""
    held = font.get("/FontDescriptor")
    letters = held.get_object().get("/FontFile2") if held is not None else None
    if letters is None or "/Encoding" in font:
        return "letters that are not in it"
    data = decoded(letters.get_object())
    if strange_letters(str(font.get("/BaseFont", ""))[1:], data, signs, widths):
        return "letters that show something else than they say"
    return ""


def _windows() -> dict[int, str]:
    return {code: bytes((code,)).decode("cp1252", "replace") for code in range(256)}


def _widths(font: Any) -> dict[int, float]:
    """Read the widths of a font of single bytes (9.2.4): thousandths of its size."""
    widths = font.get("/Widths")
    if widths is None:
        return {}
    numbers = [float(number.get_object()) / 1000 for number in widths.get_object()[:256]]
    return dict(enumerate(numbers, int(font["/FirstChar"])))


def _read_table(text: bytes) -> tuple[dict[int, str], int]:
    """Read a table of codes (9.10.3): what each says, and the bytes of a code."""
    signs: dict[int, str] = {}
    lengths: set[int] = set()
    for step, (code, sign) in enumerate(_lines(text)):
        lengths.add(len(code))
        signs[int.from_bytes(code, "big")] = sign
        if step > _MOST_STEPS:
            raise ValueError("a font with too many codes")
    if len(lengths) != 1 or not lengths < {1, 2}:
        raise ValueError("a font with codes of unlike lengths")
    return signs, lengths.pop()


def _lines(text: bytes) -> Iterator[tuple[bytes, str]]:
    """Give each code and what it says; the last one of a code counts."""
    for block in text.split(b"begin")[1:]:
        body = block.partition(b"end")[0]
        if body.startswith(b"bfchar"):
            for pair in _PAIR.finditer(body):
                yield digits(pair[1]), _sign(digits(pair[2]))
        elif body.startswith(b"bfrange"):
            for found in _RANGE.finditer(body):
                yield from _range(*found.groups())


def _range(
    low: bytes, high: bytes, first: bytes | None, each: bytes
) -> Iterator[tuple[bytes, str]]:
    """Give the codes from `low` to `high`; what they say counts up from `first`, or is listed."""
    length, start, end = len(digits(low)), *(int(digits(ends).hex(), 16) for ends in (low, high))
    listed = [digits(one[1]) for one in _ONE.finditer(each)] if first is None else []
    for step in range(min(end - start + 1, len(listed) if first is None else _MOST_STEPS)):
        said = listed[step] if first is None else _plus(digits(first), step)
        yield (start + step).to_bytes(length, "big"), _sign(said)


def _plus(code: bytes, step: int) -> bytes:
    return (int.from_bytes(code, "big") + step).to_bytes(len(code), "big")


def _sign(code: bytes) -> str:
    return code.decode("utf-16-be") if len(code) > 1 else code.decode("latin-1")
