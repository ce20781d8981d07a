"""Joints: as few as can be, clear of every mark, the tightest as clear as can be."""

from __future__ import annotations

import random
from bisect import bisect_left, bisect_right
from itertools import pairwise

import pytest
from packs import SAMPLE_NAMES, cut_pieces, long_flight, sample

from stairjig.drawing import Pen, Stroke
from stairjig.pieces.values import Piece, Spot
from stairjig.sheets.frame import Frame
from stairjig.sheets.joints import (
    CLEAR_OF_BASE,
    LAP,
    SHORTEST,
    STICK_OUT,
    NoJoint,
    Room,
    free_spans,
    plan_joints,
    tightest,
)
from stairjig.sheets.plan import cut_for

GRID = 2.0


def strip(length: float, marks: list[tuple[float, float]]) -> Piece:
    """A plain strip with marks at (v, half size)."""
    outline = ((-30.0, 0.0), (30.0, 0.0), (30.0, length), (-30.0, length))
    spots = tuple(
        Spot(str(n), (0.0, v), half, half, (), "", ()) for n, (v, half) in enumerate(marks)
    )
    line = (Stroke(((0.0, 0.0), (0.0, length)), Pen.LINE),)
    return Piece(
        "strip", "s", "rail", (), outline, line, (), spots, (), (), (), True, 0.0, 1, "zero"
    )


def random_strip(seed: int) -> Piece:
    rng = random.Random(seed)
    length, marks, v = rng.uniform(300, 900), [], rng.uniform(10, 60)
    while v < length - 5:
        marks.append((v, rng.uniform(4.5, 20)))
        v += rng.uniform(45, 140)
    return strip(length, marks)


def brute(piece: Piece, room: Room) -> tuple[int, float] | None:
    """The fewest joints and the widest clearance, by trying every place of a grid."""
    spans = free_spans(piece)

    def clear(v: float) -> float:
        return max(min(v - low, high - v) for low, high in spans)

    places = [n * GRID for n in range(int(piece.high / GRID)) if spans and clear(n * GRID) >= 0]
    if piece.high <= room.length:
        return 0, float("inf")
    clears = {v: clear(v) for v in places}
    best = {v: clears[v] for v in places if v <= room.reach(True, False)}
    for count in range(1, 40):
        done = [c for v, c in best.items() if piece.high - v <= room.reach(False, True)]
        if done:
            return count, max(done)
        step: dict[float, float] = {}
        for v in places:
            before = [c for u, c in best.items() if SHORTEST <= v - u <= room.reach(False, False)]
            if before:
                step[v] = min(max(before), clears[v])
        best = step
        if not best:
            return None
    return None


def fewest(piece: Piece, room: Room) -> int:
    """The fewest joints, by the places of a grid that each number of them can reach."""
    spans = free_spans(piece)
    places = [
        piece.low + n * GRID
        for n in range(int((piece.high - piece.low) / GRID))
        if any(low <= piece.low + n * GRID <= high for low, high in spans)
    ]
    if piece.high - piece.low <= room.length:
        return 0
    reached = [v for v in places if v - piece.low <= room.reach(True, False)]
    for count in range(1, 60):
        if piece.high - reached[-1] <= room.reach(False, True):
            return count
        reached = [
            v
            for v in places
            if bisect_right(reached, v - SHORTEST)
            > bisect_left(reached, v - room.reach(False, False))
        ]
    raise AssertionError("no number of joints does")


@pytest.mark.parametrize("seed", range(30))
def test_fewest_joints_and_clearest_of_them_against_trying_all(seed: int) -> None:
    piece, room = random_strip(seed), Room(random.Random(seed).uniform(150, 320))
    found = brute(piece, room)
    try:
        joints = plan_joints(piece, room)
    except NoJoint:
        assert found is None
        return
    if found is None:  # a grid can miss the one place there is
        assert tightest(piece, joints) < GRID
        return
    count, clearance = found
    assert len(joints) <= count
    if len(joints) == count and joints:
        assert tightest(piece, joints) >= clearance - 1e-3


@pytest.mark.parametrize("seed", range(30))
def test_every_tile_fits_and_every_joint_is_clear_of_marks(seed: int) -> None:
    piece, room = random_strip(seed), Room(random.Random(seed).uniform(200, 320))
    joints = plan_joints(piece, room)
    ends = [piece.low, *joints, piece.high]
    for index, (low, high) in enumerate(pairwise(ends)):
        lap = LAP if index < len(joints) else 0.0
        stick = STICK_OUT if index else 0.0
        assert high - low + lap + stick <= room.length + 1e-6
    for joint in joints:
        for spot in piece.spots:
            assert abs(joint - spot.at[1]) >= spot.half + CLEAR_OF_BASE - 1e-6


def test_no_legal_place_is_told() -> None:
    crowded = strip(600.0, [(v, 20.0) for v in range(20, 600, 45)])
    with pytest.raises(NoJoint):
        plan_joints(crowded, Room(200.0))


@pytest.mark.parametrize("paper", ["letter", "legal", "tabloid", "a4", "a3"])
@pytest.mark.parametrize("name", SAMPLE_NAMES)
def test_samples_have_the_fewest_joints_their_paper_allows(name: str, paper: str) -> None:
    setout = sample(name, paper)
    frame = Frame(setout.job.paper)
    for piece in cut_pieces(setout):
        cut = cut_for(piece, frame)
        tallest = frame.full_height if _may_be_tall(piece, frame) else frame.height
        assert len(cut.joints) <= fewest(piece.short or piece, Room(tallest))


def _may_be_tall(piece: Piece, frame: Frame) -> bool:
    us = [u for u, _ in piece.outline]
    return max(us) - min(us) <= frame.widest_tall


def test_a_run_of_10_1_4_goes_on_letter_whole() -> None:
    setout = long_flight()
    piece = next(p for p in cut_pieces(setout) if p.name.endswith("tread 2"))
    assert cut_for(piece, Frame(setout.job.paper)).joints == ()
