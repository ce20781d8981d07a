"""A filled form: the job that is written by hand, or every problem by its label and page."""

from __future__ import annotations

import io
from dataclasses import replace
from functools import cache
from pathlib import Path

import pypdf
import pytest
from form_files import (
    ON,
    PORCH,
    TURN,
    blank,
    by_pdfium,
    by_pypdf,
    job_in,
    names,
    problems_in,
    values,
)
from hypothesis import given, settings
from hypothesis import strategies as st
from job_files import job_in as job_from
from pypdf.generic import ByteStringObject, NameObject, StreamObject

from stairjig.errors import BadInput
from stairjig.job.form.fields import QUESTIONS
from stairjig.job.form.form import is_form, job_of_form
from stairjig.job.identity import pack_id
from stairjig.job.reader import read_job

SAMPLES = Path(__file__).parents[1] / "samples"
FILLERS = {
    "pypdf": by_pypdf,
    "pypdf, looks rebuilt": lambda data, filling: by_pypdf(data, filling, regenerate=True),
    "pypdf, ticked as On": lambda data, filling: by_pypdf(data, filling, on="/On"),
    "pypdf, ticked as 1": lambda data, filling: by_pypdf(data, filling, on="/1"),
    "pdfium": by_pdfium,
}


def sample(name, section=0):
    """The job of a sample, of its sections only one."""
    job = read_job((SAMPLES / name).read_bytes(), name)
    return replace(job, sections=(job.sections[section],))


@pytest.mark.parametrize("filler", FILLERS)
def test_a_form_filled_for_a_skewed_flight_is_the_job_written_by_hand(filler):
    job = job_in(FILLERS[filler](blank(), PORCH))
    assert job == sample("skewed-porch.yaml")
    assert pack_id(job) == pack_id(sample("skewed-porch.yaml"))


@pytest.mark.parametrize("filler", FILLERS)
def test_a_form_filled_for_winders_is_the_job_written_by_hand(filler):
    job = job_in(FILLERS[filler](blank(), TURN))
    assert job == replace(sample("winder-turn.yaml"), title="Hollow Oak, winders")


MIXED = {
    **{key: text for key, text in PORCH.items() if not key.startswith(("run", "skew"))},
    "title": "Møllebæk “nord” ½″",
    "rise": "",
    "first_tread": "3",
    "run 1": "10 1/4",
    "bare 1 yes": ON,
    "depth 2": "11 1/2",
    "front_skew 2": "-12.5",
    "back_skew 2": "-12.5",
    "line_run 3": "10¼",
    "front_skew 3": "-12 1/2",
    "back_skew 3": "20°",
    "on_tread 3": "3",
    **{f"tread_rise {n}": text for n, text in enumerate(("7", "7 1/8", "7 1/4"), start=1)},
    "tread_rise landing": "7″",
    "side right": "",
    "side left": ON,
    "line": "1 3/4",
    "line_back": "2",
    "line_from string": ON,
    "instead upper wall": "",
    "newel_width lower": "3 1/2",
    "newel_narrowest lower": "",
    "face lower": "-4 1/2",
    "newel_width upper": "3' 1\"",
    "newel_narrowest upper": "3",
    "replaces upper": "5-2",
    "plow_width": "1 1/4",
    "plow_depth": "1/4",
    "from": "4-1",
    "to": "5-3",
    "taped": "20",
    "rail_length": "30",
    "shape B round": ON,
    "width B": "3/4",
    "base B": "1 1/2",
    "top B bevel": ON,
    "fit B": "1/4",
    "pattern": "turned, b; turned",
    "openings": "",
    "stair": "4 1/4",
    "triangle": "6",
    "equal passes": ON,
    "spacing even": ON,
    "per_tread": "3",
    "set_back": "1/2",
    "allowance": "1/8",
    "tolerance": "1/4",
    "show": "1/32",
    "paper": "Roll 24",
    "margin": "1/2",
    "copies shared": ON,
    "by": "M. Ash: # the elder",
    "on": "5 May",
}
MIXED_BY_HAND = """
title: Møllebæk “nord” ½″
units: inch
openings: {stair: 4 1/4, triangle: 6, equal: passes}
paper: roll 24
margin: 1/2
allowance: 1/8
tolerance: 1/4
show: 1/32
copies: shared
balusters:
  turned:
    {shape: square, width: 1 1/4, narrowest: 7/8, top: pin,
     tread_hole: {size: 3/4, depth: 1}, rail_hole: {size: 3/4, depth: 3/4}}
  B: {shape: round, width: 3/4, base: 1 1/2, top: bevel, fit: 1/4}
pattern: [turned, B, turned]
rail: {height: 36, depth: 2 1/2, width: 2 3/8, plow: {width: 1 1/4, depth: 1/4}}
sections:
  - name: Porch flight
    kind: treads
    side: left
    rises: [7, 7 1/8, 7 1/4, 7]
    nosing: 1
    line: {front: 1 3/4, back: 2}
    line_from: string
    spacing: even
    per_tread: 3
    set_back: 1/2
    first_tread: 3
    lower_newel: {width: 3 1/2, place: {face: -4 1/2}}
    upper_newel: {width: "3' 1", narrowest: 3, place: {replaces: 5-2}}
    rail_taped: {from: 4-1, to: 5-3, length: 20}
    rail_length: 30
    treads:
      - {run: 10 1/4, bare: yes}
      - {depth: 11 1/2, skew: -12.5}
      - {line_run: 10 1/4, front_skew: -12.5, back_skew: 20, per_tread: 3}
"""


@pytest.mark.parametrize("filler", ["pypdf", "pdfium"])
def test_every_question_of_a_flight_reads_as_its_key_of_a_job_file(filler):
    """Text beyond Latin 1 goes through the file as UTF-16."""
    job = job_in(FILLERS[filler](blank(), MIXED))
    assert job == job_from(MIXED_BY_HAND.encode())


LEVEL = {
    **{key: PORCH[key] for key in ("height", "rail_depth", "rail_width", "openings")},
    "title": "Gull House, gallery",
    "name": "Balcony",
    "kind level": ON,
    "length": "96 1/2",
    "newel_width lower": "3 1/2",
    "instead upper wall": ON,
    "type A": "plain",
    "shape A square": ON,
    "width A": "5/8",
    "tread_hole A": "15/16",
    "tread_hole_depth A": "1",
    "rail_hole A": "15/16",
    "rail_hole_depth A": "3/4",
}
SLOPED = {
    **LEVEL,
    "name": "Knee wall",
    "kind level": "",
    "kind sloped": ON,
    "length": "121 3/8",
    "pitch": "36.9",
    "shoe_depth": "1 1/2",
    "newel_width upper": "3 1/2",
    "instead upper wall": "",
}


@pytest.mark.parametrize(("filling", "section"), [(LEVEL, 0), (SLOPED, 1)])
def test_a_form_filled_for_a_balcony_or_a_knee_wall_is_the_job_written_by_hand(filling, section):
    assert job_in(by_pypdf(blank(), filling)) == sample("balcony.yaml", section)


def test_a_bottom_rail_and_a_count_read_as_their_keys():
    under = {"lift": "1", "under_rise": "7 1/2", "under_run": "10", "under_nosing": "1 1/8"}
    section = job_in(by_pypdf(blank(), {**SLOPED, **under, "count": "20"})).sections[0]
    assert section.count == 20
    rail = section.bottom_rail
    assert [rail.lift.text, rail.rise.text, rail.run.text, rail.nosing.text] == [*under.values()]


def test_a_metric_form_reads_bare_numbers_and_decimal_commas_as_millimetres():
    filling = {
        **{key: "20" for key in SLOPED if "hole" in key},
        **{key: text for key, text in SLOPED.items() if "hole" not in key},
        "openings": "uk",
        "length": "3082,5",
        "shoe_depth": "3/4 in",
        "height": "950",
        "rail_depth": "60",
        "rail_width": "60",
        "width A": "32",
        "newel_width lower": "90",
        "newel_width upper": "90",
    }
    job = job_in(by_pdfium(blank("mm"), filling))
    assert job.units == "mm"
    assert job.paper.name == "a4"
    assert float(job.sections[0].length.mm) == 3082.5
    assert float(job.sections[0].shoe_depth.mm) == pytest.approx(19.05)


def test_the_skew_of_all_risers_holds_where_a_tread_has_none_of_its_own():
    filling = {**PORCH, "run 5": "", "line_run 5": "11", "back_skew 5": "24"}
    treads = job_of_form(values(filling), "form.pdf").sections[0].treads
    assert {float(tread.front_skew.degrees) for tread in treads} == {22.5}
    assert [float(tread.back_skew.degrees) for tread in treads] == [22.5, 22.5, 22.5, 22.5, 24]


@pytest.mark.parametrize(
    "pattern", ["turned B turned", "A B A", "a,b,a", "turned > B > turned", "A; turned"]
)
def test_a_pattern_names_types_by_name_or_by_letter(pattern):
    filling = {**PORCH, "shape B square": ON, "width B": "5/8", "pattern": pattern}
    read = job_of_form(values(filling), "form.pdf").sections[0].pattern
    assert read in (("turned", "B", "turned"), ("turned", "turned"))
    assert len(read) == len(pattern.replace(">", " ").replace(",", " ").split())


# The saved job


@pytest.mark.parametrize("filling", [PORCH, TURN, MIXED, LEVEL, SLOPED])
def test_the_job_saved_as_yaml_reads_as_the_same_job_and_explains_each_key(filling):
    job = job_of_form(values(filling), "form.pdf")
    assert read_job(job.source, "saved.yaml") == job
    lines = job.source.decode().splitlines()
    noted = [line for line in lines if line.strip() and not line.startswith("  turned")]
    bare = [line for line in noted if " # " not in line and not line.startswith("#")]
    assert [line.strip() for line in bare if not line.rstrip().endswith(":")] == []


def test_the_saved_job_tells_who_measured_and_on_which_day():
    first = job_of_form(values(MIXED), "form.pdf").source.decode().splitlines()[0]
    assert first == "# From a measuring form, measured by M. Ash: # the elder on 5 May."


NAMES = st.text(
    st.characters(exclude_categories=("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp")), min_size=1
).map(lambda text: text[:30])


@settings(max_examples=40)
@given(NAMES, NAMES, NAMES, st.sampled_from(["10 1/4", "10-1/4", "10¼", "3' 6 1/2\"", "26 cm"]))
def test_whatever_is_written_into_a_form_that_can_be_read_is_saved_so_that_it_reads_the_same(
    title, name, kind, length
):
    filling = {**LEVEL, "title": title, "name": name, "type A": kind, "length": length}
    try:
        job = job_of_form(values(filling), "form.pdf")
    except BadInput:
        return
    assert read_job(job.source, "saved.yaml") == job


# Problems


def test_an_empty_form_lists_all_that_is_missing_by_label_and_page():
    said = problems_in(values({}))
    assert said == [
        "form.pdf: page 1, A1 Job title: is empty - write words that name the job, on every sheet",
        "form.pdf: page 1, A2 Section name: is empty - write this piece of balustrade, like Hall "
        "flight",
        "form.pdf: page 1, A5 Kind: is empty - what the balusters stand on, tick one",
        "form.pdf: page 6, lower end, F1 Newel width: is empty - write the newel's width, or tick "
        "a wall or nothing",
        "form.pdf: page 6, upper end, F1 Newel width: is empty - write the newel's width, or tick "
        "a wall or nothing",
        "form.pdf: page 7, G1 Height: is empty - measure it: nosings, shoe's base or floor to its "
        "top, plumb",
        "form.pdf: page 7, G2 Depth: is empty - measure it: top to underside, square to the rail",
        "form.pdf: page 7, G3 Width: is empty - measure it: of its underside",
        "form.pdf: page 8, type A, H3 Width: is empty - fill in a type for each baluster that is "
        "used",
        "form.pdf: page 9, J1 Rule set: is empty - write irc, ibc, uk, ca or au, or own limits "
        "below",
    ]


def test_a_form_with_only_its_kind_lists_the_flight_too():
    said = " ".join(problems_in(values({"kind treads": ON})))
    for label in ("A6 Open side", "B1 Rise", "B2 Nosing", "B3 Line", "row 1, C2 Run"):
        assert f"{label}: is empty" in said


PROBLEMS = [
    ({"line": "1 3/4x"}, 'page 2, B3 Line: line "1 3/4x" is no length'),
    ({"nosing": "-1"}, 'page 2, B2 Nosing: nosing "-1" is negative'),
    ({"skew": "95"}, 'page 2, B6 Skew of all risers: skew "95" is not between -80 and 80'),
    ({"run 3": ""}, "page 3, row 3: is not measured - fill in one of C2, C3, C4, or its sides"),
    ({"run 3": "10 1/44"}, None),
    ({"run 3": "10 4/4"}, 'page 3, row 3, C2 Run: run "10 4/4" has a fraction of one or more'),
    ({"depth 2": "11"}, "page 3, row 2, C3 Depth: depth stands beside run"),
    ({"back_skew 2": "9"}, "page 3, row 2, C2 Run: run of a tread whose two risers differ in skew"),
    ({"bare 3 yes": ON}, "page 3, row 3: a bare tread stands between others"),
    ({"on_tread 2": "two"}, 'page 3, row 2, C7 Count: per_tread "two" is no whole number'),
    ({"tread_rise 2": "7"}, "page 2, B1 Rise: stands beside the rises in part C"),
    ({"rise": "", "tread_rise 2": "7"}, "page 3, row 4, C1 Rise: is empty"),
    ({"rise": "", "tread_rise 2": "7"}, "page 3, to the landing, C1 Rise: is empty"),
    ({"tread_rise 7": "7"}, "page 3, row 7, C1 Rise: has a rise and no measure"),
    ({"end 6": "9"}, "page 4, row 6, D2 Back: is empty - measure it: along the face"),
    ({"kind level": ON}, "page 1, A5 Kind: on the treads and on the level are ticked - tick one"),
    ({"kind treads": ""}, "page 1, A5 Kind: is empty"),
    ({"length": "90"}, "page 5, E1 Length: is filled in, and the section is on the treads"),
    ({"side left": ON}, "page 1, A6 Open side: left and right are ticked - tick one of them"),
    ({"newel_width upper": "3"}, "page 6, upper end, F1 Newel width: is filled in, and a wall is"),
    ({"instead upper none": ON}, "F5 Or no newel: a wall and nothing are ticked"),
    ({"newel_narrowest lower": "6"}, "page 6, lower end, F2 Narrowest: narrowest \"6\" is wider"),
    ({"face lower": "1", "replaces lower": "1-1"}, "F4 Or replaces mark: a newel's place"),
    ({"replaces lower": "9-1"}, "page 6, lower end: there is no mark 9-1"),
    ({"newel_width lower": ""}, "page 6, lower end, F1 Newel width: is empty - measure it"),
    ({"rail_depth": "40"}, 'page 7, G2 Depth: depth "40" is not less than the height'),
    ({"plow_width": "1"}, "page 7, G5 Plow: depth: is empty"),
    ({"from": "2-1"}, "page 7, G7 Taped to mark: is empty"),
    ({"width A": "1/4"}, "page 8, type A, H3 Width: width \"1/4\" is under 8 mm"),
    ({"tread_hole_depth A": ""}, "page 8, type A, H8 Tread hole: depth: is empty"),
    ({"shape A square": ""}, "page 8, type A, H2 Shape: is empty - at the tread, tick one"),
    ({"width B": "1"}, "page 8, type B, H2 Shape: is empty"),
    ({"width B": "1", "shape B round": ON}, "page 8, H12 Pattern: is empty - write the types"),
    ({"pattern": "A C"}, 'page 8, H12 Pattern: pattern names "C", which is no baluster type'),
    ({"type B": "turned", "width B": "1", "shape B round": ON, "pattern": "A"},
     'page 8, type B, H1 Name: baluster "turned" is given twice'),
    ({"type A": "<<"}, 'page 8, type A, H1 Name: "<<" can be no name'),
    ({"openings": "irb"}, 'page 9, J1 Rule set: openings cannot be "irb" - did you mean "irc"?'),
    ({"stair": "4"}, "page 9, J1 Rule set: a rule set stands beside own limits"),
    ({"paper": "a44"}, 'page 9, J12 Paper: paper "a44" is not known'),
    ({"show": "1/8"}, 'page 9, J11 Show: show cannot be "1/8"'),
    ({"title": "a\x07b"}, "page 1, A1 Job title: title holds a character that cannot be printed"),
]  # fmt: skip


@pytest.mark.parametrize(("change", "line"), PROBLEMS)
def test_a_problem_names_its_label_and_page(change, line):
    said = problems_in(values({**PORCH, **change}))
    if line is None:
        assert said == [], "any denominator may be written"
    else:
        assert any(line in problem for problem in said), said
        assert all(problem.startswith("form.pdf: page ") for problem in said)


def test_all_problems_come_at_once_in_the_order_of_the_form():
    wrong = {"line": "x", "run 3": "y", "rail_depth": "z", "width A": "", "show": "9"}
    said = problems_in(values({**PORCH, **wrong, "end 6": "9", "kind level": ON}))
    codes = [problem.split(": ")[1].split(", ")[-1].split()[0] for problem in said]
    assert codes == ["A5", "B3", "C2", "D2", "D3", "D4", "D5", "G2", "H3", "J11"]


def test_a_level_section_says_what_is_filled_in_for_a_flight():
    said = problems_in(values({**LEVEL, "nosing": "1", "run 1": "10", "end 2": "9", "pitch": "3"}))
    assert len(said) == 4
    assert all("is filled in, and the section is on the level" in line for line in said)
    for spot in ("B2 Nosing", "C The treads", "D Winders", "E2 Pitch"):
        assert any(f", {spot}: " in line for line in said)


# Fields that are not those of one form


def test_a_document_without_the_forms_fields_is_no_form():
    for fields in ({}, {"name": "x", "form1__inch__p1": ""}, {"form1__cubit__p1__title": ""}):
        assert not is_form(fields)
        assert problems_in(fields) == [
            "form.pdf holds no measuring form - stairjig form writes one to fill in"
        ]


def test_two_forms_in_one_file_and_a_form_of_another_version_are_refused():
    inch, metric = values(PORCH), values(PORCH, "mm")
    assert "holds two forms" in problems_in({**inch, **metric})[0]
    moved_page = {name.replace("__p1__", "__p9__"): text for name, text in inch.items()}
    assert "holds two forms" in problems_in({**inch, **moved_page})[0]
    later = {name.replace("form1__", "form2__"): text for name, text in inch.items()}
    assert "another version" in problems_in(later)[0]


def test_fields_that_others_have_added_do_not_matter():
    fields = {**values(PORCH), "Signature": "x", "form1__inch__p1__shoesize": "44", "a.b": "c"}
    assert job_of_form(fields, "form.pdf") == sample("skewed-porch.yaml")


SLOTS = sorted(names(blank("inch", 7)).values())
PLAIN = ["", "Off", "Yes", "1", "10 1/4", "-3", "0", "1/0", "9" * 60, "1-1", "wall", "a b c"]
NASTY = ["☃", "nan", "<<", "\x00", "\ud800", "{a: b}", "# x", "2\n3"]
ODD = st.sampled_from([*PLAIN, *NASTY])
ROWS = ("0", "04", "9999", "-1", "A", "landing")
KNOWN = st.sampled_from([f"form1__inch__p3__{key}__{row}" for key in QUESTIONS for row in ROWS])
MADE_UP = st.from_regex(r"form1__inch__p[0-9]{1,4}__[a-zA-Z0-9_]{1,30}", fullmatch=True)


@settings(max_examples=40)
@given(st.dictionaries(st.sampled_from(SLOTS), ODD | st.text(max_size=8), max_size=40))
def test_no_answer_whatever_leads_to_anything_but_a_job_or_lines_with_labels(answers):
    said = problems_in({**values(PORCH), **answers})
    assert all(line.startswith("form.pdf") and "\n" not in line for line in said)


@settings(max_examples=40)
@given(st.dictionaries(MADE_UP | KNOWN, ODD, max_size=20))
def test_no_name_of_a_field_whatever_leads_to_anything_but_a_job_or_lines(fields):
    assert problems_in(fields)


@pytest.mark.parametrize("state", ["Yes", "On", "1", "0", "Ja", "✓", "X"])
def test_any_state_but_off_is_a_tick(state):
    fields = {name: state if text == ON else text for name, text in values(PORCH).items()}
    assert job_of_form(fields, "form.pdf") == sample("skewed-porch.yaml")


@pytest.mark.parametrize("state", ["", "Off", "off", " "])
def test_off_is_no_tick(state):
    fields = values(PORCH)
    kind = names(blank())["kind treads"]
    assert "A5 Kind: is empty" in " ".join(problems_in({**fields, kind: state}))


# Values as other programs write them


@cache
def porch():
    return by_pypdf(blank(), PORCH)


def rewritten(change):
    """A form filled in for the skewed flight, its widgets changed by hand."""
    writer = pypdf.PdfWriter(clone_from=io.BytesIO(porch()))
    fields = {text: key for key, text in names(blank()).items()}
    for page in writer.pages:
        for widget in page["/Annots"]:
            change(fields[widget.get_object()["/T"]], widget.get_object(), writer)
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue()


def utf_16(text):
    return b"\xfe\xff" + text.encode("utf-16-be")


def utf_8(text):
    return b"\xef\xbb\xbf" + text.encode()


@pytest.mark.parametrize("spell", [utf_16, utf_8, str.encode])
def test_values_may_be_utf_16_utf_8_or_pdf_doc_encoded(spell):
    """Sections 7.9.2.2 of ISO 32000-1 and 32000-2."""

    def change(key, widget, _):
        if PORCH.get(key, ON) != ON:
            widget[NameObject("/V")] = ByteStringObject(spell(PORCH[key]))

    assert job_in(rewritten(change)) == sample("skewed-porch.yaml")


def test_a_value_may_be_a_stream_of_text():
    """Table 228 of ISO 32000-1: a text string or a text stream."""

    def change(key, widget, writer):
        if key == "title":
            stream = StreamObject()
            stream.set_data(utf_16("Møllebæk"))
            widget[NameObject("/V")] = writer._add_object(stream)

    assert job_in(rewritten(change)).title == "Møllebæk"


def test_a_tick_counts_where_only_its_value_or_only_its_look_was_set():
    def only(kept):
        def change(key, widget, _):
            if PORCH.get(key) == ON:
                other = {"/V": "/AS", "/AS": "/V"}[kept]
                widget[NameObject(other)] = NameObject("/Off")

        return change

    for kept in ("/V", "/AS"):
        assert job_in(rewritten(only(kept))) == sample("skewed-porch.yaml")


def test_a_form_whose_fields_have_lost_their_looks_reads_the_same():
    def change(_key, widget, _writer):
        widget.pop("/AP", None)

    assert job_in(rewritten(change)) == sample("skewed-porch.yaml")
