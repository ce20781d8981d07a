"""What a renderer makes of the sheets, measured on its pixels at 600 dpi."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pypdfium2
import pytest
from packs import sample, strip_pages, strips_pdf
from plain_reader import MM, Point, read_tiles

DPI = 600
PIXEL = 25.4 / DPI


class Raster:
    """A page's grey pixels, asked by millimetres from its lower left corner."""

    def __init__(self, width: int, height: int, data: bytes, stride: int) -> None:
        self.width, self.height, self.data, self.stride = width, height, data, stride

    def dark(self, column: int, row: int) -> float:
        return 255 - self.data[row * self.stride + column]

    def level(self, at: Point) -> float:
        """The middle, across the page, of the dark pixels of an upright stroke near a point."""
        row = self.height - 1 - int(at[1] / PIXEL)
        first = round(at[0] / PIXEL - 0.5) - 10
        weights = [(column, self.dark(column, row)) for column in range(first, first + 21)]
        total = sum(weight for _, weight in weights)
        assert total > 100, "no stroke where one belongs"
        return sum((column + 0.5) * weight for column, weight in weights) / total * PIXEL

    def plumb(self, at: Point) -> float:
        """The middle, up the page, of the dark pixels of a level stroke near a point."""
        column = int(at[0] / PIXEL)
        middle = self.height - 1 - round(at[1] / PIXEL - 0.5)
        weights = [(row, self.dark(column, row)) for row in range(middle - 10, middle + 11)]
        total = sum(weight for _, weight in weights)
        assert total > 100, "no stroke where one belongs"
        mean = sum((row + 0.5) * weight for row, weight in weights) / total
        return (self.height - mean) * PIXEL


def with_pdfium(data: bytes, page: int) -> Raster:
    document = pypdfium2.PdfDocument(data)
    bitmap = document[page].render(scale=DPI / 72 * (1 - 1e-9), grayscale=True)
    raster = Raster(bitmap.width, bitmap.height, bytes(bitmap.buffer), bitmap.stride)
    document.close()
    return raster


def with_poppler(file: Path, page: int) -> Raster:
    out = file.with_suffix("")
    number = str(page + 1)
    command = ["pdftoppm", "-r", str(DPI), "-gray", "-f", number, "-l", number, "-singlefile"]
    subprocess.run([*command, str(file), str(out)], check=True)
    data = out.with_suffix(".pgm").read_bytes()
    magic, width, height, most, pixels = data.split(maxsplit=4)
    assert (magic, most) == (b"P5", b"255")
    start = len(data) - int(width) * int(height)
    assert pixels
    return Raster(int(width), int(height), data[start:], int(width))


def check(raster: Raster, crosses: list[Point]) -> None:
    """Every cross within a pixel, its strokes measured clear of where they meet."""
    for u, v in crosses:
        assert abs(raster.level((u, v + 2.6)) - u) <= PIXEL
        assert abs(raster.plumb((u + 2.6, v)) - v) <= PIXEL


@pytest.mark.parametrize(("paper", "step"), [("letter", 1), ("a4", 2)])
def test_every_mark_of_an_uneven_flight_is_within_a_pixel_with_pdfium(
    paper: str, step: int
) -> None:
    """On every sheet of letter, on every second one of A4."""
    data = strips_pdf(strip_pages(sample("kestrel-mill.yaml", paper)))
    tiles = read_tiles(data)
    pages = sorted({tile.page for tile in tiles})
    assert len(pages) >= 15
    for page in pages[::step]:
        crosses = [at for tile in tiles if tile.page == page for at in tile.marks()]
        check(with_pdfium(data, page - 1), crosses)


@pytest.mark.skipif(not shutil.which("pdftoppm"), reason="a second renderer is not here")
def test_a_second_renderer_agrees(tmp_path: Path) -> None:
    data = strips_pdf(strip_pages(sample("kestrel-mill.yaml", "a4")))
    file = tmp_path / "strips.pdf"
    file.write_bytes(data)
    tiles = read_tiles(data)
    for page in (1, 8):
        crosses = [at for tile in tiles if tile.page == page for at in tile.marks()]
        assert crosses
        check(with_poppler(file, page - 1), crosses)


def test_pdfium_opens_the_sheets_at_their_true_size() -> None:
    for paper, size in (("letter", (215.9, 279.4)), ("a4", (210.0, 297.0))):
        document = pypdfium2.PdfDocument(strips_pdf(strip_pages(sample("harbour-a4.yaml", paper))))
        width, height = document[0].get_size()
        assert abs(width * MM - size[0]) < 1e-3
        assert abs(height * MM - size[1]) < 1e-3
        document.close()
