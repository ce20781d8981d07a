"""The baluster types of a form, its three columns, and the pattern that names them."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from stairjig.job.document import Block, Broken, Listing, Word
from stairjig.job.form.fields import TYPES
from stairjig.job.form.fields import part as part_of
from stairjig.job.form.tree import block_of, block_where_given

if TYPE_CHECKING:
    from stairjig.job.document import Node
    from stairjig.job.form.answers import Answers

_COLUMN = tuple(asked.key for asked in part_of("H").questions if asked.key != "pattern")
_TREAD_HOLE = {"size": "tread_hole", "depth": "tread_hole_depth"}
_RAIL_HOLE = {"size": "rail_hole", "depth": "rail_hole_depth"}
_MERGE = "<<"
"""What no key of a job file may be."""
_BETWEEN = re.compile("[,;/+>→]")


def balusters_and_pattern(answers: Answers) -> dict[str, Node | None]:
    """The two keys of a job: at least one type, and a pattern where there are several."""
    rows = [row for row in TYPES if any(answers.given(key, row) for key in _COLUMN)]
    names = {row: _name(answers, row) for row in rows}
    if not rows:
        answers.lacking("width", TYPES[0], "fill in a type for each baluster that is used")
        return {"balusters": Broken(answers.area("H")), "pattern": None}
    entries = tuple((names[row], _baluster(answers, row)) for row in rows)
    return {
        "balusters": Block(entries, answers.area("H")),
        "pattern": _pattern(answers, {row: name.text for row, name in names.items()}),
    }


def _name(answers: Answers, row: str) -> Word:
    """A type's own name, or its column's letter."""
    found = answers.word("type", row) or Word(row, answers.place("type", row))
    if found.text == _MERGE:
        answers.faults.add(f'"{_MERGE}" can be no name', found.where, "write a word")
    return found


def _baluster(answers: Answers, row: str) -> Block:
    nodes: dict[str, Node | None] = {
        "shape": answers.tick("shape", row) or answers.lacking("shape", row),
        "width": answers.needed("width", row),
        "narrowest": answers.word("narrowest", row),
        "base": answers.word("base", row),
        "top": answers.tick("top", row),
        "tread_hole": block_where_given(answers, _TREAD_HOLE, row),
        "rail_hole": block_where_given(answers, _RAIL_HOLE, row),
        "fit": answers.word("fit", row),
    }
    return block_of(nodes, answers.area("H", row))


def _pattern(answers: Answers, names: dict[str, str]) -> Node | None:
    """The pattern's names; None where the only type may stand for it."""
    found = answers.word("pattern")
    if found is None:
        if len(names) < 2:
            return None
        letters = " ".join(names)
        return answers.lacking("pattern", mend=f"write the types going up, like {letters}")
    words = [_called(text, names) for text in _parted(found.text, set(names.values()))]
    return Listing(tuple(Word(text, found.where) for text in words), found.where)


def _parted(text: str, names: set[str]) -> list[str]:
    """The pattern's words: parted by commas where there are any or by spaces."""
    if text in names:
        return [text]
    if _BETWEEN.search(text):
        return [" ".join(part.split()) for part in _BETWEEN.split(text) if part.strip()]
    return text.split()


def _called(text: str, names: dict[str, str]) -> str:
    """A type's name, where its column's letter may stand for it."""
    return text if text in names.values() else names.get(text.upper(), text)
