"""Which treads share one strip."""

from __future__ import annotations

from typing import Literal

from stairjig.setout.values import SectionSetout, SetTread


def strips(
    section: SectionSetout, copies: Literal["each", "shared"]
) -> tuple[tuple[SetTread, ...], ...]:
    """The treads with balusters, grouped by the strip they are marked from.

    `each`: one tread a strip. `shared`: treads whose measures and marks are the same to the last
    bit share one; the first and the last of a section keep their own, with their notes.
    """
    standing = [tread for tread in section.treads if tread.marks]
    if copies == "each":
        return tuple((tread,) for tread in standing)
    groups: dict[object, list[SetTread]] = {}
    for tread in standing:
        ends = tread in (standing[0], standing[-1])
        groups.setdefault(tread.plan.number if ends else _shape(tread), []).append(tread)
    return tuple(tuple(group) for group in groups.values())


def _shape(tread: SetTread) -> object:
    plan = tread.plan
    marks = tuple((mark.x, mark.type.name) for mark in tread.marks)
    return (
        plan.line_run,
        plan.front.skew,
        plan.back.skew,
        plan.front_nosing,
        plan.end_front,
        plan.end_back,
        tread.gap,
        marks,
    )
