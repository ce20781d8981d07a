"""Stairs built in plan from their riser lines, taped there, and set out again from the tape.

The construction is the test's own: points in a plane that is turned and shifted at random, lines
between them, and lengths by Pythagoras. Nothing of it comes from the program.
"""

from __future__ import annotations

import random
from dataclasses import dataclass
from math import cos, dist, hypot, pi, radians, sin, tan

import pytest
from job_files import TREADS, changed, job_in, written

from stairjig.errors import BadInput
from stairjig.setout.build import set_out

CLOSE = 1e-6
SEEDS = range(60)
WIDTHS = (12.5, 16.0, 31.75)
Point = tuple[float, float]


@dataclass(frozen=True)
class Plane:
    """A frame laid anywhere: the line runs along `turn`, tread ends on its left or right."""

    origin: Point
    turn: float
    left: bool

    def at(self, along: float, out: float) -> Point:
        """The point so far up the line and so far out toward the tread ends."""
        side = out if self.left else -out
        return (
            self.origin[0] + along * cos(self.turn) - side * sin(self.turn),
            self.origin[1] + along * sin(self.turn) + side * cos(self.turn),
        )


@dataclass(frozen=True)
class Plan:
    """Riser lines across a flight: where each crosses the line, its skew, its length inside."""

    plane: Plane
    crossings: tuple[float, ...]
    skews: tuple[float, ...]
    inside: tuple[float, ...]
    line: float
    nosing: float

    def outer(self, riser: int) -> Point:
        """Where a riser's face meets the tread ends."""
        return self.plane.at(
            self.crossings[riser] + self.line * tan(radians(self.skews[riser])), self.line
        )

    def inner(self, riser: int) -> Point:
        """A point of the riser's face well inside, where the tape ends on the wall side."""
        depth = self.inside[riser]
        slope = tan(radians(self.skews[riser]))
        return self.plane.at(self.crossings[riser] - depth * slope, -depth)


def a_plan(seed: int, left: bool) -> Plan:
    """A flight of four treads: plain, skewed, and winders between them."""
    chance = random.Random(seed)
    plane = Plane(
        (chance.uniform(-5e3, 5e3), chance.uniform(-5e3, 5e3)), chance.uniform(0, 2 * pi), left
    )
    line, skew = chance.uniform(25, 60), chance.uniform(-30, 30)
    crossings, skews = [0.0], [skew]
    for _ in range(4):
        if chance.random() < 0.6:
            skew = max(-40.0, min(40.0, skew + chance.uniform(-18, 18)))
        crossings.append(crossings[-1] + chance.uniform(230, 290))
        skews.append(skew)
    inside = [chance.uniform(150, 230) for _ in crossings]
    return Plan(plane, tuple(crossings), tuple(skews), tuple(inside), line, 22.0)


def mm(length: float) -> str:
    return f"{length:.10f}"


def off_line(point: Point, start: Point, end: Point) -> float:
    """How far a point stands from the straight line through two others."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    return abs(dx * (point[1] - start[1]) - dy * (point[0] - start[0])) / hypot(dx, dy)


def taped_winder(plan: Plan, tread: int) -> str:
    a, b = plan.outer(tread), plan.outer(tread + 1)
    d, c = plan.inner(tread), plan.inner(tread + 1)
    sides = f"end: {mm(dist(a, b))}, back: {mm(dist(b, c))}, wall: {mm(dist(c, d))}"
    return (
        f"{{sides: {{{sides}, front: {mm(dist(d, a))}}}, diagonal: {mm(dist(a, c))}, "
        f"check_diagonal: {mm(dist(b, d))}}}"
    )


def taped_parallel(plan: Plan, tread: int, as_depth: bool) -> str:
    """Two risers that run side by side, taped square to them."""
    run = off_line(plan.outer(tread + 1), plan.outer(tread), plan.inner(tread))
    measure = f"depth: {mm(run + plan.nosing)}" if as_depth else f"run: {mm(run)}"
    return f"{{{measure}, skew: {plan.skews[tread]:.12f}}}"


def taped_on_the_line(plan: Plan, tread: int) -> str:
    start = plan.plane.at(plan.crossings[tread], 0)
    end = plan.plane.at(plan.crossings[tread + 1], 0)
    front, back = plan.skews[tread], plan.skews[tread + 1]
    return f"{{line_run: {mm(dist(start, end))}, front_skew: {front:.12f}, back_skew: {back:.12f}}}"


def taped(plan: Plan, seed: int) -> str:
    chance = random.Random(1000 + seed)
    items = []
    for tread in range(4):
        parallel = plan.skews[tread] == plan.skews[tread + 1]
        way = chance.random()
        if parallel and way < 0.6:
            items.append(taped_parallel(plan, tread, as_depth=way < 0.3))
        elif way < 0.8:
            items.append(taped_winder(plan, tread))
        else:
            items.append(taped_on_the_line(plan, tread))
    return f"[{', '.join(items)}]"


def job_of(plan: Plan, treads: str, per_tread: int = 2) -> bytes:
    kinds = ", ".join(f"k{n}: {{shape: round, width: {w}}}" for n, w in enumerate(WIDTHS))
    job = {
        "units": "mm", "openings": "{stair: 400}", "balusters": f"{{{kinds}}}",
        "pattern": "[k0, k1, k2]", "rail": "{height: 900, depth: 60, width: 60}",
    }  # fmt: skip
    section = {
        "side": "left" if plan.plane.left else "right", "rise": "180", "nosing": mm(plan.nosing),
        "line": mm(plan.line), "per_tread": str(per_tread), "treads": treads,
        "lower_newel": "{width: 90}", "upper_newel": "{width: 90}",
    }  # fmt: skip
    return written(job, changed(TREADS, section))


@pytest.mark.parametrize("left", [True, False], ids=["left", "right"])
@pytest.mark.parametrize("seed", SEEDS)
def test_a_stair_taped_in_plan_is_set_out_where_it_stands(seed, left):
    """Line runs, skews and marks of 480 treads, over a third of them winders, within 1e-6 mm."""
    plan = a_plan(seed, left)
    section = set_out(job_in(job_of(plan, taped(plan, seed)))).sections[0]
    assert [float(t.plan.back.s) for t in section.treads] == pytest.approx(
        list(plan.crossings[1:]), abs=CLOSE
    )
    skews = [section.treads[0].plan.front.skew, *(t.plan.back.skew for t in section.treads)]
    assert skews == pytest.approx(list(plan.skews), abs=1e-8)
    for tread in section.treads:
        check_marks(plan, tread)


def check_marks(plan, tread):
    """By the widths alone: each front face one gap behind the last back face, to the next riser."""
    start, end = plan.crossings[tread.plan.index], plan.crossings[tread.plan.index + 1]
    widths = [float(mark.type.width.mm) for mark in tread.marks]
    gap = (end - start - sum(widths)) / len(widths)
    front = start
    for mark, width in zip(tread.marks, widths, strict=True):
        place = plan.plane.at(float(mark.s), 0)
        assert dist(place, plan.plane.at(front + width / 2, 0)) < CLOSE
        riser = (plan.outer(tread.plan.index), plan.inner(tread.plan.index))
        square = float(mark.x) * cos(radians(tread.plan.front.skew))
        assert off_line(place, *riser) == pytest.approx(square, abs=CLOSE)
        front += width + gap
    assert float(tread.gap) == pytest.approx(gap, abs=CLOSE)


def test_enough_of_the_stairs_are_winders():
    plans = [a_plan(seed, left) for seed in SEEDS for left in (True, False)]
    shapes = [plan.skews[t] != plan.skews[t + 1] for plan in plans for t in range(4)]
    assert len(shapes) == 480
    assert sum(shapes) > 200


@pytest.mark.parametrize("seed", SEEDS[:12])
def test_the_nosings_stand_one_nosing_square_in_front_of_their_risers(seed):
    plan = a_plan(seed, left=True)
    section = set_out(job_in(job_of(plan, taped(plan, seed)))).sections[0]
    for riser, nosing in enumerate(section.nosings):
        place = plan.plane.at(float(nosing.s), 0)
        square = off_line(place, plan.outer(riser), plan.inner(riser))
        assert square == pytest.approx(plan.nosing, abs=CLOSE)
        assert float(nosing.s) < plan.crossings[riser]


@pytest.mark.parametrize("seed", SEEDS[:20])
def test_a_mirrored_stair_has_the_same_numbers(seed):
    """The tape reads the same on both hands, and so does the set-out."""
    left, right = a_plan(seed, left=True), a_plan(seed, left=False)
    here = set_out(job_in(job_of(left, taped(left, seed)))).sections[0]
    there = set_out(job_in(job_of(right, taped(right, seed)))).sections[0]
    assert [float(mark.s) for mark in here.marks] == pytest.approx(
        [float(mark.s) for mark in there.marks], abs=CLOSE
    )
    assert [mark.rail for mark in here.marks] == pytest.approx(
        [mark.rail for mark in there.marks], abs=CLOSE
    )


def winders(seeds):
    for seed in seeds:
        plan = a_plan(seed, left=True)
        for tread in range(4):
            if plan.skews[tread] != plan.skews[tread + 1]:
                yield plan, tread


@pytest.mark.parametrize(("off", "refused"), [(0.0, False), (3.1, False), (3.3, True)])
def test_a_winder_whose_diagonals_disagree_by_more_than_an_eighth_is_not_guessed(off, refused):
    count = 0
    for plan, tread in winders(SEEDS[:10]):
        b, d = plan.outer(tread + 1), plan.inner(tread)
        item = taped_winder(plan, tread)
        for sign in (1, -1):
            told = item.replace(mm(dist(b, d)), mm(dist(b, d) + sign * off))
            source = job_of(plan, f"[{told}]")
            count += 1
            if refused:
                with pytest.raises(BadInput, match="tape this tread again"):
                    set_out(job_in(source))
            else:
                assert set_out(job_in(source)).sections[0].marks
    assert count >= 20


def test_two_skews_taped_for_one_riser_are_averaged_within_a_degree():
    def flight(second):
        return written(None, changed(TREADS, {"treads": f"[{{run: 10, skew: 20}}, {second}]"}))

    setout = set_out(job_in(flight("{line_run: 11, front_skew: 20.9, back_skew: 20}")))
    low, high = setout.sections[0].treads
    assert low.plan.back.skew == high.plan.front.skew == pytest.approx(20.45)
    assert [w.text for w in setout.warnings if w.code == "riser-mean"] == [
        "treads 1 and 2 differ by 0.90° about the riser they share, 1/32″ at the tread end; "
        "the mean is taken"
    ]
    with pytest.raises(BadInput) as refused:
        set_out(job_in(flight("{line_run: 11, front_skew: 21.1, back_skew: 20}")))
    (problem,) = refused.value.problems
    assert "treads 1 and 2 share one riser" in problem.what
    assert "begin a new section" in problem.mend


def test_a_winder_at_odds_with_both_its_neighbours_is_the_one_named():
    """The design's winder (section 14), its two diagonals changed over, between plain treads."""

    def flight(diagonal):
        winder = "{sides: {end: 9 1/2, back: 38 13/16, wall: 24, front: 36}, diagonal: %s}"
        last = "{line_run: 9, front_skew: -21.8035, back_skew: -30}"
        treads = f"[{{line_run: 10, back_skew: 0.1338}}, {winder % diagonal}, {last}]"
        return job_in(written(None, changed(TREADS, {"treads": treads})))

    assert set_out(flight("43 1/4")).sections
    with pytest.raises(BadInput) as refused:
        set_out(flight("37 1/4"))
    (problem,) = refused.value.problems
    assert "tread 2 agrees with neither tread beside it" in problem.what
    assert "diagonals changed over" in problem.mend


WINDER = "{sides: {end: 9 1/2, back: 38 13/16, wall: 24, front: 36}, diagonal: 43 1/4}"
ODD = [
    ((WINDER, (-10, -20), (-30, -35)), ["treads 1 and 2", "treads 2 and 3"]),
    (((0, 0.1338), WINDER, (-10, -20)), ["treads 2 and 3"]),
    (((0, 9), (9, 20), WINDER), ["treads 2 and 3"]),
]


@pytest.mark.parametrize(("treads", "said"), ODD)
def test_a_winder_at_odds_with_one_neighbour_alone_is_not_the_one_named(treads, said):
    """Its own risers are skewed by 0.1338 and -21.8035 degrees (design, section 14)."""
    listed = [
        one
        if isinstance(one, str)
        else f"{{line_run: 9, front_skew: {one[0]}, back_skew: {one[1]}}}"
        for one in treads
    ]
    with pytest.raises(BadInput) as refused:
        set_out(job_in(written(None, changed(TREADS, {"treads": f"[{', '.join(listed)}]"}))))
    named = [problem.what for problem in refused.value.problems]
    assert all(f"{both} share one riser" in what for both, what in zip(said, named, strict=True))


@pytest.mark.parametrize(
    ("treads", "said"),
    [
        ("[{sides: {end: 9, back: 30, wall: 20, front: 30}, diagonal: 60}]", "can't close"),
        ("[{sides: {end: 9, back: 30, wall: 90, front: 30}, diagonal: 31}]", "can't close"),
        ("[{sides: {end: 9, back: 1, wall: 9, front: 1}, diagonal: 9}]", "beyond its wall side"),
        ("[{line_run: 4, front_skew: 75, back_skew: -75}]", "meet before the tread end"),
        ("[{line_run: 3, front_skew: 0, back_skew: 79}]", "nosing and the next one cross"),
    ],
)
def test_measures_that_make_no_tread_are_named(treads, said):
    with pytest.raises(BadInput, match=said) as refused:
        set_out(job_in(written(None, changed(TREADS, {"treads": treads}))))
    assert all("tread 1" in problem.what for problem in refused.value.problems)


def test_every_faulty_tread_is_named_in_one_go():
    bad = "{sides: {end: 9, back: 30, wall: 20, front: 30}, diagonal: 60}"
    with pytest.raises(BadInput) as refused:
        set_out(job_in(written(None, changed(TREADS, {"treads": f"[{bad}, 10, {bad}]"}))))
    assert ["tread 1" in p.what or "tread 3" in p.what for p in refused.value.problems] == [
        True,
        True,
    ]
