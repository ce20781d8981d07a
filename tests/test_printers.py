"""The printer correction: measured, kept, and measured again on the raster."""

from __future__ import annotations

from pathlib import Path

import pypdfium2
import pytest
from packs import SAMPLES
from plain_reader import read_tiles
from test_raster import PIXEL, check, with_pdfium

from stairjig.cli import main
from stairjig.drawing import Page, Pen, Stroke, scaled
from stairjig.errors import BadInput
from stairjig.printers import keep, measured, remembered


@pytest.fixture(autouse=True)
def _own_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))


def test_the_factor_is_the_true_length_over_the_measured() -> None:
    """250 mm reads 248.5: 1.0060362 (arithmetic)."""
    printer = measured("office", "248.5 mm", "170 mm")
    assert printer.along == pytest.approx(1.0060362, abs=5e-8)
    assert printer.across == 1.0


def test_a_bare_number_is_in_the_unit_that_its_bar_comes_near() -> None:
    inches = measured("office", "9 31/32", "7 1/64")
    assert inches.along == pytest.approx(10 / 9.96875)
    assert inches.across == pytest.approx(7 / 7.015625)
    assert measured("office", "251", "169").along == pytest.approx(250 / 251)


def test_a_written_unit_picks_the_bars_of_its_own_sheet() -> None:
    """9 7/8 in is 250.8 mm: nearer to 250 mm than to 10 in, and yet the bar was 10 in."""
    inches = measured("office", "9 7/8 in", "6 15/16 in")
    assert inches.along == pytest.approx(10 / 9.875)
    assert inches.across == pytest.approx(7 / 6.9375)
    assert measured("office", "253.5 mm", "172,5 mm").along == pytest.approx(250 / 253.5)
    assert measured("office", '9 7/8"', "6 15/16") == inches


def test_both_bars_are_of_one_sheet() -> None:
    assert measured("office", "25.1 cm", "169").across == pytest.approx(170 / 169)
    assert measured("office", "248,5", "170").along == pytest.approx(250 / 248.5)
    with pytest.raises(BadInput, match="different units"):
        measured("office", "250 mm", "7 in")
    with pytest.raises(BadInput, match="fit to page"):
        measured("office", "250", "7")


@pytest.mark.parametrize("along", ["9 13/32", "235.3", "10.4", "3", "0"])
def test_a_fit_to_page_is_refused_with_its_likely_cause(along: str) -> None:
    """A letter page fitted inside margins of 1/4 in comes out at 94.1 % (arithmetic: 8 / 8.5)."""
    with pytest.raises(BadInput, match=r"fit to page|no length of a bar"):
        measured("office", along, "7")


def test_a_printer_is_kept_and_remembered() -> None:
    path = keep(measured("office", "9 31/32", "7 1/64"))
    keep(measured("site", "10", "7"))
    assert path.is_file()
    assert remembered("office") == measured("office", "9 31/32", "7 1/64")
    assert remembered("site").along == 1.0
    with pytest.raises(BadInput, match="office, site"):
        remembered("attic")


@pytest.mark.parametrize("content", ["{", "[]", '{"office": {"along": "x"}}', '{"office": 3}',
                                     '{"office": {"along": NaN, "across": 1}}'])  # fmt: skip
def test_a_broken_file_is_told_and_left_alone(content: str) -> None:
    path = keep(measured("office", "10", "7"))
    path.write_text(content)
    for call in (lambda: remembered("office"), lambda: keep(measured("site", "10", "7"))):
        with pytest.raises(BadInput, match="can't be read"):
            call()
    assert path.read_text() == content


def test_the_command_keeps_shows_and_refuses(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["printer", "office", "--along", "9 31/32", "--across", "6 31/32"]) == 0
    assert "0.31 % too small along and 0.45 % too small across" in capsys.readouterr().out
    assert main(["printer", "office"]) == 0
    assert main(["printer", "office", "--along", "9 1/2", "--across", "7"]) == 2
    assert "fit to page" in capsys.readouterr().err
    assert main(["printer", "office", "--along", "10"]) == 2
    capsys.readouterr()
    assert main(["printer", "two words"]) == 2
    assert "'two words' is no name for a printer - one word" in capsys.readouterr().err
    assert main(["printer", "shop;1"]) == 2
    assert "stairjig printer 'shop;1' --along L" in capsys.readouterr().err


def test_a_corrected_pack_is_proved_and_says_so(tmp_path: Path) -> None:
    main(["printer", "office", "--along", "9 29/32", "--across", "7 1/16"])
    target, again = tmp_path / "out.pdf", tmp_path / "again.pdf"
    job = str(SAMPLES / "harbour-a4.yaml")
    assert main(["pack", job, "--printer", "office", "-o", str(target)]) == 0
    assert main(["proof", str(target)]) == 0
    assert main(["pack", str(target), "-o", str(again)]) == 0
    assert again.read_bytes() == target.read_bytes()
    document = pypdfium2.PdfDocument(target)
    for page in document:
        assert "printer office" in page.get_textpage().get_text_range()
    document.close()
    tiles = read_tiles(target.read_bytes())
    page = tiles[0].page
    marks = [at for tile in tiles if tile.page == page for at in tile.marks()]
    check(with_pdfium(target.read_bytes(), page - 1), marks)


def test_a_bar_drawn_for_a_printer_measures_right_on_it() -> None:
    """A printer that shrinks by a factor prints what was drawn larger by its inverse true."""
    from stairjig.pdf import write_pdf

    bars = (
        Stroke(((20.0, 20.0), (20.0, 270.0)), Pen.CROSS),
        Stroke(((20.0, 20.0), (190.0, 20.0)), Pen.CROSS),
        Stroke(((15.0, 270.0), (25.0, 270.0)), Pen.CROSS),
        Stroke(((190.0, 15.0), (190.0, 25.0)), Pen.CROSS),
    )
    page = Page(210.0, 297.0, "1", "bars", bars)
    drawn = scaled(page, 1 / 0.99, 1 / 1.01)
    raster = with_pdfium(write_pdf((drawn,), "bars", {}), 0)

    def at(u: float, v: float) -> tuple[float, float]:
        return 105 + (u - 105) / 0.99, 148.5 + (v - 148.5) / 1.01

    left, right = raster.level(at(20, 100)), raster.level(at(190, 23))
    low, high = raster.plumb(at(100, 20)), raster.plumb(at(23, 270))
    assert (right - left) * 0.99 == pytest.approx(170, abs=2 * PIXEL)
    assert (high - low) * 1.01 == pytest.approx(250, abs=2 * PIXEL)
