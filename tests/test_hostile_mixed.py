"""Paper of two revisions in one file: whatever is mixed, `proof` and `check` say so by pack ID."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path

import pytest
from commands import DONE, FAILS, WRONG, call
from fuzz.calls import ONE
from pypdf import PdfReader, PdfWriter, Transformation
from pypdf.generic import DictionaryObject, NameObject

OTHER = ONE.replace(b"10 1/4", b"10 5/16")
Packs = tuple[Path, dict[str, bytes], str, str]


@pytest.fixture(scope="module")
def made(tmp_path_factory) -> Packs:
    """A folder, the packs `a` and `b` of two revisions and a sheet of each, and both pack IDs."""
    folder, packs, ids = tmp_path_factory.mktemp("mixed"), {}, []
    for name, source in (("a", ONE), ("b", OTHER)):
        (folder / f"{name}.yaml").write_bytes(source)
        said = call(folder, "pack", f"{name}.yaml", "-o", f"{name}.pdf")
        ids.append(said.out.partition("pack ")[2][:6])
        call(folder, "pack", f"{name}.yaml", "-o", f"{name} sheet.pdf", "--sheet", "2")
        for stem in (name, f"{name} sheet"):
            packs[stem] = (folder / f"{stem}.pdf").read_bytes()
    return folder, packs, *ids


def rewritten(data: bytes, change) -> bytes:
    """The PDF as another library writes it after a change."""
    writer, out = PdfWriter(clone_from=BytesIO(data)), BytesIO()
    change(writer)
    writer.write(out)
    return out.getvalue()


def swapped(one: bytes, other: bytes, label: str) -> tuple[bytes, int]:
    """One pack with the first page of that label from another, and the page's number."""

    def place(data: bytes) -> int:
        labels = PdfReader(BytesIO(data)).page_labels
        return next(index for index, found in enumerate(labels) if found.startswith(label))

    index = place(one)
    strange = PdfReader(BytesIO(other)).pages[place(other)]

    def swap(writer):
        writer.insert_page(strange, index)
        writer.remove_page(index + 1)

    return rewritten(one, swap), index + 1


def lines_of(folder: Path, data: bytes, *command: str) -> tuple[int, list[str]]:
    (folder / "x.pdf").write_bytes(data)
    said = call(folder, *command)
    assert said.out == ""
    return said.status, [line.removeprefix("stairjig: ") for line in said.lines]


@pytest.mark.parametrize("label", ["cover", "test", "newels", "1", "check", "boring"])
def test_a_page_of_another_pack_is_told_by_both_pack_ids(made, label):
    """Strips or words: one line, not the many that a comparison of its marks would give."""
    folder, packs, mine, other = made
    data, page = swapped(packs["a"], packs["b"], label)
    assert lines_of(folder, data, "proof", "x.pdf") == (
        FAILS,
        [
            f"page {page} is a sheet of pack {other}, not of pack {mine}, which this job makes - "
            "never use the two together"
        ],
    )


def test_a_job_that_makes_another_pack_is_told(made):
    folder, packs, mine, other = made

    def carry(writer):
        writer._root_object[NameObject("/Names")] = DictionaryObject()
        for name, (data,) in PdfReader(BytesIO(packs["a"])).attachments.items():
            writer.add_attachment(name, data)

    line = (
        f"every sheet says pack {other}, but this job makes pack {mine}: it is another job, or "
        "another version of stairjig laid it out"
    )
    assert lines_of(folder, rewritten(packs["b"], carry), "proof", "x.pdf") == (FAILS, [line])


def test_a_sheet_printed_again_for_another_pack_is_told(made):
    folder, packs, mine, other = made
    label = PdfReader(BytesIO(packs["a sheet"])).page_labels[0]
    data, _ = swapped(packs["a sheet"], packs["b sheet"], label)
    status, (line,) = lines_of(folder, data, "proof", "x.pdf")
    assert status == FAILS
    assert line.startswith(f"page 1 is a sheet of pack {other}, not of pack {mine}")


def test_sheets_missing_or_double_are_told_by_number(made):
    folder, packs, *_ = made
    count = len(PdfReader(BytesIO(packs["a"])).pages)
    short = rewritten(packs["a"], lambda writer: writer.remove_page(2))
    line = f"of {count} sheets {count - 1} are there; missing: 3"
    assert lines_of(folder, short, "proof", "x.pdf") == (FAILS, [line])
    first = PdfReader(BytesIO(packs["a"])).pages[0]
    double = rewritten(packs["a"], lambda writer: writer.insert_page(first, 3))
    assert lines_of(folder, double, "proof", "x.pdf") == (FAILS, ["sheet 1 is there 2 times"])


def test_a_page_that_says_no_pack_is_told(made):
    folder, packs, mine, _ = made
    bare = rewritten(packs["a"], lambda writer: writer.add_blank_page())
    status, lines = lines_of(folder, bare, "proof", "x.pdf")
    page = len(PdfReader(BytesIO(bare)).pages)
    assert status == FAILS
    assert lines[0] == f"page {page} does not say that it is a sheet of pack {mine}"


def fill(writer):
    for page in writer.pages:
        if "/Annots" in page:
            fields = {"check__1__1-2__running": "4 1/4", "check__1__1-3__running": "8 1/2"}
            writer.update_page_form_field_values(page, fields, auto_regenerate=False)


def test_a_check_page_of_another_pack_is_not_checked(made):
    """Alone among the pages of its own, or the whole of it beside the job."""
    folder, packs, mine, other = made
    data, page = swapped(packs["a"], rewritten(packs["b"], fill), "check")
    status, (line,) = lines_of(folder, data, "check", "x.pdf")
    assert status == WRONG
    assert line == (
        f"x.pdf: page {page} is a sheet of pack {other}, not of pack {mine}, which this job makes "
        "- never use the two together"
    )
    whole = rewritten(packs["b"], fill)
    status, (line,) = lines_of(folder, whole, "check", "a.yaml", "x.pdf")
    assert status == WRONG
    assert line.startswith(f"x.pdf: every sheet says pack {other}, but this job makes pack {mine}:")


def test_a_filled_pack_may_be_checked_beside_its_job(made):
    folder, packs, *_ = made
    (folder / "x.pdf").write_bytes(rewritten(packs["b"], fill))
    one, other = (call(folder, "check", *words) for words in (["b.yaml", "x.pdf"], ["x.pdf"]))
    assert one == other
    assert one.out


def test_a_title_like_a_pack_id_makes_no_stranger(tmp_path):
    (tmp_path / "job.yaml").write_bytes(ONE.replace(b"Wren House", b"pack ABCDEF"))
    assert call(tmp_path, "pack", "job.yaml", "-o", "x.pdf").status == DONE
    assert call(tmp_path, "proof", "x.pdf").status == DONE


def test_of_many_faults_the_first_are_told_and_what_to_do(tmp_path):
    """A sheet that was scaled has a hundred; the same sheet missing has one."""
    (tmp_path / "job.yaml").write_bytes(ONE)
    assert call(tmp_path, "pack", "job.yaml", "-o", "a pack.pdf").status == DONE
    data = (tmp_path / "a pack.pdf").read_bytes()
    labels = PdfReader(BytesIO(data)).page_labels
    index = next(n for n, label in enumerate(labels) if label.isdigit())

    def scale(writer):
        writer.pages[index].add_transformation(Transformation().scale(0.97))

    (tmp_path / "a pack.pdf").write_bytes(rewritten(data, scale))
    said = call(tmp_path, "proof", "a pack.pdf")
    count = int(said.lines[0].split(" places")[0].split()[-1])
    assert said.status == FAILS
    assert said.lines[0].endswith("make it anew: stairjig pack 'a pack.pdf' -o new.pdf")
    assert len(said.lines) == 14
    assert said.lines[-1] == f"stairjig: and {count - 12} more like these"
    (tmp_path / "b.pdf").write_bytes(rewritten(data, lambda writer: writer.remove_page(index)))
    said = call(tmp_path, "proof", "b.pdf")
    assert said.status == FAILS
    assert [line.split("; ")[-1] for line in said.lines] == [f"missing: {index + 1}"]
