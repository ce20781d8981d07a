"""The pipeline: from a job to the bytes of a pack that has been proved."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass

from stairjig import __version__
from stairjig.drawing import Page
from stairjig.errors import Finding, Refusal
from stairjig.job.identity import LAYOUT_VERSION
from stairjig.job.model import Job
from stairjig.pages.boring_card import boring_card_pages
from stairjig.pages.check_page import check_pages
from stairjig.pages.cover import cover_pages
from stairjig.pages.cut_list import cut_list_pages
from stairjig.pages.flow import Leaf, leaf_of, numbered
from stairjig.pages.inspector import inspector_pages
from stairjig.pages.newel_sheet import newel_sheet_pages
from stairjig.pages.steps import steps_pages
from stairjig.pages.test_sheet import test_sheet_pages
from stairjig.pdf import write_pdf
from stairjig.pieces.build import cut_pieces
from stairjig.proof.prove import prove
from stairjig.setout.build import set_out
from stairjig.setout.values import Setout
from stairjig.sheets.advice import PaperCount, advice, plan_or_explain
from stairjig.sheets.plan import Sheet, SheetPlan, sheet_items

JOB_FILE, PACK_FILE = "job.yaml", "pack.json"
"""The names under which a pack carries its job and what it was made with."""


@dataclass(frozen=True, slots=True)
class Pack:
    """A finished pack: its bytes, and what there is to say of it."""

    data: bytes
    setout: Setout
    papers: tuple[PaperCount, ...]
    sheets: int


def make_pack(job: Job, proof: bool = True) -> Pack:
    """Set the job out, draw it, prove it.

    Raises `BadInput` for measures that make no stair, `Refusal` for a layout that fails, for paper
    that it can't be cut for, and for a pack that does not say what the layout says.
    """
    setout = set_out(job)
    if not setout.passes:
        raise Refusal(*refusals(setout))
    pieces = cut_pieces(setout)
    plan = plan_or_explain(pieces, job.paper)
    papers = advice(pieces, plan)
    pages = compose(setout, plan, papers)
    data = write_pdf(pages, job.title, attachments(job), setout.pack_id, job.units)
    if proof:
        faults = prove(data, setout)
        if faults:
            raise Refusal(*faults)
    return Pack(data, setout, papers, len(pages))


def refusals(setout: Setout) -> tuple[Finding, ...]:
    """Why a layout is refused, and the smallest changes that would mend it."""
    mends = [Finding("change", change.section, change.words) for change in setout.changes]
    return (*setout.failures, *mends)


def attachments(job: Job) -> dict[str, bytes]:
    """What the pack carries so that it opens again as its own job."""
    made = {
        "stairjig": __version__,
        "layout": LAYOUT_VERSION,
        "paper": job.paper.name,
        "only": None,
        "printer": None,
    }
    return {JOB_FILE: job.source, PACK_FILE: json.dumps(made, indent=1).encode()}


def compose(setout: Setout, plan: SheetPlan, papers: Sequence[PaperCount]) -> tuple[Page, ...]:
    """Every page in order: cover, test sheet, steps, newels, strips, then what is filled in."""
    leaf = leaf_of(setout.job.paper)
    before = [
        *test_sheet_pages(setout, leaf),
        *steps_pages(setout, leaf),
        *newel_sheet_pages(setout, leaf),
    ]
    after = [
        *check_pages(setout, leaf),
        *inspector_pages(setout, leaf),
        *boring_card_pages(setout, leaf),
        *cut_list_pages(setout, leaf),
    ]
    cover = _cover(setout, leaf, before, plan, after, papers)
    first = len(cover) + len(before)
    of = first + len(plan.sheets) + len(after)
    title, pack = setout.job.title, setout.pack_id
    strips = [
        _strip_page(setout, plan, sheet, first + number, of)
        for number, sheet in enumerate(plan.sheets, start=1)
    ]
    return (
        *numbered([*cover, *before], title, pack, 1, of),
        *strips,
        *numbered(after, title, pack, first + len(strips) + 1, of),
    )


def _cover(
    setout: Setout,
    leaf: Leaf,
    before: Sequence[Page],
    plan: SheetPlan,
    after: Sequence[Page],
    papers: Sequence[PaperCount],
) -> tuple[Page, ...]:
    """The cover, whose index counts its own pages, too."""
    counts = [(paper.name, paper.sheets, paper.joints) for paper in papers]
    length, cover = 1, ()  # type: int, tuple[Page, ...]
    while len(cover) != length:
        length = len(cover) or 1
        cover = cover_pages(setout, leaf, _index(length, before, plan, after), counts)
    return cover


def _index(
    covers: int, before: Sequence[Page], plan: SheetPlan, after: Sequence[Page]
) -> list[tuple[str, str]]:
    """Sheet numbers and what is on them; a title's pages stand together."""
    rows = [(1, "cover")]
    rows += [(covers + n, page.title) for n, page in enumerate(before, start=1)]
    first = covers + len(before)
    rows += [(first + n, ", ".join(sheet.names)) for n, sheet in enumerate(plan.sheets, start=1)]
    first += len(plan.sheets)
    rows += [(first + n, page.title) for n, page in enumerate(after, start=1)]
    kept = [row for row in rows if row[1]]
    ends = [number - 1 for number, _ in kept[1:]] + [first + len(after)]
    return [
        (str(start) if end == start else f"{start} to {end}", what)
        for (start, what), end in zip(kept, ends, strict=True)
    ]


def _strip_page(setout: Setout, plan: SheetPlan, sheet: Sheet, number: int, of: int) -> Page:
    names = ", ".join(sheet.names)
    words = f"sheet {number} of {of} · pack {setout.pack_id} · {setout.job.title} · {names}"
    items = sheet_items(sheet, plan.paper, setout.job.shown, [words])
    return Page(sheet.width, sheet.height, str(number), f"Sheet {number}: {names}", items)
