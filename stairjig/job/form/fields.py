"""What the measuring form asks, part by part: the one list that its pages and its reader share.

A question's code (`B2`) stands in the form's drawings, beside its box and in every message. A
field's name tells the form's version, its units, the printed page and the question it answers.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING, Literal

from stairjig.frozen import frozen

if TYPE_CHECKING:
    from stairjig.lengths import Units

VERSION = 1
"""Goes up whenever a name or a code of the form comes to mean something else."""
TITLE = "Stair measuring form"
ENDS = {"lower": "lower end", "upper": "upper end"}
TYPES = ("A", "B", "C")
"""The columns of baluster types; a type without a name is called by its letter."""
LANDING = "landing"
"""The row of the last rise, which has no tread."""
_NAME = re.compile("form([0-9]{1,4})__(inch|mm)__p([0-9]{1,4})__([a-zA-Z0-9_]{1,60})")
_UNPLACED = 0
_NO = "-"

Slot = tuple[str, ...]
"""The question's key, its row where it stands in a table, the word of a box to tick."""


@frozen
class Question:
    """One thing to fill in: what is printed beside its box, and what a message says of it.

    `blank`: what a blank means, in inch and in mm jobs; empty where it must be filled, `-` where
    there is nothing to say. `options`: boxes to tick, each with the job file's word for it.
    """

    key: str
    label: str
    how: str
    blank: tuple[str, str] = ("", "")
    measure: Literal["length", "degrees", "words"] = "length"
    options: tuple[tuple[str, str], ...] = ()
    code: str = ""

    @property
    def needed(self) -> bool:
        """Whether it must be filled wherever its part applies."""
        return not self.blank[0]

    def told(self, units: Units) -> str:
        """How to measure it, and what a blank means in a job of these units."""
        blank = self.blank[0 if units == "inch" else 1]
        parts = (self.how, f"blank: {blank}" if blank.strip(_NO) else "")
        return "; ".join(part for part in parts if part)


@frozen
class Part:
    """A lettered part of the form."""

    letter: str
    title: str
    questions: tuple[Question, ...]


def _ask(key: str, label: str, how: str, blank: str = "", mm: str = "") -> Question:
    return Question(key, label, how, (blank, mm or blank))


def _words(key: str, label: str, how: str, blank: str = "", mm: str = "") -> Question:
    return Question(key, label, how, (blank, mm or blank), "words")


def _turn(key: str, label: str, how: str, blank: str = "") -> Question:
    return Question(key, label, how, (blank, blank), "degrees")


def _tick(key: str, label: str, how: str, options: dict[str, str], blank: str = "") -> Question:
    return Question(key, label, how, (blank, blank), "words", tuple(options.items()))


def _part(letter: str, title: str, *questions: Question) -> Part:
    coded = [replace(asked, code=f"{letter}{n}") for n, asked in enumerate(questions, start=1)]
    return Part(letter, title, tuple(coded))


_WIDTH = "as the width"

PARTS = (
    _part(
        "A",
        "The job",
        _words("title", "Job title", "words that name the job, on every sheet"),
        _words("name", "Section name", "this piece of balustrade, like Hall flight"),
        _words("by", "Measured by", "who held the tape", _NO),
        _words("on", "Date", "of the measuring", _NO),
        _tick(
            "kind",
            "Kind",
            "what the balusters stand on, tick one",
            {"treads": "on the treads", "level": "on the level", "sloped": "on a slope"},
        ),
        _tick(
            "side",
            "Open side",
            "going up, of a flight on treads, tick one",
            {"left": "left", "right": "right"},
        ),
    ),
    _part(
        "B",
        "The flight",
        _ask("rise", "Rise", "tread to tread, plumb; where all are alike", "as C1 says"),
        _ask("nosing", "Nosing", "how far its edge stands in front of the riser's face"),
        _ask(
            "line", "Line", "tread end, return nosing and all, to the balusters' line, square to it"
        ),
        _ask("line_back", "Line, at the back", "where the two are not parallel", "as B3"),
        _tick(
            "line_from",
            "Line taped from",
            "where there is no straight tread end",
            {"string": "string", "wall": "wall"},
            "tread end",
        ),
        _turn("skew", "Skew of all risers", "off square to the line; + and - as in part C", "0"),
        _words("first_tread", "First tread's number", "as it is to be printed", "1"),
    ),
    _part(
        "C",
        "The treads",
        _ask("tread_rise", "Rise", "to this tread, plumb", "as B1"),
        _ask("run", "Run", "the going: face to face, square to the risers", _NO),
        _ask("depth", "Depth", "nosing edge to the face of the next riser", _NO),
        _ask("line_run", "Line run", "riser's face to riser's face along the line", _NO),
        _turn("front_skew", "Front skew", "of the riser in front", "as B6"),
        _turn("back_skew", "Back skew", "of the riser behind", "as B6"),
        _words("on_tread", "Count", "balusters on this tread", "as J7"),
        _tick("bare", "Bare", "carries no baluster", {"yes": "bare"}, _NO),
    ),
    _part(
        "D",
        "Winders",
        _ask("end", "Tread end", "along the tread end, riser face to riser face", _NO),
        _ask("back", "Back", "along the face of the next riser", _NO),
        _ask("wall", "Wall side", "along the wall side, riser face to riser face", _NO),
        _ask("front", "Front", "along the face of the riser below, squared up", _NO),
        _ask("diagonal", "Diagonal", "front at the tread end to back at the wall", _NO),
        _ask("check_diagonal", "2nd diagonal", "back at the tread end to front at the wall", _NO),
    ),
    _part(
        "E",
        "On the level or on a slope",
        _ask("length", "Length", "newel face to newel face; on a slope along it"),
        _turn("pitch", "Pitch", "of a slope: its degrees off level", _NO),
        _ask("shoe_depth", "Shoe depth", "base to top, square to it", "0; on a level: no shoe"),
        _words("count", "Count", "how many balusters", "the fewest that pass"),
        _ask("lift", "Bottom rail: lift", "nosings to its underside, plumb", "no bottom rail"),
        _ask("under_rise", "Its stair: rise", "of the stair under it", _NO),
        _ask("under_run", "Its stair: run", "of the stair under it", _NO),
        _ask("under_nosing", "Its stair: nosing", "of the stair under it", _NO),
    ),
    _part(
        "F",
        "The two ends",
        _ask("newel_width", "Newel width", "its face at the foot", "see F5"),
        _ask("newel_narrowest", "Narrowest", "its face at its narrowest part", _WIDTH),
        _ask(
            "face",
            "Stands already at",
            "riser's face to newel's face, + up the stair",
            "where its gap matches",
        ),
        _words("replaces", "Or replaces mark", "tread and count, like 1-1", "none"),
        _tick(
            "instead",
            "Or no newel",
            "tick one",
            {"wall": "a wall", "none": "nothing"},
            "a newel",
        ),
    ),
    _part(
        "G",
        "The rail",
        _ask("height", "Height", "nosings, shoe's base or floor to its top, plumb"),
        _ask("rail_depth", "Depth", "top to underside, square to the rail"),
        _ask("rail_width", "Width", "of its underside"),
        _ask("plow_width", "Plow: width", "of the groove in its underside", "no plow"),
        _ask("plow_depth", "Plow: depth", "of the groove", _NO),
        _words("from", "Taped from mark", "plumbed to the propped rail, like 1-1", "not taped"),
        _words("to", "Taped to mark", "the upper mark, like 6-3", _NO),
        _ask("taped", "Taped length", "between the two, along the underside", _NO),
        _ask("rail_length", "Rail length", "newel face to newel face, underside", _NO),
    ),
    _part(
        "H",
        "The balusters",
        _words("type", "Name", "your own word for the type", "its letter"),
        _tick("shape", "Shape", "at the tread, tick one", {"square": "square", "round": "round"}),
        _ask("width", "Width", "its face at the tread"),
        _ask("narrowest", "Narrowest", "its face at its narrowest part", _WIDTH),
        _ask("base", "Base", "size of its shoe or foot", _WIDTH),
        _tick("top", "Top", "its upper end", {"bevel": "bevel", "pin": "pin"}, "square"),
        _ask("tread_hole", "Tread hole: size", "the bit's diameter", "no hole"),
        _ask("tread_hole_depth", "Tread hole: depth", "as bored", _NO),
        _ask("rail_hole", "Rail hole: size", "the bit's diameter", "no hole"),
        _ask("rail_hole_depth", "Rail hole: depth", "as bored", _NO),
        _ask("fit", "Fit", "cut shorter than tread to rail, in all", "1/8", "1/8 in"),
        _words("pattern", "Pattern", "types going up, like A A B", "the only type"),
    ),
    _part(
        "J",
        "At the office",
        _words("openings", "Rule set", "irc, ibc, uk, ca or au", "own limits, J2 to J4"),
        _ask("stair", "Own limit: stair", "the sphere that must not pass", "as J1"),
        _ask("level_limit", "Own limit: level", "the sphere that must not pass", "as J1"),
        _ask("triangle", "Own limit: triangle", "of tread, riser, bottom rail", "as J1"),
        _tick("equal", "Gap equal to a limit", "of J2 to J4", {"passes": "passes"}, "it fails"),
        _tick("spacing", "Spacing", "on treads", {"even": "one gap all along"}, "tread by tread"),
        _words("per_tread", "Balusters on a tread", "on every tread", "the fewest that pass"),
        _ask("set_back", "Set-back", "riser's face to the first baluster", "0; with J6 what fits"),
        _ask("allowance", "Allowance", "how far inside the limits to stay", "1/16", "1.5"),
        _ask("tolerance", "Tolerance", "how far off a taped reading may be", "1/8", "3"),
        _ask("show", "Show", "lengths to 1/16 or 1/32, in mm to 0.5 or 1", "1/16", "0.5"),
        _words("paper", "Paper", "letter, legal, tabloid, a4, a3, roll 24", "letter", "a4"),
        _ask("margin", "Margin", "left white by the printer", "5/16 in, on a roll 1/2 in"),
        _tick("copies", "Treads alike", "", {"shared": "share one strip"}, "a strip each"),
    ),
)

QUESTIONS = {asked.key: asked for part in PARTS for asked in part.questions}
ORDER = {key: number for number, key in enumerate(QUESTIONS)}
TREAD_KEYS = tuple(asked.key for part in PARTS if part.letter in "CD" for asked in part.questions)
"""What is asked of each tread."""
WINDER_KEYS = tuple(asked.key for part in PARTS if part.letter == "D" for asked in part.questions)


def part(letter: str) -> Part:
    """The part of that letter."""
    return next(found for found in PARTS if found.letter == letter)


@frozen
class FieldName:
    """What a field's name says; `page` is 0 until the page is known."""

    units: Units
    slot: Slot
    page: int = _UNPLACED
    version: int = VERSION

    def __str__(self) -> str:
        slot = "__".join(self.slot)
        return f"form{self.version}__{self.units}__p{self.page}__{slot}"


def field_name(text: str) -> FieldName | None:
    """What a name says; None where it is no field of a measuring form."""
    found = _NAME.fullmatch(text)
    if found is None:
        return None
    units: Units = "inch" if found[2] == "inch" else "mm"
    return FieldName(units, tuple(found[4].split("__")), int(found[3]), int(found[1]))


def row_words(row: str) -> str:
    """A row or column of a table as it is printed: `row 4`, `lower end`, `type A`."""
    if row in TYPES:
        return f"type {row}"
    return ENDS.get(row) or ("to the landing" if row == LANDING else f"row {row}")
