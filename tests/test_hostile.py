"""Files made to do harm, through the real command line: refused, soon, in a bounded memory.

Nothing is run, nothing beside the one target is written, and text that comes onto the page can't
break the page.
"""

from __future__ import annotations

import contextlib
import json
import os
import signal
import subprocess
import sys
import threading
import time
import unicodedata
import zlib

import pytest
from commands import DONE, WRONG, call
from fuzz.pdfs import form_with, pack_with, pdf_of, stream_of
from job_files import LEVEL, TREADS, changed, written

from stairjig.drawing import Page, Text
from stairjig.errors import BadInput, Place
from stairjig.intake import missing_signs
from stairjig.job.document import Word
from stairjig.job.faults import Faults
from stairjig.job.form_fields import VERSION
from stairjig.job.scalars import Reading
from stairjig.job.scalars import name as read_name
from stairjig.pdf import write_pdf
from stairjig.proof import reading
from stairjig.proof.patience import Patience, TooLong
from stairjig.proof.reading import read_pdf
from stairjig.type import REGULAR, _registered

GOOD = written(None, changed(LEVEL, {"length": "40"}))
CATALOG = b"<< /Type /Catalog /Pages 2 0 R %b >>"
PAGES = b"<< /Type /Pages /Kids [3 0 R] /Count 1 >>"
PAGE = b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 612 792] >>"
CARRIES = b"/Names << /EmbeddedFiles << /Names [(job.yaml) << /F (x) /EF << /F 4 0 R >> >>] >> >>"


def pdf(*objects, catalog=b"", trailer=b"", pages=PAGES, page=PAGE):
    return pdf_of([CATALOG % catalog, pages, page, *objects], trailer)


def carrying(stream):
    return pdf(stream, catalog=CARRIES)


def zeros(megabytes):
    packer = zlib.compressobj(9)
    return b"".join(packer.compress(bytes(1_000_000)) for _ in range(megabytes)) + packer.flush()


def table_at(file):
    return b"%d" % file.rindex(b"xref\n0")


def packed_objects(inside):
    """A file whose catalog stands in a packed stream of objects, as newer libraries write them."""
    z = zlib.compress(inside, 9)
    body = b"%PDF-1.7\n"
    first = len(body)
    body += b"1 0 obj\n" + stream_of(z, b"/Type /ObjStm /N 1 /First 4 /Filter /FlateDecode")
    body += b"\nendobj\n"
    second = len(body)
    rows = ((0, 0, 255), (1, first, 0), (2, 1, 0), (1, second, 0))
    table = b"".join(bytes((a,)) + b.to_bytes(4, "big") + bytes((c,)) for a, b, c in rows)
    entries = b"/Type /XRef /Size 4 /W [1 4 1] /Root 2 0 R"
    body += b"3 0 obj\n" + stream_of(table, entries) + b"\nendobj\n"
    return body + b"startxref\n%d\n%%%%EOF\n" % second


DEEP = [CATALOG % b""] + [b"<< /Type /Pages /Kids [%d 0 R] /Count 1 >>" % n for n in range(3, 3000)]
PLAIN = pdf()
BOMB = zeros(200)
SCRIPT = b"/OpenAction << /S /JavaScript /JS (app.launchURL('x')) >> /AA << /WC << /S /Launch >> >>"
ENDLESS = PLAIN[: PLAIN.rindex(b"startxref")]
MANY_LINES = b"xref\n0 2000000\n" + b"0000000009 00000 n \n" * 2_000_000
TITLE = f"stairjig-{VERSION}-inch__title"
PDFS = {
    "a script": lambda: pdf(catalog=SCRIPT),
    "a script beside a bad job": lambda: pack_with({"job.yaml": b"title: [", "a.js": b"x"}, SCRIPT),
    "tables in a circle": lambda: pdf(trailer=b"/Prev " + table_at(PLAIN)),
    "a table that leads to the header": lambda: pdf(trailer=b"/Prev 9"),
    "a table of a hundred million": lambda: PLAIN.replace(b"0 4\n", b"0 99999999\n"),
    "two million table lines": lambda: b"%PDF-1.7\n" + MANY_LINES
    + b"trailer << /Size 9 /Root 1 0 R >>\nstartxref\n9\n%%EOF\n",
    "an end nowhere": lambda: ENDLESS + b"startxref\n" + b"9" * 30 + b"\n%%EOF",
    "no end": lambda: b"%PDF-1.7\n" + b"x\n" * 20_000_000,
    "an end far from the end": lambda: PLAIN + b"\n" * 30_000_000,
    "objects without number": lambda: PLAIN[:9] + b"1 0 obj <<>> endobj\n" * 900_000 + PLAIN[9:],
    "a word of 25 MB outside of streams": lambda: pdf(catalog=b"/X <" + b"41" * 12_500_000 + b">"),
    "a deep tree of pages": lambda: pdf_of([*DEEP, PAGE]),
    "pages in a circle": lambda: pdf(pages=b"<< /Type /Pages /Kids [2 0 R] /Count 1 >>"),
    "200,000 pages": lambda: pdf(pages=b"<< /Kids [" + b"3 0 R " * 200_000 + b"] >>"),
    "a catalog that is itself": lambda: pdf_of([b"1 0 R", PAGES, PAGE]),
    "brackets in brackets": lambda: pdf(catalog=b"/X " + b"[" * 100_000),
    "blocks in blocks": lambda: pdf(catalog=b"/X " + b"<</A " * 100_000),
    "a job that blows up": lambda: carrying(stream_of(BOMB, b"/Filter /FlateDecode")),
    "a job that blows up twice": lambda: carrying(
        stream_of(zlib.compress(BOMB, 9), b"/Filter [/FlateDecode /FlateDecode]")
    ),
    "a catalog that blows up": lambda: packed_objects(b"2 0 " + CATALOG % b"" + b" " * 8_000_000),
    "a job of 30 MB": lambda: pack_with({"job.yaml": b"title: x\n" * 3_300_000}),
    "a job as long as itself": lambda: carrying(b"<< /Length 4 0 R >>\nstream\nx\nendstream"),
    "a job in a circle": lambda: carrying(b"4 0 R"),
    "a job of another packing": lambda: carrying(stream_of(b"x", b"/Filter /JBIG2Decode")),
    "a job from elsewhere": lambda: carrying(stream_of(GOOD, b"/F (/etc/passwd) /FFilter /Crypt")),
    "four thousand files": lambda: pdf(
        stream_of(b"a"),
        catalog=b"/Names << /EmbeddedFiles << /Names ["
        + b"(a) << /F (a) /EF << /F 4 0 R >> >> " * 4_000
        + b"] >> >>",
    ),
    "a cipher": lambda: pdf(trailer=b"/Encrypt << /Filter /Standard /V 5 /R 6 /O (x) /U (x) >>"),
    "a form with a title of 90,000 signs": lambda: form_with({TITLE: "x" * 90_000}),
    "a form of 2,000 fields": lambda: form_with({f"f{n}": "x" for n in range(2_000)}),
    "a pack.json of 20 MB": lambda: pack_with({"job.yaml": GOOD, "pack.json": b"[" * 20_000_000}),
    "a pack.json in itself": lambda: pack_with({"job.yaml": GOOD, "pack.json": b'{"a":' * 9_000}),
}  # fmt: skip


@pytest.mark.parametrize("name", PDFS)
def test_a_pdf_made_to_do_harm_is_refused_within_three_seconds(tmp_path, name):
    """Seconds of the processor: what is read is at most 24 MB outside of streams."""
    (tmp_path / "x.pdf").write_bytes(PDFS[name]())
    begun = time.process_time()
    said = call(tmp_path, "layout", "x.pdf")
    assert time.process_time() - begun < 3
    assert said.status == WRONG, said
    assert said.out == ""
    (line,) = said.lines
    assert line.startswith("stairjig: x.pdf")
    assert os.listdir(tmp_path) == ["x.pdf"]


HEAVY = ("a job that blows up twice", "a pack.json of 20 MB")


def test_files_made_to_do_harm_take_no_more_memory_than_a_large_pack(tmp_path):
    """One after the other in a process of its own; a pack of a hundred flights takes 380 MB."""
    for name in HEAVY:
        (tmp_path / f"{name}.pdf").write_bytes(PDFS[name]())
    script = (
        "import resource, pathlib; from stairjig.cli import main\n"
        "for path in sorted(pathlib.Path().glob('*.pdf')):\n"
        "    print(main(['proof', str(path)]))\n"
        "print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024)"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], cwd=tmp_path, capture_output=True, text=True, check=False
    )
    *ends, peak = done.stdout.split()
    assert ends == ["2"] * len(HEAVY), done.stderr
    assert int(peak) < 400


def test_reading_that_takes_too_long_for_a_files_size_is_given_up(monkeypatch):
    monkeypatch.setattr(reading, "Patience", lambda _: Patience(0.05))

    def forever(_):
        while True:
            with contextlib.suppress(Exception):  # a library that mends whatever it meets
                time.sleep(0)

    monkeypatch.setattr(reading, "look_over", forever)
    with pytest.raises(BadInput, match=r"^a\.pdf: takes longer to read than any pack does - "):
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
