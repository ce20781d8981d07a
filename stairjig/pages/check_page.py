"""The check page: every mark on the rail proved by tape before anything is bored."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from stairjig.lengths import BURNT
from stairjig.pages.flow import Flow
from stairjig.pages.folded import closed_up, folded
from stairjig.pages.leaf import Leaf
from stairjig.pages.tables import Blank, Cell, Column
from stairjig.pages.wording import (
    bow_words,
    framed,
    near,
    section_heading,
    signed_height,
    signed_under,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from stairjig.drawing import Page
    from stairjig.lengths import Shown
    from stairjig.setout.values import SectionSetout, Setout

_COLUMNS = (
    Column("mark", 18, bold=True),
    Column("from mark before", 26, "end"),
    Column("as taped", 20),
    Column("from first mark", 30, "end"),
    Column("as taped", 21),
)
SIGNED = ("taped by", "checked, boring may begin")
"""What is signed for here; nothing is bored before it is."""


def check_pages(setout: Setout, leaf: Leaf) -> tuple[Page, ...]:
    """Set the check page, as many pages as the marks need.

    Fields: `check__{section from 1}__{mark}__spacing` and `__running`, the first mark without a
    spacing, and `check__{section}__total`, first mark to last.
    """
    return closed_up(lambda row_height: _set(setout, leaf, row_height))


def _set(setout: Setout, leaf: Leaf, row_height: float) -> Flow:
    job = setout.job
    flow = Flow(leaf, "check", "Check page")
    flow.heading("Check page: the rail's marks, by tape", 5.5)
    burnt = f"the {job.shown.text(BURNT[job.units])} line"
    _how(flow, near(job.units), job.shown.limit(job.tolerance.mm), burnt)
    for number in range(1, len(setout.sections) + 1):
        _section(flow, setout, number, row_height)
    signed_under(flow, "Before the first hole", "check", SIGNED)
    return flow


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
        "Each figure is rounded by itself: never step marks off by the spacings. For the office: "
        "filled in on a screen and saved, this file goes to “stairjig check”, which says what the "
        "readings mean."
    )


def _section(flow: Flow, setout: Setout, number: int, row_height: float) -> None:
    section, shown = setout.sections[number - 1], setout.job.shown
    first, last = section.marks[0], section.marks[-1]
    section_heading(flow, section.name, follow=72.0)
    flow.words(
        f"{len(section.marks)} marks. From the first, {first.name}, to the last, {last.name}: "
        f"{shown.long(last.rail)} along the underside."
        if len(section.marks) > 1
        else f"One mark, {first.name}: there is no other on this rail to tape it from."
    )
    flow.words(bow_words(section, setout.job.units))
    flow.space(1.5)
    look, stop = near(setout.job.units), shown.limit(setout.job.tolerance.mm)
    folded(
        flow,
        _COLUMNS,
        list(_rows(section, number, shown)),
        row_height,
        f"{section.name}, continued · off by over {look} look again, by over {stop} stop",
        signed_height(SIGNED, heading=True) if number == len(setout.sections) else 0.0,
    )


def _rows(section: SectionSetout, number: int, shown: Shown) -> Iterator[tuple[Cell, ...]]:
    first, last = section.marks[0], section.marks[-1]
    yield (first.name, "start", "", "0", _blank(section, number, first.name, "running"))
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
