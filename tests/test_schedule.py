"""What is bored, cut and ordered, and what a bow does, held against published figures and laws."""

from __future__ import annotations

import csv
import io
from collections import Counter
from dataclasses import replace
from fractions import Fraction
from math import atan, cos, degrees, radians, sin, tan

import pytest
from job_files import LEVEL, METRIC, METRIC_TREADS, SLOPED, TREADS, changed, job_in, written
from work_jobs import NAMES, section, work

from stairjig.lengths import INCH, Shown
from stairjig.setout.build import set_out
from stairjig.setout.names import runs_of
from stairjig.setout.rail import bow_shift
from stairjig.setout.schedule import (
    borings,
    cut_groups,
    mark_holes,
    orders,
    spares,
)
from stairjig.setout.schedule_csv import CSV_COLUMNS, schedule_csv
from stairjig.setout.schedule_newels import taped
from stairjig.setout.schedule_rail import (
    bow_effect,
    bow_limit,
    bow_limit_words,
    fillet_groups,
    fillets,
    props,
    rail_span,
)

IN = float(INCH)
STEEP = atan(7.75 / 10)
"""Pitch of a rise of 7 3/4 on a run of 10."""


def test_a_bow_moves_a_plumbed_mark_by_its_tangent_and_a_mark_on_the_strip_hardly() -> None:
    # the design's worked example: bow 1/8 at 36.1932 degrees over 79.66
    six = section("six treads")
    effect = bow_effect(six, IN / 8)
    assert degrees(six.rail.pitch) == pytest.approx(36.1932, abs=5e-5)
    assert rail_span(six) / IN == pytest.approx(79.66, abs=5e-3)
    assert effect.plumbed / IN == pytest.approx(0.09146, abs=5e-6)
    assert effect.strip / IN == pytest.approx(0.00052, abs=5e-6)


def test_the_bow_limit_is_the_bow_that_moves_a_plumbed_mark_a_sixteenth() -> None:
    # p tan t, geometry: 1/4 in at 7.75:10 moves 0.19375 in exactly (reference values, 70)
    exact = 0.25 * 0.0625 / 0.19375 * IN
    assert bow_shift(exact, STEEP) == pytest.approx(IN / 16)
    limit = bow_limit(STEEP, "inch")
    assert limit is not None
    assert 0 <= exact - limit < IN / 64
    assert bow_limit_words(STEEP, "inch") == "5/64″"
    assert bow_limit(STEEP, "mm") == Fraction(3, 2)  # 1.5 / 0.775 is 1.94, down to a half
    assert bow_limit(0.0, "inch") is None


def test_an_open_end_counts_the_rail_to_its_last_mark() -> None:
    open_end = section("level")
    assert open_end.rail.upper is None
    assert rail_span(open_end) == pytest.approx(open_end.marks[-1].rail - open_end.rail.lower)


def test_a_plumb_hole_opens_along_the_rail_by_its_size_over_the_cosine() -> None:
    # footprint on a rake: 1.25 at 7.75:10 covers 1.581448 (reference values, 73; arithmetic)
    six = section("six treads")
    raked = replace(six, rail=replace(six.rail, pitch=STEEP))
    for holes in mark_holes(raked):
        assert holes.along is not None
        assert holes.along / IN == pytest.approx(0.6875 * 1.581448 / 1.25, abs=5e-7)
        assert holes.tread is not None
        assert holes.tread.depth.mm == INCH


def test_holes_are_counted_by_kind_with_their_tilt() -> None:
    tread, rail = borings(section("six treads"))
    assert (tread.into, tread.count, tread.tilt) == ("tread", 18, 0.0)
    assert (rail.into, rail.count) == ("rail", 18)
    assert rail.tilt == section("six treads").rail.pitch


def test_nothing_is_bored_into_a_plowed_rail() -> None:
    plowed = section("plowed")
    six = section("six treads").marks[0].type
    marks = tuple(replace(mark, type=six) for mark in plowed.marks)
    bored = borings(replace(plowed, marks=marks))
    assert [boring.into for boring in bored] == ["shoe"]
    assert bored[0].tilt == plowed.rail.pitch
    assert all(holes.rail is None for holes in mark_holes(replace(plowed, marks=marks)))


def test_the_wood_over_a_hole_is_what_its_deepest_corner_leaves() -> None:
    six = section("six treads")
    rail = borings(six)[1]
    pitch, depth, half = six.rail.pitch, 0.75, 0.6875 / 2
    # the bore as a rectangle about a plumb axis that starts on the underside, y square to the rail
    corners = [(depth * cos(pitch) + side * half * sin(pitch)) for side in (-1, 1)]
    assert rail.cover is not None
    assert rail.cover / IN == pytest.approx(2.5 - max(corners))


@pytest.mark.parametrize(
    ("kind", "change", "depths", "where"),
    [
        # square to the face the bore takes depth cos p and its rim r sin p more: at 36.9 degrees
        # 0.800 and 0.197 of 1 in deep, 11/16 across (geometry)
        (SLOPED, {"shoe": "{depth: 0.99}"}, ("1", "3/4"), "the underside of the shoe"),
        (SLOPED, {"shoe": "{depth: 1.01}"}, ("1", "3/4"), None),
        (SLOPED, {}, ("9", "3/4"), None),  # into the wall, whose wood is not known
        (LEVEL, {"shoe": "{depth: 1}"}, ("1", "3/4"), "the underside of the shoe"),
        (LEVEL, {}, ("1", "2 7/16"), None),
        # the rim alone: 2.399 and 0.206 more of a rail of 2 1/2
        (SLOPED, {}, ("1", "3"), "the rail's top"),
    ],
)
def test_a_hole_that_comes_out_on_the_other_side_is_warned_of(kind, change, depths, where) -> None:
    low, high = (f"{{size: 11/16, depth: {depth}}}" for depth in depths)
    bar = f"{{b: {{shape: round, width: 5/8, tread_hole: {low}, rail_hole: {high}}}}}"
    setout = set_out(job_in(written({"balusters": bar}, changed(kind, change))))
    told = [found.text for found in setout.warnings if found.code == "hole-through"]
    assert len(told) == (where is not None)
    thin = [found.text for found in setout.warnings if found.code == "hole-thin"]
    assert bool(thin) == (where is None and bool(change or depths[1] != "3/4"))
    assert all(where in text for text in told)


@pytest.mark.parametrize(
    ("kind", "depth", "told"),
    [
        (LEVEL, "2 1/2", "2 1/2″ deep, come out through the rail's top, 2 1/2″ thick and 2 1/2″ "
         "plumb; bore 2 1/4″ at most"),
        # plumb it is 2.5 / cos 36.9 = 3.126; 6 mm and the rim's 0.206 off it leave 2.573
        (SLOPED, "3 1/8", None),
        (SLOPED, "3 3/16", "3 3/16″ deep, come out through the rail's top, 2 1/2″ thick and "
         "3 1/8″ plumb; bore 2 9/16″ at most"),
    ],
)  # fmt: skip
def test_a_rail_hole_as_deep_as_the_rail_is_thick_plumb_is_refused(kind, depth, told) -> None:
    bar = f"{{b: {{shape: round, width: 5/8, rail_hole: {{size: 11/16, depth: {depth}}}}}}}"
    setout = set_out(job_in(written({"balusters": bar}, kind)))
    found = [failure.text for failure in setout.failures if failure.code == "hole-through"]
    words = "the holes of b in the rail, ⌀ 11/16″ and "
    assert found == ([words + told] if told else [])
    assert ("hole-through" in [one.code for one in setout.warnings]) == (told is None)


def test_a_rail_too_thin_to_bore_is_refused_without_a_depth() -> None:
    job = {
        "balusters": "{b: {shape: round, width: 5/8, rail_hole: {size: 11/16, depth: 1/2}}}",
        "rail": "{height: 36, depth: 1/4, width: 2}",
    }
    [found] = set_out(job_in(written(job, SLOPED))).failures
    assert found.text.endswith("1/4″ thick and 5/16″ plumb; bore no hole in a rail so thin")


def test_a_plowed_rail_is_never_bored_too_deep_nor_too_wide() -> None:
    job = {
        "balusters": "{b: {shape: round, width: 5/8, rail_hole: {size: 3, depth: 9}}}",
        "rail": "{height: 36, depth: 2 1/2, width: 2 3/8, plow: {width: 1, depth: 1/4}}",
    }
    setout = set_out(job_in(written(job, LEVEL)))
    assert setout.failures == ()
    assert "hole-loose" not in [one.code for one in setout.warnings]


STANDS = [
    # a round one and 1/8; a square one turns in its hole by its diagonal of 2.475 and 1/8
    ("round", "square", "tread", "1 7/8", ""),
    ("round", "square", "tread", "1 15/16", "1 3/4"),
    ("round", "square", "rail", "2", "1 3/4"),
    ("square", "square", "rail", "2 9/16", ""),
    ("square", "square", "rail", "2 5/8", "2 1/2"),
    ("square", "bevel", "tread", "2 5/8", "2 1/2"),
    ("square", "pin", "tread", "2 1/2", ""),
    ("square", "pin", "rail", "1 7/8", ""),
    ("square", "pin", "rail", "2", "1 3/4"),
    ("square", "pin", "rail", "3/4", ""),
]


@pytest.mark.parametrize(("shape", "top", "place", "size", "fills"), STANDS)
def test_a_hole_wider_than_what_stands_in_it_is_warned_of(shape, top, place, size, fills) -> None:
    bar = (
        f"{{turned: {{shape: {shape}, width: 1 3/4, top: {top}, "
        f"{place}_hole: {{size: {size}, depth: 1}}}}}}"
    )
    job = {"balusters": bar, "rail": "{height: 36, depth: 2 1/2, width: 3 1/2}"}
    told = [w.text for w in set_out(job_in(written(job))).warnings if w.code == "hole-loose"]
    text = (
        f"the {place} hole of turned, ⌀ {size}″, is more than 1/8″ wider than what stands in it, "
        f"{fills}″ at most: it would stand loose; check the hole's size"
    )
    assert told == ([text] if fills else [])


def test_in_millimetres_a_hole_may_be_three_wider() -> None:
    for size, loose in (("35", False), ("35.5", True)):
        bar = f"{{b: {{shape: round, width: 32, tread_hole: {{size: {size}, depth: 20}}}}}}"
        job = written({**METRIC, "balusters": bar}, changed(TREADS, METRIC_TREADS))
        assert ("hole-loose" in [w.code for w in set_out(job_in(job)).warnings]) == loose


def test_cut_lengths_are_what_shows_and_both_holes_less_the_fit() -> None:
    # the design's worked example: mark 6-3 shows 38.95405; holes of 1 and 3/4, fit 1/8
    six, shown = section("six treads"), work("six treads").job.shown
    groups = cut_groups(six, shown)
    longest = groups[0]
    assert six.marks[-1].cut is not None
    assert six.marks[-1].cut / IN == pytest.approx(38.95405 + 1 + 0.75 - 0.125, abs=5e-6)
    assert longest.cut == (40 + Fraction(9, 16)) * INCH
    assert longest.visible == (38 + Fraction(15, 16)) * INCH
    assert longest.marks == tuple(f"{tread}-3" for tread in range(1, 7))
    assert [group.count for group in groups] == [6, 6, 6]


def test_two_on_a_tread_differ_by_half_a_riser() -> None:
    # Hatfield, The American House-Carpenter, article 258: 2 ft 9 in less 2 ft 5 in at a riser of 8
    metric = section("metric")
    first, second = metric.marks[:2]
    assert second.visible - first.visible == pytest.approx(190 / 2)


def test_lengths_are_grouped_half_up_at_the_jobs_step() -> None:
    # Navy training manual 14044: five tenths of a sixteenth go up; 17/32 is shown as 9/16
    six, shown = section("six treads"), Shown("inch", INCH / 16)
    half = float((38 + Fraction(17, 32)) * INCH)
    first, second, *rest = six.marks
    near = replace(second, type=first.type, cut=half + 0.3 * IN / 16)
    [group] = cut_groups(replace(six, marks=(replace(first, cut=half), near)), shown)
    assert group.cut == (38 + Fraction(9, 16)) * INCH
    assert group.marks == (first.name, second.name)
    assert rest


def test_lengths_without_holes_are_to_be_measured_and_grouped_by_what_shows() -> None:
    uneven = work("uneven")
    groups = cut_groups(uneven.sections[0], uneven.job.shown)
    assert {group.cut for group in groups} == {None}
    assert len({group.visible for group in groups}) == len(groups) > 1


@pytest.mark.parametrize("name", NAMES)
def test_every_mark_is_cut_once_and_its_group_is_within_half_a_step(name: str) -> None:
    job = work(name)
    for part in job.sections:
        marks = {mark.name: mark for mark in part.marks}
        cut = [mark for group in cut_groups(part, job.job.shown) for mark in group.marks]
        assert sorted(cut) == sorted(marks)
        for group in cut_groups(part, job.job.shown):
            for mark in group.marks:
                assert marks[mark].type == group.type
                exact = marks[mark].cut if group.cut is not None else marks[mark].visible
                said = group.cut if group.cut is not None else group.visible
                assert exact is not None
                assert abs(exact - float(said)) <= float(job.job.show.mm) / 2 + 1e-6


BORED = "tread_hole: {size: 3/4, depth: 1}"
ENDS = [(0, "bevel", ""), (1, "bevel", BORED), (1, "square", ""), (0, "square", BORED)]


@pytest.mark.parametrize(("one_sided", "top", "hole"), ENDS)
def test_a_bevel_reaches_half_a_width_up_the_slope_beyond_the_centre_line(
    one_sided: int, top: str, hole: str
) -> None:
    """(w/2) tan(pitch) at each end; between two parallel bevels every edge is as long."""
    holes = f", {hole}" if hole else ""
    balusters = f"{{turned: {{shape: round, width: 1 1/4, top: {top}{holes}}}}}"
    job = set_out(job_in(written({"balusters": balusters}, SLOPED)))
    mark, shown = job.sections[0].marks[0], job.job.shown
    [group] = cut_groups(job.sections[0], shown)
    assert group.bevel == pytest.approx(radians(36.9) if top == "bevel" else 0.0)
    assert group.foot == pytest.approx(0.0 if hole else radians(36.9))
    more = 0.625 * tan(radians(36.9)) * IN
    assert group.long_point == (shown.rounded(mark.visible + more) if one_sided else None)
    [order] = orders(job)
    ends = (top == "bevel") + (not hole)
    assert order.longest == shown.rounded(mark.visible + ends * more)
    for row in csv.DictReader(io.StringIO(schedule_csv(job))):
        bevels = row["bevel_deg"], row["foot_bevel_deg"]
        assert bevels == ("36.9000" * (top == "bevel"), "36.9000" * (not hole))
        length = float(row["long_point"]) if one_sided else row["long_point"]
        assert length == (pytest.approx(float(row["visible"]) + more) if one_sided else "")


def test_the_schedules_long_point_is_the_cut_lists_where_the_cut_is_known() -> None:
    holes = "tread_hole: {size: 3/4, depth: 1}, rail_hole: {size: 3/4, depth: 1/2}"
    bars = f"{{b: {{shape: square, width: 1 1/4, top: bevel, {holes}}}}}"
    job = set_out(job_in(written({"balusters": bars})))
    shown = job.job.shown
    points = {m: g.long_point for g in cut_groups(job.sections[0], shown) for m in g.marks}
    for row in csv.DictReader(io.StringIO(schedule_csv(job))):
        assert shown.rounded(float(row["long_point"])) == points[row["mark"]]
        assert float(row["long_point"]) > float(row["cut"])


def test_balusters_on_treads_or_a_floor_have_square_feet() -> None:
    for name in ("six treads", "level"):
        for group in cut_groups(section(name), work(name).job.shown):
            assert (group.foot, group.long_point) == (0.0, None)


def test_spares_are_a_twentieth_rounded_up_and_at_least_one() -> None:
    # common practice, no source
    assert [spares(count) for count in (1, 20, 21, 40, 41, 100)] == [1, 1, 2, 2, 3, 5]


def test_the_order_counts_what_stands_in_all_sections_and_its_longest() -> None:
    job = work("pattern")
    stand = Counter(mark.type.name for part in job.sections for mark in part.marks)
    for order in orders(job):
        assert order.count == stand.pop(order.type.name)
        assert order.total == order.count + order.spares
        lengths = [
            mark.visible if mark.cut is None else mark.cut
            for part in job.sections
            for mark in part.marks
            if mark.type == order.type
        ]
        assert order.longest == job.job.shown.rounded(max(lengths))
        assert order.measured == (order.type.name == "knuckle")
    assert not stand


def test_a_level_gap_lies_longer_along_the_rail() -> None:
    # 3.75 level at 7.75:10 is 4.744342 along the rail (reference values, 68; arithmetic)
    level = section("level")
    raked = replace(level, rail=replace(level.rail, pitch=STEEP))
    gap = float(level.gap or 0) / IN
    for fillet in fillets(raked, "rail"):
        assert fillet.length / IN == pytest.approx(gap * 4.744342 / 3.75, abs=1e-6)


@pytest.mark.parametrize("part", [section("plowed"), section("plowed", 1), section("uneven")])
def test_fillets_and_balusters_fill_the_rail_from_face_to_face(part) -> None:  # type: ignore[no-untyped-def]
    widths = sum(float(mark.type.width.mm) for mark in part.marks) / cos(part.rail.pitch)
    lengths = [fillet.length for fillet in fillets(part, "rail")]
    assert len(lengths) == len(part.marks) + 1
    assert sum(lengths) + widths == pytest.approx(part.rail.length)
    assert [fillet.end for fillet in fillets(part, "rail")][:: len(lengths) - 1] == [True, True]


def test_fillets_of_a_shoe_stand_between_the_bases() -> None:
    sloped = section("sloped")
    bases = sum(float(mark.type.base.mm) for mark in sloped.marks) / cos(sloped.rail.pitch)
    lengths = [fillet.length for fillet in fillets(sloped, "shoe")]
    assert sum(lengths) + bases == pytest.approx(sloped.rail.length)


def test_an_open_end_has_no_fillet() -> None:
    level = section("level")
    assert len(fillets(level, "rail")) == len(level.marks)
    [group] = fillet_groups(level, "rail", work("level").job.shown)
    assert (group.count, group.ends) == (len(level.marks), ("lower newel",))


def test_fillet_groups_count_every_fillet_and_name_the_end_ones() -> None:
    plowed = section("plowed")
    groups = fillet_groups(plowed, "rail", work("plowed").job.shown)
    assert sum(group.count for group in groups) == len(plowed.marks) + 1
    assert sorted(end for group in groups for end in group.ends) == ["lower newel", "upper newel"]


def test_a_prop_reaches_from_its_own_nosing_to_the_underside() -> None:
    uneven = section("uneven")
    for prop, nosing in zip(props(uneven), uneven.nosings, strict=True):
        line = uneven.rail.height_at_zero + float(nosing.s) * tan(uneven.rail.pitch)
        underside = line + 36 * IN - 2.5 * IN / cos(uneven.rail.pitch)
        assert prop.length == pytest.approx(underside - float(nosing.height))
    assert [prop.tread for prop in props(uneven)] == [1, 2, 3, 4, 5, 6]


def test_off_the_treads_a_prop_is_what_shows_of_a_baluster() -> None:
    for name in ("level", "sloped", "plowed"):
        [prop] = props(section(name))
        assert prop.tread is None
        assert prop.length == pytest.approx(section(name).marks[0].visible)


def test_newels_are_taped_from_a_riser_that_can_be_reached() -> None:
    # the design's worked example: faces at -2.79167 and 61.5, the lower centre at -4.54167
    six = section("six treads")
    assert six.lower_newel
    assert six.upper_newel
    face, centre = taped(six, six.lower_newel.face), taped(six, six.lower_newel.centre)
    top, behind = taped(six, six.upper_newel.face), taped(six, six.upper_newel.centre)
    assert face is not None
    assert (face.riser, face.on, face.edge) == (1, None, None)
    assert float(face.off) / IN == pytest.approx(-2.79167, abs=5e-6)
    assert centre is not None
    assert float(centre.off) / IN == pytest.approx(-4.54167, abs=5e-6)
    assert top is not None
    assert (top.riser, top.landing, top.flush) == (7, True, True)
    assert behind is not None
    assert float(behind.edge or 0) / IN == pytest.approx(1.75 + 1.125)


def test_a_place_on_a_tread_is_taped_from_the_next_riser_and_its_own_nosing() -> None:
    uneven = section("uneven")
    for tread in uneven.treads:
        s = tread.plan.front.s + 3 * INCH
        place = taped(uneven, s)
        assert place is not None
        assert place.on == tread.plan.number
        assert place.riser == tread.plan.number + 1
        assert tread.plan.back.s + place.off == s
        assert place.edge == (3 + Fraction(9, 8)) * INCH
    assert taped(section("level"), Fraction(100)) is None


def test_names_in_a_row_are_drawn_together() -> None:
    assert runs_of(["1", "2", "3", "4", "7", "8", "10"]) == "1 to 4, 7, 8, 10"
    assert runs_of(["1-1", "1-2", "2-1"]) == "1-1, 1-2, 2-1"


@pytest.mark.parametrize("name", NAMES)
def test_the_csv_has_a_line_for_each_mark_in_mm(name: str) -> None:
    job = work(name)
    rows = list(csv.DictReader(io.StringIO(schedule_csv(job))))
    marks = [(part, mark) for part in job.sections for mark in part.marks]
    assert list(rows[0]) == list(CSV_COLUMNS)
    assert len(rows) == len(marks)
    for row, (part, mark) in zip(rows, marks, strict=True):
        assert (row["section"], row["mark"], row["type"]) == (part.name, mark.name, mark.type.name)
        assert float(row["visible"]) == pytest.approx(mark.visible, abs=1e-6)
        if mark.cut is None:
            assert row["cut"] == row["cut_shown"] == "measure"
        else:
            assert float(row["cut"]) == pytest.approx(mark.cut, abs=1e-6)
            assert row["cut_shown"] == job.job.shown.text(mark.cut)
        bored = mark.type.rail_hole is not None and part.section.rail.plow is None
        assert bool(row["rail_hole_size"]) == bool(row["rail_hole_along"]) == bored
