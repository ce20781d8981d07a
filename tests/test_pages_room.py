"""Every page that is no strip, as it stands in a pack: room for every word, on any paper."""

from __future__ import annotations

from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from job_files import LEVEL, METRIC, METRIC_TREADS, SLOPED, TREADS, changed, written
from page_boxes import clashes, fields_of, meet, outside, struck_out, text_area, texts_of
from work_jobs import HOLES

from stairjig.drawing import Page, Pen, Run, Stroke, Text
from stairjig.job.reader import read_job
from stairjig.pack import compose
from stairjig.pages.boring_card import boring_pages
from stairjig.pages.check_page import check_pages
from stairjig.pages.cover.cover import cover_pages
from stairjig.pages.cover.index import Contents
from stairjig.pages.cut_list import cut_list_pages
from stairjig.pages.inspector import inspector_pages
from stairjig.pages.leaf import leaf_of, numbered
from stairjig.pages.newel_sheet import newel_pages
from stairjig.pages.steps.steps import steps_pages
from stairjig.pages.test_sheet import test_sheet_pages as bar_pages
from stairjig.pieces.build import cut_pieces
from stairjig.setout.build import set_out
from stairjig.setout.names import in_runs
from stairjig.sheets.advice import PaperCount
from stairjig.sheets.plan import plan_sheets

if TYPE_CHECKING:
    from stairjig.job.model import Job

LEAST = 2.5
"""Height of capitals that a helper reads on site, mm: the brief of the pages, no source."""
NAME = "The long gallery over the mill, north si"
TITLE = "Kestrel Mill, unit 4, the back stair from the boiler house up to the drying loft"
BORED = f"{{plain: {{shape: square, width: 5/8, {HOLES}}}}}"
SAMPLES = Path(__file__).parent.parent / "samples"
NAMES = sorted(path.name for path in SAMPLES.glob("*.yaml"))
EDGES = {
    "long words": (
        {"title": TITLE, "balusters": BORED},
        changed(TREADS, {"name": NAME}),
        changed(SLOPED, {"name": NAME[:-1] + "b", "shoe": "{depth: 1}"}),
    ),
    "ten sections": (
        {"title": TITLE},
        *(changed(LEVEL, {"name": f"{NAME[:-2]}{n}", "length": "9"}) for n in range(9)),
        changed(TREADS, {"name": NAME, "treads": "[10]"}),
    ),
    "one tread": (None, changed(TREADS, {"treads": "[10 1/4]"})),
    "one mark": (None, changed(LEVEL, {"length": "6", "count": "1"})),
    "right": (None, changed(TREADS, {"side": "right", "treads": "[10, 10 1/8]"})),
    "millimetres": (
        METRIC,
        changed(TREADS, {**METRIC_TREADS, "name": NAME}),
        changed(SLOPED, {"length": "3083.5", "pitch": "36.9", "shoe": "{depth: 20}"}),
    ),
}
ON = [
    *((name, "letter") for name in EDGES),
    ("long words", "roll 24"),
    ("long words", "10 in x 15 in"),
    ("millimetres", "tabloid"),
    ("one tread", "6 in x 9 in"),
]
SHEETS = (
    bar_pages,
    steps_pages,
    newel_pages,
    check_pages,
    inspector_pages,
    boring_pages,
    cut_list_pages,
)


@cache
def in_a_pack(sample: str, paper: str | None = None) -> tuple[Job, tuple[Page, ...]]:
    """A sample, and the pages of its pack that carry no strip, as the pack has them."""
    job = read_job((SAMPLES / sample).read_bytes(), sample, paper)
    setout = set_out(job)
    pieces = cut_pieces(setout)
    plan = plan_sheets(pieces, job.paper)
    found = compose(setout, plan, [PaperCount(job.paper.name, len(plan.sheets), plan.joints)])
    return job, tuple(
        page for page in found if not any(isinstance(item, Run) for item in page.items)
    )


def alone(job: Job) -> tuple[Page, ...]:
    """A job's pages without its strips, whose plan is not made."""
    setout, leaf = set_out(job), leaf_of(job.paper)
    strips = {f"{section.name} · rail": list(range(9, 30, 2)) for section in setout.sections}
    contents = Contents({"Cover": [1], "Inspector's sheet": [30, 31]}, strips)
    counts = [(name, 120, 98) for name in ("letter", "legal", "tabloid", "roll 24", "a3")]
    found = [*cover_pages(setout, leaf, lambda _: contents, counts)]
    found += [page for sheet in SHEETS for page in sheet(setout, leaf)]
    return numbered(found, job.title, setout.pack_id, 1, len(found), leaf.margin)


def edge(name: str, paper: str) -> Job:
    first, *sections = EDGES[name]
    return read_job(written(first, *sections), "edge.yaml", paper)


def crossed(page: Page) -> list[str]:
    """Words that a table's line runs through; faint lines of drawings go their own ways."""
    lines = [item for item in page.items if isinstance(item, Stroke) and item.pen is Pen.FAINT]
    level = [item.points for item in lines if item.points[0][1] == item.points[-1][1]]
    boxes = [(text.text, text_area(text)) for text in texts_of([page])]
    return [
        words
        for (left, v), (right, _) in (line for line in level if len(line) == 2)
        for words, box in boxes
        if meet(box, (left, v - 0.05, right, v + 0.05))
    ]


def faults(page: Page, margin: float) -> list[object]:
    """All that is wrong with the room on a page."""
    small = [text.text for text in texts_of([page]) if text.size < LEAST]
    return [
        *clashes(page),
        *struck_out(page),
        *crossed(page),
        *outside(page, margin),
        *small,
    ]


@pytest.mark.parametrize(
    ("sample", "paper"), [*((name, None) for name in NAMES), ("skewed-porch.yaml", "roll 24")]
)
def test_on_no_page_of_a_sample_do_words_meet_or_leave_the_paper(
    sample: str, paper: str | None
) -> None:
    job, pages = in_a_pack(sample, paper)
    for page in pages:
        assert not faults(page, float(job.paper.margin.mm)), page.label


@pytest.mark.parametrize(("name", "paper"), ON)
def test_on_no_page_of_an_edge_job_do_words_meet_or_leave_the_paper(name: str, paper: str) -> None:
    job = edge(name, paper)
    for page in alone(job):
        assert not faults(page, float(job.paper.margin.mm)), page.label


def test_each_fault_of_a_page_is_found() -> None:
    def found(*items: Text | Stroke) -> list[object]:
        return faults(Page(100, 100, "", "", items), 8.0)

    one = Text("one", (10, 10), 3.0)
    assert not found(one, Text("two", (30, 10), 3.0))
    assert found(one, Text("two", (12, 11), 3.0)) == [("one", "two")]
    assert found(one, Stroke(((0, 11), (100, 11)), Pen.FAINT))[0] == "one"
    assert found(one, Stroke(((9, 9), (20, 14)), Pen.THIN)) == ["one"]
    assert found(Text("far", (97, 50), 3.0))
    assert found(Text("small", (50, 50), 2.4)) == ["small"]


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_lines_to_sign_never_stand_alone_on_a_page(paper: str) -> None:
    for sample in NAMES:
        setout = set_out(read_job((SAMPLES / sample).read_bytes(), sample, paper))
        for sheet in (check_pages, inspector_pages):
            *_, last = sheet(setout, leaf_of(setout.job.paper))
            named = [field.name for field in fields_of([last])]
            assert [name for name in named if not name.startswith("sign__")], sample


@pytest.mark.parametrize("sample", NAMES)
def test_no_last_page_of_a_sheet_holds_two_lines_and_no_more(sample: str) -> None:
    for page in in_a_pack(sample)[1]:
        lowest = min(text.at[1] for text in texts_of([page]) if text.at[1] > 20.0)
        assert page.height - lowest > 45.0, page.label


@pytest.mark.parametrize("sample", NAMES)
def test_rows_to_write_in_keep_their_height_where_they_are_closed_up(sample: str) -> None:
    """8 mm or more from row to row: less is no room for a pencil (the design, section 8)."""
    for page in in_a_pack(sample)[1]:
        lows: dict[float, set[float]] = {}
        for field in fields_of([page]):
            lows.setdefault(field.at[0], set()).add(field.at[1])
        for column in lows.values():
            assert all(high - low >= 8.0 - 1e-6 for low, high in pairwise(sorted(column)))


def test_the_index_on_the_cover_names_the_sheets_that_a_strip_is_on() -> None:
    job, pages = in_a_pack("skewed-porch.yaml")
    words = [text.text for page in pages if page.label[:5] == "cover" for text in texts_of([page])]
    at = words.index("Strips of Porch flight")
    assert words[at + 1] == "tread 1"
    setout = set_out(job)
    plan = plan_sheets(cut_pieces(setout), job.paper)
    before = ("cover", "test", "steps", "newels")
    first = 1 + sum(page.label.split()[0] in before for page in pages)
    on = [n for n, sheet in enumerate(plan.sheets, first) if "tread 1" in " ".join(sheet.names)]
    assert words[at + 2] == in_runs(on)
