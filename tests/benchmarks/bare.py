"""A bare reportlab script: draws a list of primitives on a canvas and does nothing else.

    python tests/benchmarks/bare.py LIST FONT BOLD OUT

It imports nothing of stairjig. The list is a pickle, read before the clock of its own that it
prints: seconds of CPU for reading the list, which a script with its drawing written out would not
need. Pens and fonts are set where they change; streams are not written as ASCII85, as a pack's
aren't, and which is the faster way.
"""

from __future__ import annotations

import pickle
import sys
import time
from pathlib import Path

from reportlab import rl_config
from reportlab.pdfbase import pdfdoc, pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas


class Bare:
    """A canvas and what is set on it."""

    def __init__(self, out: str) -> None:
        self.canvas = Canvas(out, invariant=1, pageCompression=1)
        self.pen = self.font = self.fill = None

    def page(self, width, height, items) -> None:
        self.canvas.setPageSize((width, height))
        self.pen = self.font = self.fill = None
        for kind, *rest in items:
            getattr(self, kind)(*rest)
        self.canvas.showPage()

    def take(self, pen) -> None:
        if pen != self.pen:
            weight, dashes, grey = self.pen = pen
            self.canvas.setLineWidth(weight)
            self.canvas.setDash(list(dashes))
            self.canvas.setStrokeGray(grey)

    def dip(self, grey) -> None:
        if grey != self.fill:
            self.fill = grey
            self.canvas.setFillGray(grey)

    def line(self, a, b, c, d, pen) -> None:
        self.take(pen)
        self.canvas.line(a, b, c, d)

    def path(self, points, closed, filled, pen) -> None:
        if filled:
            self.dip(pen[2])
        else:
            self.take(pen)
        path = self.canvas.beginPath()
        path.moveTo(*points[0])
        for point in points[1:]:
            path.lineTo(*point)
        if closed:
            path.close()
        self.canvas.drawPath(path, stroke=not filled, fill=filled)

    def ellipse(self, a, b, c, d, pen) -> None:
        self.take(pen)
        self.canvas.ellipse(a, b, c, d)

    def text(self, words, x, y, angle, size, bold, grey) -> None:
        self.dip(grey)
        font = ("bold" if bold else "plain", size)
        if font != self.font:
            self.canvas.setFont(*font)
            self.font = font
        if angle:
            self.canvas.saveState()
            self.canvas.translate(x, y)
            self.canvas.rotate(angle)
            self.canvas.drawString(0, 0, words)
            self.canvas.restoreState()
        else:
            self.canvas.drawString(x, y, words)

    def field(self, name, x, y, width, height, value, tooltip, size, tick) -> None:
        form = self.canvas.acroForm
        if tick:
            form.checkbox(name=name, tooltip=tooltip, x=x, y=y, size=min(width, height))
        else:
            form.textfield(
                name=name, tooltip=tooltip, value=value, x=x, y=y, width=width, height=height,
                fontSize=size, borderWidth=0, maxlen=200,
            )  # fmt: skip

    def attach(self, files) -> None:
        """Files in the tree of names, which the canvas has no call for."""
        document, tree = self.canvas._doc, []
        for name, data in sorted(files.items()):
            stream = document.Reference(pdfdoc.PDFStream(pdfdoc.PDFDictionary({}), data))
            held = pdfdoc.PDFDictionary({"F": stream})
            entries = {"Type": pdfdoc.PDFName("Filespec"), "F": pdfdoc.PDFString(name), "EF": held}
            tree += [pdfdoc.PDFString(name), document.Reference(pdfdoc.PDFDictionary(entries))]
        files_tree = pdfdoc.PDFDictionary({"Names": pdfdoc.PDFArray(tree)})
        document.Catalog.Names = pdfdoc.PDFDictionary({"EmbeddedFiles": files_tree})


def main(listed: str, plain: str, bold: str, out: str) -> None:
    """Draw the list."""
    start = time.process_time()
    given = pickle.loads(Path(listed).read_bytes())
    loading = time.process_time() - start
    rl_config.useA85 = 0
    pdfmetrics.registerFont(TTFont("plain", plain))
    pdfmetrics.registerFont(TTFont("bold", bold))
    bare = Bare(out)
    bare.canvas.setTitle(given["title"])
    for page in given["pages"]:
        bare.page(*page)
    bare.attach(given["files"])
    bare.canvas.save()
    print(loading)


if __name__ == "__main__":
    main(*sys.argv[1:])
