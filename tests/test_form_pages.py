"""The blank form: its fields, their order and names, its words, its drawings, its paper."""

from __future__ import annotations

import io

import pypdf
import pytest
from form_files import blank, values

from stairjig.drawing import Ellipse, Field, Fill, Stroke, Text
from stairjig.job.form.fields import (
    ENDS,
    LANDING,
    ORDER,
    PARTS,
    QUESTIONS,
    TITLE,
    TYPES,
    field_name,
)
from stairjig.job.form.fields import part as part_of
from stairjig.job.form.form import job_of_form
from stairjig.job.papers import SHEETS
from stairjig.pages.form.form import form_pages
from stairjig.proof.reading import read_pdf
from stairjig.type import width

SIZES = [(units, treads) for units in ("inch", "mm") for treads in (1, 7, 15, 40)]
INSIDE = 5 / 16 * 25.4
"""What a printer may leave white, mm."""


def fields_on(page):
    return [item for item in page.items if isinstance(item, Field)]


def texts_on(page):
    return [item for item in page.items if isinstance(item, Text)]


def text_box(text):
    """Left, bottom, right and top of level words, from their baseline to their capitals."""
    wide = width(text.text, text.size, text.bold)
    left = text.at[0] - wide * {"start": 0.0, "middle": 0.5, "end": 1.0}[text.anchor]
    return left, text.at[1], left + wide, text.at[1] + text.size


def field_box(field):
    return *field.at, field.at[0] + field.width, field.at[1] + field.height


def overlap(a, b, slack=0.05):
    return min(a[2], b[2]) - max(a[0], b[0]) > slack and min(a[3], b[3]) - max(a[1], b[1]) > slack


@pytest.mark.parametrize(("units", "paper"), [("inch", "letter"), ("mm", "a4")])
def test_an_inch_form_is_on_letter_and_a_metric_one_on_a4(units, paper):
    wide, high = map(float, SHEETS[paper])
    assert {(page.width, page.height) for page in form_pages(units, 7)} == {(wide, high)}


def wanted_slots(treads):
    """Every box that the form must have, by question, row and word."""
    rows = {letter: [str(n) for n in range(1, treads + 1)] for letter in "CD"}
    rows |= {"F": list(ENDS), "H": list(TYPES)}
    for part in PARTS:
        for asked in part.questions:
            places = [""] if asked.key == "pattern" else rows.get(part.letter, [""])
            if asked.key == "tread_rise":
                places = [*places, LANDING]
            words = [word for word, _ in asked.options] or [""]
            for row in places:
                for word in words:
                    yield tuple(bit for bit in (asked.key, row, word) if bit)


@pytest.mark.parametrize(("units", "treads"), SIZES)
def test_every_question_has_its_box_once_and_is_named_for_the_page_it_stands_on(units, treads):
    found = []
    for number, page in enumerate(form_pages(units, treads), start=1):
        names = [field_name(field.name) for field in fields_on(page)]
        assert {(name.page, name.units) for name in names} <= {(number, units)}
        found += [name.slot for name in names]
    assert sorted(found) == sorted(wanted_slots(treads))


@pytest.mark.parametrize(("units", "treads"), SIZES)
def test_the_boxes_and_words_of_a_page_stand_apart_and_inside_what_a_printer_can_reach(
    units, treads
):
    for page in form_pages(units, treads):
        boxes = [field_box(field) for field in fields_on(page)]
        words = {text.text: text_box(text) for text in texts_on(page)}
        for number, box in enumerate(boxes):
            assert not [other for other in boxes[:number] if overlap(box, other)]
            assert not [text for text, other in words.items() if overlap(box, other)]
        for box in [*boxes, *words.values()]:
            assert min(box[:2]) >= INSIDE - 0.01
            assert box[2] <= page.width - INSIDE + 0.01
            assert box[3] <= page.height - INSIDE + 0.01


@pytest.mark.parametrize("units", ["inch", "mm"])
def test_the_words_of_a_page_do_not_run_into_one_another(units):
    for page in form_pages(units, 7):
        texts = [text for text in texts_on(page) if text.angle == 0]
        for number, text in enumerate(texts):
            clash = [t.text for t in texts[:number] if overlap(text_box(text), text_box(t))]
            assert not clash, (text.text, clash)


def test_nothing_drawn_leaves_the_page_or_is_told_by_colour():
    greys = set()
    for page in form_pages("mm", 15):
        for item in page.items:
            if isinstance(item, Stroke | Fill):
                assert all(INSIDE <= x <= page.width - INSIDE for x, _ in item.points)
                assert all(INSIDE <= y <= page.height - INSIDE for _, y in item.points)
            if isinstance(item, Fill):
                greys.add(item.grey)
            if isinstance(item, Text):
                assert item.grey == 0.0
                assert item.size >= 2.5
    assert min(grey for grey in greys if grey) >= 0.75, "black words must stand out on every grey"


@pytest.mark.parametrize(("units", "treads"), [("inch", 15), ("mm", 40)])
def test_fields_tab_in_the_order_of_the_form_row_by_row_and_column_by_column(units, treads):
    """A row of a table is filled from left to right, an end or a baluster type from top down."""
    reader = pypdf.PdfReader(io.BytesIO(blank(units, treads)))
    walked = []
    for page in reader.pages:
        assert page["/Tabs"] == "/W", "tables 30 and 31 of ISO 32000-2: widgets in their order"
        walked += [field_name(note.get_object()["/T"]).slot for note in page["/Annots"]]
    assert walked == sorted(walked, key=measuring_order)


def measuring_order(slot):
    key, row = slot[0], next((bit for bit in slot[1:2]), "")
    letter = QUESTIONS[key].code[0]
    if row in TYPES or row in ENDS:
        return letter, [*TYPES, *ENDS].index(row), ORDER[key]
    if letter in "CD":
        return letter, 1000 if row == LANDING else int(row), ORDER[key]
    last = key == "pattern"
    return letter, 1000 if last else 0, ORDER[key]


@pytest.mark.parametrize("units", ["inch", "mm"])
def test_each_measure_taken_on_the_stair_has_its_code_in_a_drawing_on_the_page_of_its_boxes(units):
    pages = form_pages(units, 7)
    measured = [
        asked
        for letter in "BCDEFGH"
        for asked in part_of(letter).questions
        if asked.measure in ("length", "degrees") and asked.key != "fit"
    ]
    assert len(measured) > 30
    for asked in measured:
        (number, *_) = {
            field_name(f.name).page
            for page in pages
            for f in fields_on(page)
            if field_name(f.name).slot[0] == asked.key
        }
        near = [pages[number - 1], pages[number]] if asked.key == "skew" else [pages[number - 1]]
        written = [t.text for page in near for t in texts_on(page)]
        drawn = [text for text in written if text.split(":")[0] == asked.code]
        assert len(drawn) >= 2, asked.code


def test_what_must_be_filled_has_a_heavy_edge_and_nothing_else_has():
    for page in form_pages("inch", 7):
        heavy = {
            item.points[0]
            for item in page.items
            if isinstance(item, Stroke) and item.closed and item.pen.weight > 0.5
        }
        for field in fields_on(page):
            slot = field_name(field.name).slot
            needed = QUESTIONS[slot[0]].needed and slot[1:2] not in [("B",), ("C",)]
            assert (field.at in heavy) == needed, slot


SMALLEST = {
    "title": "Gull House",
    "name": "Gallery",
    "kind level": "on",
    "length": "2400 mm",
    "newel_width lower": "90 mm",
    "instead upper none": "on",
    "height": "950 mm",
    "rail_depth": "60 mm",
    "rail_width": "60 mm",
    "shape A round": "on",
    "width A": "32 mm",
    "openings": "uk",
}


@pytest.mark.parametrize("units", ["inch", "mm"])
def test_the_defaults_that_the_form_states_are_those_that_the_reader_takes(units):
    job = job_of_form(values(SMALLEST, units), "form.pdf")
    taken = {
        "allowance": job.allowance.text,
        "tolerance": job.tolerance.text,
        "show": job.show.text,
        "margin": f"{job.paper.margin.text}, on a roll 1/2 in",
        "paper": job.paper.name,
        "fit": job.balusters[0].fit.text.removesuffix(" in" if units == "inch" else ""),
    }
    for key, text in taken.items():
        assert QUESTIONS[key].told(units).endswith(f"blank: {text}"), key
    assert job.copies == "each"
    assert job.balusters[0].name == "A"
    assert job.balusters[0].top == "square"


def test_every_field_tells_its_code_and_how_to_measure_it():
    for page in form_pages("inch", 2):
        for field in fields_on(page):
            asked = QUESTIONS[field_name(field.name).slot[0]]
            assert f"{asked.code} {asked.label}" in field.hint
            assert asked.how in field.hint


def test_the_same_form_is_the_same_bytes_and_reads_back_as_a_form():
    from stairjig.pdf import write_pdf

    assert blank("inch", 7) == write_pdf(form_pages("inch", 7), TITLE, {})
    pack = read_pdf(blank("inch", 7))
    assert pack.title == TITLE
    assert not any(pack.fields.values())


def test_each_page_says_the_units_and_which_of_how_many_it_is():
    pages = form_pages("mm", 40)
    for number, page in enumerate(pages, start=1):
        written = [text.text for text in texts_on(page)]
        assert f"page {number} of {len(pages)}" in written
        assert f"{TITLE}, millimetres" in written


def test_every_code_is_on_a_disc_that_holds_it():
    for page in form_pages("inch", 7):
        discs = [item for item in page.items if isinstance(item, Ellipse)]
        codes = {asked.code for asked in QUESTIONS.values()}
        for text in texts_on(page):
            if text.text in codes:
                left, bottom, right, top = text_box(text)
                middle = ((left + right) / 2, (bottom + top) / 2)
                assert any(
                    abs(disc.centre[0] - middle[0]) < 0.01
                    and abs(disc.centre[1] - middle[1]) < 0.01
                    and disc.half_width > (right - left) / 2
                    for disc in discs
                ), text.text
