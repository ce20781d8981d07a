"""PDFs put together object by object, as no library would."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from io import BytesIO

from pypdf import PdfReader, PdfWriter
from pypdf.generic import DecodedStreamObject, EncodedStreamObject


def pdf_of(objects: Sequence[bytes], trailer: bytes = b"") -> bytes:
    """A file of these objects, numbered from 1, the first of them its catalog."""
    parts, offsets, at = [b"%PDF-1.7\n"], [], 9
    for number, body in enumerate(objects, start=1):
        part = b"%d 0 obj\n%b\nendobj\n" % (number, body)
        offsets.append(at)
        parts.append(part)
        at += len(part)
    table = b"".join(b"%010d 00000 n \n" % offset for offset in offsets)
    size = len(objects) + 1
    parts.append(b"xref\n0 %d\n0000000000 65535 f \n%b" % (size, table))
    parts.append(b"trailer\n<< /Size %d /Root 1 0 R %b >>\n" % (size, trailer))
    parts.append(b"startxref\n%d\n%%%%EOF\n" % at)
    return b"".join(parts)


def stream_of(data: bytes, entries: bytes = b"") -> bytes:
    """A stream object's body."""
    return b"<< /Length %d %b >>\nstream\n%b\nendstream" % (len(data), entries, data)


def text_of(words: str) -> bytes:
    """A text string, in digits."""
    return b"<" + ("\ufeff" + words).encode("utf-16-be", "surrogatepass").hex().encode() + b">"


def plain_streams(data: bytes) -> bytes:
    """The same document, its streams not packed."""
    writer = PdfWriter(clone_from=PdfReader(BytesIO(data)))
    for number, held in enumerate(writer._objects):
        if isinstance(held, EncodedStreamObject):
            plain = DecodedStreamObject()
            plain.update({key: held[key] for key in held if key not in ("/Filter", "/Length")})
            plain.set_data(held.get_data())
            writer._objects[number] = plain
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


def pack_with(files: Mapping[str, bytes], more: bytes = b"") -> bytes:
    """A file with one empty page that carries these files; `more`: further keys of its catalog."""
    names, objects = [], []
    for number, (name, data) in enumerate(files.items()):
        spec = 4 + 2 * number
        names.append(b"%b %d 0 R" % (text_of(name), spec))
        objects.append(
            b"<< /Type /Filespec /F %b /UF %b /EF << /F %d 0 R >> >>"
            % (text_of(name), text_of(name), spec + 1)
        )
        objects.append(stream_of(data, b"/Type /EmbeddedFile"))
    catalog = b"<< /Type /Catalog /Pages 2 0 R /Names << /EmbeddedFiles << /Names [%b] >> >> %b >>"
    return pdf_of(
        [
            catalog % (b" ".join(names), more),
            b"<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
            b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 612 792] >>",
            *objects,
        ]
    )


def form_with(values: Mapping[str, str]) -> bytes:
    """A file with one empty page and these fields filled in: what a tidy viewer would save."""
    fields = b" ".join(b"%d 0 R" % number for number in range(4, 4 + len(values)))
    return pdf_of(
        [
            b"<< /Type /Catalog /Pages 2 0 R /AcroForm << /Fields [%b] >> >>" % fields,
            b"<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
            b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 612 792] >>",
            *(
                b"<< /FT /Tx /T %b /V %b >>" % (text_of(name), text_of(value))
                for name, value in values.items()
            ),
        ]
    )
