"""Holes against the wood that they are bored into."""

from __future__ import annotations

from stairjig.errors import Finding
from stairjig.lengths import INCH, Shown
from stairjig.setout.schedule import LEAST_COVER, Boring, borings
from stairjig.setout.values import SectionSetout

LEAST_BESIDE = INCH / 8
"""Wood to leave beside a hole, as before one near a riser, mm (common practice, no source)."""


def cover_warnings(section: SectionSetout, shown: Shown) -> tuple[Finding, ...]:
    """Name the holes that come out on the other side of the rail or the shoe, or nearly do."""
    return tuple(
        Finding("hole-through" if boring.cover <= 0 else "hole-thin", section.name, words)
        for boring in borings(section)
        if boring.cover is not None and boring.cover < LEAST_COVER
        for words in [_words(boring, boring.cover, shown)]
    )


def side_warnings(section: SectionSetout, shown: Shown) -> tuple[Finding, ...]:
    """Name the holes that leave too little of the rail beside them."""
    wide = section.section.rail.width.mm
    found = []
    for boring in borings(section):
        left = (wide - boring.hole.size.mm) / 2
        if boring.into == "rail" and left < LEAST_BESIDE:
            size, types = shown.limit(boring.hole.size.mm), " and ".join(boring.types)
            rest = f"leaves {shown.finer(4).text(left)} on either side"
            if left <= 0:
                rest = "is as wide as the rail or wider"
            text = f"the rail hole of {types}, ⌀ {size}, {rest} of a rail {shown.limit(wide)} wide"
            found.append(Finding("hole-wide", section.name, text))
    return tuple(found)


def _words(boring: Boring, cover: float, shown: Shown) -> str:
    size, depth = shown.text(boring.hole.size.mm), shown.text(boring.hole.depth.mm)
    types = " and ".join(boring.types)
    holes = f"the holes of {types} in the {boring.into}, ⌀ {size} and {depth} deep,"
    if cover <= 0:
        return f"{holes} come out through {boring.beyond}; give a lesser depth"
    left = Shown.fine(shown.units).text(cover)
    return f"{holes} leave only {left} before they come out through {boring.beyond}"
