"""The boring card: bit, depth and tilt of every kind of hole, the pitch block, the prop."""

from __future__ import annotations

from math import tan
from typing import TYPE_CHECKING

from stairjig.drawing import moved
from stairjig.lengths import INCH, Shown
from stairjig.pages.flow import Flow
from stairjig.pages.leaf import Leaf
from stairjig.pages.lines import lines_in, paragraphs
from stairjig.pages.pitch_block import LEAST_LONG, TAB, TALL_TAB, Block, block_for, block_items
from stairjig.pages.stop import stop_items
from stairjig.pages.tables import Column, spread
from stairjig.pages.wording import (
    angle,
    framed,
    kind_words,
    section_heading,
    sentence,
    stands_on,
)
from stairjig.setout.schedule import LEAST_COVER, Boring, borings, pinned, rail_hole
from stairjig.setout.schedule_newels import top_of
from stairjig.setout.schedule_rail import props

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from stairjig.drawing import Page
    from stairjig.lengths import Units
    from stairjig.setout.values import SectionSetout, Setout

SAID = ("square-in-round", "hole-near-riser", "hole-wide", "hole-loose")
"""Codes of the warnings that belong on this card."""
_HOLES = (
    Column("bore into", 32, bold=True),
    Column("for", 28),
    Column("holes", 15, "end"),
    Column("bit", 20, "end", bold=True),
    Column("depth", 18, "end", bold=True),
    Column("tilt", 47),
    Column("opens to", 32, "end"),
)
_CUT = "Cut it out on the heavy line and saw the drill guide to it."
_ON_RAIL = (
    "Seen from the side, the stair going up to the right (to the left: turn it over), its raking "
    "edge lies against the rail's underside and the bit runs plumb, along its right edge. On the "
    "bench, with the rail upside down, the bit's point leans toward the upper end and the drill's "
    "body toward the lower."
)
_ON_SHOE = (
    "For the shoe, which is bored from above, stand the block on its head, so that its upside-down "
    "words read: the raking edge on the shoe's top, the plumb edge toward the lower end, the bit "
    "along that edge. With the shoe face up on the bench the drill's body leans toward the UPPER "
    "end: the other way from the rail."
)
_Said = tuple[str, str]
"""What is said of holes, and at what to stop."""
_TEXT = 74.0
"""What is kept for the words beside a pitch block, mm."""
_PROPS = (
    Column("prop's downhill edge, plumb", 62, bold=True),
    Column("stands on the nosing of", 130),
)


def boring_pages(setout: Setout, leaf: Leaf) -> tuple[Page, ...]:
    """Set the boring card: each section's holes and prop, then a pitch block for each pitch."""
    flow = Flow(leaf, "boring", "Boring card")
    flow.heading("Boring card", 5.5)
    _how(flow)
    for section in setout.sections:
        _section(flow, setout, section)
    _warnings(flow, setout)
    _blocks(flow, setout)
    return flow.pages()


def _how(flow: Flow) -> None:
    framed(
        flow,
        "Bore nothing before the check page is signed. Try bit, guide and stop in scrap of the "
        "same wood first, with a baluster in hand.",
    )
    flow.words(
        "Depth runs along the bit from the hole's centre. Where the bit is tilted, a stop collar "
        "meets one side of the hole first: set the stop with the guide in place, to the guide's "
        "length and the depth together, and prove it by the try hole."
    )


def _section(flow: Flow, setout: Setout, section: SectionSetout) -> None:
    shown = setout.job.shown
    section_heading(flow, section.name, follow=34.0)
    flow.words(f"{sentence(kind_words(section))}; balusters stand on {stands_on(section)}.")
    flow.space(1.0)
    holes = borings(section)
    if holes:
        flow.table(
            spread(_HOLES, flow.leaf.room),
            [_row(boring, shown) for boring in holes],
            row_height=7.0,
            above=f"{section.name}, continued",
        )
    for words, when in dict.fromkeys(_hole_words(section, holes, setout)):
        if words:
            flow.words(words)
        if when:
            items, low = stop_items(when, 0.0, flow.leaf.room, 0.0)
            flow.drawing([moved(item, (0.0, -low)) for item in items], -low)
    _props(flow, setout, section)


def _row(boring: Boring, shown: Shown) -> tuple[str, ...]:
    square = boring.square
    tilt = "none: square to it" if square else f"{angle(boring.tilt)} off square, plumb"
    size = shown.text(boring.hole.size.mm)
    return (
        "under the rail" if boring.into == "rail" else f"the {boring.into}",
        ", ".join(boring.types),
        f"{boring.count}",
        f"⌀ {size}",
        shown.text(boring.hole.depth.mm),
        tilt,
        "round" if square else f"{size} × {shown.text(boring.along)}",
    )


def _hole_words(
    section: SectionSetout, holes: tuple[Boring, ...], setout: Setout
) -> Iterator[_Said]:
    shown = setout.job.shown
    if section.section.rail.plow:
        yield "The rail is plowed: nothing is bored into it, fillets hold the balusters.", ""
    for kind in dict.fromkeys(mark.type for mark in section.marks):
        places = [] if kind.tread_hole else [stands_on(section)]
        if not (section.section.rail.plow or rail_hole(section, kind)):
            places.append("the rail")
        if places:
            yield f"{kind.name}: no hole is given for {' and '.join(places)}.", ""
    for boring in holes:
        words, stop = _cover_words(boring, setout)
        yield f"{_rim_words(boring, setout)}{words}".rstrip(), stop
    for pin in _pins(section, shown):
        yield pin, ""


def _rim_words(boring: Boring, setout: Setout) -> str:
    """Say of a tilted hole how much deeper one side of it is."""
    if boring.square:
        return ""
    half = Shown.fine(setout.job.units).text(float(boring.hole.size.mm) / 2 * tan(boring.tilt))
    size = setout.job.shown.text(boring.hole.size.mm)
    return f"⌀ {size} in the {boring.into}: {half} deeper on one side of its rim. "


def _cover_words(boring: Boring, setout: Setout) -> _Said:
    """Say what is left beyond a hole, and where to stop."""
    shown, size = setout.job.shown, setout.job.shown.text(boring.hole.size.mm)
    thin = f"The {boring.into} is thinner than {shown.text(boring.least)}: too thin for the hole."
    if boring.cover is None:
        return "", thin
    if boring.cover <= 0:
        return "", f"⌀ {size} comes out through {boring.beyond}. Bore less deep."
    left = Shown.fine(setout.job.units).text(boring.cover)
    beyond = "above it" if boring.into == "rail" else "under it"
    words = f"⌀ {size} leaves {left} of {boring.into} {beyond}, square to it."
    if boring.cover < LEAST_COVER:
        return words, f"Only {left} of the {boring.into} is left {beyond}: ask first."
    return words, thin if boring.into == "shoe" else ""


def _pins(section: SectionSetout, shown: Shown) -> Iterator[str]:
    for kind in dict.fromkeys(mark.type for mark in section.marks):
        holes = (kind.tread_hole, rail_hole(section, kind))
        if any(pinned(kind, hole) for hole in holes):
            yield (
                f"{kind.name}, {shown.text(kind.width.mm)} wide, is wider than its hole: only its "
                "pin, turned to fit, goes in. See the cut list."
            )


def _props(flow: Flow, setout: Setout, section: SectionSetout) -> None:
    shown = setout.job.shown
    by_length: dict[str, list[int | None]] = {}
    for prop in props(section):
        by_length.setdefault(shown.text(prop.length), []).append(prop.tread)
    length = next(iter(by_length))
    if not section.treads:
        cut = "square" if section.rail.level else "to the pitch"
        words = f"Prop: {length}, plumb, from {stands_on(section)} to the underside"
        flow.words(f"{words}, both ends cut {cut}.", bold=True)
    elif len(by_length) == 1:
        words = f"Prop: {length}, plumb, from the edge of any nosing to the rail's underside"
        flow.words(f"{words}: its downhill edge, its top cut to the pitch.", bold=True)
    else:
        top = section.treads[-1].plan.number + 1
        over = top_of(setout, section)
        rows = [(length, _places(treads, top, over)) for length, treads in by_length.items()]
        flow.space(1.0)
        above = f"{section.name}, props, continued"
        flow.table(spread(_PROPS, flow.leaf.room), rows, above=above)


def _places(treads: Sequence[int | None], top: int, over: str) -> str:
    """Say on which nosings props of one length stand; `top`: the number of what lies `over` all."""
    named = [str(tread) for tread in treads if tread != top]
    words = [f"tread{'s' if len(named) > 1 else ''} {', '.join(named)}"] if named else []
    return " and ".join(words + [over] * (top in treads))


def _warnings(flow: Flow, setout: Setout) -> None:
    said: dict[str, list[str]] = {}
    for found in setout.warnings:
        if found.code in SAID:
            said.setdefault(found.text, []).append(found.section)
    if not said:
        return
    flow.heading("Look out", 4.5, 12.0)
    for text, sections in said.items():
        flow.words(f"{', '.join(sections)}: {text}.", indent=5.0, mark="!")


def _blocks(flow: Flow, setout: Setout) -> None:
    """Set a block for every pitch at which something is bored."""
    by_pitch: dict[int, list[SectionSetout]] = {}
    for section in setout.sections:
        if _tilted(section):
            by_pitch.setdefault(round(section.rail.pitch * 1e5), []).append(section)
    for sections in by_pitch.values():
        _block(flow, setout, sections)


def _tilted(section: SectionSetout) -> set[str]:
    """What of a section is bored at its pitch: the rail, the shoe."""
    return {boring.into for boring in borings(section) if not boring.square}


def _block(flow: Flow, setout: Setout, sections: list[SectionSetout]) -> None:
    """Set a block with its words beside it, or over it on narrow paper."""
    pitch = sections[0].rail.pitch
    names = ", ".join(section.name for section in sections)
    title = f"Pitch block, {angle(pitch)}: {names}"
    into = set().union(*map(_tilted, sections))
    foot = TALL_TAB if "shoe" in into else TAB
    block = _sized(flow, pitch, setout.job.units, title, foot)
    ways = [text for what, text in (("rail", _ON_RAIL), ("shoe", _ON_SHOE)) if what in into]
    words = [_CUT, *ways, _proof_words(block, setout)]
    under, top = "raking edge against the rail's underside", "on its head, on the shoe's top"
    tab = [f"pitch block {angle(pitch)} · pack {setout.pack_id}", names]
    if "rail" in into:
        tab[1:1] = [f"{under}: up the stair →"]
    head = f"{top}: up the stair →" if "shoe" in into else ""
    beside = _beside(flow.leaf)
    room = flow.leaf.room - block.size[0] - 6.0 if beside else flow.leaf.room
    texts, deep = paragraphs(words, room)
    high = max(block.size[1], deep) if beside else block.size[1] + deep + 4.0
    section_heading(flow, title, follow=high + 2.0)
    left = block.size[0] + 6.0 if beside else 0.0
    low = high - block.size[1] if beside else 0.0
    items = [moved(item, (0.0, low)) for item in block_items(block, tab, head)]
    flow.space(2.0)
    flow.drawing([*items, *(moved(text, (left, high)) for text in texts)], high)
    flow.space(3.0)


def _beside(leaf: Leaf) -> bool:
    return leaf.room >= 2 * _TEXT


def _sized(flow: Flow, pitch: float, units: Units, title: str, foot: float) -> Block:
    """The largest block, made smaller where that lets it stand on this page."""
    wide = flow.leaf.room - (_TEXT if _beside(flow.leaf) else 0.0)
    lines = len(lines_in(title, 4.5, flow.leaf.room, bold=True))
    over = lines * 6.3 + 8.0 + foot + 8.0
    high = flow.y - flow.leaf.bottom - over
    if _beside(flow.leaf) and high > 0:
        block = block_for(pitch, wide, units, high, foot)
        if block.raking >= LEAST_LONG and block.plumb <= high:
            return block
    return block_for(pitch, wide, units, foot=foot)


def _proof_words(block: Block, setout: Setout) -> str:
    units, small = setout.job.units, Shown.fine(setout.job.units)
    if units == "inch":
        square = f"on a framing square, {small.text(12 * tan(block.pitch) * float(INCH))} in 12″"
    else:
        square = f"on a square, {small.text(500 * tan(block.pitch))} in 500 mm"
    return (
        f"The bit stands {angle(block.pitch)} off square: {square}. Prove the print by tape: above "
        f"the thin line the block is {small.text(block.level)} level and {small.text(block.plumb)} "
        "plumb."
    )
