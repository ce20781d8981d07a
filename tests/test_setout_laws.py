"""Laws that every set-out keeps, for flights and levels drawn by hypothesis."""

from __future__ import annotations

from fractions import Fraction
from math import ceil, cos, floor, hypot, isclose, radians, tan

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from job_files import TREADS, changed, job_in, level_file, sloped_file, treads_file, written
from strategies import INCH, Flight, flights, inch_text, tape

from stairjig.errors import BadInput
from stairjig.setout import build
from stairjig.setout.build import set_out
from stairjig.setout.plan import square_run

FEW = settings(max_examples=20, deadline=None)


def set_flight_out(flight, **more):
    source = written(flight.job, changed(TREADS, {**flight.section, **more}))
    return set_out(job_in(source)).sections[0]


def half(mark):
    return mark.type.width.mm / 2


def xs(tread):
    return [(mark.type.width.mm, mark.x) for mark in tread.marks]


@FEW
@given(flights())
def test_gaps_and_widths_add_up_to_each_run_and_to_the_line(flight):
    section = set_flight_out(flight)
    for tread, run in zip(section.treads, flight.runs, strict=True):
        widths = sum(mark.type.width.mm for mark in tread.marks)
        assert widths + len(tread.marks) * tread.gap == tread.plan.line_run == run * INCH
    assert section.line_length == sum(flight.runs) * INCH


@FEW
@given(flights())
def test_every_gap_of_a_tread_is_its_layout_gap_and_so_is_the_one_to_the_next(flight):
    section = set_flight_out(flight)
    first = section.treads[0].marks[0]
    assert first.s - half(first) == flight.set_back * INCH
    gaps = {tread.plan.number: tread.gap for tread in section.treads}
    for low, high in zip(section.marks, section.marks[1:], strict=False):
        assert high.s - half(high) - low.s - half(low) == gaps[low.tread]
    last = section.marks[-1]
    assert section.upper_newel.face - last.s - half(last) == gaps[last.tread]
    assert first.s - half(first) - section.lower_newel.face == gaps[first.tread]


@FEW
@given(flights())
def test_the_pattern_runs_on_over_the_treads(flight):
    names = [mark.type.name for mark in set_flight_out(flight).marks]
    assert names == [f"k{place % len(flight.widths)}" for place in range(len(names))]


@FEW
@given(flights(), tape("9.5", "12"))
def test_another_tread_in_front_moves_nothing_on_the_treads_behind_it(flight, run):
    """With one type: with several, the pattern runs on and other types stand there."""
    flight = Flight(flight.runs, flight.rises, flight.widths[:1], flight.per_tread)
    longer = Flight(
        (run, *flight.runs), (*flight.rises, Fraction(7)), flight.widths, flight.per_tread
    )
    plain, moved = set_flight_out(flight), set_flight_out(longer)
    for here, there in zip(plain.treads, moved.treads[1:], strict=True):
        assert (here.gap, xs(here)) == (there.gap, xs(there))
        assert there.plan.front.s - here.plan.front.s == run * INCH


@FEW
@given(flights())
def test_a_whole_pattern_of_treads_in_front_moves_nothing_either(flight):
    """Types times any count is a whole number of patterns, so the same types come round."""
    more = (Fraction(10),) * len(flight.widths)
    longer = Flight(
        more + flight.runs,
        (*flight.rises, *[Fraction(7)] * len(more)),
        flight.widths,
        flight.per_tread,
        flight.set_back,
    )
    plain, moved = set_flight_out(flight), set_flight_out(longer)
    for here, there in zip(plain.treads, moved.treads[len(more) :], strict=True):
        assert (here.gap, xs(here)) == (there.gap, xs(there))


@FEW
@given(flights(), st.integers(2, 40))
def test_the_first_treads_number_changes_names_alone(flight, first):
    plain, moved = set_flight_out(flight), set_flight_out(flight, first_tread=str(first))
    assert [mark.s for mark in plain.marks] == [mark.s for mark in moved.marks]
    for here, there in zip(plain.marks, moved.marks, strict=True):
        tread, place = here.name.split("-")
        assert there.name == f"{int(tread) + first - 1}-{place}"


@FEW
@given(flights())
def test_the_other_hand_has_the_same_numbers(flight):
    left, right = set_flight_out(flight, side="left"), set_flight_out(flight, side="right")
    assert left.marks == right.marks
    assert left.rail == right.rail
    assert (left.lower_newel, left.upper_newel) == (right.lower_newel, right.upper_newel)


@FEW
@given(flights())
def test_the_same_lengths_written_in_millimetres_give_the_same_numbers(flight):
    """25.4 mm is the inch exactly, and a sixteenth of it a short decimal."""
    inch = set_flight_out(flight)

    def written_out(inches):
        return f"{float(inches * INCH):.10g}"

    kinds = ", ".join(
        f"k{n}: {{shape: square, width: {written_out(w)}}}" for n, w in enumerate(flight.widths)
    )
    job = {
        "units": "mm", "balusters": f"{{{kinds}}}", "pattern": flight.job["pattern"],
        "rail": "{height: 914.4, depth: 63.5, width: 60.325}",
    }  # fmt: skip
    section = {
        "rise": None,
        "rises": f"[{', '.join(map(written_out, flight.rises))}]",
        "treads": f"[{', '.join(map(written_out, flight.runs))}]",
        "nosing": written_out(flight.nosing),
        "line": "44.45",
        "set_back": written_out(flight.set_back),
        "per_tread": str(flight.per_tread),
        "lower_newel": "{width: 88.9}",
        "upper_newel": "{width: 88.9}",
    }
    metric = set_out(job_in(written(job, changed(TREADS, section)))).sections[0]
    assert [m.s for m in inch.marks] == [m.s for m in metric.marks]
    assert [m.rail for m in inch.marks] == [m.rail for m in metric.marks]
    assert [m.visible for m in inch.marks] == [m.visible for m in metric.marks]
    assert inch.lower_newel.face == metric.lower_newel.face


@FEW
@given(flights())
def test_the_marks_stand_along_the_rail_as_their_s_over_the_cosine(flight):
    section = set_flight_out(flight)
    slope = tan(section.rail.pitch)
    first = section.marks[0]
    for mark in section.marks:
        level = float(mark.s - first.s)
        assert isclose(mark.rail**2, level**2 + (level * slope) ** 2, abs_tol=1e-6)
    assert first.rail == 0
    ends = (section.rail.lower, section.rail.upper)
    assert ends[0] < 0 < section.marks[-1].rail < ends[1]


@FEW
@given(flights())
def test_every_baluster_reaches_from_its_tread_to_one_straight_underside(flight):
    """A baluster's top lies on a line of the rail's pitch, its foot on its own tread."""
    section = set_flight_out(flight)
    tops = {tread.plan.number: sum(flight.rises[: n + 1]) for n, tread in enumerate(section.treads)}
    slope, first = tan(section.rail.pitch), section.marks[0]
    start = float(tops[first.tread] * INCH) + first.visible
    for mark in section.marks:
        top = float(tops[mark.tread] * INCH) + mark.visible
        assert isclose(top, start + float(mark.s - first.s) * slope, abs_tol=1e-6)


@FEW
@given(flights())
def test_the_straightedge_rests_on_the_nosings(flight):
    """None stands over the pitch line, two carry it, on either side of the middle."""
    nosings = set_flight_out(flight).nosings
    assert all(nosing.under >= -1e-9 for nosing in nosings)
    carrying = [float(nosing.s) for nosing in nosings if abs(nosing.under) < 1e-9]
    middle = float(nosings[0].s + nosings[-1].s) / 2
    assert len(carrying) >= 2
    assert min(carrying) < middle + 1e-9
    assert max(carrying) > middle - 1e-9


@pytest.mark.parametrize(
    ("rises", "slope"), [("[7, 8, 6]", 0.8), ("[7, 6, 8]", 0.7), ("[7, 8, 8, 6, 6]", 0.8)]
)
def test_over_a_corner_in_the_very_middle_the_straightedge_lies_on_the_lower_edge(rises, slope):
    """Runs of 10: steep then shallow has its corner over the middle; shallow then steep none."""
    treads = f"[{{run: 10, times: {rises.count(',')}}}]"
    section = set_out(job_in(treads_file(rise=None, rises=rises, treads=treads))).sections[0]
    assert isclose(tan(section.rail.pitch), slope, abs_tol=1e-12)


# The fewest that pass.


@FEW
@given(flights(), tape("3", "5"))
def test_auto_is_the_fewest_that_passes_with_the_allowance(flight, limit):
    """One number for all plain treads; one less fails on at least one of them."""
    own = {"openings": f"{{stair: {inch_text(limit)}}}", "allowance": "1/16"}
    sections = changed(TREADS, {**flight.section, "per_tread": None})
    try:
        section = set_out(job_in(written({**flight.job, **own}, sections))).sections[0]
    except BadInput:
        assume(False)
    counts = {len(tread.marks) for tread in section.treads}
    assert len(counts) == 1
    (count,) = counts
    room = (limit - Fraction(1, 16)) * INCH
    assert all(opening.clear < room for opening in section.openings)
    if count > 1:
        fewer = set_flight_out(Flight(
            flight.runs, flight.rises, flight.widths, count - 1, flight.set_back
        ))  # fmt: skip
        assert any(opening.clear >= room for opening in fewer.openings)


def counts(job, **changes):
    section = set_out(job_in(written(job, changed(TREADS, changes)))).sections[0]
    return [len(tread.marks) for tread in section.treads]


@pytest.mark.parametrize("end", ["lower", "upper"])
def test_a_newel_slim_above_its_foot_asks_for_more_on_every_tread(end):
    """Three leave 2.79; a newel 4 in slimmer above its foot makes that 4.79, four 3.9375."""
    slim = {f"{end}_newel": "{width: 5, narrowest: 1}"}
    assert counts(None) == [3] * 6
    assert counts(None, **slim) == [4] * 6
    assert counts(None, **{f"{end}_newel": "{width: 5, narrowest: 2}"}) == [3] * 6


@pytest.mark.parametrize(("end", "face"), [("lower", "-3"), ("upper", "0")])
def test_a_slim_newel_that_stands_asks_for_no_more(end, face):
    """Its gap hangs on where it stands, not on how many balusters there are beside it."""
    slim = f"{{width: 5, narrowest: 1, place: {{face: {face}}}}}"
    assert counts(None, **{f"{end}_newel": slim}) == [3] * 6


def test_a_slim_newel_in_a_balusters_place_is_counted_beside_the_one_left():
    """On 9 three of 1 1/2 leave 1 1/2, two 3: 3 + 1/4 + 3/4 beside the slim one is 4, too much."""
    job = {
        "balusters": "{a: {shape: square, width: 1 1/2}, "
        "b: {shape: square, width: 1 1/2, narrowest: 1}}",
        "pattern": "[a, b]",
        "openings": "{stair: 4}",
        "allowance": "0",
    }
    post = "{width: 5, narrowest: 3 1/2, place: {replaces: 1-1}}"
    assert counts(job, treads="[9, 9]") == [2, 2]
    assert counts(job, treads="[9, 9]", lower_newel=post) == [2, 3]
    assert counts(job, treads="[9, 9]", upper_newel=post.replace("1-1", "2-1")) == [3, 0]
    post = "{width: 5, narrowest: 3 1/2, place: {replaces: 2-2}}"
    assert counts(job, treads="[9, 9]", upper_newel=post) == [2, 1]


def test_a_pattern_is_counted_where_it_stands():
    """Two of 1/2 leave 4 on a run of 9 and would leave 4.5 on 10; there a 1 1/4 comes first."""
    job = {
        "balusters": "{a: {shape: square, width: 1/2}, b: {shape: square, width: 1 1/4}}",
        "pattern": "[a, a, b]",
    }
    assert counts(job, treads="[9, 10]") == [2, 2]
    assert counts({**job, "pattern": "[a]"}, treads="[9, 10]") == [3, 3]


def test_a_tapered_tread_has_its_own_fewest_and_leaves_the_others_theirs():
    winder = "{line_run: 15, front_skew: 0, back_skew: -20}"
    treads = f"[10 1/4, {winder}]"
    assert counts(None, treads=treads) == [3, 4]


def test_a_riser_taken_as_a_mean_tapers_no_tread():
    """Skews taped 0.5 degrees apart on plain treads: one number on all, their runs still runs."""
    skewed = "[{run: 10 1/4, skew: 22}, {run: 10 1/4, skew: 22.5}, {run: 6, skew: 22}]"
    assert counts(None, treads=skewed) == [3, 3, 3]
    setout = set_out(job_in(written(None, changed(TREADS, {"treads": skewed}))))
    assert any("the run at tread 3" in warning.text for warning in setout.warnings)
    for tread, run in zip(setout.sections[0].treads, ("10.25", "10.25", "6"), strict=True):
        assert square_run(tread.plan) == pytest.approx(float(Fraction(run) * INCH))


@FEW
@given(tape("20", "140"), tape("0.5", "2"), tape("2", "5"), st.booleans())
def test_auto_on_a_level_is_the_published_closed_form(length, width, limit, equal_fails):
    """N = floor((L - g)/(w + g)) + 1 for a strict limit, else the ceiling (arithmetic)."""
    passes = "fails" if equal_fails else "passes"
    job = {
        "balusters": f"{{b: {{shape: square, width: {inch_text(width)}}}}}",
        "openings": f"{{level: {inch_text(limit)}, equal: {passes}}}",
        "allowance": "0",
    }
    section = {"name": "Level", "kind": "level", "length": inch_text(length),
               "lower_newel": "{width: 3}", "upper_newel": "{width: 3}"}  # fmt: skip
    found = set_out(job_in(written(job, section))).sections[0]
    steps = (length - limit) / (width + limit)
    assert len(found.marks) == (floor(steps) + 1 if equal_fails else ceil(steps))
    assert found.gap == (length - len(found.marks) * width) * INCH / (len(found.marks) + 1)


@FEW
@given(tape("30", "150"), st.integers(1, 12))
def test_a_levels_gaps_and_widths_add_up_to_its_length(length, count):
    section = set_out(job_in(level_file(length=inch_text(length), count=str(count)))).sections[0]
    widths = sum(mark.type.width.mm for mark in section.marks)
    assert widths + (count + 1) * section.gap == section.line_length == length * INCH
    assert section.marks[0].s - half(section.marks[0]) == section.gap
    assert section.upper_newel.face - section.marks[-1].s - half(section.marks[-1]) == section.gap


@FEW
@given(tape("60", "150"), st.integers(50, 700))
def test_a_slope_and_its_shadow_on_the_floor_have_the_same_level_gaps(length, tenths):
    """Set out on the slope at a pitch, or on the level over length x cos(pitch): as many marks."""
    sloped = set_out(job_in(sloped_file(length=inch_text(length), pitch=f"{tenths / 10}")))
    section = sloped.sections[0]
    own = {"openings": "{level: 4 3/8}"}
    level = {"name": "Shadow", "kind": "level", "length": f"{float(section.line_length):.12f} mm",
             "lower_newel": "{width: 3}", "upper_newel": "{width: 3}"}  # fmt: skip
    shadow = set_out(job_in(written(own, level))).sections[0]
    assert len(shadow.marks) == len(section.marks)
    for low, high in zip(section.marks, shadow.marks, strict=True):
        assert isclose(float(low.s), float(high.s), abs_tol=1e-6)


@FEW
@given(flights(most=3))
def test_a_tread_counted_by_hand_changes_no_other_tread(flight):
    flight = Flight(flight.runs, flight.rises, flight.widths[:1], flight.per_tread)
    own = [inch_text(run) for run in flight.runs]
    own[0] = f"{{run: {own[0]}, per_tread: {flight.per_tread + 1}}}"
    plain = set_flight_out(flight)
    changed_one = set_flight_out(flight, treads=f"[{', '.join(own)}]")
    assert len(changed_one.treads[0].marks) == flight.per_tread + 1
    for here, there in zip(plain.treads[1:], changed_one.treads[1:], strict=True):
        assert xs(here) == xs(there)


# Lengths by the design's own formulas, worked here from the angle alone.


def test_a_sloped_baluster_reaches_from_its_shoe_to_the_rail():
    """Height less (depth + shoe) / cos(pitch): 36, 2 1/2 and 3/4 at 36.9 degrees."""
    section = set_out(job_in(sloped_file(pitch="36.9", shoe="{depth: 3/4}"))).sections[0]
    wanted = 36 - 3.25 / cos(radians(36.9))
    assert all(isclose(mark.visible / 25.4, wanted, abs_tol=1e-9) for mark in section.marks)
    assert isclose(section.rail.prop / 25.4, wanted, abs_tol=1e-9)


def test_a_level_baluster_reaches_from_the_floor_to_the_rail():
    for shoe, wanted in ((None, 33.5), ("{depth: 3/4}", 32.75)):
        section = set_out(job_in(level_file(shoe=shoe))).sections[0]
        assert {mark.visible / 25.4 for mark in section.marks} == {wanted}
        assert {mark.long_point for mark in section.marks} == {0}


def test_the_long_point_of_a_raking_top_is_half_the_width_up_the_pitch():
    section = set_out(job_in(sloped_file(pitch="40"))).sections[0]
    wanted = 5 / 16 * tan(radians(40))
    assert all(isclose(mark.long_point / 25.4, wanted, abs_tol=1e-9) for mark in section.marks)


def test_a_prop_reaches_from_a_nosing_to_the_underside():
    section = set_out(job_in(treads_file())).sections[0]
    wanted = 36 - 2.5 * hypot(10.25, 7.5) / 10.25
    assert isclose(section.rail.prop / 25.4, wanted, abs_tol=1e-9)


# The whole job.


def test_setting_a_job_out_twice_gives_equal_values():
    job = job_in(treads_file())
    assert set_out(job) == set_out(job)


def test_a_thousand_feet_of_level_are_laid_out_like_any_other():
    """The longest that a length may be."""
    section = set_out(job_in(level_file(length="1000'"))).sections[0]
    assert len(section.marks) == 2630
    assert section.marks[-1].name == "2630"


def test_a_job_of_too_many_balusters_is_refused_as_input(monkeypatch):
    monkeypatch.setattr(build, "MOST_BALUSTERS", 35)
    job = job_in(written(None, TREADS, changed(TREADS, {"name": "Second flight"})))
    with pytest.raises(BadInput, match="the job comes to over 35 balusters"):
        set_out(job)
    monkeypatch.setattr(build, "MOST_BALUSTERS", 36)
    assert sum(len(section.marks) for section in set_out(job).sections) == 36


@pytest.mark.parametrize(
    ("length", "count", "said"),
    [
        ("2", None, "Balcony: it needs no baluster"),
        ("2", "4", "Balcony: 4 balusters are wider than its length"),
        ("5/8", "1", "Balcony: 1 baluster is wider than its length"),
    ],
)
def test_a_level_that_holds_no_balusters_is_named(length, count, said):
    with pytest.raises(BadInput, match=said):
        set_out(job_in(level_file(length=length, count=count)))
