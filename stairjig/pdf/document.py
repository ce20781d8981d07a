"""The document around the pages: what a viewer knows of them, and the files that travel along."""

from __future__ import annotations

import hashlib
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any, Literal

from reportlab import Version, rl_config
from reportlab.pdfbase import pdfdoc

from stairjig.pdf.content import Letters, content
from stairjig.pdf.forms import Forms, fields
from stairjig.pdf.objects import Array, Dict, Document, Name, Reference, Words, points, stream
from stairjig.progress import told, untold

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from stairjig.drawing import Page
    from stairjig.progress import Tell

Units = Literal["inch", "mm"]

DRAWN_WITH = f"reportlab {Version}"
"""The library whose other versions may put a file together otherwise."""


def write_pdf(
    pages: Sequence[Page],
    title: str,
    attachments: Mapping[str, bytes],
    subject: str = "",
    measure: Units | None = None,
    tell: Tell = untold,
) -> bytes:
    """Draw the pages and put the file together: the same values give the same bytes.

    Items of a run are drawn strokes first, then words. A field's box is drawn where the field
    stands among the strokes; the tab key goes through the fields in the order of the page.

    `measure`: the unit in which a viewer's measuring tool is to read the pages, at true size.
    `tell` hears of each page.

    Raises:
        BadInput: the fonts have no sign for a character of a page's words.
        ValueError: a field's name is empty, holds a dot or is taken.

    """
    with _default_settings():
        document = pdfdoc.PDFDocument(compression=1, invariant=1, pdfVersion=(1, 7))
        fingerprint = _add_pages(document, told(tell, "drawing sheet", pages), measure)
        catalog = document.Catalog
        catalog.Lang = Words("en")
        catalog.Outlines = _outline(document, [page.title for page in pages])
        catalog.PageLabels = _page_labels([page.label for page in pages])
        catalog.ViewerPreferences = _viewer_preferences()
        catalog.Names = _embedded(document, attachments)
        document.info = _information(title, subject)
        facts = (fingerprint, title, subject, measure, sorted(attachments.items()))
        document._ID = _identifier(repr(facts).encode())
        return _finished(document)


@contextmanager
def _default_settings() -> Iterator[None]:
    """Keep what a user's own reportlab settings say about the file's layout out of it."""
    names = ("pdfMultiLine", "pdfComments")
    before = {name: getattr(rl_config, name) for name in names}
    try:
        for name in names:
            setattr(rl_config, name, 0)
        yield
    finally:
        for name, value in before.items():
            setattr(rl_config, name, value)


def _add_pages(document: Document, pages: Iterable[Page], measure: Units | None) -> str:
    """Draw the pages and their fields; return a fingerprint of all that stands on them."""
    letters, forms, digest = Letters(document), Forms(document), hashlib.sha256()
    resources = document.Reference(Dict({"Font": Reference("BasicFonts")}))
    for page in pages:
        code, wanted = content(page, letters), list(fields(page))
        box = points((0, 0, page.width, page.height))
        entries = {
            "Type": Name("Page"),
            "Parent": document.Reference(document.Pages),
            "MediaBox": box,
            "Resources": resources,
            "Contents": stream(document, code, {}),
        }
        if wanted:
            entries |= {"Annots": Array(forms.widgets(wanted)), "Tabs": Name("W")}
        if measure:
            entries["VP"] = Array([_viewport(box, measure)])
        document.addPage(Dict(entries))
        digest.update(repr((page.width, page.height, page.label, page.title, wanted)).encode())
        digest.update(code)
    document.Catalog.AcroForm = forms.form()
    return digest.hexdigest()


def _viewport(box: Any, units: Units) -> Any:
    """Make the whole page a drawing at full scale (12.9, tables 260 to 263)."""
    unit, per_point, fraction = {
        "inch": ("in", 1 / 72, {"F": Name("F"), "D": 32}),
        "mm": ("mm", 25.4 / 72, {"F": Name("D"), "D": 10}),
    }[units]

    def numbers(label: str, factor: float) -> Any:
        # as text: reportlab would round 1/72 to seven digits, off by 8 in a million
        return Array([Dict({"U": Words(label), "C": repr(factor), **fraction})])

    scale = {
        "Type": Name("Measure"),
        "Subtype": Name("RL"),
        "R": Words(f"1 {unit} = 1 {unit}"),
        "X": numbers(unit, per_point),
        "D": numbers(unit, 1),
        "A": numbers(f"sq {unit}", 1),
    }
    return Dict({"Type": Name("Viewport"), "BBox": box, "Measure": Dict(scale)})


def _outline(document: Document, titles: Sequence[str]) -> Any:
    """Make one line for each page that has a title (12.3.3)."""
    named = [(page, title) for page, title in enumerate(titles, start=1) if title]
    lines = [Reference(f"outline{index}") for index in range(len(named))]
    ends = {"First": lines[0], "Last": lines[-1]} if lines else {}
    root = document.Reference(Dict({"Type": Name("Outlines"), "Count": len(lines), **ends}))
    for index, (page, title) in enumerate(named):
        goal = Array([Reference(f"Page{page}"), Name("Fit")])
        entries = {"Title": Words(title), "Parent": root, "Dest": goal}
        if index > 0:
            entries["Prev"] = lines[index - 1]
        if index + 1 < len(lines):
            entries["Next"] = lines[index + 1]
        document.Reference(Dict(entries), f"outline{index}")
    return root


def _page_labels(labels: Sequence[str]) -> Any:
    """Give each page its own label, as a prefix to no number (12.4.2)."""
    numbers: list[Any] = []
    for index, label in enumerate(labels):
        numbers += [index, Dict({"P": Words(label)})]
    return Dict({"Nums": Array(numbers)})


def _viewer_preferences() -> Any:
    """Ask for print at true size, on one side, on paper of the pages' size (table 150).

    `Enforce` is of PDF 2.0: print dialogs that know it keep the scaling as the file asks for.
    """
    wishes = {
        "PrintScaling": Name("None"),
        "Enforce": Array([Name("PrintScaling")]),
        "Duplex": Name("Simplex"),
        "PickTrayByPDFSize": "true",
        "DisplayDocTitle": "true",
    }
    return Dict(wishes)


def _information(title: str, subject: str) -> Any:
    """Name the title and the maker; no dates, for the same job gives the same bytes."""
    entries = {"Title": title, "Subject": subject, "Producer": "stairjig", "Creator": "stairjig"}
    return Dict({key: Words(value) for key, value in entries.items() if value})


def _embedded(document: Document, attachments: Mapping[str, bytes]) -> Any:
    """Embed the files that travel in the pack, in the tree of names (7.11.4)."""
    tree: list[Any] = []
    for name, data in sorted(attachments.items()):
        check = hashlib.md5(data, usedforsecurity=False).hexdigest()
        facts = Dict({"Size": len(data), "CheckSum": f"<{check}>"})
        file = stream(document, data, {"Type": Name("EmbeddedFile"), "Params": facts})
        entries = {"Type": Name("Filespec"), "F": Words(name), "UF": Words(name)}
        entries["EF"] = Dict({"F": file, "UF": file})
        tree += [Words(name), document.Reference(Dict(entries))]
    return Dict({"EmbeddedFiles": Dict({"Names": Array(tree)})}) if tree else None


def _identifier(facts: bytes) -> bytes:
    """Make the file's identifier (14.4) from all that is in it, as the trailer takes it."""
    digest = hashlib.sha256(facts).hexdigest()[:32].encode()
    return b"\n[<%b><%b>]\n" % (digest, digest)


def _finished(document: Document) -> bytes:
    for face in document.delayedFonts:
        face.addObjects(document)
    document.Reference(document.Catalog)
    document.Reference(document.info)
    return bytes(document.format())
