"""The one section of a form: its kind, its ends, and what was measured on the level or a slope."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stairjig.job.document import Block, Word
from stairjig.job.form.fields import QUESTIONS, TREAD_KEYS
from stairjig.job.form.fields import part as part_of
from stairjig.job.form.flight import flight
from stairjig.job.form.tree import block_of, block_where_given

if TYPE_CHECKING:
    from collections.abc import Iterable

    from stairjig.errors import Place
    from stairjig.job.document import Node
    from stairjig.job.form.answers import Answers

_KINDS = dict(QUESTIONS["kind"].options)
_OPEN_ENDS = dict(QUESTIONS["instead"].options)
_NEWEL = {"width": "newel_width", "narrowest": "newel_narrowest"}
_PLACE = {"face": "face", "replaces": "replaces"}
_BOTTOM_RAIL = {
    "lift": "lift",
    "rise": "under_rise",
    "run": "under_run",
    "nosing": "under_nosing",
}
_TAPED = ("from", "to", "taped", "rail_length")
_ON_TREADS = (
    "side",
    *(asked.key for asked in part_of("B").questions),
    *_TAPED,
    *("spacing", "per_tread", "set_back"),
)
"""What is asked of a flight on treads alone, its tables apart."""
_ON_A_SLOPE = ("pitch", *_BOTTOM_RAIL.values())
_STRAIGHT = tuple(asked.key for asked in part_of("E").questions)


def section(answers: Answers) -> Node:
    """The section; what is filled in for another kind than the one ticked is reported."""
    ticked, told = answers.tick("kind"), _told(answers)
    nodes: dict[str, Node | None] = {
        "name": answers.needed("name"),
        "lower_newel": _newel(answers, "lower"),
        "upper_newel": _newel(answers, "upper"),
    }
    if isinstance(ticked, Word):
        _refuse_strays(answers, ticked.text)
        return _of_kind(answers, nodes, ticked)
    lacking = ticked or answers.lacking("kind")
    return _of_kind(answers, nodes, Word(told, lacking.where)) if told else lacking


def _of_kind(answers: Answers, common: dict[str, Node | None], kind: Word) -> Block:
    own = flight(answers) if kind.text == "treads" else _straight(answers, kind.text)
    name, *ends = common.items()
    return block_of(dict([name, ("kind", kind), *ends, *own.items()]), answers.area("A"))


def _told(answers: Answers) -> str:
    """The kind that the measures tell."""
    if answers.rows(TREAD_KEYS) or any(answers.given(key) for key in _ON_TREADS):
        return "treads"
    if any(answers.given(key) for key in _ON_A_SLOPE):
        return "sloped"
    return "level" if any(answers.given(key) for key in _STRAIGHT) else ""


def _newel(answers: Answers, end: str) -> Node:
    instead = answers.tick("instead", end)
    written = [key for key in (*_NEWEL.values(), *_PLACE.values()) if answers.given(key, end)]
    if instead is None:
        return _post(answers, end, bool(written))
    if isinstance(instead, Word):
        for key in written:
            answers.faults.add(
                f"is filled in, and {_OPEN_ENDS[instead.text]} is ticked",
                answers.place(key, end),
                "take one of the two out",
            )
    return instead


def _post(answers: Answers, end: str, begun: bool) -> Node:
    if not begun:
        return answers.lacking(
            "newel_width", end, "write the newel's width, or tick a wall or nothing"
        )
    place = block_of(
        {key: answers.word(asked, end) for key, asked in _PLACE.items()},
        answers.place("replaces", end),
    )
    nodes: dict[str, Node | None] = {
        "width": answers.needed("newel_width", end),
        "narrowest": answers.word("newel_narrowest", end),
        "place": place if place.entries else None,
    }
    return block_of(nodes, answers.area("F", end))


def _straight(answers: Answers, kind: str) -> dict[str, Node | None]:
    nodes: dict[str, Node | None] = {
        "length": answers.needed("length"),
        "shoe": block_where_given(answers, {"depth": "shoe_depth"}),
        "count": answers.word("count"),
    }
    if kind == "sloped":
        nodes["pitch"] = answers.needed("pitch")
        nodes["bottom_rail"] = block_where_given(answers, _BOTTOM_RAIL)
    return nodes


def _refuse_strays(answers: Answers, kind: str) -> None:
    """Report what is filled in for another kind of section."""
    if kind == "treads":
        _refuse(answers, _STRAIGHT, kind)
        return
    _refuse(answers, _ON_TREADS, kind)
    if kind == "level":
        _refuse(answers, _ON_A_SLOPE, kind)
    for letter in "CD":
        if answers.rows(asked.key for asked in part_of(letter).questions):
            _stray(answers, answers.area(letter), kind)


def _refuse(answers: Answers, keys: Iterable[str], kind: str) -> None:
    for key in keys:
        if answers.given(key):
            _stray(answers, answers.place(key), kind)


def _stray(answers: Answers, where: Place, kind: str) -> None:
    answers.faults.add(
        f"is filled in, and the section is {_KINDS[kind]}",
        where,
        f"clear it, or tick another kind in {QUESTIONS['kind'].code}",
    )
