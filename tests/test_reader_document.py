"""A job file as bytes: what is no job file at all gets one clear line, and nothing else."""

from __future__ import annotations

import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from job_files import LEVEL, SLOPED, TREADS, changed, job_in, lines_for, problems_in, written

from stairjig.errors import BadInput
from stairjig.job.document import DEEPEST, LARGEST
from stairjig.job.faults import MOST_PROBLEMS

PLAIN = written()


def only_problem(source):
    (line,) = lines_for(source)
    return line


def with_line(line):
    """The plain job, its title's line replaced."""
    return PLAIN.replace(b"title: Lantern Cove", line.encode())


def test_a_file_that_is_too_long_is_not_even_read():
    assert not lines_for(PLAIN + b"\n" + b"#" * (LARGEST - len(PLAIN) - 1))
    assert only_problem(PLAIN + b"\n" + b"#" * (LARGEST - len(PLAIN))) == (
        "flight.yaml is over 256 kB; no job file is that long - is it the right file?"
    )


@pytest.mark.parametrize("start", [b"", b"\xef\xbb\xbf"])
def test_bytes_that_are_not_utf_8_are_named_by_their_position(start):
    source = start + b"title: a\nunits: in\xe9h\n"
    position = len(start) + len(b"title: a\nunits: in") + 1
    assert only_problem(source) == (
        f"flight.yaml:2:10: is not UTF-8 text: byte {position} is 0xE9 - save it as UTF-8"
    )


@pytest.mark.parametrize("encoding", ["utf-16", "utf-32"])
def test_other_encodings_are_no_utf_8_or_full_of_nul(encoding):
    line = only_problem(PLAIN.decode().encode(encoding))
    assert "UTF-8" in line or "control character" in line


@pytest.mark.parametrize(
    "sign", ["\0", "\x07", "\x1b", "\x7f", "\x85", "\u2028", "\u2029", "\ufffe"]
)
def test_a_control_character_is_named_with_its_place(sign):
    line = only_problem(f"# a\nti{sign}tle: x\n".encode())
    assert line.startswith(f"flight.yaml:2:3: holds a control character (U+{ord(sign):04X})")


@pytest.mark.parametrize(
    "source", [b"", b"\n\n", b"# nothing\n", b"---\n...\n# x\n", b"\xef\xbb\xbf"]
)
def test_an_empty_file_is_told_how_to_begin(source):
    assert "begin with title: and units:" in only_problem(source)


@pytest.mark.parametrize(
    ("source", "what"),
    [(b"- a\n- b\n", "a list"), (b"just words\n", '"just words"'), (b"[]", "a list")],
)
def test_a_file_that_is_no_block_of_keys_is_told_so(source, what):
    assert f"a job file is a block of keys, not {what}" in only_problem(source)


SYNTAX = [
    ("title: [a, b", "flight.yaml:1:8: this list is not closed with ]"),
    ("title: {a: b", "flight.yaml:1:8: these keys are not closed with }"),
    ('title: "a', "flight.yaml:1:8: a quote is opened here and never closed"),
    ("title: 'a", "flight.yaml:1:8: a quote is opened here and never closed"),
    ("title: Mill: unit 4", "flight.yaml:1:12: a colon stands where none belongs"),
    ("title: a\n  units: mm", "flight.yaml:2:8: a colon stands where none belongs"),
    ("\ttitle: a", "flight.yaml:1:1: a tab stands where spaces belong"),
    ("title: @home", "flight.yaml:1:8: a value cannot begin with this sign"),
    ("title: `a", "flight.yaml:1:8: a value cannot begin with this sign"),
    ("title: %a", "flight.yaml:1:8: a value cannot begin with this sign"),
    ("title: *", "words that begin with *, & or % must stand in quotes"),
    ("title: & b", "words that begin with *, & or % must stand in quotes"),
    ('title: "a\\q"', "a backslash stands between double quotes"),
    ('title: "a" b', "this line does not belong to the lines above it"),
    ("title: a\n- b", "flight.yaml:2:1: this line does not belong to the lines above it"),
    ("title: - a", "a dash stands where no list can begin"),
    ("title: ]", "a value is missing in front of this sign"),
    ("title: a\nfoo", "flight.yaml:2:1: a key stands here without its colon"),
    ("title", "has the one above its colon?"),
    ("title: |x", "cannot be read from here on"),
    ("%YAML 9.9\n---\ntitle: a", "cannot be read from here on"),
    ("%YAML 1." + "9" * 5000 + "\n---\ntitle: a", "is out of all bounds"),
    ('title: "\\UFFFFFFFF"', "is out of all bounds"),
    ('title: "\\U00110000"', "is out of all bounds"),
]


@pytest.mark.parametrize(("line", "says"), SYNTAX, ids=range(len(SYNTAX)))
def test_broken_syntax_is_explained_without_jargon(line, says):
    told = only_problem(with_line(line))
    assert says in told
    for jargon in ("mapping", "scalar", "token", "flow", "block end", "sequence", "anchor", "YAML"):
        assert jargon not in told


def test_a_second_job_in_the_file_is_refused():
    line = only_problem(PLAIN + b"\n---\n" + PLAIN)
    assert line.endswith(": a second job begins here - keep one job in a file")


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("title: !!str a", '"!!str" is a tag - leave it out'),
        ("title: !mine a", '"!mine" is a tag'),
        ("title: ! a", '"!" is a tag'),
        ("title: !<tag:x> a", '"tag:x" is a tag'),
        ("title: &t a", '"&t" marks a place to refer to - leave it out'),
        ("title: a\n<<: {margin: 1/4}", '"<<" merges another block - write the keys out'),
        ("title: a\ntitle: b", '"title" is given twice, first on line 1 - keep one of the two'),
        ("title: a\n? [x]\n: 1", "a key must be one word - write it as key: value"),
        ("title: a\n? {x: 1}\n: 1", "a key must be one word - write it as key: value"),
        ("%TAG !a! b\n---\ntitle: a", "tags (%TAG) have no use in a job file"),
    ],
)
def test_what_yaml_has_beyond_plain_values_is_refused(line, says):
    assert says in only_problem(with_line(line))


def test_a_reference_is_refused_beside_the_place_that_it_refers_to():
    told = lines_for(with_line("title: &t a\nmargin: *t"))
    assert told == [
        'flight.yaml:1:8: "&t" marks a place to refer to - leave it out',
        'flight.yaml:2:9: "*t" refers to another place - write the value out',
    ]


def test_a_file_that_is_one_reference_is_refused():
    assert lines_for(b"*a\n") == [
        'flight.yaml:1:1: "*a" refers to another place - write the value out'
    ]


def test_references_upon_references_cost_nothing():
    """The billion laughs: each line refers ten times to the one above."""
    lines = ["a: &a [x]"] + [
        f"{name}: &{name} [{', '.join(['*' + before] * 10)}]"
        for before, name in zip("abcdefgh", "bcdefghi", strict=True)
    ]
    assert any("refers to another place" in line for line in lines_for("\n".join(lines).encode()))


@pytest.mark.parametrize(("opened", "closed"), [("[", "]"), ("{a: ", "}")])
def test_nesting_is_refused_from_its_bound_on(opened, closed):
    inside = DEEPEST - 1  # the job itself is the first
    fits = f"title: {opened * inside}x{closed * inside}"
    too_deep = f"title: {opened * (inside + 1)}x{closed * (inside + 1)}"
    assert "nested" not in only_problem(with_line(fits))
    assert "nested over 20 deep" in only_problem(with_line(too_deep))


@pytest.mark.parametrize(
    "source", [b"[" * 250_000, b"- " * 120_000, b"? " * 120_000, b"{a: " * 60_000]
)
def test_endless_nesting_is_refused_at_once(source):
    begun = time.perf_counter()
    assert "nested over 20 deep" in only_problem(source)
    assert time.perf_counter() - begun < 5


def test_a_file_full_of_problems_is_read_no_further():
    problems = problems_in("".join(f"k{n}: 1\n" for n in range(1_000)).encode())
    assert len(problems) == MOST_PROBLEMS + 1
    assert problems[-1].what == f"more than {MOST_PROBLEMS} problems"


def test_a_long_key_is_cut_in_the_message():
    line = only_problem(with_line(f"title: a\n? {'k' * 5000}\n: 1"))
    assert len(line) < 400
    assert "…" in line


RICH = written(
    {"balusters": "{plain: {shape: square, width: 5/8, rail_hole: {size: 11/16, depth: 1}}}"},
    changed(TREADS, {"treads": "[10 1/4, {depth: 11 3/8, times: 6}, {line_run: 9, skew: -2}]"}),
    LEVEL,
    SLOPED,
)
BITS = [
    b"[", b"]", b"{", b"}", b": ", b"- ", b"\n", b"\t", b"&a ", b"*a", b"!!", b"|", b">", b"%",
    b'"', b"'", b"\\", b"#", b"? ", b"\0", b"\xff", b"<<: ", b'"\\UFFFFFFFF"', b'"\\ud800"',
    b"---\n", b"-", b"9" * 300, b"auto", b"none", b"0", b"1/0", b"times: 99999999", b"\r", b"  ",
    b"~", b"", "\u202e½″".encode(),
]  # fmt: skip
edits = st.lists(
    st.tuples(st.integers(0, len(RICH)), st.integers(0, 12), st.sampled_from(BITS)),
    min_size=1,
    max_size=4,
)


def assert_read_or_refused(source):
    try:
        job_in(source)
    except BadInput as bad:
        for problem in bad.problems:
            line = str(problem)
            assert line.isprintable(), line
            assert problem.where is None or problem.where.file == "flight.yaml"


@settings(max_examples=150)
@given(edits)
def test_a_damaged_job_file_is_read_or_refused_in_clear_lines(changes):
    source = bytearray(RICH)
    for at, gone, put in changes:
        source[at : at + gone] = put
    assert_read_or_refused(bytes(source))


@given(
    st.one_of(
        st.binary(max_size=60), st.text(max_size=60).map(lambda s: s.encode("utf-8", "replace"))
    )
)
def test_any_bytes_are_read_or_refused_in_clear_lines(source):
    assert_read_or_refused(source)
