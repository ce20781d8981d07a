"""Files made to do harm, through the real command line: refused, soon, in a bounded memory.

Nothing is run, nothing beside the one target is written, and text that comes onto the page can't
break the page.
"""

from __future__ import annotations

import contextlib
import json
import os
import signal
import threading
import time
import unicodedata

import pytest
from commands import DONE, WRONG, call
from fuzz.harm import harm_of
from fuzz.hostile import PDFS, PLAIN, SCRIPT
from fuzz.pdfs import pack_with
from job_files import LEVEL, TREADS, changed, written

from stairjig.drawing import Page, Text
from stairjig.errors import BadInput, Place
from stairjig.intake import missing_signs
from stairjig.job.document import Word
from stairjig.job.faults import Faults
from stairjig.job.scalars import Reading
from stairjig.job.scalars import name as read_name
from stairjig.pdf import write_pdf
from stairjig.proof import reading
from stairjig.proof.patience import Patience, TooLong, slowness
from stairjig.proof.reading import read_pdf
from stairjig.type import REGULAR, _registered

GOOD = written(None, changed(LEVEL, {"length": "40"}))


@pytest.mark.parametrize("name", PDFS)
def test_a_pdf_made_to_do_harm_is_refused_within_two_seconds(tmp_path, name):
    """Seconds of the processor; those that take longest are for `python tests/fuzz/harm.py`."""
    (tmp_path / "x.pdf").write_bytes(PDFS[name]())
    begun = time.process_time()
    said = call(tmp_path, "layout", "x.pdf")
    assert time.process_time() - begun < 2
    assert said.status == WRONG, said
    assert said.out == ""
    assert all(line.startswith("stairjig: x.pdf") for line in said.lines)
    assert 0 < len(said.lines) < 12
    assert os.listdir(tmp_path) == ["x.pdf"]


HEAVY = ("a job that blows up twice", "99,000 fields", "words over lines")


@pytest.mark.parametrize("name", HEAVY)
def test_a_file_made_to_do_harm_takes_little_time_and_memory_of_a_process(tmp_path, name):
    """Start and all; the three seconds are for a busy machine, on one at rest it is under two."""
    harm = harm_of(name, tmp_path)
    assert harm.status == WRONG
    assert len(harm.lines) < 8
    assert harm.seconds < 3 * slowness()
    assert harm.memory < 200  # MB; a pack of a hundred flights takes 380


def test_reading_that_takes_too_long_for_a_files_size_is_given_up(monkeypatch):
    monkeypatch.setattr(reading, "Patience", lambda _: Patience(0.05))

    def forever(_):
        while True:
            with contextlib.suppress(Exception):  # a library that mends whatever it meets
                time.sleep(0)

    monkeypatch.setattr(reading, "look_over", forever)
    with pytest.raises(BadInput, match=r"^a\.pdf takes longer to read than any pack does - "):
        read_pdf(PLAIN, "a.pdf")
    assert signal.getitimer(signal.ITIMER_PROF) == (0, 0)
    assert signal.getsignal(signal.SIGPROF) == signal.SIG_DFL


def test_time_is_bounded_over_all_pages_and_not_at_all_beside_the_main_thread():
    patience = Patience(0.05)
    with pytest.raises(TooLong), patience.spending():
        _busy(9)
    with pytest.raises(TooLong), patience.spending():
        _busy(9)
    ended = []

    def beside():
        with Patience(0.01).spending():
            _busy(0.05)
        ended.append(True)

    thread = threading.Thread(target=beside)
    thread.start()
    thread.join()
    assert ended


def _busy(seconds):
    until = time.process_time() + seconds
    while time.process_time() < until:
        pass


# Nothing runs, nothing is written


TAGS = (
    "!!python/object/apply:os.system ['touch pwned']",
    "!!python/object/new:subprocess.Popen [['touch', 'pwned']]",
    "!!python/object/apply:eval [\"open('pwned', 'w')\"]",
    "!!python/module:pathlib",
    "!include /etc/passwd",
    "!<tag:yaml.org,2002:python/object/apply:os.mkdir> [pwned]",
)


@pytest.mark.parametrize("tag", TAGS)
def test_tags_run_nothing_in_a_file_or_in_a_pack(tmp_path, tag):
    source = written({"title": tag})
    (tmp_path / "job.yaml").write_bytes(source)
    (tmp_path / "pack.pdf").write_bytes(pack_with({"job.yaml": source}))
    for command in (
        ("layout", "job.yaml"),
        ("pack", "pack.pdf", "-o", "x.pdf"),
        ("proof", "pack.pdf"),
    ):
        said = call(tmp_path, *command)
        assert said.status == WRONG
        assert any("is a tag - leave it out" in line for line in said.lines)
    assert sorted(os.listdir(tmp_path)) == ["job.yaml", "pack.pdf"]


MADE = [
    {"paper": "../../etc/passwd"}, {"paper": 7}, {"paper": "roll " + "9" * 300},
    {"sheet": 10**30}, {"sheet": -1}, {"sheet": True}, {"only": "../x"}, {"only": [["a"]]},
    {"only": ["Balcony:1-9999"]}, {"only": {"a": 1}}, {"printer": "office"},
    {"printer": {"name": "../../x", "across": 1, "along": 1}}, {"printer": {"name": "x"}},
    {"printer": {"name": "x", "across": 1e308, "along": 1}}, [], None, "x", 1e999,
]  # fmt: skip


@pytest.mark.parametrize("made", MADE, ids=range(len(MADE)))
def test_what_a_pack_says_of_itself_is_believed_only_where_it_makes_sense(tmp_path, made):
    files = {"job.yaml": GOOD, "pack.json": json.dumps(made).encode(), "../../evil.txt": b"x"}
    (tmp_path / "in").mkdir()
    (tmp_path / "in" / "x.pdf").write_bytes(pack_with(files))
    said = call(tmp_path / "in", "pack", "x.pdf", "-o", "y.pdf")
    assert said.status == WRONG
    (line,) = said.lines
    assert line.startswith("stairjig: ")
    assert sorted(path.name for path in tmp_path.rglob("*")) == ["in", "x.pdf"]


def test_a_pack_opens_without_any_of_its_other_files_or_scripts(tmp_path):
    files = {"job.yaml": GOOD, "../evil": b"x", "job.yaml.exe": b"MZ", "/etc/x": b"x"}
    (tmp_path / "x.pdf").write_bytes(pack_with(files, SCRIPT))
    assert call(tmp_path, "pack", "x.pdf", "-o", "y.pdf").status == DONE
    assert sorted(os.listdir(tmp_path)) == ["x.pdf", "y.pdf"]
    made = (tmp_path / "y.pdf").read_bytes()
    assert set(read_pdf(made).attachments) == {"job.yaml", "pack.json"}
    for word in (b"/JavaScript", b"/Launch", b"/OpenAction", b"/URI", b"/SubmitForm"):
        assert word not in made


# Text on the page


def accepted(text):
    """The name as the job reader takes it; None where it does not."""
    faults = Faults()
    return read_name(
        Word(text, Place("x", 1, 1)), "name", Reading("inch", faults, missing_signs), 40
    )


def test_every_sign_that_a_name_may_hold_is_drawn_and_reads_back_as_itself():
    """Some 4,900 signs, forty to a name, in both weights."""
    signs = [chr(code) for code in sorted(_registered()[REGULAR].face.charToGlyph)]
    signs = [sign for sign in signs if sign.strip() and accepted(f"a{sign}") == f"a{sign}"]
    assert len(signs) > 4_500
    names = ["".join(signs[start : start + 40]) for start in range(0, len(signs), 40)]
    texts = [
        Text(f"{n}: {text}", (20, 20 + n % 200), 2.0, bold=bold)
        for bold in (False, True)
        for n, text in enumerate(names)
    ]
    page = Page(300, 300, "1", "names", tuple(texts))
    read = read_pdf(write_pdf([page], names[0], {})).pages[0]
    assert [item.text for item in read.items] == [text.text for text in texts]


def test_no_sign_without_a_picture_is_taken_for_a_name():
    """Of all that two bytes hold: what is taken has a glyph in both fonts, and stands alone."""
    faces = [font.face.charToGlyph for font in _registered().values()]
    for code in range(0x80, 0x10000):
        taken = accepted(f"a{chr(code)}")
        if taken in (None, "a"):
            continue
        assert all(ord(sign) in face for sign in taken for face in faces), hex(code)
        assert not any(unicodedata.combining(sign) for sign in taken), hex(code)


NO_SIGNS = ("\u2800", "\ufffc", "\ufffd", "\u200b", "\u00ad", "\u3164", "\u034f", "𝔸", "🂡")


@pytest.mark.parametrize("sign", NO_SIGNS)
def test_signs_that_print_nothing_or_can_t_be_read_back_make_no_name(sign):
    assert accepted(f"a{sign}") is None


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@SUM(A1)", "\u00a0=1"])
def test_names_never_work_something_out_in_a_spreadsheet(tmp_path, text):
    """The tables go there: section and type stand in their first columns."""
    (tmp_path / "job.yaml").write_bytes(written(None, changed(TREADS, {"name": json.dumps(text)})))
    said = call(tmp_path, "layout", "job.yaml", "--csv")
    assert said.status == WRONG
    assert "begins like a formula of a spreadsheet - take the " in said.lines[0]


WORDS = {
    "wide": ("W" * 80, ["W" * 39], ["W" * 40, "M" * 40]),
    "like its own": (
        "1-1",
        ["Steps", "Steps · rail", "Steps · tread 1", "10 1/4″"],
        ["1-2", "⌀ 1"],
    ),
    "like PDF": ("(((", ["\\(", ")", "%s<<", "EMC endstream"], ["Tj"]),
    "of all kinds": ("ℂ①☃♞ﬁ", ["Ǆ ŉ Ω Å ☺▲△", "Ελληνικά", "Кириллица"], ["ß"]),
}


def quoted(text):
    return json.dumps(text, ensure_ascii=False)


@pytest.mark.parametrize("kind", WORDS)
def test_words_that_look_like_the_packs_own_change_nothing_in_it(tmp_path, kind):
    """The pack is proved: every mark's name stands in its place, every tile says what it is."""
    title, names, types = WORDS[kind]
    kinds = ", ".join(f"{quoted(n)}: {{shape: square, width: 5/8}}" for n in types)
    own = {"title": quoted(title), "balusters": f"{{{kinds}}}", "pattern": quoted(types)}
    flights = (changed(TREADS, {"name": quoted(n), "treads": "[10 1/4, 10]"}) for n in names)
    (tmp_path / "job.yaml").write_bytes(written(own, *flights))
    said = call(tmp_path, "pack", "job.yaml", "-o", "x.pdf")
    assert said.status == DONE, said
    assert call(tmp_path, "proof", "x.pdf").status == DONE
