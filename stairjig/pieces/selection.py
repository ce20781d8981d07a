"""Which strips a reprint is to hold, as written on the command line."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from stairjig.errors import BadInput, Problem
from stairjig.pieces.values import Piece
from stairjig.setout.names import in_runs

_NUMBERS = re.compile(r"(\d{1,4})(?:\s*-\s*(\d{1,4}))?")
_KINDS = ("rail", "shoe", "floor")


def chosen(pieces: Sequence[Piece], wanted: Iterable[str]) -> frozenset[str]:
    """The names of the strips asked for.

    Each of `wanted` is a section's name (all its strips), `SECTION:4,7-9` (its treads),
    `SECTION:rail`, or `rail` for every rail. Raises `BadInput` for what there is not.
    """
    names: set[str] = set()
    for words in wanted:
        names |= {piece.name for piece in _asked(pieces, words)}
    return frozenset(names)


def _asked(pieces: Sequence[Piece], words: str) -> list[Piece]:
    if words.strip().casefold() in _KINDS and not _of_section(pieces, words):
        return _found(words, [piece for piece in pieces if _is(piece, words)])
    section, colon, part = words.rpartition(":")
    if not colon or _of_section(pieces, words):
        return _found(words, _of_section(pieces, words), pieces)
    inside = _found(words, _of_section(pieces, section), pieces)
    if part.strip().casefold() in _KINDS:
        return _found(words, [piece for piece in inside if _is(piece, part)])
    return _treads(inside, words, _numbers(part, words))


def _of_section(pieces: Sequence[Piece], name: str) -> list[Piece]:
    return [p for p in pieces if p.section.casefold() == name.strip().casefold()]


def _is(piece: Piece, kind: str) -> bool:
    kind = kind.strip().casefold()
    return piece.kind == ("rail" if kind == "rail" else "shoe")


def _numbers(part: str, words: str) -> list[int]:
    numbers: list[int] = []
    for span in part.split(","):
        match = _NUMBERS.fullmatch(span.strip())
        if not match:
            raise BadInput(Problem(f"--only {words!r}: {span.strip()!r} is no tread", _EXAMPLE))
        first, last = int(match[1]), int(match[2] or match[1])
        if last < first:
            raise BadInput(Problem(f"--only {words!r}: {span.strip()!r} counts backward", _EXAMPLE))
        numbers += range(first, last + 1)
    return numbers


_EXAMPLE = "write it like 'Hall flight:4,7-9', 'Hall flight:rail' or rail"


def _treads(pieces: Sequence[Piece], words: str, numbers: Sequence[int]) -> list[Piece]:
    strips = {number: piece for piece in pieces for number in piece.treads}
    missing = [number for number in numbers if number not in strips]
    if missing:
        text = f"--only {words!r}: there is no strip for tread {missing[-1]}"
        has = (
            f"it has strips for treads {in_runs(sorted(strips))}" if strips else "it has no treads"
        )
        raise BadInput(Problem(text, has))
    return [strips[number] for number in numbers]


def _found(words: str, found: list[Piece], pieces: Sequence[Piece] = ()) -> list[Piece]:
    if found:
        return found
    from difflib import get_close_matches  # only for who errs

    sections = list(dict.fromkeys(piece.section for piece in pieces))
    close = get_close_matches(words.partition(":")[0], sections, 1)
    hint = f'did you mean "{close[0]}"?' if close else f"sections: {', '.join(sections)}"
    raise BadInput(
        Problem(f"--only {words!r}: no strip is called so", hint if sections else _EXAMPLE)
    )
