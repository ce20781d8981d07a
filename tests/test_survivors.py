"""The geometry's parts one by one, at their edges: what whole set-outs leave alike.

Millimetres; the figures follow from triangles with whole sides and from the formulas beside them.
"""

from __future__ import annotations

import random
from dataclasses import replace
from fractions import Fraction
from math import atan, cos, dist, inf, radians, tan

import pytest

from stairjig.errors import BadInput, Place
from stairjig.job.model import (
    Baluster,
    Hole,
    Line,
    Newel,
    Rail,
    RailTaped,
    Sides,
    Tread,
    TreadsSection,
)
from stairjig.lengths import Angle, Length, Shown
from stairjig.rules import Limit, RuleSet
from stairjig.setout import clearance, counts, newels, openings, pitch, plan, rail, spacing
from stairjig.setout import winder as winders
from stairjig.setout.values import Nosing, PlanTread, Riser, SetNewel

HERE = Place("flight.yaml", 3, 1)
IN_MM = Shown("mm", Fraction(1))


def lay_plan(section):
    return plan.lay_plan(section, IN_MM)


def winder(sides, line, number, where=None):
    return winders.winder(sides, line, number, IN_MM, where)


def mm(value):
    return Length(Fraction(value))


def kind(width=20, narrowest=None, base=None, holes=(None, None), shape="square"):
    widths = (mm(width), mm(narrowest or width), mm(base or width))
    return Baluster("b", shape, *widths, "square", *holes, mm(3))


def tread(index=0, front=0, run=240, skews=(0.0, 0.0), **more):
    own = {"front_nosing": 20, "back_nosing": 20, "square_nosing": 20, "end_front": 40,
           "end_back": 40, "bare": False, "skew": None, **more}  # fmt: skip
    if skews[0] == skews[1]:
        own["skew"] = skews[0]
    ends = (Riser(Fraction(front), skews[0]), Riser(Fraction(front + run), skews[1]))
    return PlanTread(index, index + 1, *ends, Fraction(run), **own)


def section(*treads, nosing=20):
    post = Newel("post", mm(90), mm(90))
    return TreadsSection(
        "Flight", post, post, ("b",), Rail(mm(900), mm(60), mm(60)), "left",
        (mm(180),), mm(nosing), Line(mm(40), mm(50)), treads,
    )  # fmt: skip


def on_line(number, run=250, front=0, back=0):
    skews = (Angle(Fraction(front)), Angle(Fraction(back)))
    return Tread(number, None, None, mm(run), None, *skews, where=HERE)


def placed(*places, of=None):
    return tuple(spacing.Placed(of or kind(), Fraction(s), 0, Fraction(s)) for s in places)


# The plan.


def test_a_length_square_to_a_riser_is_longer_along_the_line_by_the_cosine():
    assert plan.over_cos(Fraction(20), 0) == 20
    assert isinstance(plan.over_cos(Fraction(20), 0), Fraction)
    for skew in (30.0, -30.0, 1.0):
        assert plan.over_cos(Fraction(20), skew) == pytest.approx(20 / cos(radians(skew)))


def test_the_run_square_to_the_risers_is_the_line_run_times_the_cosine():
    assert plan.square_run(tread()) == 240
    assert isinstance(plan.square_run(tread()), Fraction)
    assert plan.square_run(tread(skews=(30.0, 30.0))) == pytest.approx(240 * cos(radians(30)))
    assert plan.square_run(tread(skews=(1.0, 1.0))) == pytest.approx(240 * cos(radians(1)))
    assert plan.square_run(tread(skews=(0.0, 1.0))) is None


@pytest.mark.parametrize("skew", [30.0, -30.0, 1.0, -1.0])
def test_a_base_meets_a_skewed_riser_with_its_corner_or_its_rim(skew):
    angle = radians(skew)
    assert plan.reach(skew, Fraction(15), "square") == pytest.approx(15 + 15 * abs(tan(angle)))
    assert plan.reach(skew, Fraction(15), "round") == pytest.approx(15 / cos(angle))


def test_a_base_reaches_half_its_size_to_a_square_riser():
    assert isinstance(plan.reach(0, Fraction(15), "square"), Fraction)
    assert plan.reach(0, Fraction(15), "round") == 15


def test_the_tread_end_meets_each_riser_at_its_own_distance_from_the_line():
    ends = plan.edge_ends(tread(skews=(30.0, -20.0), end_front=40, end_back=70))
    assert ends[0] == pytest.approx((40 * tan(radians(30)), 40))
    assert ends[1] == pytest.approx((240 - 70 * tan(radians(20)), 70))


def sides(end=300, back=400, wall=300, front=400, diagonal=500, check=None):
    lengths = (mm(length) for length in (end, back, wall, front, diagonal))
    return Sides(*lengths, None if check is None else Length(Fraction(check), "", HERE))


def test_a_rectangle_of_three_four_five_is_a_plain_tread():
    found = winder(sides(check=500), mm(40), 1)
    assert found.line_run == pytest.approx(300)
    assert (found.front_skew, found.back_skew) == pytest.approx((0, 0), abs=1e-9)


def test_a_winder_of_two_right_triangles_has_its_slopes_by_their_sides():
    """A at the origin, B 300 on, C 300 on and 400 in; D 300 square off AC's foot: (-84, ...)."""
    found = winder(sides(end=300, back=400, wall=400, front=300), mm(100), 1)
    d = (300 * 300 / 500 * 0.6 - 240 * 0.8, 300 * 300 / 500 * 0.8 + 240 * 0.6)
    assert found.front_skew == pytest.approx(-_degrees(d[0] / d[1]))
    assert found.back_skew == pytest.approx(0, abs=1e-9)
    assert found.line_run == pytest.approx(300 - 100 * d[0] / d[1])


def _degrees(slope):
    return atan(slope) / radians(1)


@pytest.mark.parametrize(
    "flat",
    [{"end": 300, "back": 200, "diagonal": 500}, {"wall": 200, "front": 300}],
)
def test_sides_that_lie_flat_on_the_diagonal_close_no_tread(flat):
    with pytest.raises(BadInput, match="tread 4: these sides") as refused:
        winder(sides(**flat), mm(40), 4, HERE)
    assert refused.value.problems[0].where == HERE


@pytest.mark.parametrize(("line", "taken"), [(399, True), (400, False), (401, False)])
def test_the_line_lies_inside_the_wall_side(line, taken):
    if taken:
        assert winder(sides(), mm(line), 1).line_run == pytest.approx(300)
        return
    with pytest.raises(BadInput, match="beyond its wall side"):
        winder(sides(), mm(line), 1)


@pytest.mark.parametrize(
    ("check", "said"),
    [("503.174", None), ("496.826", None), ("503.176", "is 3.25 mm longer"),
     ("496.824", "is 3.25 mm shorter"), ("525.4", "is 25.5 mm longer")],
)  # fmt: skip
def test_the_other_diagonal_is_held_to_an_eighth_of_an_inch(check, said):
    told = sides(check=check)
    if said is None:
        assert winder(told, mm(40), 1)
        return
    with pytest.raises(BadInput, match=said) as refused:
        winder(told, mm(40), 1, Place("flight.yaml", 9, 1))
    assert refused.value.problems[0].where == HERE


def test_treads_stand_one_behind_the_other_with_what_was_taped_of_each():
    treads, notes = lay_plan(section(on_line(1, 250, 0, 10), on_line(2, 260, 10, 0)))
    low, high = treads
    assert notes == ()
    assert (low.front.s, low.back.s, high.front.s, high.back.s) == (0, 250, 250, 510)
    assert (low.index, high.index, low.number, high.number) == (0, 1, 1, 2)
    assert (low.back.skew, high.front.skew, high.back.skew) == (10, 10, 0)
    assert low.front_nosing == low.square_nosing == high.back_nosing == 20
    assert low.back_nosing == high.front_nosing == pytest.approx(20 / cos(radians(10)))
    assert (low.end_front, low.end_back, low.bare) == (40, 50, False)


@pytest.mark.parametrize(("second", "mean"), [(20, 20), (21, 20.5), (19, 19.5)])
def test_a_whole_degree_about_one_riser_is_still_averaged(second, mean):
    treads, notes = lay_plan(section(on_line(1, back=20), on_line(2, front=second)))
    assert treads[0].back.skew == treads[1].front.skew == mean
    assert len(notes) == (second != 20)


@pytest.mark.parametrize(("back", "skew"), [(20, 20), (19.5, None), (20.5, None)])
def test_a_stretch_has_one_skew_where_both_its_risers_have_it(back, skew):
    assert winders.Stretch(250, 20, back).skew == skew


def test_a_tread_keeps_the_one_skew_that_it_was_measured_with():
    treads, _ = lay_plan(section(on_line(1, front=20, back=20), on_line(2, front=21, back=30)))
    assert [(tread.skew, tread.tapered) for tread in treads] == [(20, False), (None, True)]


@pytest.mark.parametrize(
    ("origin", "place"),
    [("end", "the tread end"), ("string", "50 mm from the line"), ("wall", "50 mm from the line")],
)
def test_a_mean_is_told_as_a_length_where_it_is_most(origin, place):
    """50 (tan 21 - tan 20) is 0.995 mm."""
    flight = section(on_line(1, front=20, back=20), on_line(2, front=21, back=21))
    _, notes = lay_plan(replace(flight, line=Line(mm(40), mm(50), origin)))
    assert [note.text.partition("share, ")[2] for note in notes] == [
        f"1 mm at {place}; the mean is taken"
    ]


@pytest.mark.parametrize("second", ["18.99", "21.01"])
def test_more_than_a_degree_about_one_riser_is_refused_at_the_upper_tread(second):
    with pytest.raises(BadInput, match="treads 1 and 2 share one riser") as refused:
        lay_plan(section(on_line(1, back=20), on_line(2, front=Fraction(second))))
    assert refused.value.problems[0].where == HERE


@pytest.mark.parametrize(("end", "fault"), [(41, None), (39, "meet")])
def test_risers_may_not_meet_at_the_tread_end(end, fault):
    """45 degrees on a run of 40: they meet 40 out."""
    skews = (_degrees(1.0), 0.0)
    found = list(plan._shape_faults(tread(run=end, skews=skews), True))
    assert ["meet" in words for words in found] == ([True] if fault else [])
    assert not list(plan._shape_faults(tread(run=end, skews=skews), False))
    assert any("meet" in words for words in plan._shape_faults(tread(run=0), True))
    assert not list(plan._shape_faults(tread(end_front=300, end_back=300), True))


@pytest.mark.parametrize(("back", "crossed"), [(259, 0), (260, 1), (261, 1)])
def test_a_tread_has_wood_on_the_line_between_its_nosing_and_the_next(back, crossed):
    assert len(list(plan._shape_faults(tread(back_nosing=back), True))) == crossed


def test_a_winder_taped_anywhere_has_both_its_skews_and_its_other_diagonal():
    """Feet in millimetres: the risers lean 50 and -80 on 400, the wall side is not parallel."""
    a, b, c, d = (0, 0), (260, 0), (210, -400), (80, -380)
    lengths = [Length(Fraction(dist(*ends))) for ends in ((a, b), (b, c), (c, d), (d, a), (a, c))]
    taped = Sides(*lengths, Length(Fraction(dist(b, d))))
    found = winder(taped, mm(40), 1)
    assert found.front_skew == pytest.approx(_degrees(-80 / 380))
    assert found.back_skew == pytest.approx(_degrees(50 / 400))
    assert found.line_run == pytest.approx(260 - 5 - 8 / 0.95)
    off = Sides(*lengths, Length(Fraction(dist(b, d) - 4)))
    with pytest.raises(BadInput, match="shorter"):
        winder(off, mm(40), 1)


def test_a_run_is_as_taped_and_a_depth_is_less_its_nosing():
    run = Tread(1, mm(250))
    depth = Tread(2, None, mm(275))
    skewed = Tread(3, mm(250), front_skew=Angle(Fraction(0)), back_skew=Angle(Fraction(0)))
    treads, _ = lay_plan(section(run, depth, skewed))
    assert [tread.line_run for tread in treads] == [250, 255, 250]
    assert plan.square_run(tread(skews=(-30.0, -30.0))) == pytest.approx(240 * cos(radians(30)))


def test_the_last_risers_skew_is_the_last_treads():
    flight = section(on_line(1), on_line(2, back=5), on_line(3, front=5, back=9))
    assert [t.back.skew for t in lay_plan(flight)[0]] == [0, 5, 9]
    assert lay_plan(section(on_line(1, back=7)))[0][0].back.skew == 7


def test_every_tread_that_cannot_close_is_named_and_one_without_an_end_may_narrow_there():
    flat = Tread(1, sides=sides(wall=200, front=300), where=HERE)
    with pytest.raises(BadInput) as refused:
        lay_plan(section(flat, on_line(2), replace(flat, number=3)))
    assert [problem.what[:7] for problem in refused.value.problems] == ["tread 1", "tread 3"]
    narrow = on_line(1, 60, 70, -50)
    with pytest.raises(BadInput, match="meet before the tread end") as refused:
        lay_plan(section(narrow, nosing=0))
    assert refused.value.problems[0].where == HERE
    for origin in ("string", "wall"):
        free = replace(section(narrow, nosing=0), line=Line(mm(40), mm(50), origin))
        assert lay_plan(free)[0][0].line_run == 60
        plain = replace(section(on_line(1)), line=Line(mm(40), mm(50), origin))
        assert lay_plan(plain)[0][0].line_run == 250


# Spacing.


def test_a_pattern_goes_round_and_its_widths_add_up():
    types = (kind(20, 18), kind(30, 20), kind(40))
    pattern = spacing.Pattern(types)
    assert [pattern.at(n) for n in range(4)] == [*types, types[0]]
    assert pattern.take(2, 3) == (types[2], types[0], types[1])
    assert [pattern.widths(n) for n in range(8)] == [0, 20, 50, 90, 110, 140, 180, 200]
    assert [pattern.slack(n) for n in range(5)] == [1, 5, 0, 1, 5]
    assert [pattern.widest_pair(n) for n in range(6)] == [0, 0, 6, 6, 6, 6]
    wide = spacing.Pattern((kind(20, 18), kind(40), kind(30, 20), kind(50, 40)))
    assert [wide.widest_pair(n) for n in range(6)] == [0, 0, 1, 5, 10, 10]
    around = spacing.Pattern((kind(30, 20), kind(40), kind(30, 20)))
    assert [around.widest_pair(n) for n in range(2, 6)] == [5, 5, 10, 10]


def test_a_row_between_faces_has_a_gap_at_each_end():
    gap, places = spacing.between_faces(Fraction(200), (kind(20), kind(30)))
    assert (gap, places) == (50, (60, 135))
    gap, places = spacing.on_tread(Fraction(250), (kind(20), kind(30)), 5)
    assert (gap, places) == (100, (15, 140))


@pytest.mark.parametrize(("count", "words"), [(1, "1 baluster is"), (2, "2 balusters are")])
def test_balusters_that_just_fill_a_run_leave_no_gap(count, words):
    full, less = tread(run=20 * count), tread(run=20 * count + 1)
    with pytest.raises(BadInput, match="wider than its run"):
        spacing.tread_row([tread(run=20 * count - 1)], {0: count}, spacing.Pattern((kind(20),)), 0)
    pattern = spacing.Pattern((kind(20),))
    assert spacing.tread_row([less], {0: count}, pattern, 0)[1] == {0: Fraction(1, count)}
    with pytest.raises(BadInput, match=f"tread 1: {words} wider than its run"):
        spacing.tread_row([full], {0: count}, pattern, 0)


def test_a_bare_tread_is_passed_over_and_the_pattern_goes_on_behind_it():
    types = (kind(20), kind(40))
    treads = [tread(0, 0), tread(1, 240, bare=True), tread(2, 480)]
    row, gaps = spacing.tread_row(treads, {0: 1, 2: 1}, spacing.Pattern(types), 3)
    assert [(p.type, p.s, p.tread, p.x) for p in row] == [
        (types[0], 13, 0, 13), (types[1], 503, 2, 23),
    ]  # fmt: skip
    assert gaps == {0: 220, 2: 200}
    assert spacing.Placed(types[0], Fraction(5)).x == 0


# Openings.


def set_newel(end, post, gap=50, widths=(90, 80)):
    return SetNewel(end, "post" if post else "wall", *widths, 0, 0, Fraction(gap), False, None)


def test_clear_gaps_are_the_layouts_and_what_narrows_on_each_side():
    row = rail.numbered(placed(0, 100, of=kind(20, 14)), {0: 7})
    found = openings.clear_gaps(row, set_newel("lower", True), set_newel("upper", False, 60))
    assert found == (
        (("lower newel", "7-1"), 50 + 5 + 3),
        (("7-1", "7-2"), 100 - 20 + 6),
        (("7-2", "upper wall"), 60 + 5 + 3),
    )
    assert openings.clear_gaps(row, None, None) == ((("7-1", "7-2"), 86),)


def test_each_end_gap_counts_the_narrowest_part_of_its_own_baluster():
    kinds = [kind(20, 18), kind(20, 14), kind(20, 10), kind(20, 6)]
    row = [spacing.Placed(k, Fraction(100 * (n + 1))) for n, k in enumerate(kinds)]
    ends = set_newel("lower", False), set_newel("upper", True, 60)
    found = openings.clear_gaps(rail.numbered(row, {}), *ends)
    assert [between for between, _ in found] == [
        ("lower wall", "1"), ("1", "2"), ("2", "3"), ("3", "4"), ("4", "upper newel"),
    ]  # fmt: skip
    assert [clear for _, clear in found] == [50 + 5 + 1, 84, 88, 92, 60 + 5 + 7]


def test_an_opening_is_held_against_the_limit_of_its_own_rule():
    limits = {"stair": 100, "level": 90, "triangle": 150}
    rules = RuleSet("own", "", True, **{k: Limit(Fraction(v), "") for k, v in limits.items()})
    for rule, limit in limits.items():
        assert openings.limit_of(rules, rule).mm == limit
        for clear, passes in ((limit - 1, True), (limit, False), (limit + 1, False)):
            found = openings.judged(("a", "b"), rule, Fraction(clear), rules)
            assert (found.limit, found.passes, found.clear) == (limit, passes, clear)
    found = openings.judged(("a", "b"), "stair", Fraction(5), RuleSet("none", "", True))
    assert (found.limit, found.passes) == (None, None)


def test_the_triangles_sphere_is_a_right_triangles_incircle():
    """3-4-5 has 2; lifted or with a nosing the triangle grows as its legs do."""
    assert openings.triangle_sphere(3, 4, 0, 0) == pytest.approx(2)
    assert openings.triangle_sphere(3, 4, 0, 3) == pytest.approx(4)
    assert openings.triangle_sphere(3, 4, 2, 0) == pytest.approx(3)


# The pitch line.


def test_a_straightedge_rests_on_the_nosings_that_stand_out():
    points = [(0, 0), (10, 6), (20, 14), (30, 21), (40, 26)]
    assert pitch.upper_hull(points) == [(0, 0), (30, 21), (40, 26)]
    line = pitch.resting_line(points)
    assert (tan(line.pitch), line.at_zero) == pytest.approx((0.7, 0))
    assert line.height(10) == pytest.approx(7)
    under = pitch.nosings_under(points, line)
    assert [n.under for n in under] == pytest.approx([0, 1, 0, 0, 2], abs=1e-9)
    assert isinstance(under[0], Nosing)
    assert (under[1].s, under[1].height) == (10, 6)


def test_at_a_corner_over_the_middle_the_lower_edge_carries():
    steep_first = [(5, 5), (15, 13), (25, 19)]
    line = pitch.resting_line(steep_first)
    assert (tan(line.pitch), line.at_zero) == pytest.approx((0.8, 1))
    off = [(5, 5), (15 - Fraction(1, 1000), 13), (25, 19)]
    assert tan(pitch.resting_line(off).pitch) == pytest.approx(0.6, abs=1e-3)


def test_the_hull_is_every_point_that_lies_over_all_lines_across_it():
    chance = random.Random(11)
    for _ in range(60):
        points = [(10 * n + chance.randint(-3, 3), chance.randint(-20, 20) + n) for n in range(7)]

        def under(at, low, high):
            slope = Fraction(high[1] - low[1], high[0] - low[0])
            return at[1] <= low[1] + slope * (at[0] - low[0])

        over = [
            at for n, at in enumerate(points)
            if not any(under(at, low, high) for low in points[:n] for high in points[n + 1 :])
        ]  # fmt: skip
        assert pitch.upper_hull(points) == over
        line, middle = pitch.resting_line(points), (points[0][0] + points[-1][0]) / 2
        low = max(p for p in over if p[0] < middle)
        high = min(p for p in over if p[0] >= middle)
        assert line.height(low[0]) == pytest.approx(low[1])
        assert line.height(high[0]) == pytest.approx(high[1])


def test_a_pitch_line_needs_two_nosings():
    with pytest.raises(ValueError, match="two nosings"):
        pitch.resting_line([(0, 0)])


def test_a_line_of_given_pitch_rests_on_the_highest_nosing():
    line = pitch.line_at_pitch([(0, 0), (10, 9), (20, 14)], atan(0.7))
    assert (line.pitch, line.at_zero) == pytest.approx((atan(0.7), 2))


def test_nosings_stand_in_front_of_their_risers_and_at_the_height_of_all_rises_below():
    treads = [tread(0, 0, front_nosing=21), tread(1, 240, front_nosing=22),
             tread(2, 480, back_nosing=23)]  # fmt: skip
    found = pitch.nosing_points(treads, [180, 190, 200, 10])
    assert found == ((-21, 180), (218, 370), (460, 570), (697, 580))


# The rail.


def test_marks_are_numbered_on_each_tread_or_straight_on():
    row = (*placed(1, 2), spacing.Placed(kind(), Fraction(3), 1))
    assert [(m.name, m.tread) for m in rail.numbered(row, {0: 4, 1: 5})] == [
        ("4-1", 4), ("4-2", 4), ("5-1", 5),
    ]  # fmt: skip
    level = [spacing.Placed(kind(), Fraction(s)) for s in (1, 2)]
    assert [(m.name, m.tread) for m in rail.numbered(level, {})] == [("1", None), ("2", None)]


@pytest.mark.parametrize(("start", "end"), [("1-1", "1-2"), ("1-2", "1-1")])
def test_a_taped_length_gives_the_pitch_whichever_end_is_named_first(start, end):
    named = rail.numbered(placed(100, 400), {0: 1})
    found = rail.taped_pitch(RailTaped(start, end, mm(500), HERE), named)
    assert cos(found) == pytest.approx(0.6)


@pytest.mark.parametrize(
    ("start", "end", "length"),
    [
        ("1-1", "1-2", 300),
        ("1-1", "1-2", 250),
        ("1-1", "1-1", 300),
        ("1-3", "1-2", 500),
        ("1-1", "1-3", 500),
    ],
)
def test_a_taped_length_no_longer_than_the_level_is_refused(start, end, length):
    named = rail.numbered(placed(100, 400), {0: 1})
    with pytest.raises(BadInput, match="rail_taped") as refused:
        rail.taped_pitch(RailTaped(start, end, mm(length), HERE), named)
    assert refused.value.problems[0].where == HERE


FIVE_FOUR_THREE = pitch.PitchLine(atan(0.75), 100.0)


def test_the_rails_frame_starts_at_its_first_mark_and_is_longer_by_the_cosine():
    ends = (
        SetNewel("lower", "post", 90, 90, Fraction(-40), 0, 0, False, None),
        SetNewel("upper", "post", 90, 90, Fraction(840), 0, 0, False, None),
    )
    wood = Rail(mm(900), mm(60), mm(50))
    found = rail.set_rail(FIVE_FOUR_THREE, Fraction(40), ends, [(1, 0), (2, 240)], wood, 20.0)
    assert (found.lower, found.upper, found.length) == pytest.approx((-100, 1000, 1100))
    assert found.risers == ((1, pytest.approx(-50)), (2, pytest.approx(250)))
    assert (found.prop, found.height_at_zero) == pytest.approx((900 - 80 / 0.8, 100))
    bare = rail.set_rail(FIVE_FOUR_THREE, Fraction(40), (None, None), [], wood)
    assert (bare.lower, bare.upper, bare.prop) == (None, None, pytest.approx(900 - 60 / 0.8))


def test_a_mark_has_its_place_on_the_rail_and_its_lengths():
    bored = kind(holes=(Hole(mm(10), mm(25)), Hole(mm(10), mm(15))))
    named = rail.numbered(placed(40, 440, of=bored), {0: 1})
    low, high = rail.marks_on(named, FIVE_FOUR_THREE, 800.0, [180, 360], False)
    assert (low.rail, high.rail) == pytest.approx((0, 500))
    assert (low.visible, high.visible) == pytest.approx((100 + 30 + 800 - 180, 430 + 800 - 360))
    assert low.cut == pytest.approx(low.visible + 25 + 15 - 3)
    assert low.long_point == pytest.approx(7.5)
    assert (low.x, low.s, low.tread, high.name) == (40, 40, 1, "1-2")
    plowed = rail.marks_on(named, FIVE_FOUR_THREE, 800.0, [180, 360], True)
    assert [mark.cut for mark in plowed] == [None, None]


def test_off_the_treads_a_marks_x_is_its_s():
    level = [spacing.Placed(kind(), Fraction(70))]
    (mark,) = rail.marks_on(rail.numbered(level, {}), pitch.PitchLine(0.0, 0.0), 800.0, [0], False)
    assert (mark.x, mark.tread, mark.cut) == (70, None, None)


@pytest.mark.parametrize(("prop", "depths", "taken"), [
    (0.5, (5, 5), True), (0.0, (5, 5), False), (-1.0, (5, 5), False),
    (0.5, (1, 1), False), (1.0, (1, 1), False), (1.5, (1, 1), True), (0.5, None, True),
])  # fmt: skip
def test_a_baluster_needs_some_length_between_tread_and_rail_and_to_cut(prop, depths, taken):
    holes = tuple(Hole(mm(10), mm(d)) for d in depths) if depths else (None, None)
    named = rail.numbered(placed(0, of=kind(holes=holes)), {0: 1})
    level = pitch.PitchLine(0.0, 0.0)
    if taken:
        assert rail.marks_on(named, level, prop, [0], False)[0].visible == prop
        return
    with pytest.raises(BadInput, match="no length for the baluster of mark 1-1"):
        rail.marks_on(named, level, prop, [0], False)


def test_a_cut_length_needs_both_holes():
    hole = Hole(mm(10), mm(25))
    assert rail.cut_length(kind(holes=(hole, None)), 800.0) is None
    assert rail.cut_length(kind(holes=(None, hole)), 800.0) is None
    assert rail.cut_length(kind(holes=(hole, hole)), 800.0) == 847


def test_a_bow_moves_a_plumbed_mark_as_a_parabola_does():
    angle = atan(0.75)
    places = {0.0: 0, 0.25: 2.25, 0.5: 3, 0.75: 2.25, 1.0: 0}
    for at, moved in places.items():
        assert rail.bow_shift(4, angle, at) == pytest.approx(moved, abs=1e-12)
    assert rail.bow_shift(4, angle) == pytest.approx(3)
    assert rail.bow_shortening(3, 1000) == pytest.approx(0.024)
    assert rail.plumb_length(16, angle) == pytest.approx(20)


# Newels.


POST = Newel("post", mm(90), mm(70))


def test_a_newels_slack_is_half_of_what_it_narrows_by_and_a_wall_has_none():
    assert newels.slack(POST) == 10
    assert newels.slack(Newel("wall", mm(90), mm(70))) == 0


def test_a_standing_newel_is_measured_from_the_riser_at_its_end():
    treads = [tread(0, 10), tread(1, 250), tread(2, 490)]
    stood = Newel("post", mm(90), mm(90), "face", mm(5))
    assert newels.standing_face(stood, "lower", treads) == 15
    assert newels.standing_face(stood, "upper", treads) == 735
    assert newels.standing_face(POST, "lower", treads) is None
    assert newels.standing_face(Newel("post", place="face"), "lower", treads) is None
    found = newels.stand(stood, "upper", treads, (), Fraction(3))
    assert (found.face, found.stands, found.takes) == (735, True, True)


def test_a_newel_in_a_balusters_place_has_its_face_where_that_ones_was():
    row = rail.numbered(placed(100, 200), {0: 1})
    takes = Newel("post", mm(90), mm(90), "replaces", None, "1-2")
    for end, face in (("lower", 210), ("upper", 190)):
        found = newels.stand(takes, end, [tread()], row, Fraction(3))
        assert (found.face, found.stands, found.takes) == (face, False, True)
    found = newels.stand(POST, "lower", [tread()], row, Fraction(3))
    assert (found.face, found.stands, found.takes) == (3, False, False)
    assert newels.stand(Newel("none"), "lower", [tread()], row, Fraction(3)) is None


def test_a_newel_in_a_balusters_place_is_counted_from_the_first_tread_and_its_first_place():
    treads = [tread(3), tread(4), tread(5)]
    takes = Newel("post", mm(90), mm(70), "replaces", None, "5-3")
    stood = Newel("post", mm(90), mm(90), "face", mm(5))
    for newel, what in ((takes, (10, False, (1, 2))), (POST, (10, False, None)),
                        (stood, (0, True, None))):  # fmt: skip
        found = newels.beside(newel, treads)
        assert (found.slack, found.stands, found.takes) == what


@pytest.mark.parametrize(("name", "count"), [("1-9", 2), ("2-1", 0), (None, 0)])
def test_a_baluster_that_is_not_there_is_told_with_how_many_there_are(name, count):
    row = rail.numbered(placed(100, 200), {0: 1})
    missing = Newel("post", mm(90), mm(90), "replaces", None, name, HERE)
    with pytest.raises(BadInput) as refused:
        newels.stand(missing, "lower", [tread()], row, Fraction(3))
    (problem,) = refused.value.problems
    assert problem.mend.endswith(f"has {count}")
    assert problem.where == HERE


def test_what_a_newel_overlaps_is_taken_by_its_base_and_what_it_touches_is_left():
    row = placed(100, 200, 300, of=kind(20, 20, 30))
    taking = [newels.Stand(Fraction(f), takes=True) for f in (85, 86, 315, 314)]
    assert newels.clear_of(row, taking[0], taking[2]) == row
    assert newels.clear_of(row, taking[1], None) == row[1:]
    assert newels.clear_of(row, None, taking[3]) == row[:2]
    assert newels.clear_of(row, taking[1], taking[3]) == row[1:2]
    found = newels.Stand(Fraction(200))
    assert newels.clear_of(row, found, found) == row
    with pytest.raises(BadInput, match="no room"):
        newels.clear_of(row, taking[2], None)
    wide = placed(100, of=kind(30, 30, 20))
    assert newels.clear_of((*wide, *row[1:]), taking[1], None) == row[1:]


@pytest.mark.parametrize(
    ("end", "face", "centre", "gap", "even"),
    [("lower", 50, 5, 40, 83), ("upper", 260, 305, 50, 217)],
)
def test_a_newel_in_its_place_has_its_centre_its_gap_and_the_face_that_would_even_it(
    end, face, centre, gap, even
):
    row = placed(100, 150, 200)
    stood = newels.Stand(Fraction(face), stands=True, takes=True)
    found = newels.set_newel(POST, end, stood, row, Fraction(7))
    assert (found.face, found.centre, found.gap, found.even_face) == (face, centre, gap, even)
    assert (found.end, found.kind, found.width, found.narrowest) == (end, "post", 90, 70)
    assert found.stands
    free = newels.set_newel(POST, end, newels.Stand(Fraction(face)), row, Fraction(7))
    assert (free.even_face, free.stands) == (None, False)
    assert newels.set_newel(POST, end, None, row, Fraction(7)) is None
    wall = newels.set_newel(Newel("wall"), end, stood, row, Fraction(7))
    assert (wall.kind, wall.centre) == ("wall", face)


# Clearance.


SPANS = ((-inf, 0.0), (100.0, 120.0), (220.0, 240.0), (340.0, inf))


@pytest.mark.parametrize(
    ("s", "clear"),
    [(40, 40), (60, 40), (100, 0), (105, -5), (118, -2), (130, 10), (200, 20), (350, -10)],
)
def test_clearance_is_how_far_the_nearest_span_is_or_how_far_to_move_out_of_it(s, clear):
    assert clearance.clearance(s, SPANS) == clear
    assert clearance.Moving(s - 6.0, 2.0, SPANS).clearance(3.0) == clear


@pytest.mark.parametrize(
    ("low", "high", "spans"),
    [(50, 50, SPANS[:2]), (130, 200, SPANS[1:3]), (50, 250, SPANS[:4]), (110, 110, SPANS[0:3]),
     (120, 220, SPANS[1:3]), (-5, -5, SPANS[:2]), (400, 400, SPANS[2:])],
)  # fmt: skip
def test_the_spans_looked_at_are_all_that_can_be_nearest(low, high, spans):
    found = clearance.nearest_spans(SPANS, low, high)
    assert set(found) <= set(SPANS)
    assert all(
        clearance.clearance(s, SPANS) == max(-inf, min(max(a - s, s - b) for a, b in found))
        for s in (low, high)
    )
    assert found == spans


def test_a_row_stands_in_the_middle_of_what_its_steps_leave():
    one = clearance.Moving(0.0, 1.0, SPANS)
    clear, t = clearance.clearest([one], (0.0, 110.0), 0.0)
    assert (clear, t) == pytest.approx((50, 50), abs=1e-6)
    two = clearance.Moving(80.0, 1.0, SPANS)
    clear, t = clearance.clearest([one, two], (0.0, 120.0), 0.0)
    assert (clear, t) == pytest.approx((30, 70), abs=1e-6)
    stretched = clearance.Moving(0.0, 2.0, SPANS)
    clear, t = clearance.clearest([stretched], (55.0, 100.0), 0.0)
    assert (clear, t) == pytest.approx((50, 85), abs=1e-6)
    downward = clearance.Moving(300.0, -1.0, SPANS)
    clear, t = clearance.clearest([downward], (0.0, 60.0), 0.0)
    assert (clear, t) == pytest.approx((50, 10), abs=1e-6)


def test_where_a_row_lies_on_the_line_changes_nothing_of_how_clear_it_is():
    for moved in (-2000.0, 2000.0):
        spans = tuple((low + moved, high + moved) for low, high in SPANS)
        one = clearance.Moving(moved, 1.0, spans)
        assert clearance.clearest([one], (0.0, 110.0), 0.0) == pytest.approx((50, 50), abs=1e-6)


def test_a_row_with_little_room_to_move_stands_as_clear_as_that_room_allows():
    one = clearance.Moving(0.0, 1.0, SPANS)
    assert clearance.clearest([one], (40.0, 52.0), 0.0) == pytest.approx((50, 50), abs=1e-6)
    assert clearance.clearest([one], (50.0, 50.0), 0.0) == pytest.approx((50, 50), abs=1e-6)


def test_a_row_that_cannot_be_clear_enough_is_none():
    one = clearance.Moving(0.0, 1.0, SPANS)
    assert clearance.clearest([one], (0.0, 340.0), 50.0) is None
    assert clearance.clearest([one], (0.0, 340.0), 49.0)[0] == pytest.approx(50, abs=1e-6)
    assert clearance.clearest([one], (105.0, 110.0), 0.0) is None
    inside = clearance.clearest([one], (103.0, 108.0), -50.0)
    assert inside == pytest.approx((-3, 103), abs=1e-6)
    apart = [one, clearance.Moving(10.0, 1.0, SPANS), clearance.Moving(70.0, 1.0, SPANS)]
    assert clearance.clearest(apart, (0.0, 29.0), 15.0) is None
    clear, t = clearance.clearest(apart, (0.0, 29.0), 14.0)
    assert (clear, t) == pytest.approx((15, 15), abs=1e-6)


def test_a_long_row_that_cannot_stand_shows_so_in_its_first_few():
    """Its first, second and fourth are looked at as they come, the third with the fourth."""
    seen = []

    def row(*starts):
        for start in starts:
            seen.append(start)
            yield clearance.Moving(float(start), 1.0, SPANS)

    assert clearance.clearest(row(110, 0, 0), (0.0, 5.0), 0.0) is None
    assert seen == [110]
    seen.clear()
    assert clearance.clearest(row(50, 50, 110, 50, 50), (0.0, 5.0), 0.0) is None
    assert seen == [50, 50, 110, 50]


# Counts.


def below(limit):
    return lambda gap: gap < limit


def row_count(limit, more, lower=0, upper=0, types=None):
    return counts.RowCount(
        spacing.Pattern(types or (kind(20),)), below(limit), Fraction(lower), Fraction(upper), more
    )


@pytest.mark.parametrize(
    ("distance", "more", "count"),
    [(99, 1, 0), (100, 1, 1), (219, 1, 1), (220, 1, 2), (119, 0, 1), (120, 0, 2)],
)
def test_the_fewest_in_a_row_whose_gaps_pass(distance, more, count):
    assert row_count(100, more).fewest(Fraction(distance)) == count


@pytest.mark.parametrize("distance", [20, 40, 41])
def test_a_row_that_fills_before_it_passes_is_refused(distance):
    with pytest.raises(BadInput, match="no number of balusters passes"):
        row_count(0, 1).fewest(Fraction(distance))


def test_a_rows_narrowest_parts_count_at_its_ends_and_between():
    types = (kind(20, 16), kind(20, 10))
    row = row_count(100, 1, lower=9, upper=3, types=types)
    assert row.gap_passes(0, Fraction(87))
    assert not row.gap_passes(0, Fraction(88))
    for count, widens in ((1, 11), (2, 11)):
        assert row.gap_passes(count, Fraction(99 - widens))
        assert not row.gap_passes(count, Fraction(100 - widens))
    upper = row_count(100, 1, lower=3, upper=9, types=types)
    for count, widens in ((1, 11), (2, 14), (3, 11)):
        assert upper.gap_passes(count, Fraction(99 - widens))
        assert not upper.gap_passes(count, Fraction(100 - widens))
    plain = row_count(100, 1, types=types)
    assert not plain.gap_passes(2, Fraction(93))
    assert plain.gap_passes(2, Fraction(92))


def tread_counts(treads, limit=100, fixed=None, lower=0, upper=0, types=None):
    return counts.TreadCounts(
        tuple(treads), spacing.Pattern(types or (kind(20),)), fixed or {}, below(limit),
        counts.Beside(Fraction(lower)), counts.Beside(Fraction(upper)),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("index", "lower", "upper", "found"),
    [(0, None, None, [7, 1, 2, 3, 4]), (1, None, None, [1, 2, 3, 4]),
     (2, None, None, [1, 2, 3, 9]), (1, (1, 0), None, [7, 2, 3, 4]),
     (1, (1, 1), None, [7, 3, 4]), (1, (1, 2), None, [7, 4]), (1, (1, 3), None, [1, 2, 3, 4]),
     (0, (1, 1), None, [1, 2, 3, 4]), (2, (1, 1), None, [1, 2, 3, 9]),
     (1, None, (1, 2), [1, 2, 9]), (1, None, (1, 1), [1, 9]), (1, None, (1, 0), [9]),
     (0, None, (1, 0), [7, 1, 2, 3, 9]), (0, None, (1, 1), [7, 1, 2, 3, 4]),
     (1, None, (1, 3), [1, 2, 3, 4]), (2, None, (1, 1), [1, 2, 3, 4]),
     (1, (1, 4), None, [1, 2, 3, 4]), (1, None, (1, 4), [1, 2, 3, 4]),
     (0, (0, 1), (0, 2), [7, 9]), (2, (2, 0), None, [7, 2, 3, 9]),
     (0, None, (0, 2), [7, 1, 2, 9]), (2, None, (0, 2), [1, 2, 3, 4])],
)  # fmt: skip
def test_a_newel_adds_its_part_where_it_stands(index, lower, upper, found):
    """Three on a tread add 1, 2 and 3, the next one's first 4, the newels 7 and 9."""
    treads = [tread(0), tread(1, 240), tread(2, 480)]
    ends = counts.Beside(Fraction(7), False, lower), counts.Beside(Fraction(9), False, upper)
    counted = counts.TreadCounts(tuple(treads), spacing.Pattern((kind(20),)), {}, below(9), *ends)
    assert counted._sides(treads[index], [Fraction(n) for n in (1, 2, 3, 4)]) == found


def test_a_newel_that_stands_adds_nothing_by_the_tread():
    assert counts.Beside(Fraction(7), True).by_tread == 0
    assert counts.Beside(Fraction(7)).by_tread == 7


def test_plain_treads_share_the_most_that_any_needs_and_winders_count_for_themselves():
    """A run L of n twenties has gaps of L/n - 20: two pass under 100 to 239, three to 359."""
    low, long = tread(0, 0, 230), tread(1, 230, 250)
    winder = tread(2, 480, 119, skews=(0.0, 10.0))
    assert tread_counts([low, long, winder]).choose() == {0: 3, 1: 3, 2: 1}
    assert tread_counts([low, winder]).choose() == {0: 2, 2: 1}
    assert tread_counts([winder]).choose() == {2: 1}
    assert tread_counts([low, long], fixed={1: 1}).choose() == {0: 2, 1: 1}
    assert tread_counts([long], fixed={1: 4}).choose() == {1: 4}
    assert tread_counts([long, winder], fixed={1: 4}).choose() == {1: 4, 2: 1}


def test_what_is_given_by_hand_adds_up_only_where_all_is_given():
    treads = [tread(0), tread(1, 240)]
    assert tread_counts(treads, fixed={0: 2, 1: 3}).by_hand == 5
    assert tread_counts(treads, fixed={0: 2}).by_hand is None
    row = tread_counts(treads, lower=4, upper=5).row(1)
    assert (row.lower, row.upper, row.more) == (4, 5, 1)


@pytest.mark.parametrize(("run", "count"), [(50 * 30 - 1, 50), (50 * 30, None)])
def test_fifty_on_a_tread_are_the_most(run, count):
    for skews, words in (
        ((0.0, 0.0), "tread 1, the longest, needs more"),
        ((0.0, 5.0), "tread 1: no number"),
    ):
        counted = tread_counts([tread(0, 0, run, skews=skews)], limit=10)
        if count:
            assert counted.choose() == {0: count}
            continue
        with pytest.raises(BadInput, match=words):
            counted.choose()


@pytest.mark.parametrize(("run", "said"), [(20, "wider than its run"), (40, "needs more than")])
def test_a_tread_that_fills_before_it_passes_is_refused(run, said):
    with pytest.raises(BadInput, match=said):
        tread_counts([tread(0, 0, run)], limit=0).choose()


def test_of_treads_that_no_one_number_suits_the_longest_that_shares_is_named():
    """Five on 600 pass, a run of 90 holds four; a winder and one counted by hand share nothing."""
    treads = [tread(0, 0, 90), tread(1, 90, 600), tread(2, 690, 100),
              tread(3, 790, 700, skews=(0.0, 9.0)), tread(4, 1490, 900)]  # fmt: skip
    with pytest.raises(BadInput, match="tread 2, the longest, needs more") as refused:
        tread_counts(treads, fixed={4: 8}).choose()
    assert "run of tread 2" in refused.value.problems[0].mend


def test_of_treads_that_no_one_number_suits_a_shortest_that_stands_out_is_named():
    """Five on 600 pass, a run of 90 holds four."""
    treads = [tread(0, 0, 600), tread(1, 600, 90), tread(2, 690, 600), tread(3, 1290, 590)]
    with pytest.raises(BadInput, match="tread 2, the shortest, holds fewer") as refused:
        tread_counts(treads).choose()
    assert "run of tread 2" in refused.value.problems[0].mend


@pytest.mark.parametrize(
    ("run", "widths", "found"),
    [(250, (20, 60), {0: 2, 1: 1}), (350, (20, 20, 20, 60), {0: 4, 1: 1})],
)
def test_a_number_that_brings_a_wide_one_onto_a_winder_is_passed_over(run, widths, found):
    """A winder of 50 holds a 20, no 60: one below it, or three, put a 60 there, one more a 20."""
    treads = [tread(0, 0, run), tread(1, run, 50, skews=(0.0, 10.0))]
    types = tuple(kind(width) for width in widths)
    assert tread_counts(treads, types=types).choose() == found
    with pytest.raises(BadInput, match="tread 2: 1 baluster is wider than its run"):
        tread_counts(treads, types=(kind(60),)).choose()


def test_balusters_that_leave_next_to_no_gap_pass_and_those_that_leave_none_do_not():
    assert row_count(Fraction(3, 5), 1).fewest(Fraction(21)) == 1
    with pytest.raises(BadInput, match="no number of balusters passes"):
        row_count(Fraction(3, 5), 1).fewest(Fraction(20))
    assert tread_counts([tread(0, 0, 21)], limit=5).choose() == {0: 1}
    assert tread_counts([tread(0, 0, 119)]).choose() == {0: 1}
    for run, limit, said in ((20, 1, "wider than its run"), (30, 5, "needs more than")):
        with pytest.raises(BadInput, match=said):
            tread_counts([tread(0, 0, run)], limit=limit).choose()


def test_a_row_ends_with_its_own_last_type():
    row = row_count(100, 1, upper=9, types=(kind(20), kind(20), kind(20, 10)))
    assert row.gap_passes(2, Fraction(90))
    assert not row.gap_passes(2, Fraction(91))
    assert not row.gap_passes(3, Fraction(86))


def test_a_newels_narrowest_part_counts_on_the_tread_beside_it_alone():
    wide, close = 230, 200
    for more, runs in (({"upper": 7}, (wide, close)), ({"lower": 7}, (close, wide))):
        treads = [tread(0, 0, runs[0]), tread(1, runs[0], runs[1])]
        assert tread_counts(treads, limit=101, **more).choose() == {0: 2, 1: 2}
        assert tread_counts(treads[::-1], limit=101, **more).choose() == {0: 3, 1: 3}


def test_narrowest_parts_count_where_they_stand():
    """Between two on a tread, to the next tread's first, and at the newels."""
    thin = (kind(20, 10), kind(20), kind(20))
    low, high = tread(0, 0, 230), tread(1, 230, 230)
    gap = 95

    def passes(treads, limit, **more):
        return tread_counts(treads, limit, **more).choose() == {t.index: 2 for t in treads}

    for treads, limit, more in (
        ([low], gap + 5, {"types": thin}),
        ([low], gap + 7, {"lower": 7}),
        ([low], gap + 7, {"upper": 7}),
        ([low], gap + 12, {"types": thin, "lower": 7}),
        ([low], gap + 12, {"types": thin[1:] + thin[:1], "upper": 12}),
        ([low, high], gap + 5, {"types": (*thin[1:], *thin[:1], thin[1])}),
        ([low, high], gap + 7, {"lower": 7}),
        ([low, high], gap + 7, {"upper": 7}),
        ([low, high], gap + 5, {"types": (thin[1], thin[1], thin[1], thin[0])}),
    ):
        assert not passes(treads, limit, **more)
        assert passes(treads, limit + Fraction(1, 10), **more)
