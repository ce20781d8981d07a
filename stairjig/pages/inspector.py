"""The inspector's sheet: every opening and height against its limit, as laid out and as built."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stairjig.errors import counted
from stairjig.pages.flow import Flow
from stairjig.pages.folded import closed_up, folded
from stairjig.pages.leaf import Leaf
from stairjig.pages.tables import Blank, Cell, Column, spread
from stairjig.pages.wording import (
    framed,
    kind_words,
    section_heading,
    sentence,
    signed_height,
    signed_under,
)
from stairjig.setout.checks import height_band
from stairjig.setout.names import ground
from stairjig.setout.openings import limit_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from stairjig.drawing import Page
    from stairjig.lengths import Shown
    from stairjig.rules import Range, RuleSet
    from stairjig.setout.values import Opening, SectionSetout, Setout

SEEN = ("builder", "inspector")
_UNCHECKED = "not checked"
_HEIGHTS = (
    Column("height", 50),
    Column("required", 88),
    Column("as laid out", 24, "end"),
    Column("as built", 33),
)


def inspector_pages(setout: Setout, leaf: Leaf) -> tuple[Page, ...]:
    """Set the inspector's sheet.

    Fields: `built__{section from 1}__{opening from 1}__gap` and `__initials`,
    `built__{section}__height`.
    """
    return closed_up(lambda row_height: _set(setout, leaf, row_height))


def _set(setout: Setout, leaf: Leaf, row_height: float) -> Flow:
    flow = Flow(leaf, "inspector", "Inspector's sheet")
    flow.heading("Inspector's sheet: openings and heights", 5.5)
    _rules(flow, setout.job.openings, setout.job.shown)
    for number in range(1, len(setout.sections) + 1):
        _section(flow, setout, number, row_height)
    signed_under(flow, "Seen", "inspector", SEEN)
    return flow


def _rules(flow: Flow, rules: RuleSet, shown: Shown) -> None:
    framed(
        flow,
        "The local code and its inspector are the law. This sheet is a help: it shows what the "
        "layout was held against, and keeps room for what was built.",
    )
    flow.words(f"Rule set “{rules.name}”: {rules.edition}.")
    limits = (
        ("stair openings", rules.stair),
        ("level openings", rules.level),
        ("the triangle of tread, riser and bottom rail", rules.triangle),
    )
    for name, limit in limits:
        words = f"a sphere of {shown.limit(limit.mm)} ({limit.section})" if limit else "not checked"
        flow.words(f"· {name}: {words}", indent=4.0)
    equal = (
        "A gap exactly at its limit fails: a sphere of that size goes through."
        if rules.equal_fails
        else "A gap exactly at its limit passes: what is larger must not go through."
    )
    flow.words(
        f"{equal} Gaps are level, between the narrowest parts of two neighbours: some are wider "
        "than at the foot."
    )
    for note in rules.notes:
        flow.words(note)


def _section(flow: Flow, setout: Setout, number: int, row_height: float) -> None:
    section, shown, rules = setout.sections[number - 1], setout.job.shown, setout.job.openings
    section_heading(flow, section.name, follow=76.0)
    flow.words(f"{sentence(kind_words(section))}, {counted(len(section.marks), 'baluster')}.")
    for end, newel in (("lower", section.lower_newel), ("upper", section.upper_newel)):
        if newel is None:
            flow.words(f"The {end} end is open: the opening there is not checked.", bold=True)
    flow.space(1.0)
    height = _height_row(section, rules, shown, f"built__{number}__height")
    flow.table(spread(_HEIGHTS, flow.leaf.room), [height], row_height)
    rows = list(_rows(section, number, rules, shown))
    if not rows:
        flow.words("One baluster and two open ends: there is no opening here to check.")
    foot = signed_height(SEEN, heading=True) if number == len(setout.sections) else 0.0
    columns, under = _openings(rules), "under" if rules.equal_fails else "at most"
    limits, above = {str(row[1]) for row in rows}, f"{section.name}, continued"
    if len(limits) == 1:
        (limit,) = limits
        says = limit if limit == _UNCHECKED else f"{under} {limit}"
        flow.words(f"Limit of every opening: {says}.", bold=True)
        flow.space(1.0)
        above = f"{above} · limit of every opening: {says}"
        columns, rows = (columns[0], *columns[2:]), [(row[0], *row[2:]) for row in rows]
    folded(flow, columns, rows, row_height, above, foot)


def _openings(rules: RuleSet) -> tuple[Column, ...]:
    """The columns of the openings; a limit's heading says whether a gap equal to it passes."""
    return (
        Column("opening between", 27),
        Column("limit: under" if rules.equal_fails else "limit: at most", 22, "end"),
        Column("as laid out", 22, "end"),
        Column("as built", 24),
        Column("initials", 17),
    )


def _height_row(
    section: SectionSetout, rules: RuleSet, shown: Shown, name: str
) -> tuple[Cell, ...]:
    least = section.section.rail.height.mm
    most = max((float(least) + nosing.under for nosing in section.nosings), default=least)
    heights = shown.text(least)
    if shown.rounded(most) != shown.rounded(least):
        heights = f"{heights} to {shown.text(most)}"
    origin = {"tread": "nosings", "shoe": "base of the shoe", "floor": "floor"}[ground(section)]
    what = f"rail, {origin} to its top, plumb"
    built = Blank(name, f"{section.name}: {what}, as built")
    return (what, _band(height_band(section.section, rules), shown), heights, built)


def _band(band: Range | None, shown: Shown) -> str:
    if band is None:
        return "none given"
    least = None if band.least is None else shown.text(band.least)
    most = None if band.most is None else shown.text(band.most)
    if least and most:
        words = f"{least} to {most}"
    else:
        words = f"{least} at least" if least else f"{most} at most"
    return f"{words} ({band.section})"


def _rows(
    section: SectionSetout, number: int, rules: RuleSet, shown: Shown
) -> Iterator[tuple[Cell, ...]]:
    for count, opening in enumerate(section.openings, start=1):
        between = f"{opening.between[0]} and {opening.between[1]}"
        name = f"built__{number}__{count}"
        yield (
            between,
            _limit(opening, rules, shown),
            shown.against(opening.clear, opening.limit),
            Blank(f"{name}__gap", f"{section.name}, {between}: gap as built"),
            Blank(f"{name}__initials", f"{section.name}, {between}: initials"),
        )


def _limit(opening: Opening, rules: RuleSet, shown: Shown) -> str:
    limit = limit_of(rules, opening.rule)
    if limit is None:
        return _UNCHECKED
    return shown.limit(limit.mm)
