"""Holes against the wood that they are bored into, and against what stands in them."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import cos, sin, sqrt

from stairjig.errors import Finding
from stairjig.job.model import Baluster
from stairjig.lengths import INCH, Shown, Units
from stairjig.setout.schedule import LEAST_COVER, Boring, borings, rail_hole
from stairjig.setout.values import SectionSetout

LEAST_BESIDE = INCH / 8
"""Wood to leave beside a hole, as before one near a riser, mm (common practice, no source)."""
PLAY: dict[Units, Fraction] = {"inch": INCH / 8, "mm": Fraction(3)}
"""What a hole may be wider than what stands in it, in all, mm (common practice, no source)."""


def depth_failures(section: SectionSetout, shown: Shown) -> tuple[Finding, ...]:
    """Name the rail holes that are as deep as the rail is thick, plumb: no cut length fits them.

    A hole whose rim alone comes out, or one in a shoe, which stands on other wood, is warned of.
    """
    return tuple(
        Finding("hole-through", section.name, _too_deep(section, boring, shown))
        for boring in borings(section)
        if _is_too_deep(section, boring)
    )


def _is_too_deep(section: SectionSetout, boring: Boring) -> bool:
    thick = float(section.section.rail.depth.mm)
    return boring.into == "rail" and float(boring.hole.depth.mm) * cos(boring.tilt) >= thick


def _too_deep(section: SectionSetout, boring: Boring, shown: Shown) -> str:
    thick = float(section.section.rail.depth.mm)
    rim = float(boring.hole.size.mm) / 2 * sin(boring.tilt)
    most = (thick - LEAST_COVER - rim) / cos(boring.tilt) // float(shown.step) * shown.step
    mend = f"{shown.text(most)} at most" if most > 0 else "no hole in a rail so thin"
    return (
        f"{_holes(boring, shown)} come out through {boring.beyond}, {shown.text(thick)} thick and "
        f"{shown.text(thick / cos(boring.tilt))} plumb; bore {mend}"
    )


def cover_warnings(section: SectionSetout, shown: Shown) -> tuple[Finding, ...]:
    """Name the holes that come out on the other side of the rail or the shoe, or nearly do.

    Those that the layout is refused for are left to `depth_failures`.
    """
    return tuple(
        Finding("hole-through" if boring.cover <= 0 else "hole-thin", section.name, words)
        for boring in borings(section)
        if boring.cover is not None and boring.cover < LEAST_COVER
        if not _is_too_deep(section, boring)
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
            text = (
                f"the rail hole of {types}, ⌀ {size} in a rail {shown.limit(wide)} wide, leaves "
                f"only {shown.finer(4).text(left)} of wood on either side"
            )
            found.append(Finding("hole-wide", section.name, text))
    return tuple(found)


def loose_warnings(
    section: SectionSetout, kinds: Sequence[Baluster], shown: Shown
) -> tuple[Finding, ...]:
    """Name the holes that are wider than what stands in them can fill."""
    found = []
    for kind in kinds:
        for place, hole in (("tread", kind.tread_hole), ("rail", rail_hole(section, kind))):
            fills, play = _fills(kind, place), PLAY[shown.units]
            if hole is None or float(hole.size.mm) <= fills + float(play):
                continue
            text = (
                f"the {place} hole of {kind.name}, ⌀ {shown.limit(hole.size.mm)}, is more than "
                f"{shown.limit(play)} wider than what stands in it, {shown.text(fills)} at most: "
                "it would stand loose; check the hole's size"
            )
            found.append(Finding("hole-loose", section.name, text))
    return tuple(found)


def _fills(kind: Baluster, place: str) -> float:
    """How wide a hole a baluster fills, mm: its corners turn in it, a pin is turned out of it."""
    turned = kind.shape == "round" or (place == "rail" and kind.top == "pin")
    return float(kind.width.mm) * (1 if turned else sqrt(2))


def _words(boring: Boring, cover: float, shown: Shown) -> str:
    holes = _holes(boring, shown)
    if cover <= 0:
        return f"{holes} come out through {boring.beyond}; give a lesser depth"
    left = Shown.fine(shown.units).text(cover)
    return f"{holes} leave only {left} before they come out through {boring.beyond}"


def _holes(boring: Boring, shown: Shown) -> str:
    size, depth = shown.text(boring.hole.size.mm), shown.text(boring.hole.depth.mm)
    types = " and ".join(boring.types)
    return f"the holes of {types} in the {boring.into}, ⌀ {size} and {depth} deep,"
