"""What a content stream paints: its operators, carried out on points in mm.

Operator by operator as in ISO 32000-1, table 51.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stairjig.proof import tokens
from stairjig.proof.lines import Library, Lines

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from stairjig.proof.tokens import Matrix

__all__ = ["Library", "Painter"]

_MOST_OPERANDS = 100_000
_DEEPEST_FORM = 10


class Painter(Lines):
    """Carries out the content of one page; what it painted is in `items` and `runs`.

    Malformed content raises whatever comes of it, a ValueError at best: the caller expects any
    exception.
    """

    def __init__(self, ctm: Matrix, library: Library) -> None:
        super().__init__(ctm, library)
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


def _coloured(counts: Sequence[int], stroke: bool) -> Callable[[Painter, list[bytes]], None]:
    def colour(painter: Painter, operands: list[bytes]) -> None:
        painter._colour(operands, counts, stroke)

    return colour


_ANY = (1, 3, 4)
_INKS = {b"G": (1,), b"RG": (3,), b"K": (4,), b"SC": _ANY, b"SCN": _ANY}
"""How many inks the operators that set a stroke's colour take (table 74)."""

_OPERATORS: dict[bytes, Callable[[Painter, list[bytes]], None]] = {
    **dict.fromkeys(b"j M ri i BX EX MP DP".split(), Painter._ignore),
    **dict.fromkeys((b"Tc", b"Tw", b"Ts"), Painter._space),
    **dict.fromkeys((b"W", b"W*"), _doubted("clips")),
    **dict.fromkeys((b"cs", b"CS"), _doubted("kinds of colours")),
    b"gs": _doubted("states such as how clear ink is"),
    b"sh": _doubted("shades"),
    b"Tz": Painter._squeeze,
    **{name: _coloured(count, stroke=True) for name, count in _INKS.items()},
    **{name.lower(): _coloured(count, stroke=False) for name, count in _INKS.items()},
    **dict.fromkeys((b"f", b"F", b"f*"), _painted(stroke=False, fill=True)),
    **dict.fromkeys((b"B", b"B*"), _painted(stroke=True, fill=True)),
    **dict.fromkeys((b"b", b"b*"), _painted(stroke=True, fill=True, close=True)),
    b"BMC": Painter._begin_run,
    b"BDC": Painter._begin_listed_run,
    b"Tj": Painter._show,
    b"TJ": Painter._show_listed,
    b"'": Painter._show_next,
    b'"': Painter._show_next_spaced,
    b"S": _painted(stroke=True, fill=False),
    b"s": _painted(stroke=True, fill=False, close=True),
    b"q": Painter._save,
    b"Q": Painter._restore,
    b"cm": Painter._transform,
    b"EMC": Painter._end_run,
    b"Do": Painter._do,
    b"w": Painter._weight,
    b"J": Painter._cap,
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
