"""What a carpenter can do about a file that is no YAML: the parser's complaints in plain words."""

from __future__ import annotations

from typing import Any

_UNCLOSED_LIST = ("this list is not closed with ], or a comma is missing in it", "close it")
_UNCLOSED_BLOCK = ("these keys are not closed with }, or a comma is missing", "close them")
_UNCLOSED_QUOTE = ("a quote is opened here and never closed", "close it, or leave both out")
_STAR = ("words that begin with *, & or % must stand in quotes", 'write them like "* new"')

_AT_START = (
    ("expected ',' or ']'", *_UNCLOSED_LIST),
    ("expected ',' or '}'", *_UNCLOSED_BLOCK),
    ("found unexpected end of stream", *_UNCLOSED_QUOTE),
    ("found unexpected document separator", *_UNCLOSED_QUOTE),
    (
        "could not find expected ':'",
        "a key stands here without its colon, or without the space behind it",
        "write key: value",
    ),
)
"""Complaints that are better shown where the thing began, (part of the complaint, what, mend)."""

_AT_SPOT = (
    (
        "found character '\\t'",
        "a tab stands where spaces belong",
        "indent with spaces",
    ),
    (
        "mapping values are not allowed",
        "a colon stands where none belongs",
        'is the line lined up, and has the one above its colon? Words with ": " go in quotes',
    ),
    (
        "sequence entries are not allowed",
        "a dash stands where no list can begin",
        "begin the list on a line of its own",
    ),
    (
        "expected <block end>",
        "this line does not belong to the lines above it",
        "indent it like its neighbours; a length with an inch mark needs no quotes around it",
    ),
    (
        "expected alphabetic or numeric",
        *_STAR,
    ),
    (
        "that cannot start any token",
        "a value cannot begin with this sign",
        "put it in quotes",
    ),
    (
        "found unknown escape",
        "a backslash stands between double quotes",
        "take it out, or use single quotes",
    ),
    (
        "expected '<document start>'",
        "something follows where the job has ended",
        "give every value its own key",
    ),
    (
        "expected the node content",
        "a value is missing in front of this sign",
        "write the value",
    ),
)
"""Complaints shown where they were found."""

_ELSE = (
    "cannot be read from here on",
    "look for a missing colon, quote or bracket, or for lines not lined up",
)


def syntax_problem(error: Any) -> tuple[str, str, Any]:
    """What is wrong, how to mend it, and the parser's mark for where, from a marked YAML error."""
    complaint = error.problem or ""
    for part, what, mend in _AT_START:
        if part in complaint:
            return what, mend, error.context_mark or error.problem_mark
    for part, what, mend in _AT_SPOT:
        if part in complaint:
            return what, mend, error.problem_mark or error.context_mark
    return *_ELSE, error.problem_mark or error.context_mark
