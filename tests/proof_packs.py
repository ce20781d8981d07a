"""Small packs for the proof's tests, and ways to change what is drawn in them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache
from io import BytesIO
from math import dist

from packs import FLIGHT, PLAIN, job_of
from pypdf import PdfReader, PdfWriter
from pypdf.generic import DecodedStreamObject, NameObject

from stairjig.drawing import Ellipse, Item, Page, Pen, Run, Stroke, Text, moved
from stairjig.pack import compose
from stairjig.pdf import write_pdf
from stairjig.pieces.build import cut_pieces
from stairjig.proof.expected import expected_pieces
from stairjig.proof.prove import prove
from stairjig.setout.build import set_out
from stairjig.setout.values import Setout
from stairjig.sheets.plan import plan_sheets

Items = tuple[Item, ...]
Change = Callable[[list[Item]], list[Item]]
BALUSTER = (
    "plain: {shape: square, width: 5/8, tread_hole: {size: 11/16, depth: 1}, "
    "rail_hole: {size: 11/16, depth: 3/4}}"
)
RAIL, TREAD, LAST = "Flight · rail", "Flight · tread 2", "Flight · tread 3"


def flight_text(**changes: str) -> str:
    """A flight of three treads, its upper newel standing on the last one."""
    own = {"baluster": BALUSTER, "upper": "{face: -4}", "treads": "{run: 10 1/4, times: 3}"}
    return FLIGHT.format(**{**PLAIN, **own, **changes})


@cache
def flight(paper: str = "letter", **changes: str) -> Setout:
    """That flight set out."""
    return set_out(job_of(flight_text(**changes), paper))


@cache
def whole(setout: Setout) -> tuple[Page, ...]:
    """The pages of its pack that are proved: the test sheet, the strips, the check page."""
    pages = compose(setout, plan_sheets(cut_pieces(setout), setout.job.paper), [])
    return tuple(page for page in pages if page.label.split()[0] in ("test", "check") or runs(page))


def runs(page: Page) -> list[int]:
    """Where the tiles stand among a page's items."""
    return [n for n, item in enumerate(page.items) if isinstance(item, Run)]


def written(pages: tuple[Page, ...]) -> bytes:
    """Pages as a PDF."""
    return write_pdf(pages, "strips", {})


def found(pages: tuple[Page, ...], setout: Setout, **kwargs: object) -> list[str]:
    """What the proof says of them, as of a reprint of every strip: other pages may lack."""
    return said_of(written(pages), setout, **kwargs)


def said_of(data: bytes, setout: Setout, **kwargs: object) -> list[str]:
    """What the proof says of a PDF of them."""
    kwargs = {"only": {piece.name for piece in expected_pieces(setout)}, **kwargs}
    return [finding.text for finding in prove(data, setout, **kwargs)]  # type: ignore[arg-type]


def place_of(pages: tuple[Page, ...], strip: str, part: int = 0, says: str = "") -> tuple[int, int]:
    """The page and the place on it of a strip's `part`th tile, of those that say something."""
    places = [
        (number, n)
        for number, page in enumerate(pages)
        for n in runs(page)
        if {strip, says or strip} <= {t.text for t in page.items[n].items if isinstance(t, Text)}  # type: ignore[union-attr]
    ]
    return places[part]


def with_page(pages: tuple[Page, ...], number: int, items: Items) -> tuple[Page, ...]:
    """The pages with other items on one of them."""
    return (*pages[:number], replace(pages[number], items=items), *pages[number + 1 :])


def changed(
    strip: str, change: Change, part: int = 0, says: str = "", setout: Setout | None = None
) -> list[str]:
    """What the proof says when the items of one tile go through `change`."""
    setout = setout or flight()
    pages = tuple(page for page in whole(setout) if runs(page))
    number, n = place_of(pages, strip, part, says)
    return found(with_tile(pages, number, n, change), setout)


def with_tile(pages: tuple[Page, ...], number: int, n: int, change: Change) -> tuple[Page, ...]:
    """The pages with one tile's items changed."""
    page = pages[number]
    run = page.items[n]
    assert isinstance(run, Run)
    items = change(list(run.items))
    assert items != list(run.items), "nothing was changed"
    changed_run = replace(run, items=tuple(items))
    return with_page(pages, number, (*page.items[:n], changed_run, *page.items[n + 1 :]))


def reprinted(
    strip: str, change: Change, part: int = 0, says: str = "", setout: Setout | None = None
) -> list[str]:
    """As `changed`, for the one sheet printed again that holds the tile."""
    setout = setout or flight()
    pages = whole(setout)
    number, n = place_of(pages, strip, part, says)
    assert _alone(setout, number) == []
    return found((with_tile(pages, number, n, change)[number],), setout, part=True)


@cache
def _alone(setout: Setout, number: int) -> list[str]:
    """What the proof says of one sheet as it is."""
    return found((whole(setout)[number],), setout, part=True)


def with_content(data: bytes, number: int, change: Callable[[bytes], bytes]) -> bytes:
    """The PDF with the content of one page changed."""
    writer = PdfWriter(clone_from=PdfReader(BytesIO(data)))
    page = writer.pages[number]
    before = page.get_contents().get_data()  # type: ignore[union-attr]
    after = change(before)
    assert after != before, "nothing was changed"
    stream = DecodedStreamObject()
    stream.set_data(after)
    page[NameObject("/Contents")] = writer._add_object(stream)
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


def crosses_of(items: list[Item]) -> list[int]:
    """Indices of the first stroke of every mark's cross: registration marks follow a circle."""
    places, skip = [], 0
    for n, item in enumerate(items):
        if isinstance(item, Ellipse) and item.pen is Pen.THIN:
            skip = 2
        elif isinstance(item, Stroke) and item.pen is Pen.CROSS and dist(*item.points) > 8.0:
            if skip:
                skip -= 1
            elif not places or n != places[-1] + 1:
                places.append(n)
    return places


def shift_mark(by: tuple[float, float]) -> Change:
    """Move the first mark's cross."""

    def change(items: list[Item]) -> list[Item]:
        at = crosses_of(items)[0]
        return [moved(item, by) if at <= n < at + 2 else item for n, item in enumerate(items)]

    return change


def shift_pen(pen: Pen, by: tuple[float, float], first: bool = False) -> Change:
    """Move every stroke and ellipse drawn with a pen, or the first one."""

    def change(items: list[Item]) -> list[Item]:
        places = [n for n, item in enumerate(items) if getattr(item, "pen", None) is pen]
        places = places[:1] if first else places
        return [moved(item, by) if n in places else item for n, item in enumerate(items)]

    return change


def drop_pen(pen: Pen) -> Change:
    """Leave out what is drawn with a pen."""
    return lambda items: [item for item in items if getattr(item, "pen", None) is not pen]


def twice_pen(pen: Pen, by: tuple[float, float]) -> Change:
    """Draw the first stroke of a pen once more, moved."""

    def change(items: list[Item]) -> list[Item]:
        first = next(item for item in items if getattr(item, "pen", None) is pen)
        return [items[0], moved(first, by), *items[1:]]

    return change


def reworded(old: str, new: str, count: int = 1) -> Change:
    """Say something else in the first words that hold `old`; other words may stay."""

    def change(items: list[Item]) -> list[Item]:
        out, left = [], count
        for item in items:
            if isinstance(item, Text) and old in item.text and left:
                item, left = replace(item, text=item.text.replace(old, new)), left - 1
            out.append(item)
        return out

    return change


def unsaid(words: str) -> Change:
    """Leave out the words that hold some, line by line."""
    return lambda items: [i for i in items if not (isinstance(i, Text) and words in i.text)]


def said_too(text: str, beside: str, by: tuple[float, float] = (0.0, 8.0)) -> Change:
    """Say something more, near the words `beside`."""

    def change(items: list[Item]) -> list[Item]:
        near = next(i for i in items if isinstance(i, Text) and i.text == beside)
        return [*items, replace(moved(near, by), text=text)]  # type: ignore[type-var]

    return change
