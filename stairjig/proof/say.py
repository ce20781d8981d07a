"""What a tile says, phrase by phrase: names, readings and notes of marks, and the sayings.

Words that users choose, a section's or a baluster's name, stand in the strip's name and in what is
noted beside a mark; both are known as they stand.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Literal

from stairjig.frozen import frozen
from stairjig.proof.expected import ExpectedMark, ExpectedPiece
from stairjig.proof.marks import Box, ReadText
from stairjig.proof.place import Part
from stairjig.proof.saying import Saying

_NEXT = 8.0
"""mm that the lines of a phrase are apart at the most: either side of a strip's line, say."""
_TILE = re.compile(r"tile (\d{1,4}) of (\d{1,4})")


@frozen
class OfMark:
    """Words of a mark, or of each of its `owners`."""

    kind: Literal["name", "reading", "note"]
    owners: tuple[str, ...]


Known = Mapping[str, OfMark | Saying]
Said = tuple[OfMark | Saying, str, tuple[ReadText, ...]]
"""What is said, its words, and the texts that say them, one for each line."""


@frozen
class Spoken:
    """What a tile says: what is known, and what is not, run on where it stands together."""

    known: tuple[Said, ...]
    strange: tuple[tuple[ReadText, ...], ...]

    @property
    def of_marks(self) -> Iterable[tuple[OfMark, str, tuple[ReadText, ...]]]:
        """What is said of marks."""
        for what, words, texts in self.known:
            if isinstance(what, OfMark):
                yield what, words, texts

    @property
    def sayings(self) -> Iterable[tuple[Saying, str, tuple[ReadText, ...]]]:
        """What else is said that is known."""
        for what, words, texts in self.known:
            if isinstance(what, Saying):
                yield what, words, texts


def joined(texts: Sequence[ReadText]) -> str:
    """Lines run on."""
    return " ".join(text.text for text in texts)


def phrases(part: Part, piece: ExpectedPiece, own: Iterable[Saying]) -> Known:
    """All that a tile may say; `own`: what it says alone of its strip."""
    known: dict[str, OfMark | Saying] = {}
    for saying in (*piece.sayings, *own):
        known.update(dict.fromkeys(saying.ways, saying))
    marks = [mark for mark in piece.marks if part.holds(mark.at[1])]
    known.update(_notes(marks))
    for mark in marks:
        for text in (mark.reading, f"{piece.reads}{mark.reading}"):
            known[text] = OfMark("reading", (mark.name,))
    for mark in marks:
        for note in mark.notes[:1]:
            known[f"{mark.name}: {note}"] = OfMark("note", (mark.name,))
        known[mark.name] = OfMark("name", (mark.name,))
    return known


def _notes(marks: Iterable[ExpectedMark]) -> dict[str, OfMark]:
    owners: dict[str, list[str]] = {}
    for mark in marks:
        for note in mark.notes:
            owners.setdefault(note, []).append(mark.name)
    return {note: OfMark("note", tuple(names)) for note, names in owners.items()}


def spoken(texts: Sequence[ReadText], known: Known) -> Spoken:
    """Read the texts in their order; the phrase that takes most of their lines counts."""
    begun: dict[str, list[str]] = {}
    for words in known:
        begun.setdefault(words.partition(" ")[0], []).append(words)
    found: list[Said] = []
    strange: list[list[ReadText]] = []
    at = end = 0
    while at < len(texts):
        words, count = _longest(texts, at, begun)
        if count:
            found.append((known[words], words, tuple(texts[at : at + count])))
        elif strange and end == at:
            strange[-1].append(texts[at])
        else:
            strange.append([texts[at]])
        at += count or 1
        end = at if not count else end
    return Spoken(tuple(found), tuple(map(tuple, strange)))


def _longest(
    texts: Sequence[ReadText], at: int, begun: Mapping[str, Sequence[str]]
) -> tuple[str, int]:
    """The phrase that begins there and how many lines it takes; none where none does."""
    first, best = texts[at].text, ("", 0)
    for words in begun.get(first.partition(" ")[0], ()):
        if words.startswith(first):
            count = _lines(words, texts, at)
            if count > best[1]:
                best = words, count
    return best


def _lines(words: str, texts: Sequence[ReadText], at: int) -> int:
    """How many lines say the words from there on; 0 where they do not."""
    said = ""
    for count, text in enumerate(texts[at:], start=1):
        if said and _apart(texts[at + count - 2].box, text.box) > _NEXT:
            return 0
        said = f"{said} {text.text}" if said else text.text
        if said == words:
            return count
        if not words.startswith(f"{said} "):
            return 0
    return 0


def _apart(one: Box, two: Box) -> float:
    """How far one line stands from another, across or along the page, mm."""
    across = max(one[0] - two[2], two[0] - one[2])
    return max(across, one[1] - two[3], two[1] - one[3])


def tile_number(texts: Sequence[ReadText]) -> tuple[int, int] | None:
    """Which of how many tiles of its strip a tile says that it is."""
    for text in texts:
        if match := _TILE.fullmatch(text.text):
            return int(match[1]), int(match[2])
    return None
