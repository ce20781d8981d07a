"""Measuring forms for the tests, filled in by two libraries' own ways of filling them in."""

from __future__ import annotations

import ctypes
import io
from functools import lru_cache

import pypdf
import pypdfium2
from pypdf.generic import NameObject
from pypdfium2 import raw

from stairjig.errors import BadInput
from stairjig.job.form.fields import field_name
from stairjig.job.form.form import job_of_form
from stairjig.pages.form.form import form_pages
from stairjig.pdf import write_pdf
from stairjig.proof.reading import read_pdf

ON = "on"
"""An answer that ticks a box."""
PORCH = {
    "title": "Lantern Cove, porch",
    "name": "Porch flight",
    "kind treads": ON,
    "side right": ON,
    "rise": "7",
    "nosing": "1",
    "line": "2",
    "skew": "22.5",
    **{f"run {row}": "11" for row in range(1, 6)},
    "newel_width lower": "5",
    "newel_narrowest lower": "4",
    "instead upper wall": ON,
    "height": "36",
    "rail_depth": "2 1/2",
    "rail_width": "2 3/8",
    "type A": "turned",
    "shape A square": ON,
    "width A": "1 1/4",
    "narrowest A": "7/8",
    "top A pin": ON,
    "tread_hole A": "3/4",
    "tread_hole_depth A": "1",
    "rail_hole A": "3/4",
    "rail_hole_depth A": "3/4",
    "openings": "irc",
}
"""The skewed flight of samples/skewed-porch.yaml, by question, row and box."""
_WINDERS = (
    ("8 1/2", "36 13/16", "16 1/8", "36", "39 7/16", "37"),
    ("8 1/4", "39 7/16", "16 5/8", "36 13/16", "43 7/16", "36"),
    ("7 5/8", "44 1/2", "17 3/4", "39 7/16", "49 3/8", "36 15/16"),
)
_SIDES = ("end", "back", "wall", "front", "diagonal", "check_diagonal")
TURN = {
    **{key: text for key, text in PORCH.items() if not key.startswith(("run", "skew", "narrow"))},
    "title": "Hollow Oak, winders",
    "name": "Winders",
    "side right": "",
    "side left": ON,
    "rise": "7 3/8",
    "nosing": "1 1/8",
    "line": "1 3/4",
    **{
        f"{side} {row}": text
        for row, sides in enumerate(_WINDERS, start=1)
        for side, text in zip(_SIDES, sides, strict=True)
    },
    "newel_width lower": "3 1/2",
    "newel_narrowest lower": "",
    "instead upper wall": "",
    "newel_width upper": "3 1/2",
    "face upper": "0",
    "type A": "plain",
    "shape A square": "",
    "shape A round": ON,
    "top A pin": "",
}
"""The winders of samples/winder-turn.yaml."""
Filling = dict[str, str]


@lru_cache(maxsize=8)
def blank(units: str = "inch", treads: int = 7) -> bytes:
    """A blank form's bytes."""
    return write_pdf(form_pages(units, treads), "Stair measuring form", {})


@lru_cache(maxsize=8)
def names(data: bytes) -> dict[str, str]:
    """The fields of a form: question, row and box, each with its field's name."""
    said = {text: field_name(text) for text in read_pdf(data).fields}
    return {" ".join(name.slot): text for text, name in said.items() if name}


def values(filling: Filling, units: str = "inch", treads: int = 7) -> dict[str, str]:
    """What a reader of PDF gives for a form filled in like that, without a PDF."""
    fields = names(blank(units, treads))
    return {text: filling.get(key, "") for key, text in fields.items()}


def by_pypdf(data: bytes, filling: Filling, regenerate: bool = False, on: str = "/Yes") -> bytes:
    """A form filled in by pypdf, its appearance streams rebuilt, or left for the viewer to."""
    writer = pypdf.PdfWriter(clone_from=io.BytesIO(data))
    fields = names(data)
    if on != "/Yes":
        _rename_on_states(writer, on)
    ticked = {fields[key]: on for key, text in filling.items() if text == ON}
    written = {fields[key]: text for key, text in filling.items() if text not in ("", ON)}
    for page in writer.pages:
        writer.update_page_form_field_values(
            page, {**written, **ticked}, auto_regenerate=regenerate
        )
    return _saved(writer)


def _rename_on_states(writer: pypdf.PdfWriter, on: str) -> None:
    """Call the boxes' state of being ticked something else, as other writers of forms do."""
    for page in writer.pages:
        for widget in page["/Annots"]:
            looks = widget.get_object().get("/AP", {}).get("/N", {})
            if "/Yes" in looks:
                looks[NameObject(on)] = looks.pop("/Yes")


def _saved(writer: pypdf.PdfWriter) -> bytes:
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue()


def by_pdfium(data: bytes, filling: Filling) -> bytes:
    """A form filled in by pdfium as a user does: a click on each field, then the keys."""
    document = pypdfium2.PdfDocument(data)
    document.init_forms()
    fields = names(data)
    wanted = {fields[key]: text for key, text in filling.items() if text}
    for page in document:
        for name, middle in _widgets(document, page).items():
            if name in wanted:
                _fill(document.formenv.raw, page.raw, middle, wanted[name])
        raw.FORM_ForceToKillFocus(document.formenv.raw)
        page.close()
    out = io.BytesIO()
    document.save(out)
    document.close()
    return out.getvalue()


def _widgets(document, page) -> dict[str, tuple[float, float]]:
    """The page's fields and where their middles stand, in points."""
    found = {}
    for number in range(raw.FPDFPage_GetAnnotCount(page.raw)):
        annotation = raw.FPDFPage_GetAnnot(page.raw, number)
        size = raw.FPDFAnnot_GetFormFieldName(document.formenv.raw, annotation, None, 0)
        text = ctypes.create_string_buffer(size)
        raw.FPDFAnnot_GetFormFieldName(
            document.formenv.raw,
            annotation,
            ctypes.cast(text, ctypes.POINTER(raw.FPDF_WCHAR)),
            size,
        )
        box = raw.FS_RECTF()
        raw.FPDFAnnot_GetRect(annotation, box)
        middle = (box.left + box.right) / 2, (box.top + box.bottom) / 2
        found[text.raw[: size - 2].decode("utf-16-le")] = middle
        raw.FPDFPage_CloseAnnot(annotation)
    return found


def _fill(env, page, middle: tuple[float, float], text: str) -> None:
    raw.FORM_OnMouseMove(env, page, 0, *middle)
    raw.FORM_OnLButtonDown(env, page, 0, *middle)
    raw.FORM_OnLButtonUp(env, page, 0, *middle)
    if text != ON:
        raw.FORM_SelectAllText(env, page)
        keys = ctypes.create_string_buffer(text.encode("utf-16-le") + b"\0\0")
        raw.FORM_ReplaceSelection(env, page, ctypes.cast(keys, raw.FPDF_WIDESTRING))


def job_in(data: bytes):
    """The job in a filled form's bytes."""
    return job_of_form(read_pdf(data, "form.pdf").fields, "form.pdf")


def problems_in(fields: dict[str, str]) -> list[str]:
    """The lines that a user sees of a form with these values; [] where it is a job."""
    try:
        job_of_form(fields, "form.pdf")
    except BadInput as bad:
        return [str(problem) for problem in bad.problems]
    return []
