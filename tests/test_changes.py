"""The smallest change that is told: put into the job it passes, a step less of it does not."""

from __future__ import annotations

import copy
import re
from fractions import Fraction

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from job_files import JOB, job_in
from strategies import inch_text, tape

from stairjig.errors import BadInput
from stairjig.setout.build import set_out

STEP = Fraction(1, 16)
POST = {"width": "3 1/2"}
COUNTED = ("count", "per_tread")


def flow(value):
    """A value in a job file's brackets."""
    if isinstance(value, dict):
        return f"{{{', '.join(f'{key}: {flow(item)}' for key, item in value.items())}}}"
    if isinstance(value, list):
        return f"[{', '.join(map(flow, value))}]"
    return str(value)


def laid(section, **job):
    own = {**JOB, "allowance": "0", **job}
    lines = [f"{key}: {text}" for key, text in own.items()]
    return set_out(job_in("\n".join([*lines, f"sections: [{flow(section)}]"]).encode()))


def put(section, key, value):
    """The section with what a change says put in its place."""
    section = copy.deepcopy(section)
    *path, last = re.findall(r"[a-z_]+|\d+", key)
    place = section
    for part in path:
        place = place[int(part)] if part.isdigit() else place[part]
    place[last] = value
    return section


def less(key, value):
    """The same change with a step less of it."""
    if key.rpartition(".")[2] in COUNTED:
        return str(int(value) - 1)
    sign = 1 if key.startswith("upper") or key.endswith("lift") else -1
    whole, _, part = value.rstrip('"').lstrip("-").partition(" ")
    size = Fraction(whole) + (Fraction(part) if part else 0)
    return inch_text((-size if value.startswith("-") else size) + sign * STEP)


def open_failures(setout):
    return [failure for failure in setout.failures if failure.code == "opening"]


def check(section, keys, **job):
    """The changes have these keys, all of them together pass, and none of them can be less."""
    setout = laid(section, **job)
    assert open_failures(setout)
    assert [change.key for change in setout.changes] == keys
    mended = section
    for change in setout.changes:
        mended = put(mended, change.key, change.value)
    assert not open_failures(laid(mended, **job))
    for change in setout.changes:
        short = put(mended, change.key, less(change.key, change.value))
        assert open_failures(laid(short, **job)), change
    return setout.changes


def flight(runs=("10 1/4",) * 4, **more):
    treads = [run if isinstance(run, dict) else {"run": run} for run in runs]
    return {
        "name": "Flight", "kind": "treads", "side": "left", "rise": "7 1/2", "nosing": "1 1/8",
        "line": "1 3/4", "treads": treads, "lower_newel": POST, "upper_newel": POST, **more,
    }  # fmt: skip


def level(length, count, **more):
    return {"name": "Level", "kind": "level", "length": length, "count": count,
            "lower_newel": POST, "upper_newel": POST, **more}  # fmt: skip


def sloped(**more):
    return {"name": "Wall", "kind": "sloped", "length": "100", "pitch": "37", "lower_newel": POST,
            "upper_newel": POST, **more}  # fmt: skip


BAR = {"balusters": "{b: {shape: square, width: 1 1/2}}"}
SLIM = {
    "balusters": "{a: {shape: square, width: 5/8}, b: {shape: round, width: 1 1/4, "
    "narrowest: 1/2}}",
    "pattern": "[a, a, b]",
}


def test_one_more_on_a_level_that_fails_at_its_limit_exactly():
    """R312.1.3: ten of 1 1/2 on 59 have gaps of 4 exactly, eleven are the fewest."""
    (change,) = check(level("59", 10), ["count"], **BAR)
    assert (change.value, change.words) == ("11", "11 balusters pass (now 10)")


def test_the_allowance_asks_for_no_more_than_the_rule_does():
    """With the allowance 12 would be laid out; 11 pass, and the change is the smallest."""
    job = {**BAR, "allowance": "1/2"}
    assert len(laid(level("59", 12), **job).sections[0].marks) == 12
    assert [c.value for c in laid(level("59", 9), **job).changes] == ["11"]


def test_many_more_on_a_level():
    """Twenty of 5/8 on 96 1/2 leave 4 exactly, which fails."""
    (change,) = check(level("96 1/2", 3), ["count"])
    assert change.value == "21"


def test_more_on_every_tread_where_the_section_counts_them():
    (change,) = check(flight(per_tread=1), ["per_tread"])
    assert change.words == "3 on a tread pass (now 1)"


def test_more_on_the_one_tread_that_was_counted():
    runs = ["10 1/4", {"run": "10 1/4", "per_tread": 1}, "10 1/4"]
    (change,) = check(flight(runs), ["treads[1].per_tread"])
    assert change.words == "3 on tread 2 pass (now 1)"


def test_more_on_the_one_tread_that_fails_of_those_the_section_counts():
    """Two of 5/8 leave 4 on 9 1/4, four of them, and 4 1/2 on 10 1/4."""
    (change,) = check(flight(["9 1/4", "10 1/4", "9 1/4", "9 1/4"], per_tread=2),
                      ["treads[1].per_tread"])  # fmt: skip
    assert change.words == "3 on tread 2 pass (now 2)"


def test_more_on_all_treads_and_more_yet_on_the_longest():
    check(flight(["9 1/4", "10 1/4", "9 1/4"], per_tread=1), ["per_tread", "treads[1].per_tread"])


def test_a_tread_counted_apart_from_its_section_is_mended_apart():
    runs = ["10 1/4", {"run": "10 1/4", "per_tread": 1}, "10 1/4"]
    check(flight(runs, per_tread=3), ["treads[1].per_tread"])
    check(flight(runs, per_tread=2), ["per_tread", "treads[1].per_tread"])


def test_more_where_a_pattern_runs_on_over_counted_treads():
    runs = ["10 1/4", {"run": "11", "per_tread": 1}, "10", {"run": "12", "per_tread": 2}]
    check(flight(runs), ["treads[1].per_tread", "treads[3].per_tread"], **SLIM)


def test_more_on_a_winder_that_was_counted():
    runs = [{"line_run": "11", "front_skew": "0", "back_skew": "-20", "per_tread": 1}]
    check(flight(runs), ["treads[0].per_tread"])


def test_more_in_an_even_row_one_by_one():
    """Its sum counts, so a single tread takes what is missing: 10 on four treads, not 3 on each."""
    section = flight(["10 1/4", "10 1/8", "10 3/8", "10 1/4"], spacing="even", per_tread=2)
    setout = laid(section)
    (change,) = setout.changes
    assert (change.key, change.value) == ("treads[0].per_tread", "3")
    assert not open_failures(laid(put(section, change.key, change.value)))


@pytest.mark.parametrize(
    ("end", "face", "value"), [("lower", "-5", '-4 5/16"'), ("upper", "3", '1 9/16"')]
)
def test_a_standing_newel_is_brought_nearer(end, face, value):
    """The stair limit is 4 3/8; a gap at it fails, so the sixteenth before it is the smallest."""
    section = flight(**{f"{end}_newel": {**POST, "place": {"face": face}}})
    (change,) = check(section, [f"{end}_newel.place.face"])
    assert change.value == value
    assert f"the {end} newel's gap passes with its face at" in change.words


def test_a_newel_that_is_slim_above_its_foot_is_brought_nearer_by_more():
    section = flight(lower_newel={**POST, "narrowest": "1 1/2", "place": {"face": "-5"}})
    (change,) = check(section, ["lower_newel.place.face"])
    assert change.value == '-3 5/16"'


def test_a_newel_off_the_sixteenths_is_brought_to_one():
    for end, face in (("upper", "3.03"), ("lower", "-5.03"), ("lower", "-4.38")):
        section = flight(**{f"{end}_newel": {**POST, "place": {"face": face}}})
        check(section, [f"{end}_newel.place.face"])


def test_a_number_that_leaves_a_standing_newel_where_it_is_comes_before_a_place_nearer():
    """Four of 5/8 on 10 1/4 have gaps of 1.9375: with 2 in of the newel 3.9375 pass, not 4.792."""
    section = flight(upper_newel={**POST, "place": {"face": "2"}})
    (change,) = check(section, ["treads[3].per_tread"])
    assert (change.value, change.words) == (
        "4",
        "4 on tread 4 pass (now 3) and leave the upper newel standing; else the upper newel's gap "
        "passes with its face at 1 9/16″, 7/16″ nearer the balusters",
    )


def test_two_more_on_a_tread_may_meet_a_newel_and_three_may_not():
    """5 of 5/8: 1.425 and 2.9 in; six would pass at 3.2 in, a crowd, so the newel comes nearer."""
    for face, key in (("2.9", "treads[3].per_tread"), ("3.2", "upper_newel.place.face")):
        (change,) = check(flight(upper_newel={**POST, "place": {"face": face}}), [key])
        assert change.value == {"2.9": "5", "3.2": '1 9/16"'}[face]


def test_more_on_a_tread_that_would_put_a_base_under_the_nosing_are_not_told():
    """Feet of 2 1/2: the third reaches 8.896, a fourth 9.75, and the nosing is at 9 1/8."""
    job = {"balusters": "{b: {shape: square, width: 5/8, base: 2 1/2}}"}
    newel = {**POST, "place": {"face": "2 1/2"}}
    check(flight(upper_newel=newel, set_back="1/2"), ["upper_newel.place.face"], **job)


def test_a_tread_counted_anew_already_is_not_counted_twice():
    runs = ["10 1/4", "10 1/4", {"run": "10 1/4", "per_tread": 2}]
    section = flight(runs, upper_newel={**POST, "place": {"face": "2 1/4"}})
    keys = [change.key for change in laid(section).changes]
    assert len(keys) == len(set(keys))
    check(section, keys)


def test_counts_and_both_newels_at_once():
    """The upper newel's gap hangs on the count: with more balusters the last one stands nearer."""
    section = flight(
        per_tread=2,
        lower_newel={**POST, "place": {"face": "-5"}},
        upper_newel={**POST, "place": {"face": "3"}},
    )
    check(section, ["per_tread", "lower_newel.place.face", "upper_newel.place.face"])


def test_a_newel_that_is_near_enough_once_the_count_is_right_is_let_be():
    section = flight(per_tread=2, upper_newel={**POST, "place": {"face": "1"}})
    check(section, ["per_tread"])


def test_a_newel_is_moved_from_where_auto_has_its_balusters():
    """Auto counts with the allowance, the move does without it; the row must be auto's own."""
    runs = ["9 15/16"] * 3
    section = flight(runs, lower_newel={**POST, "place": {"face": "-5"}})
    check(section, ["lower_newel.place.face"], allowance="1/2")


def test_a_bottom_rail_is_brought_down():
    bottom = {"lift": "1 1/2", "rise": "7 3/4", "run": "10", "nosing": "1"}
    (change,) = check(sloped(bottom_rail=bottom), ["bottom_rail.lift"])
    assert change.value == '9/16"'


def test_a_bottom_rail_and_a_count_at_once():
    bottom = {"lift": "1 1/2", "rise": "7 3/4", "run": "10", "nosing": "1"}
    check(sloped(count=5, bottom_rail=bottom), ["count", "bottom_rail.lift"])


def test_a_triangle_that_no_bottom_rail_closes_has_no_change():
    """A riser of 9 on a run of 12: 6 in does not pass at any lift."""
    bottom = {"lift": "1/2", "rise": "9", "run": "12", "nosing": "1"}
    setout = laid(sloped(bottom_rail=bottom))
    assert open_failures(setout)
    assert setout.changes == ()


def test_balusters_slimmer_than_any_gap_have_no_change():
    """Narrowed by more than the limit, they never pass, however many there are."""
    job = {"balusters": "{b: {shape: round, width: 6, narrowest: 1}}"}
    setout = laid(level("96", 5), **job)
    assert open_failures(setout)
    assert setout.changes == ()


def test_a_layout_that_passes_asks_for_no_change():
    assert laid(flight()).changes == ()


@settings(max_examples=20, deadline=None)
@given(
    st.lists(st.tuples(tape("9", "12"), st.integers(0, 2)), min_size=1, max_size=4),
    st.sampled_from([0, 1, 2]),
    st.one_of(st.none(), tape("-6", "0")),
    st.one_of(st.none(), tape("-2", "4")),
    st.booleans(),
)
def test_whatever_fails_the_changes_mend_it(treads, per_tread, lower, upper, slim):
    runs = [{"run": inch_text(run), **({"per_tread": n} if n else {})} for run, n in treads]
    more = {"per_tread": per_tread} if per_tread else {}
    if lower is not None:
        more["lower_newel"] = {**POST, "place": {"face": inch_text(lower)}}
    if upper is not None:
        more["upper_newel"] = {**POST, "place": {"face": inch_text(upper)}}
    section, job = flight(runs, **more), SLIM if slim else {}
    try:
        setout = laid(section, **job)
    except BadInput:
        assume(False)
    mended = section
    for change in setout.changes:
        mended = put(mended, change.key, change.value)
    assert not open_failures(laid(mended, **job))
    assert bool(setout.changes) is bool(open_failures(setout))
