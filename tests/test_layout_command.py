"""`stairjig layout` as it is called: what it prints and how it ends, at the limit and beside it."""

from __future__ import annotations

import csv
import io
import json
import subprocess
import sys
from pathlib import Path

import pytest
from job_files import JOB, TREADS, changed, sloped_file, treads_file, written
from packs import sample

from stairjig.cli import main

SAMPLES = Path(__file__).parent.parent / "samples"
DONE, FAILS, WRONG = 0, 1, 2
POSTS = {"lower_newel": "{width: 100 mm}", "upper_newel": "{width: 100 mm}"}


def level(width, length, count=None, **job):
    own = {"balusters": f"{{b: {{shape: square, width: {width}}}}}", **job}
    section = {"name": "Level", "kind": "level", "length": length, "count": count, **POSTS}
    return written(own, changed(section, {}))


def called(tmp_path, capsys, source, *options):
    path = tmp_path / "job.yaml"
    path.write_bytes(source)
    status = main(["layout", str(path), *options])
    printed = capsys.readouterr()
    return status, printed.out, printed.err


@pytest.fixture
def lay(tmp_path, capsys):
    return lambda source, *options: called(tmp_path, capsys, source, *options)


def as_json(result):
    status, out, _ = result
    return status, json.loads(out)


# At the limit.


def test_a_gap_of_four_exactly_is_refused_with_marks_gap_limit_and_the_smallest_change(lay):
    """R312.1.3 on 59 in with ten of 1 1/2; eleven are the fewest that pass."""
    status, out, _ = lay(level("1 1/2", "59", "10"))
    assert status == FAILS
    assert (
        "each of the 11 gaps from lower newel to upper newel is 4″ and the level limit is 4″ "
        "(a gap exactly at it fails) (irc, R312.1.3)"
    ) in out
    assert "mend: Level: 11 balusters pass (now 10)" in out
    assert lay(level("1 1/2", "59", "11"))[0] == DONE


def test_a_failing_layout_prints_the_same_document_and_exits_1(lay):
    status, document = as_json(lay(level("1 1/2", "59", "10"), "--json"))
    assert status == FAILS
    (section,) = document["sections"]
    assert len(section["marks"]) == 10
    assert {opening["passes"] for opening in section["openings"]} == {False}
    assert {opening["clear"] for opening in section["openings"]} == {101.6}
    assert document["changes"] == [
        {"section": "Level", "key": "count", "value": "11", "text": "11 balusters pass (now 10)"}
    ]
    assert len(document["failures"]) == 11


METRIC = {"units": "mm", "rail": "{height: 900, depth: 60, width: 60}"}


@pytest.mark.parametrize(("openings", "status"), [("ca", DONE), ("uk", FAILS)])
def test_a_gap_of_100_mm_passes_in_canada_and_fails_in_england(lay, openings, status):
    """Ontario 3.3.1.18; Approved Document K, 3.3: seven of 32 on 1024."""
    assert lay(level("32", "1024", "7", openings=openings, **METRIC))[0] == status


@pytest.mark.parametrize(("equal", "status"), [("passes", DONE), ("fails", FAILS)])
def test_own_limits_say_whether_equal_passes(lay, equal, status):
    own = f"{{level: 4, equal: {equal}}}"
    assert lay(level("1 1/2", "59", "10", openings=own))[0] == status


def test_own_limits_are_strict_where_they_do_not_say(lay):
    assert lay(level("1 1/2", "59", "10", openings="{level: 4}"))[0] == FAILS


def test_a_hair_under_the_limit_passes(lay):
    """1/100,000 in shorter, the gap is a millionth under 4."""
    assert lay(level("1 1/2", "58.99999", "10"))[0] == DONE
    assert lay(level("1 1/2", "59.00001", "10"))[0] == FAILS


def test_a_failing_gap_that_shows_as_its_limit_is_said_to_be_just_over(lay):
    _, out, _ = lay(level("1 1/2", "59.00001", "10"))
    assert "is just over 4″ and the level limit is 4″ (irc, R312.1.3)" in out


def test_a_skewed_line_at_its_limit_is_equal_within_a_millionth(lay):
    """One of 5/8 on a line run of 5 in by a skewed riser: its gap is 4 3/8 and fails."""
    run = "4.698463103929543"
    treads = f"[{{run: {run}, skew: 20, per_tread: 1, times: 2}}]"
    assert lay(treads_file(treads=treads))[0] == FAILS
    own = {"openings": "{stair: 4 3/8, equal: passes}"}
    assert lay(written(own, changed(TREADS, {"treads": treads})))[0] == DONE


# The document.


def test_the_json_has_the_keys_that_are_promised(lay):
    _, document = as_json(lay(treads_file(), "--json"))
    assert {"pack_id", "title", "units", "paper", "sections", "warnings"} <= set(document)
    assert set(document["paper"]) == {"name", "sheets", "joints"}
    (section,) = document["sections"]
    assert set(section) == {
        "name", "kind", "pitch_deg", "line_length", "rail_length", "rail_ends",
        "bow_shift_per_bow", "gap", "lower_newel", "upper_newel", "treads", "marks", "nosings",
        "openings",
    }  # fmt: skip
    assert set(section["rail_ends"]) == {"lower", "upper"}
    assert set(section["lower_newel"]) == {"face", "centre"}
    assert set(section["treads"][0]) == {
        "number", "line_run", "front_skew", "back_skew", "gap", "marks",
    }  # fmt: skip
    assert set(section["treads"][0]["marks"][0]) == {"name", "type", "x", "s"}
    assert set(section["marks"][0]) == {"name", "type", "s", "rail", "visible", "cut"}
    assert set(section["nosings"][0]) == {"s", "height", "under"}
    assert set(section["openings"][0]) == {"between", "rule", "clear", "limit", "passes"}


def test_the_json_is_unrounded_millimetres(lay):
    _, document = as_json(lay(treads_file(), "--json"))
    (section,) = document["sections"]
    assert section["gap"] == pytest.approx(25.4 * 67 / 24, abs=1e-12)
    assert section["marks"][0]["s"] == 25.4 * 5 / 16
    assert section["line_length"] == 1562.1


def test_an_end_without_a_newel_is_null(lay):
    _, document = as_json(lay(treads_file(lower_newel="none"), "--json"))
    (section,) = document["sections"]
    assert section["lower_newel"] is None
    assert (section["rail_length"], section["rail_ends"]["lower"]) == (None, None)
    assert section["rail_ends"]["upper"] > 0


def test_treads_of_their_own_gaps_leave_the_sections_null(lay):
    _, document = as_json(lay(treads_file(treads="[10, 10 1/4]"), "--json"))
    (section,) = document["sections"]
    assert section["gap"] is None
    assert [tread["gap"] for tread in section["treads"]] == [
        pytest.approx(25.4 * (run - 1.875) / 3) for run in (10, 10.25)
    ]


def test_level_and_sloped_sections_have_no_treads_and_no_nosings(lay):
    for source in (level("5/8", "96 1/2"), sloped_file()):
        (section,) = as_json(lay(source, "--json"))[1]["sections"]
        assert (section["treads"], section["nosings"]) == ([], [])
        assert section["lower_newel"]["face"] == 0
        assert section["marks"][0]["s"] > 0


def test_the_csv_has_a_row_for_every_mark(lay):
    status, out, _ = lay(treads_file(), "--csv")
    rows = list(csv.DictReader(io.StringIO(out)))
    assert status == DONE
    assert list(rows[0]) == ["section", "mark", "type", "s", "x", "rail", "visible", "cut"]
    assert [row["mark"] for row in rows][:4] == ["1-1", "1-2", "1-3", "2-1"]
    assert len(rows) == 18
    assert (rows[0]["s"], rows[0]["cut"]) == ("7.937500", "")
    assert float(rows[3]["s"]) - float(rows[3]["x"]) == pytest.approx(260.35)


def test_csv_and_json_say_the_same(lay):
    source = (SAMPLES / "kestrel-mill.yaml").read_bytes()
    rows = list(csv.DictReader(io.StringIO(lay(source, "--csv")[1])))
    _, document = as_json(lay(source, "--json"))
    marks = document["sections"][0]["marks"]
    assert [row["mark"] for row in rows] == [mark["name"] for mark in marks]
    for row, mark in zip(rows, marks, strict=True):
        for key in ("s", "rail", "visible", "cut"):
            assert float(row[key]) == pytest.approx(mark[key], abs=1e-6)


@pytest.mark.parametrize("path", sorted(SAMPLES.glob("*.yaml")), ids=lambda path: path.stem)
def test_every_sample_lays_out(lay, path):
    status, document = as_json(lay(path.read_bytes(), "--json"))
    assert status == DONE
    assert all(
        opening["passes"] for section in document["sections"] for opening in section["openings"]
    )
    assert document["paper"]["sheets"] > 0


# How it ends.


def test_a_warning_changes_no_exit_status(lay):
    low = treads_file(rail="{height: 30, depth: 2 1/2, width: 2 3/8}")
    status, out, _ = lay(low)
    assert status == DONE
    assert "the rail's height, 30″, is under 34″ (irc, R312.1.2" in out


def test_a_base_that_does_not_stand_on_its_tread_fails(lay):
    status, out, _ = lay(treads_file(set_back="2"))
    assert status == FAILS
    assert "marks 1-3, 2-3, 3-3, 4-3, 5-3 and 6-3 stand under the nosing of the step above" in out


WIDE = {"line": "9", "treads": "[10 1/4]"}
CROWDED = {"treads": "[{run: 20 1/4, per_tread: 20}]", "nosing": "1/4"}


@pytest.mark.parametrize(
    ("changes", "code", "says"),
    [(WIDE, "too-wide", "wide and the paper has room for"),
     (CROWDED, "no-joint", "stand too close together for the joints")],
)  # fmt: skip
def test_strips_that_cannot_be_cut_fail_alike_in_every_form(lay, changes, code, says):
    """Too wide for letter, or bars under half an inch apart where it needs a joint; a roll does."""
    source = treads_file(**changes)
    status, out, _ = lay(source, "--json")
    (failure,) = json.loads(out)["failures"]
    assert (status, failure["code"]) == (FAILS, code)
    assert says in failure["text"]
    status, out, _ = lay(source)
    assert status == FAILS
    assert f"REFUSED:\n  {failure['text']}\n" in out
    for rows in ("--csv", "--schedule"):
        status, out, err = lay(source, rows)
        assert (status, err) == (FAILS, f"stairjig: {failure['text']}\n")
        assert out.splitlines()[0].startswith("section,mark")
    assert lay(source, "--paper", "roll 36")[0] == DONE


def test_an_even_row_that_hits_fails_with_its_count_and_marks(lay):
    even = treads_file(spacing="even", per_tread="3", set_back="2")
    status, out, _ = lay(even)
    assert status == FAILS
    assert "18 balusters come nearest, and of these 6 stand in a step: 1-3 by" in out


def test_every_sections_problems_are_told_at_once_with_their_places(lay):
    bad = "{sides: {end: 9, back: 30, wall: 20, front: 30}, diagonal: 60}"
    flights = [changed(TREADS, {"name": name, "treads": f"[{bad}]"}) for name in ("One", "Two")]
    status, out, err = lay(written(None, *flights))
    assert (status, out) == (WRONG, "")
    lines = err.splitlines()
    assert len(lines) == 2
    assert [":".join(line.split(":")[2:4]) for line in lines] == ["15:14", "24:14"]
    assert "One: tread 1: these sides and this diagonal can't close" in lines[0]
    assert "Two: tread 1" in lines[1]


def test_balusters_wider_than_the_run_are_no_layout(lay):
    wide = {"balusters": "{b: {shape: square, width: 6}}"}
    status, out, err = lay(written(wide, changed(TREADS, {"per_tread": "2"})))
    assert (status, out) == (WRONG, "")
    assert "tread 1: 2 balusters are wider than its run" in err


def test_it_runs_as_a_program_of_its_own(tmp_path):
    path = tmp_path / "job.yaml"
    path.write_bytes(level("1 1/2", "59", "10"))
    done = subprocess.run(
        [sys.executable, "-m", "stairjig", "layout", str(path)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == FAILS
    assert done.stderr == ""
    assert "11 balusters pass (now 10)" in done.stdout
    assert JOB["title"] in done.stdout


def test_the_schedule_lists_holes_and_cuts_of_every_mark(capsys) -> None:
    setout = sample("kestrel-mill.yaml")
    assert main(["layout", "--schedule", str(SAMPLES / "kestrel-mill.yaml")]) == 0
    rows = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    marks = setout.sections[0].marks
    assert [row["mark"] for row in rows] == [mark.name for mark in marks]
    for row, mark in zip(rows, marks, strict=True):
        assert mark.cut is not None
        assert float(row["cut"]) == pytest.approx(mark.cut)


def test_each_reads_as_the_thing_it_is(lay):
    """Newels found, standing and at a wall, a rail that runs level, a sphere in a triangle."""
    _, out, _ = lay(treads_file(lower_newel="{width: 3 1/2, place: {face: 0}}", upper_newel="wall"))
    assert "lower newel stands: face at the first riser's face, gap" in out
    assert "upper wall is taken to stand: face at the top riser's face, gap 2 13/16″" in out
    _, out, _ = lay(level("1 1/2", "59", "11"))
    assert "Level (level)\n  lower newel: face at 0″, gap" in out
    rail = "{lift: 1, rise: 7 1/2, run: 10, nosing: 1 1/8}"
    _, out, _ = lay(sloped_file(bottom_rail=rail))
    assert "the largest sphere between bottom rail and steps is 6 15/64″ and the triangle" in out
    assert "the bottom rail passes 5/8″ above the nosings (now 1″)" in out


def test_gaps_side_by_side_that_fail_alike_are_told_at_once_and_each_in_the_json(lay):
    source = treads_file(treads="[{run: 10 1/4, per_tread: 2}, 10 1/4, {run: 10, per_tread: 2}]")
    status, out, _ = lay(source)
    assert status == FAILS
    assert "each of the 3 gaps from lower newel to 2-1 is 4 1/2″ and the stair limit" in out
    assert "each of the 2 gaps from 3-1 to upper newel is 4 3/8″ and the stair limit" in out
    failures = json.loads(lay(source, "--json")[1])["failures"]
    assert [f["text"].partition(" is ")[0] for f in failures] == [
        "the gap from lower newel to 1-1",
        "the gap from 1-1 to 1-2",
        "the gap from 1-2 to 2-1",
        "the gap from 3-1 to 3-2",
        "the gap from 3-2 to upper newel",
    ]


def test_the_list_has_the_rails_ends_and_the_nosings_that_lie_low(lay):
    """Section 14's uneven flight, to the sixteenth: 0.24291, 0.08755, 0, 0.15182, 0.03036, 0."""
    rises = "[7 1/2, 7 5/8, 7 3/8, 7 1/2, 7 1/2, 7 1/2]"
    runs = "[10 1/4, 10, 10 1/2, 10 1/8, 10 1/4]"
    _, out, _ = lay(treads_file(treads=runs, rise=None, rises=rises))
    low = "nosings under the pitch line, going up: 1/4″, 1/16″, 0″, 1/8″, 0″, 0″"
    assert f"  {low}\n" in out
    _, out, _ = lay(treads_file(upper_newel="none"))
    assert "  rail ends from mark 1-1: lower 3 7/8″, upper open\n" in out
    assert "nosings under" not in out
    _, out, _ = lay(treads_file())
    assert "  rail ends from mark 1-1: lower 3 7/8″, upper 75 13/16″\n" in out


def test_what_is_said_of_several_sections_alike_is_said_once(lay):
    flight = {"treads": "[{run: 10 1/4, times: 3}, {run: 10, times: 3}]"}
    names = [f"Flight {letter}" for letter in "ABCDE"]
    _, out, _ = lay(written(None, *(changed(TREADS, {**flight, "name": name}) for name in names)))
    (line,) = [line for line in out.splitlines() if "makes every gap" in line]
    assert line.startswith("  Flight A, Flight B, Flight C and 2 more: spacing")
