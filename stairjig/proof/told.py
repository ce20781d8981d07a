"""Whether a tile says what it must: each saying once, in its place, and nothing else."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from stairjig.frozen import frozen
from stairjig.proof.expected import ExpectedPiece
from stairjig.proof.marks import ReadText
from stairjig.proof.place import Part
from stairjig.proof.say import Spoken, joined
from stairjig.proof.saying import Place, Saying

MUCH = 60.0
"""mm of the tread's end that have room for what is said of it, whatever else is there."""


@frozen
class Leaf:
    """A tile in its place, with what it says, and what it says alone of its strip."""

    part: Part
    said: Spoken
    own: tuple[Saying, ...]

    @property
    def where(self) -> str:
        """The piece and its sheet, in words."""
        return self.part.laid.where

    def times(self) -> dict[Saying, int]:
        """How often it says each of its sayings."""
        count: dict[Saying, int] = {}
        for saying, _, _ in self.said.sayings:
            count[saying] = count.get(saying, 0) + 1
        return count

    def must_say(self, saying: Saying) -> bool:
        """Whether it is a tile that has to say that."""
        if saying.on == "first":
            return self.part.below is None
        if saying.on == "last":
            return self.part.above is None
        return saying.on == "every" and self._has_beside(saying)

    def _has_beside(self, saying: Saying) -> bool:
        """Whether so much of what it stands beside is on the tile that it has room there."""
        if saying.beside is None:
            return True
        low, high = saying.beside
        return min(high, self.part.high) - max(low, self.part.low) >= MUCH

    def may_say(self, saying: Saying) -> bool:
        """Whether it is a tile that has that to say at all."""
        return saying.on not in ("first", "last") or self.must_say(saying)


def word_faults(leaf: Leaf, piece: ExpectedPiece) -> Iterable[str]:
    """What a tile fails to say, says twice, where it is not so, or must not say."""
    times = leaf.times()
    for saying in (*piece.sayings, *leaf.own):
        count = times.get(saying, 0)
        if count > saying.most:
            yield f"{leaf.where}: it says {_named(saying)} {count} times instead of once"
        elif not count and leaf.must_say(saying):
            yield f"{leaf.where}: it does not say {_named(saying)}"
        elif count and not leaf.may_say(saying):
            yield f"{leaf.where}: it says {_named(saying)}, which another tile of its strip says"
    for saying, _, texts in leaf.said.sayings:
        yield from _place_faults(leaf, piece, saying, texts)
    for texts in leaf.said.strange:
        yield f"{leaf.where}: it says {joined(texts)!r}, which the layout does not"


def strip_word_faults(leaves: Sequence[Leaf], piece: ExpectedPiece) -> Iterable[str]:
    """What none of a whole strip's tiles says, or more than one where one is to."""
    times = [leaf.times() for leaf in leaves]
    for saying in piece.sayings:
        count = sum(saying in said for said in times)
        if saying.on == "once" and not count:
            yield f"{piece.name}: none of its tiles says {_named(saying)}"
        elif saying.on in ("once", "may") and count > 1:
            yield f"{piece.name}: {count} of its tiles say {_named(saying)} instead of one"


def _named(saying: Saying) -> str:
    return repr(saying.ways[0])


def _place_faults(
    leaf: Leaf, piece: ExpectedPiece, saying: Saying, texts: Sequence[ReadText]
) -> Iterable[str]:
    """Words too far from what they are said of, or on the wrong side of the strip."""
    if saying.at:
        far = min(_far(leaf.part, texts, place) for place in saying.at)
        if far > saying.within:
            yield f"{leaf.where}: {_named(saying)} stands {far:.0f} mm from what it is said of"
        elif any(_far(leaf.part, texts, other) <= far for other in saying.others):
            yield f"{leaf.where}: {_named(saying)} stands nearer to what it is not said of"
    if saying.beside and any(leaf.part.laid.at(text.at)[0] * piece.side > 0 for text in texts):
        yield f"{leaf.where}: it says {_named(saying)} on the wall side"


def _far(part: Part, texts: Sequence[ReadText], place: Place) -> float:
    """How far some lines stand from what crosses the strip there, along the strip, mm."""
    return min(_along(part, text, place) for text in texts)


def _along(part: Part, text: ReadText, place: Place) -> float:
    (u, v), (at, slope) = part.laid.at(text.at), place
    begin = v - at - slope * u
    end = begin + text.width * (1.0 if text.upright else -slope)
    return 0.0 if begin * end < 0 else min(abs(begin), abs(end))
