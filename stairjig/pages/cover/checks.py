"""What to order, and the openings held against their limits, for the cover."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from stairjig.errors import gathered
from stairjig.job.model import TreadsSection
from stairjig.pages.flow import Flow
from stairjig.pages.tables import Column, spread
from stairjig.pages.wording import angle
from stairjig.setout.openings import limit_of
from stairjig.setout.schedule import SPARES, orders
from stairjig.setout.schedule_newels import shares
from stairjig.setout.schedule_rail import rail_span

if TYPE_CHECKING:
    from collections.abc import Iterator

    from stairjig.lengths import Real, Shown
    from stairjig.rules import RuleSet
    from stairjig.setout.schedule import Order
    from stairjig.setout.values import Opening, SectionSetout, SetNewel, Setout

_ORDER = (
    Column("piece", 55, bold=True),
    Column("what", 104),
    Column("stand", 14, "end"),
    Column("order", 19, "end", bold=True),
)
_OPENINGS = (
    Column("section", 40, bold=True),
    Column("gaps", 26),
    Column("widest, clear", 28, bold=True),
    Column("between", 42),
    Column("must be", 32),
    Column("result", 24, bold=True),
)
HELP_ONLY = (
    "The limits and figures of the codes are a help in laying out. The local code and its "
    "inspector are the law: ask before anything is ordered or bored."
)
_PASSES = {True: "passes", False: "FAILS", None: "not checked"}


def order_table(flow: Flow, setout: Setout) -> None:
    """Set what to order and cut, in short: the cut list has every length."""
    shown = setout.job.shown
    flow.heading("What to order and cut")
    rows = [_baluster_row(order, setout) for order in orders(setout)]
    rows += [row for section in setout.sections for row in _long_rows(section, shown)]
    rows += _newel_rows(setout)
    flow.table(spread(_ORDER, flow.leaf.room), rows, above="What to order and cut, continued")
    flow.words(
        f"Spares are {float(SPARES):.0%}, one of each type at the least (common practice). Leave "
        "over on lengths face to face."
    )


def _baluster_row(order: Order, setout: Setout) -> tuple[str, ...]:
    kind, shown = order.type, setout.job.shown
    marks = [mark for section in setout.sections for mark in section.marks if mark.type == kind]
    if order.measured:
        what, lengths = "visible, measure to cut:", [mark.visible for mark in marks]
    else:
        what, lengths = "cut", [mark.cut for mark in marks if mark.cut is not None]
    size = f"{shown.text(kind.width.mm)} {kind.shape}"
    words = f"{size}, {what} {_range(lengths, shown)}"
    if order.longest > shown.rounded(max(lengths)):
        words += f", over the long points {shown.text(order.longest)}"
    return f"baluster {kind.name}", words, str(order.count), str(order.total)


def _range(lengths: list[float], shown: Shown) -> str:
    least, most = shown.text(min(lengths)), shown.text(max(lengths))
    return least if least == most else f"{least} to {most}"


def _long_rows(section: SectionSetout, shown: Shown) -> Iterator[tuple[str, ...]]:
    """A section's rail, and its shoe rail where it has one."""
    rail, given = section.rail, section.section.rail
    length = shown.long(rail_span(section))
    along = f"{length} face to face"
    if rail.length is None:
        ends = "end" if section.newels else "ends"
        along = f"{length}, and what runs on at the open {ends}"
    slope = f"pitch {angle(rail.pitch)}" if not rail.level else "level"
    plow = f", plowed {shown.text(given.plow.width.mm)}" if given.plow else ""
    wide = shown.text(given.width.mm)
    yield f"rail, {section.name}", f"{along}, {slope}, {wide} wide{plow}", "1", "1"
    kind = section.section
    if not isinstance(kind, TreadsSection) and kind.shoe_depth.mm:
        yield f"shoe, {section.name}", f"{along}, {slope}", "1", "1"


def _newel_rows(setout: Setout) -> Iterator[tuple[str, ...]]:
    shown = setout.job.shown
    counts = Counter(
        _newel_key(section, newel, shown)
        for section in setout.sections
        for newel in section.newels
        if newel.kind == "post"
    )
    meeting = {
        _newel_key(section, newel, shown)
        for section in setout.sections
        for newel in section.newels
        if shares(setout, section, newel.end)
    }
    for (wide, stands, flight), count in counts.items():
        meets = (wide, stands, flight) in meeting
        twice = "; one where two sections meet counts twice" if meets else ""
        if stands:
            yield f"newel, {wide}", f"stands already{twice}", str(count), "0"
        elif not flight:
            what = "measured from: order only one that does not stand yet"
            yield f"newel, {wide}", what, str(count), f"0 to {count}"
        else:
            yield f"newel, {wide}", f"see the newel sheet{twice}", str(count), str(count)


def _newel_key(section: SectionSetout, newel: SetNewel, shown: Shown) -> tuple[str, bool, bool]:
    """What newels are counted together by: width, whether it stands, whether on treads."""
    return shown.text(newel.width), newel.stands, bool(section.treads)


def opening_table(flow: Flow, setout: Setout) -> None:
    """Set the opening check: of each section and rule the widest gap, then where limits stand."""
    rules = setout.job.openings
    flow.heading("The opening check")
    rows = [row for section in setout.sections for row in _opening_rows(section, setout)]
    flow.table(spread(_OPENINGS, flow.leaf.room), rows, above="The opening check, continued")
    for words in limit_words(setout):
        flow.words(words)
    for words in rules.notes:
        flow.words(words)
    flow.words(HELP_ONLY, bold=True)


def _opening_rows(section: SectionSetout, setout: Setout) -> Iterator[tuple[str, ...]]:
    rules, shown = setout.job.openings, setout.job.shown
    for rule in dict.fromkeys(opening.rule for opening in section.openings):
        some = [opening for opening in section.openings if opening.rule == rule]
        widest = max(some, key=lambda opening: opening.clear)
        between = " and ".join(widest.between)
        clear = shown.against(widest.clear, widest.limit)
        limit = _must_be(widest.limit, rules, shown)
        yield section.name, f"{len(some)} {rule}", clear, between, limit, _PASSES[_verdict(some)]


def _verdict(openings: list[Opening]) -> bool | None:
    """Tell whether all pass; None where there is no limit."""
    results = [opening.passes for opening in openings]
    if False in results:
        return False
    return None if None in results else True


def _must_be(limit: Real | None, rules: RuleSet, shown: Shown) -> str:
    if limit is None:
        return "no limit given"
    return f"{'less than' if rules.equal_fails else 'at most'} {shown.limit(limit)}"


def limit_words(setout: Setout) -> tuple[str, ...]:
    """Say where each limit in use stands, and whether a gap exactly at it passes."""
    rules, shown = setout.job.openings, setout.job.shown
    used = dict.fromkeys(one.rule for section in setout.sections for one in section.openings)
    parts = []
    for rule in used:
        limit = limit_of(rules, rule)
        where = f"{shown.limit(limit.mm)}, {limit.section}" if limit else "none given, not checked"
        parts.append(f"{rule}: {where}")
    name = f"Limits by {rules.name} ({rules.edition})"
    if rules.name == "own":
        name = "Limits given for this job, not by a code's name"
    exact = "fails" if rules.equal_fails else "passes"
    ends = [newel for section in setout.sections for newel in _open_ends(section)]
    found: tuple[str, ...] = (
        f"{name}: {'; '.join(parts)}. A gap exactly at a limit {exact}.",
        "Gaps are level and clear, at the narrowest part of balusters and newels, planned with "
        f"{shown.limit(setout.job.allowance.mm)} to spare; one that passes by less is warned of.",
    )
    if ends:
        found += (f"Not checked, since there is no newel: {', '.join(ends)}.",)
    return found


def _open_ends(section: SectionSetout) -> Iterator[str]:
    for end, newel in (("lower", section.lower_newel), ("upper", section.upper_newel)):
        if newel is None:
            yield f"the {end} end of {section.name}"


def verdict_words(setout: Setout) -> tuple[str, str]:
    """Say of the opening check and the warnings, in a line each, how the layout stands."""
    some = [opening for section in setout.sections for opening in section.openings]
    checked = [opening for opening in some if opening.passes is not None]
    failing = sum(opening.passes is False for opening in checked)
    result = f"{failing} FAIL" if failing else "all pass"
    if not checked:
        result = "none has a limit"
    name = "the limits given" if setout.job.openings.name == "own" else setout.job.openings.name
    openings = f"{len(checked)} checked against {name}, {result}"
    if len(checked) < len(some):
        openings += f"; {len(some) - len(checked)} not checked"
    count = len(gathered(setout.warnings))
    warnings = "none" if not count else f"{count}, listed below: read them before ordering"
    return openings, warnings
