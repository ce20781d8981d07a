"""Jobs, strips and finished sheets for the tests, built through the program's own stages."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

from stairjig.drawing import Page
from stairjig.job.model import Job
from stairjig.job.reader import read_job
from stairjig.pdf import write_pdf
from stairjig.pieces.build import cut_pieces
from stairjig.setout.build import set_out
from stairjig.setout.values import Setout
from stairjig.sheets.drawn import sheet_items, tile_sheets
from stairjig.sheets.plan import SheetPlan, plan_sheets

SAMPLES = Path(__file__).parent.parent / "samples"
SAMPLE_NAMES = tuple(sorted(path.name for path in SAMPLES.glob("*.yaml")))

LONG_FLIGHT = """
title: Heron Lodge, hall
units: inch
openings: irc
balusters:
  plain: {{shape: square, width: 5/8, tread_hole: {{size: 15/16, depth: 1}},
          rail_hole: {{size: 15/16, depth: 3/4}}}}
  turned: {{shape: round, width: 1 1/4, narrowest: 3/4}}
pattern: [plain, turned, plain]
rail: {{height: 36, depth: 2 1/2, width: 2 3/8}}
sections:
  - name: Hall flight
    kind: treads
    side: {side}
    rise: 7 1/2
    nosing: 1 1/8
    line: 1 3/4
    lower_newel: {{width: 3 1/2}}
    upper_newel: {{width: 3 1/2, place: {{face: 1/4}}}}
    treads:
      - {{run: 10 1/4, bare: true}}
      - {{run: 10 1/4, times: 4}}
      - 10
      - 10 1/2
      - {{depth: 11 1/4, times: 3}}
      - {{run: 10 3/16, times: 6}}
"""
"""16 treads, the first bare, two widths, one newel that stands."""


FLIGHT = """
title: Edge house
units: inch
openings: irc
balusters: {{{baluster}}}
rail: {{height: 36, depth: 2 1/2, width: {rail}}}
sections:
  - {{name: {name}, kind: treads, side: {side}, rise: 7 1/2, nosing: {nosing}, line: {line},
     lower_newel: {{width: 3 1/2, place: {lower}}}, upper_newel: {{width: 4, place: {upper}}},
     treads: [{treads}]{more}}}
"""
PLAIN = {
    "baluster": "plain: {shape: square, width: 5/8}", "rail": "2 3/8", "side": "left",
    "line": "1 3/4", "lower": "gap", "upper": "gap", "treads": "{run: 10 1/4, times: 4}",
    "more": "", "name": "Flight", "nosing": "1 1/8",
}  # fmt: skip
CHANGES = {
    "narrow rail": {"rail": "1"},
    "newels that stand on treads": {"lower": "{face: 4}", "upper": "{face: -4}"},
    "newels for balusters": {"lower": "{replaces: 1-1}", "upper": "{replaces: 4-3}"},
    "tread ends not along the line": {
        "line": "{front: 1 1/2, back: 2 1/2}", "treads": "{run: 10 1/4, skew: 12, times: 3}"
    },
    "no tread ends": {"more": ", line_from: string", "side": "right"},
    "round with large feet": {
        "baluster": "turned: {shape: round, width: 1 3/4, narrowest: 7/8, base: 2, "
        "tread_hole: {size: 3/4, depth: 1}, rail_hole: {size: 3/4, depth: 3/4}}",
        "more": ", set_back: 1/2",
    },
    "steep skew": {"treads": "{run: 9, skew: -50, times: 3}", "side": "right"},
}  # fmt: skip
"""Flights at the edges of what strips can be."""


@cache
def edge_case(name: str) -> Setout:
    """A flight of `CHANGES` set out, on paper that its strips can be cut for."""
    paper = "tabloid" if "skew" in name else "letter"
    return set_out(job_of(FLIGHT.format(**{**PLAIN, **CHANGES[name]}), paper))


def job_of(text: str, paper: str | None = None) -> Job:
    """A job from its text."""
    return read_job(text.encode(), "job.yaml", paper)


@cache
def long_flight(side: str = "left", paper: str = "letter") -> Setout:
    """The long flight set out."""
    return set_out(job_of(LONG_FLIGHT.format(side=side), paper))


@cache
def sample(name: str, paper: str | None = None) -> Setout:
    """A sample set out, on its own paper or another."""
    return set_out(read_job((SAMPLES / name).read_bytes(), name, paper))


def planned(setout: Setout) -> SheetPlan:
    """Its strips on its paper."""
    return plan_sheets(cut_pieces(setout), setout.job.paper)


def foot(setout: Setout, number: int, of: int) -> str:
    """What a sheet says of itself."""
    return f"sheet {number} of {of} · pack {setout.pack_id} · words"


def strip_pages(setout: Setout, plan: SheetPlan | None = None) -> tuple[Page, ...]:
    """The sheets of strips alone."""
    plan = plan or planned(setout)
    shown, where = setout.job.shown, tile_sheets(plan, 1)
    return tuple(
        Page(
            sheet.width,
            sheet.height,
            str(number),
            f"Sheet {number}",
            sheet_items(sheet, plan.paper, shown, [foot(setout, number, len(plan.sheets))], where),
        )
        for number, sheet in enumerate(plan.sheets, start=1)
    )


def strips_pdf(pages: tuple[Page, ...]) -> bytes:
    """Sheets as a PDF."""
    return write_pdf(pages, "strips", {})


def with_run(pages: tuple[Page, ...], number: int, index: int, items: tuple) -> tuple[Page, ...]:  # type: ignore[type-arg]
    """The pages with one run's items replaced."""
    page = pages[number]
    run = replace(page.items[index], items=items)  # type: ignore[type-var]
    changed = replace(page, items=(*page.items[:index], run, *page.items[index + 1 :]))
    return (*pages[:number], changed, *pages[number + 1 :])
