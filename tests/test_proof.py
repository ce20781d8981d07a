"""The proof can fail: whatever is changed on the sheets, it says what and where."""

from __future__ import annotations

from dataclasses import replace

import pytest
from packs import SAMPLE_NAMES, long_flight, sample, strip_pages, strips_pdf, with_run

from stairjig.drawing import Ellipse, Page, Pen, Run, Stroke, Text, moved
from stairjig.pdf import write_pdf
from stairjig.proof.prove import prove
from stairjig.setout.values import Setout


def setout() -> Setout:
    return long_flight("right")


def run_of(
    pages: tuple[Page, ...], name: str, part: int = 0, says: str = ""
) -> tuple[int, int, Run]:
    """The `part`th tile of a strip, of those that say something: page, place on it, run."""
    found = [
        (n, k, item)
        for n, page in enumerate(pages)
        for k, item in enumerate(page.items)
        if isinstance(item, Run)
        and {name, says or name} <= {t.text for t in item.items if isinstance(t, Text)}
    ]
    return found[part]


def changed(name: str, change, part: int = 0, says: str = "") -> list[str]:  # type: ignore[no-untyped-def]
    """What the proof says when one tile's items go through `change`."""
    pages = strip_pages(setout())
    number, index, run = run_of(pages, name, part, says)
    items = change(run.items)
    assert items != run.items
    pages = with_run(pages, number, index, tuple(items))
    return [finding.text for finding in prove(strips_pdf(pages), setout())]


def is_cross(item: object) -> bool:
    return isinstance(item, Stroke) and item.pen is Pen.CROSS


def crosses_of(items) -> list[int]:  # type: ignore[no-untyped-def]
    """Indices of the first stroke of every mark's cross: registration marks follow a circle."""
    found, skip = [], 0
    for n, item in enumerate(items):
        if isinstance(item, Ellipse) and item.pen is Pen.THIN:
            skip = 2
        elif is_cross(item):
            if skip:
                skip -= 1
            elif not found or n != found[-1] + 1:
                found.append(n)
    return found


def shift_mark(items, by):  # type: ignore[no-untyped-def]
    at = crosses_of(items)[0]
    return [moved(item, by) if at <= n < at + 2 else item for n, item in enumerate(items)]


@pytest.mark.parametrize("name", SAMPLE_NAMES)
@pytest.mark.parametrize("paper", ["letter", "a4", "roll 24"])
def test_true_sheets_are_proved(name: str, paper: str) -> None:
    true = sample(name, paper)
    assert prove(strips_pdf(strip_pages(true)), true) == ()


@pytest.mark.parametrize("by", [(0.0, 0.1), (0.05, 0.0), (0.0, -0.05)])
@pytest.mark.parametrize("strip", ["Hall flight · tread 3", "Hall flight · rail"])
def test_a_mark_moved_is_named(strip: str, by: tuple[float, float]) -> None:
    said = changed(strip, lambda items: shift_mark(items, by), says="3-1")
    assert len(said) == 1
    assert said[0].startswith(f"{strip}: mark 3-")
    assert f"{by[1]:+.3f} mm along and {by[0]:+.3f} mm across" in said[0]


def test_a_mark_dropped_is_named() -> None:
    def drop(items):  # type: ignore[no-untyped-def]
        at = crosses_of(items)[0]
        return [item for n, item in enumerate(items) if not at <= n < at + 2]

    said = changed("Hall flight · tread 4", drop)
    assert any("mark 4-" in text for text in said)


def test_a_mark_doubled_is_told() -> None:
    def double(items):  # type: ignore[no-untyped-def]
        at = crosses_of(items)[0]
        twin = [moved(item, (0.0, 20.0)) for item in items[at : at + 2]]
        return [*items[: at + 2], *twin, *items[at + 2 :]]

    assert any("one too many" in text for text in changed("Hall flight · tread 4", double))


def test_a_stroke_of_a_cross_moved_alone_is_told() -> None:
    def bend(items):  # type: ignore[no-untyped-def]
        at = crosses_of(items)[0]
        return [moved(item, (0.0, 0.1)) if n == at else item for n, item in enumerate(items)]

    assert any("broken" in text for text in changed("Hall flight · tread 5", bend))


def test_the_riser_line_moved_is_told() -> None:
    def shift(items):  # type: ignore[no-untyped-def]
        return [moved(i, (0, 0.05)) if getattr(i, "pen", None) is Pen.RISER else i for i in items]

    said = changed("Hall flight · tread 5", shift)
    assert any("the riser's line" in text for text in said)


def test_the_outline_moved_is_told() -> None:
    def shift(items):  # type: ignore[no-untyped-def]
        return [moved(items[0], (0.0, 0.1)), *items[1:]]

    assert any("back edge" in text for text in changed("Hall flight · tread 5", shift))


def test_a_tile_mirrored_is_told() -> None:
    def mirror(items):  # type: ignore[no-untyped-def]
        def flip(item):  # type: ignore[no-untyped-def]
            if isinstance(item, Stroke):
                return replace(item, points=tuple((200 - u, v) for u, v in item.points))
            if isinstance(item, Ellipse):
                return replace(item, centre=(200 - item.centre[0], item.centre[1]))
            return item

        return [flip(item) for item in items]

    assert changed("Hall flight · tread 5", mirror)
    assert changed("Hall flight · rail", mirror, part=3)


def test_joint_labels_swapped_are_told() -> None:
    def swap(items):  # type: ignore[no-untyped-def]
        names = [t for t in items if isinstance(t, Text) and t.text[:1] == "J" and len(t.text) < 5]
        a, b = names[0], names[1]
        other = {id(a): b.text, id(b): a.text}
        return [replace(t, text=other[id(t)]) if id(t) in other else t for t in items]

    assert any("joint" in text for text in changed("Hall flight · rail", swap, part=2))


@pytest.mark.parametrize(
    ("strip", "old", "new", "says"),
    [
        ("Hall flight · tread 3", "Tread 3", "Tread 8", "Tread 8"),
        ("Hall flight · tread 3", "3-1", "3-7", "mark 3-1"),
        ("Hall flight · rail", "0″", "1″", "reading of mark 2-1"),
    ],
)
def test_wrong_words_are_told(strip: str, old: str, new: str, says: str) -> None:
    def reword(items):  # type: ignore[no-untyped-def]
        return [replace(t, text=new) if getattr(t, "text", "") == old else t for t in items]

    assert any(says in text for text in changed(strip, reword, says=old))


@pytest.mark.parametrize("begins", ["reads ", "joint ", "line run ", "pack "])
def test_a_wrong_figure_in_words_is_told(begins: str) -> None:
    def misprint(items):  # type: ignore[no-untyped-def]
        out, done = [], False
        for item in items:
            text = getattr(item, "text", "")
            if text.startswith(begins) and not done:
                digits = [n for n, sign in enumerate(text) if sign.isdigit()]
                at = digits[-1] if begins != "joint " else digits[1]
                wrong = "7" if text[at] != "7" else "9"
                item, done = replace(item, text=text[:at] + wrong + text[at + 1 :]), True
            out.append(item)
        return out

    strip = "Hall flight · rail" if begins == "joint " else "Hall flight · tread 3"
    assert changed(strip, misprint, part=1 if begins == "joint " else 0)


def test_a_strip_missing_or_too_many_is_told() -> None:
    pages = strip_pages(setout())
    number, index, _ = run_of(pages, "Hall flight · tread 6")
    page = pages[number]
    bare = replace(page, items=(*page.items[:index], *page.items[index + 1 :]))
    said = prove(strips_pdf((*pages[:number], bare, *pages[number + 1 :])), setout())
    assert [f.text for f in said] == ["Hall flight · tread 6 is missing"]
    twice = prove(strips_pdf((*pages, pages[number])), setout())
    assert twice


def test_sheets_drawn_for_a_printer_are_proved_with_its_factors() -> None:
    """What is drawn larger by two factors is held against the layout with the same two."""
    fx, fy = 1.028, 0.973

    def scaled(item):  # type: ignore[no-untyped-def]
        if isinstance(item, Run):
            return replace(item, items=tuple(scaled(i) for i in item.items))
        if isinstance(item, Stroke):
            return replace(item, points=tuple((u * fx, v * fy) for u, v in item.points))
        if isinstance(item, Ellipse):
            u, v = item.centre
            return replace(
                item, centre=(u * fx, v * fy), half_width=item.half_width * fx,
                half_height=item.half_height * fy,
            )  # fmt: skip
        if isinstance(item, Text):
            return replace(item, at=(item.at[0] * fx, item.at[1] * fy))
        return item

    pages = tuple(
        replace(page, items=tuple(scaled(i) for i in page.items)) for page in strip_pages(setout())
    )
    data = write_pdf(pages, "strips", {})
    assert prove(data, setout(), scale=(fx, fy)) == ()
    assert prove(data, setout()) != ()
