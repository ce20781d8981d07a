"""The marks of a tile: their crosses in their places, with their own names, readings and notes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from math import hypot, inf

from stairjig.proof.expected import ExpectedMark, ExpectedPiece
from stairjig.proof.marks import ReadText
from stairjig.proof.place import FARTHEST_NAME, Part
from stairjig.proof.say import OfMark, Spoken
from stairjig.proof.shapes import CLOSE
from stairjig.proof.tiles import Cross, distance

_WITHIN = {"reading": FARTHEST_NAME, "note": inf}
"""mm within which words stand from their mark; notes only nearer to it than to others."""
_Block = tuple[OfMark, tuple[str, ...], tuple[ReadText, ...]]


def mark_faults(part: Part, piece: ExpectedPiece, said: Spoken) -> Iterable[str]:
    """Crosses off their place, missing, too many or broken, and words at another mark's."""
    laid, crosses = part.laid, part.laid.tile.crosses
    marks = {mark.name: mark for mark in piece.marks if part.holds(mark.at[1])}
    names: dict[int, list[str]] = {number: [] for number in range(len(crosses))}
    for phrase, _, texts in said.of_marks:
        if phrase.kind != "name":
            continue
        nearest = _nearest(texts, crosses, FARTHEST_NAME + marks[phrase.owners[0]].half)
        if nearest is not None:
            names[nearest] += phrase.owners
    called = {given[0]: number for number, given in names.items() if len(given) == 1}
    for name, mark in marks.items():
        times = sum(given.count(name) for given in names.values())
        if times == 1 and name in called:
            yield from _place_faults(part, mark, crosses[called[name]])
        else:
            yield f"{laid.where}: mark {name} stands {_times(times)}"
    for given in names.values():
        if len(given) != 1:
            what = f"named {' and '.join(given)}" if given else "without a name"
            yield f"{laid.where}: a cross {what} is no mark of the layout or one too many"
    owners = {number: name for name, number in called.items()}
    yield from _word_faults(part, marks, said, owners)


def _times(count: int) -> str:
    return "nowhere on it" if count == 0 else f"{count} times on it instead of once"


def _nearest(texts: Sequence[ReadText], crosses: Sequence[Cross], within: float) -> int | None:
    """The cross that some lines stand nearest to, if near enough."""
    best, number = within, None
    for text in texts:
        for n, cross in enumerate(crosses):
            apart = distance(text, cross.at)
            if apart < best:
                best, number = apart, n
    return number


def _place_faults(part: Part, mark: ExpectedMark, cross: Cross) -> Iterable[str]:
    u, v = part.laid.at(cross.at)
    off_u, off_v = u - mark.at[0], v - mark.at[1]
    if hypot(off_u, off_v) > CLOSE:
        yield (
            f"{part.laid.where}: mark {mark.name} is {off_v:+z.3f} mm along and {off_u:+z.3f} mm "
            "across from its place"
        )
    if cross.off > CLOSE:
        yield f"{part.laid.where}: the cross of mark {mark.name} is broken"


def _word_faults(
    part: Part, marks: dict[str, ExpectedMark], said: Spoken, owners: dict[int, str]
) -> Iterable[str]:
    """Readings and notes: each beside its own mark, once; `owners`: the marks of the crosses."""
    crosses, where = part.laid.tile.crosses, part.laid.where
    stand: Counter[tuple[str, str]] = Counter()
    for phrase, words, texts in _blocks(said, marks):
        half = max(marks[name].half for name in phrase.owners)
        nearest = _nearest(texts, crosses, _WITHIN[phrase.kind] + half)
        at = owners.get(nearest, "") if nearest is not None else ""
        if at in phrase.owners:
            stand.update((at, "" if phrase.kind == "reading" else note) for note in words)
        elif at:
            yield f"{where}: {words[0]!r} stands beside mark {at}, which it is not said of"
        else:
            yield f"{where}: {words[0]!r} stands beside no mark"
    for name, mark in marks.items():
        if not stand[name, ""]:
            yield f"{where}: the reading of mark {name}, {mark.reading}, is not printed beside it"
    for (name, note), count in stand.items():
        if count > 1:
            what = repr(note) if note else "the reading"
            yield f"{where}: {what} of mark {name} stands {count} times instead of once"


def _blocks(said: Spoken, marks: dict[str, ExpectedMark]) -> Iterable[_Block]:
    """Readings and notes; a mark's notes that stand one under the other are one block.

    Notes that stand apart from their mark's name begin with it.
    """
    before: _Block | None = None
    for phrase, said_words, texts in said.of_marks:
        words = said_words
        if len(phrase.owners) == 1:
            words = words.removeprefix(f"{phrase.owners[0]}: ")
        both = _both(before, phrase, words, marks) if before and phrase.kind == "note" else ()
        if before and both:
            yield OfMark("note", both), (*before[1], words), (*before[2], *texts)
            before = None
            continue
        if before:
            yield before
        before = (phrase, (words,), texts) if phrase.kind in _WITHIN else None
    if before:
        yield before


def _both(
    before: _Block, phrase: OfMark, words: str, marks: dict[str, ExpectedMark]
) -> tuple[str, ...]:
    """The marks that two notes one after the other are both said of, and nothing else is."""
    owners = (name for name in phrase.owners if name in before[0].owners)
    return tuple(name for name in owners if marks[name].notes == (*before[1], words))
