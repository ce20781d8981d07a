"""What strips and the ends of sections are called; the paper and its proof say the same."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Literal

from stairjig.job.model import LevelSection
from stairjig.setout.values import SectionSetout, SetTread

Ground = Literal["tread", "shoe", "floor"]


def ground(section: SectionSetout) -> Ground:
    """Say what the section's balusters stand on.

    A slope has a shoe rail, even one whose depth is not given; a level section has one by its
    depth, else the floor.
    """
    kind = section.section
    if isinstance(kind, LevelSection):
        return "shoe" if kind.shoe_depth.mm else "floor"
    return "tread" if section.treads else "shoe"


def tread_numbers(treads: Sequence[SetTread]) -> str:
    """The treads of one strip, as printed: `4`, or `4 to 6, 9` where they share it."""
    return in_runs(tread.plan.number for tread in treads)


def runs_of(names: Iterable[str]) -> str:
    """Names of marks in words: plain numbers as `in_runs` puts them, else listed."""
    listed = list(names)
    if all(name.isdigit() for name in listed):
        return in_runs(map(int, listed))
    return ", ".join(listed)


def in_runs(numbers: Iterable[int]) -> str:
    """Numbers in order, in words: `4 to 6, 9`."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(
        f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(map(str, run)) for run in runs
    )


def tread_strip_name(section: SectionSetout, treads: Sequence[SetTread]) -> str:
    """`Hall flight · tread 4`."""
    label = "tread" if len(treads) == 1 else "treads"
    return f"{section.name} · {label} {tread_numbers(treads)}"


def rail_strip_name(section: SectionSetout) -> str:
    """`Hall flight · rail`."""
    return f"{section.name} · rail"


def shoe_strip_name(section: SectionSetout) -> str:
    """`Knee wall · shoe`, or `Balcony · floor` where there is no shoe rail."""
    return f"{section.name} · {ground(section)}"


def newel_name(end: str, kind: str) -> str:
    """What stands at a section's end: `lower newel`, or `upper wall`."""
    return f"{end} {'newel' if kind == 'post' else 'wall'}"
