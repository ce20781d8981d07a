"""The README's pictures, made from the samples: ``python tests/pictures.py``.

Each is a page of a sample's pack, drawn by pdfium in grey, so that a picture never shows what the
program does not print.
"""

from __future__ import annotations

from pathlib import Path

import pypdfium2

from stairjig.intake import open_job
from stairjig.pack import make_pack

SAMPLES = Path(__file__).parent.parent / "samples"
PICTURES = SAMPLES / "pictures"
DPI = 64
WANTED = {
    "cover.png": ("kestrel-mill.yaml", "cover"),
    "tread-and-rail.png": ("kestrel-mill.yaml", "tread 2"),
    "winder.png": ("winder-turn.yaml", "tread 2 (2"),
    "steps.png": ("kestrel-mill.yaml", "Helper's steps"),
    "check-page.png": ("kestrel-mill.yaml", "Check page"),
}
"""A picture's name: the sample, and how the title of the page in the outline goes."""


def page_of(data: bytes, words: str) -> int:
    """The number, from 0, of the first page whose title in the outline holds some words."""
    document = pypdfium2.PdfDocument(data)
    for mark in document.get_toc():
        if words.casefold() in mark.get_title().casefold():
            return int(mark.get_dest().get_index())
    raise LookupError(words)


def main() -> None:
    """Write every picture."""
    PICTURES.mkdir(exist_ok=True)
    packs: dict[str, bytes] = {}
    for name, (sample, words) in WANTED.items():
        if sample not in packs:
            packs[sample] = make_pack(open_job(SAMPLES / sample).job).data
        page = pypdfium2.PdfDocument(packs[sample])[page_of(packs[sample], words)]
        picture = page.render(scale=DPI / 72, grayscale=True).to_pil()
        picture.quantize(16).save(PICTURES / name, optimize=True)
        print(f"{PICTURES.name}/{name}: {picture.width} x {picture.height}")


if __name__ == "__main__":
    main()
