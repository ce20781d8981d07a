"""Tiles on the fewest sheets: within 5 % and one sheet of a bound that no nesting can beat."""

from __future__ import annotations

import random
from math import ceil

import pytest
from packs import SAMPLE_NAMES, cut_pieces, long_flight, sample

from stairjig.setout.values import Setout
from stairjig.sheets.frame import BETWEEN, Frame
from stairjig.sheets.nesting import Block, nest
from stairjig.sheets.plan import cut_for, plan_sheets
from stairjig.sheets.tiles import cut_tiles

PAPERS = ["letter", "legal", "tabloid", "a4", "a3", "10 x 15"]


def lane_bound(blocks: list[Block], frame: Frame) -> int:
    """Sheets that any nesting needs.

    Every block's share of the sheet's width and of its height goes through dual feasible
    functions, whose products add up to no more than one on any sheet (Fekete and Schepers, New
    classes of lower bounds for bin packing problems, 2001; from memory): with the plain shares
    this is the area, with a height rounded to whole sheets where it is over half of one it is the
    count of lanes. Tall blocks leave room beside them for the bar across.
    """
    across, up = frame.width + BETWEEN, frame.full_height + BETWEEN
    wide = [(b.width + BETWEEN) / across for b in blocks]
    high = [(b.height + BETWEEN) / up for b in blocks]
    bounds = [
        ceil(sum(w * h for w, h in zip(ws, hs, strict=True)) - 1e-9)
        for ws in dual_feasible(wide)
        for hs in dual_feasible(high)
    ]
    tall = [
        (b.width + BETWEEN) / (frame.widest_tall + BETWEEN)
        for b in blocks
        if b.height > frame.height
    ]
    bounds += [ceil(sum(shares) - 1e-9) for shares in dual_feasible(tall)]
    return max(bounds)


def dual_feasible(shares: list[float]) -> list[list[float]]:
    """The shares by several such functions: whole over a threshold, in k-ths, or as they are."""
    leasts = sorted({0.0, 0.5, *(round(x, 4) for x in shares if x <= 0.5)})[:12]
    whole = [[1.0 if x > 1 - t else x if x >= t else 0.0 for x in shares] for t in leasts]
    return [[in_parts(x, k) for x in some] for some in whole for k in range(5)]


def in_parts(share: float, k: int) -> float:
    if k == 0:
        return share
    parts = share * (k + 1)
    return share if abs(parts - round(parts)) < 1e-9 else int(parts) / k


def blocks_of(setout: Setout) -> tuple[list[Block], Frame]:
    frame = Frame(setout.job.paper)
    tiles = []
    for piece in cut_pieces(setout):
        cut = cut_for(piece, frame)
        tiles += cut_tiles(cut.piece, cut.joints, 1)
    return [Block(n, *tile.size) for n, tile in enumerate(tiles)], frame


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", SAMPLE_NAMES)
def test_samples_take_at_most_a_twentieth_and_one_sheet_more_than_the_bound(
    name: str, paper: str
) -> None:
    metric = "a4" in name
    setout = sample(name, "254 x 381" if metric and " x " in paper else paper)
    blocks, frame = blocks_of(setout)
    sheets = len(plan_sheets(cut_pieces(setout), setout.job.paper).sheets)
    assert sheets <= 1.05 * lane_bound(blocks, frame) + 1


@pytest.mark.parametrize("seed", range(40))
def test_random_tiles_of_a_stairs_sizes(seed: int) -> None:
    rng = random.Random(seed)
    frame = Frame(long_flight().job.paper)
    treads = [
        Block(n, rng.choice((119.45, 125.8, 113.1)), rng.uniform(230, 252)) for n in range(25)
    ]
    rail = rng.choice((57.15, 60.325, 63.5))
    rails = [Block(25 + n, rail, rng.uniform(150, 252)) for n in range(rng.randrange(60))]
    blocks = treads + rails
    sheets = nest(blocks, frame)
    assert len(sheets) <= 1.05 * lane_bound(blocks, frame) + 1
    assert sorted(spot.index for spots in sheets for spot in spots) == list(range(len(blocks)))


@pytest.mark.parametrize("name", ["kestrel-mill.yaml", "skewed-porch.yaml"])
def test_a_rails_tiles_follow_each_other_from_sheet_to_sheet(name: str) -> None:
    setout = sample(name, "letter")
    sheets = plan_sheets(cut_pieces(setout), setout.job.paper).sheets
    placed = [p.tile for sheet in sheets for p in sheet.tiles if "rail" in p.tile.piece.name]
    assert len(placed) > 4
    assert [tile.index for tile in placed] == list(range(len(placed)))


@pytest.mark.parametrize("seed", range(20))
def test_blocks_that_may_change_places_stand_in_the_packs_order(seed: int) -> None:
    rng = random.Random(seed)
    frame = Frame(long_flight().job.paper)
    blocks = [Block(n, rng.choice((60.0, 119.0)), rng.uniform(150, 250)) for n in range(40)]
    sheets = nest(blocks, frame)
    for wide in (60.0, 119.0):  # over half a sheet high, so that each has a lane of its own
        order = [s.index for spots in sheets for s in spots if blocks[s.index].width == wide]
        assert order == sorted(order)


@pytest.mark.parametrize("seed", range(40))
def test_blocks_lie_inside_and_apart(seed: int) -> None:
    rng = random.Random(seed)
    frame = Frame(long_flight().job.paper)
    blocks = [Block(n, rng.uniform(30, 180), rng.uniform(40, frame.height)) for n in range(30)] + [
        Block(30 + n, 119.0, frame.full_height - 0.1) for n in range(3)
    ]
    for spots in nest(blocks, frame):
        boxes = [(s.left, s.bottom, blocks[s.index]) for s in spots]
        for n, (left, low, block) in enumerate(boxes):
            assert left >= 0
            assert left + block.width <= frame.width + 1e-6
            assert low + block.height <= frame.full_height + 1e-6
            for left2, low2, other in boxes[n + 1 :]:
                apart = (
                    left2 >= left + block.width + BETWEEN - 1e-6
                    or left >= left2 + other.width + BETWEEN - 1e-6
                    or low2 >= low + block.height + BETWEEN - 1e-6
                    or low >= low2 + other.height + BETWEEN - 1e-6
                )
                assert apart
