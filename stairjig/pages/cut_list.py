"""The cut list: what to cut to which length, and the fillets."""

from __future__ import annotations

from math import cos
from typing import TYPE_CHECKING, Literal

from stairjig.errors import counted
from stairjig.pages.flow import Flow
from stairjig.pages.leaf import Leaf
from stairjig.pages.tables import Column, spread
from stairjig.pages.wording import (
    alike_names,
    angle,
    kind_words,
    section_heading,
    sentence,
)
from stairjig.setout.names import ground, runs_of
from stairjig.setout.schedule import (
    MEASURE,
    CutGroup,
    cut_groups,
    foot_bevel,
    pinned,
    rail_hole,
)
from stairjig.setout.schedule_rail import FilletGroup, filled, fillet_groups

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from stairjig.drawing import Page
    from stairjig.job.model import Baluster
    from stairjig.lengths import Shown
    from stairjig.setout.values import SectionSetout, Setout

_CUTS = (
    Column("pieces", 15, "end", bold=True),
    Column("type", 28),
    Column("cut length", 25, "end", bold=True),
    Column("shows", 24, "end"),
    Column("top", 34),
    Column("marks", 66),
)
_FILLETS = (
    Column("pieces", 18, "end", bold=True),
    Column("length", 36, "end", bold=True),
    Column("of these at the ends", 138),
)


def cut_list_pages(setout: Setout, leaf: Leaf) -> tuple[Page, ...]:
    """Set the cut list: each section's cuts and fillets."""
    flow = Flow(leaf, "cuts", "Cut list")
    flow.heading("Cut list", 5.5)
    flow.words(
        f"{_lengths(setout)} Cut every piece from the same end, and mark that end: the carpenter "
        "says which. Cut one of each length, try it in its place, then cut the rest."
    )
    for section in setout.sections:
        name = f"{section.name} " if alike_names(setout) else ""
        _section(flow, section, name, setout.job.shown)
    return flow.pages()


def _lengths(setout: Setout) -> str:
    """Say what the lengths of the list are."""
    if any(mark.cut is not None for section in setout.sections for mark in section.marks):
        return (
            "Cut lengths are on the centre line: what shows, and what goes into both holes, less "
            "a little play."
        )
    return "No cut length is given: measure it in its place. What shows is on the centre line."


def _section(flow: Flow, section: SectionSetout, name: str, shown: Shown) -> None:
    """Set a section's cuts; `name` stands before its marks where others are called the same."""
    section_heading(flow, section.name, follow=30.0)
    flow.words(f"{counted(len(section.marks), 'baluster')}; {kind_words(section)}.")
    for words in _cut_words(section, shown):
        flow.words(words)
    flow.space(1.0)
    rows = [_cut_row(section, group, name, shown) for group in cut_groups(section, shown)]
    flow.table(spread(_CUTS, flow.leaf.room), rows, above=f"{section.name}, continued")
    for on in filled(section):
        _fillets(flow, section, on, shown)


def _cut_words(section: SectionSetout, shown: Shown) -> Iterator[str]:
    kinds = tuple(dict.fromkeys(mark.type for mark in section.marks))
    if any(kind.top == "bevel" for kind in kinds) and not section.rail.level:
        yield (
            f"Bevel tops are cut {angle(section.rail.pitch)} off square, the long point uphill; "
            "set a stop to the long point where the saw cuts from there."
        )
    if any(foot_bevel(section, kind) for kind in kinds):
        yield (
            f"Feet that stand on the shoe without a hole are cut {angle(section.rail.pitch)} off "
            "square, the long point downhill."
        )
    if ground(section) == "shoe" and "shoe" not in filled(section):
        yield _bored_words(kinds)
    plow = section.section.rail.plow
    if plow:
        plumb = float(plow.depth.mm) / cos(section.rail.pitch)
        yield (
            f"The rail is plowed {shown.text(plow.width.mm)} wide and {shown.text(plow.depth.mm)} "
            f"deep ({shown.text(plumb)} plumb); what shows ends at the rail's underside."
        )
    for kind in kinds:
        yield from _pin_words(section, kind, shown)
        if not _is_cut(section, kind):
            why = "the rail is plowed" if plow else "not both holes are given"
            yield f"{kind.name}: {why}, so measure each in its place; what shows is given."


def _is_cut(section: SectionSetout, kind: Baluster) -> bool:
    """Whether the cut length of a type is known: what goes into both its holes."""
    return bool(kind.tread_hole and rail_hole(section, kind))


def _bored_words(kinds: Sequence[Baluster]) -> str:
    unbored = [kind.name for kind in kinds if kind.tread_hole is None]
    if not unbored:
        return "The shoe is bored: it takes no fillets."
    stand = "stands" if len(unbored) == 1 else "stand"
    return (
        f"The shoe is bored where a hole is given, and takes no fillets; {', '.join(unbored)} "
        f"{stand} on it without one."
    )


def _pin_words(section: SectionSetout, kind: Baluster, shown: Shown) -> Iterator[str]:
    """Say which ends need a pin, since they are wider than their holes."""
    ends = (("foot", kind.tread_hole), ("top", rail_hole(section, kind)))
    pins = [
        f"⌀ {shown.text(hole.size.mm)}, {shown.text(hole.depth.mm)} long at the {end}"
        for end, hole in ends
        if hole and pinned(kind, hole)
    ]
    if pins:
        counts = ""
        if _is_cut(section, kind):
            counts = " The cut length counts the pins, the upper one shorter by the play."
        yield (
            f"{kind.name}: {shown.text(kind.width.mm)} is wider than its hole. It needs a pin that "
            f"fits: {'; '.join(pins)}.{counts}"
        )


def _cut_row(section: SectionSetout, group: CutGroup, name: str, shown: Shown) -> tuple[str, ...]:
    return (
        f"{group.count}",
        group.type.name,
        MEASURE if group.cut is None else shown.text(group.cut),
        shown.text(group.visible),
        _ends(section, group, shown),
        f"{name}{runs_of(group.marks)}",
    )


def _ends(section: SectionSetout, group: CutGroup, shown: Shown) -> str:
    """Say how a group's ends are cut."""
    pin = group.type.top == "pin" or pinned(group.type, rail_hole(section, group.type))
    square = "pin" if pin else "square"
    if section.rail.level or not (group.bevel or group.foot):
        return square
    if group.long_point is None:
        return f"bevel {angle(group.bevel)}, the foot parallel to it"
    long = f"to the long point {shown.text(group.long_point)}"
    if group.bevel:
        return f"bevel {angle(group.bevel)}, {long}"
    return f"{square}; foot bevel {angle(group.foot)}, {long}"


def _fillets(flow: Flow, section: SectionSetout, on: Literal["rail", "shoe"], shown: Shown) -> None:
    groups = fillet_groups(section, on, shown)
    flow.heading(f"{section.name}: fillets for the {on}", 3.6)
    flow.words(_fillet_words(section, on, shown))
    flow.space(1.0)
    rows = [_fillet_row(group, shown) for group in groups]
    flow.table(spread(_FILLETS, flow.leaf.room), rows, above=f"{section.name}, fillets, continued")


def _fillet_words(section: SectionSetout, on: str, shown: Shown) -> str:
    plow = section.section.rail.plow
    if on == "rail" and plow:
        wide = (
            f"{shown.text(plow.width.mm)} wide and {shown.text(plow.depth.mm)} thick, as the plow"
        )
    else:
        wide = "as wide as the groove plowed in the shoe; the shoe is not bored"
    if section.rail.level:
        ends = "both ends square"
    else:
        ends = f"both ends plumb: {angle(section.rail.pitch)} off square, the two cuts parallel"
    return (
        f"{sentence(wide)}; lengths along the {on}; {ends}. They close the groove between "
        "balusters: try each before it is fixed."
    )


def _fillet_row(group: FilletGroup, shown: Shown) -> tuple[str, str, str]:
    ends = ", ".join(f"1 at the {end}" for end in group.ends)
    return (f"{group.count}", shown.text(group.length), ends)
