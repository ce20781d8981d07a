"""A pack from disk is the one that its job gives, on every page and down to the bytes drawn."""

from __future__ import annotations

import json
from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import pytest
from proof_packs import flight_text
from pypdf import PdfReader, PdfWriter
from pypdf.generic import (
    ArrayObject,
    DecodedStreamObject,
    DictionaryObject,
    FloatObject,
    NameObject,
    NumberObject,
    TextStringObject,
)
from test_check_command import by_pdfium, by_pypdf

from stairjig.anew import comparable, differences
from stairjig.cli import main
from stairjig.intake import open_pack
from stairjig.setout.build import set_out

ALIKE = "every page is as it was made, but for what is filled in"
Change = Callable[[PdfWriter, DictionaryObject], object]


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("anew")
    job = folder / "job.yaml"
    job.write_text(flight_text())
    assert main(["pack", str(job), "-o", str(folder / "pack.pdf")]) == 0
    return folder / "pack.pdf"


def told(data: bytes) -> list[str]:
    opened = open_pack(data, "pack.pdf")
    assert comparable(opened)
    found = differences(data, opened, set_out(opened.job), "pack.pdf")
    return [finding.text for finding in found]


def changed(file: Path, number: int, change: Change) -> bytes:
    writer = PdfWriter(clone_from=PdfReader(file))
    change(writer, writer.pages[number])
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


def drawn(change: Callable[[bytes], bytes]) -> Change:
    """What a page draws, changed."""

    def in_page(writer: PdfWriter, page: DictionaryObject) -> None:
        before = page["/Contents"].get_object().get_data()  # type: ignore[attr-defined]
        stream = DecodedStreamObject()
        stream.set_data(change(before))
        assert stream.get_data() != before
        page[NameObject("/Contents")] = writer._add_object(stream)

    return in_page


def stamped(writer: PdfWriter, page: DictionaryObject) -> None:
    """Something laid over the page by a viewer."""
    box = ArrayObject(map(NumberObject, (10, 10, 500, 700)))
    stamp = {"/Type": "/Annot", "/Subtype": "/Square", "/Rect": box}
    entries = {NameObject(k): NameObject(v) if isinstance(v, str) else v for k, v in stamp.items()}
    held = page.get("/Annots", ArrayObject()).get_object()
    page[NameObject("/Annots")] = ArrayObject(
        [*held, writer._add_object(DictionaryObject(entries))]
    )


def moved_field(_: PdfWriter, page: DictionaryObject) -> None:
    widget = page["/Annots"].get_object()[0].get_object()  # type: ignore[index]
    widget[NameObject("/Rect")] = ArrayObject(FloatObject(n) for n in (20, 20, 90, 40))


def regreyed(_: PdfWriter, page: DictionaryObject) -> None:
    spaces = DictionaryObject({NameObject("/DefaultGray"): NameObject("/DeviceGray")})
    page["/Resources"].get_object()[NameObject("/ColorSpace")] = spaces  # type: ignore[index]


def another_font(writer: PdfWriter, page: DictionaryObject) -> None:
    fonts = page["/Resources"].get_object()["/Font"].get_object()  # type: ignore[index]
    first = fonts[sorted(fonts)[0]].get_object()
    stream = DecodedStreamObject()
    stream.set_data(b"other letters")
    held = first["/FontDescriptor"].get_object()
    held[NameObject("/FontFile")] = writer._add_object(stream)


def keyed(key: str, value: object) -> Change:
    return lambda _, page: page.__setitem__(NameObject(key), value)  # type: ignore[arg-type]


def unscaled(writer: PdfWriter, _: DictionaryObject) -> None:
    del writer._root_object["/ViewerPreferences"]


CHANGES: dict[str, Change] = {
    "a word": drawn(lambda data: data.replace(b"(", b"(!", 1)),
    "words moved up": drawn(lambda data: data.replace(b" Tm", b" Tm 0 9 Td", 1)),
    "a hidden letter": drawn(lambda data: data + b" 1 g 0 0 200 200 re f"),
    "turned": keyed("/Rotate", NumberObject(90)),
    "other units": keyed("/UserUnit", FloatObject(2)),
    "another box": keyed("/MediaBox", ArrayObject(map(NumberObject, (0, 0, 600, 700)))),
    "packed in another way": keyed("/Group", DictionaryObject()),
    "stamped": stamped,
    "another grey": regreyed,
    "another font": another_font,
    "scaled by the viewer": unscaled,
}


@pytest.mark.parametrize("name", CHANGES)
def test_whatever_is_changed_of_a_page_is_told(file: Path, name: str) -> None:
    """On the page of the boring card, which the proof of marks and words does not read."""
    pages = PdfReader(file).pages
    number = next(n for n, page in enumerate(pages) if "Bore nothing before" in page.extract_text())
    faults = told(changed(file, number, CHANGES[name]))
    where = f"page {number + 1} of the file"
    if name == "scaled by the viewer":
        where = "how the file is to be shown"
    assert faults
    assert f"{where} was changed after it was made: print the pack anew from its job" in faults


def test_a_field_that_is_moved_is_told(file: Path) -> None:
    number = next(n for n, page in enumerate(PdfReader(file).pages) if "/Annots" in page)
    assert told(changed(file, number, moved_field)) != []


def test_a_sheet_that_is_left_out_is_told(file: Path) -> None:
    writer = PdfWriter(clone_from=PdfReader(file))
    writer.remove_page(3)
    out = BytesIO()
    writer.write(out)
    [fault] = told(out.getvalue())
    count = len(PdfReader(file).pages)
    assert fault == f"it has {count - 1} sheets, and {count} were made"


@pytest.mark.parametrize("fill", [by_pypdf, by_pdfium])
def test_a_pack_that_is_filled_in_is_still_as_it_was_made(
    file: Path, fill: Callable[[bytes, dict[str, str]], bytes]
) -> None:
    filled = fill(file.read_bytes(), {"check__1__2-1__running": "10 1/4", "test__along": "10"})
    assert told(filled) == []


def test_the_command_says_what_it_looked_at(
    file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["proof", str(file)]) == 0
    assert ALIKE in capsys.readouterr().out
    other = tmp_path / "other.pdf"
    writer = PdfWriter(clone_from=PdfReader(file))
    made = json.loads(PdfReader(file).attachments["pack.json"][0])
    names = writer._root_object["/Names"]["/EmbeddedFiles"]["/Names"]  # type: ignore[index]
    for spec in names[1::2]:
        held = spec.get_object()
        if held["/F"] == "pack.json":
            stream = DecodedStreamObject()
            stream.set_data(json.dumps({**made, "stairjig": "0.0.1"}).encode())
            held[NameObject("/EF")] = DictionaryObject(
                {NameObject("/F"): writer._add_object(stream)}
            )
            held[NameObject("/UF")] = TextStringObject("pack.json")
    writer.write(other)
    assert main(["proof", str(other)]) == 0
    assert "made with another version" in capsys.readouterr().out
    stamp = tmp_path / "stamped.pdf"
    stamp.write_bytes(changed(file, 0, stamped))
    assert main(["proof", str(stamp)]) == 1
    assert "page 1 of the file was changed after it was made" in capsys.readouterr().err


def test_what_a_pack_warns_of_is_the_same_whatever_its_file_is_called(tmp_path: Path) -> None:
    """The warnings stand on its cover, and the job is read again out of the pack."""
    job = tmp_path / "odd.yaml"
    job.write_text(flight_text().replace("nosing: 1 1/8", "nosing: 1 1/9"))
    assert main(["pack", str(job), "-o", str(tmp_path / "odd.pdf")]) == 0
    assert main(["proof", str(tmp_path / "odd.pdf")]) == 0
