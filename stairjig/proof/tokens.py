"""A content stream in its tokens, and what numbers, names and strings among them say.

The stream is split here, which takes an eighth of the time that a general parser takes: a proof
reads every page.
"""

from __future__ import annotations

import math
import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

Matrix = tuple[float, float, float, float, float, float]
SAME: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)

_LARGEST = 1e9
_EVEN = 1e-6
_PLAIN = rb"[^()\\]++|\\."
_INNER = rb"\((?:" + _PLAIN + rb"|\((?:" + _PLAIN + rb")*+\))*+\)"
_WHITE = b"\x00\t\n\f\r "
"""White space (table 1), which a vertical tab is not."""
_TOKEN = re.compile(
    rb"""
      [+-]?[0-9.]{1,40}             # a number; more digits than that make two, and no sense
    | [A-Za-z'"][A-Za-z0-9*]*       # an operator, or true, false, null
    | /[^\x00\t\n\f\r \[\]<>(){}/%]*  # a name
    | \((?:"""
    + _PLAIN
    + b"|"
    + _INNER
    + rb""")*+\)                     # a string, with brackets inside to three deep
    | <<|>>|[\[\]]
    | <[0-9A-Fa-f\x00\t\n\f\r ]*+>  # a string in hexadecimal digits
    | %[^\r\n]*                     # a comment
    | [^\x00\t\n\f\r ]              # what is none of these
    """,
    re.VERBOSE | re.DOTALL,
)
_WHOLE = re.Match.group
_LONG = 200_000
_ESCAPE = re.compile(rb"\\([0-7]{1,3}|\r\n|.)", re.DOTALL)
_CONTROLS = {b"n": b"\n", b"r": b"\r", b"t": b"\t", b"b": b"\b", b"f": b"\f"}
_NEWLINES = (b"\n", b"\r", b"\r\n")

OPERAND = frozenset(b"0123456789+-./([]<>")
"""What an operand begins with."""


def tokens(code: bytes) -> Iterable[bytes]:
    """Split a content stream (7.8.2, 7.2); a long one piece by piece, to spare memory."""
    return _TOKEN.findall(code) if len(code) < _LONG else map(_WHOLE, _TOKEN.finditer(code))


def name(token: bytes) -> str:
    """Read a name, slash and all (7.3.5)."""
    plain = re.sub(rb"#([0-9A-Fa-f]{2})", lambda found: bytes.fromhex(found[1].decode()), token)
    return plain.decode("utf-8", "replace")


def is_string(token: bytes) -> bool:
    """Whether it is a string, in brackets or in hexadecimal digits."""
    return token[0] in b"(<" and token != b"<<"


def string(token: bytes) -> bytes:
    """Read a string (7.3.4)."""
    if token[:1] == b"<":
        return digits(token[1:-1])
    inside = token[1:-1]
    return _ESCAPE.sub(_escaped, inside) if b"\\" in inside else inside


def _escaped(found: re.Match[bytes]) -> bytes:
    what = found[1]
    if what[0] in b"01234567":
        return bytes((int(what, 8) & 0xFF,))
    return b"" if what in _NEWLINES else _CONTROLS.get(what, what)


def digits(text: bytes) -> bytes:
    """Read hexadecimal digits; an odd one at the end has a 0 behind it."""
    plain = text.translate(None, _WHITE).decode("ascii")
    return bytes.fromhex(plain + "0" * (len(plain) % 2))


def grey(operands: list[bytes], counts: Sequence[int]) -> float:
    """Give a colour's lightness, 0 to 1, from one, three (red, green, blue) or four inks.

    `counts`: how many operands it may have. Other ones, and inks out of range, are a ValueError.
    """
    inks = [float(token) for token in operands]
    if len(inks) not in counts or not all(0 <= ink <= 1 for ink in inks):
        raise ValueError("no colour")
    match inks:
        case [red, green, blue]:
            return 0.299 * red + 0.587 * green + 0.114 * blue
        case [cyan, magenta, yellow, black]:
            return 1 - min(1.0, 0.299 * cyan + 0.587 * magenta + 0.114 * yellow + black)
    return inks[0]


def matrix(operands: list[bytes]) -> Matrix:
    """Read a transform (8.3.4)."""
    a, b, c, d, e, f = map(float, operands)
    return (a, b, c, d, e, f)


def times(first: Matrix, then: Matrix) -> Matrix:
    """Multiply transforms; those that leave the range of sense are a ValueError."""
    a, b, c, d, e, f = first
    p, q, r, s, t, u = then
    product = (
        a * p + b * r,
        a * q + b * s,
        c * p + d * r,
        c * q + d * s,
        e * p + f * r + t,
        e * q + f * s + u,
    )
    if not -_LARGEST < min(product) <= max(product) < _LARGEST:
        raise ValueError("a transform out of range")
    return product


def scale(by: Matrix) -> float:
    """Give the factor by which lengths grow, in the mean of both directions."""
    a, b, c, d, _, _ = by
    return math.sqrt(abs(a * d - b * c))


def is_even(by: Matrix) -> bool:
    """Whether lengths grow by the same factor in every direction, and by some."""
    a, b, c, d, _, _ = by
    near = _EVEN * (abs(a) + abs(b))
    turned, mirrored = abs(a - d) + abs(b + c), abs(a + d) + abs(b - c)
    return near > 0 and min(turned, mirrored) <= near
