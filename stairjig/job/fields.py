"""The keys of one block, taken one by one.

What cannot be read is reported and stands in as a blank value, so that reading goes on and all
problems come out in one go; blanks never leave the reader, which raises at its end. `good` tells
which values are real, for checks of one against another.
"""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, TypeVar

from stairjig.job import scalars
from stairjig.job.document import Block, Broken, Listing, Node, Word
from stairjig.job.faults import nearest, quoted
from stairjig.job.keys import KEYS, owners
from stairjig.lengths import Angle, Length

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from stairjig.errors import Place
    from stairjig.job.scalars import Floor, Reading

C = TypeVar("C", bound=str)
T = TypeVar("T")
_KEYS_SHOWN = 3
BLANK = Length(Fraction(0))
"""Stands in for a length that could not be read."""


class Fields:
    """One block of keys; `kind` is its name in `KEYS` and in messages ("a treads section").

    `keys` widens what is known where the kind itself could not be read.
    """

    def __init__(
        self, block: Block, kind: str, reading: Reading, keys: Iterable[str] | None = None
    ) -> None:
        self.kind = kind
        self.where = block.where
        self.reading = reading
        self._nodes = {key.text: (key, node) for key, node in block.entries}
        self._bad: set[str] = set()
        self._refuse_unknown(tuple(KEYS[kind] if keys is None else keys))

    def _refuse_unknown(self, known: tuple[str, ...]) -> None:
        for text, (key, _) in self._nodes.items():
            if text not in known:
                self.reading.faults.add(
                    f"{quoted(text)} is no key of {self.kind}",
                    key.where,
                    mend_for_unknown(text, known),
                )

    def __contains__(self, key: str) -> bool:
        return key in self._nodes

    def given(self, keys: Iterable[str]) -> list[str]:
        """Those of `keys` that stand in the block."""
        return [key for key in keys if key in self._nodes]

    def node(self, key: str) -> Node | None:
        """What stands at a key, None where it does not."""
        return self._nodes[key][1] if key in self._nodes else None

    def place(self, key: str) -> Place:
        """Where the key's value stands; the block's own place where there is none."""
        return self._nodes[key][1].where if key in self._nodes else self.where

    def good(self, *keys: str) -> bool:
        """Whether none of these keys' values is a blank."""
        return not self._bad.intersection(keys)

    def wrong(self, key: str, what: str, mend: str = "") -> None:
        """Report a key's value, which counts as blank from here on."""
        self._bad.add(key)
        self.reading.faults.add(what, self.place(key), mend)

    def lacks(self, key: str) -> None:
        """Report a key that is not there."""
        self._bad.add(key)
        self.reading.faults.add(
            f"{self.kind} needs {quoted(key)}", self.where, f"add it: {KEYS[self.kind][key]}"
        )

    def take(self, key: str, read: Callable[[Node], T | None], blank: T, default: T | None) -> T:
        """A key's value by `read`, its default (None: it must be there), or `blank`."""
        node = self.node(key)
        if node is None:
            if default is None:
                self.lacks(key)
            return blank if default is None else default
        value = read(node)
        if value is None:
            self._bad.add(key)
            return blank
        return value

    def length(
        self, key: str, default: Length | None = None, floor: Floor = "above zero"
    ) -> Length:
        """A length; it must be there where no default is given."""
        return self.take(
            key, lambda node: scalars.length(node, key, self.reading, floor), BLANK, default
        )

    def maybe_length(self, key: str, floor: Floor = "above zero") -> Length | None:
        """A length that may be left out."""
        return self.length(key, floor=floor) if key in self else None

    def angle(self, key: str, low: int, high: int, default: Angle | None = None) -> Angle:
        """An angle between two bounds in degrees."""
        return self.take(
            key,
            lambda node: scalars.angle(node, key, self.reading, low, high),
            Angle(Fraction(0)),
            default,
        )

    def whole(self, key: str, least: int, most: int, default: int) -> int:
        """A whole number that may be left out."""
        return self.take(
            key,
            lambda node: scalars.whole(node, key, self.reading, least, most),
            default,
            default,
        )

    def count(self, key: str, most: int) -> int | None:
        """A number from 1, or None for the word `auto` and where the key is left out."""
        node = self.node(key)
        if node is None or (isinstance(node, Word) and node.text.strip().casefold() == "auto"):
            return None
        return self.whole(key, 1, most, 1)

    def choice(self, key: str, options: Sequence[C], default: C | None = None) -> C:
        """One of a few words; the first of them where it could not be read."""
        return self.take(
            key, lambda node: scalars.choice(node, key, self.reading, options), options[0], default
        )

    def name(self, key: str, longest: int) -> str:
        """Words to print; they must be there."""
        return self.take(key, lambda node: scalars.name(node, key, self.reading, longest), "", None)

    def flag(self, key: str) -> bool:
        """Yes or no, no where it is left out."""
        return self.take(key, lambda node: scalars.flag(node, key, self.reading), False, False)

    def block(self, key: str, kind: str) -> Fields | None:
        """The block at a key; None where there is none, any other kind being reported."""
        node = self.node(key)
        fields = None if node is None else as_fields(node, key, kind, self.reading)
        if fields is None:
            self._bad.add(key)
        return fields

    def items(self, key: str, wanted: str) -> tuple[Node, ...]:
        """The items of a list that must be there and hold something; () where it does not."""
        node = self.node(key)
        if node is None:
            self.lacks(key)
        elif isinstance(node, Listing) and node.items:
            return node.items
        elif isinstance(node, Listing):
            self.wrong(key, f"{key} is an empty list", f"write {wanted}")
        elif isinstance(node, Broken):
            self._bad.add(key)
        else:
            self.wrong(key, f"{key} is {scalars.described(node)}", f"write {wanted}")
        return ()


def as_fields(node: Node, label: str, kind: str, reading: Reading) -> Fields | None:
    """The node's keys; None after saying so where it is no block."""
    if isinstance(node, Block):
        return Fields(node, kind, reading)
    if not isinstance(node, Broken):
        wanted = ", ".join(f"{key}: …" for key in list(KEYS[kind])[:_KEYS_SHOWN])
        reading.faults.add(
            f"{label} is {scalars.described(node)}", node.where, f"write keys, like {{{wanted}}}"
        )
    return None


def mend_for_unknown(text: str, known: tuple[str, ...]) -> str:
    """What a key that is none of `known` was probably meant to be."""
    if text.isdigit():
        return 'a decimal comma between brackets must stand in quotes, like "26,5"'
    spelled = text.strip().casefold().replace(" ", "_").replace("-", "_")
    if spelled in known:
        return f'did you mean "{spelled}"?'
    elsewhere = owners(text)
    return f"it belongs to {elsewhere}" if elsewhere else nearest(spelled, known)
