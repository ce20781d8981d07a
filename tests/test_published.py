"""Published figures, each with its source beside it, held against what the set-out comes to.

"From memory" beside a figure says that its source was not at hand; "arithmetic" that it follows
from a definition. Inches where nothing else is said.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from math import atan, degrees, radians

import pytest
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

from stairjig.lengths import INCH, Shown
from stairjig.rules import RULE_SETS
from stairjig.setout.build import set_out
from stairjig.setout.openings import triangle_sphere
from stairjig.setout.rail import bow_shift, plumb_length

SIXTEENTHS = Shown("inch", INCH / 16)
NO_ALLOWANCE = {"allowance": "0"}


def inches(mm):
    return float(mm) / float(INCH)


def section_of(source):
    return set_out(job_in(source)).sections[0]


def rail_from_to(section, start, end):
    marks = {mark.name: mark.rail for mark in section.marks}
    return inches(marks[end] - marks[start])


def codes(source):
    return {warning.code for warning in set_out(job_in(source)).warnings}


def stair(rise, run, times=3, **changes):
    return treads_file(rise=str(rise), treads=f"[{{run: {run}, times: {times}}}]", **changes)


def metric(openings="uk", job=None, **changes):
    own = {**METRIC, "openings": openings, **(job or {})}
    return written(own, changed(changed(TREADS, METRIC_TREADS), changes))


def level(width, length, job=None, **changes):
    own = {"balusters": f"{{b: {{shape: square, width: {width}}}}}", **NO_ALLOWANCE, **(job or {})}
    section = {"name": "Level", "kind": "level", "length": length, "lower_newel": "{width: 100 mm}",
               "upper_newel": "{width: 100 mm}"}  # fmt: skip
    return written(own, changed(section, changes))


METRIC_LEVEL = {"units": "mm", "openings": "uk", "rail": "{height: 900, depth: 60, width: 60}"}


# Framing square: length of common rafter per foot of run. Framing-square rafter table; 6 in
# Griffith, Carpentry (1916), 7 in US Navy training manual 14044, 13 in US Army course EN0069.
SQUARE = {
    2: "12.17", 3: "12.37", 4: "12.65", 5: "13.00", 6: "13.42", 7: "13.89", 8: "14.42",
    9: "15.00", 10: "15.62", 11: "16.28", 12: "16.97", 13: "17.69", 14: "18.44", 15: "19.21",
    16: "20.00", 17: "20.81", 18: "21.63",
}  # fmt: skip
# The same to more digits, with the slope factor and the degrees (arithmetic).
EXACT = {
    1: (12.04159, 1.003466, 4.7636),
    2: (12.16553, 1.013794, 9.4623),
    3: (12.36932, 1.030776, 14.0362),
    6: (13.41641, 1.118034, 26.5651),
    7: (13.89244, 1.157704, 30.2564),
    8: (14.42221, 1.201850, 33.6901),
    9: (15, 1.25, 36.8699),
    10: (15.62050, 1.301708, 39.8056),
    12: (16.97056, 1.414214, 45),
    18: (21.63331, 1.802776, 56.3099),
}


@pytest.mark.parametrize("rise", SQUARE)
def test_a_foot_of_run_takes_the_framing_squares_length_of_rail(rise):
    assert rail_from_to(section_of(stair(rise, 12)), "1-1", "2-1") == pytest.approx(
        float(SQUARE[rise]), abs=0.005
    )


@pytest.mark.parametrize("rise", EXACT)
def test_the_slope_factor_and_the_degrees_of_a_rise_in_twelve(rise):
    length, factor, angle = EXACT[rise]
    section = section_of(stair(rise, 12))
    along = rail_from_to(section, "1-1", "2-1")
    assert along == pytest.approx(length, abs=1e-5)
    assert along / 12 == pytest.approx(factor, abs=1e-6)
    assert degrees(section.rail.pitch) == pytest.approx(angle, abs=1e-4)


@pytest.mark.parametrize(
    ("rise", "factor", "angle"), [("7.75", 1.265158, 37.7757), ("7.5", 1.25, 36.8699)]
)
def test_the_slope_of_a_ten_inch_run(rise, factor, angle):
    """Arithmetic; 7.5 on 10 is a 3-4-5 triangle."""
    section = section_of(stair(rise, 10))
    assert rail_from_to(section, "1-1", "2-1") / 10 == pytest.approx(factor, abs=1e-6)
    assert degrees(section.rail.pitch) == pytest.approx(angle, abs=1e-4)


def test_eight_feet_of_run_at_seven_in_twelve():
    """US Navy training manual 14044: 111.12 by the table, 9 ft 3 1/8 in; 8 sqrt 193 exactly."""
    section = section_of(stair(7, 12, times=9))
    along = rail_from_to(section, "1-1", "9-1")
    assert along == pytest.approx(111.13955, abs=1e-5)
    assert SIXTEENTHS.text(along * 25.4) == SIXTEENTHS.text(111.12 * 25.4) == "111 1/8″"


def test_twelve_feet_and_a_half_at_six_in_twelve():
    """Griffith, Carpentry (1916): 167.75 by the table; 167.70510 exactly."""
    section = section_of(stair("6.25", "12.5", times=13))
    along = rail_from_to(section, "1-1", "13-1")
    assert along == pytest.approx(167.70510, abs=1e-5)
    assert along == pytest.approx(12.5 * 13.42, abs=0.05)


@pytest.mark.parametrize(
    ("rise", "rises", "total"), [("7", 12, 84), ("94/13", 13, 94), ("123/17", 17, 123)]
)
def test_the_rises_add_up_to_the_storey(rise, rises, total):
    """Cyclopedia of Architecture, Carpentry and Building: 84 in, 12 risers of 7.

    US Army course EN5156: 94 in, 13 risers; Radford's Cyclopedia, vol. 3: 123 in, 17 risers. The
    rise is not rounded: 13 times 7 1/4 would come out 1/4 too high (EN5156's own figures).
    """
    exact = Fraction(rise)
    written_out = f"{float(exact):.15f}"
    section = section_of(stair(written_out, 10, times=rises - 1))
    assert inches(section.nosings[-1].height) == pytest.approx(total, abs=1e-9)


@pytest.mark.parametrize(
    ("run", "treads", "total"), [("9.5", 11, "104.5"), ("10.5", 12, "126"), ("9.5", 16, "152")]
)
def test_the_runs_add_up_to_the_flight(run, treads, total):
    """Cyclopedia of Architecture; US Army course EN5156; Radford's Cyclopedia, vol. 3."""
    section = section_of(stair("7 1/4", run, times=treads))
    assert section.line_length == Fraction(total) * INCH


def test_the_stringer_over_94_by_126():
    """Pythagoras on EN5156: 157.20051 of string covers 126 in level."""
    pitch = degrees(atan(94 / 126))
    section = section_of(sloped_file(length="157.20051", pitch=f"{pitch:.12f}"))
    assert inches(section.line_length) == pytest.approx(126, abs=1e-5)
    assert inches(section.rail.length) == pytest.approx(157.20051, abs=1e-9)


def test_one_step_of_seven_by_nine_and_a_half():
    """Pythagoras on the Cyclopedia of Architecture: 11.80042."""
    section = section_of(stair(7, "9.5"))
    assert rail_from_to(section, "1-1", "2-1") == pytest.approx(11.80042, abs=1e-5)


# Hatfield, The American House-Carpenter, article 258: two balusters on a tread, the first centre
# half its diameter from the riser's face, the second half a tread on; long less short is half a
# riser (2 ft 5 in and 2 ft 9 in, on a riser of 8).


@pytest.mark.parametrize(("run", "width"), [("10", "1 1/4"), ("9 1/2", "1 5/8"), ("11", "1 3/4")])
def test_hatfields_two_balusters_on_a_tread(run, width):
    job = {"balusters": f"{{b: {{shape: round, width: {width}}}}}"}
    treads = {"per_tread": "2", "treads": f"[{{run: {run}, times: 3}}]"}
    section = section_of(written(job, changed(TREADS, treads)))
    tread = section.treads[1]
    assert tread.marks[0].x == tread.marks[0].type.width.mm / 2
    assert tread.marks[1].x - tread.marks[0].x == tread.plan.line_run / 2


def test_hatfields_long_and_short_baluster_differ_by_half_a_riser():
    section = section_of(stair(8, 10, per_tread="2"))
    short, long = section.treads[1].marks
    assert inches(long.visible - short.visible) == pytest.approx(33 - 29, abs=1e-9)


def test_three_on_a_tread_differ_by_a_third_of_a_riser():
    """Arithmetic, R/n: 2.58333 on a riser of 7 3/4."""
    section = section_of(stair("7.75", 10, per_tread="3"))
    lengths = [inches(mark.visible) for mark in section.treads[1].marks]
    assert lengths[1] - lengths[0] == pytest.approx(2.58333, abs=1e-5)
    assert lengths[2] - lengths[1] == pytest.approx(2.58333, abs=1e-5)


# Equal spacing between two faces: gap = (L - n w) / (n + 1).


def test_six_feet_between_posts_takes_thirteen_at_three_and_three_quarters():
    """A published how-to article: 72 in, 1 1/2 in balusters, a limit of 4."""
    section = section_of(level("1 1/2", "72"))
    assert (len(section.marks), section.gap) == (13, Fraction("3.75") * INCH)


def test_a_published_fifteen_at_three_inches_does_not_come_out():
    """A how-to page takes 75 in and 2 in balusters; 15 have gaps of 45/16, its 3 divides 78."""
    section = section_of(level("2", "75", count="15"))
    assert section.gap == Fraction(45, 16) * INCH


@pytest.mark.parametrize(
    ("width", "length", "count", "gap", "passes"),
    [
        ("1 1/2", "72", 12, 4.15385, False),  # arithmetic
        ("1 1/2", "59", 10, 4, False),  # R312.1.3: a gap exactly at 4 in fails
        ("1 1/2", "59", 11, 3.541667, True),  # the next count up
    ],
)
def test_a_counted_level_in_inches(width, length, count, gap, passes):
    setout = set_out(job_in(level(width, length, count=str(count))))
    assert inches(setout.sections[0].gap) == pytest.approx(gap, abs=1e-5)
    assert setout.passes is passes


@pytest.mark.parametrize(
    ("width", "length", "count", "gap", "openings", "passes"),
    [
        (32, 1000, 7, 97, "uk", True),
        (32, 1024, 7, 100, "uk", False),  # Approved Document K, 3.3
        (32, 1024, 7, 100, "ca", True),  # Ontario 3.3.1.18; NBC 9.8.8.5 from memory
        (41, 2400, 17, 94.6111, "uk", True),
    ],
)
def test_a_counted_level_in_millimetres(width, length, count, gap, openings, passes):
    source = level(width, str(length), {**METRIC_LEVEL, "openings": openings}, count=str(count))
    setout = set_out(job_in(source))
    (section,) = setout.sections
    assert float(section.gap) == pytest.approx(gap, abs=1e-4)
    assert setout.passes is passes


def test_seven_of_32_in_a_metre_stand_129_apart():
    section = section_of(level(32, "1000", METRIC_LEVEL, count="7"))
    places = [mark.s for mark in section.marks]
    assert {high - low for low, high in pairwise(places)} == {129}


# What a gap may be.


@pytest.mark.parametrize(
    ("name", "rule", "gap", "passes"),
    [
        ("irc", "level", Fraction("3.999") * INCH, True),  # R312.1.3
        ("irc", "level", 4 * INCH, False),
        ("irc", "level", Fraction("4.25") * INCH, False),
        ("irc", "stair", Fraction("4.25") * INCH, True),  # R312.1.3, exception 2
        ("irc", "stair", Fraction("4.375") * INCH, False),
        ("irc", "level", Fraction("101.8"), False),  # the bracket's 102 mm would let it through
        ("irc", "level", Fraction("101.59"), True),
        ("irc", "triangle", 6 * INCH, False),  # R312.1.3, exception 1
        ("ibc", "level", 4 * INCH, False),  # 1015.4
        ("ibc", "triangle", Fraction("5.999") * INCH, True),
        ("uk", "stair", Fraction(100), False),  # Approved Document K, 3.3
        ("uk", "level", Fraction("99.999"), True),
        ("ca", "level", Fraction(100), True),  # Ontario 3.3.1.18: what is larger is stopped
        ("ca", "stair", Fraction("100.001"), False),
        ("au", "stair", Fraction(125), False),  # NCC Housing Provisions 11.3.4 (a summary)
        ("au", "level", Fraction("124.9"), True),
    ],
)
def test_a_gap_at_and_beside_its_limit(name, rule, gap, passes):
    rules = RULE_SETS[name]
    limit = getattr(rules, rule).mm
    assert rules.passes(gap, limit) is passes
    assert rules.passes(float(gap), limit) is passes


@pytest.mark.parametrize(("off", "passes"), [(-2e-6, True), (-5e-7, False), (5e-7, False)])
def test_a_gap_without_a_closed_form_is_equal_within_a_millionth(off, passes):
    """The design's 1e-6 mm; no source."""
    rules = RULE_SETS["irc"]
    assert rules.passes(101.6 + off, rules.level.mm) is passes


@pytest.mark.parametrize(
    ("name", "key", "least", "most", "section"),
    [
        ("irc", "stair_height", 34 * INCH, 38 * INCH, "R312.1.2"),
        ("irc", "level_height", 36 * INCH, None, "R312.1.2"),
        ("irc", "rise", None, Fraction("7.75") * INCH, "R311.7.5.1"),
        ("irc", "run", 10 * INCH, None, "R311.7.5.2"),
        ("irc", "nosing", Fraction("0.75") * INCH, Fraction("1.25") * INCH, "R311.7.5.3"),
        ("ibc", "level_height", 42 * INCH, None, "1015.3"),
        ("ibc", "rise", 4 * INCH, 7 * INCH, "1011.5.2"),
        ("ibc", "run", 11 * INCH, None, "1011.5.2"),
        ("uk", "rise", 150, 220, "Table 1.1"),
        ("uk", "run", 220, 300, "Table 1.1"),
        ("uk", "pitch", None, 42, "Table 1.1, note 1"),
        ("uk", "twice_rise_and_run", 550, 700, "Table 1.1, footnote"),
        ("uk", "stair_height", 900, 1000, "Diagram 3.1"),
        ("uk", "level_height", 900, None, "Diagram 3.1"),
        ("ca", "level_height", 900, None, "from memory"),
        ("au", "stair_height", 865, None, "11.3.4(2)"),
        ("au", "level_height", 1000, None, "11.3.4(2)"),
        ("au", "rise", 115, 190, "from memory"),
        ("au", "run", 240, 355, "from memory"),
        ("au", "twice_rise_and_run", 550, 700, "from memory"),
    ],
)
def test_a_rule_sets_band_and_its_paragraph(name, key, least, most, section):
    """IRC 2018/2021, IBC 2015, Approved Document K 2013, NBC and Ontario, NCC 2022."""
    band = getattr(RULE_SETS[name], key)
    assert (band.least, band.most) == (least, most)
    assert section in band.section


@pytest.mark.parametrize(
    ("height", "said"), [("33.9", True), ("34", False), ("38", False), ("38.1", True)]
)
def test_the_height_of_a_rail_on_an_irc_stair(height, said):
    """R312.1.2, exceptions 1 and 2; R311.7.8.1."""
    source = written({"rail": f"{{height: {height}, depth: 2 1/2, width: 2 3/8}}"})
    assert ("rail-height" in codes(source)) is said


@pytest.mark.parametrize(("height", "said"), [("35.9", True), ("36", False), ("42", False)])
def test_the_height_of_a_rail_on_an_irc_level(height, said):
    """R312.1.2; it has no upper bound."""
    rail = f"{{height: {height}, depth: 2 1/2, width: 2 3/8}}"
    assert ("rail-height" in codes(level_file(rail=rail))) is said


@pytest.mark.parametrize(("second", "said"), [("7.625", False), ("7.6875", True)])
def test_irc_rises_may_differ_by_three_eighths(second, said):
    """R311.7.5.1: 7 1/4 and 7 5/8 pass, 7 11/16 does not."""
    source = treads_file(rise=None, rises=f"[7.25, {second}]", treads="[10 1/4]")
    assert ("uniform-rise" in codes(source)) is said


@pytest.mark.parametrize(("second", "said"), [("10.625", False), ("10.6875", True)])
def test_irc_runs_may_differ_by_three_eighths(second, said):
    """R311.7.5.2."""
    assert ("uniform-run" in codes(treads_file(treads=f"[10.25, {second}]"))) is said


@pytest.mark.parametrize(
    ("rises", "said"),
    [
        ("[180, 185, 180]", set()),
        ("[180, 186, 180]", {"neighbours-rise"}),
        ("[180, 185, 190]", set()),
        ("[180, 185, 190.5]", {"neighbours-rise", "uniform-rise"}),
        ("[180, 184, 188, 191]", {"uniform-rise"}),
    ],
)
def test_canadian_rises_differ_by_five_between_neighbours_and_ten_in_all(rises, said):
    """Ontario 9.8.4 (article number from memory)."""
    treads = f"[{{run: 255, times: {rises.count(',')}}}]"
    found = codes(metric("ca", rise=None, rises=rises, treads=treads))
    assert {code for code in found if code.endswith("-rise")} == said


@pytest.mark.parametrize(
    ("nosing", "run", "said"),
    [
        ("0.75", "10 1/4", False),
        ("1.25", "10 1/4", False),
        ("1.3125", "10 1/4", True),
        ("0.6875", "10 1/4", True),
        ("0.5", "11", False),
        ("0.5", "10.9375", True),
        ("0.5", "11}, {run: 10.9375", True),
    ],
)
def test_an_irc_nosing(nosing, run, said):
    """R311.7.5.3: 3/4 to 1 1/4, and none needed over a tread of 11 or more."""
    treads = f"[{{run: {run}, times: 3}}]"
    assert ("nosing" in codes(treads_file(nosing=nosing, treads=treads))) is said


@pytest.mark.parametrize(
    ("run", "angle", "said"),
    [("220", 45, True), ("244.33", 42.0007, True), ("244.34", 41.9993, False)],
)
def test_an_english_stair_is_no_steeper_than_42_degrees(run, angle, said):
    """Approved Document K, Table 1.1, note 1; the least going at a rise of 220 is 244.3348."""
    source = metric(rise="220", treads=f"[{{run: {run}, times: 3}}]")
    assert degrees(section_of(source).rail.pitch) == pytest.approx(angle, abs=1e-3)
    assert ("pitch" in codes(source)) is said


@pytest.mark.parametrize(
    ("rise", "run", "said"), [("190", "250", False), ("150", "249.5", True), ("215", "270.5", True)]
)
def test_twice_the_rise_and_the_going(rise, run, said):
    """Approved Document K, Table 1.1, footnote: 550 to 700; 190 and 250 make 630."""
    source = metric(rise=rise, treads=f"[{{run: {run}, times: 3}}]")
    assert ("rise-and-run" in codes(source)) is said


def test_the_pitch_of_190_by_250():
    source = metric(rise="190", treads="[{run: 250, times: 3}]")
    assert degrees(section_of(source).rail.pitch) == pytest.approx(37.2348, abs=1e-4)


# The largest sphere: legs a, b and hypotenuse c, d = a + b - c.


@pytest.mark.parametrize(("rise", "run", "sphere"), [(6, 8, 4), (14, 48, 12)])
def test_the_circle_in_a_textbooks_right_triangle(rise, run, sphere):
    """A trigonometry text: 6-8-10 has r = 2, 14-48-50 has r = 6."""
    assert triangle_sphere(rise, run, 0, 0) == pytest.approx(sphere, abs=1e-12)


TRIANGLES = [
    ("7.75", "10", "0", "5.09842"),
    ("7.75", "10", "1", "5.60826"),
    ("7.75", "10", "1.25", "5.73572"),
    ("7.5", "10", "0", "5"),
    ("7.5", "10", "1", "5.5"),
]


@pytest.mark.parametrize(("rise", "run", "nosing", "sphere"), TRIANGLES)
def test_the_triangle_of_tread_riser_and_bottom_rail(rise, run, nosing, sphere):
    """Arithmetic; the last two are 3-4-5 triangles."""
    bottom = f"{{lift: 0, rise: {rise}, run: {run}, nosing: {nosing}}}"
    triangle = section_of(sloped_file(bottom_rail=bottom)).openings[-1]
    assert inches(triangle.clear) == pytest.approx(float(sphere), abs=1e-5)
    assert (triangle.rule, triangle.passes) == ("triangle", True)


def test_a_metric_triangle_lets_a_sphere_of_100_through():
    """Arithmetic: 190 by 250 holds 125.99363, so a plain limit of 100 wants a lower rail."""
    assert triangle_sphere(190, 250, 0, 0) == pytest.approx(125.99363, abs=1e-5)
    section = {"name": "Wall", "kind": "sloped", "length": "2400", "pitch": "37.23",
               "bottom_rail": "{lift: 0, rise: 190, run: 250, nosing: 0}",
               "lower_newel": "{width: 90}", "upper_newel": "{width: 90}"}  # fmt: skip
    setout = set_out(job_in(written(METRIC, section)))
    assert setout.sections[0].openings[-1].passes is False


@pytest.mark.parametrize(
    ("nosing", "lift"), [("0", "1.37047"), ("1", "0.59547"), ("1.25", "0.40172")]
)
def test_the_highest_bottom_rail_over_seven_and_three_quarters_by_ten(nosing, lift):
    """Arithmetic: the plumb lift at which a 6 in sphere just fits, which fails."""
    for off, passes in ((-0.00001, True), (0.00001, False)):
        bottom = f"{{lift: {float(lift) + off:.5f}, rise: 7.75, run: 10, nosing: {nosing}}}"
        assert section_of(sloped_file(bottom_rail=bottom)).openings[-1].passes is passes


def test_the_lift_square_to_the_rail():
    """Arithmetic: 0.59547 plumb is 0.47067 square to a 7.75:10 rail, 1.37047 is 1.08324."""
    slope = section_of(stair("7.75", 10)).rail.pitch
    assert 0.59547 / plumb_length(1.0, slope) == pytest.approx(0.47067, abs=1e-5)
    assert 1.37047 / plumb_length(1.0, slope) == pytest.approx(1.08324, abs=1e-5)


# Along a rail of 7.75:10 (arithmetic).


def test_a_level_gap_is_longer_along_the_rail():
    """Two of 1 1/4 on a run of 10 stand 3 3/4 clear: 4.744342 along, each covering 1.581448."""
    job = {"balusters": "{b: {shape: square, width: 1 1/4}}"}
    treads = {"rise": "7.75", "per_tread": "2", "treads": "[{run: 10, times: 2}]"}
    section = section_of(written(job, changed(TREADS, treads)))
    covers = plumb_length(1.25, section.rail.pitch)
    assert section.gap == Fraction("3.75") * INCH
    assert covers == pytest.approx(1.581448, abs=1e-6)
    assert rail_from_to(section, "1-1", "1-2") - covers == pytest.approx(4.744342, abs=1e-6)


def test_four_along_the_rail_are_but_three_and_an_eighth_clear():
    """The wrong layout: 4 in stepped along the slope are 3.161660 level."""
    pitch = degrees(section_of(stair("7.75", 10)).rail.pitch)
    source = sloped_file(length="4", pitch=f"{pitch:.12f}", count="1")
    assert inches(section_of(source).line_length) == pytest.approx(3.161660, abs=1e-6)


def test_what_a_bow_does_to_a_plumbed_mark():
    """P tan t: 1/4 in square to a 7.75:10 rail, 0.19375; 3 mm at 42 degrees, 2.701212."""
    slope = section_of(stair("7.75", 10)).rail.pitch
    assert bow_shift(0.25, slope) == pytest.approx(0.19375, abs=1e-9)
    assert bow_shift(3, radians(42)) == pytest.approx(2.701212, abs=1e-6)


@pytest.mark.parametrize(
    ("bar", "hole", "said"),
    [
        ("1/2", "3/4", False),
        ("1/2", "0.7072", False),
        ("1/2", "0.7070", True),
        ("1/2", "5/8", True),
        ("9/16", "13/16", False),
        ("9/16", "3/4", True),
        ("5/8", "15/16", False),
        ("5/8", "0.8838", True),
        ("14 mm", "19.80 mm", False),
        ("14 mm", "19.79 mm", True),
    ],
)
def test_a_square_bar_needs_a_round_hole_of_its_diagonal(bar, hole, said):
    """Arithmetic, s sqrt 2: 1/2 in 0.707107, 9/16 in 0.7955, 5/8 in 0.8839, 14 mm in 19.79899."""
    holes = f"tread_hole: {{size: {hole}, depth: 1}}, rail_hole: {{size: {hole}, depth: 3/4}}"
    job = {"balusters": f"{{b: {{shape: square, width: {bar}, {holes}}}}}"}
    assert ("square-in-round" in codes(written(job))) is said


def test_a_square_bars_round_hole_is_told_as_the_next_drill_in_the_jobs_units():
    """Arithmetic: 5/8 sqrt 2 = 0.8839, next 64th 57/64; 14 sqrt 2 = 19.799, next half 20."""
    for job, size, says in (
        ({}, "5/8", "a bar of 5/8″ that is square to its end needs a round hole of 57/64″ or more"),
        ({**METRIC, "units": "mm"}, "14", "needs a round hole of 20 mm or more; its tread hole is"),
    ):
        bar = f"{{shape: square, width: {size}, tread_hole: {{size: {size}, depth: {size}}}}}"
        section = METRIC_TREADS if job else {}
        source = written({**job, "balusters": f"{{b: {bar}}}"}, changed(TREADS, section))
        (told,) = [w.text for w in set_out(job_in(source)).warnings if w.code == "square-in-round"]
        assert says in told


# Common practice, no source.


def test_three_half_inch_balusters_on_a_run_of_ten():
    """Spaces of 2.8333, shown as 2 13/16, the first at the riser's face, the newel one before."""
    job = {"balusters": "{b: {shape: square, width: 1/2}}"}
    treads = {"per_tread": "3", "treads": "[{run: 10, times: 2}]"}
    section = section_of(written(job, changed(TREADS, treads)))
    assert section.gap == Fraction(17, 6) * INCH
    assert SIXTEENTHS.text(section.gap) == "2 13/16″"
    first, last = section.treads[0].marks[0], section.treads[0].marks[-1]
    assert first.x - first.type.width.mm / 2 == 0
    assert section.treads[1].marks[0].s - last.s - INCH / 2 == section.gap
    assert section.lower_newel.face == -section.gap


def test_a_tread_eleven_and_a_quarter_deep_over_a_nosing_of_one_and_a_quarter():
    section = section_of(treads_file(nosing="1 1/4", treads="[{depth: 11 1/4}]"))
    assert section.line_length == 10 * INCH


def test_a_line_26_degrees_off_square():
    section = section_of(treads_file(treads="[{run: 10, skew: 26}]"))
    assert inches(section.line_length) == pytest.approx(11.126, abs=5e-4)


def test_an_eighth_of_bow_moves_a_mark_by_a_sixteenth_or_a_little_more():
    pitch = section_of(treads_file()).rail.pitch
    assert 1 / 16 < bow_shift(1 / 8, pitch) < 1 / 8
