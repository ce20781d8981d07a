"""A job file that can be used: every default filled in, every way of writing resolved."""

from __future__ import annotations

from fractions import Fraction

import pytest
from job_files import (
    LEVEL,
    METRIC,
    METRIC_TREADS,
    SLOPED,
    TREADS,
    changed,
    job_in,
    level_file,
    sloped_file,
    tread_file,
    treads_file,
    written,
)  # fmt: skip

from stairjig.lengths import INCH, Angle, Length
from stairjig.rules import RULE_SETS


def only(source):
    """The one section of a job."""
    (section,) = job_in(source).sections
    return section


def inches(text):
    return Fraction(text) * INCH


def same_job(*sources):
    first, *others = (job_in(source) for source in sources)
    return all(first == other for other in others)


def test_an_inch_job_is_filled_with_the_inch_defaults():
    job = job_in(written())
    assert (job.paper.name, job.paper.width, job.paper.height) == (
        "letter",
        inches("8.5"),
        inches(11),
    )
    assert job.paper.margin == Length(inches("5/16"))
    assert (job.allowance.mm, job.tolerance.mm, job.show.mm) == (
        inches("1/16"), inches("1/8"), inches("1/16"),
    )  # fmt: skip
    assert job.copies == "each"
    assert job.openings is RULE_SETS["irc"]


def test_a_metric_job_is_filled_with_the_metric_defaults():
    job = job_in(written(METRIC, changed(TREADS, METRIC_TREADS)))
    assert (job.paper.name, job.paper.width, job.paper.height) == ("a4", 210, 297)
    assert (job.allowance.mm, job.tolerance.mm, job.show.mm) == (Fraction(3, 2), 3, Fraction(1, 2))
    assert job.paper.margin.mm == inches("5/16")
    assert job.baluster("plain").fit.mm == inches("1/8")


def test_a_baluster_is_as_wide_at_its_base_and_narrowest_as_at_the_tread():
    plain = job_in(written()).baluster("plain")
    assert plain.narrowest == plain.base == plain.width == Length(inches("5/8"))
    assert (plain.top, plain.tread_hole, plain.rail_hole) == ("square", None, None)


def test_a_baluster_written_in_full_is_read_in_full():
    full = (
        "{knob: {shape: round, width: 1 1/4, narrowest: 7/8, base: 1 3/4, top: pin, fit: 0, "
        "tread_hole: {size: 3/4, depth: 1}, rail_hole: {size: 5/8, depth: 3/4}}}"
    )
    knob = job_in(written({"balusters": full})).baluster("knob")
    assert (knob.shape, knob.top) == ("round", "pin")
    sizes = (knob.width, knob.narrowest, knob.base, knob.fit)
    assert [size.mm / INCH for size in sizes] == [Fraction(5, 4), Fraction(7, 8), Fraction(7, 4), 0]
    assert (knob.tread_hole.size.mm, knob.tread_hole.depth.mm) == (inches("3/4"), inches(1))
    assert (knob.rail_hole.size.mm, knob.rail_hole.depth.mm) == (inches("5/8"), inches("3/4"))


def test_times_is_as_if_the_tread_stood_that_often():
    assert same_job(
        treads_file(treads="[10 1/4, {depth: 11 3/8, times: 3}]"),
        treads_file(treads="[{run: 10 1/4}, {depth: 11 3/8}, {depth: 11 3/8}, {depth: 11 3/8}]"),
    )


def test_treads_are_numbered_after_times_from_the_first_tread_on():
    section = only(treads_file(treads="[10, {run: 11, times: 3}, 12]", first_tread="7"))
    assert [tread.number for tread in section.treads] == [7, 8, 9, 10, 11]
    assert [tread.run.mm / INCH for tread in section.treads] == [10, 11, 11, 11, 12]


def test_every_way_of_writing_is_the_same_job():
    plain = treads_file(treads="[10.25]", nosing="1.125", lower_newel="{width: 3.5}")
    assert same_job(
        plain,
        treads_file(treads="[{run: 10¼}]", nosing="28.575 mm", lower_newel="{width: 3 1/2}"),
        treads_file(treads='[10 1/4"]', nosing="1-1/8", lower_newel="{place: gap, width: 8.89 cm}"),
        treads_file(treads="[{times: 1, run: 10-1/4, skew: 0}]", nosing="1⅛″", spacing="tread",
                    lower_newel="{width: 3½, narrowest: 3½}", set_back="0", first_tread="1",
                    per_tread="auto", line_from="end", pattern="[plain]",
                    upper_newel="{width: 0' 3 1/2\"}"),
    )  # fmt: skip


def test_yaml_guesses_touch_no_measurement():
    """A loader would make 8 of 010, 630 of 6:30 + sixties, True of yes and a date of 2026-11-25."""
    section = only(treads_file(treads="[{run: 010, times: 06}]", name="6:30", first_tread="010"))
    assert section.treads[0].run.mm == 10 * INCH
    assert (len(section.treads), section.treads[0].number, section.name) == (6, 10, "6:30")
    assert job_in(written({"title": "2026-11-25"})).title == "2026-11-25"
    assert only(treads_file(name="yes")).name == "yes"
    assert only(treads_file(upper_newel="none")).upper_newel.kind == "none"


def test_a_measure_keeps_the_text_and_the_place_it_was_written_at():
    section = only(treads_file(treads="[10 1/4]"))
    run = section.treads[0].run
    assert (run.text, str(run.where)) == ("10 1/4", "flight.yaml:15:14")
    assert str(section.nosing.where) == "flight.yaml:11:13"


def test_one_rise_stands_for_all_and_a_list_for_each():
    assert len(only(treads_file()).rises) == 7
    rises = "[7, 7 1/8, 7, 7 1/4, 7, 7, 7 1/2]"
    listed = only(treads_file(rise=None, rises=rises))
    assert [rise.mm / INCH for rise in listed.rises][-1] == Fraction(15, 2)
    assert len(listed.rises) == 7


def test_a_line_may_differ_front_and_back():
    line = only(treads_file(line="{front: 1 3/4, back: 2}", line_from="string")).line
    assert (line.front.mm, line.back.mm, line.origin) == (inches("7/4"), inches(2), "string")
    same = only(treads_file()).line
    assert (same.front, same.origin) == (same.back, "end")


def test_skew_turns_both_risers():
    (both, *_), (apart, *_) = (
        only(tread_file(item)).treads
        for item in ("{run: 10, skew: 22.5}", "{line_run: 10, front_skew: -21.8, back_skew: -36}")
    )
    assert both.front_skew == both.back_skew == Angle(Fraction(45, 2))
    assert (apart.front_skew.degrees, apart.back_skew.degrees) == (Fraction("-21.8"), -36)


def test_a_winder_keeps_its_four_sides_and_its_diagonals():
    item = (
        "{sides: {end: 9 1/2, back: 38 13/16, wall: 24, front: 36}, diagonal: 43 1/4, "
        "check_diagonal: 37 1/4}"
    )
    sides = only(tread_file(item)).treads[0].sides
    taped = (sides.end, sides.back, sides.wall, sides.front, sides.diagonal, sides.check_diagonal)
    assert [float(length.mm / INCH) for length in taped] == [9.5, 38.8125, 24, 36, 43.25, 37.25]
    without = only(tread_file(item.replace(", check_diagonal: 37 1/4", ""))).treads[0].sides
    assert without.check_diagonal is None


@pytest.mark.parametrize(
    ("text", "bare"), [("yes", True), ("true", True), ("no", False), ("false", False)]
)
def test_bare_is_read_as_a_word(text, bare):
    section = only(tread_file(f"{{run: 10, bare: {text}}}"))
    assert [tread.bare for tread in section.treads[:2]] == [bare, False]


def test_newels_are_found_given_replace_a_mark_or_are_none():
    section = only(
        treads_file(lower_newel="{width: 5, narrowest: 4, place: {face: -1/2}}", upper_newel="wall")
    )
    lower, upper = section.lower_newel, section.upper_newel
    assert (lower.kind, lower.place, lower.face.mm) == ("post", "face", inches("-1/2"))
    assert (lower.width.mm, lower.narrowest.mm) == (inches(5), inches(4))
    assert (upper.kind, upper.width.mm) == ("wall", 0)
    section = only(
        treads_file(lower_newel="{width: 5, place: {replaces: 1-1}}", upper_newel="none")
    )
    assert (section.lower_newel.place, section.lower_newel.replaces) == ("replaces", "1-1")
    assert section.upper_newel.kind == "none"


def test_a_taped_rail_names_two_marks_and_a_length():
    section = only(
        treads_file(rail_taped="{from: 1-1, to: 6-3, length: 72}", rail_length="79 11/16")
    )
    taped = section.rail_taped
    assert (taped.start, taped.end, taped.length.mm) == ("1-1", "6-3", inches(72))
    assert section.rail_length.mm == inches("79.6875")


def test_set_back_is_nil_by_the_tread_and_to_be_found_when_even():
    assert only(treads_file()).set_back.mm == 0
    assert only(treads_file(spacing="even")).set_back is None
    assert only(treads_file(spacing="even", set_back="1/2")).set_back.mm == inches("1/2")


def test_counts_are_auto_or_by_hand():
    assert only(treads_file()).per_tread is None
    assert only(treads_file(per_tread="3")).per_tread == 3
    assert [t.per_tread for t in only(tread_file("{run: 10, per_tread: 4}")).treads][:2] == [
        4,
        None,
    ]
    assert only(level_file(count="auto")).count is None
    assert only(level_file(count="21")).count == 21


def test_level_and_sloped_sections_are_read_in_full():
    level = only(level_file(shoe="{depth: 3/4}"))
    assert (level.kind, level.length.mm, level.shoe_depth.mm) == (
        "level",
        inches("96.5"),
        inches("0.75"),
    )
    bottom = "{lift: 1, rise: 7 1/2, run: 10, nosing: 0}"
    sloped = only(sloped_file(bottom_rail=bottom, shoe="{depth: 0}"))
    assert (sloped.kind, sloped.pitch.degrees, sloped.shoe_depth.mm) == (
        "sloped",
        Fraction("36.9"),
        0,
    )
    assert (sloped.bottom_rail.lift.mm, sloped.bottom_rail.nosing.mm) == (INCH, 0)
    assert only(sloped_file()).bottom_rail is None
    assert only(level_file()).shoe_depth.mm == 0


def test_a_section_takes_the_jobs_pattern_and_rail_or_its_own():
    two = "{plain: {shape: square, width: 5/8}, knuckle: {shape: square, width: 5/8}}"
    own = changed(LEVEL, {"pattern": "[knuckle]", "rail": "{height: 42, depth: 2, width: 3}"})
    job = job_in(written({"balusters": two, "pattern": "[plain, knuckle]"}, TREADS, own))
    assert [section.pattern for section in job.sections] == [("plain", "knuckle"), ("knuckle",)]
    assert [section.rail.height.mm / INCH for section in job.sections] == [36, 42]


def test_no_pattern_is_needed_where_every_section_has_its_own():
    two = "{plain: {shape: square, width: 5/8}, knuckle: {shape: square, width: 5/8}}"
    own = changed(LEVEL, {"pattern": "[knuckle, plain]"})
    assert job_in(written({"balusters": two}, own)).sections[0].pattern == ("knuckle", "plain")


def test_a_plowed_rail_has_its_groove():
    rail = "{height: 36, depth: 2 1/2, width: 2 3/8, plow: {width: 1 1/4, depth: 1/4}}"
    plow = job_in(written({"rail": rail})).sections[0].rail.plow
    assert (plow.width.mm, plow.depth.mm) == (inches("5/4"), inches("1/4"))


@pytest.mark.parametrize("name", sorted(RULE_SETS))
def test_openings_name_a_rule_set(name):
    assert job_in(written({"openings": name})).openings is RULE_SETS[name]


def test_own_limits_are_a_rule_set_whose_equal_gap_fails():
    rules = job_in(written({"openings": "{stair: 4 3/8, level: 4, triangle: 6}"})).openings
    assert (rules.name, rules.edition, rules.equal_fails) == (
        "own",
        "limits given in the job file",
        True,
    )
    assert [limit.mm for limit in (rules.stair, rules.level, rules.triangle)] == [
        inches("4.375"), inches(4), inches(6),
    ]  # fmt: skip
    assert rules.stair_height is rules.rise is rules.uniform is None


def test_an_own_limit_left_out_is_not_checked_and_equal_may_pass():
    rules = job_in(written({"openings": "{level: 100 mm, equal: passes}"})).openings
    assert (rules.stair, rules.level.mm, rules.triangle, rules.equal_fails) == (
        None,
        100,
        None,
        False,
    )


@pytest.mark.parametrize(
    ("text", "name", "width", "height"),
    [
        # ISO 216 and the US paper sizes.
        ("letter", "letter", inches("8.5"), inches(11)),
        ("LEGAL", "legal", inches("8.5"), inches(14)),
        ("tabloid", "tabloid", inches(11), inches(17)),
        ("Ledger", "tabloid", inches(11), inches(17)),
        ("A4", "a4", 210, 297),
        ("a3", "a3", 297, 420),
        # PDF Reference 1.7, annex C.2: no page over 200 in = 5080 mm.
        ("roll 24", "roll 24", inches(24), 5079),
        ("Roll  36 in", "roll 36", inches(36), 5079),
        ("10 x 15", "10 x 15", inches(10), inches(15)),
        ("15×10", "10 x 15", inches(10), inches(15)),
        ("254 mm x 381 mm", "10 x 15", inches(10), inches(15)),
        ("250 x 400 mm", "9 107/127 x 15 95/127", 250, 400),
        ("8 1/2 x 13", "8 1/2 x 13", inches("8.5"), inches(13)),
    ],
)
def test_paper_is_portrait_whatever_way_it_is_named(text, name, width, height):
    for paper in (
        job_in(written({"paper": text})).paper,
        job_in(written({"paper": "a3"}), paper=text).paper,
    ):
        assert (paper.name, paper.width, paper.height) == (name, width, height)
        assert paper.roll == name.startswith("roll")
        assert paper.margin.mm == inches("1/2" if paper.roll else "5/16")


def test_a_bare_size_is_in_the_jobs_units():
    paper = job_in(written({**METRIC, "paper": "320 x 450"}, changed(TREADS, METRIC_TREADS))).paper
    assert (paper.name, paper.width, paper.height) == ("320 x 450", 320, 450)


def test_a_margin_given_holds_on_whatever_paper():
    assert job_in(written({"margin": "1/4"}), paper="roll 24").paper.margin.mm == inches("1/4")


def test_a_job_carries_its_own_bytes():
    source = written()
    assert job_in(source).source == source


def test_names_are_composed_and_single_spaced():
    job = job_in(written({"title": '"  Cafe\\u0301   stair "'}, changed(SLOPED, {"name": "a  b"})))
    assert (job.title, job.sections[0].name) == ("Café stair", "a b")


def test_a_byte_order_mark_and_windows_lines_change_nothing():
    plain = written()
    assert same_job(plain, b"\xef\xbb\xbf" + plain, plain.replace(b"\n", b"\r\n"))


def test_two_hundred_treads_are_a_section():
    assert len(only(treads_file(treads="[{run: 10, times: 200}]")).treads) == 200


def test_ten_thousand_balusters_are_a_job():
    section = only(treads_file(treads="[{run: 120, times: 200}]", per_tread="50"))
    assert len(section.treads) * section.per_tread == 10_000
