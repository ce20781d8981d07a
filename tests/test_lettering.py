"""Where the words of a strip stand: laps, joints and marks, what is kept apart, and how high."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from packs import FLIGHT, PLAIN, SAMPLE_NAMES, job_of, planned, sample
from shapely import box, unary_union
from shapely.geometry.base import BaseGeometry
from tile_words import words_box

from stairjig.drawing import Pen, Text
from stairjig.pieces.values import Spot
from stairjig.setout.build import set_out
from stairjig.setout.values import Setout
from stairjig.sheets.along import Along, Row
from stairjig.sheets.drawn import Where, tile_sheets
from stairjig.sheets.joints import LAP
from stairjig.sheets.lanes import Across, Track, Wish, cut_up
from stairjig.sheets.tiles import Tile
from stairjig.type import width

SIZES = {8.0, 5.0, 3.0, 2.5}
"""Heights of capitals on a strip, mm: few, and none that is not read at arm's length."""
BESIDE = 15.5
"""A joint's reading stands so near to its line, mm, its first letter's margin counted."""
NAMED = 2.5
"""From a mark's name to what is noted of it, mm."""
APART = 3.0
"""Kept between the words of different subjects where there is room, mm, from line to capitals."""


def lettered(setout: Setout) -> tuple[Where, list[tuple[Tile, tuple[Text, ...]]]]:
    """Every tile of a job's strips with its words, in the strip's own frame."""
    where = tile_sheets(planned(setout), 7)
    tiles = [tile for tiles in where.tiles.values() for tile in tiles]
    return where, [(tile, where.texts(tile, setout.job.shown)) for tile in tiles]


@cache
def of_sample(name: str) -> tuple[Where, list[tuple[Tile, tuple[Text, ...]]]]:
    return lettered(sample(name))


def flight(**changes: str) -> Setout:
    return set_out(job_of(FLIGHT.format(**{**PLAIN, **changes})))


def on_lap(tile: Tile, texts: Sequence[Text]) -> list[str]:
    return [text.text for text in texts if tile.high < text.at[1] < tile.high + LAP]


@pytest.mark.parametrize("name", SAMPLE_NAMES)
def test_a_lap_names_the_tile_that_covers_it_its_strip_and_its_sheet(name: str) -> None:
    where, tiles = of_sample(name)
    for tile, texts in tiles:
        strip = tile.piece.name.removeprefix(f"{tile.piece.section} · ").upper()
        said = on_lap(tile, texts)
        if tile.above is None:
            assert not said
            continue
        covers, sheet = tile.index + 2, where.sheets[tile.piece.name, tile.index + 1]
        assert said[0].startswith("LAP: ")
        assert {f"tile {covers}, sheet {sheet}", f"tile {covers}"} & {said[1]}
        assert said[2:] == [f"of {strip}", f"· {tile.piece.section} ·"]


def test_a_narrow_lap_says_less_of_the_tile_that_covers_it() -> None:
    setout = flight(rail="1 1/4", name="Stair from the yard to the loft", treads="{run: 10}")
    _, tiles = lettered(setout)
    laps = [on_lap(*each) for each in tiles if each[0].piece.kind == "rail" and each[0].above]
    assert laps
    for said in laps:
        assert any(re.fullmatch(r"tile \d", words) for words in said)
        assert not any("yard" in words for words in said)


@pytest.mark.parametrize("name", SAMPLE_NAMES)
def test_both_tiles_of_a_joint_say_its_reading_beside_it(name: str) -> None:
    _, tiles = of_sample(name)
    for tile, texts in tiles:
        for joint in (at for at in (tile.below, tile.above) if at):
            (text,) = [t for t in texts if t.text.startswith(f"joint {joint.number}: ")]
            ends = words_box(text).bounds[1::2]
            near = min(abs(v - joint.v) for v in ends)
            assert near <= (2 if tile.across else 1) * BESIDE, (tile.piece.name, text)


def said_of_mark(spot: Spot, texts: Sequence[Text]) -> tuple[list[Text], list[Text], Text]:
    """Its name, the lines of its notes and its reading, which are set one after the other."""
    start = [text.text for text in texts].index(spot.name)
    end = start + 1
    named = f"{spot.name}: " * texts[end].text.startswith(f"{spot.name}: ")
    notes = named + " ".join(spot.notes)
    while len(notes) > len(" ".join(t.text for t in texts[start + 1 : end])):
        end += 1
    assert " ".join(text.text for text in texts[start + 1 : end]) == notes
    assert texts[end].text in {spot.reading, f"reads {spot.reading}"}
    return [texts[start]], list(texts[start + 1 : end]), texts[end]


@pytest.mark.parametrize("name", SAMPLE_NAMES)
def test_what_is_said_of_a_mark_stands_together_with_nothing_between(name: str) -> None:
    """Notes that stand apart from their mark's name begin with it: of two marks at the most."""
    torn, tiles = 0, of_sample(name)[1]
    marks = [(tile.piece.kind, spot, texts) for tile, texts in tiles for spot in tile.spots]
    for kind, spot, texts in marks:
        head, notes, reading = said_of_mark(spot, texts)
        for own in ([*head, reading], [*head, *notes, reading]):
            hull = unary_union([words_box(text) for text in own]).convex_hull
            others = (words_box(text) for text in texts if text not in (*head, *notes, reading))
            between = any(hull.intersects(other) for other in others)
            named = notes[0].text.startswith(f"{spot.name}: ")
            assert not between or (len(own) > 2 and named), spot.name
            torn += between
        far = min(words_box(head[0]).distance(words_box(note)) for note in notes)
        assert kind != "tread" or far < NAMED
    assert torn <= 2


@pytest.mark.parametrize("name", SAMPLE_NAMES)
def test_every_tile_says_large_what_it_lies_on_and_words_have_four_heights(name: str) -> None:
    for tile, texts in of_sample(name)[1]:
        assert {text.size for text in texts} <= SIZES
        titles = [text.text for text in texts if text.size == 8.0]
        if tile.piece.kind == "tread":
            assert titles == [f"Tread {tile.piece.treads[0]}"]
        else:
            assert titles == [tile.piece.name.rpartition(" · ")[2].upper()]
            assert titles[0] in {"RAIL", "SHOE", "FLOOR"}


@pytest.mark.parametrize("upper", ["{face: -4}", "{face: 1/8}", "gap"])
def test_a_riser_is_named_on_a_rail_only_beside_its_line_and_not_at_an_end(upper: str) -> None:
    _, tiles = lettered(flight(upper=upper))
    named = 0
    for tile, texts in ((tile, texts) for tile, texts in tiles if tile.piece.kind == "rail"):
        strokes = [stroke for stroke in tile.across if stroke.pen is Pen.RISER]
        for text in (text for text in texts if "riser" in text.text):
            low, high = words_box(text).bounds[1::2]
            beside = [s for s in strokes if low - 20 < s.points[0][1] < high + 20]
            assert beside
            ends = (tile.piece.low, tile.piece.high)
            assert all(min(abs(s.points[0][1] - end) for end in ends) > 6 for s in beside)
            named += 1
    assert named


TEXTS = st.lists(
    st.tuples(
        st.text("abcdefgh 12", min_size=1, max_size=30).filter(lambda text: text.strip() != ""),
        st.sampled_from(sorted(SIZES)),
        st.one_of(st.none(), st.floats(0, 260)),
    ),
    min_size=2,
    max_size=9,
)


def set_in(lane: Along | Across, texts: Sequence[tuple[str, float, float | None]]) -> list[Text]:
    """The first lines of each that has room, and all of those on one line."""
    put = (lane.put([text], size, False, Wish(near, most=1)) for text, size, near in texts)
    return [text for found in put for text in found or ()]


def capitals(text: Text) -> BaseGeometry:
    """What the capitals of a text cover."""
    (u, v), long = text.at, width(text.text, text.size, text.bold)
    across, along = (text.size, long) if text.angle else (long, text.size)
    return box(u - across, v, u, v + along) if text.angle else box(u, v, u + across, v + along)


def pairs(texts: Sequence[Text]) -> Iterator[tuple[Text, Text]]:
    return ((one, two) for n, one in enumerate(texts) for two in texts[n + 1 :])


@settings(max_examples=30)
@given(TEXTS)
def test_words_of_different_subjects_keep_apart_in_a_loose_lane(
    texts: list[tuple[str, float, float | None]],
) -> None:
    rows = [Row(1.2 + 1.35 * n, 1.2 + 1.35 * (n + 1), (1 << 1300) - 1) for n in range(20)]
    mirrored = [Row(-row.right, -row.left, row.free) for row in rows[::-1]]
    lanes = (
        Along(rows, 0.0, 1.4, 2),
        Along(mirrored, 0.0, 1.4, 2),
        Across(Track(20, 75, [(0, 260)]), 20, 0, 0, 260, 0, 1.4),
    )
    for one, two in (pair for lane in lanes for pair in pairs(set_in(lane, texts))):
        a, b, c, d = capitals(one).bounds
        left, low, right, high = capitals(two).bounds
        if (a < right and left < c) or (b < high and low < d):
            assert capitals(one).distance(capitals(two)) >= APART - 0.01


@given(st.floats(20, 90), st.sampled_from([2.5, 3.0]))
def test_no_number_is_torn_from_the_word_before_it(room: float, size: float) -> None:
    text = "line run 10 1/4″, gap 2 13/16″, 3 balusters of tread 12 on tile 2"
    lines = cut_up(text, size, room, False)
    assert " ".join(lines) == text
    assert all(width(line, size) <= room for line in lines)
    if room > width("3 balusters of", size):
        assert not any(re.match(r"[\d/]", line) for line in lines if line[0] != "3")
        assert not any(line.endswith(("run", "gap", "3", "tread", "tile")) for line in lines)
