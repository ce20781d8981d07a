"""What a tile says, phrase by phrase: names, readings, joints, notes and the other sentences.

Words that users choose, a section's or a baluster's name, stand in the strip's name and in what is
noted beside a mark; both are known as they stand and taken out first.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache

from stairjig.frozen import frozen
from stairjig.lengths import Shown
from stairjig.proof.expected import ExpectedPiece
from stairjig.proof.marks import ReadText
from stairjig.proof.place import Part

FIGURE = re.compile(r"(?:(\w+) )?(\d+(?:[-./]\d+)*(?: \d+/\d+)?)(″|′| mm|°)?")
"""A number, the word before it, the unit behind it."""
_ALONE = re.compile(
    r"(?:reads )?\d[\d/. ]*(?:″| mm)|\d+(?:-\d+)?|joint \d.*|J\d.*|Treads? \d.*|pack [0-9A-Z]{6}"
)
"""What looks like a reading, a mark's name, a joint's words, a tread's or a pack's."""
_TILE = re.compile(r"tile (\d{1,4}) of (\d{1,4})")
_EDGE = 0.005
"""mm either way of a joint's place; a reading may come out either way at half a step."""


@frozen
class Phrase:
    """Words that a tile may say. `kind`: name, reading, note, joint, register or sentence.

    `owners`: the marks or the joint they are said of.
    """

    kind: str
    owners: tuple[str, ...] = ()


Figures = frozenset[tuple[str, str, str]]
"""Figures in words: the word before, the figure, its unit."""
Said = tuple[Phrase, str, tuple[ReadText, ...]]
"""A phrase, its words, and the texts that say them, one for each line."""


@frozen
class Spoken:
    """What a tile says: what is known, and what is not, run on where it stands together."""

    known: tuple[Said, ...]
    strange: tuple[tuple[ReadText, ...], ...]

    @property
    def prose(self) -> str:
        """All but what is said of marks, and so but the users' words."""
        texts = [words for phrase, words, _ in self.known if phrase.kind != "note"]
        return " · ".join([*texts, *map(joined, self.strange)])


def joined(texts: Sequence[ReadText]) -> str:
    """Lines run on."""
    return " ".join(text.text for text in texts)


def phrases(part: Part, piece: ExpectedPiece, shown: Shown) -> dict[str, Phrase]:
    """All that a tile may say with a figure in it."""
    known: dict[str, Phrase] = dict.fromkeys(piece.sentences, Phrase("sentence"))
    notes: dict[str, tuple[str, ...]] = {}
    for mark in piece.marks:
        if part.holds(mark.at[1]):
            for note in mark.notes:
                notes[note] = (*notes.get(note, ()), mark.name)
            for text in {mark.reading, f"{piece.reads}{mark.reading}"}:
                known[text] = Phrase("reading", (mark.name,))
    known |= {text: Phrase("note", owners) for text, owners in notes.items()}
    for mark in piece.marks:
        if part.holds(mark.at[1]):
            known[mark.name] = Phrase("name", (mark.name,))
    for number, v in ((part.below, part.low), (part.above, part.high)):
        if number is not None:
            known |= _joint(number, v, piece, shown)
    return known


def _joint(number: int, v: float, piece: ExpectedPiece, shown: Shown) -> dict[str, Phrase]:
    known = {f"J{number}{letter}": Phrase("register", (f"{letter}",)) for letter in "ab"}
    for off in (-_EDGE, 0.0, _EDGE):
        reading = shown.text((v + off - piece.zero) * piece.sense)
        for rest in ("", f" from {piece.origin}"):
            known[f"joint {number}: {reading}{rest}"] = Phrase("joint", (str(number),))
    return known


def spoken(texts: Sequence[ReadText], known: Mapping[str, Phrase]) -> Spoken:
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
        said = f"{said} {text.text}" if said else text.text
        if said == words:
            return count
        if not words.startswith(f"{said} "):
            return 0
    return 0


def strange_faults(
    part: Part, piece: ExpectedPiece, said: Spoken, allowed: Figures
) -> Iterable[str]:
    """Words with figures that the layout does not give, and words that would mislead.

    `allowed`: the tiles and sheets that may be named, as figures.
    """
    figures: Figures = frozenset()
    for texts in said.strange:
        lines, words = [text.text for text in texts], joined(texts)
        alone = next((line for line in lines if _ALONE.fullmatch(line)), None)
        if alone is not None:
            yield f"{part.laid.where}: it says {alone!r}, which the layout does not"
        elif any(sign.isdigit() for sign in words):
            figures = figures or allowed.union(*(_figures(text) for text in piece.sentences))
            wrong = sorted(_figures(words) - figures)
            if wrong:
                yield (
                    f"{part.laid.where}: it says {words!r}, whose {' '.join(wrong[0]).strip()} "
                    "is not of the layout"
                )
    for words in piece.never:
        if words in said.prose:
            yield f"{part.laid.where}: it says {words!r}, which is wrong for this strip"


@lru_cache(maxsize=4096)
def _figures(words: str) -> Figures:
    """The figures in some words; the word before one counts where there is no unit behind it."""
    found = set()
    for match in FIGURE.finditer(words):
        word, figure, unit = match[1] or "", match[2], (match[3] or "").strip()
        found.add(("" if unit else word.lower(), figure, unit))
    return frozenset(found)


def tile_figures(
    numbers: Iterable[tuple[int, str]], of: int, any_sheet: Sequence[ReadText] = ()
) -> Figures:
    """Tiles of `of`, and the sheets they are on, as figures; `any_sheet`: texts that name any."""
    figures = {("of", str(of), "")}
    for tile, sheet in numbers:
        figures |= {("tile", str(tile), ""), ("sheet", sheet, "")}
    for text in any_sheet:
        figures |= {figure for figure in _figures(text.text) if figure[0] == "sheet"}
    return frozenset(figures)


def tile_number(texts: Sequence[ReadText]) -> tuple[int, int] | None:
    """Which of how many tiles of its strip a tile says that it is."""
    for text in texts:
        if match := _TILE.fullmatch(text.text):
            return int(match[1]), int(match[2])
    return None
