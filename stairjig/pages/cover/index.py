"""Which sheet has what on it, and what other paper would take."""

from __future__ import annotations

import re
from math import ceil
from typing import TYPE_CHECKING

from stairjig.drawing import Item, Pen, Stroke, Text
from stairjig.frozen import frozen
from stairjig.pages.flow import Flow
from stairjig.pages.lines import BODY
from stairjig.pages.tables import Column, spread
from stairjig.setout.names import in_runs
from stairjig.type import width

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from stairjig.setout.values import Setout

_CELL = 42.0
"""A cell of the index is not made narrower, mm."""
_BETWEEN = 5.0
_ROW = 5.0


@frozen
class Contents:
    """What is on which sheets, counted from 1: pages by their title, strips by their name.

    A strip's sheets stand tile by tile.
    """

    pages: Mapping[str, Sequence[int]]
    strips: Mapping[str, Sequence[int]]


def sheet_index(flow: Flow, contents: Contents) -> None:
    """Set the index: the pages, then each section's strips with the sheets that they are on."""
    flow.heading("The sheets", follow=24.0)
    _cells(flow, [(what, in_runs(sheets)) for what, sheets in contents.pages.items()])
    for section, strips in by_section(contents.strips).items():
        flow.space(1.0)
        flow.keep(BODY * 2 + 2 * _ROW)
        flow.words(f"Strips of {section}", bold=True)
        _cells(flow, strips)
    flow.space(2.0)


def by_section(strips: Mapping[str, Sequence[int]]) -> dict[str, list[tuple[str, str]]]:
    """Each section's strips, those of the treads first and in order, with their sheets."""
    found: dict[str, list[tuple[str, str]]] = {}
    for name, sheets in strips.items():
        section, _, strip = name.rpartition(" · ")
        found.setdefault(section, []).append(_strip(strip, sheets))
    return {section: sorted(some, key=_place) for section, some in found.items()}


def _strip(name: str, sheets: Sequence[int]) -> tuple[str, str]:
    """A strip and its sheets; tile by tile where those are not in order."""
    if list(sheets) == sorted(sheets):
        return name, in_runs(dict.fromkeys(sheets))
    return f"{name}, tile 1, 2, …", ", ".join(map(str, sheets))


def _place(row: tuple[str, str]) -> tuple[bool, int]:
    number = re.search("[0-9]+", row[0])
    return number is None, int(number[0]) if number else 0


def _cells(flow: Flow, rows: Sequence[tuple[str, str]]) -> None:
    """Set what and where side by side, row by row; what is long takes two cells, or lines."""
    across = max(1, int((flow.leaf.room + _BETWEEN) / (_CELL + _BETWEEN)))
    step = (flow.leaf.room + _BETWEEN) / across
    place, items = 0, list[Item]()
    for what, sheets in rows:
        long = width(what, BODY) + width(sheets, BODY, bold=True) + 3.6
        cells = ceil((long + _BETWEEN) / step)
        if place + cells > across and items:
            flow.drawing(items, _ROW)
            place, items = 0, []
        if cells > across:
            flow.space(0.7)
            flow.words(f"{what}: {sheets}")
            continue
        items += _cell(what, sheets, place * step, cells * step - _BETWEEN)
        place += cells
    flow.drawing(items, _ROW if items else 0.0)
    flow.space(1.0)


def _cell(what: str, sheets: str, left: float, wide: float) -> tuple[Item, ...]:
    """An entry of the index, its lower left corner at `left` and 0."""
    right = left + wide
    return (
        Text(what, (left + 1.0, 1.3), BODY),
        Text(sheets, (right - 1.0, 1.3), BODY, bold=True, anchor="end"),
        Stroke(((left, 0.0), (right, 0.0)), Pen.FAINT),
    )


def paper_advice(flow: Flow, setout: Setout, papers: Sequence[tuple[str, int, int]]) -> None:
    """Set what the strips take on other paper, a column for each; this pack's comes first."""
    paper = setout.job.paper
    flow.heading("Paper")
    if papers:
        _papers(flow, papers)
    fewest = min((joints for _, _, joints in papers), default=0)
    best = [name for name, _, joints in papers if joints == fewest]
    if not papers or paper.name in best:
        flow.words(f"This pack is laid out for {paper.name}, every page upright.")
        return
    count = "no joint" if fewest == 0 else f"{fewest} joint{'' if fewest == 1 else 's'}"
    flow.words(
        f"Laid out for {paper.name}. Fewest joints: {' or '.join(best)}, {count}; the office makes "
        f"that pack with --paper {best[0]}."
    )


def _papers(flow: Flow, papers: Sequence[tuple[str, int, int]]) -> None:
    """Set the papers side by side, as many as the leaf is wide for."""
    across = max(1, int((flow.leaf.room - 34.0) / 24.0))
    for start in range(0, len(papers), across):
        some = papers[start : start + across]
        names = [Column(name, 24.0, "end") for name, _, _ in some]
        columns = spread((Column("on paper", 34.0, bold=True), *names), flow.leaf.room)
        sheets = ("sheets of strips", *(str(count) for _, count, _ in some))
        flow.table(columns, [sheets, ("joints", *(str(count) for _, _, count in some))])
