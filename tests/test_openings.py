"""Openings and footprints against a general geometry library, and what is said of them.

Shapely's largest inscribed circle is exact for triangles and quads; elsewhere its radius is short
by up to the tolerance it is asked for.
"""

from __future__ import annotations

import random
from fractions import Fraction
from itertools import pairwise
from math import cos, radians, tan

import pytest
import shapely
from job_files import (
    METRIC,
    METRIC_TREADS,
    TREADS,
    changed,
    job_in,
    level_file,
    sloped_file,
    treads_file,
    written,
)

from stairjig.errors import BadInput
from stairjig.job.reader import read_job
from stairjig.lengths import INCH
from stairjig.setout.build import set_out
from stairjig.setout.footing import BACK, END, FRONT, edges_over, overhangs
from stairjig.setout.openings import triangle_sphere

TOLERANCE = 1e-4


def inches(mm):
    return float(mm) / float(INCH)


def section_of(source):
    return set_out(job_in(source)).sections[0]


def widest_circle(polygon, tolerance=TOLERANCE):
    assert polygon.is_valid
    return 2 * shapely.maximum_inscribed_circle(polygon, tolerance).length


# The triangle of tread, riser and bottom rail, in the real section of the stair.


def profile(rise, run, nosing, lift, thick, steps=4):
    """The opening between steps, nosings `thick` and overhanging, and the rail's underside."""
    points = []
    for step in range(steps):
        x, y = step * run, step * rise
        points += [(x, y), (x + run + nosing, y)]
        points += [(x + run + nosing, y + rise - thick), (x + run, y + rise - thick)]
    top = (steps * run, steps * rise)
    points += [top, (top[0], top[1] + lift), (0, lift)]
    return shapely.Polygon(dict.fromkeys(points))


@pytest.mark.parametrize(
    ("rise", "run", "nosing", "lift"),
    [
        (7.75, 10, 0, 0),
        (7.75, 10, 1, 0),
        (7.75, 10, 1.25, 0),
        (7.5, 10, 1, 0),
        (7.75, 10, 1, 0.59547),
        (7.75, 10, 1.25, 0.40172),
        (7, 11, 1.125, 1.0),
        (6.5, 12, 0.75, 0.5),
        (8, 9, 1, 0.25),
    ],
)
def test_the_triangles_closed_form_is_the_largest_circle_of_the_real_section(
    rise, run, nosing, lift
):
    """With the nosings as blocks 1.03 in thick, their undersides included."""
    circle = widest_circle(profile(rise, run, nosing, max(lift, 1e-9), 1.03))
    assert triangle_sphere(rise, run, nosing, lift) == pytest.approx(circle, abs=1e-3)


def test_the_nosing_makes_the_triangle_larger_never_smaller():
    for rise, run in ((7, 10), (7.75, 10), (6, 12)):
        spheres = [triangle_sphere(rise, run, n / 8, 0) for n in range(11)]
        assert spheres == sorted(spheres)
        assert spheres[0] == pytest.approx(rise + run - (rise**2 + run**2) ** 0.5)


# Between neighbours: the elevation of each opening, drawn from the set-out.


def faces(section):
    """Left and right face of everything that stands, narrowest part, in inches, going up."""
    bars = [(inches(m.s), inches(m.type.narrowest.mm) / 2) for m in section.marks]
    spans = [(s - half, s + half) for s, half in bars]
    lower, upper = section.lower_newel, section.upper_newel
    if lower:
        edge = inches(lower.face) - inches(lower.width - lower.narrowest) / 2
        spans.insert(0, (edge - 1, edge))
    if upper:
        edge = inches(upper.face) + inches(upper.width - upper.narrowest) / 2
        spans.append((edge, edge + 1))
    return spans


def rake_opening(section, low, high):
    """The opening between two faces, from a little over the pitch line up to the rail."""
    slope = tan(section.rail.pitch)
    foot, head = inches(section.rail.height_at_zero) + 2, 30
    return shapely.Polygon([
        (low, foot + low * slope),
        (high, foot + high * slope),
        (high, foot + high * slope + head),
        (low, foot + low * slope + head),
    ])  # fmt: skip


@pytest.mark.parametrize(
    "changes",
    [
        {},
        {"lower_newel": "{width: 5, narrowest: 3 1/2}"},
        {"upper_newel": "{width: 3 1/2, narrowest: 2}", "set_back": "1/4"},
        {"lower_newel": "wall", "upper_newel": "none"},
        {"treads": "[10, 10 1/4, 10 1/2, {run: 10, bare: true}]", "per_tread": "3"},
        {"lower_newel": "{width: 3 1/2, place: {face: 1}}"},
        {"treads": "[{run: 10, skew: 15, times: 3}]", "upper_newel": "{width: 4, narrowest: 3}"},
    ],
)
def test_every_clear_gap_is_the_largest_circle_between_its_neighbours(changes):
    job = {
        "balusters": "{plain: {shape: square, width: 5/8}, knuckle: {shape: square, width: 5/8, "
        "narrowest: 7/16}, turned: {shape: round, width: 1 1/4, narrowest: 3/4}}",
        "pattern": "[plain, knuckle, turned]",
    }
    section = section_of(written(job, changed(TREADS, changes)))
    spans = faces(section)
    assert len(section.openings) == len(spans) - 1
    for opening, (left, right) in zip(section.openings, pairwise(spans), strict=True):
        circle = widest_circle(rake_opening(section, left[1], right[0]))
        assert inches(opening.clear) == pytest.approx(circle, abs=2 * TOLERANCE)


def test_an_opening_is_named_by_what_stands_on_both_sides():
    section = section_of(treads_file(treads="[10 1/4]", lower_newel="wall"))
    assert [opening.between for opening in section.openings] == [
        ("lower wall", "1-1"),
        ("1-1", "1-2"),
        ("1-2", "1-3"),
        ("1-3", "upper newel"),
    ]


def test_a_closed_form_gap_stays_an_exact_fraction():
    for source in (treads_file(set_back="5/16"), level_file()):
        section = section_of(source)
        assert all(isinstance(opening.clear, Fraction) for opening in section.openings)
        assert all(isinstance(mark.s, Fraction) for mark in section.marks)
    skewed = section_of(treads_file(treads="[{run: 10 1/4, skew: 20}]"))
    assert isinstance(skewed.openings[1].clear, float)


def test_the_narrowest_parts_widen_a_gap_on_their_own_side_only():
    """Trim 1 1/2 wider at the foot makes a gap of 4 at the foot 4 3/4 above (trade practice)."""
    plain = section_of(level_file(count="20"))
    trimmed = section_of(level_file(count="20", lower_newel="{width: 5, narrowest: 3 1/2}"))
    assert trimmed.gap == plain.gap
    wider = [
        high.clear - low.clear for low, high in zip(plain.openings, trimmed.openings, strict=True)
    ]
    assert wider == [Fraction("0.75") * INCH, *[0] * 20]


# What passes by less than the allowance, what is not checked.


def warned(source, code):
    return [w.text for w in set_out(job_in(source)).warnings if w.code == code]


def test_a_gap_that_passes_bare_but_not_with_the_allowance_is_warned_mark_by_mark():
    """One on a run of 4 15/16 leaves 4 5/16, and 1/16 more is the limit itself."""
    found = warned(treads_file(treads="[4 15/16, 4 7/8]", per_tread="1"), "thin-pass")
    assert found == [
        "the gap from lower newel to 1-1, 4 5/16″, passes the stair limit of 4 3/8″ by less than "
        "the allowance of 1/16″",
        "the gap from 1-1 to 2-1, 4 5/16″, passes the stair limit of 4 3/8″ by less than the "
        "allowance of 1/16″",
    ]


def test_auto_leaves_no_gap_thinner_than_the_allowance():
    for run in ("9", "9 15/16", "10 1/4", "13", "14 15/16"):
        assert not warned(treads_file(treads=f"[{{run: {run}, times: 4}}]"), "thin-pass")


def test_a_limit_that_is_not_given_is_not_checked_and_that_is_said():
    own = {"openings": "{level: 4}"}
    bottom = "{lift: 0, rise: 7 1/2, run: 10, nosing: 1}"
    source = written(own, changed(TREADS, {"per_tread": "2"}))
    assert warned(source, "limit-missing") == [
        "no stair limit is given: these openings are not checked"
    ]
    assert {opening.passes for opening in section_of(source).openings} == {None}
    sloped = written(own, {"name": "Wall", "kind": "sloped", "length": "60", "pitch": "36",
                           "count": "9", "bottom_rail": bottom, "lower_newel": "{width: 3}",
                           "upper_newel": "{width: 3}"})  # fmt: skip
    assert warned(sloped, "limit-missing") == [
        "no stair limit is given: these openings are not checked",
        "no triangle limit is given: these openings are not checked",
    ]


def test_an_open_end_has_no_gap_and_a_wall_has_one():
    section = section_of(treads_file(lower_newel="none", upper_newel="wall"))
    assert section.openings[0].between == ("1-1", "1-2")
    assert section.openings[-1].between == ("6-3", "upper wall")
    assert warned(treads_file(lower_newel="none"), "newel-none") == [
        "there is no lower newel: the opening at that end is not checked"
    ]


def test_the_two_ends_without_newels_leave_the_rails_ends_open():
    section = section_of(treads_file(lower_newel="none", upper_newel="none"))
    assert (section.lower_newel, section.upper_newel) == (None, None)
    assert (section.rail.lower, section.rail.upper, section.rail.length) == (None, None, None)


# Bases on treads, in plan.


def plan_polygons(tread):
    """The tread from its nosing's edge to the next nosing's, and half a metre in from its end."""
    plan, deep = tread.plan, 500.0

    def edge(x, skew, y):
        return (float(x) + y * tan(radians(skew)), y)

    front, back = -float(plan.front_nosing), float(plan.line_run - plan.back_nosing)
    (ef, eb) = float(plan.end_front), float(plan.end_back)
    end_line = end_points(plan)
    slope = (end_line[1][1] - end_line[0][1]) / (end_line[1][0] - end_line[0][0])
    assert ef > 0 < eb

    def on_end(x, skew):
        """Where a riser's parallel through (x, 0) meets the tread end."""
        rate = tan(radians(skew))
        y = (end_line[0][1] + slope * (float(x) - end_line[0][0])) / (1 - slope * rate)
        return edge(x, skew, y)

    return shapely.Polygon([
        edge(front, plan.front.skew, -deep),
        edge(back, plan.back.skew, -deep),
        on_end(back, plan.back.skew),
        on_end(front, plan.front.skew),
    ])  # fmt: skip


def end_points(plan):
    front, back = float(plan.end_front), float(plan.end_back)
    return (
        (front * tan(radians(plan.front.skew)), front),
        (float(plan.line_run) + back * tan(radians(plan.back.skew)), back),
    )


def footprint(mark):
    x, half = float(mark.x), float(mark.type.base.mm) / 2
    if mark.type.shape == "square":
        return shapely.box(x - half, -half, x + half, half)
    return shapely.Point(x, 0).buffer(half, quad_segs=128)


def random_tread(chance):
    """One tread with balusters of every size and set-back, its risers skewed either way."""
    shape = chance.choice(["square", "round"])
    width = chance.randint(16, 40)
    base = width + chance.choice([0, chance.randint(1, 50)])
    job = {
        "balusters": f"{{b: {{shape: {shape}, width: {width}, base: {base}}}}}",
        "units": "mm", "openings": "{stair: 400}", "rail": "{height: 900, depth: 60, width: 60}",
    }  # fmt: skip
    front, back = chance.uniform(-35, 35), chance.uniform(-35, 35)
    section = {
        "rise": "180", "nosing": str(chance.randint(0, 35)),
        "line": f"{{front: {chance.randint(15, 70)}, back: {chance.randint(15, 70)}}}",
        "per_tread": str(chance.randint(1, 3)), "set_back": str(chance.randint(0, 90)),
        "treads": f"[{{line_run: 260, front_skew: {front:.3f}, back_skew: {back:.3f}}}]",
        "lower_newel": "none", "upper_newel": "none",
    }  # fmt: skip
    return written(job, changed(TREADS, section))


def test_a_base_stands_on_its_tread_just_where_the_plan_says_it_does():
    """250 treads of every skew: contained or not, and by how much it has to move."""
    chance, inside, outside = random.Random(7), 0, 0
    for _ in range(250):
        (tread,) = section_of(random_tread(chance)).treads
        polygon = plan_polygons(tread)
        hanging = {hang.mark.name for hang in overhangs(tread)}
        for mark in tread.marks:
            foot = footprint(mark)
            over = dict(edges_over(tread.plan, mark))
            if abs(max(over.values())) < 0.02:
                continue
            assert polygon.contains(foot) is (mark.name not in hanging)
            inside += mark.name not in hanging
            outside += mark.name in hanging
            check_moves(polygon, foot, over)
    assert inside > 100
    assert outside > 100


def check_moves(polygon, foot, over):
    """Moved by what it is over, the base just clears that edge; by a hair less, it does not."""
    hair = 0.02
    for edge, dx, dy in ((FRONT, 1, 0), (BACK, -1, 0), (END, 0, -1)):
        rest = max(value for name, value in over.items() if name != edge)
        if over[edge] <= hair or rest > -over[edge] - 5:
            continue
        near, clear = over[edge] - hair, over[edge] + hair
        assert not polygon.contains(shapely.affinity.translate(foot, dx * near, dy * near))
        assert polygon.contains(shapely.affinity.translate(foot, dx * clear, dy * clear))


def refused(source):
    return [f.text for f in set_out(job_in(source)).failures if f.code == "base"]


WIDE = {"balusters": "{b: {shape: square, width: 5/8, base: 3}}"}


def test_a_base_over_its_own_nosing_is_refused_with_the_set_back_that_clears_it():
    """A 3 in shoe on a 5/8 bar reaches 1 3/16 in front of the riser, the nosing 1 1/8."""
    found = refused(written(WIDE, changed(TREADS, {"per_tread": "2", "treads": "[10 1/4]"})))
    assert found == [
        "the base of mark 1-1 stands over its own nosing by 1/16″; set_back 1/16″ clears it"
    ]
    mended = {"per_tread": "2", "treads": "[10 1/4]", "set_back": "1/16"}
    assert not refused(written(WIDE, changed(TREADS, mended)))


def test_a_base_under_the_next_nosing_is_refused_with_the_set_back_that_clears_it():
    """Gaps of 2.79167: the last base ends that far before the riser, the nosing covers 1 1/8."""
    found = refused(treads_file(treads="[10 1/4]", set_back="2"))
    assert found == [
        "the base of mark 1-3 stands under the nosing of the step above by 3/8″; "
        "set_back 1 5/8″ clears it"
    ]
    assert not refused(treads_file(treads="[10 1/4]", set_back="1 5/8"))
    assert refused(treads_file(treads="[10 1/4]", set_back="1 11/16"))


def test_more_balusters_push_the_last_one_under_the_next_nosing():
    """Seven leave gaps of 0.84: no set-back mends that, fewer do."""
    found = refused(treads_file(treads="[10 1/4]", per_tread="7"))
    assert found == [
        "the base of mark 1-7 stands under the nosing of the step above by 5/16″; "
        "take a smaller base, or put fewer on the tread"
    ]
    assert not refused(treads_file(treads="[10 1/4]", per_tread="5"))


def test_a_base_off_the_tread_end_is_refused():
    found = refused(treads_file(treads="[10 1/4]", line="1/4"))
    assert found == [
        "the bases of marks 1-1, 1-2 and 1-3 stand off the tread end by 1/16″; "
        "move the line in by 1/16″"
    ]
    assert not refused(treads_file(treads="[10 1/4]", line="5/16"))
    assert not refused(treads_file(treads="[10 1/4]", line="1/4", line_from="string"))


def test_bases_that_meet_are_refused():
    """Shoes of 3 1/2 on gaps of 2.79167 meet: 5/8 + gap is 3.41667."""
    source = written(
        {"balusters": "{b: {shape: round, width: 5/8, base: 3 1/2}}"},
        changed(TREADS, {"treads": "[10 1/4]", "set_back": "1/2", "per_tread": "3"}),
    )
    found = [text for text in refused(source) if "meet" in text]
    assert found == ["all bases from mark 1-1 to mark 1-3 meet by 1/8″; take smaller bases"]


# Holes at the riser.


def holed(size, **changes):
    job = {
        "balusters": f"{{b: {{shape: round, width: 5/8, tread_hole: {{size: {size}, depth: 1}}, "
        "rail_hole: {size: 5/8, depth: 3/4}}}"
    }
    return written(job, changed(TREADS, changes))


@pytest.mark.parametrize("skew", ["0", "30", "-20"])
def test_the_set_back_suggested_for_a_hole_near_the_riser_is_the_least_that_clears_it(skew):
    treads = f"[{{run: 10 1/4, skew: {skew}, times: 2}}]"
    (text,) = warned(holed("11/16", treads=treads), "hole-near-riser")
    assert text.startswith("the tread hole of marks 1-1 and 2-1 comes nearer than 1/8″")
    value = Fraction(text.split("set_back ")[1].split("″")[0])
    assert not warned(holed("11/16", treads=treads, set_back=str(value)), "hole-near-riser")
    less = str(value - Fraction(1, 16))
    assert warned(holed("11/16", treads=treads, set_back=less), "hole-near-riser")
    square = (float(value) + 5 / 16) * cos(radians(float(skew)))
    assert square >= 11 / 32 + 1 / 8


def test_no_set_back_is_suggested_that_would_push_a_base_under_the_nosing():
    (text,) = warned(holed("1 1/4", treads="[10 1/4]", per_tread="6"), "hole-near-riser")
    assert text.endswith("no set_back clears both it and the nosing of the step above")


def test_a_hole_just_clear_of_the_riser_is_not_warned():
    """Radius and 1/8: a 3/8 hole, 5/16 behind the face (its size is held to 8 mm elsewhere)."""
    assert not warned(holed("3/8", treads="[10 1/4]"), "hole-near-riser")
    assert warned(holed("7/16", treads="[10 1/4]"), "hole-near-riser")


def test_a_metric_stair_says_so_in_millimetres():
    source = written(METRIC, changed(changed(TREADS, METRIC_TREADS), {"set_back": "70"}))
    assert refused(source)[0] == (
        f"the bases of marks {', '.join(f'{tread}-2' for tread in range(1, 12))} and 12-2 stand "
        "under the nosing of the step above by 2 mm; set_back 68 mm clears it"
    )


def test_a_rail_that_leaves_no_length_is_no_input():
    low = sloped_file(rail="{height: 4, depth: 3 1/2, width: 2}", pitch="60")
    with pytest.raises(BadInput, match="the rail leaves no length for the baluster of mark 1"):
        section_of(low)


def test_a_plowed_rail_is_bored_for_nothing_so_no_cut_length_is_given():
    plowed = {
        "balusters": "{b: {shape: square, width: 1 1/4, tread_hole: {size: 3/4, depth: 1}, "
        "rail_hole: {size: 3/4, depth: 3/4}}}",
        "rail": "{height: 36, depth: 2 1/2, width: 2 3/8, plow: {width: 1 1/4, depth: 3/8}}",
    }
    assert {mark.cut for mark in section_of(written(plowed)).marks} == {None}
    plowed["rail"] = "{height: 36, depth: 2 1/2, width: 2 3/8}"
    first = section_of(written(plowed)).marks[0]
    assert inches(first.cut - first.visible) == pytest.approx(1 + 3 / 4 - 1 / 8)


@pytest.mark.parametrize(
    ("limits", "told"),
    [
        ("{stair: 44 3/8, level: 4, triangle: 6}", ["stair"]),
        ("{stair: 4 3/8, level: 40, triangle: 60}", ["level", "triangle"]),
        ("{stair: 4 3/8, level: 4, triangle: 6}", []),
    ],
)
def test_a_limit_wider_than_any_named_rule_set_is_warned_of(limits: str, told: list[str]) -> None:
    text = (
        f"title: Plover\nunits: inch\nopenings: {limits}\n"
        "balusters: {plain: {shape: square, width: 5/8}}\n"
        "rail: {height: 36, depth: 2 1/2, width: 2 3/8}\nsections:\n"
        "  - {name: F, kind: treads, side: left, rise: 7 1/2, nosing: 1 1/8, line: 1 3/4,\n"
        "     lower_newel: {width: 3 1/2}, upper_newel: {width: 3 1/2},\n"
        "     treads: [10 1/4, 10 1/3, 10 1/4]}\n"
    )
    warnings = set_out(read_job(text.encode(), "job.yaml")).warnings
    wide = [w.text for w in warnings if w.code == "limit-wide"]
    assert [words.split()[1] for words in wide] == told
    odd = [w.text for w in warnings if w.code == "odd-fraction"]
    assert odd == ["10 1/3 has a fraction that no tape has: read it again"]


def test_a_base_that_meets_a_wall_is_said_to_meet_a_wall():
    """A lone bar in the middle of 11 whose base of 12 reaches half an inch over on either side."""
    job = {"balusters": "{b: {shape: square, width: 1, base: 12}}", "openings": "{level: 6}"}
    section = {"name": "Level", "kind": "level", "length": "11", "count": "1",
               "lower_newel": "wall", "upper_newel": "{width: 4}"}  # fmt: skip
    told = [failure.text for failure in set_out(job_in(written(job, section))).failures]
    assert told == [
        "all bases from the lower wall to the upper newel meet by 1/2″; take smaller bases"
    ]
    short = {**section, "length": "11 1/2", "upper_newel": "none"}
    assert [failure.text for failure in set_out(job_in(written(job, short))).failures] == [
        "the bases of the lower wall and mark 1 meet by 1/4″; take smaller bases"
    ]
