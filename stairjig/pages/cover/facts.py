"""The figures of a section beside its drawing, and the list of its treads where they differ."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING

from stairjig.drawing import Pen, Text, rectangle
from stairjig.errors import counted
from stairjig.job.model import LevelSection, TreadsSection
from stairjig.pages.elevation.elevation import shaded
from stairjig.pages.elevation.labels import LABEL
from stairjig.pages.elevation.measures import spanned
from stairjig.pages.lines import lines_in
from stairjig.pages.tables import Column
from stairjig.pages.wording import angle, newel_name
from stairjig.setout.plan import square_run
from stairjig.setout.schedule_newels import taped, top_of
from stairjig.type import width

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from stairjig.drawing import Item
    from stairjig.lengths import Real, Shown
    from stairjig.setout.values import SectionSetout, SetNewel, Setout, SetTread

FACTS_WIDTH = 60.0
"""Width of the column of figures, mm."""
_LINE = LABEL * 1.85
_SWATCH = 5.0

Fact = tuple[str, str]
Listed = tuple[tuple[Column, ...], list[tuple[str, ...]]]
"""A table's columns and rows."""


def facts(section: SectionSetout, shown: Shown) -> tuple[Fact, ...]:
    """List what there is to check of a section, each a name and a figure."""
    own = _tread_facts if section.treads else _straight_facts
    return (*own(section, shown), *_rail_facts(section, shown), *_newel_facts(section, shown))


def _tread_facts(section: SectionSetout, shown: Shown) -> Iterator[Fact]:
    kind = section.section
    assert isinstance(kind, TreadsSection)
    runs = [run for tread in section.treads if (run := square_run(tread.plan)) is not None]
    gaps = [tread.gap for tread in section.treads if tread.gap is not None]
    rises = [rise.mm for rise in kind.rises]
    yield "open side, going up", kind.side
    if runs:
        square = ", square to the risers" if _skewed(section) else ""
        yield f"{counted(len(runs), 'run')}{square}", spanned(runs, shown)
    tapered = len(section.treads) - len(runs)
    if tapered:
        yield "tapered treads", str(tapered)
    yield counted(len(rises), "rise"), spanned(rises, shown)
    yield "nosing", shown.text(kind.nosing.mm)
    yield "first to top riser, level", shown.text(section.line_length)
    yield "rise in all", shown.text(section.tops[-1])
    yield _gap_name(section), spanned(gaps, shown)


def _straight_facts(section: SectionSetout, shown: Shown) -> Iterator[Fact]:
    kind = section.section
    assert not isinstance(kind, TreadsSection)
    if not isinstance(kind, LevelSection):
        yield "face to face, along the slope", shown.text(kind.length.mm)
    yield "face to face, level", shown.text(section.line_length)
    if kind.shoe_depth.mm:
        yield "shoe rail, depth", shown.text(kind.shoe_depth.mm)
    yield f"{_gap_name(section)}, level", shown.text(section.gap or 0)


def _gap_name(section: SectionSetout) -> str:
    """What the layout gap is called: over the feet, where some are wider than their baluster."""
    feet = any(mark.type.base.mm != mark.type.width.mm for mark in section.marks)
    return "gap above the feet" if feet else "gap at the base"


def _rail_facts(section: SectionSetout, shown: Shown) -> Iterator[Fact]:
    rail = section.rail
    if not rail.level:
        yield "pitch", angle(rail.pitch)
    if rail.length is not None:
        yield "rail, face to face", shown.text(rail.length)
    first, last = section.marks[0], section.marks[-1]
    if last is not first:
        yield f"rail, {first.name} to {last.name}", shown.text(last.rail)
    given = section.section.rail
    yield "rail, height and depth", f"{shown.text(given.height.mm)}, {shown.text(given.depth.mm)}"


def _newel_facts(section: SectionSetout, shown: Shown) -> Iterator[Fact]:
    for end, newel in (("lower", section.lower_newel), ("upper", section.upper_newel)):
        if newel is None:
            yield f"{end} end", "open, no newel"
            continue
        name = newel_name(newel)
        if newel.kind == "post":
            yield from_riser(section, newel, newel.centre, f"{name}, centre", shown)
        elif section.treads:
            yield from_riser(section, newel, newel.face, f"{name}, face", shown)
        yield f"{name}, gap", shown.text(newel.gap)


def from_riser(section: SectionSetout, newel: SetNewel, s: Real, name: str, shown: Shown) -> Fact:
    """Say where a newel is from the riser that a tape can reach, or behind its own face."""
    place = taped(section, s)
    if place is None:
        return f"{name} behind its face", shown.text(newel.width / 2)
    if place.flush:
        return name, f"flush with riser {place.riser}"
    way = "up" if place.off > 0 else "down"
    off = shown.text(max(place.off, -place.off))
    return f"{name} from riser {place.riser}", f"{off} {way} the stair"


def counts_of(section: SectionSetout) -> dict[str, int]:
    """Count a section's balusters by type, in order of first use."""
    counts: dict[str, int] = {}
    for mark in section.marks:
        counts[mark.type.name] = counts.get(mark.type.name, 0) + 1
    return counts


def facts_block(
    section: SectionSetout, shown: Shown, kinds: Sequence[str]
) -> tuple[tuple[Item, ...], float]:
    """Draw the column of figures from its top at 0 downward; gives its items and its height."""
    items: list[Item] = []
    y = -_LINE * 0.8
    items += _line("balusters", str(len(section.marks)), y)
    for name, count in counts_of(section).items():
        y -= _LINE
        box = rectangle(1.0, y - 0.2, _SWATCH, LABEL, Pen.THIN)
        items += shaded(box.points, kinds.index(name))
        room = FACTS_WIDTH - _SWATCH - 14.0
        label = lines_in(name, LABEL, room)[0]
        items += _line(label, str(count), y, indent=_SWATCH + 3.0)
    y -= _LINE * 0.5
    for label, value in facts(section, shown):
        y -= _LINE
        if width(label, LABEL) + width(value, LABEL, bold=True) + 3.0 <= FACTS_WIDTH:
            items += _line(label, value, y)
            continue
        items.append(Text(label, (0.0, y), LABEL))
        for line in lines_in(value, LABEL, FACTS_WIDTH - 4.0, bold=True):
            y -= _LINE
            items.append(Text(line, (FACTS_WIDTH, y), LABEL, bold=True, anchor="end"))
    return tuple(items), -y + LABEL


def _line(label: str, value: str, y: float, indent: float = 0.0) -> list[Item]:
    return [
        Text(label, (indent, y), LABEL),
        Text(value, (FACTS_WIDTH, y), LABEL, bold=True, anchor="end"),
    ]


def tread_list(setout: Setout, section: SectionSetout) -> Listed | None:
    """List the treads as measured, those alike in a row together; None where all are alike."""
    if not section.treads:
        return None
    shown = setout.job.shown
    rows = [(str(tread.plan.number), _cells(section, tread, shown)) for tread in section.treads]
    landing = _rise_to(section, len(section.treads), shown)
    alike = len({cells for _, cells in rows}) == 1 and landing == rows[0][1][0]
    if alike:
        return None
    grouped = [
        (_span([number for number, _ in group]), *cells)
        for cells, group in ((key, list(same)) for key, same in groupby(rows, lambda row: row[1]))
    ]
    blank = [""] * (len(rows[0][1]) - 1)
    grouped.append((top_of(setout, section).removeprefix("the "), landing, *blank))
    tapered = any(square_run(tread.plan) is None for tread in section.treads)
    return _columns(_skewed(section), tapered), grouped


def _span(numbers: Sequence[str]) -> str:
    return numbers[0] if len(numbers) == 1 else f"{numbers[0]} to {numbers[-1]}"


def _skewed(section: SectionSetout) -> bool:
    return any(tread.plan.front.skew or tread.plan.back.skew for tread in section.treads)


def _columns(skewed: bool, tapered: bool) -> tuple[Column, ...]:
    skews = (Column("line run", 20, "end"), Column("skew", 33, "end")) if skewed else ()
    return (
        Column("tread", 24, bold=True),
        Column("rise up to it", 27, "end"),
        Column("depth", 30 if tapered else 24, "end"),
        Column("run", 20, "end"),
        *skews,
        Column("balusters", 24, "end"),
        Column("gap", 24, "end"),
    )


def _cells(section: SectionSetout, tread: SetTread, shown: Shown) -> tuple[str, ...]:
    plan, run = tread.plan, square_run(tread.plan)
    on_line = f"line {shown.text(plan.line_run + plan.front_nosing)}"
    cells = [_rise_to(section, plan.index, shown), on_line, "tapered"]
    if run is not None:
        cells[1:] = [shown.text(run + plan.square_nosing), shown.text(run)]
    if _skewed(section):
        front, back = f"{plan.front.skew:.1f}°", f"{plan.back.skew:.1f}°"
        cells += [shown.text(plan.line_run), front if front == back else f"{front} to {back}"]
    gap = "none" if tread.gap is None else shown.text(tread.gap)
    return (*cells, str(len(tread.marks)), gap)


def _rise_to(section: SectionSetout, index: int, shown: Shown) -> str:
    kind = section.section
    assert isinstance(kind, TreadsSection)
    return shown.text(kind.rises[index].mm)
