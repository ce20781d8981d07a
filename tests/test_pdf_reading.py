"""The reader: what was written comes back, and what is no PDF is refused in one line."""

from __future__ import annotations

import ast
import io
import logging
import math
import random
import time
import zlib
from pathlib import Path

import pypdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import stairjig.proof
from stairjig.drawing import Ellipse, Field, Fill, Page, Pen, Run, Stroke, Text, cross
from stairjig.errors import BadInput
from stairjig.pdf import write_pdf
from stairjig.proof.reading import ReadStroke, ReadText, circles, read_pdf
from stairjig.type import font_size, width

NEAR = 1e-4
"""mm; the proof allows 0.02."""

WORDS = ["71 15/16″", "5′ 11 1/2″", "½ ⌀ ° × → ▲", "(a) \\ (b", "Ωμέγα Дом ěščř ½", "it's 7'-6\""]


some = settings(max_examples=40, deadline=None)


def written(*items, size=(215.9, 279.4)):
    """Write the items on a page of their own, and read the page back."""
    return read_pdf(write_pdf([Page(*size, "1", "Sheet", items)], "t", {})).pages[0]


def near(point):
    return pytest.approx(point, abs=NEAR, rel=0)


def raw_pdf(
    content=b"",
    resources="",
    page="",
    root="",
    objects=(),
    stream="",
    box="[0 0 720 720]",
    contents="4 0 R",
):
    """Put a file together by hand; further objects are numbered from 5."""
    bodies = [
        f"<< /Type /Catalog /Pages 2 0 R {root} >>".encode(),
        b"<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
        f"<< /Type /Page /Parent 2 0 R /MediaBox {box} /Contents {contents} "
        f"/Resources << {resources} >> {page} >>".encode(),
        packed(content, stream),
        *(body if isinstance(body, bytes) else body.encode() for body in objects),
    ]
    out = bytearray(b"%PDF-1.7\n")
    offsets = []
    for number, body in enumerate(bodies, 1):
        offsets.append(len(out))
        out += b"%d 0 obj\n%b\nendobj\n" % (number, body)
    start = len(out)
    out += b"xref\n0 %d\n0000000000 65535 f \n" % (len(bodies) + 1)
    out += b"".join(b"%010d 00000 n \n" % offset for offset in offsets)
    trailer = b"trailer\n<< /Size %d /Root 1 0 R >>\nstartxref\n%d\n%%%%EOF\n"
    return bytes(out) + trailer % (len(bodies) + 1, start)


def packed(content, entries=""):
    head = f"<< {entries} /Length {len(content)} >>\nstream\n".encode()
    return head + content + b"\nendstream"


def painted(content, **parts):
    """Read a page of 10 in with that content."""
    return read_pdf(raw_pdf(content, **parts)).pages[0]


def inches(points):
    return [pytest.approx((x * 25.4, y * 25.4), abs=1e-9) for x, y in points]


# A round trip


coordinates = st.floats(0, 5000).map(lambda x: round(x, 6))
points = st.tuples(coordinates, coordinates)


@some
@given(st.lists(points, min_size=2, max_size=6), st.sampled_from(Pen), st.booleans())
def test_a_stroke_comes_back(corners, pen, closed):
    (stroke,) = written(Stroke(tuple(corners), pen, closed), size=(609.6, 5000)).items
    assert list(stroke.points) == [near(corner) for corner in corners]
    assert (stroke.closed, stroke.filled, stroke.is_curve) == (closed, False, False)
    assert stroke.weight == near(pen.weight)
    assert stroke.dashes == near(pen.dashes)
    assert stroke.grey == near(pen.grey)


@some
@given(points, st.floats(0.5, 300), st.floats(0.5, 300))
def test_an_ellipse_comes_back_as_what_it_is(centre, half_width, half_height):
    page = written(Ellipse(centre, half_width, half_height, Pen.HOLE))
    (found,) = circles(page.items)
    assert found.centre == near(centre)
    assert (found.half_width, found.half_height) == near((half_width, half_height))
    assert found.stroke is page.items[0]
    assert found.stroke.kinds == "cccc"


@some
@given(st.lists(points, min_size=3, max_size=6), st.floats(0, 1))
def test_a_fill_comes_back(corners, grey):
    (shape,) = written(Fill(tuple(corners), grey)).items
    assert list(shape.points) == [near(corner) for corner in corners]
    assert (shape.closed, shape.filled, shape.weight) == (True, True, 0)
    assert shape.grey == near(grey)


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize("angle", [0, 90, 180, 270])
@pytest.mark.parametrize(("anchor", "share"), [("start", 0), ("middle", 0.5), ("end", 1)])
def test_a_text_comes_back_from_every_angle_and_anchor(angle, anchor, share, bold):
    texts = [
        Text(word, (100 + i, 120 - i), 3, bold, angle, anchor, 0.25) for i, word in enumerate(WORDS)
    ]
    for text, read in zip(texts, written(*texts).items, strict=True):
        run = width(text.text, 3, bold)
        ahead = math.cos(math.radians(angle)), math.sin(math.radians(angle))
        start = tuple(at - share * run * step for at, step in zip(text.at, ahead, strict=True))
        assert read.text == text.text
        assert read.at == near(start)
        assert read.angle == pytest.approx(angle, abs=1e-9)
        assert (read.size, read.grey) == near((font_size(3), 0.25))
        assert read.width == pytest.approx(run, rel=1e-5)


def test_runs_come_back_with_their_tags_and_what_stands_outside_apart():
    outside = Stroke(((1, 1), (2, 2)), Pen.THIN), Text("outside", (9, 9), 3)
    runs = [
        Run(tag, (Text(tag, (50, 50), 3), *cross((60, 60), 4.5, Pen.CROSS), Text("4-1", (9, 9), 2)))
        for tag in ("Tile", "Bar", "Tile")
    ]
    page = written(outside[0], runs[0], runs[1], outside[1], runs[2])
    assert [run.tag for run in page.runs] == ["Tile", "Bar", "Tile"]
    assert [[text.text for text in run.texts] for run in page.runs] == [
        ["Tile", "4-1"],
        ["Bar", "4-1"],
        ["Tile", "4-1"],
    ]
    for run in page.runs:
        assert [list(stroke.points) for stroke in run.strokes] == [
            [near((55.5, 60)), near((64.5, 60))],
            [near((60, 55.5)), near((60, 64.5))],
        ]
    assert [type(item) for item in page.items] == [ReadStroke, ReadText]
    orders = [mark.order for run in page.runs for mark in (*run.strokes, *run.texts)]
    assert sorted(orders + [item.order for item in page.items]) == list(range(14))
    assert orders == sorted(orders)


def test_what_is_around_the_pages_comes_back():
    attached = {"job.yaml": bytes(range(256)) * 9, "pack.json": b"", "maß ″.txt": b"x"}
    fields = [
        Field("first__a", (9, 9), 40, 8, "hint", "5′ 11 1/2″ ⌀"),
        Field("empty__a", (9, 19), 40, 8, "hint"),
        Field("ticked__a", (9, 29), 5, 5, "hint", "Yes", check=True),
        Field("unticked__a", (9, 39), 5, 5, "hint", check=True),
    ]
    pages = [Page(210, 297, "Cover", "Cover", ()), Page(609.6, 5000, "R 1–2", "x", tuple(fields))]
    pack = read_pdf(write_pdf(pages, "Kestrel Mill ½", attached))
    assert (pack.title, pack.attachments) == ("Kestrel Mill ½", attached)
    assert pack.fields == {
        "first__a": "5′ 11 1/2″ ⌀",
        "empty__a": "",
        "ticked__a": "Yes",
        "unticked__a": "",
    }
    assert pack.print_scaling == "None"
    assert [(page.number, page.label, page.turned) for page in pack.pages] == [
        (1, "Cover", 0),
        (2, "R 1–2", 0),
    ]
    assert [(page.width, page.height) for page in pack.pages] == [
        near((210, 297)),
        near((609.6, 5000)),
    ]
    assert [page.number for page in pack.pages[-1:]] == [2]


def test_a_form_filled_and_saved_by_another_library_comes_back():
    fields = Field("a", (9, 9), 40, 8, "hint"), Field("b", (9, 29), 5, 5, "hint", check=True)
    data = write_pdf([Page(210, 297, "1", "x", fields)], "t", {"job.yaml": b"job"})
    writer = pypdf.PdfWriter(clone_from=io.BytesIO(data))
    values = {"a": "3′ 4 ¾″", "b": "/Yes"}
    writer.update_page_form_field_values(writer.pages[0], values, auto_regenerate=False)
    writer.compress_identical_objects()
    out = io.BytesIO()
    writer.write(out)
    pack = read_pdf(out.getvalue())
    assert pack.fields == {"a": "3′ 4 ¾″", "b": "Yes"}
    assert pack.attachments == {"job.yaml": b"job"}
    assert len(pack.pages[0].items) == 2


# Operators that the writer does not use


def test_transforms_nest_and_are_undone():
    page = painted(
        b"q 2 0 0 2 72 0 cm 4 w q 0 1 -1 0 0 0 cm 0 0 m 36 0 l S Q 0 0 m 36 0 l S Q 0 0 m 36 0 l S"
    )
    first, second, third = page.items
    assert list(first.points) == inches([(1, 0), (1, 1)])
    assert list(second.points) == inches([(1, 0), (2, 0)])
    assert list(third.points) == inches([(0, 0), (0.5, 0)])
    assert [stroke.weight * 72 / 25.4 for stroke in page.items] == pytest.approx([8, 8, 1])


@pytest.mark.parametrize(
    ("operator", "closed", "filled", "weight"),
    [
        ("S", False, False, 2),
        ("s", True, False, 2),
        ("f", True, True, 0),
        ("F", True, True, 0),
        ("f*", True, True, 0),
        ("B", True, True, 2),
        ("B*", True, True, 2),
        ("b", True, True, 2),
        ("b*", True, True, 2),
    ],
)
def test_every_way_to_paint_a_path_is_told_apart(operator, closed, filled, weight):
    """ISO 32000-1, table 60."""
    (stroke,) = painted(f"2 w 0 0 m 72 0 l 72 72 l {operator}".encode()).items
    assert list(stroke.points) == inches([(0, 0), (1, 0), (1, 1)])
    assert (stroke.closed, stroke.filled) == (closed, filled)
    assert stroke.weight * 72 / 25.4 == pytest.approx(weight)


def test_a_path_that_only_clips_or_is_dropped_paints_nothing():
    assert painted(b"0 0 72 72 re W n 0 0 m 72 72 l n 9 9 m S").items == ()


def test_subpaths_rectangles_and_all_curves_are_followed():
    """ISO 32000-1, table 59."""
    page = painted(
        b"0 0 72 144 re 72 72 m 0 72 72 0 v 0 144 144 144 y h 72 0 l"
        b" 0 0 m 0 72 72 0 72 72 c 144 72 l S"
    )
    box, curved, after, mixed = page.items
    assert (list(box.points), box.closed) == (inches([(0, 0), (1, 0), (1, 2), (0, 2)]), True)
    assert (curved.kinds, curved.closed) == ("cc", True)
    corners = [(1, 1), (1, 1), (0, 1), (1, 0), (0, 2), (2, 2), (2, 2)]
    assert list(curved.points) == inches(corners)
    assert list(after.points) == inches([(1, 1), (1, 0)])
    assert (mixed.kinds, mixed.is_curve, mixed.closed) == ("cl", True, False)
    assert list(mixed.points) == inches([(0, 0), (0, 1), (1, 0), (1, 1), (2, 1)])


@pytest.mark.parametrize(
    ("colour", "grey"),
    [("0.5 G", 0.5), ("1 0 0 RG", 0.299), ("0 1 1 0 K", 0.299), ("0 0 0 1 K", 0), ("0.7 SC", 0.7)],
)
def test_every_colour_has_its_lightness(colour, grey):
    """Weights of red, green and blue: ITU-R BT.601 (from memory)."""
    (stroke,) = painted(f"{colour} 0 0 m 72 0 l S".encode()).items
    assert stroke.grey == pytest.approx(grey)


@pytest.mark.parametrize(
    "code",
    [
        "0 1 g", "1.01 g", "-0.1 G", "0 0 RG", "0 0 0 0 0 K", "g", "0 0 sc", "(a) g", "1 (a) 0 rg",
        "BT /F 9 Tf (a) (b) Tj ET", "BT /F 9 Tf [(a)] Tj ET", "BT /F 9 Tf (a) TJ ET",
        "BT /F 9 Tf << Tj ET", "BT /F 9 Tf (a) \" ET", "3 0 d", "0\v0 m 9 9 l S",
    ],
)  # fmt: skip
def test_operators_with_other_operands_than_theirs_are_damage(code):
    """ISO 32000-1, tables 74 and 109, 8.4.3.6; a vertical tab is no white space (table 1)."""
    with pytest.raises(BadInput):
        painted(code.encode(), resources=FONT.format(""))


@pytest.mark.parametrize(
    ("code", "doubts"),
    [
        ("BT /F 9 Tf [(a) 0 (b)] TJ ET /P scn /P SCN 1 0 0 sc", {"kinds of colours"}),
        ("BT /F 9 Tf [(a) -1 (b)] TJ ET", {"words that are spaced or shifted"}),
        ('BT /F 9 Tf 0 0 (a) " ET', {"words that are spaced or shifted"}),
        ("BT 7 Tr ET", {"clips"}),
        ("BT 3 Tr ET 0 -2 2 0 0 0 cm 1 0 0 -1 0 0 cm [1 2] 0 d", set()),
        ("1 0 0 1.001 0 0 cm", {"transforms that stretch one way"}),
        ("0 0 0 0 0 0 cm", {"transforms that stretch one way"}),
        ("[1 2] 1 d", {"dashes that begin with a part of one"}),
    ],
)
def test_what_no_pack_needs_is_doubted(code, doubts):
    found = painted(code.encode(), resources=FONT.format("")).doubts
    assert set(found) - {"letters that are not in it"} == doubts


def test_dashes_grow_with_the_transform():
    (stroke,) = painted(b"2 0 0 2 0 0 cm [3 1.5] 7 d 0 0 m 9 0 l S").items
    assert [dash * 72 / 25.4 for dash in stroke.dashes] == pytest.approx([6, 3])


def test_a_circle_drawn_either_way_round_from_any_side_is_found_and_a_bent_one_is_not():
    k = 72 * 0.5522847498
    quarters = [(72, 0), (72, k), (k, 72), (0, 72), (-k, 72), (-72, k), (-72, 0)]
    quarters += [(-72, -k), (-k, -72), (0, -72), (k, -72), (72, -k), (72, 0)]

    def drawn(around):
        start, *rest = [f"{x + 144} {y + 144}" for x, y in around]
        curves = [" ".join(rest[i : i + 3]) + " c" for i in range(0, 12, 3)]
        return list(circles(painted(f"{start} m {' '.join(curves)} s".encode()).items))

    turned = quarters[6:] + quarters[1:7]
    for around in (quarters, quarters[::-1], turned, turned[::-1]):
        (found,) = drawn(around)
        assert found.centre == pytest.approx((50.8, 50.8))
        assert (found.half_width, found.half_height) == pytest.approx((25.4, 25.4))
    bent = [*quarters[:1], (72, k * 1.02), *quarters[2:]]
    assert drawn(bent) == []
    assert drawn([quarters[0]] * 13) == []
    tilted = [(0.8 * x - 0.6 * y, 0.3 * x + 0.4 * y) for x, y in quarters]
    assert drawn(tilted) == []


# Words of other makers

FONT = "/Font << /F << /Type /Font /Subtype /TrueType {} >> >>"


def test_words_follow_every_operator_that_moves_them():
    """ISO 32000-1, table 108."""
    page = painted(
        b"BT /F 10 Tf 12 TL 72 144 Td (a) Tj (b) Tj 0 -36 TD (c) Tj T* (d) Tj"
        b" (e) ' 1 2 (f) \" 0 1 -1 0 72 72 Tm [(g) -250 (h)] TJ ET",
        resources=FONT.format(""),
    )
    assert [(text.text, text.angle) for text in page.items] == [
        ("ab", 0),
        ("c", 0),
        ("d", 0),
        ("e", 0),
        ("f", 0),
        ("gh", 90),
    ]
    places = [(1, 2), (1, 1.5), (1, 1), (1, 0.5), (1, 0), (1, 1)]
    assert [text.at for text in page.items] == inches(places)
    assert {round(text.size * 72 / 25.4, 9) for text in page.items} == {10}


def test_words_grow_and_turn_with_the_transform():
    content = b"q 0 2 -2 0 72 0 cm BT /F 10 Tf 0 -1 1 0 36 0 Tm (a) Tj ET Q"
    (text,) = painted(content, resources=FONT.format("")).items
    assert (text.at, text.size * 72 / 25.4) == (inches([(1, 1)])[0], pytest.approx(20))
    assert text.angle == pytest.approx(0, abs=1e-9)


def test_words_that_are_not_painted_are_not_read():
    content = b"BT /F 10 Tf 3 Tr (hidden) Tj 0 Tr 9 9 Td (shown) Tj ET"
    assert [text.text for text in painted(content, resources=FONT.format("")).items] == ["shown"]


@pytest.mark.parametrize(
    ("token", "said"),
    [
        (rb"(a\(b\)\\c)", r"a(b)\c"),
        (rb"(a(b(c)d)e)", "a(b(c)d)e"),
        (rb"(\101\12\7x)", "A\n\x07x"),
        (b"(a\\\nb)", "ab"),
        (b"<41 4>", "A@"),
        (b"(% no comment)", "% no comment"),
        (b"(BT ET) % a comment (", "BT ET"),
        (b"(\x93quoted\x94)", "“quoted”"),
    ],
)
def test_strings_say_what_the_standard_says(token, said):
    """ISO 32000-1, 7.3.4; a font without a table is taken for WinAnsi (annex D)."""
    content = b"BT /F 10 Tf " + token + b"\nTj ET"
    assert painted(content, resources=FONT.format("")).items[0].text == said


TABLE = b"""/CIDInit /ProcSet findresource begin
1 begincodespacerange <0000> <FFFF> endcodespacerange
2 beginbfchar <0001> <0041> <0002> <D83DDE00> endbfchar
2 beginbfrange <0010> <0012> <0061> <0020><0021>[<00660069> <2033>] endbfrange
endcmap"""


def test_codes_of_two_bytes_are_read_by_the_fonts_own_table():
    """ISO 32000-1, 9.10.3: single codes, ranges that count up, ranges that are listed."""
    fonts = "/Font << /F << /Type /Font /Subtype /Type0 /ToUnicode 5 0 R >> >>"
    content = b"BT /F 10 Tf <000100020010001100120020002100FF> Tj ET"
    page = painted(content, resources=fonts, objects=[packed(TABLE)])
    assert page.items[0].text == "A😀abcfi″\ufffd"


def test_widths_add_up_over_the_font_size():
    font = FONT.format("/FirstChar 97 /Widths [500 250]")
    (text,) = painted(b"BT /F 20 Tf (abac) Tj ET", resources=font).items
    assert text.width * 72 / 25.4 == pytest.approx(20 * (0.5 + 0.25 + 0.5))


def test_a_form_is_painted_where_it_is_called_and_a_picture_is_not():
    form = "/Type /XObject /Subtype /Form /Matrix [1 0 0 1 72 0] /Resources << >>"
    page = painted(
        b"q 2 0 0 2 0 0 cm /A Do Q /B Do 0 0 m 9 0 l S",
        resources="/XObject << /A 5 0 R /B 6 0 R >>",
        objects=[
            packed(b"5 w 0 0 m 0 36 l S", form),
            packed(b"\0", "/Type /XObject /Subtype /Image /Width 1 /Height 1"),
        ],
    )
    assert list(page.items[0].points) == inches([(2, 0), (2, 1)])
    assert [stroke.weight * 72 / 25.4 for stroke in page.items] == pytest.approx([10, 1])


def test_marks_inside_marks_belong_to_the_outer_run():
    page = painted(b"/Tile << /MCID 0 >> BDC /Inner BMC 0 0 m 9 0 l S EMC 0 9 m 9 9 l S EMC")
    assert [(run.tag, len(run.strokes)) for run in page.runs] == [("Tile", 2)]
    assert page.items == ()


def test_content_in_several_streams_is_one():
    page = painted(b"0 0 m 72", contents="[4 0 R 5 0 R]", objects=[packed(b"0 l S")])
    assert list(page.items[0].points) == inches([(0, 0), (1, 0)])


def test_places_are_from_the_corner_that_a_viewer_shows_in_its_unit():
    page = painted(b"72 72 m 144 72 l S", page="/CropBox [72 36 360 396] /UserUnit 2 /Rotate 90")
    assert (page.width, page.height) == pytest.approx((8 * 25.4, 10 * 25.4))
    assert list(page.items[0].points) == inches([(0, 1), (2, 1)])
    assert page.turned == 90


# What cannot be read

SAMPLE = write_pdf(
    [
        Page(
            210,
            297,
            "1",
            "Sheet",
            (
                Run("Tile", (*cross((50, 50), 4.5, Pen.CROSS), Text("4-1 ½", (9, 9), 3))),
                Ellipse((90, 90), 3, 3, Pen.BASE),
                Field("a", (9, 9), 40, 8, "hint", "5′"),
            ),
        )
    ],
    "Kestrel Mill",
    {"job.yaml": b"title: Kestrel Mill\n" * 20},
)


def read_whole(data):
    """Read all of a file; True where it could be read, False where it was refused."""
    try:
        pack = read_pdf(data, "pack.pdf")
        dict(pack.fields)
        numbers = [page.number for page in pack.pages]
    except BadInput as error:
        said = str(error)
    else:
        assert numbers == list(range(1, len(pack.pages) + 1))
        return True
    assert said.startswith(("pack.pdf ", "pack.pdf: "))
    assert "\n" not in said
    return False


def test_a_file_cut_short_anywhere_is_read_or_refused_in_one_line(caplog):
    cuts = [
        *range(0, 200, 9),
        *range(200, len(SAMPLE), 397),
        *range(len(SAMPLE) - 900, len(SAMPLE), 31),
    ]
    assert not read_whole(b"")
    for cut in cuts:
        read_whole(SAMPLE[:cut])
    assert read_whole(SAMPLE)
    assert caplog.records == []


def test_a_file_with_changed_bytes_is_read_or_refused_in_one_line():
    rng = random.Random(4)
    for _ in range(150):
        data = bytearray(SAMPLE)
        for _ in range(rng.choice((1, 3, 30))):
            data[rng.randrange(len(data))] = rng.randrange(256)
        read_whole(bytes(data))


@some
@given(st.binary(max_size=400))
def test_content_of_any_bytes_is_read_or_refused_in_one_line(content):
    read_whole(raw_pdf(content, resources=FONT.format("")))


fragments = st.sampled_from(
    b"q Q cm 1 0 -2.5 72 m l c h S f BT ET /F Tf Tj (a) <41> [ ] << >> TJ Td BMC EMC Do BI".split()
)


@some
@given(st.lists(fragments, max_size=40))
def test_content_of_any_operators_is_read_or_refused_in_one_line(parts):
    read_whole(raw_pdf(b" ".join(parts), resources=FONT.format("")))


@some
@given(st.binary(max_size=300))
def test_bytes_at_random_are_refused(data):
    assert not read_whole(data)
    assert not read_whole(b"%PDF-1.7\n" + data)


def loop(kids):
    return raw_pdf(b"").replace(b"/Kids [3 0 R]", kids)


DAMAGED = {
    "pages that loop": loop(b"/Kids [2 0 R]"),
    "a page with no size": raw_pdf(b"", box="[0 0 0 0]"),
    "a page of no numbers": raw_pdf(b"", box="[0 0 (a) 9]"),
    "a page over any printer": raw_pdf(b"", box="[0 0 90000 90000]"),
    "files that loop": raw_pdf(
        b"", root="/Names << /EmbeddedFiles 5 0 R >>", objects=["<< /Kids [5 0 R] >>"]
    ),
    "fields that loop": raw_pdf(
        b"", root="/AcroForm << /Fields [5 0 R] >>", objects=["<< /T (a) /Kids [5 0 R] >>"]
    ),
    "labels that loop": raw_pdf(b"", root="/PageLabels 5 0 R", objects=["<< /Kids [5 0 R] >>"]),
    "a form in itself": raw_pdf(
        b"/A Do",
        resources="/XObject << /A 5 0 R >>",
        objects=[packed(b"/A Do", "/Subtype /Form /Resources << /XObject << /A 5 0 R >> >>")],
    ),
    "states without an end": raw_pdf(b"q " * 5000),
    "a state that was not saved": raw_pdf(b"Q"),
    "a run without an end": raw_pdf(b"/Tile BMC 0 0 m 9 9 l S"),
    "an end without a run": raw_pdf(b"EMC"),
    "too many numbers": raw_pdf(b"1 " * 200_000),
    "a number without end": raw_pdf(b"9" * 5000 + b" 0 m 9 9 l S"),
    "no number": raw_pdf(b"nan 0 m 9 9 l S"),
    "a number with an exponent": raw_pdf(b"1e999 0 m 9 9 l S"),
    "a transform out of range": raw_pdf(b"1000000 0 0 1000000 0 0 cm " * 9),
    "a string without an end": raw_pdf(b"BT /F 9 Tf (a Tj ET", resources=FONT.format("")),
    "words without a font": raw_pdf(b"BT (a) Tj ET"),
    "a font that is not there": raw_pdf(b"BT /G 9 Tf (a) Tj ET", resources=FONT.format("")),
    "a picture in the content": raw_pdf(b"BI /W 1 /H 1 ID x EI"),
    "an odd way of packing": raw_pdf(b"x", stream="/Filter /LZWDecode"),
    "no packed bytes": raw_pdf(b"x", stream="/Filter /FlateDecode"),
    "content cut short": raw_pdf(zlib.compress(b"0 0 m " * 99)[:-9], stream="/Filter /FlateDecode"),
    "a file cut short": raw_pdf(
        root="/Names << /EmbeddedFiles << /Names [(a) << /F (a) /EF << /F 5 0 R >> >>] >> >>",
        objects=[packed(zlib.compress(b"title: x" * 9)[:-5], "/Filter /FlateDecode")],
    ),
    "a table that counts for ever": raw_pdf(
        b"BT /F 9 Tf <0001> Tj ET",
        resources="/Font << /F << /Subtype /Type0 /ToUnicode 5 0 R >> >>",
        objects=[packed(b"9 beginbfrange" + b" <0000> <CFFF> <0000>" * 90_000 + b" endbfrange")],
    ),
    "a table that begins for ever": raw_pdf(
        b"BT /F 9 Tf <0001> Tj ET",
        resources="/Font << /F << /Subtype /Type0 /ToUnicode 5 0 R >> >>",
        objects=[packed(b"beginbfchar<" * 90_000)],
    ),
    "a stream that blows up": lambda: raw_pdf(
        zlib.compress(b"0 0 m 9 9 l S\n" * 6_000_000, 9), stream="/Filter /FlateDecode"
    ),
    "a page full beyond sense": lambda: raw_pdf(
        zlib.compress(b"% nothing\n" * 1_100_000, 9), stream="/Filter /FlateDecode"
    ),
    "a file over 50 MB": lambda: SAMPLE + b"\n" * 50_000_000,
}


@pytest.mark.parametrize("what", DAMAGED)
def test_a_hostile_file_is_refused_soon(what):
    data = DAMAGED[what]
    data = data() if callable(data) else data
    start = time.process_time()
    assert not read_whole(data)
    assert time.process_time() - start < 3  # seconds: an endless loop, not a slow machine


def test_arrays_in_arrays_are_read_or_refused_in_one_line():
    for page in ("/Annots " + "[" * 5000, "/Annots " + "<< /A " * 5000):
        read_whole(raw_pdf(page=page))


def test_many_pages_that_are_one_are_refused():
    assert read_whole(loop(b"/Kids [" + b"3 0 R " * 50 + b"]"))
    assert not read_whole(loop(b"/Kids [" + b"3 0 R " * 20_001 + b"]"))


def test_an_encrypted_file_is_refused_with_what_to_do():
    writer = pypdf.PdfWriter(clone_from=io.BytesIO(SAMPLE))
    writer.encrypt("secret", algorithm="RC4-128")
    out = io.BytesIO()
    writer.write(out)
    with pytest.raises(BadInput, match=r"^a\.pdf is encrypted - save it without a password$"):
        read_pdf(out.getvalue(), "a.pdf")


def test_reading_again_costs_nothing_of_the_limit(monkeypatch):
    pack = read_pdf(SAMPLE)
    assert len(pack.pages[0].items) == 2
    monkeypatch.setattr(pack.pages.library, "allowed", pack.pages.library.unpacked)
    assert [len(pack.pages[0].items) for _ in range(50)] == [2] * 50


def test_the_librarys_log_is_heard_again_after_a_reading():
    log = logging.getLogger("pypdf")
    before = log.level
    assert not read_whole(SAMPLE[:5000].replace(b"obj", b"abc"))
    assert log.level == before


# The reader stands alone


def test_the_reader_shares_no_code_with_the_writer():
    allowed = ("stairjig.errors", "stairjig.frozen", "stairjig.proof")
    folder = Path(stairjig.proof.__file__).parent
    for module in ("reading", "holdings", "operators", "tokens", "fontcodes", "marks"):
        tree = ast.parse((folder / f"{module}.py").read_text("utf-8"))
        for node in ast.walk(tree):
            names = [node.module] if isinstance(node, ast.ImportFrom) else []
            names += [name.name for name in node.names] if isinstance(node, ast.Import) else []
            for name in names:
                assert not name.startswith(("stairjig", "reportlab")) or name.startswith(allowed)
