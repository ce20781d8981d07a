"""Taped strips: where joints stand so that a tape can set them, and what that is worth."""

from __future__ import annotations

import random
from dataclasses import replace
from functools import cache
from itertools import pairwise
from math import pi, sqrt
from statistics import fmean

import pytest
from benchmarks import taping
from packs import SAMPLE_NAMES, cut_pieces, sample
from test_joints import random_strip

from stairjig.lengths import INCH
from stairjig.sheets.frame import Frame
from stairjig.sheets.joints import LAP, STICK_OUT, NoJoint, Room, plan_joints
from stairjig.sheets.plan import cut_for

STEP = 25.4 / 16
EXACT = taping.Errors(
    along=0, across=0, close=0, edge=0, scale=0, damp=0, tape=0
)  # fmt: skip
PAPERS = ("letter", "legal", "tabloid", "a4", "a3")


@cache
def strip() -> taping.Strip:
    return taping.strip_of()


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", SAMPLE_NAMES)
def test_joints_of_the_samples_stand_on_whole_steps_of_their_readings(
    name: str, paper: str
) -> None:
    setout = sample(name, paper)
    for piece in cut_pieces(setout):
        cut = cut_for(piece, Frame(setout.job.paper))
        for joint in cut.joints:
            reading = (joint - cut.piece.zero) * cut.piece.sense
            assert reading == pytest.approx(float(setout.job.shown.rounded(reading)), abs=1e-6)


@pytest.mark.parametrize("seed", range(40))
def test_whole_steps_cost_no_joint_and_no_legal_place(seed: int) -> None:
    piece, room = random_strip(seed), Room(random.Random(seed).uniform(150, 320))
    try:
        anywhere = plan_joints(piece, room)
    except NoJoint:
        with pytest.raises(NoJoint):
            plan_joints(replace(piece, step=STEP), room)
        return
    joints = plan_joints(replace(piece, step=STEP, zero=7.3), room)
    assert len(joints) == len(anywhere)
    ends = [piece.low, *joints, piece.high]
    for index, (low, high) in enumerate(pairwise(ends)):
        needed = high - low + (LAP if index < len(joints) else 0) + (STICK_OUT if index else 0)
        assert needed <= room.length + 1e-6
    for joint in joints:
        assert all(abs(joint - spot.at[1]) >= spot.half + 6.0 - 1e-6 for spot in piece.spots)


def test_without_errors_every_way_of_taping_is_exact() -> None:
    whole = replace(strip(), ends=(*strip().ends[:-1], taping.TREADS * 323.85))
    for way in (taping.free, taping.laid, taping.by_lower, taping.by_middle):
        result = taping.simulate(way, whole, EXACT, 3)
        assert result.all_marks.worst < 1e-9
    rounding = taping.simulate(taping.by_readings, strip(), EXACT, 1)
    assert 0.5 * STEP >= rounding.all_marks.worst > 0.4 * STEP


def test_the_same_seed_draws_the_same_errors() -> None:
    once, again, other = (
        taping.simulate(taping.free, strip(), taping.Errors(), 20, seed) for seed in (4, 4, 5)
    )
    assert once == again != other


def test_errors_of_joints_on_the_rail_add_up_as_the_root_of_their_number() -> None:
    found = taping.simulate(taping.laid, strip(), taping.TRUE, 3000)
    joints = len(strip().ends) - 2
    assert found.far.mean == pytest.approx(0.25 * sqrt(joints) * sqrt(2 / pi), rel=0.05)


def test_damp_alone_moves_the_far_mark_by_its_share() -> None:
    damp = replace(EXACT, damp=0.003)
    found = taping.simulate(taping.laid, strip(), damp, 1)
    assert found.far.worst == pytest.approx(0.003 * strip().marks[-1], rel=1e-9)


def test_a_strip_joined_free_bends_less_the_further_apart_its_registration_marks_stand() -> None:
    near, wide = (
        taping.simulate(taping.free, strip(), replace(taping.TRUE, apart=apart), 1000).aside.mean
        for apart in (18.0, 48.0)
    )
    assert near / wide == pytest.approx(48 / 18, rel=0.1)
    assert wide > 15.0  # too crooked for a rail at any distance that a strip allows


def test_tiles_set_by_both_readings_hold_every_mark_within_a_sixteenth() -> None:
    found = taping.simulate(taping.by_middle, strip(), taping.PASSED, 800)
    assert found.all_marks.worst < INCH / 16
    assert found.all_marks.most < INCH / 32 + 0.02
    rounded = taping.simulate(taping.by_middle, strip(), taping.ROUNDED, 500)
    assert rounded.all_marks.most > found.all_marks.most + 0.2


def test_tiles_set_by_one_end_are_further_off_than_shared() -> None:
    lower, shared = (
        taping.simulate(way, strip(), taping.PASSED, 500).all_marks.most
        for way in (taping.by_lower, taping.by_middle)
    )
    assert lower > 1.3 * shared


def test_the_furthest_mark_is_never_nearer_than_the_far_one() -> None:
    for row in taping.rows():
        found = taping.simulate(row.way, strip(), row.errors, 50)
        assert found.all_marks.mean >= found.far.mean
        assert found.far.mean <= found.far.most <= found.far.worst


def test_a_shorter_flight_is_truer() -> None:
    sizes = [
        taping.simulate(taping.laid, taping.strip_of(treads), taping.Errors(), 300).far.mean
        for treads in (4, 8, 16)
    ]
    assert sizes == sorted(sizes)
    assert fmean(sizes) > 0
