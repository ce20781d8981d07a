"""Balusters, rails and newels of a job file."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Literal

from stairjig.job.document import Block, Broken, Word
from stairjig.job.faults import quoted
from stairjig.job.fields import BLANK, Fields, as_fields
from stairjig.job.model import Baluster, Hole, Newel, Plow, Rail
from stairjig.job.scalars import described, name, tidy, word
from stairjig.lengths import FOOT, INCH, Length

if TYPE_CHECKING:
    from stairjig.job.document import Node
    from stairjig.job.scalars import Reading

LONGEST_NAME = 40
FIT = Length(INCH / 8, "1/8 in")
"""What a cut length is made shorter, in all, where the job does not say."""
FARTHEST_FACE = 20 * FOOT
"""A newel that stands farther from its riser is no newel of that flight."""
MARK = re.compile("([1-9][0-9]{0,4})-([1-9][0-9]?)")
"""A tread-baluster's name: its tread, and its count on it."""
_SHAPES: tuple[Literal["square", "round"], ...] = ("square", "round")
_OPEN_ENDS: tuple[Literal["wall", "none"], ...] = ("wall", "none")
_TOPS: tuple[Literal["square", "bevel", "pin"], ...] = ("square", "bevel", "pin")
_BLANK_RAIL = Rail(BLANK, BLANK, BLANK)


def read_balusters(fields: Fields) -> tuple[Baluster, ...]:
    """The job's baluster types, in the order written."""
    node = fields.node("balusters")
    if node is None:
        fields.lacks("balusters")
    elif isinstance(node, Block) and node.entries:
        return tuple(_types(node, fields.reading).values())
    elif not isinstance(node, Broken):
        what = "names no type" if isinstance(node, Block) else f"is {described(node)}"
        fields.wrong(
            "balusters", f"balusters {what}", "write a name with a block of keys for each type"
        )
    return ()


def _types(block: Block, reading: Reading) -> dict[str, Baluster]:
    types: dict[str, Baluster] = {}
    for key, node in block.entries:
        title = name(key, "a baluster's name", reading, LONGEST_NAME) or tidy(key.text)
        if title in types:
            reading.faults.add(
                f"baluster {quoted(key.text)} is given twice", key.where, "keep one of the two"
            )
        fields = as_fields(node, quoted(key.text), "a baluster", reading)
        types[title] = _baluster(title, fields) if fields else _blank_baluster(title)
    return types


def _blank_baluster(title: str) -> Baluster:
    return Baluster(title, "square", BLANK, BLANK, BLANK, "square", None, None, FIT)


def _baluster(title: str, fields: Fields) -> Baluster:
    width = fields.length("width", floor="markable")
    baluster = Baluster(
        name=title,
        shape=fields.choice("shape", _SHAPES),
        width=width,
        narrowest=fields.length("narrowest", width),
        base=fields.length("base", width),
        top=fields.choice("top", _TOPS, "square"),
        tread_hole=_hole(fields, "tread_hole"),
        rail_hole=_hole(fields, "rail_hole"),
        fit=fields.length("fit", FIT, floor="from zero"),
    )
    _check_narrowest(fields, baluster.narrowest, width)
    if fields.good("base", "width") and baluster.base.mm < width.mm:
        fields.wrong("base", f"base {quoted(str(baluster.base))} is narrower than the width")
    return baluster


def _check_narrowest(fields: Fields, narrowest: Length, width: Length) -> None:
    if fields.good("narrowest", "width") and narrowest.mm > width.mm:
        fields.wrong("narrowest", f"narrowest {quoted(str(narrowest))} is wider than the width")


def _hole(fields: Fields, key: str) -> Hole | None:
    hole = fields.block(key, "a hole") if key in fields else None
    if hole is None:
        return None
    return Hole(hole.length("size", floor="markable"), hole.length("depth"))


def read_rail(fields: Fields) -> Rail:
    """The rail of a job or of a section; it must be there."""
    if "rail" not in fields:
        fields.lacks("rail")
    rail = fields.block("rail", "a rail")
    if rail is None:
        return _BLANK_RAIL
    found = Rail(
        rail.length("height"), rail.length("depth"), rail.length("width"), _plow(rail)
    )  # fmt: skip
    _check_rail(rail, found)
    return found


def _plow(rail: Fields) -> Plow | None:
    plow = rail.block("plow", "a plow") if "plow" in rail else None
    return Plow(plow.length("width"), plow.length("depth")) if plow else None


def _check_rail(fields: Fields, rail: Rail) -> None:
    if fields.good("height", "depth") and rail.depth.mm >= rail.height.mm:
        fields.wrong("depth", f"depth {quoted(str(rail.depth))} is not less than the height")
    if rail.plow is None or not fields.good("plow"):
        return
    if fields.good("width") and rail.plow.width.mm >= rail.width.mm:
        fields.wrong("plow", f"plow {quoted(str(rail.plow.width))} is not narrower than the rail")
    if fields.good("depth") and rail.plow.depth.mm >= rail.depth.mm:
        fields.wrong("plow", f"plow {quoted(str(rail.plow.depth))} is not shallower than the rail")


def read_newel(fields: Fields, key: str, found: bool) -> Newel:
    """A section's end: `wall`, `none` or a post; `found`: its place may be given (on treads)."""
    node = fields.node(key)
    if node is None:
        fields.lacks(key)
    if isinstance(node, Word):
        for end in _OPEN_ENDS:
            if node.text.strip().casefold() == end:
                return Newel(end, where=node.where)
        fields.wrong(
            key, f"{key} cannot be {quoted(node.text)}", "write {width: 3 1/2}, or wall, or none"
        )
        return Newel("none")
    post = fields.block(key, "a newel")
    return _post(post, found) if post else Newel("none")


def _post(fields: Fields, found: bool) -> Newel:
    width = fields.length("width")
    narrowest = fields.length("narrowest", width)
    _check_narrowest(fields, narrowest, width)
    face, replaces = _place(fields, found)
    place: Literal["gap", "face", "replaces"] = "gap"
    if face or replaces:
        place = "face" if face else "replaces"
    return Newel("post", width, narrowest, place, face, replaces, fields.where)


def _place(fields: Fields, found: bool) -> tuple[Length | None, str | None]:
    """A newel's `face` and `replaces`, of which one at most is there."""
    node = fields.node("place")
    if node is None or (isinstance(node, Word) and node.text.strip().casefold() == "gap"):
        return None, None
    if not found:
        fields.wrong(
            "place", "place is for a newel on treads", "leave it out: length ends at the newels"
        )
    elif isinstance(node, Word):
        fields.wrong(
            "place",
            f"place cannot be {quoted(node.text)}",
            "write gap, {face: a length} or {replaces: a mark like 1-1}",
        )
    else:
        place = fields.block("place", "a newel's place")
        if place:
            return _face_or_replaces(place)
    return None, None


def _face_or_replaces(place: Fields) -> tuple[Length | None, str | None]:
    given = place.given(("face", "replaces"))
    if len(given) != 1:
        place.reading.faults.add(
            "a newel's place is one of face and replaces", place.where, "give one of the two"
        )
    face = place.maybe_length("face", "signed")
    if face and abs(face.mm) > FARTHEST_FACE:
        place.wrong(
            "face", f"face {quoted(str(face))} is over 20 feet from the riser", "check the reading"
        )
    return face, mark_name(place, "replaces") if "replaces" in place else None


def mark_name(fields: Fields, key: str) -> str:
    """A tread-baluster's name, such as `4-2`; "" where it could not be read."""
    return fields.take(key, lambda node: _mark(node, key, fields.reading), "", None)


def _mark(node: Node, key: str, reading: Reading) -> str | None:
    found = word(node, key, "a mark like 1-1", reading)
    if found is None:
        return None
    if MARK.fullmatch(found.text.strip()):
        return found.text.strip()
    reading.faults.add(
        f"{key} {quoted(found.text)} names no mark", found.where, "write tread and count, like 4-2"
    )
    return None
