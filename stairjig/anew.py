"""A pack from disk against the same pack drawn anew from the job that it carries."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from stairjig.errors import Finding
from stairjig.pack import made_with, make_pack
from stairjig.progress import Tell, untold
from stairjig.proof.prove import patience_for
from stairjig.proof.sameness import Source, sources

if TYPE_CHECKING:
    from stairjig.intake import Opened
    from stairjig.setout.values import Setout


def comparable(opened: Opened) -> bool:
    """Whether the pack was drawn with what is here: else pages may differ and yet be right."""
    return all(opened.made.get(key) == value for key, value in made_with().items())


def differences(
    data: bytes, opened: Opened, setout: Setout, name: str, tell: Tell = untold
) -> tuple[Finding, ...]:
    """Name each sheet that is not drawn as the pack's own job is; raises as `make_pack` does."""
    fresh = make_pack(opened.job, opened.wanted, proof=False, tell=tell).data
    here = sources(data, name, patience_for(setout))
    return tuple(Finding("proof", "", fault) for fault in _faults(here, sources(fresh)))


def _faults(here: tuple[Source, ...], due: tuple[Source, ...]) -> Iterator[str]:
    if len(here) != len(due):
        yield f"it has {len(here) - 1} sheets, and {len(due) - 1} were made"
        return
    for number, (one, other) in enumerate(zip(here, due, strict=True)):
        if not one.same(other):
            what = f"page {number} of the file" if number else "how the file is to be shown"
            yield f"{what} was changed after it was made: print the pack anew from its job"
