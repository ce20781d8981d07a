"""What words on a strip are: a saying with its ways, where it stands; what is said of a mark."""

from __future__ import annotations

from typing import Literal

from stairjig.frozen import frozen
from stairjig.job.model import Baluster, Hole
from stairjig.lengths import Shown

On = Literal["every", "first", "last", "once", "may", "any"]


Place = tuple[float, float]
"""What crosses a strip: its v on the line, and how that rises with u."""


@frozen
class Saying:
    """What a strip says, in one of its `ways`, the longest first.

    `on`: it stands on every tile, on the first or the last one, `once` on any, or `may` be left
    out; on no tile twice, and but on `every` one, or `any` that have room, on no other. `at`:
    what it is said of, from which it stands no farther than `within`, mm, and not as far as from
    each of `others`; of several each may have it. `beside`: from where to where, v, the tread's
    end is that it stands beside; only a tile with much of that must have it. `lies`: the angle
    that it must have, degrees, else as the strip's words have it.
    """

    ways: tuple[str, ...]
    on: On = "once"
    at: tuple[Place, ...] = ()
    within: float = 0.0
    others: tuple[Place, ...] = ()
    beside: tuple[float, float] | None = None
    lies: int | None = None

    @property
    def most(self) -> int:
        """How often it may stand on a tile."""
        return max(1, len(self.at))


def notes(kind: Baluster, hole: Hole | None, shown: Shown) -> tuple[str, ...]:
    """What is said beside a mark: the baluster's type and size, then its hole."""
    sign = "⌀ " if kind.shape == "round" else ""
    square = " square" if kind.shape == "square" else ""
    base = f", base {shown.text(kind.base.mm)}" if kind.base.mm != kind.width.mm else ""
    what = f"{kind.name}, {sign}{shown.text(kind.width.mm)}{square}{base}"
    if hole is None:
        return (_plain(what),)
    return (_plain(what), f"bore ⌀ {shown.text(hole.size.mm)}, {shown.text(hole.depth.mm)} deep")


def _plain(text: str) -> str:
    return " ".join(text.split())
