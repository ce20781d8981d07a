"""Tape readings through the command line: a list, a CSV, a pack's check page filled in."""

from __future__ import annotations

import io
import itertools
from math import ceil
from pathlib import Path

import form_files
import pypdf
import pypdfium2
import pytest
from form_files import _fill, _widgets
from packs import SAMPLES, sample
from pypdfium2 import raw

from stairjig.check import boxes_of, check_fields
from stairjig.cli import main
from stairjig.job.reader import read_job
from stairjig.lengths import INCH, Shown
from stairjig.proof.reading import read_pdf
from stairjig.setout.build import set_out

JOB = str(SAMPLES / "kestrel-mill.yaml")
SETOUT = sample("kestrel-mill.yaml")
MARKS = SETOUT.sections[0].marks
WRONG = 20
"""The mark that is marked 3/8 in too far up."""


def running(error: float = 0.375) -> list[str]:
    """What a tape says at every mark after the first, to the sixteenth, one of them wrong."""
    at = [mark.rail + (error * 25.4 if n == WRONG else 0.0) for n, mark in enumerate(MARKS)]
    return [SETOUT.job.shown.plain(place) for place in at[1:]]


def spacings(error: float = 0.375) -> list[str]:
    places = [mark.rail + (error * 25.4 if n == WRONG else 0.0) for n, mark in enumerate(MARKS)]
    return [SETOUT.job.shown.plain(high - low) for low, high in itertools.pairwise(places)]


@pytest.fixture(scope="module")
def pack(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    path = tmp_path_factory.mktemp("check") / "pack.pdf"
    assert main(["pack", JOB, "-o", str(path)]) == 0
    return path.read_bytes()


def filled(values: list[str], way: str) -> dict[str, str]:
    return {
        f"check__1__{mark.name}__{way}": value
        for mark, value in zip(MARKS[1:], values, strict=True)
    }


def by_pypdf(data: bytes, fields: dict[str, str]) -> bytes:
    writer = pypdf.PdfWriter(clone_from=io.BytesIO(data))
    for page in writer.pages:
        if "/Annots" in page:
            writer.update_page_form_field_values(page, fields, auto_regenerate=False)
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue()


def by_pdfium(data: bytes, fields: dict[str, str]) -> bytes:
    """As a user does: a click on each field, then the keys."""
    document = pypdfium2.PdfDocument(data)
    document.init_forms()
    for page in document:
        for name, middle in _widgets(document, page).items():
            if name in fields:
                _fill(document.formenv.raw, page.raw, middle, fields[name])
        raw.FORM_ForceToKillFocus(document.formenv.raw)
        page.close()
    out = io.BytesIO()
    document.save(out)
    document.close()
    return out.getvalue()


@pytest.mark.parametrize("fill", [by_pypdf, by_pdfium])
@pytest.mark.parametrize("way", ["running", "spacing"])
def test_a_filled_check_page_names_the_wrong_mark(
    fill, way: str, pack: bytes, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:  # type: ignore[no-untyped-def]
    values = running() if way == "running" else spacings()
    path = tmp_path / "filled.pdf"
    path.write_bytes(fill(pack, filled(values, way)))
    assert main(["check", str(path)]) == 1
    said = capsys.readouterr().out
    name = MARKS[WRONG].name
    assert f"mark {name} is" in said
    assert "3/8″ too far up" in said
    assert "bow: a gap of" in said
    assert main(["proof", str(path)]) == 0


def test_two_fillers_are_read_alike(pack: bytes) -> None:
    fields = filled(running(), "running") | {"check__1__total": "186 5/16"}
    one, two = (read_pdf(fill(pack, fields)).fields for fill in (by_pypdf, by_pdfium))
    for name, value in fields.items():
        assert one[name] == two[name] == value


def test_right_readings_pass_with_exit_0(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", JOB, "--running", ", ".join(running(0.0))]) == 0
    assert "right" in capsys.readouterr().out
    assert main(["check", JOB, "--spacing", ", ".join(spacings(0.0))]) == 0


def rounded_up(total: float | None = None) -> str:
    """Every spacing to the next sixteenth above: 1 1/16 in too much in all, none 1/16 in off."""
    step = float(INCH) / 16
    read = [ceil((b.rail - a.rail) / step - 1e-9) for a, b in itertools.pairwise(MARKS)]
    listed = [SETOUT.job.shown.plain(steps * step) for steps in read]
    more = [] if total is None else [f"total {SETOUT.job.shown.plain(total)}"]
    return ", ".join([*listed, *more])


@pytest.mark.parametrize("total", [None, MARKS[-1].rail])
def test_spacings_that_add_up_to_too_much_are_not_bored_by(
    total: float | None, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", JOB, "--spacing", rounded_up(total)]) == 1
    said = capsys.readouterr().out
    assert said.startswith("Hall flight: 44 spacing readings: not proved yet\n")
    assert "bore nothing yet: t" in said
    assert "bore by these marks" not in said
    asked = "tape the total, first mark to last: 186 5/16″" if total is None else "take running"
    assert asked in said


def test_running_readings_that_are_right_prove_spacings_that_were_rounded_alike() -> None:
    """Of 51 gaps of 4.5338 in, each read as 4 9/16, the sum is 1 7/16 in long; no mark is off."""
    text = (SAMPLES / "balcony.yaml").read_bytes().replace(b"96 1/2 ", b"239 2/3")
    setout = set_out(read_job(text, "long.yaml"))
    marks, plain = setout.sections[0].marks, setout.job.shown.plain
    spacing = {
        f"check__1__{high.name}__spacing": plain(high.rail - low.rail)
        for low, high in itertools.pairwise(marks)
    }
    run = {f"check__1__{mark.name}__running": plain(mark.rail) for mark in marks[1:]}
    (alone,) = check_fields(setout, "Balcony", Path("a.pdf"), spacing)
    assert (alone.redo, "not proved yet" in alone.lines[0]) == (True, True)
    both = check_fields(setout, "Balcony", Path("a.pdf"), spacing | run)
    assert [one.redo for one in both] == [False, False]
    assert all("bore by these marks" in one.lines[1] for one in both)


def test_a_csv_by_name_says_the_same_as_a_list(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rows = [f"{mark.name},{value}" for mark, value in zip(MARKS[1:], running(), strict=True)]
    path = tmp_path / "taped.csv"
    path.write_text("\n".join(["mark,running", *rows]) + "\n")
    assert main(["check", JOB, str(path)]) == 1
    by_name = capsys.readouterr().out
    assert main(["check", JOB, "--running", ", ".join(running())]) == 1
    assert capsys.readouterr().out == by_name


def only(tmp_path: Path, way: str, **off: float) -> list[str]:
    """A call with a CSV that has a few marks alone, each by its name and off by inches."""
    shown, rows = SETOUT.job.shown, [f"mark,{way}"]
    for number, mark in enumerate(MARKS):
        if mark.name.replace("-", "_") in (key.removeprefix("m") for key in off):
            base = MARKS[number - 1].rail if way == "spacing" else 0.0
            far = off[f"m{mark.name.replace('-', '_')}"] * 25.4
            rows.append(f"{mark.name},{shown.plain(mark.rail - base + far)}")
    path = tmp_path / "few.csv"
    path.write_text("\n".join(rows) + "\n")
    return ["check", JOB, str(path)]


UNREAD = "there is no reading for 1-2 to 4-1, 4-3, 5-2 to 15-3 (42 marks)"


@pytest.mark.parametrize("way", ["running", "spacing"])
def test_a_few_marks_by_name_are_judged_and_the_others_are_not_proved(
    way: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(only(tmp_path, way, m4_2=0.0, m5_1=1 / 16)) == 1
    lines = capsys.readouterr().out.splitlines()
    assert lines[0] == f"Hall flight: 2 {way} readings: not proved yet"
    before = f"{UNREAD}; what was read is right - tape these too before anything is bored"
    assert lines[1] == before


@pytest.mark.parametrize(
    ("off", "says"),
    [
        ({"m4_2": 3 / 8, "m5_1": 0.0}, "wrong: mark 4-2 is 3/8″ too far up"),
        ({"m4_2": 3 / 8, "m5_1": -1 / 4},
         "wrong: mark 4-2 is 3/8″ too far up; mark 5-1 is 1/4″ too far down"),
    ],
)  # fmt: skip
def test_a_few_marks_by_name_that_are_off_are_no_other_jobs(
    off: dict[str, float], says: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(only(tmp_path, "running", **off)) == 1
    lines = capsys.readouterr().out.splitlines()
    assert lines[0] == "Hall flight: 2 running readings: not right"
    assert says in lines[1]
    assert f"; {UNREAD} - put these right" in lines[1]
    assert main(only(tmp_path, "running", m4_2=3.5, m5_1=-3.0)) == 1
    assert "these readings don't fit this rail" in capsys.readouterr().out


def test_of_many_marks_by_name_a_slip_is_one_slip_whatever_is_left_out(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rows = [
        f"{mark.name},{SETOUT.job.shown.plain(mark.rail + 25.4 * (at >= WRONG))}"
        for at, mark in enumerate(MARKS)
        if at and at % 3
    ]
    path = tmp_path / "some.csv"
    path.write_text("\n".join(["mark,running", *rows]) + "\n")
    assert main(["check", JOB, str(path)]) == 1
    said = capsys.readouterr().out
    assert f"everything from mark {MARKS[WRONG].name} on is 1″ too far up" in said
    assert "there is no reading for 2-1, 3-1" in said


def test_what_is_no_reading_is_told_by_its_field(
    pack: bytes, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    fields = filled(running(), "running")
    fields["check__1__4-2__running"] = "forty"
    fields["check__1__5-1__running"] = "10 9/8"
    path = tmp_path / "filled.pdf"
    path.write_bytes(by_pypdf(pack, fields))
    assert main(["check", str(path)]) == 2
    said = capsys.readouterr().err
    assert "Hall flight, mark 4-2, from the first mark: 'forty' is no length" in said
    assert "Hall flight, mark 5-1" in said


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ([], "holds no readings"),
        (["--section", "attic", "--running", "4"], "no section 'attic'"),
        (["taped.csv", "--running", "4"], "given twice"),
        (["nowhere.csv"], "no file nowhere.csv"),
        (["--running", "x"], "is no length"),
    ],
)
def test_a_call_that_is_wrong_is_told(
    words: list[str], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", JOB, *words]) == 2
    assert says in capsys.readouterr().err


def test_an_empty_check_page_is_told(
    pack: bytes, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "pack.pdf"
    path.write_bytes(pack)
    assert main(["check", str(path)]) == 2
    assert "nothing is filled in" in capsys.readouterr().err


def test_several_sections_need_a_name(capsys: pytest.CaptureFixture[str]) -> None:
    job = str(SAMPLES / "balcony.yaml")
    assert main(["check", job, "--running", "4, 8, 12"]) == 2
    said = capsys.readouterr().err
    assert "several sections" in said
    for section in sample("balcony.yaml").sections:
        assert section.name in said


def two_rails(tmp_path: Path, off: float = 0.0) -> tuple[str, Path]:
    """A job of two sections and a CSV with both rails' readings, the first one's slipped."""
    setout = sample("balcony.yaml")
    rows = ["section,mark,running"]
    for number, section in enumerate(setout.sections):
        slip = 0.0 if number else off * 25.4
        values = [mark.rail + (slip if at > 4 else 0) for at, mark in enumerate(section.marks)]
        texts = [setout.job.shown.plain(value) for value in values]
        rows += [
            f"{section.name},{mark.name},{text}"
            for mark, text in zip(section.marks[1:], texts[1:], strict=True)
        ]
        rows.append(f"{section.name},total,{texts[-1]}")
    path = tmp_path / "both.csv"
    path.write_text("\n".join(rows) + "\n")
    return str(SAMPLES / "balcony.yaml"), path


def test_a_section_that_is_named_is_the_only_one_of_a_csv_wherever_it_is_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job, path = two_rails(tmp_path, off=1.0)
    for words, status in ((["--section", "Knee wall", str(path)], 0),
                          ([str(path), "--section", "Balcony"], 1), ([str(path)], 1)):  # fmt: skip
        assert main(["check", job, *words]) == status
        said = capsys.readouterr().out
        assert ("Knee wall: " in said) == ("Balcony" not in words)
        assert ("Balcony: " in said) == ("Knee wall" not in words)
    assert main(["check", job, "--section", "Balcony", str(path), "more"]) == 2


SILENT = "Knee wall: no readings yet: not proved - bore nothing there; tape its marks, "


@pytest.mark.parametrize("way", ["csv", "fields"])
def test_a_section_without_readings_is_named_and_is_not_proved(
    way: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Two rails, one of them taped and right: the other's marks are nobody's to bore by."""
    job, path = two_rails(tmp_path)
    rows = [row for row in path.read_text().splitlines() if "Knee wall" not in row]
    path.write_text("\n".join(rows) + "\n")
    if way == "fields":
        path = tmp_path / "filled.pdf"
        assert main(["pack", job, "-o", str(path)]) == 0
        cells = (row.split(",") for row in rows[1:])
        fields = {
            f"check__1__{mark}{'' if mark == 'total' else '__running'}": reading
            for _, mark, reading in cells
        }
        path.write_bytes(by_pypdf(path.read_bytes(), fields))
        job = str(path)
    capsys.readouterr()
    call = ["check", job] if way == "fields" else ["check", job, str(path)]
    assert main(call) == 1
    said = capsys.readouterr().out.splitlines()
    assert said[0] == "Balcony: 20 running readings: right"
    assert said[1].endswith(" - bore by these marks, those of Balcony alone")
    assert [line for line in said if line.startswith(SILENT)] == [said[-1]]
    assert main([*call, "--section", "Balcony"]) == 0
    assert "Knee wall" not in capsys.readouterr().out
    assert main([*call, "--section", "Knee wall"]) == 2
    assert "nothing is filled in for Knee wall" in capsys.readouterr().err


def test_where_every_section_is_right_none_is_said_to_be_missing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job, path = two_rails(tmp_path)
    assert main(["check", job, str(path)]) == 0
    said = capsys.readouterr().out
    assert said.count("bore by these marks\n") == 2
    assert "no readings yet" not in said


def test_a_csv_without_the_column_that_its_job_needs_is_told_so(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job, path = two_rails(tmp_path)
    rows = [line.split(",", 1)[1] for line in path.read_text().splitlines()]
    path.write_text("\n".join(rows) + "\n")
    assert main(["check", job, str(path)]) == 2
    said = capsys.readouterr().err
    assert "several sections, and the CSV has no column section" in said
    assert "Balcony, Knee wall" in said


def test_readings_of_another_section_are_known_for_its_own(
    capsys: pytest.CaptureFixture[str],
) -> None:
    setout = sample("balcony.yaml")
    texts = [setout.job.shown.plain(mark.rail) for mark in setout.sections[1].marks[1:]]
    job = str(SAMPLES / "balcony.yaml")
    assert main(["check", job, "--section", "Balcony", "--running", ", ".join(texts)]) == 1
    said = capsys.readouterr().out
    assert "don't fit this rail, and all of them fit Knee wall" in said


def test_a_filled_pack_beside_a_changed_job_is_to_be_checked_by_itself(
    pack: bytes, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "filled.pdf"
    path.write_bytes(by_pypdf(pack, filled(running(0.0), "running")))
    assert main(["check", str(SAMPLES / "skewed-porch.yaml"), str(path)]) == 2
    assert f"by itself: stairjig check '{path}'" in capsys.readouterr().err


def test_columns_that_slipped_both_are_not_passed_by_a_copied_total() -> None:
    """All from one mark on 1 in too far, the total as it is printed beside the box."""
    shown = SETOUT.job.shown
    places = [mark.rail + (25.4 if at >= WRONG else 0.0) for at, mark in enumerate(MARKS)]
    slipped = filled([shown.plain(place) for place in places[1:]], "running")
    slipped |= {"check__1__total": shown.plain(MARKS[-1].rail)}
    both = [shown.plain(high - low) for low, high in itertools.pairwise(places)]
    moved = f"tape was moved between {MARKS[WRONG - 1].name} and {MARKS[WRONG].name}"
    for beside in (both, spacings(0.0)):
        fields = slipped | filled(beside, "spacing")
        found = check_fields(SETOUT, None, Path("filled.pdf"), fields)
        assert [one.redo for one in found] == [beside is both, True]
        shifted = f"everything from mark {MARKS[WRONG].name} on is 1″ too far up"
        named = [any(shifted in line for line in one.lines) for one in found]
        assert named == [beside is both, True]
        said = "\n".join(line for one in found for line in one.lines)
        assert f"{moved}, or the total is wrong or copied" in said
        assert "bore by these marks" not in said


def test_a_right_column_beside_a_wrong_one_does_not_let_anything_be_bored() -> None:
    total = {"check__1__total": SETOUT.job.shown.plain(MARKS[-1].rail)}
    fields = filled(running(), "running") | filled(spacings(0.0), "spacing") | total
    right, wrong = check_fields(SETOUT, None, Path("filled.pdf"), fields)
    assert (right.redo, wrong.redo) == (False, True)
    assert right.lines[1].endswith("- but bore nothing yet: the other column says otherwise")


GAP = SETOUT.job.shown.plain(SETOUT.sections[0].upper_newel.gap)  # type: ignore[union-attr]
BOXES = {
    "test__along": "10", "test__across": "7 1/64", "built__1__4__gap": "3 1/4",
    "built__1__height": "36", "newel__1__upper__gap": GAP, "newel__1__upper__face": "1 7/8",
}  # fmt: skip
"""As they should be: the bars within their bands, a gap within four tolerances of 2.79 in."""


@pytest.mark.parametrize(
    ("name", "wrong", "fails", "says"),
    [
        (
            "test__along",
            "9 13/32",
            True,
            "the sheet measures 9 13/32″, good is 9 31/32″ to 10 1/32″",
        ),
        ("test__across", "7 1/16", True, "the bar across the sheet measures 7 1/16″"),
        ("built__1__4__gap", "4 3/8", True, "as built, 4 3/8″, fails its limit, under 4 3/8″"),
        ("built__1__4__gap", "4 5/16", False, "as built is 4 5/16″, which passes, under 4 3/8″"),
        ("built__1__4__gap", "0", False, "where 2 13/16″ is drawn - tape it again; if it stands"),
        ("newel__1__upper__gap", "0", True, "as set is 0″, and 3 3/16″ is due: it stands wh"),
        ("newel__1__upper__gap", "-1/2", True, "its gap as set is -1/2″, and 3 3/16″ is due: it"),
        ("newel__1__upper__gap", "5", True, "upper newel: its gap as set, 5″, fails its limit"),
        ("newel__1__upper__gap", "3 7/8", False, "upper newel: its gap as set is 3 7/8″, and "),
        ("newel__1__lower__face", "3", False, "3″, where 2 1/2″ down the stair from the face of"),
        ("built__1__height", "41", False, "height as built, 41″, is not from 34″ to 38″"),
    ],
)
def test_every_other_filled_box_is_held_against_its_limit(
    name: str, wrong: str, fails: bool, says: str
) -> None:
    """A bar 6 % short, gaps of the limit and more, a height beyond the rule's: as on paper."""
    good = boxes_of(SETOUT, None, BOXES)
    assert good is not None
    assert not good.fails
    assert [line.endswith(": 6 boxes filled in: right") for line in good.lines] == [True]
    found = boxes_of(SETOUT, None, BOXES | {name: wrong})
    assert found is not None
    assert found.fails == fails
    assert len(found.lines) == 2
    assert says in found.lines[1]


NARROW = "only that gap and the rail's end are not as drawn"


@pytest.mark.parametrize(
    ("boxes", "fails", "says"),
    [
        ({"lower__face": "2 1/4"}, False,
         "2 1/4″, where 2 1/2″ down the stair from the face of riser 1 is due: its gap comes to "
         f"2 9/16″, which passes, under 4 3/8″ - tape it again; if it stands so, {NARROW}"),
        ({"lower__face": "8 1/2"}, True, "its gap comes to 8 13/16″ and fails its limit, under 4"),
        ({"lower__face": "2 1/4", "lower__gap": "2 9/16"}, False, "is taped as 2 9/16″, which"),
        ({"lower__face": "8 1/2", "lower__gap": "2 13/16"}, True,
         "by it the gap comes to 8 13/16″, but it is taped as 2 13/16″: one of the two is misread"),
        ({"lower__face": "2 1/4", "lower__gap": "4 1/2"}, True, "but it is taped as 4 1/2″"),
        ({"lower__face": "2 1/4", "lower__gap": "3"}, False, "but it is taped as 3″: one of"),
        ({"lower__face": "4 1/16"}, True, "its gap comes to 4 3/8″ and fails its limit"),
        ({"upper__face": "0"}, False, "its gap comes to 2 7/16″, which passes"),
        ({"upper__face": "2 1/2"}, False, "its gap comes to 3 13/16″, which passes"),
    ],
)  # fmt: skip
def test_a_newel_off_its_place_fails_only_where_the_gap_that_it_leaves_does(
    boxes: dict[str, str], fails: bool, says: str
) -> None:
    """Marks run from the first mark: its own gap is 2.79 in, and as much more as it is off."""
    fields = {f"newel__1__{name}": text for name, text in boxes.items()}
    found = boxes_of(SETOUT, None, fields | filled(running(0.0), "running"))
    assert found is not None
    assert found.fails == fails
    assert [line for line in found.lines if says in line], found.lines
    assert len(found.lines) == 2
    marks = check_fields(SETOUT, None, Path("a.pdf"), filled(running(0.0), "running"), found)
    assert marks[0].lines[1].endswith("bore by these marks") == (not fails)


TURN = sample("winder-turn.yaml")
"""Its upper flight's newels: the lower one on a tread, the upper one flush with riser 11."""


@pytest.mark.parametrize(
    ("newel", "text", "state"),
    [
        ("2__upper", "flush", "right"),
        ("2__upper", " Flush with the face of riser 11 ", "right"),
        ("2__upper", "FLUSH with riser 11", "right"),
        ("2__upper", "0", "right"),
        ("2__upper", "1 1/8", "right"),
        ("2__upper", "flush with riser 10", "not understood"),
        ("2__upper", "about flush", "not understood"),
        ("2__upper", "3/16", "to look at again"),
        ("2__lower", "flush", "not right"),
    ],
)
def test_flush_is_nothing_off_the_riser_that_the_newel_sheet_names(
    newel: str, text: str, state: str
) -> None:
    """A face due on the tread and flush with the riser above it has taken its baluster's place."""
    found = boxes_of(TURN, None, {f"newel__{newel}__face": text})
    assert found is not None
    assert found.lines[0].endswith(f"1 box filled in: {state}")
    assert (len(found.lines) == 1) == (state == "right")
    if state == "not right":
        assert "reads flush, where 7 9/16″ down the stair from the face of" in found.lines[1]
        assert "there it has no gap left to its baluster - tape it again" in found.lines[1]


def test_a_box_that_is_not_understood_is_not_counted_among_the_right_ones() -> None:
    found = boxes_of(SETOUT, None, BOXES | {"built__1__1__gap": "fine"})
    assert found is not None
    assert found.lines[0].endswith(": 7 boxes filled in: 6 right, 1 not understood")
    assert not found.fails
    all_kinds = {"test__along": "9", "built__1__height": "41", "built__1__1__gap": "fine"}
    mixed = boxes_of(SETOUT, None, BOXES | all_kinds)
    assert mixed is not None
    counts = "4 right, 1 not right, 1 to look at again, 1 not understood"
    assert mixed.lines[0].endswith(f": 7 boxes filled in: {counts}")


def test_nothing_is_bored_before_a_bar_that_is_filled_in_can_be_read(
    pack: bytes, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A sheet whose size nobody knows proves no strip; what is known to be wrong is told first."""
    path, good = tmp_path / "filled.pdf", filled(running(0.0), "running")
    path.write_bytes(by_pypdf(pack, good | {"test__along": "9.97 good", "built__1__height": "41"}))
    assert main(["check", str(path)]) == 1
    lines = capsys.readouterr().out.splitlines()
    assert "bore nothing yet: see below" in lines[1]
    at = next(number for number, line in enumerate(lines) if "2 boxes filled in" in line)
    bar = "test sheet: the bar along the sheet: '9.97 good' is no length"
    assert lines[at].endswith(": 1 to look at again, 1 not understood")
    assert lines[at + 1].startswith(bar)
    assert lines[at + 1].endswith(": bore nothing before the bar is read")
    assert "41″, is not from 34″ to 38″" in lines[at + 2]


def test_nothing_is_bored_by_right_marks_while_another_box_is_not_right(
    pack: bytes, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path, right = tmp_path / "filled.pdf", filled(running(0.0), "running")
    path.write_bytes(by_pypdf(pack, right | {"test__along": "9 13/32", "built__1__4__gap": "ok"}))
    assert main(["check", str(path)]) == 1
    said = capsys.readouterr().out
    assert "bore nothing yet: see below" in said
    assert "bore by these marks" not in said
    assert "printed at 94.1% of its size" in said
    assert "'ok' is no length" in said
    only = {"built__1__4__gap": "ok", "check__1__total": ""}
    (empty,) = check_fields(SETOUT, None, path, only, boxes_of(SETOUT, None, only))
    assert empty.lines[0].startswith("the check page is empty, and no mark is proved: tape")
    assert empty.redo


def test_bow_is_told_in_figures(capsys: pytest.CaptureFixture[str]) -> None:
    """1/16 in over tan(pitch): the gap beyond which to prop again (geometry)."""
    from math import tan

    main(["check", JOB, "--running", ", ".join(running(0.0))])
    gap = float(INCH) / 16 / tan(SETOUT.sections[0].rail.pitch)
    assert f"a gap of {Shown('inch', INCH / 64).text(gap)} between" in capsys.readouterr().out


def test_what_is_filled_in_beside_other_readings_is_said_to_be_left_aside(
    pack: bytes, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path, taped = tmp_path / "filled.pdf", tmp_path / "taped.csv"
    path.write_bytes(by_pypdf(pack, filled(running(), "running")))
    rows = [f"{mark.name},{value}" for mark, value in zip(MARKS[1:], running(0.0), strict=True)]
    taped.write_text("\n".join(["mark,running", *rows]) + "\n")
    aside = f"note: {path} has its check page filled in, too; that is left aside, "
    for words, used in (([str(taped)], str(taped)), (["--running", ", ".join(running(0.0))],
                                                     "--running")):  # fmt: skip
        assert main(["check", str(path), *words]) == 0
        assert capsys.readouterr().err == f"{aside}{used} counts\n"
    path.write_bytes(pack)
    assert main(["check", str(path), str(taped)]) == 0
    assert capsys.readouterr().err == ""
    path.write_bytes(by_pypdf(pack, {"check__1__total": "186 5/16"}))
    assert main(["check", str(path)]) == 2
    assert "nothing is filled in on the check page but a total" in capsys.readouterr().err


def test_a_pack_with_readings_in_it_is_not_written_over(
    pack: bytes, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """What was taped on site is not to be had again at the office."""
    path = tmp_path / "hall.pdf"
    again = ["pack", JOB, "-o", str(path), "--paper", "roll 36"]
    for fields, lost in (({"check__1__total": "186 5/16"}, "1 field"),
                         (filled(running(), "running"), f"{len(MARKS) - 1} fields")):  # fmt: skip
        taped = by_pypdf(pack, fields)
        path.write_bytes(taped)
        assert main(again) == 2
        mend = "name another file with -o, or delete it first"
        said = f"stairjig: {path} has been filled in, and {lost} would be lost - {mend}\n"
        assert capsys.readouterr().err == said
        assert path.read_bytes() == taped
    path.write_bytes(pack)
    assert main(again) == 0


def test_a_filled_form_is_said_to_have_no_check_page(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """It is a job, and nothing more."""
    path = tmp_path / "form.pdf"
    path.write_bytes(form_files.by_pypdf(form_files.blank(), form_files.PORCH))
    assert main(["check", str(path)]) == 2
    mend = "give a CSV, --running or --spacing"
    said = f"stairjig: {path} has no check page to fill in - {mend}\n"
    assert capsys.readouterr().err == said
    assert main(["check", str(path), "--running", "4"]) in (0, 1)
