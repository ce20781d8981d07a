"""The check page: every mark on the rail proved by tape before anything is bored."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from stairjig.pages.flow import BODY, Blank, Cell, Column, Flow, Leaf, spread
from stairjig.pages.wording import FILLED_ROW, bow_words, framed, near, section_heading, sign_off

if TYPE_CHECKING:
    from collections.abc import Iterator

    from stairjig.drawing import Page
    from stairjig.lengths import Shown
    from stairjig.setout.values import SectionSetout, Setout

_COLUMNS = (
    Column("mark", 20, bold=True),
    Column("from mark before", 45, "end"),
    Column("as taped", 41),
    Column("from first mark", 45, "end"),
    Column("as taped", 41),
)


def check_pages(setout: Setout, leaf: Leaf) -> tuple[Page, ...]:
    """Set the check page, as many pages as the marks need.

    Fields: `check__{section from 1}__{mark}__spacing` and `__running`, the first mark without a
    spacing, and `check__{section}__total`, first mark to last.
    """
    job = setout.job
    flow = Flow(leaf, "check", "Check page")
    flow.heading("Check page: the rail's marks, by tape", 5.5)
    burnt = "the 1″ line" if job.units == "inch" else "the 100 mm line"
    _how(flow, near(job.units), job.shown.limit(job.tolerance.mm), burnt)
    for number, section in enumerate(setout.sections, start=1):
        _section(flow, setout, number, section)
    flow.keep(48.0)
    flow.heading("Before the first hole", follow=38.0)
    sign_off(flow, "check", ("taped by", "checked, boring may begin"))
    return flow.pages()


def _how(flow: Flow, look: str, stop: str, burnt: str) -> None:
    steps = (
        "With every mark on the rail and nothing bored, hold the tape's zero on the first mark and "
        "lay it along the rail's underside. Write what it says at each mark under “from first "
        f"mark”. Where the hook is in the way, hold {burnt} there and take it off every reading.",
        "Then tape from each mark to the next and write that beside it. Either column proves the "
        "marks; with spacings alone, tape the total as well.",
        "The total is taped once more in one pull, from the first mark to the last.",
    )
    for number, step in enumerate(steps, start=1):
        flow.words(step, indent=6.0, mark=f"{number}")
    framed(
        flow,
        f"Where to stop: two neighbours more than {look} off, look again, at the tape and at the "
        f"mark. More than {stop} off, stop: bore nothing until it is explained.",
    )
    flow.words(
        "Sums of the rounded spacings need not come to the running figures; each figure is rounded "
        "from the exact layout. Filled in on a screen and saved, this file can be handed to "
        "“stairjig check”, which says what the readings mean."
    )


def _section(flow: Flow, setout: Setout, number: int, section: SectionSetout) -> None:
    shown = setout.job.shown
    first, last = section.marks[0], section.marks[-1]
    section_heading(flow, section.name, follow=50.0)
    flow.words(
        f"{len(section.marks)} marks. From the first, {first.name}, to the last, {last.name}: "
        f"{shown.long(last.rail)} along the underside."
        if len(section.marks) > 1
        else f"One mark, {first.name}: nothing to tape it from but the newels."
    )
    for words in bow_words(section, setout.job.units):
        flow.words(words)
    flow.space(1.5)
    look, stop = near(setout.job.units), shown.limit(setout.job.tolerance.mm)
    flow.table(
        spread(_COLUMNS, flow.leaf.room),
        list(_rows(section, number, shown)),
        row_height=FILLED_ROW,
        size=BODY + 0.2,
        above=f"{section.name}, continued · off by over {look} look again, by over {stop} stop",
    )


def _rows(section: SectionSetout, number: int, shown: Shown) -> Iterator[tuple[Cell, ...]]:
    first, last = section.marks[0], section.marks[-1]
    yield (first.name, "begin here", "", "0", _blank(section, number, first.name, "running"))
    for below, mark in pairwise(section.marks):
        yield (
            mark.name,
            shown.text(mark.rail - below.rail),
            _blank(section, number, mark.name, "spacing"),
            shown.text(mark.rail),
            _blank(section, number, mark.name, "running"),
        )
    if last is not first:
        hint = f"{section.name}: total, {first.name} to {last.name}"
        yield ("total", "", "", shown.text(last.rail), Blank(f"check__{number}__total", hint))


def _blank(section: SectionSetout, number: int, mark: str, way: str) -> Blank:
    what = "from the mark before" if way == "spacing" else "from the first mark"
    return Blank(f"check__{number}__{mark}__{way}", f"{section.name}, {mark}: {what}, as taped")
