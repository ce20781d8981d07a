"""Newels: found, standing, in a baluster's place, a wall, none; and the rail taped between them."""

from __future__ import annotations

from fractions import Fraction
from math import acos, degrees, hypot

import pytest
from job_files import TREADS, changed, job_in, level_file, treads_file, written

from stairjig.errors import BadInput
from stairjig.lengths import INCH
from stairjig.setout.build import set_out

GAP = Fraction(67, 24)
"""The layout gap of three 5/8 balusters on a run of 10 1/4, inches."""


def inches(mm):
    return float(mm) / float(INCH)


def exact(mm):
    return Fraction(mm) / INCH


def section_of(**changes):
    return set_out(job_in(treads_file(**changes))).sections[0]


def names(section):
    return [mark.name for mark in section.marks]


def warned(source, code):
    return [w.text for w in set_out(job_in(source)).warnings if w.code == code]


def newel(place):
    return f"{{width: 3 1/2, place: {place}}}"


# Found.


def test_both_newels_are_found_so_that_their_gaps_are_the_layouts():
    section = section_of()
    lower, upper = section.lower_newel, section.upper_newel
    assert (exact(lower.face), exact(lower.gap)) == (-GAP, GAP)
    assert (exact(upper.face), exact(upper.gap)) == (Fraction("61.5"), GAP)
    assert exact(lower.centre) == -GAP - Fraction("1.75")
    assert exact(upper.centre) == Fraction("63.25")
    assert (lower.stands, lower.even_face) == (False, None)


def test_newels_take_the_gap_of_the_tread_beside_them():
    section = section_of(treads="[10, 10 1/4, 10 3/4]")
    assert exact(section.lower_newel.gap) == (10 - Fraction(15, 8)) / 3
    assert exact(section.upper_newel.gap) == (Fraction("10.75") - Fraction(15, 8)) / 3


def test_a_set_back_moves_row_and_newels_alike():
    plain, moved = section_of(), section_of(set_back="5/16")
    by = {high.s - low.s for low, high in zip(plain.marks, moved.marks, strict=True)}
    ends = ("lower_newel", "upper_newel")
    by |= {getattr(moved, end).face - getattr(plain, end).face for end in ends}
    assert by == {INCH * 5 / 16}


def test_a_bare_first_step_has_no_mark_and_the_newel_stands_behind_it():
    section = section_of(treads="[{run: 12, bare: true}, {run: 10 1/4, times: 3}]", rise="7 1/2")
    assert names(section)[:4] == ["2-1", "2-2", "2-3", "3-1"]
    assert (section.treads[0].marks, section.treads[0].gap) == ((), None)
    assert exact(section.lower_newel.face) == 12 - GAP
    assert len(section.nosings) == 5
    assert exact(section.marks[0].s) == 12 + Fraction(5, 16)


def test_a_bare_step_at_the_top_keeps_the_newel_below_it():
    section = section_of(treads="[{run: 10 1/4, times: 3}, {run: 12, bare: true}]")
    assert exact(section.upper_newel.face) == 3 * Fraction("10.25")
    assert section.treads[-1].marks == ()
    assert [number for number, _ in section.rail.risers] == [1, 2, 3, 4, 5]


def test_the_first_treads_number_is_the_jobs():
    assert names(section_of(treads="[{run: 10 1/4, times: 2}]", first_tread="7")) == [
        "7-1", "7-2", "7-3", "8-1", "8-2", "8-3",
    ]  # fmt: skip


# Standing.


def test_a_standing_newel_takes_the_place_of_the_balusters_it_overlaps():
    """Its face 4 in up the stair: 1-1 and 1-2 (back face at 4.04) go, the rest counts from 1."""
    section = section_of(lower_newel=newel("{face: 4}"))
    assert names(section)[:3] == ["1-1", "2-1", "2-2"]
    assert exact(section.marks[0].s) == Fraction("0.3125") + 2 * (GAP + Fraction(5, 8))
    assert exact(section.lower_newel.gap) == 2 * (GAP + Fraction(5, 8)) - 4
    assert section.lower_newel.stands


def test_a_standing_newel_says_how_many_balusters_it_takes():
    source = treads_file(lower_newel="{width: 3 1/2, place: {face: 4}}")
    [note] = warned(source, "newel-takes")
    assert "the lower newel stands where 2 balusters would: left out" in note
    assert not warned(treads_file(), "newel-takes")


def test_a_standing_newel_that_just_touches_a_baluster_leaves_it():
    assert names(section_of(lower_newel=newel("{face: 0}")))[0] == "1-1"
    assert exact(section_of(lower_newel=newel("{face: 0}")).marks[0].s) == Fraction("0.3125")
    touching = section_of(lower_newel=newel("{face: 1/16}"))
    assert exact(touching.marks[0].s) > 3


def test_an_upper_newel_is_measured_from_the_top_riser_and_may_stand_below_it():
    section = section_of(upper_newel=newel("{face: -4}"))
    assert exact(section.upper_newel.face) == Fraction("57.5")
    assert names(section)[-2:] == ["6-1", "6-2"]
    last = section.marks[-1]
    assert section.upper_newel.gap == section.upper_newel.face - last.s - INCH * 5 / 16


def test_dropped_balusters_keep_their_place_in_the_pattern():
    job = {
        "balusters": "{a: {shape: square, width: 5/8}, b: {shape: round, width: 5/8}, "
        "c: {shape: square, width: 5/8}}",
        "pattern": "[a, b, c, a]",
    }
    whole = set_out(job_in(written(job))).sections[0]
    cut = changed(TREADS, {"lower_newel": newel("{face: 4}")})
    left = set_out(job_in(written(job, cut))).sections[0]
    assert [(m.type.name, m.s) for m in left.marks] == [(m.type.name, m.s) for m in whole.marks[2:]]


def test_a_newel_that_takes_a_whole_tread_leaves_its_strip_out():
    section = section_of(lower_newel=newel("{face: 12}"))
    assert section.treads[0].marks == ()
    assert names(section)[:3] == ["2-1", "2-2", "3-1"]


def test_a_standing_newels_end_gap_is_checked_at_its_narrowest():
    source = treads_file(lower_newel="{width: 3 1/2, narrowest: 1, place: {face: -3 1/2}}")
    opening = set_out(job_in(source)).sections[0].openings[0]
    assert exact(opening.clear) == Fraction("4.75")
    assert opening.passes is False


@pytest.mark.parametrize(
    ("end", "face", "off", "way"),
    [
        ("lower", "-1", "1 13/16", "down"),
        ("lower", "-4", "1 3/16", "up"),
        ("upper", "1", "1", "down"),
        ("upper", "-1", "1", "up"),
    ],
)
def test_the_place_that_would_even_a_standing_newel_is_suggested(end, face, off, way):
    source = treads_file(**{f"{end}_newel": newel(f"{{face: {face}}}")})
    (text,) = warned(source, "newel-uneven")
    assert f"its face {off}″ further {way} the stair would even it" in text
    even = set_out(job_in(source)).sections[0]
    stands = even.lower_newel if end == "lower" else even.upper_newel
    asked = {"lower": -GAP, "upper": Fraction("61.5")}[end]
    assert exact(stands.even_face) == asked


def test_a_newel_that_stands_where_it_would_be_found_is_let_be():
    assert not warned(treads_file(upper_newel=newel("{face: 0}")), "newel-uneven")


# In a baluster's place.


def test_newels_in_the_place_of_the_first_and_last_baluster():
    """Its uphill face is where 1-1's back face would be; the next on the tread becomes 1-1."""
    whole = section_of()
    section = section_of(lower_newel=newel("{replaces: 1-1}"), upper_newel=newel("{replaces: 6-3}"))
    assert [mark.s for mark in section.marks] == [mark.s for mark in whole.marks[1:-1]]
    assert names(section)[:3] == ["1-1", "1-2", "2-1"]
    assert names(section)[-2:] == ["6-1", "6-2"]
    assert exact(section.lower_newel.face) == Fraction(5, 8)
    assert exact(section.lower_newel.gap) == exact(section.upper_newel.gap) == GAP
    assert section.upper_newel.face == whole.marks[-1].s - INCH * 5 / 16
    assert section.marks[0].rail == 0


def test_a_newel_in_the_place_of_the_second_baluster_takes_the_first_as_well():
    assert names(section_of(lower_newel=newel("{replaces: 1-2}")))[:2] == ["1-1", "2-1"]


def test_a_baluster_that_is_not_there_cannot_be_replaced():
    with pytest.raises(BadInput) as refused:
        section_of(lower_newel=newel("{replaces: 1-4}"))
    (problem,) = refused.value.problems
    assert "there is no baluster 1-4 for the newel to replace" in problem.what
    assert problem.mend == "tread 1 has 3"
    assert problem.where.line == 13


def test_newels_that_leave_no_baluster_are_refused():
    with pytest.raises(BadInput, match="leave no room for a baluster"):
        section_of(lower_newel=newel("{face: 70}"))


# Walls and open ends.


def test_a_wall_is_a_newel_without_width():
    section = section_of(upper_newel="wall")
    wall = section.upper_newel
    assert (wall.kind, wall.width, wall.face) == ("wall", 0, wall.centre)
    assert exact(wall.gap) == GAP
    (text,) = warned(treads_file(upper_newel="wall"), "wall-assumed")
    assert "taken to stand 2 13/16″" in text
    assert not warned(level_file(upper_newel="wall"), "wall-assumed")


def test_an_open_end_on_a_level_keeps_its_gap():
    section = set_out(job_in(level_file(upper_newel="none"))).sections[0]
    whole = set_out(job_in(level_file())).sections[0]
    assert [mark.s for mark in section.marks] == [mark.s for mark in whole.marks]
    assert (section.upper_newel, section.rail.upper) == (None, None)
    assert len(section.openings) == len(whole.openings) - 1


# The rail, taped.


def test_a_taped_rail_governs_every_mark_of_it():
    section = section_of(rail_taped="{from: 1-1, to: 6-3, length: 72}")
    last = section.marks[-1]
    assert inches(last.rail) == pytest.approx(72, abs=1e-12)
    level = float(last.s - section.marks[0].s)
    assert section.rail.pitch == pytest.approx(acos(level / (72 * 25.4)))
    first = section.treads[2].marks[0]
    assert first.rail == pytest.approx(float(first.s - section.marks[0].s) * 72 * 25.4 / level)


def test_a_taped_rail_still_rests_on_the_nosings():
    section = section_of(rail_taped="{from: 1-1, to: 6-3, length: 72}")
    under = [nosing.under for nosing in section.nosings]
    assert min(under) == pytest.approx(0, abs=1e-9)
    assert max(under) > 0


@pytest.mark.parametrize(
    ("taped", "said"),
    [
        ("{from: 1-1, to: 6-3, length: 58}", "no longer than the level distance"),
        ("{from: 1-1, to: 6-3, length: 58 1/16}", "no longer than the level distance"),
        ("{from: 1-1, to: 6-4, length: 72}", "there is no mark 6-4"),
    ],
)
def test_a_taped_rail_that_cannot_be(taped, said):
    """1-1 and 6-3 stand 58.08333 apart on the level."""
    with pytest.raises(BadInput, match=said):
        section_of(rail_taped=taped)


def test_the_marks_of_a_taped_rail_are_those_that_are_printed():
    """With 1-1 and 1-2 taken by a newel, the taped 1-1 is the one that is called so now."""
    section = section_of(
        lower_newel=newel("{face: 4}"), rail_taped="{from: 1-1, to: 6-3, length: 63 5/8}"
    )
    assert inches(section.marks[-1].rail) == pytest.approx(63.625, abs=1e-12)


def disagreement(**changes):
    return warned(treads_file(**changes), "rail-disagrees")


def likely(text):
    return text.partition("Most likely ")[2].partition("; else")[0]


@pytest.mark.parametrize("length", ["79 11/16", "79 5/8", "79 9/16 "])
def test_a_rail_length_that_is_as_close_as_a_tape_is_let_be(length):
    """It comes to 79.6645; half the job's tolerance, 1/16, is let be."""
    assert bool(disagreement(rail_length=length)) is (length.strip() == "79 9/16")


def test_a_run_that_stands_out_is_the_likely_cause():
    """One of six taped at 9 1/4 for 10 1/4: 1 in more of it makes the taped length."""
    treads = "[10 1/4, 10 1/4, 9 1/4, 10 1/4, 10 1/4, 10 1/4]"
    (text,) = disagreement(treads=treads, rail_taped="{from: 1-1, to: 6-3, length: 71.97169}")
    assert likely(text).startswith("the run of tread 3: 1″ more explains it")
    right = treads.replace("9 1/4", "10 1/4")
    assert not disagreement(treads=right, rail_taped="{from: 1-1, to: 6-3, length: 71.97169}")


def test_a_rise_that_stands_out_is_the_likely_cause():
    rises = ["7 1/2"] * 7
    wrong = [*rises[:3], "6 3/4", *rises[4:]]
    (text,) = disagreement(rise=None, rises=f"[{', '.join(wrong)}]", rail_length="79.6645")
    assert likely(text).startswith("rise 4: 3/4″ more explains it")
    assert not disagreement(rise=None, rises=f"[{', '.join(rises)}]", rail_length="79.6645")


def test_a_rise_taken_once_needs_little_to_explain_a_long_rail():
    """Seven rises of 7 9/16 for 7 1/2: the rail between 1-1 and 6-3 by hand."""
    level = float(6 * Fraction("10.25") - GAP - Fraction(5, 8))
    length = hypot(level, level * 7.5625 / 10.25)
    taped = f"{{from: 1-1, to: 6-3, length: {length:.5f}}}"
    (text,) = disagreement(rail_taped=taped)
    assert "the rise, taken once for all 7: 1/16″ more explains it" in text
    assert "the run, taken once for all 6: 1/16″ more explains it" in text


@pytest.mark.parametrize(("off", "said"), [(1, "1″ less"), (-1, "1″ more"), (2, "2″ less")])
def test_a_whole_inch_is_a_misread_tape(off, said):
    (text,) = disagreement(rail_taped=f"{{from: 1-1, to: 6-3, length: {71.97169 + off}}}")
    assert likely(text).startswith(f"the reading of rail_taped or a mark plumbed to it: {said}")


def test_a_rail_end_is_the_likely_cause_where_the_marks_between_are_proved():
    """1/2 in more along the rail is 3/8 level (0.40), at the newel."""
    (text,) = disagreement(
        rail_taped="{from: 1-1, to: 6-3, length: 71.97169}", rail_length=str(79.6645 + 0.5)
    )
    assert likely(text) == (
        "a rail end, a newel not where it is to go: 3/8″ further out explains it, and only the "
        "rail's end moves by it, no mark does"
    )


def test_a_length_no_run_could_be_wrong_by_is_the_readings_own():
    """A whole spacing too much, 4 1/4: no carpenter is an inch off on every one of six runs."""
    (text,) = disagreement(rail_taped="{from: 1-1, to: 6-3, length: 76 1/4}")
    assert likely(text).startswith("the reading of rail_taped or a mark plumbed to it: 4 1/4″ less")


def test_a_size_too_small_to_show_is_not_said_to_be_nothing():
    (text,) = disagreement(rail_length="79 3/4")
    assert "less than 1/16″ more explains it" in text
    assert ": 0″" not in text


def test_a_standing_newel_is_named_as_the_rails_end():
    (text,) = disagreement(lower_newel=newel("{face: -2 3/4}"), rail_length="80")
    assert "a rail end, the lower newel: 5/16″ further out" in text


def test_what_an_eighth_of_it_does_to_the_far_mark_is_said_in_figures():
    """1/8 more on each of the five runs below tread 6, by Pythagoras: 0.470 along the rail."""
    (text,) = disagreement(rail_length="80 1/8")
    level, rise = 6 * 10.25 - float(GAP) - 0.625, 7.5
    before = hypot(level, level * rise / 10.25)
    after = (level + 5 * 0.125) * hypot(10.375, rise) / 10.375
    steeper = hypot(level, level * 7.625 / 10.25) - before
    assert after - before == pytest.approx(0.4700, abs=5e-5)
    assert steeper == pytest.approx(0.4205, abs=5e-5)
    moves = "1/8″ more explains it, and 1/8″ of it moves mark 6-3 by"
    assert f"the run, taken once for all 6: {moves} 1/2″ along the rail" in text
    assert f"the rise, taken once for all 7: {moves} 7/16″ along the rail" in text


def test_where_the_rail_was_taped_an_eighth_of_rise_moves_no_mark():
    (text,) = disagreement(rail_taped="{from: 1-1, to: 6-3, length: 72 3/8}")
    assert "the rise, taken once for all 7" in text
    assert "1/8″ of it moves mark 6-3 by less than 1/16″" in text


def test_a_rail_length_to_an_open_end_is_held_against_nothing():
    assert warned(treads_file(upper_newel="none", rail_length="80"), "rail-unchecked") == [
        "rail_length runs to an end without a newel and is held against nothing"
    ]


@pytest.mark.parametrize("skew", ["0", "20"])
def test_the_explaining_run_makes_the_taped_length_when_it_is_put_in(skew):
    """The size that is told, worked back through a whole set-out."""

    def treads(run):
        each = f"{{run: 10 1/4, skew: {skew}, times: "
        return f"[{each}2}}, {{run: {run}, skew: {skew}}}, {each}3}}]"

    true = inches(section_of(treads=treads("10 1/4")).rail.length)
    (text,) = disagreement(treads=treads("9 1/2"), rail_length=f"{true:.5f}")
    told = Fraction(likely(text).partition("the run of tread 3: ")[2].partition("″")[0])
    mended = section_of(treads=treads(str(9.5 + float(told))))
    assert inches(mended.rail.length) == pytest.approx(true, abs=0.04)


def test_pitches_of_taped_and_resting_line_agree_when_the_tape_does():
    resting = section_of()
    taped = section_of(rail_taped="{from: 1-1, to: 6-3, length: 71.971691}")
    assert degrees(taped.rail.pitch) == pytest.approx(degrees(resting.rail.pitch), abs=1e-5)
