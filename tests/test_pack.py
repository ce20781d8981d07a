"""The whole way from a job file to a proved pack, through the command line."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from io import BytesIO
from pathlib import Path

import pypdfium2
import pytest
from packs import SAMPLE_NAMES, SAMPLES, sample
from plain_reader import read_tiles
from pypdf import PdfReader, PdfWriter
from pypdf.generic import NameObject, StreamObject

from stairjig.cli import main


@pytest.fixture(scope="module")
def kestrel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The pack of the uneven flight."""
    path = tmp_path_factory.mktemp("pack") / "kestrel.pdf"
    assert main(["pack", str(SAMPLES / "kestrel-mill.yaml"), "-o", str(path)]) == 0
    return path


def runs_of(data: bytes) -> list[bytes]:
    """The tiles' runs of the content streams, as bytes."""
    return [
        run
        for page in PdfReader(BytesIO(data)).pages
        for run in re.findall(rb"/Tile BMC.*?EMC", page.get_contents().get_data(), re.S)
    ]


@pytest.mark.parametrize("name", SAMPLE_NAMES)
def test_every_sample_is_packed_proved_and_opened_by_another_engine(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    target = tmp_path / "a pack.pdf"
    assert main(["pack", str(SAMPLES / name), "-o", str(target)]) == 0
    assert "read back and proved" in capsys.readouterr().out
    assert main(["proof", str(target)]) == 0
    document = pypdfium2.PdfDocument(target)
    setout = sample(name)
    width, height = document[0].get_size()
    assert width == pytest.approx(float(setout.job.paper.width) / 25.4 * 72, abs=1e-3)
    assert height == pytest.approx(float(setout.job.paper.height) / 25.4 * 72, abs=1e-3)
    text = document[0].get_textpage().get_text_range()
    assert setout.pack_id in text
    assert setout.job.title in text
    document.close()


def test_every_sheet_says_its_number_and_the_pack_id(kestrel: Path) -> None:
    reader = PdfReader(kestrel)
    pack_id = sample("kestrel-mill.yaml").pack_id
    for number, page in enumerate(reader.pages, start=1):
        text = page.extract_text()
        assert f"sheet {number} of {len(reader.pages)}" in text
        assert pack_id in text


def test_the_catalog_asks_not_to_scale_and_names_the_pages(kestrel: Path) -> None:
    """PrintScaling None: ISO 32000-1, 12.2, Table 150."""
    reader = PdfReader(kestrel)
    root = reader.trailer["/Root"]
    assert root["/ViewerPreferences"]["/PrintScaling"] == "/None"
    assert len(reader.page_labels) == len(reader.pages)
    assert reader.outline
    for page in reader.pages:
        for font in page["/Resources"]["/Font"].values():
            body = font.get_object()
            if body["/Subtype"] == "/TrueType":
                assert "/FontFile2" in body["/FontDescriptor"]


def test_the_job_is_in_the_pack_byte_for_byte(kestrel: Path) -> None:
    files = PdfReader(kestrel).attachments
    assert files["job.yaml"] == [(SAMPLES / "kestrel-mill.yaml").read_bytes()]
    made = json.loads(files["pack.json"][0])
    assert made["paper"] == "letter"
    assert made["only"] == []
    assert made["sheet"] is made["printer"] is None


def test_the_same_job_gives_the_same_bytes_in_another_process(
    kestrel: Path, tmp_path: Path
) -> None:
    again = tmp_path / "again.pdf"
    job = SAMPLES / "kestrel-mill.yaml"
    environment = {
        **os.environ,
        "PYTHONHASHSEED": "7",
        "SOURCE_DATE_EPOCH": "1",
        "TZ": "Asia/Tokyo",
    }
    command = [sys.executable, "-m", "stairjig", "pack", str(job), "-o", str(again)]
    subprocess.run(command, check=True, env=environment, capture_output=True, cwd=tmp_path)
    assert again.read_bytes() == kestrel.read_bytes()


def test_a_pack_is_a_job_and_gives_itself(kestrel: Path, tmp_path: Path) -> None:
    again = tmp_path / "again.pdf"
    assert main(["pack", str(kestrel), "-o", str(again)]) == 0
    assert again.read_bytes() == kestrel.read_bytes()


def test_another_paper_is_kept_when_the_pack_is_opened_again(tmp_path: Path) -> None:
    first, again = tmp_path / "first.pdf", tmp_path / "again.pdf"
    job = str(SAMPLES / "kestrel-mill.yaml")
    assert main(["pack", job, "--paper", "tabloid", "-o", str(first)]) == 0
    assert main(["pack", str(first), "-o", str(again)]) == 0
    assert again.read_bytes() == first.read_bytes()
    assert main(["proof", str(first)]) == 0


def test_a_pack_is_never_written_onto_its_input(kestrel: Path) -> None:
    before = kestrel.read_bytes()
    assert main(["pack", str(kestrel), "-o", str(kestrel)]) == 2
    assert kestrel.read_bytes() == before


def long_of(match: re.Match[str]) -> float:
    a, b, c, d = (float(match[n]) for n in range(1, 5))
    return abs(a - c) + abs(b - d)


def moved_by_a_tenth(data: bytes, mark: int) -> bytes:
    """The pack with the `mark`th centre cross of its fifth tile moved 0.1 mm in its stream."""
    reader = PdfReader(BytesIO(data))
    tile = read_tiles(data)[4]
    writer = PdfWriter(clone_from=reader)
    page = writer.pages[tile.page - 1]
    code = page.get_contents().get_data().decode("latin-1")
    u, v = (value * 72 / 25.4 for value in tile.marks()[mark])
    found = [
        match
        for match in re.finditer(r"(\S+) (\S+) m\s+(\S+) (\S+) l", code)
        if abs((float(match[1]) + float(match[3])) / 2 - u) < 0.01
        and abs((float(match[2]) + float(match[4])) / 2 - v) < 0.01
        and abs(long_of(match) - 9 / 25.4 * 72) < 0.01
    ]
    assert len(found) == 2
    shift = 0.1 * 72 / 25.4
    for match in reversed(found):
        a, b, c, d = (float(match[n]) for n in range(1, 5))
        moved = f"{a:.5f} {b + shift:.5f} m {c:.5f} {d + shift:.5f} l"
        code = code[: match.start()] + moved + code[match.end() :]
    stream = StreamObject()
    stream.set_data(code.encode("latin-1"))
    page[NameObject("/Contents")] = writer._add_object(stream)
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


def test_a_mark_moved_by_a_tenth_of_a_millimetre_fails_the_proof_by_name(
    kestrel: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    damaged = tmp_path / "damaged.pdf"
    damaged.write_bytes(moved_by_a_tenth(kestrel.read_bytes(), 0))
    capsys.readouterr()
    assert main(["proof", str(damaged)]) == 1
    said = capsys.readouterr().err
    assert re.search(r"Hall flight · \S+.*: mark \d+-\d is \+0\.100 mm along", said)
    assert said.count("mark") == 1


@pytest.mark.parametrize(
    ("only", "names"),
    [
        (["Hall flight:4,7-8"], {"tread 4", "tread 7", "tread 8"}),
        (["rail"], {"rail"}),
        (["hall flight:rail", "Hall flight:2"], {"rail", "tread 2"}),
    ],
)
def test_a_reprint_holds_the_chosen_strips_with_the_same_bytes(
    kestrel: Path, tmp_path: Path, only: list[str], names: set[str]
) -> None:
    part = tmp_path / "part.pdf"
    words = [word for spec in only for word in ("--only", spec)]
    assert main(["pack", str(kestrel), *words, "-o", str(part)]) == 0
    tiles = read_tiles(part.read_bytes())
    assert {tile.name.split(" · ")[1] for tile in tiles} == names
    whole = set(runs_of(kestrel.read_bytes()))
    assert set(runs_of(part.read_bytes())) < whole
    reader = PdfReader(part)
    count = len(PdfReader(kestrel).pages)
    for page in reader.pages:
        text = page.extract_text()
        assert "REPRINT" in text
        assert f" of {count}" in text
        assert sample("kestrel-mill.yaml").pack_id in text
    assert main(["proof", str(part)]) == 0
    again = tmp_path / "again.pdf"
    assert main(["pack", str(part), "-o", str(again)]) == 0
    assert again.read_bytes() == part.read_bytes()


def test_one_sheet_is_printed_again_and_proved(kestrel: Path, tmp_path: Path) -> None:
    pages = PdfReader(kestrel).pages
    strips = [
        number
        for number, page in enumerate(pages, start=1)
        if b"/Tile BMC" in page.get_contents().get_data()
    ]
    for number in (strips[0], strips[len(strips) // 2], 1):
        part = tmp_path / f"sheet{number}.pdf"
        assert main(["pack", str(kestrel), "--sheet", str(number), "-o", str(part)]) == 0
        reader = PdfReader(part)
        assert len(reader.pages) == 1
        assert f"sheet {number} of {len(pages)}" in reader.pages[0].extract_text()
        assert main(["proof", str(part)]) == 0
    whole = set(runs_of(kestrel.read_bytes()))
    assert set(runs_of((tmp_path / f"sheet{strips[0]}.pdf").read_bytes())) <= whole


def test_a_sheet_printed_again_with_a_mark_moved_fails_the_proof(
    kestrel: Path, tmp_path: Path
) -> None:
    tile = read_tiles(kestrel.read_bytes())[4]
    part = tmp_path / "part.pdf"
    assert main(["pack", str(kestrel), "--sheet", str(tile.page), "-o", str(part)]) == 0
    data = part.read_bytes()
    tiles = read_tiles(data)
    writer = PdfWriter(clone_from=PdfReader(BytesIO(data)))
    page = writer.pages[0]
    code = page.get_contents().get_data()
    u, v = (value * 72 / 25.4 for value in tiles[0].marks()[0])
    strokes = re.findall(rb"\S+ \S+ m\s+\S+ \S+ l", code)
    near = [
        s for s in strokes
        if abs(sum(float(s.split()[n]) for n in (0, 3)) / 2 - u) < 0.01
        and abs(sum(float(s.split()[n]) for n in (1, 4)) / 2 - v) < 0.01
    ]  # fmt: skip
    for stroke in near:
        parts = stroke.split()
        parts[1] = b"%.5f" % (float(parts[1]) + 0.5)
        parts[4] = b"%.5f" % (float(parts[4]) + 0.5)
        code = code.replace(stroke, b" ".join(parts))
    stream = StreamObject()
    stream.set_data(code)
    page[NameObject("/Contents")] = writer._add_object(stream)
    writer.write(part)
    assert main(["proof", str(part)]) == 1


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["--only", "Hal flight:2"], "did you mean"),
        (["--only", "Hall flight:99"], "no strip for tread 99"),
        (["--only", "Hall flight:1-300"], "for tread 300 - it has strips for treads 1 to 15"),
        (["--only", "Hall flight:9-7"], "counts backward"),
        (["--only", "Hall flight:x"], "is no tread"),
        (["--only", "attic"], "no strip is called so"),
        (["--sheet", "999"], "no sheet 999"),
        (["--sheet", "0"], "no sheet 0"),
        (["--printer", "nobody"], "no printer called"),
    ],
)
def test_a_selection_that_is_not_there_is_told(
    words: list[str], says: str, tmp_path: Path, capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:  # fmt: skip
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    target = tmp_path / "out.pdf"
    job = str(SAMPLES / "kestrel-mill.yaml")
    assert main(["pack", job, *words, "-o", str(target)]) == 2
    assert says in capsys.readouterr().err
    assert not target.exists()


def test_a_layout_that_fails_writes_nothing_and_says_what_would_pass(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = (SAMPLES / "kestrel-mill.yaml").read_text()
    text = text.replace("side: left", "side: left\n    per_tread: 2")
    job, target = tmp_path / "job.yaml", tmp_path / "job.pdf"
    job.write_text(text)
    assert main(["pack", str(job), "-o", str(target)]) == 1
    assert "3 on a tread pass" in capsys.readouterr().err
    assert not target.exists()


ALIKE = """
title: Wren Cottage
units: inch
openings: irc
copies: shared
balusters: {plain: {shape: square, width: 5/8}}
rail: {height: 36, depth: 2 1/2, width: 2 3/8}
sections:
  - name: Flight
    kind: treads
    side: left
    rise: 7 1/2
    nosing: 1 1/8
    line: 1 3/4
    lower_newel: {width: 3 1/2}
    upper_newel: {width: 3 1/2}
    treads: [{run: 10 1/4, times: 4}, 10, {run: 10 1/4, times: 3}]
"""


def test_treads_alike_share_one_strip(tmp_path: Path) -> None:
    job, target = tmp_path / "job.yaml", tmp_path / "job.pdf"
    job.write_text(ALIKE)
    assert main(["pack", str(job), "-o", str(target)]) == 0
    assert main(["proof", str(target)]) == 0
    names = {tile.name for tile in read_tiles(target.read_bytes())}
    assert names == {
        "Flight · tread 1",
        "Flight · treads 2 to 4, 6, 7",
        "Flight · tread 5",
        "Flight · tread 8",
        "Flight · rail",
    }
    assert main(["pack", str(job), "--only", "Flight:6", "-o", str(tmp_path / "six.pdf")]) == 0


def test_paper_that_is_too_small_is_told_with_one_that_does(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    target = tmp_path / "out.pdf"
    job = str(SAMPLES / "kestrel-mill.yaml")
    assert main(["pack", job, "--paper", "5 x 7", "-o", str(target)]) == 1
    said = capsys.readouterr().err
    assert "Hall flight · tread 1 and " in said
    assert "can't be cut for 5 x 7" in said
    assert not target.exists()
