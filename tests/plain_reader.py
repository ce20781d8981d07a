"""A second reader of packs for the tests, which imports nothing of the program.

It knows only what the sheets promise: a tile's strokes and words stand between `/Tile BMC` and
`EMC`, its outline first; a centre cross is two straight strokes of 9 mm crossing at their middles;
a registration mark is a circle of 6 mm with such a cross, its name within 10 mm, the same on both
tiles. pypdf only unpacks the streams.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from io import BytesIO
from math import hypot

from pypdf import PdfReader
from pypdf.generic import ContentStream

MM = 25.4 / 72
Point = tuple[float, float]
Line = tuple[Point, Point]


@dataclass
class PlainText:
    text: str
    at: Point
    matrix: tuple[float, ...]
    size: float
    bold: bool


@dataclass
class PlainTile:
    page: int
    paths: list[list[Point]] = field(default_factory=list)
    curves: list[list[Point]] = field(default_factory=list)
    texts: list[PlainText] = field(default_factory=list)

    @property
    def name(self) -> str:
        return self.texts[0].text

    @property
    def outline(self) -> list[Point]:
        return self.paths[0]

    def crosses(self) -> list[Point]:
        nine = [p for p in self.paths if len(p) == 2 and abs(_long(p) - 9.0) < 0.01]
        middles = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in nine]
        level = [m for m, p in zip(middles, nine, strict=True) if abs(p[0][1] - p[1][1]) < 1e-3]
        plumb = [m for m, p in zip(middles, nine, strict=True) if abs(p[0][0] - p[1][0]) < 1e-3]
        return [m for m in level if any(_apart(m, other) < 0.005 for other in plumb)]

    def rings(self) -> list[Point]:
        found = []
        for curve in self.curves:
            us, vs = [p[0] for p in curve], [p[1] for p in curve]
            wide, high = max(us) - min(us), max(vs) - min(vs)
            if abs(wide - 6) < 0.01 and abs(high - 6) < 0.01:
                found.append(((max(us) + min(us)) / 2, (max(vs) + min(vs)) / 2))
        return found

    def registers(self) -> dict[str, Point]:
        named = {}
        for ring in self.rings():
            near = [
                text
                for text in self.texts
                if re.fullmatch(r"J\d+[ab]", text.text) and _apart(text.at, ring) < 10
            ]
            assert near, f"a registration mark of {self.name} has no name within 10 mm"
            named[min(near, key=lambda text: _apart(text.at, ring)).text] = ring
        return named

    def marks(self) -> list[Point]:
        rings = self.rings()
        return [c for c in self.crosses() if all(_apart(c, ring) > 0.01 for ring in rings)]


def _apart(p: Point, q: Point) -> float:
    return hypot(p[0] - q[0], p[1] - q[1])


def _long(path: list[Point]) -> float:
    return _apart(path[0], path[1])


def _codes(font) -> dict[int, str]:  # type: ignore[no-untyped-def]
    text = font["/ToUnicode"].get_object().get_data().decode("latin-1")
    codes: dict[int, str] = {}
    for block in re.findall(r"beginbfchar(.*?)endbfchar", text, re.S):
        for code, value in re.findall(r"<(\w+)>\s*<(\w+)>", block):
            codes[int(code, 16)] = bytes.fromhex(value).decode("utf-16-be")
    for block in re.findall(r"beginbfrange(.*?)endbfrange", text, re.S):
        for low, high, value in re.findall(r"<(\w+)>\s*<(\w+)>\s*<(\w+)>", block):
            for code in range(int(low, 16), int(high, 16) + 1):
                codes[code] = chr(int(value, 16) + code - int(low, 16))
        for low, values in re.findall(r"<(\w+)>\s*<\w+>\s*\[(.*?)\]", block, re.S):
            for n, value in enumerate(re.findall(r"<(\w+)>", values)):
                codes[int(low, 16) + n] = bytes.fromhex(value).decode("utf-16-be")
    return codes


def read_tiles(data: bytes) -> list[PlainTile]:
    """Every tile, in sheet millimetres."""
    reader = PdfReader(BytesIO(data))
    tiles: list[PlainTile] = []
    for number, page in enumerate(reader.pages, start=1):
        fonts = {
            name: _codes(font.get_object())
            for name, font in (page["/Resources"]["/Font"]).items()  # type: ignore[index]
            if "/ToUnicode" in font.get_object()
        }
        heavy = {
            name
            for name, font in (page["/Resources"]["/Font"]).items()  # type: ignore[index]
            if "Bold" in font.get_object()["/BaseFont"]
        }
        bold = False
        tile: PlainTile | None = None
        path: list[Point] = []
        bends: list[Point] = []
        matrix, codes, size, words = (1.0, 0, 0, 1.0, 0, 0), {}, 0.0, ""  # type: ignore[var-annotated]
        for operands, operator in ContentStream(page.get_contents(), reader).operations:
            values = [float(v) for v in operands if isinstance(v, (int, float))]
            if operator == b"BMC" and operands[0] == "/Tile":
                tile = PlainTile(number)
                tiles.append(tile)
            elif operator == b"EMC":
                tile = None
            elif operator == b"cm":
                raise AssertionError("a transform that this plain reader does not follow")
            elif tile is None:
                continue
            elif operator == b"m":
                path, bends = [(values[0] * MM, values[1] * MM)], []
            elif operator == b"l":
                path.append((values[0] * MM, values[1] * MM))
            elif operator == b"c":
                points = [(values[n] * MM, values[n + 1] * MM) for n in (0, 2, 4)]
                bends += [path[-1], points[-1]]
                path.append(points[-1])
            elif operator in (b"S", b"s", b"h"):
                if operator == b"h":
                    continue
                (tile.curves if bends else tile.paths).append(path)
            elif operator == b"Tf":
                codes, size = fonts[operands[0]], values[0]
                bold = operands[0] in heavy
            elif operator == b"BT":
                words, matrix = "", (1.0, 0, 0, 1.0, 0, 0)
            elif operator == b"Tm":
                matrix = tuple(values)  # type: ignore[assignment]
            elif operator == b"Td":
                matrix = (*matrix[:4], matrix[4] + values[0], matrix[5] + values[1])  # type: ignore[assignment]
            elif operator in (b"Tj", b"TJ"):
                words += _decoded(operands[0], codes)
            elif operator == b"ET":
                tile.texts.append(
                    PlainText(words, (matrix[4] * MM, matrix[5] * MM), matrix[:4], size * MM, bold)
                )
    return tiles


def _decoded(operand, codes: dict[int, str]) -> str:  # type: ignore[no-untyped-def]
    parts = operand if isinstance(operand, list) else [operand]
    text = ""
    for part in parts:
        if isinstance(part, (int, float)):
            continue
        raw = part if isinstance(part, bytes) else part.original_bytes
        text += "".join(codes[code] for code in raw)
    return text


def joined(tiles: list[PlainTile]) -> list[tuple[PlainTile, Point]]:
    """The tiles of one piece with the shifts that close their registration marks."""
    placed = [(tiles[0], (0.0, 0.0))]
    waiting = tiles[1:]
    while waiting:
        for tile in waiting:
            found = _shift(placed, tile)
            if found:
                placed.append((tile, found))
                waiting.remove(tile)
                break
        else:
            raise AssertionError(f"a tile of {tiles[0].name} joins no other")
    return placed


def _shift(placed: list[tuple[PlainTile, Point]], tile: PlainTile) -> Point | None:
    mine = tile.registers()
    for other, shift in placed:
        theirs = other.registers()
        both = sorted(set(mine) & set(theirs))
        if len(both) == 2:
            shifts = [
                (theirs[n][0] + shift[0] - mine[n][0], theirs[n][1] + shift[1] - mine[n][1])
                for n in both
            ]
            assert _apart(*shifts) < 0.005
            return shifts[0]
    return None
