"""Input that can't be used, through the real command line: one clear line each, exit 2, no file.

The lines are held whole: they are what a carpenter reads, with the place and the mend.
"""

from __future__ import annotations

import json
import os
import random
import re
import time
from fractions import Fraction
from pathlib import Path

import pytest
import yaml
from commands import DONE, FAILS, WRONG, Said, call, call_apart
from form_files import PORCH, values
from fuzz.hostile import JOBS
from fuzz.pdfs import form_with, pack_with
from hypothesis import given, settings
from hypothesis import strategies as st
from job_files import (
    LEVEL,
    METRIC,
    METRIC_TREADS,
    TREADS,
    changed,
    job_in,
    level_file,
    lines_for,
    tread_file,
    treads_file,
    written,
)

from stairjig import cli, intake
from stairjig.errors import BadInput, Place, Problem
from stairjig.job.document import LARGEST
from stairjig.job.identity import pack_id
from stairjig.job.reader import read_job
from stairjig.lengths import INCH, NotALength, read_length

SAMPLES = sorted((Path(__file__).parent.parent / "samples").glob("*.yaml"))
WHOLE = written()


def refused(folder, source, *arguments):
    """The one line, less the program's name, that a job file's pack is refused with."""
    (folder / "job.yaml").write_bytes(source)
    before = sorted(os.listdir(folder))
    lines = set()
    for command in (
        (arguments,)
        if arguments
        else (("pack", "job.yaml", "-o", "out.pdf"), ("layout", "job.yaml"))
    ):
        said = call(folder, *command)
        assert said.status == WRONG
        assert said.out == ""
        lines.add(said.lines)
    assert sorted(os.listdir(folder)) == before
    (line,) = lines.pop()
    assert not lines
    return line.removeprefix("stairjig: ")


def wide(kind, length):
    return written({"balusters": f"{{plain: {{shape: square, width: {kind}}}}}"},
                   changed(TREADS, {"treads": f"[{length}]", "per_tread": "1"}))  # fmt: skip


TOO_MANY = written(None, *(changed(LEVEL, {"name": f"L{n}", "count": "1999"}) for n in range(6)))
TOO_LONG = written(None, *(changed(LEVEL, {"name": f"L{n}", "length": "1000'"}) for n in range(4)))
CASES = {
    "no YAML": (
        b"title: [Mill, unit 4\nunits: inch\n",
        "job.yaml:1:8: this list is not closed with ], or a comma is missing in it - close it",
    ),
    "no block of keys": (
        b"Hall, 13 treads",
        'job.yaml:1:1: a job file is a block of keys, not "Hall, 13 treads" - begin with title: '
        "and units:",
    ),
    "nothing": (b"", "job.yaml holds no job - begin with title: and units:"),
    "another encoding": (
        "title: Müller".encode("latin-1"),
        "job.yaml:1:9: is not UTF-8 text: byte 9 is 0xFC - save it as UTF-8",
    ),
    "an alias": (
        written({"title": "*mill"}),
        'job.yaml:1:8: "*mill" refers to another place - write the value out',
    ),
    "a tag": (
        written({"title": "!!python/name:os.system a"}),
        'job.yaml:1:8: "!!python/name:os.system" is a tag - leave it out',
    ),
    "a merge key": (
        written({"<<": "{margin: 1}"}),
        'job.yaml:6:1: "<<" merges another block - write the keys out',
    ),
    "deep nesting": (
        written({"title": "[" * 25 + "]" * 25}),
        "job.yaml:1:27: lists and keys are nested over 20 deep - no job needs that",
    ),
    "a long file": (
        WHOLE + b"#" * LARGEST,
        "job.yaml is over 256 kB; no job file is that long - is it the right file?",
    ),
    "201 treads": (
        treads_file(treads="[{run: 10, times: 150}, {run: 10, times: 51}]"),
        "job.yaml:15:13: treads come to 201, over 200 - split the section",
    ),
    "11,994 balusters counted by hand": (
        TOO_MANY,
        "job.yaml:7:3: the job has over 10,000 balusters - split it",
    ),
    "over 10,000 balusters counted by rule": (
        TOO_LONG,
        "job.yaml:22:5: the job comes to over 10,000 balusters - divide it into several jobs",
    ),
    "NaN": (
        treads_file(nosing="nan"),
        'job.yaml:11:13: nosing "nan" is no length; write it like 10 1/4 or 3\' 6 1/2"',
    ),
    "infinity": (
        written(METRIC, changed(TREADS, {**METRIC_TREADS, "line": ".inf"})),
        'job.yaml:12:11: line ".inf" is no length; write it like 260 or 26.5',
    ),
    "a negative length": (
        treads_file(nosing="-1"),
        'job.yaml:11:13: nosing "-1" is negative - write it without the minus',
    ),
    "a length of nothing": (
        treads_file(line="0"),
        'job.yaml:12:11: line "0" is zero - it must be more than that',
    ),
    "300 digits": (
        treads_file(rise="9" * 300),
        f'job.yaml:10:11: rise "{"9" * 39}…" is too long for a length; write it like 10 1/4 or '
        "3' 6 1/2\"",
    ),
    "a million treads": (
        treads_file(treads="[{run: 10, times: 1000000}]"),
        'job.yaml:15:31: times "1000000" is not a whole number from 1 to 200',
    ),
    "millimetres in inches": (
        treads_file(treads="[260]"),
        'job.yaml:15:14: run "260" is over 20 feet; no tread is that long - if it is in '
        "millimetres, write mm behind it",
    ),
    "inches in millimetres": (
        written({**METRIC, "balusters": "{plain: {shape: square, width: 5/8}}"},
                changed(TREADS, METRIC_TREADS)),
        'job.yaml:4:43: width "5/8" is under 8 mm, too small to mark - if it is in inches, write '
        "in behind it",
    ),
    "a newel 1000 feet off": (
        treads_file(upper_newel="{width: 3, place: {face: 12000}}"),
        'job.yaml:14:43: face "12000" is over 20 feet from the riser - check the reading',
    ),
    "a skew of 90": (
        tread_file("{run: 10, skew: 90}"),
        'job.yaml:15:30: skew "90" is not between -80 and 80 degrees',
    ),
    "a baluster as wide as its tread": (
        wide("4", "4"),
        "job.yaml:7:5: Main flight: tread 1: 1 baluster is wider than its run - put fewer on it, "
        "or check the baluster widths and the run",
    ),
    "sides that can't close": (
        treads_file(treads="[{sides: {end: 9, back: 9, wall: 9, front: 9}, diagonal: 43}]"),
        "job.yaml:15:14: Main flight: tread 1: these sides and this diagonal can't close - tape "
        "it again",
    ),
    "a control character": (
        written({"title": '"Mill\\a"'}),
        "job.yaml:1:8: title holds a character that cannot be printed (U+0007) - take it out",
    ),
    "a turned direction": (
        written({"title": '"Mill \\u202e4"'}),
        "job.yaml:1:8: title holds a character that cannot be printed (U+202E) - take it out",
    ),
    "letters from right to left": (
        written(None, changed(TREADS, {"name": "אבג"})),
        'job.yaml:7:11: name holds "א" (U+05D0), of a script that runs from right to left - write '
        "it in other letters",
    ),
    "signs that the fonts lack": (
        written(None, changed(TREADS, {"name": "Flur 漢字"})),
        'job.yaml:7:11: name holds "字" (U+5B57), "漢" (U+6F22), which the fonts have no sign for '
        "- write it in other letters",
    ),
    "such signs in a baluster's name": (
        written({"balusters": '{"木": {shape: square, width: 1}}'}),
        'job.yaml:4:13: a baluster\'s name holds "木" (U+6728), which the fonts have no sign for - '
        "write it in other letters",
    ),
    "an accent of its own": (
        written({"title": '"x\u0301"'}),
        "job.yaml:1:8: title holds an accent that goes with no letter before it (U+0301) - write "
        "it in other letters",
    ),
    "a name over 40 characters": (
        written(None, changed(TREADS, {"name": "n" * 3000})),
        "job.yaml:7:11: name has 3000 characters - keep it to 40",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_what_can_t_be_used_is_refused_in_one_line_with_its_place_and_mend(tmp_path, name):
    source, line = CASES[name]
    assert refused(tmp_path, source) == line


def test_all_problems_of_a_file_are_told_in_one_go_each_on_its_line(tmp_path):
    source = written(
        {"margin": "0", "colour": "red"}, changed(TREADS, {"nosing": "-1", "line": "x"})
    )
    (tmp_path / "job.yaml").write_bytes(source)
    said = call(tmp_path, "pack", "job.yaml")
    assert said.status == WRONG
    assert [line.split(":")[2] for line in said.lines] == ["6", "7", "13", "14"]
    assert os.listdir(tmp_path) == ["job.yaml"]


def test_no_break_spaces_in_names_print_as_the_spaces_that_they_look_like(tmp_path):
    (tmp_path / "job.yaml").write_bytes(written({"title": '"Mill\u00a0\u00a04\u2007a"'}))
    said = call(tmp_path, "layout", "job.yaml", "--json")
    assert json.loads(said.out)["title"] == "Mill 4 a"


# Files that are none


def test_an_input_that_is_no_file_to_read_is_refused(tmp_path, monkeypatch):
    (tmp_path / "out").mkdir()
    (tmp_path / "loop.yaml").symlink_to("loop.yaml")
    lines = {
        "out": "out is a folder - name a job file",
        "hall.yaml": "there is no file hall.yaml - is it in another folder? stairjig new FILE "
        "writes a new one",
        "lop.yaml": "there is no file lop.yaml - is it loop.yaml?",
        "taped.csv": "there is no file taped.csv - is it in another folder?",
        "n" * 300: f"{'n' * 300} can't be read: file name too long",
        "a\0b": "a<U+0000>b can't be read: it is no name for a file",
        "a\nb\x1b[2J": "there is no file a<U+000A>b<U+001B>[2J - is it in another folder? stairjig "
        "new FILE writes a new one",
        "loop.yaml": "loop.yaml can't be read: too many levels of symbolic links",
    }
    for name, line in lines.items():
        for command in ("layout", "pack", "proof", "check"):
            assert call(tmp_path, command, name).lines == (f"stairjig: {line}",)
    real = Path.open

    def closed(path, *arguments, **named):
        if path.name == "job.yaml":
            raise PermissionError(13, "Permission denied", str(path))
        return real(path, *arguments, **named)

    (tmp_path / "job.yaml").write_bytes(WHOLE)
    monkeypatch.setattr(Path, "open", closed)  # root may read anything
    line = call(tmp_path, "layout", "job.yaml").lines
    assert line == ("stairjig: job.yaml can't be read: permission denied",)


def test_a_file_without_end_is_read_no_further_than_a_pack_may_be_long(tmp_path, monkeypatch):
    monkeypatch.setattr(intake, "_LARGEST", 1_000_000)
    said = call(tmp_path, "layout", "/dev/zero")
    assert said.status == WRONG
    assert said.lines == ("stairjig: /dev/zero is over 1 MB - is it a job file?",)


def test_a_pipe_is_a_file_like_any_other(tmp_path):
    (tmp_path / "job.yaml").write_bytes(WHOLE)
    said = call_apart(tmp_path, "layout", "/dev/stdin", "--csv", shell="< job.yaml")
    assert said.status == DONE
    assert said.out.startswith("section,mark,")


NO_FORM = (
    "carries no job: it is neither a pack nor a filled measuring form - a form that was printed to "
    "a PDF, flattened or scanned has lost its fields: fill in the blank one with a viewer and save "
    "it"
)
NO_PDF = "is no PDF that stairjig can read - save or download it again"


@pytest.mark.parametrize("command", ["layout", "pack", "proof", "check"])
def test_a_pdf_that_is_no_form_and_no_pack_is_refused(tmp_path, command):
    blank, target = pack_with({}), ("-o", "out.pdf") if command == "pack" else ()
    no_job = "carries no job: it is no pack" if command == "proof" else NO_FORM
    for data, line in ((blank, no_job), (blank[:200], NO_PDF)):
        (tmp_path / "x.pdf").write_bytes(data)
        said = call(tmp_path, command, "x.pdf", *target)
        assert (said.status, said.out, said.lines) == (WRONG, "", (f"stairjig: x.pdf {line}",))
    assert os.listdir(tmp_path) == ["x.pdf"]


TEXTS = {
    "hall.yaml": (
        WHOLE,
        "is a job file, and proof takes a pack - stairjig pack hall.yaml makes one",
    ),
    "my hall.yaml": (
        WHOLE,
        "is a job file, and proof takes a pack - stairjig pack 'my hall.yaml' makes one",
    ),
    "taped.csv": (
        b"mark,running\n1-2,4 1/4\n",
        "is no PDF, and proof takes a pack - name the PDF that stairjig pack made",
    ),
    "photo.pdf": (b"\xff\xd8\xff\xe0", NO_PDF),
    "empty.pdf": (b"", NO_PDF),
}


@pytest.mark.parametrize("name", TEXTS)
def test_proof_says_that_it_takes_a_pack(tmp_path, name):
    data, line = TEXTS[name]
    (tmp_path / name).write_bytes(data)
    said = call(tmp_path, "proof", name)
    assert (said.status, said.lines) == (WRONG, (f"stairjig: {name} {line}",))


# Targets


TARGETS = {
    "out/": "out/ is the name of a folder - name a file in it",
    "no/such/": "no/such/ is the name of a folder - name a file in it",
    "out": "out is a folder - name a file",
    ".": ". is a folder - name a file",
    "": "the name of the file to write is empty - name a file",
    "no/hall.pdf": "no/hall.pdf: there is no folder no - make it, or name another",
    "job.yaml": "job.yaml is the input itself - name another file with -o",
    "./out/../job.yaml": "out/../job.yaml is the input itself - name another file with -o",
    "link.yaml": "link.yaml is the input itself - name another file with -o",
    "twin.yaml": "twin.yaml is the input itself - name another file with -o",
    "/dev/null": "/dev/null is no file but a device or a pipe - name a file",
}


@pytest.mark.parametrize("name", TARGETS)
def test_a_target_that_can_t_be_one_is_refused_and_nothing_changed(tmp_path, name):
    (tmp_path / "out").mkdir()
    (tmp_path / "link.yaml").symlink_to("job.yaml")
    source = written(None, changed(LEVEL, {"length": "40"}))
    (tmp_path / "job.yaml").write_bytes(source)
    os.link(tmp_path / "job.yaml", tmp_path / "twin.yaml")
    assert refused(tmp_path, source, "pack", "job.yaml", "-o", name) == TARGETS[name]
    assert (tmp_path / "job.yaml").read_bytes() == source


def test_a_pack_is_never_written_over_itself_by_default(tmp_path):
    source = written(None, changed(LEVEL, {"length": "40"}))
    (tmp_path / "job.yaml").write_bytes(source)
    assert call(tmp_path, "pack", "job.yaml").status == DONE
    before = (tmp_path / "job.pdf").read_bytes()
    assert call(tmp_path, "pack", "job.pdf").status == DONE
    assert (tmp_path / "job.pdf").read_bytes() == before
    assert (tmp_path / "job-pack.pdf").is_file()


def test_pack_and_saved_job_are_two_files(tmp_path):
    source = written(None, changed(LEVEL, {"length": "40"}))
    line = refused(tmp_path, source, "pack", "job.yaml", "-o", "x.pdf", "--save-job", "./x.pdf")
    assert line == "x.pdf is to be both pack and job file - name two files"


def test_a_name_of_100_000_signs_is_told_by_its_beginning_and_what_to_do(tmp_path):
    (tmp_path / "job.yaml").write_bytes(WHOLE)
    (tmp_path / "taped.csv").write_text("mark,spacing\n" + "x" * 100_000 + ",4\n", encoding="utf-8")
    said = call(tmp_path, "check", "job.yaml", "taped.csv")
    assert said.status == WRONG
    (line,) = said.lines
    assert line.startswith("stairjig: taped.csv:2:1: there is no mark 'xxx")
    assert line.endswith("' - leave the name of a mark that is not on the drawing empty")
    assert len(line) < 1_000


def test_a_name_in_a_form_is_refused_by_the_label_that_is_printed_there(tmp_path):
    answers = values(PORCH | {"title": "木", "name": "=1"})
    (tmp_path / "form.pdf").write_bytes(form_with(answers))
    said = call(tmp_path, "layout", "form.pdf")
    assert said.lines == (
        'stairjig: form.pdf: page 1, A1 Job title: title holds "木" (U+6728), which the fonts have '
        "no sign for - write it in other letters",
        "stairjig: form.pdf: page 1, A2 Section name: name begins like a formula of a spreadsheet "
        '- take the "=" away',
    )


@pytest.mark.parametrize("arguments", [("new",), ("form", "-o")])
def test_new_files_and_forms_are_written_over_nothing(tmp_path, arguments):
    (tmp_path / "old").write_text("mine")
    (tmp_path / "link").symlink_to("nowhere")
    for name in ("old", "link"):
        said = call(tmp_path, *arguments, name)
        assert said.lines == (f"stairjig: {name} is there already - name a file that is not",)
    assert (tmp_path / "old").read_text() == "mine"
    assert sorted(os.listdir(tmp_path)) == ["link", "old"]


def test_a_wrong_call_is_told_in_one_line(tmp_path):
    lines = {
        (): "a command is missing - stairjig",
        ("--verson",): 'stairjig has no option --verson - did you mean "--version"?; stairjig',
        ("pack", "--papr", "a4"): 'pack has no option --papr - did you mean "--paper"?; stairjig '
        "pack",
        ("layout",): "layout needs JOB - stairjig layout",
        ("pck", "a"): 'there is no command pck - did you mean "pack"?; stairjig',
        ("pack", "a", "--papr", "a4"): 'pack has no option --papr - did you mean "--paper"?; '
        "stairjig pack",
        ("pack", "a", "--paper=a4", "-q=1"): "pack has no option -q - known: --help, --paper, "
        "--save-job, --output, --printer, --only, --sheet; stairjig pack",
        ("pack", "a", "--paper"): "pack --paper needs a value - stairjig pack",
        ("pack", "a", "--paper", "roll", "24"): 'pack: "24" is one word too many - words with '
        "spaces stand in quotes, like 'roll 24'; stairjig pack",
        ("proof", "a", "b\x1b"): 'proof: "b<U+001B>" is one word too many - words with spaces '
        "stand in quotes, like 'roll 24'; stairjig proof",
        ("layout", "a.yaml", "b.yaml"): 'layout: "b.yaml" is one word too many - it takes one file '
        "at a time; stairjig layout",
        ("pack", "a", "--sheet", "two"): "pack --sheet: 'two' is no number - stairjig pack",
        ("check", "a", "--running", "1", "--spacing", "2"): "check takes --running or --spacing, "
        "not both - stairjig check",
        ("check", "a", "--section", "b", "c", "d"): 'check: "d" is one word too many - words with '
        "spaces stand in quotes, like 'roll 24'; stairjig check",
    }
    for arguments, line in lines.items():
        said = call(tmp_path, *arguments)
        line = f"stairjig: {line} --help says how to call it"
        assert (said.status, said.out, said.lines) == (WRONG, "", (line,))


def test_running_readings_that_fall_are_no_running_readings(tmp_path):
    (tmp_path / "job.yaml").write_bytes(WHOLE)
    said = call(tmp_path, "check", "job.yaml", "--running", "4.2, 4.2, 4.1, 4.3")
    assert said.status == WRONG
    assert said.lines == (
        "stairjig: running readings must grow from mark to mark: 1-2 reads 4 3/16″, 1-3 after it "
        "4 3/16″ - were they taped from mark to mark? Give them with --spacing, in a CSV under "
        "spacing, on the check page in the column “from the mark before”",
    )


# Streams


def test_output_that_can_t_be_written_is_a_failure_in_one_line(tmp_path):
    (tmp_path / "job.yaml").write_bytes(WHOLE)
    said = call_apart(tmp_path, "layout", "job.yaml", "--json", shell="> /dev/full")
    assert said.status == WRONG
    assert said.lines == ("stairjig: the output can't be used: no space left on device",)


def test_complaints_that_can_t_be_written_keep_their_exit_status(tmp_path):
    assert call_apart(tmp_path, "layout", "no.yaml", shell="2> /dev/full").status == WRONG


def test_a_reader_that_has_seen_enough_is_no_failure(tmp_path):
    (tmp_path / "job.yaml").write_bytes(treads_file(treads="[{run: 10 1/4, times: 100}]"))
    said = call_apart(tmp_path, "layout", "job.yaml", "--json", shell="| head -c 10")
    assert (said.status, said.out, said.lines) == (DONE, '{\n  "pack_', ())


def test_a_closed_stream_gets_nothing_and_the_other_no_more_than_its_own(tmp_path):
    source = written(None, changed(LEVEL, {"name": "Zoë", "length": "40", "upper_newel": "none"}))
    (tmp_path / "job.yaml").write_bytes(source)
    assert call_apart(tmp_path, "layout", "job.yaml", shell=">&-") == Said(DONE, "", ())
    said = call_apart(tmp_path, "pack", "job.yaml", "-o", "b.pdf", shell="2>&-")
    assert said.status == DONE
    assert "note" not in said.out
    assert (tmp_path / "b.pdf").stat().st_size > 10_000
    plain = call_apart(tmp_path, "layout", "job.yaml", LC_ALL="C", PYTHONIOENCODING="ascii")
    assert plain.status == DONE
    assert "Zo?" in plain.out


# Faults of the program's own


def break_down(monkeypatch, error):
    def broken(*_):
        raise error

    monkeypatch.setattr(intake, "read_job", broken)
    monkeypatch.delenv("STAIRJIG_TRACEBACK", raising=False)


def test_a_fault_of_the_programs_own_is_one_line_that_names_its_place(tmp_path, monkeypatch):
    break_down(monkeypatch, KeyError("x"))
    (tmp_path / "job.yaml").write_bytes(WHOLE)
    said = call(tmp_path, "layout", "job.yaml")
    assert said.status == WRONG
    (line,) = said.lines
    place = r"\(KeyError at test_bad_input\.py:\d+\)"
    assert re.fullmatch(
        rf"stairjig: a fault of stairjig's own {place}; the layout can't be trusted - please "
        "report it with the job file",
        line,
    )


def test_a_fault_of_the_programs_own_is_raised_where_a_developer_asks_for_it(tmp_path, monkeypatch):
    break_down(monkeypatch, KeyError("x"))
    monkeypatch.setenv("STAIRJIG_TRACEBACK", "1")
    (tmp_path / "job.yaml").write_bytes(WHOLE)
    with pytest.raises(KeyError):
        call(tmp_path, "layout", "job.yaml")


@pytest.mark.parametrize(
    ("error", "line"),
    [
        (MemoryError(), "there is not memory enough to work this out; divide the job"),
        (KeyboardInterrupt(), "stopped"),
        (OSError(5, "Input/output error", "fonts"), "fonts can't be used: input/output error"),
    ],
)
def test_what_comes_from_outside_ends_in_one_line(tmp_path, monkeypatch, error, line):
    break_down(monkeypatch, error)
    (tmp_path / "job.yaml").write_bytes(WHOLE)
    said = call(tmp_path, "layout", "job.yaml")
    assert (said.status, said.lines) == (WRONG, (f"stairjig: {line}",))


def test_every_exit_is_one_of_three():
    assert (cli.DONE, cli.FAILS, cli.WRONG) == (DONE, FAILS, WRONG) == (0, 1, 2)


# Bounds


LONGEST = ("lists in a list", "keys that are none", "nine thousand sections of nothing")


@pytest.mark.parametrize("name", [name for name in JOBS if name not in LONGEST])
def test_input_that_weighs_heavy_is_refused_within_two_seconds(tmp_path, name):
    """Those that take longest are for `python tests/fuzz/harm.py`."""
    begun = time.process_time()
    (tmp_path / "job.yaml").write_bytes(JOBS[name]())
    said = call(tmp_path, "layout", "job.yaml")
    assert said.status == WRONG
    assert said.lines
    assert time.process_time() - begun < 2


# Numbers


def forms(sixteenths):
    """A length in sixteenths of an inch, as many ways of writing it as there are."""
    inches = Fraction(sixteenths, 16)
    whole, part = divmod(inches, 1)
    feet, rest = divmod(inches, 12)
    mixed = f"{whole} {part}" if part and whole else str(part or whole)
    tail = f"{rest // 1} {rest % 1}" if rest % 1 and rest >= 1 else str(rest)
    mm = inches * INCH
    decimal = str(int(mm * 10**6)).zfill(7)
    ways = [
        mixed, mixed.replace(" ", "-"), f'{mixed}"', f"{mixed}″", f"{mixed} in", f"{mixed} inches",
        f"{float(inches)}", f"{float(inches):.8f}", f"0{float(inches)}",
        f"{feet}' {tail}\"", f"{feet} ft {tail} in", f"{feet}′ {tail}″", f"+{mixed}",
        f"{decimal[:-6]}.{decimal[-6:]} mm", f"{decimal[:-6]},{decimal[-6:]} mm", f"  {mixed}  ",
    ]  # fmt: skip
    raised = str.maketrans("0123456789/", "⁰¹²³⁴⁵⁶⁷⁸⁹⁄")
    if part:
        lowered = "".join("₀₁₂₃₄₅₆₇₈₉"[int(digit)] for digit in str(part.denominator))
        built = f"{str(part.numerator).translate(raised)}⁄{lowered}"
        ways.append(f"{whole}{built}" if whole else built)
    return ways


@given(st.integers(1, 16 * 40))
def test_a_length_is_the_same_fraction_however_it_is_written(sixteenths):
    exact = Fraction(sixteenths, 16) * INCH
    assert {read_length(way, "inch") for way in forms(sixteenths)} == {exact}


@settings(max_examples=6, deadline=None)
@given(st.integers(16 * 8, 16 * 11), st.randoms(use_true_random=False))
def test_a_run_read_in_two_forms_gives_the_same_marks_to_the_last_bit(sixteenths, chance):
    """Everything that is laid out, pack ID included: the JSON is the same text."""
    one, other = (
        treads_file(treads=f"[{{run: '{way}', times: 3}}, 9 15/16]")
        for way in (text.replace("'", "''") for text in chance.sample(forms(sixteenths), 2))
    )
    assert _json_of(one) == _json_of(other)


def _json_of(source):
    from stairjig.report import as_json
    from stairjig.setout.build import set_out

    return as_json(set_out(job_in(source)), None)


def test_units_may_be_mixed_in_one_file_and_come_to_the_same():
    """A job in inches and the same in millimetres: every mark the same to the last bit."""
    inch = treads_file(treads="[{run: 10 1/4, times: 6}]")
    mixed = treads_file(treads='[10.25, {run: 260.35 mm, times: 4}, {run: "26.035 cm"}]')
    assert _json_of(inch) == _json_of(mixed)
    units = {"units": "mm", "show": "0.5", "openings": "{stair: 111.125}",
             "balusters": "{plain: {shape: square, width: 5/8 in}}", "paper": "letter",
             "rail": "{height: 36 in, depth: 63.5, width: 60.325}", "allowance": "1/16 in",
             }  # fmt: skip
    metric = written(
        units,
        changed(TREADS, {"rise": "190.5", "nosing": "28.575", "line": "44.45",
                         "lower_newel": "{width: 88.9}", "upper_newel": "{width: 3 1/2 in}",
                         "treads": "[{run: 260.35, times: 6}]"}),
    )  # fmt: skip
    here, there = (json.loads(_json_of(source))["sections"] for source in (inch, metric))
    assert [s["marks"] for s in here] == [s["marks"] for s in there]
    assert here[0]["rail_ends"] == there[0]["rail_ends"]


NUMBER = re.compile(r"(?<![\w.#/-])(?:\d+ \d+/\d+|\d+/\d+|\d+(?:\.\d+)?)(?![\w./-])")
NO_LENGTH = ("per_tread", "times", "first_tread", "count", "pitch", "skew", "show", "roll")


def lengths_of(path):
    """Where the measured lengths of a sample stand, as pieces of its text."""
    text, at = path.read_text(encoding="utf-8"), 0
    for line in text.splitlines(keepends=True):
        code = line.partition("#")[0]
        for found in NUMBER.finditer(code):
            before = code[: found.start()]
            key = re.findall(r"(\w+): ?[\[{]?$", before)
            if not (key and key[0].endswith(NO_LENGTH)) and "title" not in code:
                yield at + found.start(), at + found.end()
        at += len(line)


@pytest.mark.parametrize("stem", ["skewed-porch", "harbour-a4"])
def test_any_measure_off_by_a_sixteenth_makes_another_pack(stem):
    """Of two samples; a job with every key that takes a length is walked elsewhere."""
    (path,) = (path for path in SAMPLES if path.stem == stem)
    text = path.read_text(encoding="utf-8")
    units = "mm" if "units: mm" in text else "inch"
    ids, tried = {pack_id(read_job(text.encode(), path.name))}, 0
    for start, end in lengths_of(path):
        mm = read_length(text[start:end], units) + INCH / 16
        longer = f"{text[:start]}{float(mm):.4f} mm{text[end:]}"
        try:
            ids.add(pack_id(read_job(longer.encode(), path.name)))
        except BadInput:
            continue
        tried += 1
    assert tried > 10
    assert len(ids) == tried + 1


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_comments_blanks_and_the_order_of_keys_make_no_other_pack(path):
    chance, text = random.Random(path.stem), path.read_text(encoding="utf-8")
    same = pack_id(read_job(text.encode(), path.name))
    bare = re.sub(r"\s+#.*", "", text)
    assert pack_id(read_job(bare.encode(), path.name)) == same
    commented = re.sub("\n", "   # 3 1/16\n\n", bare)
    assert pack_id(read_job(commented.encode(), path.name)) == same
    for flow in (None, True, False):
        tree = shuffled(yaml.load(text, yaml.BaseLoader), chance)
        written_anew = yaml.dump(tree, sort_keys=False, default_flow_style=flow, allow_unicode=True)
        assert pack_id(read_job(written_anew.encode(), path.name)) == same


def shuffled(tree, chance):
    """The same values, the keys of every block in another order."""
    if isinstance(tree, dict):
        keys = chance.sample(list(tree), len(tree))
        return {key: shuffled(tree[key], chance) for key in keys}
    return [shuffled(item, chance) for item in tree] if isinstance(tree, list) else tree


LENGTHS = (
    "0", "-0", "1e3", "1e-3", "1E400", "nan", "NaN", "-inf", ".inf", "0x1F", "1_000", "١٠", "1٫5",
    "10''", "1,000", "½½", "1/2/3", "10 1/0", "∞", "1.2.3", "10..5", "1/16.", "9" * 39, "-1/16",
    "1 000",
)  # fmt: skip


@pytest.mark.parametrize("text", LENGTHS)
def test_nothing_that_is_no_plain_positive_length_is_taken_for_one(text):
    try:
        mm = read_length(text, "inch")
    except NotALength:
        return
    assert text in ("0", "-0", "10''", "-1/16")
    assert isinstance(mm, Fraction)
    told = lines_for(level_file(length=f'"{text}"'))
    assert not told if text == "10''" else told


def test_what_is_said_of_a_whole_file_goes_on_from_its_name():
    file, spot = Place("c1.png"), Place("hall.yaml", 3, 1)
    box = Place("form.pdf", label="page 1, A1 Job title")
    assert str(Problem("is over 256 kB", "is it right?", file)) == (
        "c1.png is over 256 kB - is it right?"
    )
    assert str(Problem("is empty", "", box)) == "form.pdf: page 1, A1 Job title: is empty"
    assert str(Problem("is no length", "", spot)) == "hall.yaml:3:1: is no length"
    assert str(Problem("every sheet is another's", "", file)) == "c1.png: every sheet is another's"
    assert str(Problem("is said of nothing")) == "is said of nothing"
