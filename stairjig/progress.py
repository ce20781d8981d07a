"""How long work tells what it is at: a call that the work makes, and never waits for."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import TypeVar

_Item = TypeVar("_Item")

Tell = Callable[[str, int, int], None]
"""Takes what is being done, how many are done, and of how many (0 where that is not known)."""


def untold(what: str, done: int, of: int) -> None:
    """Nobody listens."""


def told(tell: Tell, what: str, items: Sequence[_Item]) -> Iterator[_Item]:
    """The items one after the other, each told as its turn comes."""
    for number, item in enumerate(items, start=1):
        tell(what, number, len(items))
        yield item
