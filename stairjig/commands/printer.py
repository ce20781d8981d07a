"""`stairjig printer`: what a printer draws too large or too small, remembered by a name."""

from __future__ import annotations

import argparse

from stairjig.commands.parts import DONE, Commands, command
from stairjig.errors import BadInput, Problem


def add(commands: Commands) -> None:
    """Declare the command."""
    says = "remember what a printer draws too large or too small"
    example = "stairjig printer office --along '9 31/32' --across '6 31/32'"
    parser = command(commands, "printer", says, example)
    parser.add_argument("name", metavar="NAME", help="a name of your own for it, one word")
    parser.add_argument("--along", metavar="L", help="the test sheet's upright bar as measured")
    parser.add_argument("--across", metavar="L", help="its level bar as measured")
    parser.set_defaults(command=run)


def run(call: argparse.Namespace) -> int:
    """Keep a printer's measured bars, or say what is kept of it."""
    from stairjig.printers import keep, measured, remembered

    if (call.along is None) != (call.across is None):
        raise BadInput(Problem("both bars are needed", "give --along and --across"))
    if call.along is None:
        printer = remembered(call.name)
    else:
        printer = measured(call.name, call.along, call.across)
        keep(printer)
    along, across = (_prints(factor) for factor in (printer.along, printer.across))
    print(f"printer {printer.name} prints {along} along and {across} across; --printer mends that")
    return DONE


def _prints(factor: float) -> str:
    off = (1 / factor - 1) * 100
    return f"{abs(off):.2f} % too {'small' if off < 0 else 'large'}" if off else "true"
