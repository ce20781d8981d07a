"""The form from the command line: written, filled in, laid out, packed, saved as a job file."""

from __future__ import annotations

import io
import json
from pathlib import Path

import pypdf
import pytest
from form_files import PORCH, TURN, blank, by_pdfium, by_pypdf

from stairjig.cli import main
from stairjig.proof.reading import read_pdf

SAMPLES = Path(__file__).parents[1] / "samples"
PORCH_BY_HAND = SAMPLES / "skewed-porch.yaml"
TURN_BY_HAND = """\
title: Hollow Oak, winders
units: inch
openings: irc
balusters:
  plain:
    shape: round
    width: 1 1/4
    tread_hole: {size: 3/4, depth: 1}
    rail_hole: {size: 3/4, depth: 3/4}
rail: {height: 36, depth: 2 1/2, width: 2 3/8}
sections:
  - name: Winders
    kind: treads
    side: left
    rise: 7 3/8
    nosing: 1 1/8
    line: 1 3/4
    lower_newel: {width: 3 1/2}
    upper_newel: {width: 3 1/2, place: {face: 0}}
    treads:
      - sides: {end: 8 1/2, back: 36 13/16, wall: 16 1/8, front: 36}
        diagonal: 39 7/16
        check_diagonal: 37
      - sides: {end: 8 1/4, back: 39 7/16, wall: 16 5/8, front: 36 13/16}
        diagonal: 43 7/16
        check_diagonal: 36
      - sides: {end: 7 5/8, back: 44 1/2, wall: 17 3/4, front: 39 7/16}
        diagonal: 49 3/8
        check_diagonal: 36 15/16
"""


@pytest.fixture
def folder(tmp_path, monkeypatch):
    """A folder of its own, with a blank form for seven treads in it."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "blank.pdf").write_bytes(blank("inch", 7))
    (tmp_path / "turn.yaml").write_text(TURN_BY_HAND)
    return tmp_path


def filled(folder, filler, filling):
    """A form filled in by a library and saved; its path."""
    path = folder / "filled.pdf"
    path.write_bytes(filler((folder / "blank.pdf").read_bytes(), filling))
    return path


def laid_out(path, capsys):
    assert main(["layout", str(path), "--json"]) == 0
    return json.loads(capsys.readouterr().out)


@pytest.mark.parametrize("filler", [by_pypdf, by_pdfium])
@pytest.mark.parametrize(
    ("filling", "by_hand"), [(PORCH, PORCH_BY_HAND), (TURN, Path("turn.yaml"))]
)
def test_a_filled_form_lays_out_as_the_job_written_by_hand(
    folder, capsys, filler, filling, by_hand
):
    capsys.readouterr()
    form = laid_out(filled(folder, filler, filling), capsys)
    hand = laid_out(by_hand, capsys)
    assert form == hand
    assert all(section["marks"] for section in form["sections"])


@pytest.mark.parametrize(("filling", "hand"), [(PORCH, PORCH_BY_HAND), (TURN, Path("turn.yaml"))])
def test_the_pack_of_a_filled_form_is_the_pack_of_the_job_written_by_hand(folder, filling, hand):
    """The same in every page's content; it carries the job as `--save-job` writes it."""
    form = filled(folder, by_pypdf, filling)
    assert main(["pack", str(form), "-o", "form-pack.pdf", "--save-job", "saved.yaml"]) == 0
    assert main(["pack", str(hand), "-o", "hand-pack.pdf"]) == 0
    assert main(["pack", "saved.yaml", "-o", "saved-pack.pdf"]) == 0
    packs = {name: Path(f"{name}-pack.pdf").read_bytes() for name in ("form", "hand", "saved")}
    assert packs["form"] == packs["saved"]
    assert read_pdf(packs["form"]).attachments["job.yaml"] == Path("saved.yaml").read_bytes()
    assert contents(packs["form"]) == contents(packs["hand"])
    assert main(["proof", "form-pack.pdf"]) == 0


def contents(data):
    reader = pypdf.PdfReader(io.BytesIO(data))
    return [page.get_contents().get_data() for page in reader.pages]


def test_a_form_is_never_written_over_what_is_there(folder, capsys):
    before = (folder / "blank.pdf").read_bytes()
    assert main(["form", "-o", "blank.pdf"]) == 2
    assert "blank.pdf is there already" in capsys.readouterr().err
    assert (folder / "blank.pdf").read_bytes() == before


@pytest.mark.usefixtures("folder")
def test_a_form_is_written_for_the_treads_and_units_that_are_named(capsys):
    assert main(["form", "-o", "inch.pdf", "--treads", "7"]) == 0
    assert Path("inch.pdf").read_bytes() == Path("blank.pdf").read_bytes()
    assert main(["form", "-o", "metric.pdf", "--treads", "3", "--units", "mm"]) == 0
    assert "metric.pdf: " in capsys.readouterr().out
    page = pypdf.PdfReader("metric.pdf").pages[0]
    assert float(page.mediabox.width) == pytest.approx(210 / 25.4 * 72, abs=0.01)


@pytest.mark.parametrize("treads", ["0", "-1", "201", "ten"])
def test_a_form_for_no_stair_is_refused(folder, capsys, treads):
    assert main(["form", "-o", "none.pdf", "--treads", treads]) == 2
    assert not (folder / "none.pdf").exists()
    assert capsys.readouterr().err


@pytest.mark.usefixtures("folder")
def test_an_empty_form_is_refused_with_all_that_is_missing(capsys):
    assert main(["layout", "blank.pdf"]) == 2
    said = capsys.readouterr().err.splitlines()
    assert len(said) == 10
    assert said[0].startswith("stairjig: blank.pdf: page 1, A1 Job title: is empty")


def test_a_flattened_form_is_told_from_a_pack(folder, capsys):
    """Printed to a PDF or flattened, a form has no fields any more."""
    writer = pypdf.PdfWriter(clone_from=str(filled(folder, by_pypdf, PORCH)))
    writer.remove_annotations(subtypes="/Widget")
    del writer.root_object["/AcroForm"]
    writer.write("flat.pdf")
    assert main(["layout", "flat.pdf"]) == 2
    said = capsys.readouterr().err
    assert "neither a pack nor a filled measuring form" in said
    assert "flattened" in said


def test_the_saved_job_stays_clear_of_its_input_and_of_other_files(folder, capsys):
    form = filled(folder, by_pypdf, PORCH)
    (folder / "other.yaml").write_text("mine")
    for name in ("filled.pdf", "other.yaml"):
        before = (folder / name).read_bytes()
        assert main(["layout", str(form), "--save-job", name]) == 2
        assert "name another" in capsys.readouterr().err
        assert (folder / name).read_bytes() == before
    for said in ("wrote the job to new.yaml", "new.yaml holds the job already"):
        assert main(["layout", str(form), "--csv", "--save-job", "new.yaml"]) == 0
        assert f"note: {said}\n" in capsys.readouterr().err


def test_a_job_file_saved_is_the_file_itself(folder):
    assert main(["layout", str(PORCH_BY_HAND), "--csv", "--save-job", "copy.yaml"]) == 0
    assert (folder / "copy.yaml").read_bytes() == PORCH_BY_HAND.read_bytes()


def test_the_layout_of_a_form_goes_to_the_paper_that_is_asked_for(folder, capsys):
    form = filled(folder, by_pypdf, PORCH)
    capsys.readouterr()
    assert main(["layout", str(form), "--json", "--paper", "tabloid"]) == 0
    assert json.loads(capsys.readouterr().out)["paper"]["name"] == "tabloid"


def test_a_call_that_cannot_be_carried_out_saves_no_job(folder):
    form = filled(folder, by_pypdf, {**PORCH, "nosing": "x"})
    for command in ("layout", "pack"):
        assert main([command, str(form), "--save-job", "none.yaml"]) == 2
    form = filled(folder, by_pypdf, PORCH)
    assert main(["pack", str(form), "-o", "p.pdf", "--sheet", "999", "--save-job", "none.yaml"]) > 0
    assert not (folder / "none.yaml").exists()
    assert not (folder / "p.pdf").exists()
