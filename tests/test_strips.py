"""What the finished sheets say, read by a reader that shares nothing with the program."""

from __future__ import annotations

import json
from collections import defaultdict
from math import hypot

import pytest
from packs import (
    CHANGES,
    SAMPLE_NAMES,
    edge_case,
    long_flight,
    planned,
    sample,
    strip_pages,
    strips_pdf,
)
from plain_reader import PlainTile, joined, read_tiles

from stairjig.report import as_json
from stairjig.setout.values import Setout
from stairjig.sheets.frame import Frame
from stairjig.type import width

CLOSE = 0.02


def pieces_of(setout: Setout) -> dict[str, list[PlainTile]]:
    found: dict[str, list[PlainTile]] = defaultdict(list)
    for tile in read_tiles(strips_pdf(strip_pages(setout))):
        found[tile.name].append(tile)
    return found


def nearest_mark(tile: PlainTile, words: str, bold: bool) -> list[tuple[float, float]]:
    """The marks that stand nearest to words, for each time the tile says them."""
    found = []
    for text in tile.texts:
        if text.text == words:
            long = width(words, text.size * 0.729, bold)
            turned = abs(text.matrix[0]) < 0.5
            u, v = text.at

            def off(at: tuple[float, float], u=u, v=v, long=long, turned=turned) -> float:  # type: ignore[no-untyped-def]
                along, side = (at[1] - v, at[0] - u) if turned else (at[0] - u, at[1] - v)
                return hypot(max(-along, along - long, 0.0), side)

            found.append(min(tile.marks(), key=off))
    return found


CASES = [
    long_flight("right"),
    long_flight("left"),
    long_flight("right", "a4"),
    *(sample(name) for name in SAMPLE_NAMES),
    *(edge_case(name) for name in CHANGES),
]
IDS = [
    *(f"{setout.job.title}-{setout.job.paper.name}" for setout in CASES[: -len(CHANGES)]),
    *CHANGES,
]


@pytest.mark.parametrize("setout", CASES, ids=IDS)
def test_every_mark_stands_once_on_a_tread_or_shoe_strip_and_once_on_a_rail_strip(
    setout: Setout,
) -> None:
    pieces = pieces_of(setout)
    layout = json.loads(as_json(setout, None))
    shown = setout.job.shown
    for section in layout["sections"]:
        places = {t["number"]: t for t in section["treads"]}
        rail = joined(pieces[f"{section['name']} · rail"])
        found: dict[str, tuple[float, float]] = {}
        for tile, shift in rail:
            for mark in section["marks"]:
                for at in nearest_mark(tile, mark["name"], True):
                    assert mark["name"] not in found
                    found[mark["name"]] = (at[0] + shift[0], at[1] + shift[1])
                    reading = shown.text(mark["rail"])
                    assert at in nearest_mark(tile, reading, False)
        assert set(found) == {mark["name"] for mark in section["marks"]}
        assert sum(len(tile.marks()) for tile, _ in rail) == len(found)
        zero = found[section["marks"][0]["name"]]
        for mark in section["marks"]:
            u, v = found[mark["name"]]
            assert abs(v - zero[1] - mark["rail"]) < CLOSE
            assert abs(u - zero[0]) < CLOSE
        for number, tread in places.items():
            if tread["marks"]:
                check_tread(pieces[f"{section['name']} · tread {number}"], tread, shown)


def check_tread(tiles: list[PlainTile], tread: dict, shown) -> None:  # type: ignore[no-untyped-def, type-arg]
    placed = joined(tiles)
    found = {}
    for tile, shift in placed:
        assert any(text.text == f"Tread {tread['number']}" for text in tile.texts)
        for mark in tread["marks"]:
            for at in nearest_mark(tile, mark["name"], True):
                assert mark["name"] not in found
                found[mark["name"]] = (at[0] + shift[0], at[1] + shift[1])
                reading = f"reads {shown.text(tread['line_run'] - mark['x'])}"
                assert at in nearest_mark(tile, reading, False)
    assert len(found) == len(tread["marks"]) == sum(len(tile.marks()) for tile, _ in placed)
    points = [(u + s[0], v + s[1]) for tile, s in placed for u, v in tile.outline]
    u0 = found[tread["marks"][0]["name"]][0]
    top = max(v for _, v in points)
    for mark in tread["marks"]:
        u, v = found[mark["name"]]
        assert abs(u - u0) < CLOSE
        if tread["back_skew"] == 0:
            assert abs(top - v - (tread["line_run"] - mark["x"])) < CLOSE


def test_the_rail_of_a_16_tread_flight_takes_a_dozen_joints_and_more_on_letter() -> None:
    rail = pieces_of(long_flight("right"))["Hall flight · rail"]
    assert len(rail) > 12


def test_left_and_right_packs_are_mirror_images_tile_by_tile() -> None:
    left = read_tiles(strips_pdf(strip_pages(long_flight("left"))))
    right = read_tiles(strips_pdf(strip_pages(long_flight("right"))))
    assert [tile.name for tile in left] == [tile.name for tile in right]
    for one, two in zip(left, right, strict=True):
        mirrored = [mirror_of(path, one) for path in [*one.paths, *one.curves]]
        for path in [*two.paths, *two.curves]:
            mine = local(path, two)
            assert min(far(mine, other) for other in mirrored if len(other) == len(mine)) < 0.01
        assert [t.text for t in one.texts if "J" not in t.text][:2] == [
            t.text for t in two.texts if "J" not in t.text
        ][:2]


def local(path, tile):  # type: ignore[no-untyped-def]
    left, low = min(u for u, _ in tile.outline), min(v for _, v in tile.outline)
    return [(u - left, v - low) for u, v in path]


def mirror_of(path, tile):  # type: ignore[no-untyped-def]
    wide = max(u for u, _ in tile.outline) - min(u for u, _ in tile.outline)
    return [(wide - u, v) for u, v in local(path, tile)]


def far(one, two) -> float:  # type: ignore[no-untyped-def]
    """How far every corner of one path is from the nearest of another."""
    return max(min(hypot(u - a, v - b) for a, b in two) for u, v in one)


@pytest.mark.parametrize("setout", CASES, ids=IDS)
def test_no_tile_overlaps_another_a_margin_or_a_bar(setout: Setout) -> None:
    plan = planned(setout)
    frame = Frame(setout.job.paper)
    tiles = read_tiles(strips_pdf(strip_pages(setout, plan)))
    boxes = [
        (tile.page, *box_of([p for path in [*tile.paths, *tile.curves] for p in path]))
        for tile in tiles
    ]
    for number, (page, left, low, right, high) in enumerate(boxes):
        height = plan.sheets[page - 1].height
        assert left >= frame.left - 1e-3
        assert right <= float(setout.job.paper.width) - frame.margin + 1e-3
        assert low >= frame.margin - 1e-3
        assert high <= height - frame.margin + 1e-3
        for other in boxes[number + 1 :]:
            if other[0] == page:
                apart = other[1] >= right or other[3] <= left or other[2] >= high or other[4] <= low
                assert apart


def box_of(points):  # type: ignore[no-untyped-def]
    us, vs = [p[0] for p in points], [p[1] for p in points]
    return min(us), min(vs), max(us), max(vs)


@pytest.mark.parametrize("setout", CASES, ids=IDS)
def test_no_words_lie_over_a_base_a_cross_other_words_or_an_edge(setout: Setout) -> None:
    for tile in read_tiles(strips_pdf(strip_pages(setout))):
        boxes = [(text.text, words_box(text)) for text in tile.texts]
        for number, (words, box) in enumerate(boxes):
            for other, more in boxes[number + 1 :]:
                assert not overlap(box, more), f"{tile.name}: {words!r} over {other!r}"
            for path in tile.curves:
                assert not overlap(box, box_of(path)), f"{tile.name}: {words!r} over a round"
            for path in tile.paths[1:]:
                if len(path) == 2:
                    assert not crosses(path, box), f"{tile.name}: {words!r} over a stroke"
                elif "newel" in words or words in ("CUT OUT", "don't cut"):
                    for start, end in zip(path, [*path[1:], path[0]], strict=True):
                        assert not crosses([start, end], box), f"{words!r} over a newel's edge"
                else:
                    assert not overlap(box, box_of(path)), f"{tile.name}: {words!r} over a base"
            outline = tile.outline
            for start, end in zip(outline, [*outline[1:], outline[0]], strict=True):
                assert not crosses([start, end], box), f"{tile.name}: {words!r} over the edge"


def words_box(text):  # type: ignore[no-untyped-def]
    capitals = text.size * 0.729
    long = width(text.text, capitals, text.bold)
    u, v = text.at
    if abs(text.matrix[0]) < 0.5:
        return (u - capitals, v, u + 0.1 * capitals, v + long)
    return (u, v - 0.1 * capitals, u + long, v + capitals)


def overlap(one, two) -> bool:  # type: ignore[no-untyped-def]
    return (
        one[0] < two[2] - 0.05
        and two[0] < one[2] - 0.05
        and one[1] < two[3] - 0.05
        and two[1] < one[3] - 0.05
    )


def crosses(path, box) -> bool:  # type: ignore[no-untyped-def]
    """Whether a straight stroke runs through a box (Liang and Barsky's clipping)."""
    (u0, v0), (u1, v1) = path
    low, high = 0.0, 1.0
    for start, step, least, most in (
        (u0, u1 - u0, box[0] + 0.05, box[2] - 0.05),
        (v0, v1 - v0, box[1] + 0.05, box[3] - 0.05),
    ):
        if abs(step) < 1e-9:
            if not least < start < most:
                return False
            continue
        ends = sorted(((least - start) / step, (most - start) / step))
        low, high = max(low, ends[0]), min(high, ends[1])
    return low < high
