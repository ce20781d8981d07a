"""The writer: what a viewer, a second library and a raster say of the bytes."""

from __future__ import annotations

import hashlib
import io
import os
import re
import struct
import subprocess
import sys
from importlib.resources import files

import pypdf
import pypdfium2
import pytest
from reportlab import rl_config

from stairjig.drawing import (
    Ellipse,
    Field,
    Fill,
    Page,
    Pen,
    Run,
    Stroke,
    Text,
    cross,
    rectangle,
)
from stairjig.errors import BadInput
from stairjig.pdf import write_pdf

LETTER, A4, ROLL = (215.9, 279.4), (210.0, 297.0), (609.6, 5000.0)
TILE = Run(
    "Tile",
    (
        Text("Hall flight, tread 4", (12, 32), 3.0),
        rectangle(10, 30, 60, 40, Pen.CUT),
        *cross((40, 50), 4.5, Pen.CROSS),
        Ellipse((40, 50), 6, 4, Pen.HOLE),
        Text("4-1", (40, 60), 2.5, bold=True, angle=90, anchor="middle"),
    ),
)


def page(*items, size=LETTER, label="1", title="Sheet"):
    return Page(*size, label, title, tuple(items))


def reader(data):
    return pypdf.PdfReader(io.BytesIO(data))


def content(data, number=0):
    return reader(data).pages[number].get_contents().get_data().decode("latin-1")


def pack():
    fields = [
        Field("first__a", (10, 10), 40, 8, "first reading", "5′ 11 1/2″"),
        Field("second__a", (60, 10), 40, 8, "second reading"),
        Field("done__a", (110, 10), 5, 5, "done", "Yes", check=True),
        Field("open__a", (120, 10), 5, 5, "open", check=True),
    ]
    pages = [
        page(TILE, Text("71 15/16″ ½ ⌀ ° × → ▲", (20, 100), 3), label="Cover", title="Cover page"),
        page(*fields, Fill(((1, 1), (9, 1), (5, 8)), 0.5), size=A4, label="Check 1", title="Check"),
    ]
    attached = {"job.yaml": b"title: Kestrel Mill\n", "pack.json": b"{}"}
    return write_pdf(pages, "Kestrel Mill, unit 4", attached, "Strips", measure="inch")


# Bytes


def test_the_same_values_give_the_same_bytes():
    assert pack() == pack()


def test_two_processes_with_other_environments_give_the_same_bytes(tmp_path):
    (tmp_path / ".reportlab_settings").write_text(
        "pdfMultiLine=1\nuseA85=1\npageCompression=0\ndocumentLang='fr'\n"
    )
    wild = {
        "HOME": str(tmp_path),
        "SOURCE_DATE_EPOCH": "86400",
        "PYTHONHASHSEED": "7",
        "RL_useA85": "1",
        "RL_invariant": "0",
        "RL_pdfComments": "1",
        "RL_ttfAsciiReadable": "0",
        "RL_defaultPageSize": "LETTER",
        "TZ": "Asia/Tokyo",
    }
    tests = os.path.dirname(__file__)
    code = "import hashlib, test_pdf; print(hashlib.sha256(test_pdf.pack()).hexdigest())"
    digests = {
        subprocess.run(
            [sys.executable, "-c", code],
            env={**os.environ, "PYTHONPATH": os.pathsep.join([tests, *sys.path]), **extra},
            capture_output=True,
            text=True,
            check=True,
        ).stdout.strip()
        for extra in ({"PYTHONHASHSEED": "1"}, wild)
    }
    assert digests == {hashlib.sha256(pack()).hexdigest()}


def test_the_identifier_differs_wherever_anything_differs():
    base = (page(TILE),), "t", {"job.yaml": b"1"}, "s", None
    others = [
        ((page(TILE, label="2"),), *base[1:]),
        ((page(TILE, title="other"),), *base[1:]),
        ((page(TILE, size=A4),), *base[1:]),
        ((page(TILE, Text("x", (1, 1), 3)),), *base[1:]),
        ((page(TILE, Field("a", (1, 1), 9, 9, "")),), *base[1:]),
        (base[0], "u", *base[2:]),
        (*base[:2], {"job.yaml": b"2"}, *base[3:]),
        (*base[:3], "other", None),
        (*base[:4], "mm"),
    ]
    identifiers = [str(reader(write_pdf(*call)).trailer["/ID"]) for call in (base, *others)]
    assert len(set(identifiers)) == len(identifiers)


def test_a_drawing_leaves_the_library_as_it_was(monkeypatch):
    wished = {"pdfMultiLine": 1, "pdfComments": 1, "useA85": 1}
    for name, value in wished.items():
        monkeypatch.setattr(rl_config, name, value)
    pack()
    with pytest.raises(BadInput):
        write_pdf([page(Text("下", (0, 0), 3))], "t", {})
    assert {name: getattr(rl_config, name) for name in wished} == wished


def test_content_is_packed_once_and_not_in_ascii():
    data = pack()
    for entry in reader(data).pages:
        assert entry["/Contents"]["/Filter"] == "/FlateDecode"
    assert b"ASCII85" not in data


def test_the_file_says_nothing_of_when_and_only_the_tool_of_what_with():
    info = dict(reader(pack()).metadata)
    assert info == {
        "/Title": "Kestrel Mill, unit 4",
        "/Subject": "Strips",
        "/Producer": "stairjig",
        "/Creator": "stairjig",
    }


# Pages


@pytest.mark.parametrize("size", [LETTER, A4, ROLL, (254.0, 381.0)])
def test_a_page_is_as_large_as_asked_for_and_not_rounded_to_points(size):
    left, bottom, right, top = map(
        float, reader(write_pdf([page(size=size)], "t", {})).pages[0].mediabox
    )
    assert (left, bottom) == (0, 0)
    assert (right * 25.4 / 72, top * 25.4 / 72) == pytest.approx(size, abs=2e-6, rel=0)


def test_a_viewer_is_asked_not_to_scale_nor_to_print_both_sides():
    wishes = reader(pack()).trailer["/Root"]["/ViewerPreferences"]
    assert wishes["/PrintScaling"] == "/None"
    assert wishes["/Duplex"] == "/Simplex"
    assert wishes["/PickTrayByPDFSize"].value is True


def test_each_page_has_its_own_label_and_line_in_the_outline():
    read = reader(pack())
    assert read.page_labels == ["Cover", "Check 1"]
    assert [(line.title, read.get_destination_page_number(line)) for line in read.outline] == [
        ("Cover page", 0),
        ("Check", 1),
    ]


def test_every_font_of_the_pages_content_is_embedded_in_part():
    used = set(re.findall(r"(/\S+) \S+ Tf", content(pack())))
    fonts = reader(pack()).pages[0]["/Resources"]["/Font"]
    assert used
    for name in used:
        descriptor = fonts[name]["/FontDescriptor"]
        assert re.match(r"/[A-Z]{6}\+DejaVu", descriptor["/FontName"])
        assert 1_000 < len(descriptor["/FontFile2"].get_data()) < 100_000


@pytest.mark.parametrize(("units", "unit", "inches"), [("inch", "in", 1), ("mm", "mm", 1 / 25.4)])
def test_the_measuring_tool_of_a_viewer_reads_true_size(units, unit, inches):
    """ISO 32000-1, tables 260 to 263: unit per point, to a hundredth of what an error would cost.

    0.02 mm in the 200 in that a page may have is 4 in a million.
    """
    (port,) = reader(write_pdf([page()], "t", {}, measure=units)).pages[0]["/VP"]
    measure = port["/Measure"]
    assert [float(edge) for edge in port["/BBox"]] == [0, 0, 612, 792]
    assert (measure["/Subtype"], measure["/R"]) == ("/RL", f"1 {unit} = 1 {unit}")
    assert measure["/X"][0]["/U"] == unit
    assert float(measure["/X"][0]["/C"]) == pytest.approx(1 / 72 / inches, rel=1e-12)
    assert (measure["/D"][0]["/U"], float(measure["/D"][0]["/C"])) == (unit, 1)
    assert float(measure["/A"][0]["/C"]) == 1
    assert "/VP" not in reader(write_pdf([page()], "t", {})).pages[0]


# Content


def test_a_run_is_the_same_bytes_wherever_it_stands():
    def run(*items):
        text = content(write_pdf([page(*items)], "t", {}))
        return re.findall(r"/Tile BMC\n.*?\nEMC", text, re.DOTALL)

    (alone,) = run(TILE)
    faint = Stroke(((1, 1), (2, 2)), Pen.FAINT)
    grey = Text("Дом №7", (9, 9), 3, grey=0.4)
    assert run(faint, grey, TILE, grey, faint, TILE, TILE) == [alone] * 3


def test_what_follows_a_run_sets_its_own_pen():
    line = Stroke(((1, 1), (2, 2)), Pen.THIN)
    text = content(
        write_pdf([page(line, Run("Tile", (Stroke(line.points, Pen.CUT),)), line)], "t", {})
    )
    assert len(re.findall(r"0\.4252 w \[\] 0 d 0 G", text)) == 2


def test_a_run_draws_its_strokes_in_order_then_its_words_in_order():
    painted = re.findall(r"(BMC|c s|l s|l S|BT|EMC)\b", content(write_pdf([page(TILE)], "t", {})))
    assert painted == ["BMC", "l s", "l S", "l S", "c s", "BT", "BT", "EMC"]
    text = content(write_pdf([page(TILE)], "t", {}))
    assert text.index("(Hall flight, tread 4)") < text.index("(4-1)")


def test_a_pen_is_set_once_for_all_strokes_in_a_row():
    lines = [Stroke(((i, 1), (i, 9)), Pen.RULE) for i in range(20)]
    text = content(write_pdf([page(*lines)], "t", {}))
    assert (text.count(" w"), text.count(" d"), text.count(" G"), text.count(" S")) == (1, 1, 1, 20)


def test_each_text_is_one_text_object():
    words = [Text(word, (9, 9), 3) for word in ("one", "Дом ½ Ωμέγα ěščř", "")]
    text = content(write_pdf([page(*words)], "t", {}))
    assert text.count("BT ") == text.count(" ET") == 3
    assert text.count(" Tm ") == 3


def test_no_stroke_goes_through_a_transform():
    for number in (0, 1):
        assert not re.search(r"\b(cm|q|Q)\b", content(pack(), number))


def test_a_sheet_of_150_lines_40_strings_and_8_circles_is_under_12_kb():
    """The limit for a sheet of a pack, fonts excepted."""
    lines = [Stroke(((i * 1.3171, i / 7), (200 - i / 3, i * 1.713)), Pen.BASE) for i in range(150)]
    words = [Text(f"{i} {i % 15 + 1}/16″ mark", (i * 4.123, i * 6.7), 2.2) for i in range(40)]
    rings = [Ellipse((i * 20.33, i * 30.1), 3, 3, Pen.BASE) for i in range(8)]
    sheet = page(*lines, *words, *rings)
    with_sheets, without = (len(write_pdf([sheet] * n, "t", {})) for n in (11, 1))
    assert (with_sheets - without) / 10 < 12_000


@pytest.mark.parametrize("bold", [False, True])
def test_a_character_without_a_sign_is_refused_by_name(bold):
    with pytest.raises(BadInput, match="no sign for '下' in 'Haus 下'"):
        write_pdf([page(Text("Haus 下", (9, 9), 3, bold=bold))], "t", {})


# Files and fields


def test_attachments_come_out_byte_for_byte_with_size_and_checksum():
    attached = {"pack.json": bytes(range(256)) * 40, "job.yaml": b"", "maß ″.txt": b"\r\n"}
    read = reader(write_pdf([page()], "t", attached))
    assert {name: data[0] for name, data in read.attachments.items()} == attached
    tree = read.trailer["/Root"]["/Names"]["/EmbeddedFiles"]["/Names"]
    for name, file in zip(tree[::2], tree[1::2], strict=True):
        params = file.get_object()["/EF"]["/F"]["/Params"]
        assert params["/Size"] == len(attached[name])
        checksum = params["/CheckSum"]
        raw = checksum if isinstance(checksum, bytes) else checksum.original_bytes
        assert raw == hashlib.md5(attached[name]).digest()


def test_fields_stand_in_order_with_hint_value_and_room():
    read = reader(pack())
    widgets = [widget.get_object() for widget in read.pages[1]["/Annots"]]
    assert [widget["/T"] for widget in widgets] == ["first__a", "second__a", "done__a", "open__a"]
    assert read.pages[1]["/Tabs"] == "/W"
    first, second, done, unticked = widgets
    assert (first["/TU"], first["/V"], first["/MaxLen"]) == ("first reading", "5′ 11 1/2″", 200)
    assert second["/V"] == ""
    assert (done["/V"], unticked["/V"]) == ("/Yes", "/Off")
    corners = [float(number) * 25.4 / 72 for number in first["/Rect"]]
    assert corners == pytest.approx([10, 10, 50, 18], abs=1e-5)
    assert all("/BS" not in widget and "/Border" not in widget for widget in widgets)


def test_the_box_of_a_field_is_drawn_on_the_page():
    field = Field("a", (10, 20), 30, 8, "hint")
    box = rectangle(10, 20, 30, 8, Pen.THIN)
    with_field, with_box = (content(write_pdf([page(item)], "t", {})) for item in (field, box))
    assert with_field == with_box


def test_a_field_in_a_run_is_a_field():
    data = write_pdf([page(Run("Form", (Field("a", (10, 20), 30, 8, "hint", "7/8"),)))], "t", {})
    assert reader(data).get_form_text_fields() == {"a": "7/8"}


def test_a_filled_form_gives_what_was_filled_in():
    writer = pypdf.PdfWriter(clone_from=io.BytesIO(pack()))
    values = {"second__a": "3′ 4 ¾″", "open__a": "/Yes"}
    writer.update_page_form_field_values(writer.pages[1], values, auto_regenerate=False)
    out = io.BytesIO()
    writer.write(out)
    fields = pypdf.PdfReader(out).get_fields()
    assert fields["second__a"].value == "3′ 4 ¾″"
    assert fields["open__a"].value == "/Yes"


def test_each_field_that_is_filled_in_shows_its_own_value():
    fields = [Field(f"f{n}", (10, 12.0 * n), 40, 8, "reading") for n in range(3)]
    writer = pypdf.PdfWriter(clone_from=io.BytesIO(write_pdf([page(*fields)], "t", {})))
    values = {f"f{n}": f"{n} 1/16" for n in range(3)}
    writer.update_page_form_field_values(writer.pages[0], values, auto_regenerate=False)
    out = io.BytesIO()
    writer.write(out)
    for annotation in pypdf.PdfReader(out).pages[0]["/Annots"]:
        widget = annotation.get_object()
        shown = widget["/AP"]["/N"].get_object().get_data().decode("latin-1")
        assert [value for value in values.values() if value in shown] == [widget["/V"]]


@pytest.mark.parametrize("name", ["", "a.b"])
def test_a_field_name_that_a_form_cannot_hold_is_refused(name):
    with pytest.raises(ValueError, match="holds no dot"):
        write_pdf([page(Field(name, (9, 9), 9, 9, ""))], "t", {})


def test_two_fields_of_one_name_are_refused():
    field = Field("a", (9, 9), 9, 9, "")
    with pytest.raises(ValueError, match="is its own"):
        write_pdf([page(field), page(field)], "t", {})


# A second engine

DPI = 600


def raster(data, number=0):
    document = pypdfium2.PdfDocument(data)
    try:
        bitmap = document[number].render(scale=DPI / 72 * (1 - 1e-9), grayscale=True)
        return bitmap.width, bitmap.height, bytes(bitmap.buffer), bitmap.stride
    finally:
        document.close()


@pytest.mark.parametrize("size", [LETTER, A4])
def test_a_line_of_100_mm_is_100_mm_on_the_raster_within_a_pixel(size):
    lines = Stroke(((50, 60), (150, 60)), Pen.HEAVY), Stroke(((30, 70), (30, 170)), Pen.HEAVY)
    width, height, pixels, stride = raster(write_pdf([page(*lines, size=size)], "t", {}))
    pixel = 25.4 / DPI
    assert (width, height) == (round(size[0] / pixel), round(size[1] / pixel))
    row, column = round((size[1] - 60) / pixel), round(30 / pixel)
    across = [x for x in range(width) if pixels[row * stride + x] < 128]
    along = [y for y in range(height) if pixels[y * stride + column] < 128]
    for dark, start in ((across, 50), (along, size[1] - 170)):
        assert len(dark) == dark[-1] + 1 - dark[0] == pytest.approx(100 / pixel, abs=1)
        assert dark[0] == pytest.approx(start / pixel, abs=1)


def test_pdfium_finds_pages_labels_files_and_fields():
    document = pypdfium2.PdfDocument(pack())
    try:
        document.init_forms()
        assert [document.get_page_label(i) for i in range(len(document))] == ["Cover", "Check 1"]
        assert document.count_attachments() == 2
        assert bytes(document.get_attachment(0).get_data()) == b"title: Kestrel Mill\n"
        assert document[0].get_textpage().get_text_range().count("71 15/16″ ½ ⌀ ° × → ▲") == 1
        widgets = [pypdfium2.raw.FPDFPage_GetAnnotCount(entry.raw) for entry in document]
        assert widgets == [0, 4]
    finally:
        document.close()


# The fonts' licence


@pytest.mark.parametrize("file", ["DejaVuSansCondensed.ttf", "DejaVuSansCondensed-Bold.ttf"])
def test_the_licence_beside_the_fonts_is_the_whole_text_that_they_carry(file):
    fonts = files("stairjig.fonts")
    text = (fonts / "LICENCE.txt").read_text("utf-8")
    carried = _name_record((fonts / file).read_bytes(), 13)
    assert "Bitstream Vera Fonts Copyright" in carried
    assert "Arev Fonts Copyright" in carried
    assert file in text
    assert " ".join(carried.split()) in " ".join(text.split())


def _name_record(font, wanted):
    """Read a record of a TrueType font's name table (OpenType specification, `name`)."""
    tables = struct.unpack_from(">H", font, 4)[0]
    entries = (struct.unpack_from(">4sLLL", font, 12 + 16 * i) for i in range(tables))
    start = next(offset for tag, _, offset, _ in entries if tag == b"name")
    _, count, strings = struct.unpack_from(">HHH", font, start)
    for i in range(count):
        platform, _, _, name, length, offset = struct.unpack_from(">6H", font, start + 6 + 12 * i)
        if (platform, name) == (3, wanted):
            at = start + strings + offset
            return font[at : at + length].decode("utf-16-be")
    raise AssertionError(f"no name record {wanted}")
