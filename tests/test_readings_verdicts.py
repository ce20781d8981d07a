from __future__ import annotations

import math
import random
import statistics
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from types import SimpleNamespace
from typing import Any, cast

import pytest

from stairjig.errors import BadInput
from stairjig.lengths import INCH, Shown
from stairjig.readings.causes import Cause, hump
from stairjig.readings.diagnose import diagnose
from stairjig.readings.match import match
from stairjig.readings.noise import TAPE_CUT, TAPE_SD, noise_of
from stairjig.readings.say import say
from stairjig.readings.sayings import said
from stairjig.readings.sums import Sum, beyond, rounding
from stairjig.readings.tape import tape
from stairjig.readings.values import (
    Diagnosis,
    Kind,
    Line,
    RailMarks,
    Readings,
    Table,
    Way,
    rail_marks,
)

IN = 25.4
SIXTEENTHS = Shown("inch", INCH / 16)
PITCH = math.radians(36.1932)


def flight(treads: int = 8, per_tread: int = 3, apart: float = 0.05) -> RailMarks:
    """Runs that grow by `apart` inches a mark from tread to tread, from 4 1/4 in on the rail."""
    names, places, at = [], [], 0.0
    for tread in range(treads):
        for baluster in range(per_tread):
            names.append(f"{tread + 1}-{baluster + 1}")
            places.append(at)
            at += (4.25 + apart * tread) * IN
    ends = -3.875 * IN, places[-1] + 3.875 * IN
    tangent = math.tan(PITCH)
    return RailMarks("Hall", (*names,), (*places,), tangent, IN / 8, SIXTEENTHS, *ends)


FLIGHT = flight()
EVEN = flight(apart=0.0)


def read(places: list[float], way: Way, total: bool = False) -> Readings:
    """What an exact tape says of marks at these places."""
    starts = places[:-1] if way == "spacing" else places[:1] * (len(places) - 1)
    values = tuple(b - a for a, b in zip(starts, places[1:], strict=True))
    return Readings(way, values, places[-1] - places[0] if total else None)


def moved(rail: RailMarks, *names: str, by: float) -> list[float]:
    return [
        at + (by * IN if name in names else 0.0)
        for name, at in zip(rail.names, rail.positions, strict=True)
    ]


def kinds(found: Diagnosis) -> list[Kind]:
    return [verdict.kind for verdict in found.verdicts]


def off(readings: Readings, at: int, by: float) -> Readings:
    """The readings with number `at` (the upper mark's index) misread by inches."""
    values = list(readings.values)
    values[at - 1] = float(values[at - 1]) + by * IN
    return replace(readings, values=(*values,))


BOTH: tuple[Way, ...] = ("spacing", "running")


@pytest.mark.parametrize("way", BOTH)
@pytest.mark.parametrize("total", [False, True])
def test_marks_where_they_belong_are_within_tolerance(way: Way, total: bool) -> None:
    found = diagnose(read([*FLIGHT.positions], way, total), FLIGHT)
    assert kinds(found) == [Kind.WITHIN]
    assert found.verdict.certain
    assert not found.redo
    assert not found.neighbours


@pytest.mark.parametrize("way", BOTH)
def test_one_mark_too_far_up_is_named_with_its_amount_and_what_to_do(way: Way) -> None:
    rail = replace(FLIGHT, positions=tuple(at * 1.003 for at in FLIGHT.positions))
    found = diagnose(read(moved(rail, "7-2", by=3 / 8), way), rail)
    assert kinds(found) == [Kind.MISPLACED]
    assert found.redo
    verdict = found.verdict
    assert verdict.says == "mark 7-2 is 3/8″ too far up; the marks on both sides are right"
    assert verdict.do == "redo this one"
    assert (verdict.marks, verdict.direction) == (("7-2",), "up")
    assert verdict.amount == pytest.approx(3 / 8 * IN)


def test_a_spacing_three_quarters_off_is_found_and_an_eighth_is_good() -> None:
    """Spacings that agree within 1/8 in are good, one 3/4 in off is a mistake: common practice."""
    good = diagnose(read(moved(FLIGHT, "3-1", by=1 / 8), "spacing"), FLIGHT)
    assert not good.redo
    bad = diagnose(read(moved(FLIGHT, "3-1", by=-3 / 4), "spacing"), FLIGHT)
    assert bad.redo
    assert (bad.verdict.marks, bad.verdict.direction) == (("3-1",), "down")


@pytest.mark.parametrize("way", BOTH)
def test_a_slip_names_the_mark_from_which_all_are_off(way: Way) -> None:
    names = FLIGHT.names[FLIGHT.names.index("5-1") :]
    found = diagnose(read(moved(FLIGHT, *names, by=-5 / 16), way, way == "spacing"), FLIGHT)
    assert kinds(found) == [Kind.SHIFTED]
    assert found.verdict.marks == ("5-1",)
    assert found.verdict.says.startswith("everything from mark 5-1 on is 5/16″ too far down")
    assert found.verdict.amount == pytest.approx(-5 / 16 * IN)


@pytest.mark.parametrize("way", BOTH)
def test_the_first_mark_off_is_the_same_as_all_after_it_and_the_newel_tells(way: Way) -> None:
    found = diagnose(read(moved(FLIGHT, "1-1", by=3 / 8), way), FLIGHT)
    verdict = found.verdict
    assert (verdict.kind, verdict.marks) == (Kind.SHIFTED, ("1-2",))
    assert verdict.twin is not None
    assert verdict.twin[:2] == (Kind.MISPLACED, "1-1")
    assert verdict.twin[2] == pytest.approx(3 / 8 * IN)
    assert "either mark 1-1, the first, is 3/8″ too far up" in verdict.says
    assert "or everything from 1-2 on is 3/8″ too far down" in verdict.says
    assert "lower newel's face to mark 1-1, underside: 3 7/8″" in verdict.tells


def test_the_last_mark_off_is_a_slip_at_it_as_well() -> None:
    found = diagnose(read(moved(FLIGHT, "8-3", by=3 / 8), "spacing"), FLIGHT)
    verdict = found.verdict
    assert (verdict.kind, verdict.marks) == (Kind.MISPLACED, ("8-3",))
    assert verdict.twin is not None
    assert verdict.twin[:2] == (Kind.SHIFTED, "8-3")


def test_a_whole_inch_in_one_spacing_without_a_total_is_either_and_the_total_tells() -> None:
    found = diagnose(off(read([*FLIGHT.positions], "spacing"), 10, 1), FLIGHT)
    assert set(kinds(found)) == {Kind.MISREAD, Kind.SHIFTED}
    assert all(verdict.marks == (FLIGHT.names[10],) for verdict in found.verdicts)
    assert "tape the total, first mark to last" in found.verdict.tells
    assert SIXTEENTHS.text(FLIGHT.length) in found.verdict.tells


def test_with_a_total_a_whole_inch_is_misread_or_a_slip_but_not_both() -> None:
    right = read([*FLIGHT.positions], "spacing", total=True)
    misread = diagnose(off(right, 10, 1), FLIGHT)
    assert kinds(misread) == [Kind.MISREAD]
    assert "a whole inch" in misread.verdict.says
    long = replace(off(right, 10, 1), total=FLIGHT.length + IN)
    assert kinds(diagnose(long, FLIGHT)) == [Kind.SHIFTED]


def test_a_whole_inch_in_a_running_reading_is_told_by_its_own_spacing() -> None:
    found = diagnose(off(read([*FLIGHT.positions], "running"), 10, -1), FLIGHT)
    assert set(kinds(found)) == {Kind.MISREAD, Kind.MISPLACED}
    assert f"tape {FLIGHT.names[9]} to {FLIGHT.names[10]} by itself" in found.verdict.tells


def test_three_eighths_read_for_five_eighths_is_a_mirrored_fraction() -> None:
    places = [index * (4 + 5 / 8) * IN for index in range(12)]
    rail = replace(flight(4), positions=(*places,), lower=None, upper=None)
    found = diagnose(off(read(places, "spacing", total=True), 5, -1 / 4), rail)
    assert kinds(found) == [Kind.MISREAD]
    assert "4 3/8″, looks misread: 4 5/8″ fits" in found.verdict.says
    assert "wrong side of the inch mark" in found.verdict.says


def test_two_digits_turned_round_are_seen_in_a_total() -> None:
    places = [index * 4.5 * IN for index in range(12)]
    rail = replace(flight(4), positions=(*places,), lower=None, upper=None)
    readings = replace(read(places, "spacing"), total=(94 + 0.5) * IN)
    found = diagnose(readings, rail)
    assert kinds(found) == [Kind.MISREAD]
    assert found.verdict.marks == ()
    assert "the total, 94 1/2″, looks misread: 49 1/2″ fits (two digits" in found.verdict.says


@pytest.mark.parametrize("way", BOTH)
def test_one_reading_too_few_names_the_missing_mark(way: Way) -> None:
    places = [at for at, name in zip(FLIGHT.positions, FLIGHT.names, strict=True) if name != "4-2"]
    found = diagnose(read(places, way), FLIGHT)
    assert kinds(found) == [Kind.MISSING]
    assert found.redo
    assert found.verdict.marks == ("4-2",)
    assert "from 4-1 to 4-3 is one spacing of 8 13/16″" in found.verdict.says
    assert found.verdict.do.startswith("mark it 4 3/8″ above 4-1")


def test_on_even_spacings_a_mark_missing_at_one_end_may_be_at_the_other() -> None:
    found = diagnose(read([*EVEN.positions[1:]], "spacing"), EVEN)
    assert kinds(found) == [Kind.MISSING, Kind.MISSING]
    assert {verdict.marks for verdict in found.verdicts} == {("1-1",), ("8-3",)}
    assert "lower newel" in found.verdict.tells


def test_a_spacing_only_left_out_is_shown_by_the_total() -> None:
    readings = read([*FLIGHT.positions], "spacing", total=True)
    values = readings.values[:9] + readings.values[10:]
    found = diagnose(replace(readings, values=values), FLIGHT)
    assert found.verdict.kind is Kind.UNREAD
    assert found.redo


@pytest.mark.parametrize("way", BOTH)
@pytest.mark.parametrize(("place", "beside"), [(2.0, ("3-1", "3-2")), (0.25, ("3-1", "3-2"))])
def test_one_reading_too_many_names_the_marks_beside_it(
    way: Way, place: float, beside: tuple[str, str]
) -> None:
    at = FLIGHT.positions[FLIGHT.names.index("3-1")] + place * IN
    found = diagnose(read(sorted([*FLIGHT.positions, at]), way), FLIGHT)
    assert kinds(found) == [Kind.EXTRA]
    assert found.verdict.marks == beside
    assert found.verdict.amount == pytest.approx(at)
    assert f"{SIXTEENTHS.text(place * IN)} above 3-1 and before 3-2" in found.verdict.says


def test_a_first_reading_from_the_newels_face_is_recognised() -> None:
    assert FLIGHT.lower is not None
    found = diagnose(read([FLIGHT.lower, *FLIGHT.positions], "spacing"), FLIGHT)
    assert kinds(found) == [Kind.EXTRA]
    assert "from the lower newel's face" in found.verdict.do


@pytest.mark.parametrize("way", BOTH)
def test_a_ratio_is_said_as_a_scale_and_as_the_pitch_that_it_would_mean(way: Way) -> None:
    """By m = s / cos(pitch), a rail laid out for 37.0° on a pitch of 36.1932°, design section 4."""
    share = math.cos(PITCH) / math.cos(math.radians(37.0))
    places = [at * share for at in FLIGHT.positions]
    found = diagnose(read(places, way, way == "spacing"), FLIGHT)
    assert kinds(found) == [Kind.RATIO]
    assert found.verdict.share == pytest.approx(share - 1)
    assert found.verdict.amount == pytest.approx(FLIGHT.length * (share - 1))
    assert "37.0° instead of 36.2°" in found.verdict.do


def test_a_print_fitted_to_the_page_is_said_in_percent() -> None:
    """Letter with margins of 1/4 in shrinks to 8/8.5: reference values 4.4."""
    found = diagnose(read([at * 8 / 8.5 for at in FLIGHT.positions], "running"), FLIGHT)
    assert kinds(found) == [Kind.RATIO]
    assert "printed at 94.12% of its size" in found.verdict.do


def test_a_strip_slightly_long_may_be_damp_paper() -> None:
    """Across its grain paper grows by 0.2 to 0.4 %: reference values 4.5."""
    found = diagnose(read([at * 1.004 for at in FLIGHT.positions], "running"), FLIGHT)
    assert kinds(found) == [Kind.RATIO]
    assert "damp" in found.verdict.do


def test_a_plumb_mark_moves_as_the_worked_example_says() -> None:
    """Bow 1/8 in at 36.1932° over 79.66: the middle moves 0.09146 in, design section 14."""
    (middle,) = hump([79.66 / 2], 0.0, 79.66)
    assert middle * math.tan(PITCH) / 8 == pytest.approx(0.09146, abs=5e-6)


@pytest.mark.parametrize(("bow", "word", "way"), [(-1.0, "sag", "down"), (1.0, "crown", "up")])
@pytest.mark.parametrize("rail_ends", [False, True])
@pytest.mark.parametrize("tape", BOTH)
def test_a_bow_is_named_with_its_size_downhill_for_a_sag(
    bow: float, word: str, way: str, rail_ends: bool, tape: Way
) -> None:
    assert FLIGHT.lower is not None
    assert FLIGHT.upper is not None
    rail = FLIGHT if rail_ends else replace(FLIGHT, lower=None, upper=None)
    ends = (FLIGHT.lower, FLIGHT.upper) if rail_ends else (0.0, FLIGHT.length)
    length = ends[1] - ends[0]
    places = [
        at + 4 * (at - ends[0]) * (ends[1] - at) / length**2 * bow * IN * math.tan(PITCH)
        for at in FLIGHT.positions
    ]
    found = diagnose(read(places, tape, tape == "spacing"), rail)
    assert kinds(found) == [Kind.BOWED]
    assert found.verdict.amount == pytest.approx(bow * IN, rel=1e-6)
    assert f"a {word} of 1″" in found.verdict.says
    assert found.verdict.direction == way


def test_a_level_rail_has_no_bow_to_blame_and_no_up_and_down() -> None:
    level = replace(FLIGHT, bow_shift_per_bow=0.0)
    humped = [at + shift * IN for at, shift in zip(level.positions, hump_of(level), strict=True)]
    assert Kind.BOWED not in kinds(diagnose(read(humped, "running"), level))
    found = diagnose(read(moved(level, "7-2", by=3 / 8), "spacing"), level)
    assert "mark 7-2 is 3/8″ too far along" in found.verdict.says


def hump_of(rail: RailMarks) -> list[float]:
    return hump(rail.positions, 0.0, rail.length)


def test_two_marks_off_are_both_named_and_more_than_one_thing_is_said() -> None:
    places = moved(FLIGHT, "3-2", by=3 / 8)
    places[FLIGHT.names.index("6-1")] -= IN / 2
    found = diagnose(read(places, "spacing"), FLIGHT)
    assert kinds(found) == [Kind.SEVERAL]
    assert found.verdict.marks == ("3-2", "6-1")
    assert [part.kind for part in found.verdict.parts] == [Kind.MISPLACED] * 2
    assert found.verdict.says.startswith("more than one thing is wrong")


@pytest.mark.parametrize(
    "names", [("4-2", "4-3"), ("4-2", "5-1"), ("4-2", "6-1"), ("4-1", "4-2", "4-3"), ("4-2", "8-3")]
)
def test_two_or_three_marks_off_by_running_readings_are_each_named(names: tuple[str, ...]) -> None:
    """3/16 in off among marks that agree to the sixteenth: no slip of 1/16 in, and no bow."""
    step = IN / 16
    rail = flight(treads=12)
    places = [round(at / step) * step for at in moved(rail, *names, by=3 / 16)]
    found = diagnose(read(places, "running"), rail)
    assert found.redo
    (verdict,) = found.verdicts
    assert [(part.kind, part.marks[0]) for part in verdict.parts] == [
        (Kind.MISPLACED, name) for name in names
    ]
    off = [f"mark {name} is 3/16″ too far up" for name in names]
    assert verdict.says == "more than one thing is wrong: " + "; ".join(off)
    assert verdict.do == f"redo these {len(names)} marks and tape them again; the others are right"


def test_a_slip_below_the_last_marks_is_a_slip_and_no_marks_off_one_by_one() -> None:
    for many in (2, 3):
        names = FLIGHT.names[-many:]
        found = diagnose(read(moved(FLIGHT, *names, by=1 / 4), "running"), FLIGHT)
        assert (kinds(found), found.verdict.marks) == ([Kind.SHIFTED], names[:1])


def test_an_amount_too_small_for_the_step_is_shown_finely() -> None:
    says, _, _ = said(Cause(Kind.SHIFTED, 5, -IN / 64, 0.0), FLIGHT)
    assert says == f"everything from mark {FLIGHT.names[5]} on is 1/64″ too far down"


def test_a_slip_that_is_taken_back_further_up_does_not_read_as_its_contrary() -> None:
    names = FLIGHT.names[FLIGHT.names.index("3-1") : FLIGHT.names.index("6-1")]
    found = diagnose(read(moved(FLIGHT, *names, by=1 / 2), "running"), FLIGHT)
    assert found.verdict.says.endswith(
        "everything from mark 3-1 on is 1/2″ too far up; from mark 6-1 on another 1/2″ down"
    )


def test_a_mark_missing_and_one_too_many_are_both_named_though_the_number_is_right() -> None:
    rail = flight(apart=0.3)
    places = [at for at, name in zip(rail.positions, rail.names, strict=True) if name != "2-2"]
    extra = rail.positions[rail.names.index("6-1")] + 2 * IN
    found = diagnose(read(sorted([*places, extra]), "spacing"), rail)
    assert kinds(found) == [Kind.SEVERAL]
    assert [part.kind for part in found.verdict.parts] == [Kind.MISSING, Kind.EXTRA]
    assert found.verdict.marks == ("2-2", "6-1", "6-2")


def test_with_more_than_six_causes_the_readings_are_said_not_to_fit_the_rail() -> None:
    rng = random.Random(5)
    places = [at + rng.uniform(-1, 1) * IN for at in FLIGHT.positions]
    found = diagnose(read(places, "running"), FLIGHT)
    assert kinds(found) == [Kind.FOREIGN]
    lines = say(found, FLIGHT)
    assert lines[1].startswith(
        "these readings don't fit this rail - bore nothing. Are they another"
    )
    assert len(lines) == 2


@pytest.mark.parametrize("way", BOTH)
def test_far_fewer_readings_than_marks_are_held_against_the_first_marks_in_order(way: Way) -> None:
    first = [*FLIGHT.positions[:6]]
    right = diagnose(read(first, way), FLIGHT)
    assert kinds(right) == [Kind.UNREAD]
    assert "there is no reading from mark 3-1 on (18 marks); what was read is right" in (
        right.verdict.says
    )
    first[2] += 3 / 8 * IN
    found = diagnose(read(first, way), FLIGHT)
    assert [part.kind for part in found.verdict.parts] == [Kind.MISPLACED, Kind.UNREAD]
    assert found.verdict.says == (
        "more than one thing is wrong: mark 1-3 is 3/8″ too far up; "
        "there is no reading from mark 3-1 on (18 marks)"
    )
    other = [at * IN for at in (0.0, 6.0, 9.0, 17.0, 19.0)]
    assert kinds(diagnose(read(other, way), FLIGHT)) == [Kind.FOREIGN]


def test_readings_given_as_the_other_kind_are_told_so() -> None:
    running = read([*FLIGHT.positions], "running").values
    for few in (3, 8, 23):
        with pytest.raises(BadInput, match=r"grow from mark to mark.* give them with --running"):
            diagnose(Readings("spacing", running[:few]), FLIGHT)
    spacings = read([*FLIGHT.positions], "spacing").values
    with pytest.raises(BadInput, match=r"must grow .* Give them with --spacing"):
        diagnose(Readings("running", spacings), FLIGHT)
    growing = tuple((4 + step / 16) * IN for step in range(4, 9))
    assert diagnose(Readings("spacing", growing), FLIGHT).way == "spacing"


def test_two_running_readings_that_fall_are_both_named_by_their_marks() -> None:
    found = off(read([*FLIGHT.positions], "running"), 4, 6)
    said = "2-2 reads 23 1/16″, 2-3 after it 21 3/8″ - tape both again"
    with pytest.raises(BadInput, match=said):
        diagnose(found, FLIGHT)


def test_a_total_stands_alone_against_the_running_readings() -> None:
    """Last mark off, the total as drawn: the mark or its reading; as neither has it: both told."""
    last = read(moved(FLIGHT, "8-3", by=-1 / 4), "running")
    drawn = diagnose(replace(last, total=FLIGHT.length), FLIGHT)
    assert kinds(drawn) == [Kind.MISPLACED, Kind.MISREAD]
    lines = say(drawn, FLIGHT)
    assert lines[1].startswith("bore nothing: the last running reading, ")
    assert "1/4″ apart; either one of the readings is wrong, or the total is wrong" in lines[1]
    assert lines[2].startswith("if the total is wrong, mark 8-3, the last, is 1/4″ too far down")
    assert lines[3].startswith("or: if the total is right, the reading from 1-1 to 8-3, ")
    neither = diagnose(replace(last, total=FLIGHT.length + 2 * IN), FLIGHT)
    assert kinds(neither)[0] is Kind.MISPLACED
    assert "apart; one of them is wrong - tape the total" in say(neither, FLIGHT)[1]
    agreed = diagnose(replace(last, total=float(last.values[-1])), FLIGHT)
    assert (kinds(agreed), agreed.apart) == ([Kind.MISPLACED], None)


def test_a_total_beyond_the_last_running_reading_is_no_contradiction() -> None:
    """The last mark was not read, or many were not: the total is another length then."""
    every = read([*FLIGHT.positions], "running", total=True)
    one = diagnose(replace(every, values=every.values[:-1]), FLIGHT)
    assert (kinds(one), one.verdict.marks, one.apart) == ([Kind.UNREAD], ("8-3",), None)
    few = read(moved(FLIGHT, "1-3", by=3 / 8), "running").values[:6]
    found = diagnose(Readings("running", few, every.total), FLIGHT)
    assert [part.kind for part in found.verdict.parts] == [Kind.MISPLACED, Kind.UNREAD]
    assert found.apart is None
    gone = read([*FLIGHT.positions[:-1]], "running", total=True)
    assert kinds(diagnose(gone, FLIGHT)) == [Kind.MISSING]


def test_neighbours_off_are_looked_at_again_before_boring() -> None:
    slight = diagnose(read(moved(FLIGHT, "3-1", by=3 / 32), "running"), FLIGHT)
    assert not slight.redo
    assert slight.verdict.do == "look again at 2-3 to 3-1, 3-1 to 3-2 before boring"
    alone = diagnose(read(moved(FLIGHT, "3-1", by=3 / 32), "spacing"), FLIGHT)
    assert alone.verdict.do.startswith("look again at 2-3 to 3-1, 3-1 to 3-2, and tape first")


def test_readings_taped_from_the_top_down_are_recognised() -> None:
    rail = flight(apart=0.3)
    down = tuple(reversed(read([*rail.positions], "spacing").values))
    found = diagnose(Readings("spacing", down), rail)
    assert found.redo
    assert "was it taped so?" in found.verdict.do


def test_marks_left_without_a_reading_by_name_are_not_good() -> None:
    lines = [
        Line(name, Fraction(at) if name not in ("3-1", "8-3") else None)
        for name, at in zip(FLIGHT.names, FLIGHT.positions, strict=True)
    ]
    found = diagnose(match(Table("", "running", (*lines,)), FLIGHT), FLIGHT)
    assert found.redo
    assert found.verdict.kind is Kind.UNREAD
    assert found.verdict.marks == ("3-1", "8-3")


def test_an_empty_row_of_spacings_is_a_missing_mark_where_the_next_spans_two() -> None:
    places = dict(zip(FLIGHT.names, FLIGHT.positions, strict=True))
    del places["4-2"]
    values = read([*places.values()], "spacing").values
    lines = [Line(name, Fraction(value)) for name, value in zip([*places][1:], values, strict=True)]
    lines.insert(FLIGHT.names.index("4-2") - 1, Line("4-2", None))
    found = diagnose(match(Table("", "spacing", (*lines,)), FLIGHT), FLIGHT)
    assert (kinds(found), found.verdict.marks) == ([Kind.MISSING], ("4-2",))


def test_neighbours_off_by_over_a_sixteenth_are_pointed_out_and_by_over_the_tolerance_fail() -> (
    None
):
    slight = diagnose(read(moved(FLIGHT, "3-1", by=3 / 32), "spacing"), FLIGHT)
    assert not slight.redo
    assert [(one.lower, one.upper, one.fails) for one in slight.neighbours] == [
        ("2-3", "3-1", False),
        ("3-1", "3-2", False),
    ]
    assert slight.neighbours[0].off == pytest.approx(3 / 32 * IN)
    bad = diagnose(read(moved(FLIGHT, "3-1", by=5 / 32), "spacing"), FLIGHT)
    assert bad.redo
    assert all(one.fails for one in bad.neighbours)


def test_the_jobs_own_tolerance_rules() -> None:
    readings = read(moved(FLIGHT, "3-1", by=3 / 16), "spacing")
    assert diagnose(readings, FLIGHT).redo
    assert not diagnose(readings, replace(FLIGHT, tolerance=IN / 4)).redo
    tight = read(moved(FLIGHT, "3-1", by=3 / 64), "spacing")
    assert diagnose(tight, replace(FLIGHT, tolerance=IN / 32)).redo


def test_the_table_holds_expected_read_and_difference_of_every_mark() -> None:
    found = diagnose(read(moved(FLIGHT, "3-1", by=3 / 8), "running"), FLIGHT)
    assert tuple(row.mark for row in found.rows) == FLIGHT.names
    assert (found.rows[0].expected_spacing, found.rows[0].running_off) == (None, 0.0)
    row = found.rows[FLIGHT.names.index("3-1")]
    assert row.running_off == pytest.approx(3 / 8 * IN)
    assert row.spacing_off == pytest.approx(3 / 8 * IN)
    assert row.expected_running == pytest.approx(FLIGHT.positions[6])


def test_in_mm_amounts_and_slips_of_the_eye_are_the_metric_tapes() -> None:
    places = tuple(index * 121.0 for index in range(20))
    names = tuple(str(index + 1) for index in range(20))
    rail = RailMarks("Balcony", names, places, 0.7, 3.0, Shown("mm", Fraction(1)))
    whole = diagnose(off(read([*places], "spacing", total=True), 5, 10 / IN), rail)
    assert "131 mm, looks misread: 121 mm fits (a whole centimetre)" in whole.verdict.says
    turned = diagnose(off(read([*places], "spacing", total=True), 5, (211 - 121) / IN), rail)
    assert "two digits turned round" in turned.verdict.says


def test_what_is_said_names_the_section_the_result_and_the_further_reading() -> None:
    found = diagnose(off(read([*FLIGHT.positions], "spacing"), 10, 1), FLIGHT)
    lines = say(found, FLIGHT)
    assert lines[0] == "Hall: 23 spacing readings: not right"
    assert lines[2].startswith("or: ")
    assert lines[3].startswith("to tell: tape the total")
    assert lines[4].startswith("out of tolerance: ")


def test_on_a_level_rail_nothing_is_above_or_below() -> None:
    level = replace(EVEN, bow_shift_per_bow=0.0)
    for places in ([*level.positions[:4], *level.positions[5:]], level.positions[1:],
                   moved(level, level.names[-1], by=3 / 8),
                   [*level.positions[:4], level.positions[4] - 50, *level.positions[4:]],
                   [at + (10 if index > 5 else 0) for index, at in enumerate(level.positions)],
                   [level.positions[0] - 50, *level.positions]):  # fmt: skip
        for way in ("running", "spacing"):
            lines = say(diagnose(read([*places], cast(Way, way)), level), level)
            told = " ".join(lines)
            assert not {"above", "below", "up", "down"} & {*told.split()}, told


def test_marks_that_pass_stay_whatever_they_may_hide() -> None:
    """A slip of 1/8 in a spacing, within the tolerance: it is taped again, nothing redone."""
    slipped = [at + (IN / 8 if index >= 5 else 0.0) for index, at in enumerate(FLIGHT.positions)]
    lines = say(diagnose(read(slipped, "spacing"), FLIGHT), FLIGHT)
    assert lines[0].endswith(": right")
    assert lines[2].startswith("before that, tape both spacings beside mark 2-3 again: it may be")
    assert not [line for line in lines if "redo" in line or line.startswith(("or: ", "to tell"))]


def test_a_spacing_a_hair_out_of_tolerance_does_not_read_as_if_it_were_in_it() -> None:
    """Each reading is 1/8 off as shown: one just over the tolerance, one just under it."""
    places = [at + (IN * 0.1245 if index == 5 else 0) for index, at in enumerate(FLIGHT.positions)]
    values = [b - a for a, b in pairwise(places)]
    values[5] -= IN * 0.002
    lines = say(diagnose(Readings("spacing", (*values,)), FLIGHT), FLIGHT)
    assert "out of tolerance: 2-3 to 3-1 just over 1/8″ short" in lines
    assert "within tolerance, but off by more than 1/16″: 2-2 to 2-3 1/8″ long" in lines
    slight = say(diagnose(read(moved(FLIGHT, "2-3", by=0.07), "spacing"), FLIGHT), FLIGHT)
    assert "2-2 to 2-3 just over 1/16″ long" in slight[-1]


def test_a_slip_within_tolerance_is_no_wrong_scale() -> None:
    """All marks from one on 3/32 too far up: no ratio, and nothing to redo."""
    rail = flight(treads=15)
    slipped = [at + (3 / 32 * IN if index >= 5 else 0) for index, at in enumerate(rail.positions)]
    found = diagnose(read(slipped, "running"), rail)
    assert not found.redo
    assert found.verdict.kind is Kind.WITHIN
    stretched = diagnose(read([at * 1.0012 for at in rail.positions], "running"), rail)
    assert stretched.verdict.kind is Kind.RATIO


SPACED = flight(treads=10, apart=0.0)
"""30 marks, 4 1/4 in apart: to a sixteenth no reading is rounded."""


def spaced(*long: int, by: float = 1 / 16, total: float | None = None) -> Diagnosis:
    """Spacings of SPACED, those of the numbers given `by` inches long; a total off by `total`."""
    values = tuple((4.25 + (by if at in long else 0.0)) * IN for at in range(1, len(SPACED)))
    whole = None if total is None else SPACED.length + total * IN
    return diagnose(Readings("spacing", values, whole), SPACED)


def test_spacings_that_pass_one_by_one_and_add_up_to_too_much_prove_nothing() -> None:
    """12 of 29 are 1/16 in long, 3/4 in together; errors of 0.033 in add up to 0.18 in."""
    found = spaced(*range(2, 26, 2))
    assert found.redo
    assert found.verdict.kind is Kind.UNPROVED
    assert (found.verdict.marks, found.verdict.direction) == (("10-3",), "")
    assert found.verdict.amount == pytest.approx(3 / 4 * IN)
    lines = say(found, SPACED)
    assert lines[0] == "Hall: 29 spacing readings: not proved yet"
    assert lines[1] == (
        "all 29 spacings are within 1/8″ of the drawing, but added up to mark 10-3 they are 3/4″ "
        "long: more than a tape's own errors come to - bore nothing yet: tape the total, first "
        "mark to last: 123 1/4″ (10′ 3 1/4″) is right"
    )
    assert lines[2].startswith("it may be that all spacings are 0.")
    assert "- if so, the strip was printed at 100." in lines[2]
    assert lines[3].startswith("longest against the drawing: 1-2 to 1-3, 2-1 to 2-2, ")
    short = spaced(*range(2, 26, 2), by=-1 / 16)
    assert "they are 3/4″ short: more" in short.verdict.says
    assert say(short, SPACED)[3].startswith("shortest against the drawing: ")


def test_spacings_that_go_too_far_in_between_want_a_running_reading_there() -> None:
    """Nine 1/16 in long, nine as much short: the last mark is right, and ten on are not.

    The rail is level, so that no bow can have come of it.
    """
    values = [4.25 * IN] * 29
    for at in range(9):
        values[at] += IN / 16
        values[20 + at] -= IN / 16
    found = diagnose(Readings("spacing", (*values,)), replace(SPACED, bow_shift_per_bow=0.0))
    assert (found.verdict.kind, found.verdict.marks) == (Kind.UNPROVED, ("4-1",))
    assert "added up to mark 4-1 they are 9/16″ long" in found.verdict.says
    assert "take running readings from the first mark: 38 1/4″ (3′ 2 1/4″) is right at 4-1" in (
        found.verdict.do
    )


def test_a_right_total_does_not_pass_spacings_that_add_up_to_something_else() -> None:
    found = spaced(*range(2, 28, 2), total=0.0)
    assert (found.redo, found.verdict.kind) == (True, Kind.UNPROVED)
    lines = say(found, SPACED)
    assert "add up to 124 1/16″ where the total is 123 1/4″, 13/16″ long: more" in lines[1]
    assert "the total is misread or copied, or each spacing was read a little long" in lines[1]
    assert "take running readings from the first mark: " in lines[1]
    assert lines[-1].startswith("longest against the drawing: ")
    assert spaced(*range(2, 28, 2), total=13 / 16).verdict.kind is Kind.RATIO
    few = spaced(4, 9, 16, total=0.0)
    assert (few.redo, few.verdict.kind) == (False, Kind.WITHIN)


def test_what_moves_a_mark_out_of_tolerance_is_never_said_beside_right() -> None:
    """Rails bowed ever more, spacings and a right total: chance has it, or nothing is proved."""
    rail = flight(treads=10)
    shift = hump(rail.positions, 0.0, rail.length)
    seen = set()
    for step in range(24):
        moves = step / 48 * IN
        places = [at + moves * part for at, part in zip(rail.positions, shift, strict=True)]
        found = diagnose(read(places, "spacing", total=True), rail)
        lines = say(found, rail)
        seen.add(found.verdict.kind)
        if not found.redo:
            assert not [line for line in lines if "crown" in line or "too far" in line], lines
            asked = [line for line in lines if line.startswith("before that, take running")]
            assert lines[1].endswith("bore by these marks, after one more reading") == bool(asked)
        elif found.verdict.kind is Kind.UNPROVED:
            assert lines[1].endswith("is right at 6-1")
            assert lines[2].startswith("it may be that the rail was bowed when it was marked: a ")
    assert seen == {Kind.WITHIN, Kind.UNPROVED, Kind.BOWED}


def test_a_slight_drift_is_asked_for_and_not_asserted() -> None:
    """Half the bound, 0.3 in over 29 spacings: errors of 0.03 in may add up to that."""
    found = spaced(*range(5, 26, 5))
    lines = say(found, SPACED)
    assert not found.redo
    assert lines[1].endswith(
        "tape first mark to last as well, 123 1/4″ is right: small errors add up, here to 5/16″ "
        "long"
    )
    more = say(spaced(*range(3, 27, 3)), SPACED)
    assert more[0].endswith(": right")
    assert more[1].endswith("here to 1/2″ long")
    assert not [line for line in more if "%" in line]


@pytest.mark.parametrize("gap", [4.4148, 4.2749, 4.3437, 5.2201])
def test_spacings_that_an_exact_tape_rounds_alike_are_told_from_marks_off_by_a_total(
    gap: float,
) -> None:
    """Of 59 gaps of 4.4148 in each reads 4 7/16, 1 3/8 in too much together, and no mark is off."""
    places = tuple(gap * IN * at for at in range(60))
    names = tuple(str(at + 1) for at in range(60))
    rail = RailMarks("Hall", names, places, 0.73, IN / 8, SIXTEENTHS)
    values = (round(gap * 16) / 16 * IN,) * 59
    total = round(rail.length / IN * 16) / 16 * IN
    found = diagnose(Readings("spacing", values, total), rail)
    assert (found.redo, found.verdict.kind) == (False, Kind.WITHIN)
    alone = diagnose(Readings("spacing", values), rail)
    assert alone.verdict.kind is Kind.UNPROVED
    assert ": more than a tape's own errors come to, unless each was rounded the same way" in (
        alone.verdict.says
    )
    long = total + sum(values) - rail.length
    assert diagnose(Readings("spacing", values, long), rail).verdict.kind is Kind.RATIO


def test_what_rounding_alone_does_not_explain_is_not_laid_to_it() -> None:
    """20 gaps of 4.4148 in: 4 7/16 each is 0.45 in too much; seven at 4 1/2 make it 0.89 in."""
    places = tuple(4.4148 * IN * at for at in range(21))
    rail = RailMarks("Hall", (*map(str, range(1, 22)),), places, 0.0, IN / 8, SIXTEENTHS)
    values = tuple((4.5 if at % 3 == 0 else 4.4375) * IN for at in range(20))
    found = diagnose(Readings("spacing", values, 88.3125 * IN), rail)
    assert (found.redo, found.verdict.kind) == (True, Kind.UNPROVED)
    assert "add up to 89 3/16″ where the total is 88 5/16″" in found.verdict.says


def test_rounding_is_off_alike_for_an_exact_tape_and_by_chance_for_a_rough_one() -> None:
    """Against readings made at random; a step's variance is a twelfth of its square."""
    assert rounding(4.3 * IN, IN / 16, 0.0) == (pytest.approx(0.0125 * IN), 0.0)
    assert rounding(4.3 * IN, 0.0, 0.5) == (0.0, 0.25)
    mean, variance = rounding(4.3 * IN, IN / 16, 3 * IN / 16)
    assert mean == pytest.approx(0.0, abs=1e-4)
    assert variance == pytest.approx((3 * IN / 16) ** 2 + (IN / 16) ** 2 / 12, rel=1e-3)
    rng = random.Random(7)
    off = [
        round((4.3 * IN + rng.gauss(0, 0.3)) / IN * 16) * IN / 16 - 4.3 * IN for _ in range(40_000)
    ]
    mean, variance = rounding(4.3 * IN, IN / 16, 0.3)
    assert mean == pytest.approx(statistics.fmean(off), abs=0.01)
    assert variance == pytest.approx(statistics.pvariance(off), rel=0.03)


def test_a_sum_is_held_to_what_that_many_errors_add_up_to() -> None:
    """By the formula: 3.4 sd sqrt(16) for all, 4.25 sd sqrt(m) for m, n + 1 errors in a total."""
    sd = noise_of([4.7312 * IN]).sd
    at = [index * 4.25 * IN for index in range(17)]

    def worst(off: list[float], total: float | None = None) -> Sum | None:
        read = [4.25 * IN + one for one in off]
        whole = None if total is None else at[-1] + total
        return beyond(tape("spacing", at, read, whole, noise_of([4.7312 * IN])), IN / 8)

    assert worst([0.999 * 3.4 * sd / 4] * 16) is None
    assert worst([1.001 * 3.4 * sd / 4] * 16) == Sum(
        16, pytest.approx(1.001 * 13.6 * sd), False, pytest.approx(1.001)
    )
    early = [4.25 * sd / 2] * 4 + [-4.25 * sd / 6] * 12
    assert worst([one * 0.999 for one in early]) is None
    found = worst([one * 1.001 for one in early])
    assert found is not None
    assert (found.index, found.apart) == (4, False)
    total = [1.001 * 3.4 * sd * math.sqrt(17) / 16] * 16
    found = worst(total, 0.0)
    assert found is not None
    assert (found.index, found.apart) == (16, True)
    assert worst([one * 0.998 for one in total], 0.0) is None
    assert beyond(tape("running", at, at[1:], None, noise_of(at)), 0.0) is None


def test_two_marks_have_one_spacing_and_one_mark_none() -> None:
    pair = flight(1, 2)
    assert kinds(diagnose(read([*pair.positions], "running"), pair)) == [Kind.WITHIN]
    found = diagnose(read(moved(pair, "1-2", by=0.4), "spacing"), pair)
    assert found.redo
    assert found.verdict.twin is not None
    assert found.verdict.twin[:2] == (Kind.MISPLACED, "1-1")
    with pytest.raises(BadInput, match="nothing to tape"):
        diagnose(Readings(None, (4.25 * IN,)), flight(1, 1))


def test_no_readings_whatever_end_in_anything_but_a_verdict_or_bad_input() -> None:
    rng = random.Random(3)
    failed = 0
    for _ in range(200):
        rail = flight(rng.randint(1, 4), rng.randint(2, 4), rng.choice((0.0, 0.2)))
        count = rng.randint(1, 2 * len(rail))
        most = rng.choice((6, 60)) * IN
        values = tuple(rng.uniform(0.1, most) for _ in range(count))
        way = rng.choice((*BOTH, None))
        values = tuple(sorted(values)) if way == "running" else values
        total = rng.choice((None, rng.uniform(1, 1500)))
        try:
            found = diagnose(Readings(way, values, total), rail)
        except BadInput:
            continue
        lines = say(found, rail)
        assert not found.verdict.parts or all(
            "right" not in one.says for one in found.verdict.parts
        )
        assert len(found.verdict.parts) <= 7
        assert not [line for line in lines if " -" in line.replace(" - ", " ")], lines
        failed += found.redo
    assert failed > 150


def test_noise_is_the_tapes_and_half_the_step_that_all_readings_share() -> None:
    """Sigma 1/32 in cut at 1/16: design section 15; the cut distribution's own deviation by sum."""
    cells = [(index + 0.5) / 10_000 for index in range(20_000)]
    weights = [math.exp(-((2 - cell * 2) ** 2) / 2) for cell in cells]
    spread = sum(w * (2 - cell * 2) ** 2 for w, cell in zip(weights, cells, strict=True))
    assert pytest.approx(math.sqrt(spread / sum(weights)) * IN / 32, rel=1e-4) == TAPE_SD
    assert noise_of([4.7312 * IN, 9.1177 * IN]).cut == TAPE_CUT
    assert noise_of([4.75 * IN, 9.125 * IN]).cut == pytest.approx(IN / 16 + IN / 32)
    assert noise_of([121.0, 242.0]).cut == pytest.approx(IN / 16 + 0.5)


def test_the_rails_marks_come_from_the_set_out() -> None:
    marks = tuple(SimpleNamespace(name=name, rail=at) for name, at in (("1", 0.0), ("2", 99.5)))
    rail = SimpleNamespace(pitch=PITCH, level=False, lower=-90.0, upper=190.0)
    wall = SimpleNamespace(kind="wall")
    section = SimpleNamespace(name="Hall", marks=marks, rail=rail, lower_newel=wall)
    job = SimpleNamespace(tolerance=SimpleNamespace(mm=INCH / 8), shown=SIXTEENTHS)
    found = rail_marks(cast("Any", section), cast("Any", job))
    assert (found.names, found.positions) == (("1", "2"), (0.0, 99.5))
    assert found.bow_shift_per_bow == pytest.approx(math.tan(PITCH))
    assert (found.tolerance, found.lower, found.upper) == (3.175, -90.0, 190.0)
    assert found.foot == "lower wall"
