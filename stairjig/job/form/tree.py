"""Answers of a form put together as the blocks of keys that a job file would hold."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stairjig.job.document import Block, Word

if TYPE_CHECKING:
    from collections.abc import Mapping

    from stairjig.errors import Place
    from stairjig.job.document import Node
    from stairjig.job.form.answers import Answers

Keys = dict[str, str]
"""Keys of the job file, each with the question that answers it."""


def block_of(nodes: Mapping[str, Node | None], where: Place) -> Block:
    """A block of those keys that have a value."""
    entries = ((Word(key, node.where), node) for key, node in nodes.items() if node is not None)
    return Block(tuple(entries), where)


def any_given(answers: Answers, keys: Keys, row: str = "") -> bool:
    """Whether one of these questions is answered."""
    return any(answers.given(key, row) for key in keys.values())


def block_where_given(answers: Answers, keys: Keys, row: str = "") -> Block | None:
    """A block that is there where one of its questions is answered: then all must be."""
    if not any_given(answers, keys, row):
        return None
    first = next(iter(keys.values()))
    nodes = {key: answers.needed(asked, row) for key, asked in keys.items()}
    return block_of(nodes, answers.place(first, row))
