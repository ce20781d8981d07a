"""A step of the helper's work, and its figures section by section."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stairjig.frozen import frozen
from stairjig.job.model import TreadsSection

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from stairjig.drawing import Item
    from stairjig.setout.values import SectionSetout, SetNewel, Setout

MOST = 6
"""Sections whose figures are listed in a step; the others' stand on the sheets that it names."""


@frozen
class Step:
    """One step: what to do, this job's figures for it, when to stop, and its drawing."""

    title: str
    words: tuple[str, ...]
    figures: tuple[str, ...]
    stop: str
    drawing: tuple[Item, ...]


def on_treads(setout: Setout) -> tuple[SectionSetout, ...]:
    """Pick the sections whose balusters stand on treads."""
    return tuple(one for one in setout.sections if isinstance(one.section, TreadsSection))


def on_strips(setout: Setout, *ends: str) -> bool:
    """Whether a newel that stands at one of the `ends` reaches onto the strip of its tread."""
    return any(
        newel.stands and newel.end in ends and _reaches(section, newel)
        for section in on_treads(setout)
        for newel in section.newels
    )


def _reaches(section: SectionSetout, newel: SetNewel) -> bool:
    first, last = section.treads[0].plan, section.treads[-1].plan
    if newel.end == "lower":
        return newel.face > first.front.s - first.front_nosing
    return newel.face < last.back.s or bool(last.back.skew)


def straight(setout: Setout) -> tuple[SectionSetout, ...]:
    """Pick the sections whose balusters stand on a shoe or a floor."""
    return tuple(one for one in setout.sections if not isinstance(one.section, TreadsSection))


def each(
    setout: Setout,
    sections: Sequence[SectionSetout],
    words: Callable[[SectionSetout], str],
    rest: str,
) -> tuple[str, ...]:
    """Say something of each section, by its name where the job has several.

    `rest`: where to find it for those that are too many to be listed.
    """
    alone = len(setout.sections) == 1
    said = [(section, words(section)) for section in sections[:MOST]]
    lines = [text if alone else f"{section.name}: {text}" for section, text in said if text]
    if len(sections) > MOST:
        lines.append(f"The other sections: {rest}.")
    return tuple(lines)


def by_what(sections: Sequence[SectionSetout], words: Callable[[SectionSetout], str]) -> str:
    """Say it once where it is the same for all sections, else each with those that it is for."""
    said: dict[str, list[SectionSetout]] = {}
    for section in sections:
        said.setdefault(words(section), []).append(section)
    if len(said) == 1:
        return next(iter(said))
    return "; ".join(f"{text} ({listed(those)})" for text, those in said.items())


def listed(sections: Sequence[SectionSetout]) -> str:
    """Name sections, the first of many."""
    rest = f" and {len(sections) - MOST} more" if len(sections) > MOST else ""
    return f"{', '.join(section.name for section in sections[:MOST])}{rest}"


def in_a_row(
    setout: Setout,
    sections: Sequence[SectionSetout],
    words: Callable[[SectionSetout], str],
    rest: str,
) -> tuple[str, ...]:
    """Say the same as `each`, all sections in one paragraph."""
    said = each(setout, sections, words, rest)
    return ("; ".join(said),) if said else ()
