"""What strips and the ends of sections are called; the paper and its proof say the same."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from stairjig.job.model import LevelSection, SlopedSection
from stairjig.setout.values import SectionSetout, SetTread


def tread_numbers(treads: Sequence[SetTread]) -> str:
    """The treads of one strip, as printed: `4`, or `4 to 6, 9` where they share it."""
    return in_runs(tread.plan.number for tread in treads)


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
    kind = section.section
    shoe = isinstance(kind, SlopedSection | LevelSection) and kind.shoe_depth.mm
    return f"{section.name} · {'shoe' if shoe else 'floor'}"


def newel_name(end: str, kind: str) -> str:
    """What stands at a section's end: `lower newel`, or `upper wall`."""
    return f"{end} {'newel' if kind == 'post' else 'wall'}"
