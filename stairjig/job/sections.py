"""The sections of a job file: treads, level and sloped."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from stairjig.frozen import frozen
from stairjig.job.document import Block, Word
from stairjig.job.faults import nearest, quoted
from stairjig.job.fields import Fields
from stairjig.job.flight import treads_section
from stairjig.job.keys import KEYS, SECTION_KINDS
from stairjig.job.model import BottomRail, LevelSection, SlopedSection, TreadsSection
from stairjig.job.parts import LONGEST_NAME, read_newel, read_rail
from stairjig.job.scalars import choice, tidy, word
from stairjig.lengths import Length

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stairjig.job.document import Node
    from stairjig.job.model import Newel, Rail, Section
    from stairjig.job.scalars import Reading

MOST_COUNTED = 2000
"""Balusters of one level or sloped section, given by hand."""
_ENDS = ("lower", "upper")
_TELLING = {"treads": "treads", "pitch": "sloped", "length": "level"}
STEEPEST = 80
"""Degrees of pitch."""
_NO_SHOE = Length(Fraction(0), "0")


@frozen
class Inherited:
    """What a section takes from the job: the types there are, the pattern and the rail."""

    types: tuple[str, ...]
    pattern: tuple[str, ...]
    rail: Rail


def read_section(block: Block, inherited: Inherited, reading: Reading) -> Section | None:
    """One section, None where its kind is unknown; problems go to the reading's faults."""
    kind = _kind(block, reading)
    fields = _fields(block, kind, reading)
    name = fields.name("name", LONGEST_NAME)
    lower, upper = (read_newel(fields, f"{end}_newel", kind in (None, "treads")) for end in _ENDS)
    pattern = _own_pattern(fields, inherited)
    rail = read_rail(fields) if "rail" in fields else inherited.rail
    if kind is None:
        return None
    if kind == "treads":
        return treads_section(fields, name, (lower, upper), pattern, rail)
    return _straight(fields, kind, name, (lower, upper), pattern, rail)


def _fields(block: Block, kind: str | None, reading: Reading) -> Fields:
    if kind:
        return Fields(block, SECTION_KINDS[kind], reading)
    every = {key for name in SECTION_KINDS.values() for key in KEYS[name]}
    return Fields(block, "a treads section", reading, sorted(every))


def _kind(block: Block, reading: Reading) -> str | None:
    """The section's kind; where it cannot be read, what its other keys tell."""
    node = block.get("kind")
    found = None if node is None else choice(node, "kind", reading, tuple(SECTION_KINDS))
    if found:
        return found
    if node is None:
        reading.faults.add(
            'a section needs "kind"', block.where, f"add it: {KEYS['a treads section']['kind']}"
        )
    return next((kind for key, kind in _TELLING.items() if block.get(key)), None)


def _own_pattern(fields: Fields, inherited: Inherited) -> tuple[str, ...]:
    if "pattern" in fields:
        return read_pattern(fields, inherited.types)
    return inherited.pattern


def read_pattern(fields: Fields, types: Sequence[str]) -> tuple[str, ...]:
    """The names of a `pattern` list; each must be one of `types`, unless none could be read."""
    nodes = fields.items("pattern", "a list of baluster types, like [plain, plain]")
    return tuple(_type_name(node, types, fields.reading) for node in nodes)


def _type_name(node: Node, types: Sequence[str], reading: Reading) -> str:
    found = word(node, "pattern", "a baluster type", reading)
    if found is None:
        return ""
    name = tidy(found.text)
    if types and name not in types:
        reading.faults.add(
            f"pattern names {quoted(found.text)}, which is no baluster type",
            found.where,
            nearest(name, types),
        )
    return name


def _straight(
    fields: Fields,
    kind: str,
    name: str,
    newels: tuple[Newel, Newel],
    pattern: tuple[str, ...],
    rail: Rail,
) -> LevelSection | SlopedSection:
    length = fields.length("length")
    count = fields.count("count", MOST_COUNTED)
    shoe = _shoe_depth(fields)
    if kind == "level":
        return LevelSection(name, *newels, pattern, rail, length, count, shoe, fields.where)
    pitch = fields.angle("pitch", 0, STEEPEST)
    bottom = _bottom_rail(fields)
    return SlopedSection(
        name, *newels, pattern, rail, length, pitch, count, shoe, bottom, fields.where
    )


def _shoe_depth(fields: Fields) -> Length:
    shoe = fields.block("shoe", "a shoe") if "shoe" in fields else None
    return shoe.length("depth", floor="from zero") if shoe else _NO_SHOE


def _bottom_rail(fields: Fields) -> BottomRail | None:
    rail = fields.block("bottom_rail", "a bottom rail") if "bottom_rail" in fields else None
    if rail is None:
        return None
    return BottomRail(
        lift=rail.length("lift", floor="from zero"),
        rise=rail.length("rise"),
        run=rail.length("run"),
        nosing=rail.length("nosing", floor="from zero"),
    )


def check_names(nodes: Sequence[Node], reading: Reading) -> None:
    """Report section names that are the same but for their case."""
    first: dict[str, int] = {}
    for node in nodes:
        name = node.get("name") if isinstance(node, Block) else None
        if not isinstance(name, Word) or not name.text.strip():
            continue
        line = first.setdefault(tidy(name.text).casefold(), name.where.line)
        if line != name.where.line:
            reading.faults.add(
                f"section name {quoted(name.text)} is taken, on line {line}",
                name.where,
                "give each section its own",
            )


def least_balusters(section: Section) -> int:
    """How many balusters a section holds at the least, as far as its counts are given by hand."""
    if not isinstance(section, TreadsSection):
        return section.count or 1
    return sum(tread.per_tread or section.per_tread or 1 for tread in section.treads)
