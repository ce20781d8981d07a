"""The check page's figures: what a tape must say from mark to mark and from the first one."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from stairjig.proof.marks import ReadPage, ReadText
from stairjig.setout.values import Setout

Row = tuple[str, ...]
_READING = re.compile(r"\d[\d/. ]*(?:″| mm)")
_BLACK = 0.1
_LEVEL = 0.3
TOTAL = "total"
"""What stands in a section's last row instead of a mark."""


def is_check(label: str) -> bool:
    """Whether a page of that label is a check page."""
    return label.partition(" ")[0] == "check"


def expected_rows(setout: Setout) -> list[Row]:
    """Each mark but a section's first, with both its figures; a section's first and last row."""
    shown = setout.job.shown
    rows: list[Row] = []
    for section in setout.sections:
        first, last = section.marks[0], section.marks[-1]
        rows.append((first.name, "0"))
        for below, mark in pairwise(section.marks):
            rows.append((mark.name, shown.text(mark.rail - below.rail), shown.text(mark.rail)))
        if last is not first:
            rows.append((TOTAL, shown.text(last.rail)))
    return rows


def check_faults(pages: Sequence[ReadPage], setout: Setout, part: bool) -> Iterable[str]:
    """Rows of the check pages that are not the layout's; of a `part`, of those that are there."""
    found = [row for page in pages for row in _rows(page)]
    expected = expected_rows(setout)
    if part:
        at = _begin(found, expected)
        expected = expected[at : at + len(found)]
    for was, row in zip(found, expected, strict=False):
        if was != row:
            yield f"the check page says {' | '.join(was)} instead of {' | '.join(row)}"
    if len(found) < len(expected):
        yield f"the check page lacks {len(expected) - len(found)} of its rows"
    elif len(found) > len(expected):
        yield f"the check page has {len(found) - len(expected)} rows too many"


def _begin(found: Sequence[Row], expected: Sequence[Row]) -> int:
    """Where the rows begin that agree with most of those found."""

    def agree(at: int) -> int:
        return sum(row == was for row, was in zip(expected[at:], found, strict=False))

    return max(range(max(len(expected) - len(found), 0) + 1), key=agree, default=0)


def _rows(page: ReadPage) -> Iterator[Row]:
    """The rows on a page: a mark's name and figures on one line."""
    texts = [t for t in page.items if isinstance(t, ReadText) and t.grey <= _BLACK]
    at = 0
    while at < len(texts):
        row = _row(texts[at : at + 3])
        if row:
            yield row
        at += len(row) or 1


def _row(texts: Sequence[ReadText]) -> Row:
    """The row that texts begin with, all on one line; none where that is none."""
    words = [text.text for text in texts if abs(text.at[1] - texts[0].at[1]) < _LEVEL]
    if words[2:] == ["0"]:
        return words[0], "0"
    readings = [bool(_READING.fullmatch(word)) for word in words[1:]]
    if words[0] == TOTAL and readings[:1] == [True]:
        return words[0], words[1]
    return (words[0], words[1], words[2]) if readings == [True, True] else ()
