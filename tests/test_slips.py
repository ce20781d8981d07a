"""A slip of the pen is told before it is sawn: odd measures, and limits too loose."""

from __future__ import annotations

import pytest
from commands import DONE, FAILS, WRONG, call
from job_files import (
    LEVEL,
    METRIC,
    METRIC_TREADS,
    SLOPED,
    TREADS,
    changed,
    job_in,
    lines_for,
    written,
)
from packs import SAMPLES

from stairjig.intake import open_job
from stairjig.setout.build import set_out

CODES = ("tolerance-wide", "allowance-wide", "measure-unusual", "depth-as-run")


def slips(source):
    warnings = set_out(job_in(source)).warnings
    return [str(found) for found in warnings if found.code in CODES]


# How far off a reading may be, how far inside the limit to stay.


@pytest.mark.parametrize(
    ("key", "text", "mend"),
    [("tolerance", "1", "1/8"), ("tolerance", "8", "1/8"), ("tolerance", "17/32", "1/8"),
     ("allowance", "1", "1/16")],
)  # fmt: skip
def test_more_than_half_an_inch_is_no_input(key, text, mend):
    [line] = lines_for(written({key: text}))
    assert line == (
        f'flight.yaml:6:{len(key) + 3}: {key} "{text}" is over 1/2 in - {mend} is usual; is a '
        "fraction or a unit missing?"
    )


def test_in_millimetres_the_bounds_are_six_and_twelve():
    metric = changed(TREADS, METRIC_TREADS)
    [line] = lines_for(written({**METRIC, "tolerance": "12.5"}, metric))
    assert 'tolerance "12.5" is over 12 mm - 3 is usual' in line
    assert slips(written({**METRIC, "tolerance": "6", "allowance": "6"}, metric)) == []
    assert slips(written({**METRIC, "tolerance": "12"}, metric)) == [
        "the tolerance of 12 mm lets marks pass that are over 6 mm off: is it what you mean?"
    ]


def test_more_than_a_quarter_inch_is_warned_of_and_changes_no_status(tmp_path):
    (tmp_path / "job.yaml").write_bytes(written({"tolerance": "3/8", "allowance": "1/2"}))
    said = call(tmp_path, "layout", "job.yaml")
    assert said.status == DONE
    for words in (
        "the tolerance of 3/8″ lets marks pass that are over 1/4″ off: is it what you mean?",
        "the allowance of 1/2″ keeps every gap that far inside its limit and may take more "
        "balusters than are needed: is it what you mean?",
    ):
        assert words in said.out
    assert slips(written({"tolerance": "1/4", "allowance": "1/4"})) == []


def test_a_mark_three_quarters_off_never_passes(tmp_path):
    taped = "--spacing", "5, 3 1/2, 4 1/4, 4 1/4, 4 1/4"
    short = changed(TREADS, {"treads": "[{run: 10 1/4, times: 2}]"})
    for tolerance, status in (("1", WRONG), ("1/2", FAILS), ("1/4", FAILS)):
        (tmp_path / "job.yaml").write_bytes(written({"tolerance": tolerance}, short))
        said = call(tmp_path, "check", "job.yaml", *taped)
        assert said.status == status
        words = "the tolerance of 1/2″ lets marks pass that are over 1/4″ off: is it what you mean?"
        assert (f"note: {words}" in said.lines) == (tolerance == "1/2")


# Measures out of the usual.

RAIL = "{{height: {}, depth: {}, width: {}}}"
ODD = [
    ({}, {"lower_newel": "{width: 35}"},
     ["the width of the lower newel, 35″, is over 12″"]),
    ({}, {"upper_newel": "{width: 3/4}"},
     ["the width of the upper newel, 3/4″, is under 1″"]),
    ({"rail": RAIL.format(36, "7", "6 1/16")}, {},
     ["the rail's depth, 7″, is over 6″", "the rail's width, 6 1/16″, is over 6″"]),
    ({"openings": "{stair: 4 3/8}", "rail": RAIL.format(63, "2 1/2", "2 3/8")}, {},
     ["the rail's height, 63″, is over 60″"]),
    ({"openings": "{stair: 4 3/8}", "rail": RAIL.format(19, "2 1/2", "2 3/8")}, {},
     ["the rail's height, 19″, is under 20″"]),
    ({"openings": "{stair: 4 3/8}"}, {"nosing": "3 1/8"}, ["the nosing, 3 1/8″, is over 3″"]),
    ({"balusters": "{plain: {shape: square, width: 4 1/2}}"}, {},
     ["the width of plain, 4 1/2″, is over 4″"]),
]  # fmt: skip


@pytest.mark.parametrize(("job", "section", "told"), ODD)
def test_a_measure_out_of_the_usual_is_warned_of(job, section, told):
    ends = ", which is out of the usual: read it again"
    found = slips(written(job, changed(TREADS, section)))
    assert found == [f"Main flight: {words}{ends}" for words in told]


@pytest.mark.parametrize("base", [LEVEL, SLOPED])
def test_the_ends_and_the_rail_of_level_and_sloped_sections_are_looked_at_too(base):
    rail = RAIL.format(36, "2 1/2", "8")
    found = slips(written(None, changed(base, {"lower_newel": "{width: 13}", "rail": rail})))
    assert [words.split(": ", 1)[1].split(",")[0] for words in found] == [
        "the width of the lower newel",
        "the rail's width",
    ]


def test_what_the_rule_set_warns_of_is_not_said_twice():
    """R311.7.8.1 and R311.7.5.3 have bounds of their own for the rail's height and the nosing."""
    source = written({"rail": RAIL.format(63, "2 1/2", "2 3/8")}, changed(TREADS, {"nosing": "4"}))
    codes = [found.code for found in set_out(job_in(source)).warnings]
    assert {"rail-height", "nosing"} <= set(codes)
    assert slips(source) == []


def test_a_wall_has_no_width_and_the_samples_no_slips():
    assert slips(written(None, changed(TREADS, {"lower_newel": "wall"}))) == []
    for path in sorted(SAMPLES.glob("*.yaml")):
        assert not [w for w in set_out(open_job(path).job).warnings if w.code in CODES], path


# A depth taken for a run.


def deep(job=None, **changes):
    warnings = set_out(job_in(written(job, changed(TREADS, changes)))).warnings
    return [str(found) for found in warnings if found.code == "depth-as-run"]


def test_runs_that_look_like_depths_on_every_tread_are_asked_after():
    assert deep(treads="[{run: 11 3/8, times: 3}, 11 1/2]") == [
        "Main flight: run 11 3/8″ and nosing 1 1/8″ make a tread 12 1/2″ deep: if it was taped "
        "from the nosing's edge, write what was taped as {depth: 11 3/8}"
    ]
    metric = {**METRIC_TREADS, "treads": "[{run: 290, times: 12}]"}
    assert deep(METRIC, **metric) == [
        "Main flight: run 290 mm and nosing 20 mm make a tread 310 mm deep: if it was taped from "
        "the nosing's edge, write what was taped as {depth: 290}"
    ]


def test_a_depth_one_usual_tread_or_no_nosing_say_that_a_run_is_meant():
    for changes in (
        {"treads": "[{depth: 12 1/2, times: 6}]"},
        {"treads": "[{run: 11 3/8, times: 3}, {depth: 12 1/2}]"},
        {"treads": "[{run: 11 3/8, times: 3}, 10 7/8]"},
        {"treads": "[{run: 10 7/8, times: 6}]"},
        {"treads": "[{run: 11 3/8, times: 6}]", "nosing": "0"},
        {"nosing": "3 1/8"},
        {"treads": "[{line_run: 11 3/8, times: 6}]"},
    ):
        assert deep(**changes) == [], changes


def test_a_run_that_the_rule_set_asks_for_is_no_slip():
    """1011.5.2 of the IBC asks for 11 in; with a nosing of 1 1/4 that is 12 1/4."""
    own = {"treads": "[{run: 11, times: 6}]", "nosing": "1 1/4"}
    assert deep({"openings": "ibc"}, **own) == []
    assert len(deep(**own)) == 1
    assert len(deep({"openings": "ibc"}, **{**own, "treads": "[{run: 12 1/4, times: 6}]"})) == 1
