"""The words of a content stream: where they are set, and what they say (9.2 to 9.4).

Section and table numbers are those of ISO 32000-1.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Protocol

from stairjig.proof import tokens
from stairjig.proof.marks import ReadText
from stairjig.proof.paths import Paths
from stairjig.proof.tokens import SAME, Matrix

if TYPE_CHECKING:
    from stairjig.proof.fontcodes import Codes
    from stairjig.proof.marks import Point

_BENT = 0.001
_WHOLE_WIDTH = 100.0
_INVISIBLE, _CLIP = 3, 7
"""Text rendering modes that paint nothing (table 106); the latter hides what comes after."""
_SHIFTED = "words that are spaced or shifted"


class Library(Protocol):
    """What the content of a page may call for."""

    def decoded(self, stream: Any) -> bytes:
        """Unpack a stream."""

    def font(self, font: Any) -> Codes:
        """Read the font of that dictionary."""


@dataclass(slots=True)
class _Words:
    """A text that has begun: where, how turned and how large, and what it says so far."""

    at: Point
    angle: float
    size: float
    grey: float
    pieces: list[str] = field(default_factory=list)
    width: float = 0.0


class Lines(Paths):
    """Sets words, line by line."""

    def __init__(self, ctm: Matrix, library: Library) -> None:
        super().__init__(ctm)
        self._library = library
        self._matrix = self._line = SAME
        self._words: _Words | None = None
        self._fonts: dict[bytes, Codes] = {}
        self._resources: Mapping[str, Any] = {}

    def _begin_text(self, _: list[bytes]) -> None:
        self._place(SAME)

    def _place(self, matrix: Matrix) -> None:
        """Go to the start of a line; what was said before is one text."""
        self._end_text([])
        self._matrix = self._line = matrix

    def _end_text(self, _: list[bytes]) -> None:
        words, self._words = self._words, None
        if words is not None:
            order, self._count = self._count, self._count + 1
            said, at, angle = "".join(words.pieces), words.at, words.angle
            self._marks.append(
                ReadText(said, at, angle, words.size, words.width, words.grey, order)
            )

    def _font(self, operands: list[bytes]) -> None:
        name, size = operands
        if name not in self._fonts:
            font = self._resources["/Font"][tokens.name(name)]
            self._fonts[name] = self._library.font(font)
        codes = self._state.font = self._fonts[name]
        self._state.size = float(size)
        if codes.doubt:
            self.doubts.add(codes.doubt)

    def _set_leading(self, operands: list[bytes]) -> None:
        (leading,) = operands
        self._state.leading = float(leading)

    def _render(self, operands: list[bytes]) -> None:
        (mode,) = operands
        self._state.mode = int(mode)
        if self._state.mode == _CLIP:
            self.doubts.add("clips")

    def _text_matrix(self, operands: list[bytes]) -> None:
        self._place(tokens.matrix(operands))

    def _next(self, operands: list[bytes]) -> None:
        x, y = operands
        self._place(tokens.times((1.0, 0.0, 0.0, 1.0, float(x), float(y)), self._line))

    def _next_and_lead(self, operands: list[bytes]) -> None:
        self._state.leading = -float(operands[1])
        self._next(operands)

    def _next_line(self, _: list[bytes]) -> None:
        self._place(tokens.times((1.0, 0.0, 0.0, 1.0, 0.0, -self._state.leading), self._line))

    def _show(self, operands: list[bytes]) -> None:
        (token,) = operands
        if not tokens.is_string(token):
            raise ValueError("words that are no string")
        self._say(tokens.string(token))

    def _show_listed(self, operands: list[bytes]) -> None:
        """Show strings, with numbers between them that shift what comes after."""
        start, *parts, end = operands
        if (start, end) != (b"[", b"]"):
            raise ValueError("words that are no list")
        strings = [part for part in parts if tokens.is_string(part)]
        if any(float(part) for part in parts if not tokens.is_string(part)):
            self.doubts.add(_SHIFTED)
        self._say(b"".join(map(tokens.string, strings)))

    def _say(self, codes: bytes) -> None:
        font = self._state.font
        if font is None:
            raise ValueError("words without a font")
        if codes and self._state.mode not in (_INVISIBLE, _CLIP):
            if self._state.mode:
                self.doubts.add("words that are not filled")
            words = self._words = self._words or self._begun()
            words.pieces.append(font.words(codes))
            words.width += font.width(codes) * words.size

    def _begun(self) -> _Words:
        a, b, c, d, e, f = tokens.times(self._matrix, self._state.ctm)
        angle = math.degrees(math.atan2(b, a)) % 360 if b else 0.0 if a > 0 else 180.0
        if abs(a - d) + abs(b + c) > _BENT * (abs(a) + abs(b)):
            self.doubts.add("words that are bent or mirrored")
        return _Words((e, f), angle, self._state.size * math.hypot(c, d), self._state.fill)

    def _show_next(self, operands: list[bytes]) -> None:
        self._next_line([])
        self._show(operands)

    def _show_next_spaced(self, operands: list[bytes]) -> None:
        _, _, words = operands
        self.doubts.add(_SHIFTED)
        self._show_next([words])

    def _space(self, operands: list[bytes]) -> None:
        """Pass over spacing and shifts of letters, which move words; none is none."""
        (by,) = map(float, operands)
        if by:
            self.doubts.add(_SHIFTED)

    def _squeeze(self, operands: list[bytes]) -> None:
        (percent,) = map(float, operands)
        if percent != _WHOLE_WIDTH:
            self.doubts.add("words that are squeezed")
