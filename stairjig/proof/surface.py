"""What a content stream paints on: its graphics state, its pens and its marked runs.

Operator by operator as in ISO 32000-1, table 51; sections and tables are its own.
"""

from __future__ import annotations

import copy
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stairjig.proof import tokens
from stairjig.proof.marks import ReadRun, ReadStroke, ReadText
from stairjig.proof.tokens import Matrix

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stairjig.proof.fontcodes import Codes

_DEEPEST_STATE = 1_000


@dataclass(slots=True)
class State:
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


class Surface:
    """Keeps the state, and what is painted: in `items`, or in a marked run of `runs`.

    `doubts`: what was met, in words, that may hide or change what is read, and that no pack needs.
    """

    def __init__(self, ctm: Matrix) -> None:
        self.items: list[ReadStroke | ReadText] = []
        self.runs: list[ReadRun] = []
        self.doubts: set[str] = set()
        self._state = State(ctm, tokens.scale(ctm))
        self._stack: list[State] = []
        self._marks: list[ReadStroke | ReadText] = self.items
        self._tags: list[str] = []
        self._count = 0

    def _end_text(self, _: list[bytes]) -> None:
        """End a text that has begun: a marked run parts what is said."""

    def _save(self, _: list[bytes]) -> None:
        if len(self._stack) >= _DEEPEST_STATE:
            raise ValueError("graphics states too deep")
        self._stack.append(copy.copy(self._state))

    def _restore(self, _: list[bytes]) -> None:
        self._state = self._stack.pop()

    def _transform(self, operands: list[bytes]) -> None:
        self._state.ctm = tokens.times(tokens.matrix(operands), self._state.ctm)
        self._state.scale = tokens.scale(self._state.ctm)
        if not tokens.is_even(self._state.ctm):
            self.doubts.add("transforms that stretch one way")

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

    def _weight(self, operands: list[bytes]) -> None:
        (weight,) = operands
        self._state.weight = float(weight)

    def _cap(self, operands: list[bytes]) -> None:
        """Take how lines end; all but butt ends (0) reach further than the points of a line."""
        if float(operands[0]):
            self.doubts.add("lines that reach past their ends")

    def _dash(self, operands: list[bytes]) -> None:
        start, *dashes, end, phase = operands
        if (start, end) != (b"[", b"]"):
            raise ValueError("dashes that are no list")
        self._state.dashes = tuple(map(float, dashes))
        if float(phase):
            self.doubts.add("dashes that begin with a part of one")

    def _colour(self, operands: list[bytes], counts: Sequence[int], stroke: bool) -> None:
        """Take a colour of so many inks; of a pattern's name nothing is followed."""
        if operands and operands[-1].startswith(b"/"):
            self.doubts.add("kinds of colours")
        elif stroke:
            self._state.stroke = tokens.grey(operands, counts)
        else:
            self._state.fill = tokens.grey(operands, counts)

    def _ignore(self, _: list[bytes]) -> None:
        """Pass over what changes nothing here: joins, intents, flatness, marked points."""
