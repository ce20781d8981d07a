"""Holes against the wood that they are bored into."""

from __future__ import annotations

from stairjig.errors import Finding
from stairjig.lengths import Shown
from stairjig.setout.schedule import Boring, borings
from stairjig.setout.values import SectionSetout


def cover_warnings(section: SectionSetout, shown: Shown) -> tuple[Finding, ...]:
    """Name the holes that come out on the other side of the rail or the shoe."""
    return tuple(
        Finding("hole-through", section.name, _words(boring, shown))
        for boring in borings(section)
        if boring.cover is not None and boring.cover <= 0
    )


def _words(boring: Boring, shown: Shown) -> str:
    size, depth = shown.text(boring.hole.size.mm), shown.text(boring.hole.depth.mm)
    where = "the rail's top" if boring.into == "rail" else "the underside of the shoe"
    return (
        f"the holes of {' and '.join(boring.types)} in the {boring.into}, ⌀ {size} and {depth} "
        f"deep, come out through {where}; give a lesser depth"
    )
