"""What of a job is wanted on paper: all of it, some strips or a sheet of it, for which printer."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from stairjig.errors import BadInput, Problem
from stairjig.frozen import frozen
from stairjig.printers import Printer, printer_of

JOB_FILE, PACK_FILE = "job.yaml", "pack.json"
"""What a pack carries: the input's bytes, and what the pack was made with."""


@frozen
class Wanted:
    """A selection and a printer. `only`: as written on the command line; `sheet`: from 1."""

    only: tuple[str, ...] = ()
    sheet: int | None = None
    printer: Printer | None = None

    @property
    def reprint(self) -> bool:
        """Whether it is a part of a pack."""
        return bool(self.only) or self.sheet is not None

    @property
    def scale(self) -> tuple[float, float]:
        """How much larger everything is drawn, across and along the sheet."""
        return (self.printer.across, self.printer.along) if self.printer else (1.0, 1.0)

    def document(self) -> dict[str, Any]:
        """As a pack carries it."""
        printer = self.printer
        kept = printer and {"name": printer.name, "across": printer.across, "along": printer.along}
        return {"only": list(self.only), "sheet": self.sheet, "printer": kept}

    def overridden(self, only: list[str], sheet: int | None, printer: Printer | None) -> Wanted:
        """With what a new call asks for instead."""
        asked = bool(only) or sheet is not None
        wanted = replace(self, only=tuple(only), sheet=sheet) if asked else self
        return replace(wanted, printer=printer) if printer else wanted


WHOLE = Wanted()
"""All of a pack, for any printer."""


def wanted_of(document: dict[str, Any]) -> Wanted:
    """What a pack carries of it. Raises `BadInput` where that is damaged."""
    only, sheet, printer = (document.get(key) for key in ("only", "sheet", "printer"))
    try:
        if not all(isinstance(words, str) for words in only or []):
            raise ValueError
        if sheet is not None and (not isinstance(sheet, int) or isinstance(sheet, bool)):
            raise ValueError
        return Wanted(tuple(only or ()), sheet, printer_of(printer) if printer else None)
    except (ValueError, TypeError, AttributeError):
        raise BadInput(
            Problem("what the pack says of itself is damaged", "make it anew from the job")
        ) from None
