"""The cover: what the pack is, what to do first, each section drawn, and how it was checked."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stairjig.drawing import Page, Text, moved
from stairjig.errors import gathered
from stairjig.job.model import TreadsSection
from stairjig.pages.cover.facts import FACTS_WIDTH, Listed, facts_block, tread_list
from stairjig.pages.cover.head import first_panel, first_steps, head
from stairjig.pages.cover.index import paper_advice, sheet_index
from stairjig.pages.cover.key import key
from stairjig.pages.cover.openings import opening_table, verdict_words
from stairjig.pages.cover.order import order_table
from stairjig.pages.elevation.elevation import elevation, elevation_view, kinds_of
from stairjig.pages.elevation.labels import LABEL
from stairjig.pages.elevation.plan_view import has_plan, plan_view
from stairjig.pages.flow import Flow
from stairjig.pages.leaf import Leaf
from stairjig.pages.lines import BODY, lines_in
from stairjig.pages.tables import spread
from stairjig.pages.wording import kind_words

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from stairjig.drawing import Item, Point
    from stairjig.errors import Finding
    from stairjig.lengths import Shown
    from stairjig.pages.cover.index import Contents
    from stairjig.setout.values import SectionSetout, Setout

_BESIDE = 8.0
"""Between a drawing and its figures, mm."""
_TALL, _LOW = 128.0, 92.0
"""How high a drawing may stand, mm, in a pack of one or two sections and of more."""
_FEW, _LOWER = 40.0, 0.8
"""A last page with less on it, mm a section, is spared where drawings of that height do it."""
_TAIL = 150.0
"""What the index, the papers and the key may well take, mm."""
_SMALLER = 0.25
"""How much lower an elevation is made at the most to have the list of treads under it."""
_CAPTION = LABEL * 2.2
_ROW = 5.5
_HEADING = 12.0
_LEAST = 72.0
"""An elevation is not made lower than this to spare the paper, mm."""


def cover_pages(
    setout: Setout,
    leaf: Leaf,
    index: Callable[[int], Contents],
    papers: Sequence[tuple[str, int, int]],
) -> tuple[Page, ...]:
    """Set the cover.

    `index`: by the number of the cover's own pages, what is on which sheet;
    `papers`: (name, sheets of strips, joints) of each paper that the strips can be cut for.
    """
    pages = _indexed(_drawings(setout, leaf, 1.0), setout, index, papers)
    if len(pages) > 1 and filled(pages[-1]) - leaf.margin < _FEW * len(setout.sections):
        lower = _indexed(_drawings(setout, leaf, _LOWER), setout, index, papers)
        return lower if len(lower) < len(pages) else pages
    return pages


def filled(page: Page) -> float:
    """How far down a page is filled, mm."""
    return page.height - min(item.at[1] for item in page.items if isinstance(item, Text))


def _drawings(setout: Setout, leaf: Leaf, share: float) -> Flow:
    """Set all that comes before the index; the drawings stand up to `share` of their height."""
    flow = Flow(leaf, "cover", "Cover")
    head(flow, setout)
    flow.words(purpose(setout))
    flow.space(1.5)
    first_panel(flow, first_steps(setout))
    _standing(flow, setout)
    kinds = kinds_of(setout.sections)
    for section in setout.sections:
        _section(flow, setout, section, kinds, share)
    _warnings(flow, setout.warnings)
    opening_table(flow, setout)
    order_table(flow, setout)
    return flow


def _indexed(
    flow: Flow,
    setout: Setout,
    index: Callable[[int], Contents],
    papers: Sequence[tuple[str, int, int]],
) -> tuple[Page, ...]:
    """Set what follows the drawings, until the index counts the pages that it comes to stand on."""

    def ended(length: int) -> tuple[Page, ...]:
        end = flow.copy()
        sheet_index(end, index(length))
        paper_advice(end, setout, papers)
        key(end)
        return end.pages()

    length = len(flow.done) + (1 if flow.y - flow.leaf.bottom > _TAIL else 2)
    pages = ended(length)
    if len(pages) < length:
        length = len(pages)
        pages = ended(length)
    while len(pages) > length:
        length = len(pages)
        pages = ended(length)
    blank = Page(flow.leaf.width, flow.leaf.height, "cover", "", ())
    return pages + (blank,) * (length - len(pages))


def purpose(setout: Setout) -> str:
    """Say what the pack is for, and for which sections."""
    count = sum(len(section.marks) for section in setout.sections)
    names = ", ".join(f"{section.name} ({kind_words(section)})" for section in setout.sections[:6])
    more = len(setout.sections) - 6
    tail = f" and {more} more sections" if more > 0 else ""
    what = "baluster" if count == 1 else "balusters"
    return (
        f"Paper strips at full scale that mark {count} {what} where they stand and on the "
        f"underside of the rail: {names}{tail}."
    )


def _standing(flow: Flow, setout: Setout) -> None:
    """How the layout stands: its openings and its warnings, in a line each."""
    openings, warnings = verdict_words(setout)
    for name, words in (("Openings", openings), ("Warnings", warnings)):
        flow.words(words, indent=24.0, mark=name)
    flow.space(1.0)


def _section(
    flow: Flow, setout: Setout, section: SectionSetout, kinds: Sequence[str], share: float
) -> None:
    """A section's heading, its drawing with its figures beside it, and its list of treads."""
    shown = setout.job.shown
    figures = facts_block(section, shown, kinds)
    wide, high = drawing_room(flow.leaf, len(setout.sections))
    room = (wide, high * share)
    block = _block(drawn(section, shown, kinds, room), figures, flow.leaf, room)
    left = flow.y - flow.leaf.bottom
    treads = tread_list(setout, section)
    for wanted in (_list_height(treads), 0.0):
        over = block[1] + _HEADING + wanted - left
        if 0 < over < min(room[1] - _LEAST, _SMALLER * room[1] if wanted else room[1]):
            smaller = drawn(section, shown, kinds, (room[0], room[1] - over))
            fitted = _block(smaller, figures, flow.leaf, room)
            block = fitted if fitted[1] + over <= block[1] + 1.0 else block
    flow.heading(section.name, follow=block[1])
    flow.drawing(*block)
    if not _beside(flow.leaf):
        flow.drawing([moved(item, (0.0, figures[1])) for item in figures[0]], figures[1])
    flow.space(2.0)
    if treads:
        _treads(flow, section, treads)


def _list_height(treads: Listed | None) -> float:
    """How high a list of treads stands, with the words over it, mm."""
    return (len(treads[1]) + 1) * _ROW + BODY * 4 if treads else 0.0


def _treads(flow: Flow, section: SectionSetout, treads: Listed) -> None:
    """The list of a section's treads, on one page where it can be."""
    columns, rows = treads
    high = _list_height(treads)
    if high < leaf_height(flow.leaf):
        flow.keep(high)
    flow.words(f"{section.name}: the treads as measured", bold=True)
    flow.space(1.0)
    flow.table(spread(columns, flow.leaf.room), rows, above=f"{section.name}, continued")


def leaf_height(leaf: Leaf) -> float:
    """Find how high a leaf may be filled, mm."""
    return leaf.top - leaf.bottom


def drawing_room(leaf: Leaf, sections: int) -> Point:
    """Find the room for a section's elevation on a leaf, mm."""
    beside = FACTS_WIDTH + _BESIDE if _beside(leaf) else 0.0
    high = _TALL if sections <= 2 else _LOW
    return leaf.room - beside, min(high, leaf_height(leaf) * 0.55)


def drawn(
    section: SectionSetout, shown: Shown, kinds: Sequence[str], room: Point
) -> tuple[tuple[Item, ...], float]:
    """Draw a section in elevation, in plan where it needs one, with a caption.

    `room`: width and height for the elevation, mm. Gives items from a lower left corner and the
    height.
    """
    picture = elevation(section, shown, room, kinds)
    parts = [(picture.items, picture.height)]
    if has_plan(section):
        plan = plan_view(section, elevation_view(section, shown, room), kinds)
        parts.append((plan.items, plan.height + 3.0))
    captions = lines_in(caption(section, picture.scale), LABEL, room[0])
    high = sum(height for _, height in parts) + len(captions) * _CAPTION
    items: list[Item] = []
    y = high
    for part, height in parts:
        y -= height
        items += [moved(item, (0.0, y)) for item in part]
    for line in captions:
        y -= _CAPTION
        items.append(Text(line, (0.0, y + LABEL * 0.6), LABEL))
    return tuple(items), high


def _beside(leaf: Leaf) -> bool:
    """Whether a section's figures stand beside its drawing, or under it on narrow paper."""
    return leaf.room >= 150.0


def _block(
    picture: tuple[Sequence[Item], float],
    figures: tuple[Sequence[Item], float],
    leaf: Leaf,
    room: Point,
) -> tuple[list[Item], float]:
    """A drawing with its figures beside it, their tops level; the drawing alone on narrow paper."""
    if not _beside(leaf):
        return list(picture[0]), picture[1]
    high = max(picture[1], figures[1])
    items = [moved(item, (0.0, high - picture[1])) for item in picture[0]]
    return [*items, *(moved(item, (room[0] + _BESIDE, high)) for item in figures[0])], high


def caption(section: SectionSetout, scale: float) -> str:
    """Say to what scale a drawing is and from where it is seen."""
    kind = section.section
    plan = "; plan below it, from above" if has_plan(section) else ""
    seen = "seen from the open side" if isinstance(kind, TreadsSection) else "elevation"
    return f"1:{scale:g}, {seen}{plan}. Use its figures, never a ruler on it."


def _warnings(flow: Flow, warnings: Sequence[Finding]) -> None:
    """Every warning, by section; those said of several sections in the same words once."""
    if not warnings:
        return
    flow.heading("Warnings")
    for text, sections in gathered(warnings):
        where = f"{', '.join(sections)}: " if sections else ""
        flow.words(f"{where}{text}", indent=6.0, mark="▲")
