"""The commands, a module each: `add` declares how it is called, `run` does it."""

from stairjig.commands import check, form, layout, new, pack, printer, proof

COMMANDS = (new, form, layout, pack, check, proof, printer)
"""In the order of the work."""
