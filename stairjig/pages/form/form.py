"""The blank measuring form: every measure of a job with a drawing of where to put the tape."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from stairjig.drawing import Field, Page, Pen, Stroke, Text
from stairjig.job.form.fields import TITLE, field_name
from stairjig.job.papers import DEFAULT, SHEETS
from stairjig.pages.flow import Flow
from stairjig.pages.form.parts import Parts
from stairjig.pages.leaf import Leaf
from stairjig.type import width

if TYPE_CHECKING:
    from stairjig.drawing import Item, Run
    from stairjig.lengths import Units

_MARGIN = 7.94
_WORDS = 2.6
_NAMES = {"inch": "inches", "mm": "millimetres"}


def form_pages(units: Units, treads: int) -> tuple[Page, ...]:
    """The form's pages, on letter in inches and on A4 in mm, with a row for each of `treads`."""
    wide, high = SHEETS[DEFAULT[units]]
    flow = Flow(Leaf(float(wide), float(high), _MARGIN), "page", "")
    Parts(flow, units, treads).make()
    pages = flow.pages()
    return tuple(
        _finished(page, number, len(pages), units) for number, page in enumerate(pages, start=1)
    )


def _finished(page: Page, number: int, of: int, units: Units) -> Page:
    """The page with its foot, its fields named for it."""
    items = tuple(_on_page(item, number) for item in page.items)
    label, title = str(number), f"Page {number}"
    return replace(page, label=label, title=title, items=(*items, *_foot(page, number, of, units)))


def _on_page(item: Item | Run, page: int) -> Item | Run:
    name = field_name(item.name) if isinstance(item, Field) else None
    if not isinstance(item, Field) or name is None:
        return item
    return replace(item, name=str(replace(name, page=page)))


def _foot(page: Page, number: int, of: int, units: Units) -> tuple[Item, ...]:
    """The form's name and units, a line for the job's name in pencil, the page's number."""
    left, right, y = _MARGIN + 4.0, page.width - _MARGIN - 4.0, _MARGIN + 2.0
    said, counted = f"{TITLE}, {_NAMES[units]}", f"page {number} of {of}"
    start = left + width(said, _WORDS, bold=True) + 8.0
    end = right - width(counted, _WORDS, bold=True) - 8.0
    return (
        Text(said, (left, y), _WORDS, bold=True),
        Text("Job", (start, y), _WORDS),
        Stroke(((start + 8.0, y - 0.8), (end, y - 0.8)), Pen.THIN),
        Text(counted, (right, y), _WORDS, bold=True, anchor="end"),
    )
