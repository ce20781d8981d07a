"""The pipeline: from a job to the bytes of a pack that has been proved."""

from __future__ import annotations

import json
from collections.abc import Collection, Sequence
from dataclasses import replace

from stairjig import __version__
from stairjig.drawing import Page, Run, scaled
from stairjig.errors import BadInput, Finding, Problem, Refusal, together
from stairjig.frozen import frozen
from stairjig.job.identity import LAYOUT_VERSION
from stairjig.job.model import Job
from stairjig.pages.boring_card import boring_pages
from stairjig.pages.check_page import check_pages
from stairjig.pages.cover.cover import cover_pages
from stairjig.pages.cover.index import Contents
from stairjig.pages.cut_list import cut_list_pages
from stairjig.pages.inspector import inspector_pages
from stairjig.pages.leaf import Leaf, leaf_of, numbered
from stairjig.pages.newel_sheet import newel_pages
from stairjig.pages.steps.steps import steps_pages
from stairjig.pages.test_sheet import test_sheet_pages
from stairjig.pdf import DRAWN_WITH, write_pdf
from stairjig.pieces.build import cut_pieces
from stairjig.pieces.selection import chosen
from stairjig.progress import Tell, told, untold
from stairjig.setout.build import set_out
from stairjig.setout.values import Setout
from stairjig.sheets.advice import PaperCount, advice, plan_or_explain
from stairjig.sheets.drawn import Where, sheet_items, tile_sheets
from stairjig.sheets.plan import Sheet, SheetPlan
from stairjig.wanted import JOB_FILE, PACK_FILE, WHOLE, Wanted


@frozen
class Pack:
    """A finished pack: its bytes, and what there is to say of it."""

    data: bytes
    setout: Setout
    papers: tuple[PaperCount, ...]
    sheets: int


def make_pack(job: Job, wanted: Wanted = WHOLE, proof: bool = True, tell: Tell = untold) -> Pack:
    """Set the job out, draw what is wanted of it, prove it; `tell` hears how far that is.

    Raises `BadInput` for measures that make no stair or a selection that is not there, `Refusal`
    for a layout that fails, for paper that it can't be cut for, and for a pack that does not say
    what the layout says.
    """
    tell("setting out", 0, 0)
    setout = set_out(job)
    if not setout.passes:
        raise Refusal(*refusals(setout))
    only, pack = _drawn(setout, wanted, tell)
    if proof:  # by now the pages' memory is free again
        from stairjig.proof.prove import prove

        faults = prove(pack.data, setout, only, wanted.scale, wanted.sheet is not None, tell=tell)
        if faults:
            raise Refusal(*faults)
    return pack


def _drawn(setout: Setout, wanted: Wanted, tell: Tell) -> tuple[Collection[str] | None, Pack]:
    """The pack that is still to be proved, and the strips that it is to hold, all where None."""
    job = setout.job
    tell("planning joints and sheets", 0, 0)
    pieces = cut_pieces(setout)
    plan = plan_or_explain(pieces, job.paper, job.shown)
    papers = advice(pieces, plan)
    only = chosen(pieces, wanted.only) if wanted.only else None
    pages = selected(compose(setout, plan, papers, wanted, only, tell), wanted, only)
    if wanted.printer:
        pages = tuple(scaled(page, *wanted.scale) for page in pages)
    files = attachments(job, wanted)
    data = write_pdf(pages, job.title, files, setout.pack_id, job.units, tell)
    return only, Pack(data, setout, papers, len(pages))


def refusals(setout: Setout) -> tuple[Finding, ...]:
    """Why a layout is refused, and the smallest changes that would mend it."""
    mends = [Finding("change", change.section, change.words) for change in setout.changes]
    return (*together(setout.failures), *mends)


def made_with() -> dict[str, str | int]:
    """What draws a pack here: packs of one job made with the same look the same."""
    return {"stairjig": __version__, "layout": LAYOUT_VERSION, "drawing": DRAWN_WITH}


def attachments(job: Job, wanted: Wanted) -> dict[str, bytes]:
    """What the pack carries so that it opens again as its own job."""
    made = {**made_with(), "paper": job.paper.name, **wanted.document()}
    return {JOB_FILE: job.source, PACK_FILE: json.dumps(made, indent=1).encode()}


@frozen
class _Numbers:
    """How the sheets of a pack are counted and what each says of itself."""

    setout: Setout
    of: int
    notes: tuple[str, ...]
    where: Where

    def strip(
        self, plan: SheetPlan, sheet: Sheet, number: int, only: Collection[str] | None
    ) -> Page:
        """A sheet of strips; of a selection only the tiles that are in it."""
        kept = tuple(t for t in sheet.tiles if only is None or t.tile.piece.name in only)
        sheet = replace(sheet, tiles=kept)
        names = ", ".join(sheet.names)
        title = f"{self.setout.job.title} · {names}"
        words = [f"sheet {number} of {self.of}", f"pack {self.setout.pack_id}", *self.notes, title]
        items = sheet_items(sheet, plan.paper, self.setout.job.shown, words, self.where)
        return Page(sheet.width, sheet.height, str(number), f"Sheet {number}: {names}", items)

    def pages(self, pages: Sequence[Page], first: int) -> tuple[Page, ...]:
        """Other pages with their foot."""
        title = " · ".join([*self.notes, self.setout.job.title])
        margin = float(self.setout.job.paper.margin.mm)
        return numbered(pages, title, self.setout.pack_id, first, self.of, margin)


def compose(
    setout: Setout,
    plan: SheetPlan,
    papers: Sequence[PaperCount],
    wanted: Wanted = WHOLE,
    only: Collection[str] | None = None,
    tell: Tell = untold,
) -> tuple[Page, ...]:
    """Every page in order: cover, test sheet, steps, newels, strips, then what is filled in."""
    leaf = leaf_of(setout.job.paper)
    before = [
        *test_sheet_pages(setout, leaf),
        *steps_pages(setout, leaf),
        *newel_pages(setout, leaf),
    ]
    after = [
        *check_pages(setout, leaf),
        *inspector_pages(setout, leaf),
        *boring_pages(setout, leaf),
        *cut_list_pages(setout, leaf),
    ]
    cover = _cover(setout, leaf, before, plan, after, papers)
    first = len(cover) + len(before)
    of = first + len(plan.sheets) + len(after)
    numbers = _Numbers(setout, of, _notes(wanted), tile_sheets(plan, first + 1))
    sheets = told(tell, "placing words, sheet", plan.sheets)
    strips = [
        numbers.strip(plan, sheet, number, only)
        for number, sheet in enumerate(sheets, start=first + 1)
    ]
    return (
        *numbers.pages([*cover, *before], 1),
        *strips,
        *numbers.pages(after, first + len(strips) + 1),
    )


def _notes(wanted: Wanted) -> tuple[str, ...]:
    """What every sheet says of a reprint and of a printer's correction."""
    notes = ["REPRINT"] if wanted.reprint else []
    if wanted.printer:
        across, along = ((factor - 1) * 100 for factor in wanted.scale)
        notes.append(
            f"only for printer {wanted.printer.name}: drawn {along:+.2f} % along, "
            f"{across:+.2f} % across"
        )
    return tuple(notes)


def selected(
    pages: Sequence[Page], wanted: Wanted, only: Collection[str] | None
) -> tuple[Page, ...]:
    """The pages of a reprint: a sheet by its number, or the sheets that hold chosen strips.

    Raises `BadInput` for a sheet that there is not.
    """
    if wanted.sheet is not None:
        if not 1 <= wanted.sheet <= len(pages):
            text = f"there is no sheet {wanted.sheet}"
            raise BadInput(Problem(text, f"the pack has sheets 1 to {len(pages)}"))
        pages = [pages[wanted.sheet - 1]]
    if only is not None:
        pages = [page for page in pages if any(isinstance(item, Run) for item in page.items)]
        if not pages:
            raise BadInput(Problem("none of the strips asked for is on that sheet"))
    return tuple(pages)


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
    return cover_pages(setout, leaf, lambda length: _index(length, before, plan, after), counts)


def _index(covers: int, before: Sequence[Page], plan: SheetPlan, after: Sequence[Page]) -> Contents:
    """What is on which sheet; a page without a title goes on with the one before it."""
    first = covers + len(before)
    pages: dict[str, list[int]] = {"Cover": list(range(1, covers + 1))}
    title = ""
    later = first + len(plan.sheets)
    for number, page in (*enumerate(before, covers + 1), *enumerate(after, later + 1)):
        title = page.title or title
        pages.setdefault(title, []).append(number)
    sheets = tile_sheets(plan, first + 1).sheets
    strips: dict[str, list[int]] = {}
    for name, index in sorted(sheets, key=lambda tile: (sheets[tile[0], 0], tile)):
        strips.setdefault(name, []).append(sheets[name, index])
    return Contents(pages, strips)
