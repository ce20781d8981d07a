"""A form's flight on treads: a row for each tread, its rises, its line and its taped rail."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stairjig.job import scalars
from stairjig.job.document import Broken, Listing, Word
from stairjig.job.form.fields import LANDING, QUESTIONS, TREAD_KEYS, WINDER_KEYS
from stairjig.job.form.tree import block_of, block_where_given
from stairjig.job.model import MOST_TREADS
from stairjig.job.scalars import Reading
from stairjig.job.treads import STEEPEST_SKEW

if TYPE_CHECKING:
    from stairjig.job.document import Node
    from stairjig.job.form.answers import Answers

_MEASURES = ("run", "depth", "line_run", *WINDER_KEYS)
_NOT_RISES = tuple(key for key in TREAD_KEYS if key != "tread_rise")
_SIDES = {"end": "end", "back": "back", "wall": "wall", "front": "front"}
_TAPED = {"from": "from", "to": "to", "length": "taped"}
_SKEWS = ("front_skew", "back_skew")


def flight(answers: Answers) -> dict[str, Node | None]:
    """The keys of a treads section but those that every section has."""
    last = _last_row(answers)
    return {
        "side": answers.tick("side") or answers.lacking("side"),
        **_rises(answers, last),
        "nosing": answers.needed("nosing"),
        "line": _line(answers),
        "line_from": answers.tick("line_from"),
        "spacing": answers.tick("spacing"),
        "per_tread": answers.word("per_tread"),
        "set_back": answers.word("set_back"),
        "first_tread": answers.word("first_tread"),
        "rail_taped": block_where_given(answers, _TAPED),
        "rail_length": answers.word("rail_length"),
        "treads": _treads(answers, last),
    }


def _last_row(answers: Answers) -> int:
    """The number of the last tread; rows behind it that hold a rise alone are reported."""
    last = min(max(answers.rows(_NOT_RISES), default=0), MOST_TREADS)
    for row in answers.rows(["tread_rise"]):
        if row > last:
            answers.faults.add(
                "has a rise and no measure",
                answers.place("tread_rise", str(row)),
                "measure the tread; the rise to the landing has a row of its own",
            )
    return last


def _rises(answers: Answers, last: int) -> dict[str, Node | None]:
    """One rise for all, or the list of them: whichever of the two is filled in."""
    rows = [*map(str, range(1, last + 1)), LANDING]
    listed = any(answers.given("tread_rise", row) for row in rows)
    if not listed:
        return {"rise": answers.needed("rise", mend="write it, or each tread's rise in part C")}
    if answers.given("rise"):
        answers.faults.add(
            "stands beside the rises in part C", answers.place("rise"), "clear it, or clear those"
        )
        return {"rise": Broken(answers.place("rise"))}
    rises = [answers.needed("tread_rise", row) for row in rows]
    return {"rises": Listing(tuple(rises), answers.area("C"))}


def _line(answers: Answers) -> Node:
    front, back = answers.needed("line"), answers.word("line_back")
    if back is None:
        return front
    return block_of({"front": front, "back": back}, answers.place("line"))


def _treads(answers: Answers, last: int) -> Node:
    where = answers.area("C")
    if not last:
        return answers.lacking("run", "1", "measure each tread: run, depth, line run or its sides")
    skew = _skew_of_all(answers)
    return Listing(tuple(_tread(answers, str(n), skew) for n in range(1, last + 1)), where)


def _skew_of_all(answers: Answers) -> Node | None:
    """The skew that holds where a tread has none of its own; judged here, to be told off once."""
    found = answers.word("skew")
    if found is None:
        return None
    reading = Reading(answers.units, answers.faults)
    read = scalars.angle(found, "skew", reading, -STEEPEST_SKEW, STEEPEST_SKEW)
    return Broken(found.where) if read is None else found


def _tread(answers: Answers, row: str, skew: Node | None) -> Node:
    where = answers.area("C", row)
    if not any(answers.given(key, row) for key in _MEASURES):
        codes = ", ".join(QUESTIONS[key].code for key in _MEASURES[:3])
        answers.faults.add("is not measured", where, f"fill in one of {codes}, or its sides in D")
        return Broken(where)
    winder = any(answers.given(key, row) for key in WINDER_KEYS)
    nodes: dict[str, Node | None] = {
        **{key: answers.word(key, row) for key in _MEASURES[:3]},
        **(_winder(answers, row) if winder else {}),
        **_skews(answers, row, None if winder else skew),
        "per_tread": answers.word("on_tread", row),
        "bare": answers.tick("bare", row),
    }
    block = block_of(nodes, where)
    (key, only), *others = block.entries
    return only if key.text == "run" and isinstance(only, Word) and not others else block


def _winder(answers: Answers, row: str) -> dict[str, Node | None]:
    sides = {key: answers.needed(asked, row) for key, asked in _SIDES.items()}
    return {
        "sides": block_of(sides, answers.area("D", row)),
        "diagonal": answers.needed("diagonal", row),
        "check_diagonal": answers.word("check_diagonal", row),
    }


def _skews(answers: Answers, row: str, skew: Node | None) -> dict[str, Node | None]:
    """A tread's skews: its own two, the one of all risers standing in for what is empty."""
    own = {key: answers.word(key, row) for key in _SKEWS}
    if not any(own.values()):
        return {"skew": skew}
    return {key: node or skew for key, node in own.items()}
