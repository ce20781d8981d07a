"""Which sheet has what on it, and what other paper would take."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from stairjig.drawing import Pen, Stroke, Text, moved
from stairjig.pages.flow import BODY, LEADING, Column, Flow, lines_in, spread

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stairjig.drawing import Item
    from stairjig.setout.values import Setout

_NUMBER = 18.0
_GAP = 6.0
_PAPERS = (
    Column("paper", 80, bold=True),
    Column("sheets of strips", 56, "end"),
    Column("joints", 56, "end"),
)

Row = tuple[str, str]


def shortened(what: str, sections: Sequence[str]) -> str:
    """Say a section's name once where several of its strips follow each other on a sheet."""
    names = "|".join(re.escape(name) for name in sections)
    said, parts = "", []
    for part in re.split(f", (?=(?:{names}) · )", what):
        section, dot, piece = part.partition(" · ")
        parts.append(piece if dot and section == said else part)
        said = section
    return ", ".join(parts)


def sheet_index(flow: Flow, index: Sequence[Row]) -> None:
    """Set the index in two columns, read down the first and then down the second."""
    flow.heading("The sheets", follow=24.0)
    across = 2 if flow.leaf.room >= 150.0 and len(index) > 6 else 1
    wide = (flow.leaf.room - (across - 1) * _GAP) / across
    blocks = [_Entry(row, wide) for row in index]
    while blocks:
        blocks = _page_of(flow, blocks, across, wide)
    flow.space(2.0)


class _Entry:
    """A sheet's line in the index, wrapped to its column."""

    def __init__(self, row: Row, wide: float) -> None:
        self.number = row[0]
        self.lines = lines_in(row[1], BODY, wide - _NUMBER - 2.0) or [""]
        self.height = len(self.lines) * BODY * LEADING + 1.6

    def items(self, left: float, top: float, wide: float) -> list[Item]:
        """Draw the entry, its top at `top`."""
        v = top - BODY * 1.4
        texts: list[Item] = [Text(self.number, (left + 1.0, v), BODY, bold=True)]
        texts += [
            Text(line, (left + _NUMBER, v - n * BODY * LEADING), BODY)
            for n, line in enumerate(self.lines)
        ]
        low = top - self.height
        texts.append(Stroke(((left, low), (left + wide, low)), Pen.FAINT))
        return texts


def _page_of(flow: Flow, blocks: list[_Entry], across: int, wide: float) -> list[_Entry]:
    """Set as many entries as the page holds, in columns as even as can be; give the rest."""
    flow.keep(max(block.height for block in blocks[:across]))
    room = flow.y - flow.leaf.bottom
    target = min(room, _even(blocks, across))
    items: list[Item] = []
    rest, lowest = list(blocks), 0.0
    for column in range(across):
        used = 0.0
        while rest and used + rest[0].height <= target + 1e-6:
            items += rest[0].items(column * (wide + _GAP), -used, wide)
            used += rest.pop(0).height
        lowest = max(lowest, used)
    if len(rest) == len(blocks):
        items += rest[0].items(0.0, 0.0, wide)
        lowest = rest.pop(0).height
    flow.drawing([_lifted(item, lowest) for item in items], lowest)
    if rest:
        flow.turn()
    return rest


def _even(blocks: Sequence[_Entry], across: int) -> float:
    """The least height at which the entries, kept in order, fit in the columns."""
    heights = [block.height for block in blocks]
    target = max(sum(heights) / across, *heights)
    while _columns(heights, target) > across:
        target += 1.0
    return target


def _columns(heights: Sequence[float], target: float) -> int:
    count, used = 1, 0.0
    for height in heights:
        if used + height > target + 1e-6:
            count, used = count + 1, 0.0
        used += height
    return count


def _lifted(item: Item, by: float) -> Item:
    return moved(item, (0.0, by))


def paper_advice(flow: Flow, setout: Setout, papers: Sequence[tuple[str, int, int]]) -> None:
    """Set what the strips take on other paper; the paper of this pack is marked."""
    paper = setout.job.paper
    flow.heading("Paper")
    flow.words(f"This pack is laid out for {paper.name}, every page upright.", bold=True)
    if not papers:
        return
    rows = [
        (f"{name}, this pack" if name == paper.name else name, str(sheets), str(joints))
        for name, sheets, joints in papers
    ]
    flow.space(1.0)
    flow.table(spread(_PAPERS, flow.leaf.room), rows, above="Paper, continued")
    fewest = min(joints for _, _, joints in papers)
    best = [name for name, _, joints in papers if joints == fewest]
    if paper.name not in best:
        count = "no joint" if fewest == 0 else f"{fewest} joint{'' if fewest == 1 else 's'}"
        flow.words(
            f"Fewest joints: {' or '.join(best)}, {count}. A pack for other paper is made by "
            f"the office: stairjig pack with --paper and its name."
        )
