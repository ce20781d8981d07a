"""What to order and cut, for the cover."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from stairjig.job.model import TreadsSection
from stairjig.pages.flow import Flow
from stairjig.pages.tables import Column, spread
from stairjig.pages.wording import angle
from stairjig.setout.schedule import SPARES, orders
from stairjig.setout.schedule_newels import shares
from stairjig.setout.schedule_rail import rail_span

if TYPE_CHECKING:
    from collections.abc import Iterator

    from stairjig.lengths import Shown
    from stairjig.setout.schedule import Order
    from stairjig.setout.values import SectionSetout, SetNewel, Setout

_ORDER = (
    Column("piece", 55, bold=True),
    Column("what", 104),
    Column("in all", 14, "end"),
    Column("order", 19, "end", bold=True),
)


def order_table(flow: Flow, setout: Setout) -> None:
    """Set what to order and cut, in short: the cut list has every length."""
    shown = setout.job.shown
    flow.heading("What to order and cut")
    rows = [_baluster_row(order, setout) for order in orders(setout)]
    rows += [row for section in setout.sections for row in _long_rows(section, shown)]
    rows += _newel_rows(setout)
    flow.table(spread(_ORDER, flow.leaf.room), rows, above="What to order and cut, continued")
    flow.words(
        f"Spares are {float(SPARES):.0%}, one of each type at the least (common practice). Allow "
        "extra on lengths face to face."
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
            what = "the length is measured from it: order what is not there yet"
            yield f"newel, {wide}", what, str(count), f"0 to {count}"
        else:
            yield f"newel, {wide}", f"see the newel sheet{twice}", str(count), str(count)


def _newel_key(section: SectionSetout, newel: SetNewel, shown: Shown) -> tuple[str, bool, bool]:
    """What newels are counted together by: width, whether it stands, whether on treads."""
    return shown.text(newel.width), newel.stands, bool(section.treads)
