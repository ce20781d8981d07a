"""Newels that stand: what they leave open and what they stand too close to, and what mends it."""

from __future__ import annotations

import re

import pytest
from commands import DONE, call
from job_files import METRIC, METRIC_TREADS, TREADS, changed, job_in, treads_file, written

from stairjig.setout.build import set_out


def newel(place, width="3 1/2"):
    return f"{{width: {width}, place: {place}}}"


def told(source, code):
    return [found.text for found in set_out(job_in(source)).warnings if found.code == code]


# Whole treads without a baluster.

OPEN = [
    ("lower", "40", "treads 1 to 4", "40″ up the stair from riser 1's face", "them"),
    ("lower", "12", "tread 1", "12″ up the stair from riser 1's face", "it"),
    ("lower", "20", "treads 1, 2", "20″ up the stair from riser 1's face", "them"),
    ("upper", "-40", "treads 4 to 6", "40″ down the stair from the top riser's face (riser 7)",
     "them"),
]  # fmt: skip


@pytest.mark.parametrize(("end", "face", "treads", "place", "on"), OPEN)
def test_a_newel_that_leaves_whole_treads_open_is_asked_after(end, face, treads, place, on):
    source = treads_file(**{f"{end}_newel": newel(f"{{face: {face}}}")})
    assert told(source, "newel-leaves-open") == [
        f"the {end} newel leaves {treads} without a baluster: is its face {place}? If it is, "
        f"write bare: yes on {on}"
    ]


def test_no_tread_is_told_to_be_bare_where_balusters_would_change_their_types():
    """A bare tread takes no place in the pattern; one with its own number can't be bare."""
    two = "{plain: {shape: square, width: 5/8}, knob: {shape: square, width: 5/8, narrowest: 1/2}}"
    flight = changed(TREADS, {"lower_newel": newel("{face: 12}")})
    mixed = written({"balusters": two, "pattern": "[plain, knob]"}, flight)
    counted = changed(flight, {"treads": "[{run: 10 1/4, times: 6, per_tread: 3}]"})
    for source in (mixed, written(None, counted)):
        [text] = told(source, "newel-leaves-open")
        assert text.endswith("If it is, all is well")


def test_a_newel_in_the_place_of_a_baluster_may_leave_treads_open_too():
    source = treads_file(lower_newel=newel("{replaces: 2-1}"))
    [text] = told(source, "newel-leaves-open")
    assert text.startswith("the lower newel leaves tread 1 without a baluster")


def test_a_newel_on_a_tread_with_balusters_and_beyond_bare_treads_is_let_be():
    bare = "[{run: 10 1/4, bare: yes, times: 4}, {run: 10 1/4, times: 4}]"
    for changes in (
        {"lower_newel": newel("{face: 4}")},
        {"upper_newel": newel("{face: -4}")},
        {"treads": bare, "lower_newel": newel("{face: 40}")},
        {"treads": bare},
    ):
        assert told(treads_file(**changes), "newel-leaves-open") == []


def test_the_balusters_are_the_same_once_the_treads_are_said_to_be_bare():
    bare = "[{run: 10 1/4, bare: yes, times: 3}, {run: 10 1/4, times: 3}]"
    place = newel("{face: 30}")
    one, other = (
        set_out(job_in(treads_file(treads=treads, lower_newel=place)))
        for treads in ("[{run: 10 1/4, times: 6}]", bare)
    )
    assert [m.s for m in one.sections[0].marks] == [m.s for m in other.sections[0].marks]


# Right beside a baluster.


def test_a_newel_that_touches_a_baluster_is_told_with_what_clears_it(tmp_path):
    (tmp_path / "job.yaml").write_bytes(treads_file(lower_newel=newel("{face: 0}")))
    said = call(tmp_path, "layout", "job.yaml")
    assert said.status == DONE
    assert (
        "the lower newel touches 1-1, which can't be set there: leave 1-1 out by writing its place "
        "as {face: 1/16}, or give set_back 1 3/8″"
    ) in said.out


CLOSE = [
    ({"lower_newel": newel("{face: -1/8}")},
     "the lower newel stands 1/8″ from 1-1, which can't be set there: give set_back 1 3/8″, or if "
     "it can still be moved, give it place: {replaces: 1-1}"),
    ({"upper_newel": newel("{face: -2 11/16}")},
     "the upper newel stands 1/8″ from 6-3, which can't be set there: put 4 on tread 6 (per_tread: "
     "4), or if it can still be moved, give it place: {replaces: 6-3}"),
    ({"lower_newel": newel("{face: 3 3/8}")},
     "the lower newel stands 1/16″ from 1-1, which can't be set there: leave 1-1 out by writing "
     "its place as {face: 3 7/16}, or put 4 on tread 1 (per_tread: 4)"),
]  # fmt: skip


@pytest.mark.parametrize(("changes", "text"), CLOSE)
def test_a_newel_close_to_a_baluster_is_told_with_what_clears_it(changes, text):
    assert told(treads_file(**changes), "newel-close") == [text]


@pytest.mark.parametrize("changes", [{"lower_newel": newel("{face: 0}")}, *(c for c, _ in CLOSE)])
def test_what_is_told_clears_it(changes):
    """Each mend, written into the job, passes and leaves no newel close."""
    [text] = told(treads_file(**changes), "newel-close")
    key = next(iter(changes))
    for mend in text.partition(": ")[2].split(", or "):
        mended = dict(changes)
        if found := re.search(r"set_back ([^″]+)", mend):
            mended["set_back"] = found[1]
        elif found := re.search(r"on tread (\d) \(per_tread: (\d)\)", mend):
            runs = ["10 1/4"] * 6
            runs[int(found[1]) - 1] = f"{{run: 10 1/4, per_tread: {found[2]}}}"
            mended["treads"] = f"[{', '.join(runs)}]"
        else:
            mended[key] = newel(re.search(r"\{.*\}", mend)[0])
        setout = set_out(job_in(treads_file(**mended)))
        assert setout.passes
        assert "newel-close" not in [found.code for found in setout.warnings], mend


def test_the_only_one_of_a_tread_may_be_left_out_with_bare():
    job = {"openings": "{stair: 12}"}
    alone = {"per_tread": "1", "lower_newel": newel("{face: -1/4}")}
    [text] = told(written(job, changed(TREADS, alone)), "newel-close")
    assert ": write bare: yes on tread 1, or " in text


def test_the_foot_of_a_baluster_counts_and_a_quarter_inch_is_the_bound():
    job = {"balusters": "{b: {shape: square, width: 5/8, base: 1}}"}
    for face, close in (("-7/16", True), ("-1/2", False), ("-3/16", True)):
        section = changed(TREADS, {"lower_newel": newel(f"{{face: {face}}}")})
        assert bool(told(written(job, section), "newel-close")) == close, face


def test_nothing_that_passes_clears_it_where_the_layout_fails_anyhow():
    fails = {"per_tread": "1", "lower_newel": newel("{face: 0}")}
    assert told(treads_file(**fails), "newel-close") == [
        "the lower newel touches 1-1, which can't be set there: leave it out, or set the newel "
        "elsewhere"
    ]


def test_in_millimetres_the_bound_is_six():
    for face, close in (("-6", True), ("-6.5", False)):
        own = {**METRIC_TREADS, "lower_newel": newel(f"{{face: {face}}}", "90")}
        found = told(written(METRIC, changed(TREADS, own)), "newel-close")
        assert bool(found) == close


def test_a_newel_found_for_its_gap_and_a_row_of_equal_gaps_are_let_be():
    for changes in ({}, {"spacing": "even", "lower_newel": newel("{face: 0}")}):
        assert told(treads_file(**changes), "newel-close") == []
