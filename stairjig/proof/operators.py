"""What a content stream paints: its operators, carried out on points in mm.

Operator by operator as in ISO 32000-1, table 51; sections and tables are its own.
"""

from __future__ import annotations

import copy
import math
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Protocol

from stairjig.proof import tokens
from stairjig.proof.marks import ReadRun, ReadStroke, ReadText
from stairjig.proof.tokens import SAME, Matrix

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from stairjig.proof.fontcodes import Codes
    from stairjig.proof.marks import Point

_MOST_OPERANDS = 100_000
_DEEPEST_FORM = 10
_DEEPEST_STATE = 1_000
_BENT = 0.001
_WHOLE_WIDTH = 100.0
_INVISIBLE = (3, 7)
"""Text rendering modes that paint nothing (table 106)."""


class Library(Protocol):
    """What the content of a page may call for."""

    def decoded(self, stream: Any) -> bytes:
        """Unpack a stream."""

    def font(self, font: Any) -> Codes:
        """Read the font of that dictionary."""


@dataclass(slots=True)
class _State:
    """The graphics state, as far as it is followed (tables 52 and 104)."""

    ctm: Matrix
    scale: float
    weight: float = 1.0
    dashes: tuple[float, ...] = ()
    stroke: float = 0.0
    fill: float = 0.0
    font: Codes | None = None
    size: float = 0.0
    leading: float = 0.0
    mode: int = 0


@dataclass(slots=True)
class _Subpath:
    points: list[Point]
    kinds: list[str] = field(default_factory=list)
    closed: bool = False


@dataclass(slots=True)
class _Words:
    """A text that has begun: where, how turned and how large, and what it says so far."""

    at: Point
    angle: float
    size: float
    grey: float
    pieces: list[str] = field(default_factory=list)
    width: float = 0.0


class Painter:
    """Carries out the content of one page; what it painted is in `items` and `runs`.

    `doubts`: what it met, in words, that may hide or change what it read, and that no pack needs.

    Malformed content raises whatever comes of it, a ValueError at best: the caller expects any
    exception.
    """

    def __init__(self, ctm: Matrix, library: Library) -> None:
        self.items: list[ReadStroke | ReadText] = []
        self.runs: list[ReadRun] = []
        self.doubts: set[str] = set()
        self._library = library
        self._state = _State(ctm, tokens.scale(ctm))
        self._stack: list[_State] = []
        self._path: list[_Subpath] = []
        self._marks: list[ReadStroke | ReadText] = self.items
        self._tags: list[str] = []
        self._count = 0
        self._matrix = self._line = SAME
        self._words: _Words | None = None
        self._fonts: dict[bytes, Codes] = {}
        self._resources: Mapping[str, Any] = {}
        self._depth = 0

    def page(self, code: bytes, resources: Mapping[str, Any]) -> None:
        """Carry out a page's content from its start to its end."""
        self._carry_out(code, resources)
        self._end_text([])
        if self._tags:
            raise ValueError("a marked run without an end")

    def _carry_out(self, code: bytes, resources: Mapping[str, Any]) -> None:
        before = self._resources, self._fonts
        self._resources, self._fonts = resources, {}
        operands: list[bytes] = []
        for token in tokens.tokens(code):
            if token[0] in tokens.OPERAND:
                operands.append(token)
                if len(operands) > _MOST_OPERANDS:
                    raise ValueError("an operator with too many operands")
            elif (operator := _OPERATORS.get(token)) is not None:
                operator(self, operands)
                operands.clear()
            elif token[0] != _COMMENT and token not in _CONSTANTS:
                raise ValueError(f"no operator that is carried out: {token[:20]!r}")
        self._resources, self._fonts = before

    # Special graphics state and marked content

    def _save(self, _: list[bytes]) -> None:
        if len(self._stack) >= _DEEPEST_STATE:
            raise ValueError("graphics states too deep")
        self._stack.append(copy.copy(self._state))

    def _restore(self, _: list[bytes]) -> None:
        self._state = self._stack.pop()

    def _transform(self, operands: list[bytes]) -> None:
        self._state.ctm = tokens.times(tokens.matrix(operands), self._state.ctm)
        self._state.scale = tokens.scale(self._state.ctm)

    def _begin_listed_run(self, operands: list[bytes]) -> None:
        """Begin a run with properties, such as the layer that it is shown or hidden with."""
        self.doubts.add("layers")
        self._begin_run(operands)

    def _begin_run(self, operands: list[bytes]) -> None:
        self._end_text([])
        if not self._tags:
            self._marks = []
        self._tags.append(tokens.name(operands[0])[1:])

    def _end_run(self, _: list[bytes]) -> None:
        self._end_text([])
        tag = self._tags.pop()
        if not self._tags:
            strokes = tuple(mark for mark in self._marks if isinstance(mark, ReadStroke))
            texts = tuple(mark for mark in self._marks if isinstance(mark, ReadText))
            self.runs.append(ReadRun(tag, strokes, texts))
            self._marks = self.items

    def _do(self, operands: list[bytes]) -> None:
        """Paint a form; a picture is none of what is read here."""
        (name,) = operands
        thing = self._resources["/XObject"][tokens.name(name)]
        self.doubts.add("pictures or forms")
        if thing["/Subtype"] != "/Form":
            return
        if self._depth >= _DEEPEST_FORM:
            raise ValueError("forms in forms, too deep")
        self._save([])
        self._depth += 1
        if "/Matrix" in thing:
            self._transform([str(number.get_object()).encode() for number in thing["/Matrix"]])
        inner = thing.get("/Resources")
        self._carry_out(
            self._library.decoded(thing), self._resources if inner is None else inner.get_object()
        )
        self._depth -= 1
        self._restore([])

    # Pens

    def _weight(self, operands: list[bytes]) -> None:
        (weight,) = operands
        self._state.weight = float(weight)

    def _dash(self, operands: list[bytes]) -> None:
        self._state.dashes = tuple(map(float, operands[1:-2]))

    def _stroke_colour(self, operands: list[bytes]) -> None:
        self._state.stroke = tokens.grey(operands)

    def _fill_colour(self, operands: list[bytes]) -> None:
        self._state.fill = tokens.grey(operands)

    # Paths

    def _at(self, u: bytes, v: bytes) -> Point:
        a, b, c, d, e, f = self._state.ctm
        x, y = float(u), float(v)
        return (a * x + c * y + e, b * x + d * y + f)

    def _open(self) -> _Subpath:
        subpath = self._path[-1]
        if subpath.closed:
            subpath = _Subpath([subpath.points[0]])
            self._path.append(subpath)
        return subpath

    def _move(self, operands: list[bytes]) -> None:
        x, y = operands
        self._path.append(_Subpath([self._at(x, y)]))

    def _straight(self, operands: list[bytes]) -> None:
        x, y = operands
        subpath = self._open()
        subpath.points.append(self._at(x, y))
        subpath.kinds.append("l")

    def _curve(self, operands: list[bytes]) -> None:
        a, b, c, d, e, f = operands
        self._bend((self._at(a, b), self._at(c, d), self._at(e, f)))

    def _curve_from_here(self, operands: list[bytes]) -> None:
        c, d, e, f = operands
        self._bend((self._open().points[-1], self._at(c, d), self._at(e, f)))

    def _curve_to_end(self, operands: list[bytes]) -> None:
        a, b, e, f = operands
        self._bend((self._at(a, b), self._at(e, f), self._at(e, f)))

    def _bend(self, points: tuple[Point, Point, Point]) -> None:
        subpath = self._open()
        subpath.points += points
        subpath.kinds.append("c")

    def _rectangle(self, operands: list[bytes]) -> None:
        x, y, width, height = map(float, operands)
        corners = ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
        a, b, c, d, e, f = self._state.ctm
        points = [(a * u + c * v + e, b * u + d * v + f) for u, v in corners]
        self._path.append(_Subpath(points, ["l"] * 3, closed=True))

    def _close(self, _: list[bytes]) -> None:
        if self._path:
            self._path[-1].closed = True

    def _drop(self, _: list[bytes]) -> None:
        self._path = []

    def _paint(self, stroke: bool, fill: bool) -> None:
        state = self._state
        weight = state.weight * state.scale if stroke else 0.0
        dashes = tuple(dash * state.scale for dash in state.dashes) if stroke else ()
        grey = state.stroke if stroke else state.fill
        for part in self._path:
            if part.kinds:
                points, closed = tuple(part.points), part.closed or fill
                order, self._count = self._count, self._count + 1
                self._marks.append(
                    ReadStroke(
                        points, closed, weight, "".join(part.kinds), dashes, grey, fill, order
                    )
                )
        self._path = []

    # Words

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
        self._state.font, self._state.size = self._fonts[name], float(size)

    def _set_leading(self, operands: list[bytes]) -> None:
        (leading,) = operands
        self._state.leading = float(leading)

    def _render(self, operands: list[bytes]) -> None:
        (mode,) = operands
        self._state.mode = int(mode)

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
        codes = b"".join(tokens.string(token) for token in operands if token[0] in b"(<")
        font = self._state.font
        if font is None:
            raise ValueError("words without a font")
        if codes and self._state.mode not in _INVISIBLE:
            if self._state.mode:
                self.doubts.add("words that are not filled")
            words = self._words = self._words or self._begun()
            words.pieces.append(font.words(codes))
            words.width += font.width(codes) * words.size

    def _begun(self) -> _Words:
        a, b, c, d, e, f = tokens.times(self._matrix, self._state.ctm)
        angle = math.degrees(math.atan2(b, a)) % 360
        if abs(a - d) + abs(b + c) > _BENT * (abs(a) + abs(b)):
            self.doubts.add("words that are bent or mirrored")
        return _Words((e, f), angle, self._state.size * math.hypot(c, d), self._state.fill)

    def _show_next(self, operands: list[bytes]) -> None:
        self._next_line([])
        self._show(operands[-1:])

    def _ignore(self, _: list[bytes]) -> None:
        """Pass over what changes nothing here: joins, caps, intents, marked points."""

    def _space(self, operands: list[bytes]) -> None:
        """Pass over spacing and shifts of letters, which move words; none is none."""
        (by,) = map(float, operands)
        if by:
            self.doubts.add("words that are spaced or shifted")

    def _squeeze(self, operands: list[bytes]) -> None:
        (percent,) = map(float, operands)
        if percent != _WHOLE_WIDTH:
            self.doubts.add("words that are squeezed")


def _doubted(what: str) -> Callable[[Painter, list[bytes]], None]:
    """Pass over what may hide or change what is painted, and note it."""

    def doubt(painter: Painter, _: list[bytes]) -> None:
        painter.doubts.add(what)

    return doubt


_COMMENT = ord("%")
_CONSTANTS = (b"true", b"false", b"null")


def _painted(stroke: bool, fill: bool, close: bool = False) -> Callable[[Painter, Any], None]:
    def paint(painter: Painter, operands: list[bytes]) -> None:
        if close:
            painter._close(operands)
        painter._paint(stroke, fill)

    return paint


_OPERATORS: dict[bytes, Callable[[Painter, list[bytes]], None]] = {
    **dict.fromkeys(b"J j M ri i BX EX MP DP".split(), Painter._ignore),
    **dict.fromkeys((b"Tc", b"Tw", b"Ts"), Painter._space),
    **dict.fromkeys((b"W", b"W*"), _doubted("clips")),
    **dict.fromkeys((b"cs", b"CS"), _doubted("kinds of colours")),
    b"gs": _doubted("states such as how clear ink is"),
    b"sh": _doubted("shades"),
    b"Tz": Painter._squeeze,
    **dict.fromkeys((b"G", b"RG", b"K", b"SC", b"SCN"), Painter._stroke_colour),
    **dict.fromkeys((b"g", b"rg", b"k", b"sc", b"scn"), Painter._fill_colour),
    **dict.fromkeys((b"f", b"F", b"f*"), _painted(stroke=False, fill=True)),
    **dict.fromkeys((b"B", b"B*"), _painted(stroke=True, fill=True)),
    **dict.fromkeys((b"b", b"b*"), _painted(stroke=True, fill=True, close=True)),
    b"BMC": Painter._begin_run,
    b"BDC": Painter._begin_listed_run,
    **dict.fromkeys((b"Tj", b"TJ"), Painter._show),
    **dict.fromkeys((b"'", b'"'), Painter._show_next),
    b"S": _painted(stroke=True, fill=False),
    b"s": _painted(stroke=True, fill=False, close=True),
    b"q": Painter._save,
    b"Q": Painter._restore,
    b"cm": Painter._transform,
    b"EMC": Painter._end_run,
    b"Do": Painter._do,
    b"w": Painter._weight,
    b"d": Painter._dash,
    b"m": Painter._move,
    b"l": Painter._straight,
    b"c": Painter._curve,
    b"v": Painter._curve_from_here,
    b"y": Painter._curve_to_end,
    b"re": Painter._rectangle,
    b"h": Painter._close,
    b"n": Painter._drop,
    b"BT": Painter._begin_text,
    b"ET": Painter._end_text,
    b"Tf": Painter._font,
    b"TL": Painter._set_leading,
    b"Tr": Painter._render,
    b"Tm": Painter._text_matrix,
    b"Td": Painter._next,
    b"TD": Painter._next_and_lead,
    b"T*": Painter._next_line,
}
