"""Files made to do harm, by what is wrong with them.

`PDFS` are refused at once, `SLOW` when the time that a file may take is used up; `JOBS` are job
files. Section numbers are those of ISO 32000-1.
"""

from __future__ import annotations

import zlib
from collections.abc import Callable, Sequence

from fuzz.calls import ONE
from fuzz.pdfs import form_with, pack_with, pdf_of, stream_of

from stairjig.job.document import LARGEST

CATALOG = b"<< /Type /Catalog /Pages 2 0 R %b >>"
PAGES = b"<< /Type /Pages /Kids [3 0 R] /Count 1 >>"
PAGE = b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 612 792] >>"
CARRIES = b"/Names << /EmbeddedFiles << /Names [(job.yaml) << /F (x) /EF << /F 4 0 R >> >>] >> >>"


def pdf(
    *objects: bytes,
    catalog: bytes = b"",
    trailer: bytes = b"",
    pages: bytes = PAGES,
    page: bytes = PAGE,
) -> bytes:
    """A file of one empty page with these objects behind it, numbered from 4."""
    return pdf_of([CATALOG % catalog, pages, page, *objects], trailer)


def carrying(stream: bytes) -> bytes:
    """A file that carries this stream as its job."""
    return pdf(stream, catalog=CARRIES)


def zeros(megabytes: int) -> bytes:
    """Packed noughts."""
    packer = zlib.compressobj(9)
    return b"".join(packer.compress(bytes(1_000_000)) for _ in range(megabytes)) + packer.flush()


def table_at(file: bytes) -> bytes:
    return b"%d" % file.rindex(b"xref\n0")


def tabled(
    objects: Sequence[tuple[int, bytes]],
    rows: Sequence[tuple[int, int, int]],
    entries: bytes = b"",
    table: bytes | None = None,
    widths: bytes = b"[1 4 1]",
) -> bytes:
    """A file whose table is a stream (7.5.8), as newer libraries write them.

    Rows are (1, an object's number, 0) for where it stands or (2, a stream of objects, its place
    there); the catalog is object 2. In `entries` a @ is where the table itself stands.
    """
    body, offsets = b"%PDF-1.7\n", {}
    for number, part in objects:
        offsets[number] = len(body)
        body += b"%d 0 obj\n%b\nendobj\n" % (number, part)
    at = len(body)
    plain = b"".join(
        bytes((kind,)) + (offsets[number] if kind == 1 else number).to_bytes(4, "big") + bytes((x,))
        for kind, number, x in rows
    )
    keys = b"/Type /XRef /Size %d /W %b /Root 2 0 R %b" % (len(rows), widths, entries)
    stream = stream_of(plain if table is None else table, keys.replace(b"@", b"%d" % at))
    body += b"%d 0 obj\n%b\nendobj\n" % (max(offsets) + 1, stream)
    return body + b"startxref\n%d\n%%%%EOF\n" % at


def packed(inside: bytes, count: int = 1, entries: bytes = b"", holder: int = 1) -> bytes:
    """A file whose catalog stands in a packed stream of objects (7.5.7)."""
    keys = b"/Type /ObjStm /N %d /First 4 /Filter /FlateDecode %b" % (count, entries)
    rows = ((0, 0, 255), (1, 1, 0), (2, holder, 0), (1, 1, 0))
    return tabled([(1, stream_of(zlib.compress(inside, 9), keys))], rows)


def predicted(parameters: bytes, data: bytes) -> bytes:
    """A file whose table is packed as differences (7.4.4.4)."""
    keys = b"/Filter /FlateDecode /DecodeParms << /Predictor 15 %b >>" % parameters
    return tabled([(2, CATALOG % b"")], [(0, 0, 255)] * 4, keys, zlib.compress(data, 9))


def older(count: int) -> bytes:
    """A file of so many revisions, each table leading to the one before."""
    parts, at, before = [PLAIN[: PLAIN.rindex(b"xref\n0")]], PLAIN.rindex(b"xref\n0"), b""
    for _ in range(count):
        table = b"xref\n0 1\n0000000000 65535 f \n"
        parts.append(table + b"trailer\n<< /Size 4 /Root 1 0 R %b >>\n" % before)
        before = b"/Prev %d" % at
        at += len(parts[-1])
    return b"".join(parts) + b"startxref\n%d\n%%%%EOF\n" % (at - len(parts[-1]))


def chain(count: int, name: bytes) -> bytes:
    """Fields in fields, each of that name."""
    fields = [b"<< /T (%b) /Kids [%d 0 R] >>" % (name, n) for n in range(5, 5 + count)]
    return pdf(*fields, b"<< /T (z) /V (x) >>", catalog=b"/AcroForm << /Fields [4 0 R] >>")


DEEP = [CATALOG % b""] + [b"<< /Type /Pages /Kids [%d 0 R] /Count 1 >>" % n for n in range(3, 3000)]
PLAIN = pdf()
BOMB = zeros(200)
SCRIPT = b"/OpenAction << /S /JavaScript /JS (app.launchURL('x')) >> /AA << /WC << /S /Launch >> >>"
ENDLESS = PLAIN[: PLAIN.rindex(b"startxref")]
MANY_LINES = b"xref\n0 2000000\n" + b"0000000009 00000 n \n" * 2_000_000
TITLE = "form1__inch__p1__title"
PDFS: dict[str, Callable[[], bytes]] = {
    "a script": lambda: pdf(catalog=SCRIPT),
    "a script beside a bad job": lambda: pack_with({"job.yaml": b"title: [", "a.js": b"x"}, SCRIPT),
    "tables in a circle": lambda: pdf(trailer=b"/Prev " + table_at(PLAIN)),
    "a table that leads to the header": lambda: pdf(trailer=b"/Prev 9"),
    "a table of a hundred million": lambda: PLAIN.replace(b"0 4\n", b"0 99999999\n"),
    "two million table lines": lambda: b"%PDF-1.7\n" + MANY_LINES
    + b"trailer << /Size 9 /Root 1 0 R >>\nstartxref\n9\n%%EOF\n",
    "an end nowhere": lambda: ENDLESS + b"startxref\n" + b"9" * 30 + b"\n%%EOF",
    "no end": lambda: b"%PDF-1.7\n" + b"x\n" * 20_000_000,
    "an end far from the end": lambda: PLAIN + b"\n" * 30_000_000,
    "objects without number": lambda: PLAIN[:9] + b"1 0 obj <<>> endobj\n" * 900_000 + PLAIN[9:],
    "a word of 25 MB outside of streams": lambda: pdf(catalog=b"/X <" + b"41" * 12_500_000 + b">"),
    "a deep tree of pages": lambda: pdf_of([*DEEP, PAGE]),
    "pages in a circle": lambda: pdf(pages=b"<< /Type /Pages /Kids [2 0 R] /Count 1 >>"),
    "200,000 pages": lambda: pdf(pages=b"<< /Kids [" + b"3 0 R " * 200_000 + b"] >>"),
    "a catalog that is itself": lambda: pdf_of([b"1 0 R", PAGES, PAGE]),
    "brackets in brackets": lambda: pdf(catalog=b"/X " + b"[" * 100_000),
    "blocks in blocks": lambda: pdf(catalog=b"/X " + b"<</A " * 100_000),
    "a job that blows up": lambda: carrying(stream_of(BOMB, b"/Filter /FlateDecode")),
    "a job that blows up twice": lambda: carrying(
        stream_of(zlib.compress(BOMB, 9), b"/Filter [/FlateDecode /FlateDecode]")
    ),
    "a catalog that blows up": lambda: packed(b"2 0 " + CATALOG % b"" + b" " * 8_000_000),
    "a job of 30 MB": lambda: pack_with({"job.yaml": b"title: x\n" * 3_300_000}),
    "a job as long as itself": lambda: carrying(b"<< /Length 4 0 R >>\nstream\nx\nendstream"),
    "a job in a circle": lambda: carrying(b"4 0 R"),
    "a job of another packing": lambda: carrying(stream_of(b"x", b"/Filter /JBIG2Decode")),
    "a job from elsewhere": lambda: carrying(stream_of(ONE, b"/F (/etc/passwd) /FFilter /Crypt")),
    "four thousand files": lambda: pdf(
        stream_of(b"a"),
        catalog=b"/Names << /EmbeddedFiles << /Names ["
        + b"(a) << /F (a) /EF << /F 4 0 R >> >> " * 4_000
        + b"] >> >>",
    ),
    "a cipher": lambda: pdf(trailer=b"/Encrypt << /Filter /Standard /V 5 /R 6 /O (x) /U (x) >>"),
    "a form with a title of 90,000 signs": lambda: form_with({TITLE: "x" * 90_000}),
    "a form of 2,000 fields": lambda: form_with({f"f{n}": "x" for n in range(2_000)}),
    "a pack.json of 20 MB": lambda: pack_with({"job.yaml": ONE, "pack.json": b"[" * 20_000_000}),
    "a pack.json in itself": lambda: pack_with({"job.yaml": ONE, "pack.json": b'{"a":' * 9_000}),
    "objects packed in a stream that goes on in itself": lambda: packed(
        b"2 0 " + CATALOG % b"", entries=b"/Extends 1 0 R"
    ),
    "a stream of objects inside itself": lambda: packed(b"2 0 " + CATALOG % b"", holder=2),
    "a stream of a billion objects": lambda: packed(b"2 0 " + CATALOG % b"", count=10**9),
    "70 MB of numbers packed": lambda: packed(b"2 0 << /X [" + b"1 " * 35_000_000 + b"] >>"),
    "differences two billion wide": lambda: predicted(b"/Columns 2000000000", b"\2" * 99),
    "differences of no width": lambda: predicted(b"/Columns 0", b"\2" * 99),
    "a billion inks": lambda: predicted(b"/Colors 1000000000 /BitsPerComponent 99", b"\2" * 99),
    "a table that is its own forerunner": lambda: tabled(
        [(2, CATALOG % b"")], [(0, 0, 255), (0, 0, 0), (1, 2, 0)], b"/Prev @ /XRefStm @"
    ),
    "a table of a billion rows of nothing": lambda: tabled(
        [(2, CATALOG % b"")], [(1, 2, 0)], b"/Index [0 1000000000]", widths=b"[0 0 0]"
    ),
    "rows a billion wide": lambda: tabled(
        [(2, CATALOG % b"")], [(1, 2, 0)], widths=b"[1 1000000000 1]"
    ),
    "two thousand revisions": lambda: older(2_000),
    "fields in fields with long names": lambda: chain(300, b"a" * 400),
    "objects that lead on and on": lambda: pdf(
        *(b"%d 0 R" % n for n in range(5, 900)), catalog=b"/AcroForm 4 0 R"
    ),
}  # fmt: skip
SLOW: dict[str, Callable[[], bytes]] = {
    "differences of 30 MB": lambda: predicted(b"/Columns 1", b"\4" * 30_000_000),
    "a hundred thousand revisions": lambda: older(100_000),
    "99,000 fields": lambda: pdf(
        *[b"<< /T (a) /V (x) /X [%b] >>" % (b"1 " * 25)] * 99_000,
        catalog=b"/AcroForm << /Fields [%b] >>"
        % b" ".join(map(b"%d 0 R".__mod__, range(4, 99_000))),
    ),
    "fields in fields, 20 MB": lambda: chain(5_000, b"a" * 4_000),
    "comments without end": lambda: pdf(catalog=b"%\n" * 8_000_000),
    "trailers without end": lambda: b"%PDF-1.7\n"
    + b"trailer <<>>\n" * 1_500_000
    + b"startxref\n0\n%%EOF",
    "brackets spelled out": lambda: pdf(catalog=b"/X (" + b"\\(" * 8_000_000 + b")"),
    "numbers without end": lambda: pdf(catalog=b"/X [" + b"1 " * 11_000_000 + b"]"),
}  # fmt: skip


def upto(begin: str, unit: str, end: str = "") -> bytes:
    """A job file as long as it may be."""
    return (begin + unit * ((LARGEST - len(begin) - len(end)) // len(unit)) + end).encode()


BILLION = "\n".join(
    ["a: &a [x]"]
    + [
        f"{b}: &{b} [{', '.join(['*' + a] * 10)}]"
        for a, b in zip("abcdefghi", "bcdefghij", strict=True)
    ]
)
JOBS: dict[str, Callable[[], bytes]] = {
    "a bomb of aliases": BILLION.encode,
    "10 MB": lambda: b"title: x\n" * 1_200_000,
    "brackets in brackets": lambda: b"[" * 250_000,
    "a million treads": lambda: ONE.replace(b"10 1/4", b"{run: 10, times: 1000000}"),
    "twenty thousand treads": lambda: ONE.replace(b"10 1/4", b"9," * 20_000 + b"9"),
    "lists in a list": lambda: upto("[", "[],", "]"),
    "words over lines": lambda: upto('title: "', "a\n ", '"'),
    "300 digits often": lambda: upto("title: [", "9" * 300 + ", ", "]"),
    "a run of 200,000 digits": lambda: ONE.replace(b"10 1/4", b"9" * 200_000),
    "keys that are none": lambda: b"".join(map(b"titel%d: a\n".__mod__, range(12_000))),
    "nine thousand sections of nothing": lambda: ONE.partition(b"  - ")[0]
    + b"  [" + b"{kind: treads}," * 9_000 + b"]",
    "an accent sixty thousand times": lambda: ONE.replace(b"Wren", "e\u0301".encode() * 60_000),
}  # fmt: skip
