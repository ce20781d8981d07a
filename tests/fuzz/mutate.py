"""Files at random out of good ones: job files by their words, any file by its bytes."""

from __future__ import annotations

import re
from collections.abc import Callable
from random import Random

from fuzz.grammar import EDGES

_WORD = re.compile(rb"[A-Za-z_]+|[0-9][0-9 /.]*")
_NUMBER = re.compile(rb"(?<![A-Za-z_])[0-9]+(?:[ -][0-9]+/[0-9]+|/[0-9]+|\.[0-9]+)?")
_BITS = (
    b"[", b"]", b"{", b"}", b": ", b"- ", b"\n", b"\t", b"&a ", b"*a", b"!!", b"|", b">", b"%",
    b'"', b"'", b"\\", b"#", b"? ", b"\0", b"\xff", b"<<: ", b'"\\UFFFFFFFF"', b"---\n", b"\r",
    b"times: 99999999", b"!!python/object/apply:os.system [echo]", "\u202e½″".encode(), b"\xc2\xa0",
)  # fmt: skip
_PDF_BITS = (
    b"<<", b">>", b"[", b"]", b"(", b")", b"endobj", b"stream", b"endstream", b" R", b" 0 R",
    b"/Kids", b"/Parent", b"/Length 99999999999", b"/Filter", b"xref", b"%%EOF", b"-1", b"null",
    b"1e400", b"\xff\xfe", b"/JavaScript", b"/Launch", b"/Encrypt 1 0 R", b"/Prev 9",
    b"/Type /ObjStm",
)  # fmt: skip
Change = Callable[[bytes, Random], bytes]


def _span(data: bytes, chance: Random, most: int) -> tuple[int, int]:
    start = chance.randrange(len(data) + 1)
    return start, min(len(data), start + chance.randint(0, most))


def _flip(data: bytes, chance: Random) -> bytes:
    if not data:
        return data
    at = chance.randrange(len(data))
    return data[:at] + bytes((data[at] ^ 1 << chance.randrange(8),)) + data[at + 1 :]


def _cut(data: bytes, chance: Random) -> bytes:
    return data[: chance.randrange(len(data) + 1)]


def _drop(data: bytes, chance: Random) -> bytes:
    start, end = _span(data, chance, 60)
    return data[:start] + data[end:]


def _again(data: bytes, chance: Random) -> bytes:
    start, end = _span(data, chance, 300)
    at = chance.randrange(len(data) + 1)
    return data[:at] + data[start:end] * chance.choice((1, 1, 2, 50)) + data[at:]


def _put(bits: tuple[bytes, ...]) -> Change:
    def put(data: bytes, chance: Random) -> bytes:
        start, end = _span(data, chance, 4)
        return data[:start] + chance.choice(bits) + data[end:]

    return put


def _noise(data: bytes, chance: Random) -> bytes:
    at = chance.randrange(len(data) + 1)
    return data[:at] + chance.randbytes(chance.randint(1, 20)) + data[at:]


def _replaced(pattern: re.Pattern[bytes], data: bytes, chance: Random, new: bytes) -> bytes:
    found = list(pattern.finditer(data))
    if not found:
        return data
    spot = chance.choice(found)
    return data[: spot.start()] + new + data[spot.end() :]


def _edge(data: bytes, chance: Random) -> bytes:
    return _replaced(_NUMBER, data, chance, chance.choice(EDGES).encode())


def _measure(data: bytes, chance: Random) -> bytes:
    """Another number that may well be a measure."""
    whole, part = chance.randint(0, 15), chance.randint(1, 15)
    number = chance.choice(
        (f"{chance.uniform(0, 40):.2f}", f"{whole} {part}/16", f"{part}/16", f"{whole * part}")
    )
    return _replaced(_NUMBER, data, chance, number.encode())


def _word(data: bytes, chance: Random) -> bytes:
    """A word of the file in another's place."""
    words = _WORD.findall(data)
    return _replaced(_WORD, data, chance, chance.choice(words)) if words else data


def _lines(data: bytes, chance: Random) -> bytes:
    lines = data.splitlines(keepends=True)
    if len(lines) < 2:
        return data
    one, other = chance.randrange(len(lines)), chance.randrange(len(lines))
    how = chance.randrange(4)
    if how == 0:
        lines[one], lines[other] = lines[other], lines[one]
    elif how == 1:
        del lines[one]
    elif how == 2:
        lines.insert(other, lines[one])
    else:
        lines[one] = lines[one].lstrip() if chance.random() < 0.5 else b"  " + lines[one]
    return b"".join(lines)


JOB_CHANGES: tuple[Change, ...] = (
    _flip, _cut, _drop, _again, _put(_BITS), _noise, _edge, _edge, _measure, _measure, _measure,
    _measure, _word, _lines, _lines,
)  # fmt: skip
PDF_CHANGES: tuple[Change, ...] = (
    _flip, _flip, _flip, _cut, _drop, _again, _put(_PDF_BITS), _put(_PDF_BITS), _noise, _word,
)  # fmt: skip


_SPOTS = re.compile(rb" (?:Tj|l|m|c|re|cm|Tf|Tm)\n| BMC|EMC|/[A-Z][A-Za-z]+ ")


def changed_inside(data: bytes, chance: Random) -> bytes:
    """A PDF of plain streams changed at a drawing's operator or a key, its length kept."""
    spots = [found.start() for found in _SPOTS.finditer(data)]
    for _ in range(chance.choice((1, 1, 2, 5))):
        start = max(0, chance.choice(spots) - chance.randint(0, 40))
        old = data[start : start + 60]
        new = mutated(old, chance, (*PDF_CHANGES, _measure, _measure, _edge))
        data = data[:start] + new[: len(old)].ljust(len(old)) + data[start + len(old) :]
    return data


def mutated(data: bytes, chance: Random, changes: tuple[Change, ...]) -> bytes:
    """The file with one change to five."""
    for _ in range(chance.choice((1, 1, 1, 2, 3, 5))):
        data = chance.choice(changes)(data, chance)
    return data
