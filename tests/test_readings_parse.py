from __future__ import annotations

import random
from collections.abc import Callable
from fractions import Fraction

import pytest

from stairjig.errors import BadInput, Place
from stairjig.lengths import INCH, Shown
from stairjig.readings.diagnose import diagnose
from stairjig.readings.match import match, recognise, settle
from stairjig.readings.parse import read_csv, read_list
from stairjig.readings.values import Kind, Line, RailMarks, Readings, Table


def rail(*names: str, spacing: float = 5 * 25.4, units: str = "inch") -> RailMarks:
    shown = Shown("inch", INCH / 16) if units == "inch" else Shown("mm", Fraction(1, 2))
    places = tuple(index * spacing for index in range(len(names)))
    return RailMarks("Hall flight", names, places, 0.73, 25.4 / 8, shown)


FOUR = rail("1-1", "1-2", "2-1", "2-2")


def inches(*values: str) -> tuple[Fraction, ...]:
    return tuple(Fraction(value) * INCH for value in values)


def problems(raised: pytest.ExceptionInfo[BadInput]) -> str:
    return "\n".join(str(problem) for problem in raised.value.problems)


def test_a_csv_of_spacings_keeps_marks_order_and_total() -> None:
    text = 'mark,spacing\n1-2,4 3/4\n2-1, 4-13/16\n2-2,4.75"\ntotal,1\' 2 5/16"\n'
    (table,) = read_csv(text, "taped.csv", "inch")
    assert (table.section, table.way) == ("", "spacing")
    assert [line.mark for line in table.lines] == ["1-2", "2-1", "2-2"]
    assert tuple(line.reading for line in table.lines) == inches("19/4", "77/16", "19/4")
    assert table.total == Fraction(229, 16) * INCH
    assert table.lines[1].where == Place("taped.csv", 3, 1)


def test_a_column_section_parts_the_tables_and_each_has_its_total() -> None:
    text = "section;mark;running\nHall;1-2;121,5\nPorch;1-2;88\nHall;total;243\n# done\n\n"
    hall, porch = read_csv(text, "taped.csv", "mm")
    assert (hall.section, porch.section) == ("Hall", "Porch")
    assert hall.lines[0].reading == Fraction("121.5")
    assert (hall.total, porch.total) == (243, None)


def test_an_empty_reading_stays_in_as_none() -> None:
    (table,) = read_csv("mark,running\n1-2,5\n2-1,\n2-2,15\n", "taped.csv", "inch")
    assert table.lines[1].reading is None


def test_all_problems_of_a_csv_come_at_once_each_with_its_line() -> None:
    text = (
        "section,mark,running\n,1-2,5\nHall,2-1,five\nHall,2-2,-3\nHall,3-1,nan,7\nHall,3-2,1/0\n"
    )
    with pytest.raises(BadInput) as raised:
        read_csv(text, "taped.csv", "inch")
    lines = [problem.where.line for problem in raised.value.problems if problem.where]
    assert lines == [2, 3, 4, 5, 6]


@pytest.mark.parametrize(
    "text",
    [
        "",
        "\n\n",
        "mark\n1-2\n",
        "mark,runing\n1-2,5\n",
        "mark,spacing,running\n1-2,5,5\n",
        "mark,mark,spacing\n1-2,5,5\n",
        "1-2,5\n2-1,5\n",
        "mark,spacing\n",
        "mark,spacing\ntotal,5\ntotal,6\n",
        "mark,spacing\n1-2,5\n" + "x" * 300_000,
    ],
)
def test_a_csv_that_is_none_of_readings_is_refused_in_one_clear_line(text: str) -> None:
    with pytest.raises(BadInput) as raised:
        read_csv(text, "taped.csv", "inch")
    assert "taped.csv" in problems(raised)
    assert "\n" not in raised.value.problems[0].what


def test_a_stray_inch_mark_at_a_fields_start_swallows_no_further_lines() -> None:
    text = 'mark,spacing\n1-2,"4 3/4\n2-1,4 3/4\n'
    (table,) = read_csv(text, "taped.csv", "inch")
    assert len(table.lines) == 2


def test_blanks_part_nothing_in_a_list_since_fractions_have_them() -> None:
    listed = read_list("4 3/4, 4 13/16; 4 3/4\n5, total 19 5/16", "inch", "spacing")
    assert listed.values == inches("19/4", "77/16", "19/4", "5")
    assert listed.total == Fraction(309, 16) * INCH
    assert listed.way == "spacing"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("121; 120,5; 121", ("121", "120.5", "121")),
        ("121,5, 120,5", ("121.5", "120.5")),
        ("121,5\n120\n", ("121.5", "120")),
        ("121,120,119", ("121", "120", "119")),
        ("121.5,120", ("121.5", "120")),
    ],
)
def test_a_comma_is_the_decimal_sign_in_mm_where_something_else_parts(
    text: str, expected: tuple[str, ...]
) -> None:
    assert read_list(text, "mm").values == tuple(Fraction(value) for value in expected)


def test_a_list_names_each_reading_that_is_none_by_its_number() -> None:
    with pytest.raises(BadInput) as raised:
        read_list("4 3/4, 4 3/, , 5", "inch", source="--spacing")
    assert "--spacing: reading 2" in problems(raised)
    assert "--spacing: reading 3" in problems(raised)


def test_an_empty_list_is_refused() -> None:
    with pytest.raises(BadInput):
        read_list(" ; ", "mm")


def test_readings_are_recognised_by_what_they_come_to() -> None:
    uneven = RailMarks("", tuple("abcd"), (0, 70.0, 150.0, 240.0), 0.7, 3, FOUR.shown)
    assert recognise((70.0, 80.0, 90.0), uneven) == "spacing"
    assert recognise((70.0, 150.0, 240.0), uneven) == "running"
    assert recognise((0.0, 70.0, 150.0, 240.0), uneven) == "running"
    assert recognise((69.0,), uneven) == "spacing"


def test_readings_a_mark_short_or_over_are_recognised_too() -> None:
    long = rail(*(str(number) for number in range(30)))
    running = [place for place in long.positions[1:] if place != long.positions[12]]
    assert recognise((*running,), long) == "running"
    assert recognise((127.0,) * 31, long) == "spacing"


def table(*lines: tuple[str, str | None], way: str | None = "running", total: str = "") -> Table:
    read = tuple(Line(mark, Fraction(value) * INCH if value else None) for mark, value in lines)
    assert way in ("running", "spacing", None)
    return Table("", way, read, Fraction(total) * INCH if total else None)


def test_lines_are_matched_by_name_in_any_order() -> None:
    found = match(table(("2-2", "15"), ("1-2", "5"), ("2 – 1", "10"), total="15"), FOUR)
    assert found == Readings("running", inches("5", "10", "15"), 15 * INCH)


def test_marks_without_a_reading_are_kept_by_name() -> None:
    found = match(table(("1-2", "5"), ("2-1", None)), FOUR)
    assert found.unread == ("2-1", "2-2")


def test_running_readings_may_begin_at_the_first_marks_own() -> None:
    """A tape held at its one inch mark because the hook is worn: common practice, no source."""
    found = match(table(("1-1", "1"), ("1-2", "6"), ("2-1", "11"), ("2-2", "16")), FOUR)
    assert found.values == inches("5", "10", "15")
    assert settle(Readings("running", inches("0", "5", "10", "15")), FOUR).values == found.values


def test_a_tables_way_is_recognised_where_a_form_does_not_say() -> None:
    assert match(table(("1-2", "5"), ("2-1", "5"), way=None), FOUR).way == "spacing"
    assert match(table(("1-2", "5"), ("2-1", "10"), way=None), FOUR).way == "running"


def test_a_line_without_a_name_is_a_mark_that_is_not_on_the_drawing() -> None:
    lines = (("1-2", "5"), ("2-1", "5"), ("?", "2"), ("2-2", "3"))
    assert match(table(*lines, way="spacing"), FOUR).values == inches("5", "5", "2", "3")


def test_wrong_names_come_all_at_once_with_the_nearest_right_one() -> None:
    lines = (("1-2", "5"), ("1-2", "5"), ("21", "10"), ("02-Feb", "15"))
    with pytest.raises(BadInput) as raised:
        match(table(*lines), FOUR)
    assert len(raised.value.problems) == 3
    assert "stands twice" in problems(raised)
    assert "is it 2-1?" in problems(raised)
    assert "spreadsheet" in problems(raised)


def test_a_spacing_at_the_first_mark_is_refused() -> None:
    with pytest.raises(BadInput, match="no mark before it"):
        match(table(("1-1", "5"), ("1-2", "5"), way="spacing"), FOUR)


def test_a_table_without_any_reading_is_refused() -> None:
    with pytest.raises(BadInput, match="no readings"):
        match(table(("1-2", None)), FOUR)


@pytest.mark.parametrize(
    ("marks", "value", "units"),
    [
        (FOUR, 127 * 25.4, "millimetres, read as inches"),
        (FOUR, 12.7 * 25.4, "centimetres, read as inches"),
        (rail("1", "2", "3", "4", units="mm"), 5.0, "inches, read as millimetres"),
        (rail("1", "2", "3", "4", units="mm"), 12.7, "centimetres, read as millimetres"),
    ],
)
def test_readings_in_other_units_than_the_jobs_are_no_verdict_but_bad_input(
    marks: RailMarks, value: float, units: str
) -> None:
    with pytest.raises(BadInput, match=units):
        settle(Readings(None, (value,) * 3), marks)


def test_whatever_a_csv_holds_only_bad_input_comes_out() -> None:
    rng = random.Random(5)
    letters = "mark,spacing running;total\n1-2 /\"'″½−0.9nan\t#\x00é"
    refused = 0
    for _ in range(2000):
        text = "".join(rng.choice(letters) for _ in range(rng.randint(0, 60)))
        refused += refuses(lambda text=text: read_csv("mark,spacing\n" + text, "a.csv", "inch"))
        refused += refuses(lambda text=text: settle(read_list(text, "mm"), FOUR))
    assert refused > 1000


def refuses(reading: Callable[[], object]) -> bool:
    try:
        reading()
    except BadInput:
        return True
    return False


LONG = rail(*(str(n) for n in range(1, 13)), spacing=110.0)


def test_readings_that_stop_early_leave_the_rest_unread() -> None:
    """Two or more short and right so far: the tape was put down, nothing is said to be missing."""
    for way, values in (("running", LONG.positions[1:6]), ("spacing", (110.0,) * 5)):
        diagnosis = diagnose(Readings(way, tuple(values)), LONG)
        assert [verdict.kind for verdict in diagnosis.verdicts] == [Kind.UNREAD]
        assert diagnosis.verdict.marks == tuple(str(n) for n in range(7, 13))
        assert diagnosis.redo


def test_readings_that_stop_early_and_are_wrong_are_not_called_unread() -> None:
    wrong = (*LONG.positions[1:4], LONG.positions[4] + 12.0, LONG.positions[5])
    diagnosis = diagnose(Readings("running", wrong), LONG)
    assert Kind.UNREAD not in [verdict.kind for verdict in diagnosis.verdicts]
    assert diagnosis.redo
