"""The treads of a section: what was measured on each, written out as often as `times` says."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

from stairjig.frozen import frozen
from stairjig.job.document import Broken, Word
from stairjig.job.faults import quoted
from stairjig.job.fields import Fields, as_fields
from stairjig.job.model import MOST_TREADS, Sides, Tread
from stairjig.job.scalars import length
from stairjig.lengths import FOOT, Angle

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stairjig.job.document import Node
    from stairjig.job.scalars import Reading
    from stairjig.lengths import Length

MOST_ON_A_TREAD = 50
STEEPEST_SKEW = 80
"""Degrees; nearer to a right angle the line would run along the riser."""
LONGEST_RUN = 20 * FOOT
"""A tread that long takes more balusters than one may have: its unit was mistaken."""
_MEASURES = ("run", "depth", "line_run", "sides")
_SKEWS = ("skew", "front_skew", "back_skew")
_SQUARE = Angle(Fraction(0))
_BLANK = Tread(0)


@frozen
class Item:
    """A tread as written, and how often it stands there; `times` is None where that is unknown."""

    tread: Tread
    times: int | None = 1


def read_treads(fields: Fields) -> tuple[Item, ...]:
    """The items of a section's `treads`, in the order written."""
    nodes = fields.items("treads", "a list of runs, depths or blocks of keys")
    if len(nodes) > MOST_TREADS:
        fields.wrong(
            "treads", f"treads lists {len(nodes):,}, over {MOST_TREADS}", "split the section"
        )
        return ()
    return tuple(_item(node, fields.reading) for node in nodes)


def total(items: Sequence[Item]) -> int | None:
    """How many treads the items come to; None where that is unknown."""
    times = [item.times for item in items]
    return None if None in times else sum(count for count in times if count)


def written_out(items: Sequence[Item], first: int) -> tuple[Tread, ...]:
    """Every tread with its number, counted from `first`."""
    treads = (item.tread for item in items for _ in range(item.times or 1))
    return tuple(replace(tread, number=number) for number, tread in enumerate(treads, first))


def _item(node: Node, reading: Reading) -> Item:
    if isinstance(node, Word):
        run = length(node, "run", reading)
        check_longest("run", run, reading)
        return Item(Tread(0, run=run, where=node.where))
    fields = as_fields(node, "a tread", "a tread", reading)
    if fields is None:
        return Item(replace(_BLANK, where=node.where), 1 if not isinstance(node, Broken) else None)
    times = fields.whole("times", 1, MOST_TREADS, 1)
    return Item(_tread(fields), times if fields.good("times") else None)


def _tread(fields: Fields) -> Tread:
    _check_measures(fields)
    front, back = _skews(fields)
    tread = Tread(
        number=0,
        run=fields.maybe_length("run"),
        depth=fields.maybe_length("depth"),
        line_run=fields.maybe_length("line_run"),
        sides=_sides(fields),
        front_skew=front,
        back_skew=back,
        per_tread=_per_tread(fields),
        bare=fields.flag("bare"),
        where=fields.where,
    )
    for key in _MEASURES[:3]:
        check_longest(key, getattr(tread, key), fields.reading)
    _check_square_measure(fields, tread)
    if tread.bare and "per_tread" in fields:
        fields.wrong("per_tread", "a bare tread carries no balusters", "leave per_tread out")
    return tread


def check_longest(
    key: str,
    measure: Length | None,
    reading: Reading,
    most: Fraction = LONGEST_RUN,
    says: str = "no tread is that long",
) -> None:
    """Report a measure whose unit was mistaken."""
    if measure and measure.mm > most:
        mend = "if it is in millimetres, write mm behind it" if reading.units == "inch" else ""
        reading.faults.add(
            f"{key} {quoted(str(measure))} is over {most / FOOT} feet; {says}",
            measure.where,
            mend or "check the reading",
        )


def _check_measures(fields: Fields) -> None:
    given = fields.given(_MEASURES)
    if not given:
        fields.reading.faults.add(
            "a tread needs one of run, depth, line_run and sides", fields.where, "measure one"
        )
    for extra in given[1:]:
        fields.wrong(extra, f"{extra} stands beside {given[0]}", "keep the one that was measured")


def _skews(fields: Fields) -> tuple[Angle, Angle]:
    given = fields.given(_SKEWS)
    if given and "sides" in fields:
        fields.wrong(given[0], f"{given[0]} stands beside sides", "leave it out: sides tell it")
    elif "skew" in given and len(given) > 1:
        fields.wrong(given[1], f"{given[1]} stands beside skew", "give skew, or the other two")
    if "skew" in fields:
        skew = _skew(fields, "skew")
        return skew, skew
    return _skew(fields, "front_skew"), _skew(fields, "back_skew")


def _skew(fields: Fields, key: str) -> Angle:
    return fields.angle(key, -STEEPEST_SKEW, STEEPEST_SKEW, _SQUARE)


def _sides(fields: Fields) -> Sides | None:
    sides = fields.block("sides", "a winder") if "sides" in fields else None
    if "sides" not in fields:
        for key in fields.given(("diagonal", "check_diagonal")):
            fields.wrong(key, f"{key} stands without sides", "leave it out, or give the sides")
    if sides is None:
        return None
    return Sides(
        end=sides.length("end"),
        back=sides.length("back"),
        wall=sides.length("wall"),
        front=sides.length("front"),
        diagonal=fields.length("diagonal"),
        check_diagonal=fields.maybe_length("check_diagonal"),
    )


def _per_tread(fields: Fields) -> int | None:
    if "per_tread" not in fields:
        return None
    return fields.whole("per_tread", 1, MOST_ON_A_TREAD, 1)


def _check_square_measure(fields: Fields, tread: Tread) -> None:
    """A tape laid square to the risers has no one reading on a tapered tread."""
    if not fields.good(*_SKEWS) or tread.front_skew == tread.back_skew:
        return
    for key in fields.given(("run", "depth")):
        fields.wrong(
            key, f"{key} of a tread whose two risers differ in skew", "give line_run or its sides"
        )


def check_depths(items: Sequence[Item], nosing: Length, reading: Reading) -> None:
    """Report every depth that leaves no run in front of the riser."""
    for item in items:
        depth = item.tread.depth
        if depth and depth.mm and depth.mm <= nosing.mm:
            reading.faults.add(
                f"depth {quoted(str(depth))} is no more than the nosing, {quoted(str(nosing))}",
                depth.where,
                "depth is taped from the nosing edge to the next riser",
            )


def check_bare(items: Sequence[Item], reading: Reading) -> None:
    """Report bare treads between others, and a section of nothing else."""
    bare = [item.tread.bare for item in items]
    if all(bare):
        reading.faults.add(
            "every tread of the section is bare", items[0].tread.where, "leave the section out"
        )
        return
    first, last = bare.index(False), len(bare) - 1 - bare[::-1].index(False)
    for item in items[first:last]:
        if item.tread.bare:
            reading.faults.add(
                "a bare tread stands between others",
                item.tread.where,
                "begin a new section behind it",
            )
