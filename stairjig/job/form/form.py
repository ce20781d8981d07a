"""A filled measuring form into one frozen, resolved `Job`."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from stairjig.job.document import Broken, Listing, Word
from stairjig.job.faults import Faults
from stairjig.job.form.answers import Answers, names_of
from stairjig.job.form.as_yaml import commented
from stairjig.job.form.balusters import balusters_and_pattern
from stairjig.job.form.section import section
from stairjig.job.form.tree import any_given, block_of, block_where_given
from stairjig.job.reader import job_of

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from stairjig.job.document import Block, Node
    from stairjig.job.model import Job

_LIMITS = {"stair": "stair", "level": "level_limit", "triangle": "triangle"}
_RAIL = {"height": "height", "depth": "rail_depth", "width": "rail_width"}
_PLOW = {"width": "plow_width", "depth": "plow_depth"}
_SETTINGS = ("paper", "margin", "allowance", "tolerance", "show")


def is_form(fields: Mapping[str, str]) -> bool:
    """Whether a document's fields are those of a measuring form."""
    return bool(names_of(fields))


def job_of_form(
    fields: Mapping[str, str],
    file: str,
    paper: str | None = None,
    missing: Callable[[str], str] | None = None,
) -> Job:
    """The job in a filled form; its `source` is the same job as a commented job file.

    `fields`: the values of the document's fields by name, "" for a box that is not ticked; `file`
    names it in messages, `paper` overrides its own, `missing` gives the characters of a name that
    can't be printed. Raises BadInput with every problem, in the order of the form, each with its
    printed label and page.
    """
    faults = Faults()
    answers = Answers(fields, file, faults)
    root = _job(answers)
    job = job_of(root, faults, b"", paper, missing)
    return replace(job, source=commented(root, _remark(answers)))


def _remark(answers: Answers) -> str:
    """Who measured, and when: no part of a job, so it goes along as a note."""
    by, on = answers.text("by"), answers.text("on")
    said = " ".join([*(["measured by", by] if by else []), *(["on", on] if on else [])])
    return f"From a measuring form{', ' if said else ''}{said}."


def _job(answers: Answers) -> Block:
    where = answers.area("A")
    nodes: dict[str, Node | None] = {
        "title": answers.needed("title"),
        "units": Word(answers.units, where),
        "openings": _openings(answers),
        **{key: answers.word(key) for key in _SETTINGS},
        "copies": answers.tick("copies"),
        **balusters_and_pattern(answers),
        "rail": _rail(answers),
        "sections": Listing((section(answers),), where),
    }
    return block_of(nodes, where)


def _openings(answers: Answers) -> Node:
    """The rule set's name, or a block of own limits; one of the two must be there."""
    named, own = answers.word("openings"), any_given(answers, _LIMITS)
    if named and (own or answers.given("equal")):
        answers.faults.add("a rule set stands beside own limits", named.where, "keep one of them")
        return Broken(named.where)
    if named:
        return named
    if not own:
        return answers.lacking("openings", mend="write irc, ibc, uk, ca or au, or own limits below")
    nodes: dict[str, Node | None] = {key: answers.word(asked) for key, asked in _LIMITS.items()}
    return block_of({**nodes, "equal": answers.tick("equal")}, answers.place("stair"))


def _rail(answers: Answers) -> Block:
    nodes: dict[str, Node | None] = {key: answers.needed(asked) for key, asked in _RAIL.items()}
    plow = block_where_given(answers, _PLOW)
    return block_of({**nodes, "plow": plow}, answers.area("G"))
