"""The proof looks at the sheets, too: what can be seen, what lies where, bars, check page."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace

import pytest
from proof_packs import (
    TREAD,
    changed,
    flight,
    found,
    place_of,
    reworded,
    runs,
    said_of,
    whole,
    with_content,
    with_page,
    with_tile,
    written,
)

from stairjig.drawing import Ellipse, Fill, Page, Pen, Run, Stroke, Text, moved


def mine() -> tuple[tuple[Page, ...], int, int]:
    """The pages, the one that a tread's tile is on, the tile's place there."""
    pages = whole(flight())
    return pages, *place_of(pages, TREAD)


def box_of(item: object) -> tuple[float, float, float, float]:
    """A tile's outline: left, bottom, right, top."""
    assert isinstance(item, Run)
    us, vs = zip(*item.items[0].points, strict=True)  # type: ignore[union-attr]
    return min(us), min(vs), max(us), max(vs)


def on_page(change: Callable[[tuple], tuple], kind: str = "") -> list[str]:  # type: ignore[type-arg]
    """What is said when the items of a page go through `change`, of the tread's or of a `kind`."""
    pages, number, _ = mine()
    if kind:
        number = next(n for n, page in enumerate(pages) if page.label.split()[0] == kind)
    items = change(pages[number].items)
    assert items != pages[number].items
    return found(with_page(pages, number, items), flight())


@pytest.mark.parametrize("by", [(-14.0, 0.0), (0.0, -300.0), (150.0, 0.0)])
def test_a_tile_off_the_page_or_in_the_margin_is_told(by: tuple[float, float]) -> None:
    said = changed(TREAD, lambda items: [moved(item, by) for item in items])
    assert any("into the margin or off the page" in text for text in said), said


def test_a_tile_over_another_one_is_told() -> None:
    pages, number, n = next(
        (whole(flight()), number, runs(page)[1])
        for number, page in enumerate(whole(flight()))
        if len(runs(page)) > 1
    )
    first = box_of(pages[number].items[runs(pages[number])[0]])
    other = box_of(pages[number].items[n])
    by = (first[2] - other[0] - 2.0, first[1] - other[1])
    pages = with_tile(pages, number, n, lambda items: [moved(item, by) for item in items])
    assert any("lie over each other" in text for text in found(pages, flight()))


def test_what_is_white_is_told() -> None:
    def faint_name(items):  # type: ignore[no-untyped-def]
        return [replace(i, grey=0.9) if getattr(i, "text", "") == "2-1" else i for i in items]

    def faint_line(items):  # type: ignore[no-untyped-def]
        return [
            replace(i, pen=Pen.FAINT) if getattr(i, "pen", None) is Pen.BASE else i for i in items
        ]

    assert any("'2-1' is not black" in text for text in changed(TREAD, faint_name))
    assert any("a line is not black" in text for text in changed(TREAD, faint_line))


@pytest.mark.parametrize("later", [True, False])
@pytest.mark.parametrize("grey", [1.0, 0.0])
def test_a_fill_over_a_tile_is_told(later: bool, grey: float) -> None:
    pages, number, n = mine()
    left, low, right, top = box_of(pages[number].items[n])
    cover = Fill(((left, low), (right, low), (right, top), (left, top)), grey)
    items = pages[number].items
    items = (*items, cover) if later else (cover, *items)
    said = found(with_page(pages, number, items), flight())
    assert any("no part of it lies on the tile" in text for text in said), said
    inside = changed(TREAD, lambda items: [*items, Fill(cover.points[:3], grey)])
    assert any("a shape is filled" in text for text in inside)


@pytest.mark.parametrize(
    ("code", "says"),
    [
        (b"0 0 1 1 re W n", "clips"),
        (b"/G0 gs", "how clear ink is"),
        (b"3 Tr", "a tile without a name"),
        (b"1 Tr", "not filled"),
        (b"50 Tz", "squeezed"),
        (b"4 Tc", "spaced"),
        (b"1 g", "is not black"),
        (b"1 G", "a line is not black"),
        (b"0.1 w", "too thin"),
        (b"0.99 0 0.1 1 0 0 cm", "outline"),
        (b"1.001 0 0 1 0 0 cm", "outline"),
        (b"1.001 0 0 1 0 0 cm", "stretch one way"),
        (b"7 Tr", "clips"),
        (b"[8 8] 0 d", "dashes are those of no line"),
        (b"[8 8] 3 d", "begin with a part"),
    ],
)
def test_what_the_content_stream_can_hide_is_told(code: bytes, says: str) -> None:
    """Set where the tile begins; what it then sets for itself is set after that."""
    pages, number, _ = mine()
    state = (b" g", b" G", b" w", b" d")

    def change(content: bytes) -> bytes:
        if not code.endswith(state):
            return content.replace(b"/Tile BMC", b"/Tile BMC\n" + code, 1)
        head, tile = content.split(b"/Tile BMC", 1)
        dashes = re.findall(rb"\[[0-9. ]+\] 0 d", tile)[0]
        before = {b" g": b"0 g", b" G": b"0 G", b" w": b" w", b" d": dashes}[code[-2:]]
        if code.endswith(b" w"):
            first = next(token for token in tile.split() if token.replace(b".", b"").isdigit())
            return head + b"/Tile BMC" + tile.replace(first + before, code, 1)
        return head + b"/Tile BMC" + tile.replace(before, code, 1)

    said = said_of(with_content(written(pages), number, change), flight())
    assert any(says in text for text in said), said[:3]


def test_a_mark_moved_in_the_bytes_is_told() -> None:
    """The last digits of a cross's own numbers, in the stream itself."""
    pages, number, n = mine()
    run = pages[number].items[n]
    assert isinstance(run, Run)
    stroke = next(i for i in run.items if isinstance(i, Stroke) and i.pen is Pen.CROSS)
    at = [f"{length * 72 / 25.4:.5f}" for point in stroke.points for length in point]
    old = f"{at[0]} {at[1]} m {at[2]} {at[3]} l".encode()
    away = f"{float(at[1]) + 0.142:.5f}"
    new = f"{at[0]} {away} m {at[2]} {away} l".encode()
    data = with_content(written(pages), number, lambda content: content.replace(old, new, 1))
    assert any("mark 2-1" in text for text in said_of(data, flight()))


def test_bars_that_are_wrong_missing_or_not_explained_are_told() -> None:
    def is_bar(item: object) -> bool:
        return isinstance(item, Stroke) and item.pen is Pen.RULE

    def shorter(items: tuple) -> tuple:  # type: ignore[type-arg]
        longest = max(
            (i for i in items if is_bar(i)), key=lambda i: i.points[1][1] - i.points[0][1]
        )
        ends = (longest.points[0], (longest.points[1][0], longest.points[1][1] - 0.05))
        return tuple(replace(i, points=ends) if i is longest else i for i in items)

    def without(pick: Callable[[object], bool]) -> Callable[[tuple], tuple]:  # type: ignore[type-arg]
        return lambda items: tuple(i for i in items if not pick(i))

    def tick(items: tuple) -> tuple:  # type: ignore[type-arg]
        first = next(i for i in items if isinstance(i, Stroke) and i.pen is Pen.THIN)
        return tuple(moved(i, (0.05, 0.05)) if i is first else i for i in items)

    def misread(items: tuple) -> tuple:  # type: ignore[type-arg]
        return tuple(reworded("bar ", "bar 1")(list(items)))

    for kind in ("", "test"):
        assert any("bar" in text for text in on_page(shorter, kind))
        assert any("bar" in text for text in on_page(without(is_bar), kind))
        assert any("does not say 'bar" in text or "· bar" in text
                   for text in on_page(misread, kind))  # fmt: skip
    assert any("the scale bar" in text for text in on_page(tick))
    bands = without(lambda i: isinstance(i, Text) and "use this sheet only" in i.text)
    assert any("use this sheet only" in text for text in on_page(bands))


def test_a_sheet_says_which_it_is_and_what_is_on_it() -> None:
    def renumbered(items: tuple) -> tuple:  # type: ignore[type-arg]
        return tuple(reworded("sheet 1", "sheet 4")(list(items)))

    assert on_page(renumbered)
    pages = whole(flight())
    number, page = next((n, page) for n, page in enumerate(pages) if len(runs(page)) > 1)
    items = tuple(item for n, item in enumerate(page.items) if n != runs(page)[0])
    alone = (with_page(pages, number, items)[number],)
    assert found((page,), flight(), part=True) == []
    said = found(alone, flight(), part=True)
    assert any("it says of itself" in text for text in said), "a tile is missing on a reprint"


def test_lines_and_words_that_are_none_of_a_sheets_own_are_told() -> None:
    pages, number, n = mine()
    left, low, right, top = box_of(pages[number].items[n])
    middle = ((left + right) / 2, (low + top) / 2)
    for item in (
        Text("3-1", middle, 5.0),
        Ellipse(middle, 5.0, 5.0, Pen.THIN),
        Stroke((middle, (middle[0], top)), Pen.CROSS),
    ):
        said = on_page(lambda items, item=item: (*items, item))
        assert any("no part of it lies on the tile" in text for text in said), item


def test_paper_of_another_size_is_told() -> None:
    pages, number, _ = mine()
    narrow = replace(pages[number], width=pages[number].width - 1.0)
    said = found((*pages[:number], narrow, *pages[number + 1 :]), flight())
    assert any("its paper is" in text for text in said)


@pytest.mark.parametrize(
    ("old", "new"), [("4 1/4″", "4 3/8″"), ("1-2", "1-3"), ("total", "sum"), ("0", "1″")]
)
def test_wrong_figures_on_the_check_page_are_told(old: str, new: str) -> None:
    def change(items: tuple) -> tuple:  # type: ignore[type-arg]
        first = next(i for i in items if isinstance(i, Text) and i.text == old)
        return tuple(replace(i, text=new) if i is first else i for i in items)

    assert any("check page" in text for text in on_page(change, "check"))


def test_a_check_page_may_be_printed_again_alone() -> None:
    pages = whole(flight())
    check = tuple(page for page in pages if page.label.split()[0] == "check")
    assert found(check[:1], flight(), part=True) == []
