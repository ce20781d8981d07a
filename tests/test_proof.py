"""The proof can fail: whatever is changed on the sheets, it says what and where."""

from __future__ import annotations

from dataclasses import replace

import pytest
from packs import CHANGES, SAMPLE_NAMES, edge_case, job_of, sample
from proof_packs import (
    LAST,
    RAIL,
    TREAD,
    changed,
    crosses_of,
    drop_pen,
    flight,
    found,
    place_of,
    reprinted,
    reworded,
    shift_mark,
    shift_pen,
    twice_pen,
    unsaid,
    whole,
    with_page,
    with_tile,
)

from stairjig.drawing import Ellipse, Pen, Run, Stroke, Text, moved, scaled
from stairjig.setout.build import set_out

LANDING = """
title: Edge house
units: mm
openings: uk
paper: a3
margin: 20
balusters: {plain: {shape: square, width: 32}}
rail: {height: 950, depth: 60, width: 60}
sections:
  - {name: Landing, kind: level, length: 500, lower_newel: {width: 90}, upper_newel: wall}
"""


@pytest.mark.parametrize(
    ("name", "paper"), [*((name, "letter") for name in SAMPLE_NAMES), ("balcony.yaml", "roll 24")]
)
def test_true_packs_are_proved(name: str, paper: str) -> None:
    true = sample(name, paper)
    assert found(whole(true), true) == []


@pytest.mark.parametrize("name", CHANGES)
def test_flights_at_the_edges_are_proved(name: str) -> None:
    true = edge_case(name)
    assert found(whole(true), true) == []


def test_sheets_that_hold_a_whole_bar_to_a_hair_are_proved() -> None:
    """380 mm of A3 between its margins, which are read back a hair shorter."""
    true = set_out(job_of(LANDING))
    assert found(whole(true), true) == []


@pytest.mark.parametrize("by", [(0.0, 0.1), (0.05, 0.0), (0.0, -0.05)])
@pytest.mark.parametrize(("strip", "says"), [(TREAD, TREAD), (RAIL, "3-2")])
def test_a_mark_moved_is_named_with_its_sheet(
    strip: str, says: str, by: tuple[float, float]
) -> None:
    said = changed(strip, shift_mark(by), says=says)
    assert len(said) == 1
    assert said[0].startswith(f"{strip}, sheet ")
    assert f"{by[1]:+.3f} mm along and {by[0]:+.3f} mm across" in said[0]


def test_a_mark_dropped_is_named() -> None:
    def drop(items):  # type: ignore[no-untyped-def]
        at = crosses_of(items)[0]
        return [item for n, item in enumerate(items) if not at <= n < at + 2]

    assert any("mark 2-1 stands nowhere" in text for text in changed(TREAD, drop))


@pytest.mark.parametrize("by", [(0.0, 20.0), (0.0, 0.0)])
def test_a_mark_doubled_is_told(by: tuple[float, float]) -> None:
    def double(items):  # type: ignore[no-untyped-def]
        at = crosses_of(items)[0]
        twin = [moved(item, by) for item in items[at : at + 2]]
        return [*items[: at + 2], *twin, *items[at + 2 :]]

    assert any("one too many" in text for text in changed(TREAD, double))


def test_a_stroke_of_a_cross_moved_alone_is_told() -> None:
    def bend(items):  # type: ignore[no-untyped-def]
        at = crosses_of(items)[0]
        return [moved(item, (0.0, 0.1)) if n == at else item for n, item in enumerate(items)]

    assert any("broken" in text for text in changed(TREAD, bend))


@pytest.mark.parametrize(
    ("strip", "pen", "paper", "what"),
    [
        (TREAD, Pen.CUT, "letter", "the cut outline"),
        (RAIL, Pen.CUT, "letter", "the cut outline"),
        (LAST, Pen.CUT, "letter", "the cut outline"),
        (TREAD, Pen.RISER, "letter", "the riser's line"),
        (RAIL, Pen.RISER, "letter", "the line of riser 1"),
        (TREAD, Pen.NOSING, "tabloid", "the nosing's edge"),
        (TREAD, Pen.LINE, "letter", "the line"),
        (TREAD, Pen.BASE, "letter", "the base of mark 2-1"),
        (TREAD, Pen.HOLE, "letter", "the hole of mark 2-1"),
        (RAIL, Pen.HOLE, "letter", "the hole of mark 1-1"),
        (RAIL, Pen.JOINT, "letter", "the line of joint 1"),
    ],
)
def test_a_line_moved_dropped_or_doubled_is_named(
    strip: str, pen: Pen, paper: str, what: str
) -> None:
    """By 0.05 mm each; in a whole pack, in one sheet of it, and with another one too many."""
    setout, says = flight(paper), "1-1" if strip is RAIL else ""
    for say in (changed, reprinted):
        said = say(strip, shift_pen(pen, (0.03, 0.04), first=True), says=says, setout=setout)
        assert any(f"{what} is 0.0" in text for text in said), said
    assert any(what in text for text in changed(strip, drop_pen(pen), says=says, setout=setout))
    twice = changed(strip, twice_pen(pen, (0.0, 3.0)), says=says, setout=setout)
    assert any("drawn twice" in text or "does not have" in text for text in twice)


def test_the_standing_newel_moved_is_named() -> None:
    def shift(items):  # type: ignore[no-untyped-def]
        cut = [n for n, item in enumerate(items) if getattr(item, "pen", None) is Pen.CUT]
        return [moved(item, (0.0, 0.05)) if n == cut[1] else item for n, item in enumerate(items)]

    assert any("the upper newel is 0.050 mm off" in text for text in changed(LAST, shift))


def test_a_shape_turned_resized_or_of_another_kind_is_named() -> None:
    def wider(items):  # type: ignore[no-untyped-def]
        return [
            replace(i, half_width=i.half_width + 0.05)
            if isinstance(i, Ellipse) and i.pen is Pen.HOLE else i for i in items
        ]  # fmt: skip

    def slanted(items):  # type: ignore[no-untyped-def]
        return [
            replace(i, points=tuple((u + (v - i.points[0][1]) * 0.01, v) for u, v in i.points))
            if isinstance(i, Stroke) and i.pen is Pen.BASE else i for i in items
        ]  # fmt: skip

    def cut_riser(items):  # type: ignore[no-untyped-def]
        return [
            replace(i, pen=Pen.CUT) if getattr(i, "pen", None) is Pen.RISER else i for i in items
        ]

    assert any("the hole of mark 2-1" in text for text in changed(TREAD, wider))
    assert any("the base of mark 2-1" in text for text in changed(TREAD, slanted))
    assert any("drawn as a cut edge" in text for text in changed(TREAD, cut_riser))


@pytest.mark.parametrize("strip", [TREAD, RAIL])
@pytest.mark.parametrize("say", [changed, reprinted])
def test_a_tile_mirrored_is_told(strip: str, say) -> None:  # type: ignore[no-untyped-def]
    """All of it, outline and words, about its own middle: it stays where it lies on the sheet."""

    def mirror(items):  # type: ignore[no-untyped-def]
        us = [u for u, _ in items[0].points]
        both = min(us) + max(us)

        def flip(item):  # type: ignore[no-untyped-def]
            if isinstance(item, Stroke):
                return replace(item, points=tuple((both - u, v) for u, v in item.points))
            if isinstance(item, Ellipse):
                return replace(item, centre=(both - item.centre[0], item.centre[1]))
            return replace(item, at=(both - item.at[0], item.at[1]), anchor="end")

        return [flip(item) for item in items]

    assert say(strip, mirror)


def test_a_piece_of_a_strip_moved_as_a_whole_is_told_only_where_it_matters() -> None:
    """A tile may lie anywhere on its sheet: nothing registers from the paper's edge."""
    pages = whole(flight())
    number, n = place_of(pages, TREAD)
    page = pages[number]
    run = page.items[n]
    assert isinstance(run, Run)
    away = replace(run, items=tuple(moved(item, (0.0, -1.5)) for item in run.items))
    said = found(with_page(pages, number, (*page.items[:n], away, *page.items[n + 1 :])), flight())
    assert not any("mark" in text or "outline" in text for text in said)


def test_registration_marks_moved_swapped_or_without_a_name_are_told() -> None:
    def swap(items):  # type: ignore[no-untyped-def]
        names = [t for t in items if isinstance(t, Text) and t.text in ("J1a", "J1b")]
        other = {id(names[0]): names[1].text, id(names[1]): names[0].text}
        return [replace(t, text=other[id(t)]) if id(t) in other else t for t in items]

    def shift_ring(items):  # type: ignore[no-untyped-def]
        first = next(n for n, item in enumerate(items) if getattr(item, "pen", None) is Pen.THIN)
        return [moved(item, (0.05, 0)) if first <= n < first + 3 else item
                for n, item in enumerate(items)]  # fmt: skip

    def shift_ring_alone(items):  # type: ignore[no-untyped-def]
        first = next(n for n, item in enumerate(items) if getattr(item, "pen", None) is Pen.THIN)
        return [moved(item, (0.05, 0)) if n == first else item for n, item in enumerate(items)]

    assert any("joint" in text for text in changed(RAIL, swap, says="1-1"))
    for say in (changed, reprinted):
        assert any("registration mark J1" in t for t in say(RAIL, shift_ring, says="1-1"))
        assert any("not in its ring" in t for t in say(RAIL, shift_ring_alone, says="1-1"))
        assert any("J1a" in t for t in say(RAIL, unsaid("J1a"), says="1-1"))


def test_a_strip_missing_or_too_many_is_told() -> None:
    pages, setout = whole(flight()), flight()
    number, n = place_of(pages, TREAD)
    items = pages[number].items
    said = found(with_page(pages, number, (*items[:n], *items[n + 1 :])), setout)
    assert f"{TREAD} is missing" in said
    assert any("it says of itself" in text for text in said)
    twice = found((*pages, pages[number]), setout)
    assert any("joins no other" in text for text in twice)


def test_a_strip_of_another_job_is_told() -> None:
    pages, setout = whole(flight()), flight()
    number, n = place_of(pages, TREAD)
    said = found(with_tile(pages, number, n, reworded(TREAD, "Hall · tread 2")), setout)
    assert any(text.startswith("Hall · tread 2, sheet ") for text in said)


def test_sheets_drawn_for_a_printer_are_proved_with_its_factors() -> None:
    """What is drawn larger by two factors is held against the layout with the same two."""
    across, along = 1.028, 0.973
    pages = tuple(scaled(page, across, along) for page in whole(flight()))
    assert found(pages, flight(), scale=(across, along)) == []
    assert found(pages, flight()) != []


@pytest.mark.parametrize(
    ("skew", "side"), [(-66, "left"), (-54, "right"), (54, "left"), (66, "right")]
)
def test_steeply_skewed_treads_are_proved(skew: int, side: str) -> None:
    """A nick's floor is no back edge, however steep that is."""
    setout = flight("roll 24", treads=f"{{run: 9, skew: {skew}, times: 2}}", side=side, upper="gap")
    assert found(whole(setout), setout) == []
