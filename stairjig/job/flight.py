"""A treads section of a job file: its rises, line and treads, and what was taped on its rail."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from stairjig.errors import counted
from stairjig.job.document import Word
from stairjig.job.faults import quoted
from stairjig.job.fields import BLANK
from stairjig.job.model import MOST_TREADS, Line, RailTaped, TreadsSection
from stairjig.job.parts import mark_name
from stairjig.job.scalars import length
from stairjig.job.treads import (
    MOST_ON_A_TREAD,
    check_bare,
    check_depths,
    check_longest,
    read_treads,
    total,
    written_out,
)  # fmt: skip
from stairjig.lengths import FOOT, Length

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stairjig.errors import Place
    from stairjig.job.fields import Fields
    from stairjig.job.model import Newel, Rail, Tread
    from stairjig.job.treads import Item

HIGHEST_FIRST_TREAD = 999
HIGHEST_RISE = 4 * FOOT
"""More is no step: its unit was mistaken."""
_NO_STEP = "no step is that high"
_SPACINGS: tuple[Literal["tread", "even"], ...] = ("tread", "even")
_HANDS: tuple[Literal["left", "right"], ...] = ("left", "right")
_ORIGINS: tuple[Literal["end", "string", "wall"], ...] = ("end", "string", "wall")
_AT_THE_RISER = Length(Fraction(0), "0")
_COMMA = "a decimal comma between brackets must stand in quotes"


def treads_section(
    fields: Fields,
    name: str,
    newels: tuple[Newel, Newel],
    pattern: tuple[str, ...],
    rail: Rail,
) -> TreadsSection:
    """The section whose common keys have been read; problems go to the fields' faults."""
    items = read_treads(fields)
    spacing = fields.choice("spacing", _SPACINGS, "tread")
    section = TreadsSection(
        name=name,
        lower_newel=newels[0],
        upper_newel=newels[1],
        pattern=pattern,
        rail=rail,
        side=fields.choice("side", _HANDS),
        rises=_rises(fields, total(items)),
        nosing=fields.length("nosing", floor="from zero"),
        line=_line(fields),
        treads=_treads(fields, items),
        spacing=spacing,
        per_tread=fields.count("per_tread", MOST_ON_A_TREAD),
        set_back=_set_back(fields, spacing),
        rail_taped=_rail_taped(fields),
        rail_length=fields.maybe_length("rail_length"),
        where=fields.where,
    )
    _check(fields, section, items)
    return section


def _treads(fields: Fields, items: Sequence[Item]) -> tuple[Tread, ...]:
    """The treads written out; () where their number is unknown or past the bound."""
    first = fields.whole("first_tread", 1, HIGHEST_FIRST_TREAD, 1)
    count = total(items)
    if count is None:
        return ()
    if count > MOST_TREADS:
        fields.wrong("treads", f"treads come to {count:,}, over {MOST_TREADS}", "split the section")
        return ()
    return written_out(items, first)


def _rises(fields: Fields, treads: int | None) -> tuple[Length, ...]:
    given = fields.given(("rise", "rises"))
    if not given:
        fields.lacks("rise")
    elif len(given) == 2:
        fields.wrong("rises", "rises stands beside rise", "keep one of the two")
    elif given == ["rise"]:
        rise = fields.length("rise")
        check_longest("rise", rise, fields.reading, HIGHEST_RISE, _NO_STEP)
        return (rise,) * (min(treads or 0, MOST_TREADS) + 1)
    else:
        return _listed_rises(fields, treads)
    return ()


def _listed_rises(fields: Fields, treads: int | None) -> tuple[Length, ...]:
    nodes = fields.items("rises", "a list of rises")
    if len(nodes) > MOST_TREADS + 1:
        fields.wrong("rises", f"rises lists {len(nodes):,}, over {MOST_TREADS + 1}", "split it")
        return ()
    rises = tuple(length(node, "rise", fields.reading) or BLANK for node in nodes)
    for rise in rises:
        check_longest("rise", rise, fields.reading, HIGHEST_RISE, _NO_STEP)
    if rises and treads and len(rises) != treads + 1:
        mend = f"it takes one more than the treads: {treads + 1}"
        if fields.reading.units == "mm" and len(rises) > treads + 1:
            mend = f"{mend}; {_COMMA}"
        fields.wrong("rises", f"rises lists {len(rises)} for {counted(treads, 'tread')}", mend)
    return rises


def _line(fields: Fields) -> Line:
    origin = fields.choice("line_from", _ORIGINS, "end")
    node = fields.node("line")
    if node is None or isinstance(node, Word):
        line = fields.length("line")
        return Line(line, line, origin)
    ends = fields.block("line", "a line")
    if ends is None:
        return Line(BLANK, BLANK, origin)
    return Line(ends.length("front"), ends.length("back"), origin)


def _set_back(fields: Fields, spacing: str) -> Length | None:
    """The set-back; None only where the row's place is still to be found."""
    given = fields.maybe_length("set_back", "from zero")
    return _AT_THE_RISER if given is None and spacing == "tread" else given


def _rail_taped(fields: Fields) -> RailTaped | None:
    taped = fields.block("rail_taped", "a taped rail") if "rail_taped" in fields else None
    if taped is None:
        return None
    start, end = mark_name(taped, "from"), mark_name(taped, "to")
    if start and end and _order(start) >= _order(end):
        taped.wrong("to", f"to {quoted(end)} is not above from {quoted(start)}", "swap the two")
    return RailTaped(start, end, taped.length("length"), taped.where)


def _order(mark: str) -> tuple[int, int]:
    tread, count = mark.split("-")
    return int(tread), int(count)


def _check(fields: Fields, section: TreadsSection, items: Sequence[Item]) -> None:
    """What must hold between the values of a section."""
    if items:
        check_bare(items, fields.reading)
    if fields.good("nosing"):
        check_depths(items, section.nosing, fields.reading)
    if section.spacing == "even":
        _check_even_counts(fields, section)
    if any(item.tread.sides for item in items):
        _check_beside_sides(fields, section)
    for mark, where in _named_marks(section):
        _check_mark(fields, section, mark, where)


def _check_even_counts(fields: Fields, section: TreadsSection) -> None:
    """One row over all treads has one number: the sum of what is given, for all of them or none."""
    counted = [tread for tread in section.treads if tread.per_tread]
    uncounted = any(not (tread.per_tread or tread.bare) for tread in section.treads)
    if counted and uncounted and section.per_tread is None and fields.good("per_tread"):
        fields.reading.faults.add(
            "per_tread on some treads alone beside spacing: even, whose one row has one number",
            counted[0].where,
            "give the section a per_tread, or leave it out of its treads",
        )


def _check_beside_sides(fields: Fields, section: TreadsSection) -> None:
    """Four sides hold the line's place by one distance from a straight tread end."""
    if "line" in fields and fields.good("line") and not isinstance(fields.node("line"), Word):
        fields.wrong("line", "line differs front and back beside sides", "give one length")
    if section.line.origin != "end":
        fields.wrong("line_from", "line_from stands beside sides", "measure from the tread end")


def _named_marks(section: TreadsSection) -> list[tuple[str, Place | None]]:
    named = [
        (newel.replaces, newel.where)
        for newel in (section.lower_newel, section.upper_newel)
        if newel.replaces
    ]
    taped = section.rail_taped
    if taped:
        named += [(mark, taped.where) for mark in (taped.start, taped.end) if mark]
    return named


def _check_mark(fields: Fields, section: TreadsSection, mark: str, where: Place | None) -> None:
    if not section.treads:
        return
    number, count = _order(mark)
    first, last = section.treads[0].number, section.treads[-1].number
    if not first <= number <= last:
        fields.reading.faults.add(
            f"there is no mark {mark}: the section has treads {first} to {last}", where
        )
        return
    tread = section.treads[number - first]
    known = tread.per_tread or section.per_tread
    if tread.bare:
        fields.reading.faults.add(f"there is no mark {mark}: tread {number} is bare", where)
    elif known and count > known and section.spacing == "tread":
        fields.reading.faults.add(f"there is no mark {mark}: tread {number} carries {known}", where)
