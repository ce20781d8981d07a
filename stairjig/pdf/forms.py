"""Fields to fill in a viewer (12.7): their widgets, and how they look before that."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stairjig.drawing import Field, Run
from stairjig.pdf.content import path
from stairjig.pdf.objects import (
    POINT,
    Array,
    Dict,
    Document,
    Name,
    Words,
    literal,
    number,
    points,
    stream,
)

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from stairjig.drawing import Page

_MAX_LENGTH = 200
"""Characters that a field takes."""

_CAPITALS = 0.718
"""Height of Helvetica's capitals over its size (its metrics file: CapHeight 718)."""

_PLAIN = str.maketrans("′″⌀−", "'\"Ø-")
"""What a field shows for signs that its standard font lacks; its value keeps the sign."""

_PRINTED = 1 << 2
"""The widget is printed with its page (table 165)."""

_NO_SPELL_CHECK = 1 << 22
"""The viewer is not to underline `11/16` as an unknown word (table 228)."""


def fields(page: Page) -> Iterator[Field]:
    """Go through the page's fields in the order in which they stand."""
    for item in page.items:
        for inner in item.items if isinstance(item, Run) else (item,):
            if isinstance(inner, Field):
                yield inner


class Forms:
    """The fields of one document; how a tick looks is written once for all boxes of a size."""

    def __init__(self, document: Document) -> None:
        self.document = document
        self._made: list[Any] = []
        self._names: set[str] = set()
        self._looks: dict[tuple[float, float, str], Any] = {}
        self._fonts: Any = None

    def widgets(self, wanted: Iterable[Field]) -> list[Any]:
        """Make the widgets of the page that is added next.

        Raises:
            ValueError: a field's name is empty, holds a dot or is taken.

        """
        made = [self.document.Reference(Dict(self._entries(field))) for field in wanted]
        self._made += made
        return made

    def form(self) -> Any:
        """Make the document's form; None where there is no field."""
        if not self._made:
            return None
        fonts = Dict({"Font": self._standard_fonts()})
        return Dict({"Fields": Array(self._made), "DA": Words("/Helv 0 Tf 0 g"), "DR": fonts})

    def _entries(self, field: Field) -> dict[str, Any]:
        if not field.name or "." in field.name or field.name in self._names:
            raise ValueError(f"a field's name is its own and holds no dot: {field.name!r}")
        self._names.add(field.name)
        x, y = field.at
        common = {
            "Type": Name("Annot"),
            "Subtype": Name("Widget"),
            "Rect": points((x, y, x + field.width, y + field.height)),
            "P": self.document.thisPageRef(),
            "F": _PRINTED,
            "T": Words(field.name),
            "TU": Words(field.hint),
        }
        return common | (self._tick(field) if field.check else self._words(field))

    def _words(self, field: Field) -> dict[str, Any]:
        size = number(field.size / _CAPITALS * POINT)
        base = number((field.height - field.size) / 2 * POINT)
        shown = literal(field.value.translate(_PLAIN).encode("cp1252", "replace"))
        code = f"/Tx BMC q BT /Helv {size} Tf 0 g 2 {base} Td {shown} Tj ET Q EMC"
        # Empty, it has no look: a filler that wrote into a shared one would fill all alike.
        look = {"AP": Dict({"N": self._look(field, code)})} if field.value else {}
        return look | {
            "FT": Name("Tx"),
            "V": Words(field.value),
            "MaxLen": _MAX_LENGTH,
            "Ff": _NO_SPELL_CHECK,
            "DA": Words(f"/Helv {size} Tf 0 g"),
        }

    def _tick(self, field: Field) -> dict[str, Any]:
        w, h = field.width, field.height
        tick = path(((0.2 * w, 0.5 * h), (0.42 * w, 0.22 * h), (0.82 * w, 0.82 * h)), "S")
        yes = self._tick_look(field, f"q {number(0.12 * min(w, h) * POINT)} w {tick} Q")
        looks = Dict({"Yes": yes, "Off": self._tick_look(field, "q Q")})
        state = Name("Yes" if field.value else "Off")
        return {
            "FT": Name("Btn"),
            "V": state,
            "AS": state,
            "DA": Words("/ZaDb 0 Tf 0 g"),
            "MK": Dict({"CA": Words("4")}),  # the check mark of ZapfDingbats
            "AP": Dict({"N": looks}),
        }

    def _tick_look(self, field: Field, code: str) -> Any:
        """Give the appearance stream of that size and content, which no filler changes."""
        key = field.width, field.height, code
        if key not in self._looks:
            self._looks[key] = self._look(field, code)
        return self._looks[key]

    def _look(self, field: Field, code: str) -> Any:
        entries = {
            "Type": Name("XObject"),
            "Subtype": Name("Form"),
            "BBox": points((0, 0, field.width, field.height)),
            "Resources": Dict({"Font": self._standard_fonts()}),
        }
        return stream(self.document, code.encode("latin-1"), entries)

    def _standard_fonts(self) -> Any:
        if self._fonts is None:
            kind = {"Type": Name("Font"), "Subtype": Name("Type1")}
            words = {"BaseFont": Name("Helvetica"), "Encoding": Name("WinAnsiEncoding")}
            signs = {"BaseFont": Name("ZapfDingbats")}
            fonts = {"Helv": Dict(kind | words), "ZaDb": Dict(kind | signs)}
            refer = self.document.Reference
            self._fonts = refer(Dict({name: refer(entry) for name, entry in fonts.items()}))
        return self._fonts
