"""The problems of one job, collected so that they can all be said in one go."""

from __future__ import annotations

from itertools import islice
from typing import TYPE_CHECKING, NoReturn

from stairjig.errors import BadInput, Place, Problem

if TYPE_CHECKING:
    from collections.abc import Iterable

MOST_PROBLEMS = 500
"""With so many the file is not what it was taken for; reading stops."""
_LONGEST_SHOWN = 40
_MOST_SHOWN = 20
_MOST_COMPARED = 200


class Faults:
    """The problems found so far."""

    def __init__(self) -> None:
        self._found: list[Problem] = []

    def add(self, what: str, where: Place | None, mend: str = "") -> None:
        """Note a problem and read on. Raises BadInput when there are too many."""
        self._found.append(Problem(what, mend, where))
        if len(self._found) > MOST_PROBLEMS:
            raise BadInput(
                *self._sorted()[:MOST_PROBLEMS],
                Problem(f"more than {MOST_PROBLEMS} problems", "mend these first"),
            )

    def stop(self, what: str, where: Place | None, mend: str = "") -> NoReturn:
        """Note a problem that nothing can be read behind. Raises BadInput with all of them."""
        self._found.append(Problem(what, mend, where))
        raise BadInput(*self._sorted())

    def settle(self) -> None:
        """Raise BadInput with every problem, sorted by place, if there is one."""
        if self._found:
            raise BadInput(*self._sorted())

    def _sorted(self) -> list[Problem]:
        return sorted(self._found, key=_spot)


def _spot(problem: Problem) -> tuple[str, int, int]:
    where = problem.where or Place("")
    return where.file, where.line, where.column


def quoted(text: str) -> str:
    """The text in quotes, as `printable` gives it."""
    return f'"{printable(text)}"'


def printable(text: str) -> str:
    """The text cut short, with whatever cannot be printed spelled as its number."""
    short = text if len(text) <= _LONGEST_SHOWN else text[: _LONGEST_SHOWN - 1] + "…"
    return "".join(c if c.isprintable() else f"<U+{ord(c):04X}>" for c in short)


def nearest(text: str, options: Iterable[str]) -> str:
    """The mend for a word that is none of `options`: the nearest of them, or all."""
    from difflib import get_close_matches  # only for who errs

    known = list(islice(options, _MOST_COMPARED))
    close = get_close_matches(text[:_LONGEST_SHOWN].casefold(), known, n=1, cutoff=0.6)
    if close:
        return f"did you mean {quoted(close[0])}?"
    return f"known: {', '.join(map(printable, known[:_MOST_SHOWN]))}" if known else ""
