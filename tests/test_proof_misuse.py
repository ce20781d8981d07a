"""The proof refuses what would be read, laid or cut wrongly, though every mark is in its place."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from io import BytesIO
from math import dist

import pytest
from packs import job_of
from proof_packs import (
    LAST,
    RAIL,
    TREAD,
    changed,
    flight,
    flight_text,
    found,
    place_of,
    reprinted,
    reworded,
    runs,
    said_of,
    unsaid,
    whole,
    with_content,
    with_page,
    written,
)
from pypdf import PdfReader, PdfWriter
from pypdf.generic import NameObject, StreamObject

from stairjig.drawing import Fill, Page, Stroke, Text, moved
from stairjig.setout.build import set_out
from stairjig.type import width

Changed = Callable[[list], list]  # type: ignore[type-arg]


def where(words: str, change: Callable[[Text], Text]) -> Changed:
    """Change the texts that hold some words."""
    return lambda items: [
        change(item) if isinstance(item, Text) and words in item.text else item for item in items
    ]


def turned(text: Text) -> Text:
    """The words upside down, where they were."""
    long = width(text.text, text.size, text.bold)
    back = {"start": 0.0, "middle": long / 2, "end": long}[text.anchor]
    far, up = (-text.size, long - back) if text.angle else (long - back, text.size)
    at = (text.at[0] + far, text.at[1] + up)
    return replace(text, at=at, angle=text.angle + 180, anchor="start")


@pytest.mark.parametrize(
    ("strip", "words", "by"),
    [
        (TREAD, "this face up", (400.0, 0.0)),
        (TREAD, "↑ up", (0.0, -500.0)),
        (RAIL, "pack", (80.0, 0.0)),
        (RAIL, "this face down", (0.0, 400.0)),
    ],
)
def test_words_beyond_the_cut_outline_are_not_said(
    strip: str, words: str, by: tuple[float, float]
) -> None:
    """Off the page, off the strip, or half over its edge: who cuts it out does not have them."""
    said = reprinted(strip, where(words, lambda text: moved(text, by)))  # type: ignore[arg-type, return-value]
    assert any(f"{words}" in text and "beyond the tile's cut outline" in text for text in said)


@pytest.mark.parametrize(
    ("strip", "words"),
    [(TREAD, "this face up"), (TREAD, "↑ up the stair"), (RAIL, "up"), (TREAD, "OPEN SIDE")],
)
def test_words_and_arrows_turned_about_are_told(strip: str, words: str) -> None:
    said = reprinted(strip, where(words, turned))
    assert said
    assert all("turned another way" in text for text in said), said


def test_an_arrow_up_the_stair_never_lies_across() -> None:
    across = where("↑", lambda text: replace(text, angle=90))
    assert any("turned another way" in text for text in reprinted(TREAD, across))


@pytest.mark.parametrize("grey", [1.0, 0.0])
@pytest.mark.parametrize("kind", ["test", "check"])
def test_a_shape_over_a_page_to_work_from_is_told(kind: str, grey: float) -> None:
    """White or dark, over its words or over its lines alone; and dark ones under its words."""
    pages = whole(flight())
    number = next(n for n, page in enumerate(pages) if page.label.split()[0] == kind)
    page = pages[number]

    def over(at: tuple[float, float]) -> Fill:
        left, low, right, top = at[0] - 3, at[1] - 3, at[0] + 3, at[1] + 3
        return Fill(((left, low), (right, low), (right, top), (left, top)), grey)

    line = max((i for i in page.items if isinstance(i, Stroke)), key=lambda i: dist(*i.points[:2]))
    words = next(i for i in page.items if isinstance(i, Text) and len(i.text) > 10)
    items = [(*page.items, over(line.points[0])), (*page.items, over(words.at))]
    items += [] if grey else [(over(words.at), *page.items)]
    for changed_items in items:
        said = found(with_page(pages, number, changed_items), flight())
        assert any("a shape lies over" in text or "too pale" in text for text in said), said


@pytest.mark.parametrize("code", [b"1 G 2 w", b"0 G 60 w"])
@pytest.mark.parametrize("kind", ["test", "check"])
def test_a_line_that_covers_a_page_is_told(kind: str, code: bytes) -> None:
    pages = whole(flight())
    number = next(n for n, page in enumerate(pages) if page.label.split()[0] == kind)
    cover = code + b" 30 30 m 500 700 l S\n"
    said = said_of(with_content(written(pages), number, lambda old: old + cover), flight())
    assert any("thick" in text or "too pale" in text for text in said), said


@pytest.mark.parametrize(
    ("strip", "old", "new"),
    [
        (TREAD, "don't cut", "cut here!"),
        (TREAD, "don't cut", "cut it"),
        (TREAD, "stop", "go on"),
        (TREAD, "against", "away from"),
        (RAIL, "else stop", "else go on"),
        (RAIL, "blank", "printed"),
        (RAIL, "don't cut", "cut here!"),
        (RAIL, "lower end", "upper end"),
        (RAIL, "measure it", "cut it"),
        (RAIL, "zero is", "zero is not"),
        (RAIL, "riser 1", "top riser"),
        (RAIL, "goes on here", "goes under here"),
        (RAIL, "LAP", "CUT OFF"),
        (LAST, "upper newel", "lower newel"),
        (LAST, "CUT OUT", "don't cut"),
    ],
)
def test_orders_turned_into_others_are_told(strip: str, old: str, new: str) -> None:
    """On whichever of its tiles they stand: a strip says nothing but its own words."""
    part = next(n for n in range(9) if any(old in text for text in _texts(strip, n)))
    said = reprinted(strip, reworded(old, new), part)
    assert any("which the layout does not" in text for text in said), said


def _texts(strip: str, part: int) -> list[str]:
    pages = tuple(page for page in whole(flight()) if runs(page))
    number, n = place_of(pages, strip, part)
    return [i.text for i in pages[number].items[n].items if isinstance(i, Text)]  # type: ignore[union-attr]


def test_what_the_line_is_measured_from_may_not_be_another() -> None:
    setout = flight(more=", line_from: string", side="right", upper="gap")
    said = changed(TREAD, reworded("the string", "the wall"), setout=setout)
    assert any("from the wall" in text for text in said), said
    riser = reworded("of tread 3", "of tread 1")
    assert any("riser of tread 1" in text for text in changed(TREAD, riser, setout=setout))


def test_names_of_risers_and_ends_stay_with_their_strokes() -> None:
    setout = flight("roll 24", upper="gap")

    def swap(items: list) -> list:  # type: ignore[type-arg]
        ends = {"riser 1": "riser 3", "riser 3": "riser 1"}
        return [
            replace(i, text=ends.get(i.text[:7], i.text[:7]) + i.text[7:])
            if isinstance(i, Text) else i for i in items
        ]  # fmt: skip

    said = changed(RAIL, swap, setout=setout)
    assert any("riser 1" in text and "said of" in text for text in said), said
    low = ("lower end", "newel's face,", "from zero", "trim it")

    def away(items: list) -> list:  # type: ignore[type-arg]
        near = [isinstance(i, Text) and any(words in i.text for words in low) for i in items]
        return [moved(i, (0.0, 600.0)) if is_low else i
                for i, is_low in zip(items, near, strict=True)]  # fmt: skip

    said = changed(RAIL, away, setout=setout)
    assert any("lower end" in text and "said of" in text for text in said), said


def test_the_lines_of_a_sentence_stand_together() -> None:
    """Else `don't` may stand on one edge and `cut` on another."""
    apart = where("don't cut", lambda text: moved(text, (0.0, 40.0)))  # type: ignore[arg-type, return-value]
    said = reprinted(TREAD, apart)
    assert any("which the layout does not" in text for text in said), said


def test_words_over_other_words_are_told() -> None:
    def over(items: list) -> list:  # type: ignore[type-arg]
        goal = next(i for i in items if isinstance(i, Text) and i.text.startswith("pack "))
        return [
            replace(i, at=(goal.at[0], goal.at[1] + 1.0), anchor=goal.anchor)
            if isinstance(i, Text) and i.text == "this face up" else i for i in items
        ]  # fmt: skip

    assert any("are over each other" in text for text in reprinted(TREAD, over))


@pytest.mark.parametrize(
    ("code", "says"),
    [(b"60 w", "thick"), (b"3 w", "thick"), (b"1 J", "past their ends"), (b"2 J", "past their")],
)
def test_lines_that_cover_more_than_their_place_are_told(code: bytes, says: str) -> None:
    """A cut edge 21 mm thick is cut anywhere; square or round ends lengthen every stroke."""
    pages = whole(flight())
    number, _ = place_of(pages, TREAD)

    def change(content: bytes) -> bytes:
        head, tile = content.split(b"/Tile BMC", 1)
        at = tile.index(b" m ") if code.endswith(b"J") else tile.index(b" w") + 2
        line = tile.rindex(b"\n", 0, at) if code.endswith(b"J") else at
        return head + b"/Tile BMC" + tile[:line] + b" " + code + b" " + tile[line:]

    said = said_of(with_content(written(pages), number, change), flight())
    assert any(says in text for text in said), said[:3]


def test_the_open_side_is_named_on_every_tile() -> None:
    setout = flight("7 in x 10 in", treads="{run: 10 1/4, times: 2}", upper="gap")
    for part in (0, 1):
        said = changed("Flight · tread 1", unsaid("OPEN SIDE"), part, setout=setout)
        assert any('does not say "OPEN SIDE' in text for text in said), said


def test_a_tile_is_missed_on_a_reprint_though_the_names_at_its_side_are_cut_short() -> None:
    text = flight_text(name="WEST WING FLIGHT TO THE MOON ROOM", treads="{run: 6, times: 4}")
    text = text.replace(
        "Edge house",
        "Edge house by the lane to the old harbour, its west range, rear stair, OLD MILLS",
    )
    setout = set_out(job_of(text, "tabloid"))
    pages = whole(setout)
    number, page = next((n, page) for n, page in enumerate(pages) if _is_cut_short(page))
    assert found((page,), setout, part=True) == []
    items = tuple(item for n, item in enumerate(page.items) if n != runs(page)[-1])
    said = found((with_page(pages, number, items)[number],), setout, part=True)
    assert any("the outline says" in text for text in said)


def _is_cut_short(page: Page) -> bool:
    return any(isinstance(item, Text) and item.text.endswith("…") for item in page.items)


def test_letters_that_show_other_signs_than_they_say_are_told() -> None:
    """What is read is the same; what is seen is not."""

    def swap(data: bytes) -> bytes:
        at = data.index(b"\0\0\0\x01\0\x01\0\0\0\0\0\x0c\0\x06") + 22
        one, two = (at + 2 * ord(sign) for sign in "17")
        out = bytearray(data)
        out[one : one + 2], out[two : two + 2] = data[two : two + 2], data[one : one + 2]
        return bytes(out)

    assert any("show something else" in text for text in said_of(_lettered(swap), flight()))
    assert said_of(_lettered(lambda data: data), flight()) == []


def _lettered(change: Callable[[bytes], bytes]) -> bytes:
    """The pack with the letters of its fonts changed."""
    writer = PdfWriter(clone_from=PdfReader(BytesIO(written(whole(flight())))))
    done = set()
    for font in writer.pages[1]["/Resources"]["/Font"].values():  # type: ignore[index]
        held = font.get_object().get("/FontDescriptor")
        if held is not None and id(held.get_object()) not in done:
            done.add(id(held.get_object()))
            stream = StreamObject()
            old = held.get_object()["/FontFile2"].get_data()
            stream.set_data(change(old))
            held.get_object()[NameObject("/FontFile2")] = writer._add_object(stream)
    assert len(done) == 2
    out = BytesIO()
    writer.write(out)
    return out.getvalue()
