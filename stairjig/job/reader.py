"""A job file into one frozen, resolved `Job`."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from stairjig.frozen import frozen
from stairjig.job.document import Block, Broken, Word, read_document
from stairjig.job.faults import Faults, nearest, printable, quoted
from stairjig.job.fields import Fields, as_fields
from stairjig.job.holes import check_rail_holes
from stairjig.job.model import MOST_BALUSTERS, Job
from stairjig.job.papers import read_paper
from stairjig.job.parts import read_balusters, read_rail
from stairjig.job.scalars import Reading, choice, described
from stairjig.job.sections import (
    Inherited,
    check_names,
    least_balusters,
    read_pattern,
    read_section,
)  # fmt: skip
from stairjig.lengths import INCH, Length, Units
from stairjig.rules import RULE_SETS, Limit, RuleSet

if TYPE_CHECKING:
    from collections.abc import Callable

    from stairjig.job.document import Node
    from stairjig.job.model import Section
    from stairjig.job.scalars import Floor

LONGEST_TITLE = 80
_UNITS: tuple[Units, ...] = ("inch", "mm")
_COPIES: tuple[Literal["each", "shared"], ...] = ("each", "shared")
_LIMITS = ("stair", "level", "triangle")
_OWN_EDITION = "limits given in the job file"
MOST_OFF: dict[Units, Length] = {
    "inch": Length(INCH / 2, "1/2 in"),
    "mm": Length(Fraction(12), "12 mm"),
}
"""A mark or a gap further off than that is wrong on any stair (common practice, no source)."""


@frozen
class _Defaults:
    """What a job's units decide where it does not say."""

    allowance: Length
    tolerance: Length
    show: tuple[Length, Length]


_DEFAULTS: dict[Units, _Defaults] = {
    "inch": _Defaults(
        Length(INCH / 16, "1/16"),
        Length(INCH / 8, "1/8"),
        (Length(INCH / 16, "1/16"), Length(INCH / 32, "1/32")),
    ),
    "mm": _Defaults(
        Length(Fraction(3, 2), "1.5"),
        Length(Fraction(3), "3"),
        (Length(Fraction(1, 2), "0.5"), Length(Fraction(1), "1")),
    ),
}


def read_job(
    source: bytes,
    file: str,
    paper: str | None = None,
    missing: Callable[[str], str] | None = None,
) -> Job:
    """The job in a job file's bytes; `file` names it in messages, `paper` overrides its own.

    `missing` gives the characters of a name that can't be printed: the fonts are no matter of
    this stage. Raises BadInput with every problem of the file, sorted by place.
    """
    faults = Faults()
    root = read_document(source, file, faults)
    return job_of(root, faults, source, paper, missing)


def job_of(
    root: Node,
    faults: Faults,
    source: bytes,
    paper: str | None = None,
    missing: Callable[[str], str] | None = None,
) -> Job:
    """The job in a document's tree, wherever that came from; `source` is what the pack carries.

    Raises BadInput with every problem, those already in `faults` too, sorted by place.
    """
    if isinstance(root, Broken):
        faults.settle()
    if not isinstance(root, Block):
        faults.stop(
            f"a job file is a block of keys, not {described(root)}",
            root.where,
            "begin with title: and units:",
        )
    units = _units(root, faults)
    reading = Reading(units, faults, missing) if missing else Reading(units, faults)
    job = _job(Fields(root, "a job", reading), source, paper)
    faults.settle()
    return job


def _units(root: Block, faults: Faults) -> Units:
    """The job's units, before anything else; inches where they cannot be read."""
    node = root.get("units")
    if node is None:
        return "inch"
    return choice(node, "units", Reading("inch", faults), _UNITS) or "inch"


def _job(fields: Fields, source: bytes, paper: str | None) -> Job:
    if "units" not in fields:
        fields.lacks("units")
    units = fields.reading.units
    defaults = _DEFAULTS[units]
    balusters = read_balusters(fields)
    types = tuple(baluster.name for baluster in balusters)
    job = Job(
        title=fields.name("title", LONGEST_TITLE),
        units=units,
        openings=_openings(fields),
        paper=read_paper(fields, paper),
        balusters=balusters,
        allowance=_small(fields, "allowance", defaults.allowance, "from zero"),
        tolerance=_small(fields, "tolerance", defaults.tolerance),
        show=_show(fields, defaults.show),
        copies=fields.choice("copies", _COPIES, "each"),
        sections=_sections(fields, types),
        source=source,
    )
    check_rail_holes(job, fields.reading)
    return job


def _small(fields: Fields, key: str, default: Length, floor: Floor = "above zero") -> Length:
    """A length of no more than `MOST_OFF`."""
    found, most = fields.length(key, default, floor), MOST_OFF[fields.reading.units]
    if fields.good(key) and found.mm > most.mm:
        fields.wrong(
            key,
            f"{key} {quoted(str(found))} is over {most}",
            f"{default} is usual; is a fraction or a unit missing?",
        )
    return found


def _show(fields: Fields, steps: tuple[Length, Length]) -> Length:
    show = fields.length("show", steps[0])
    if fields.good("show") and show not in steps:
        fields.wrong(
            "show",
            f"show cannot be {quoted(show.text)}",
            f"a job in these units shows {steps[0]} or {steps[1]}",
        )
    return show


def _openings(fields: Fields) -> RuleSet:
    blank = RuleSet("", "", True)
    node = fields.node("openings")
    if node is None:
        fields.lacks("openings")
        return blank
    if isinstance(node, Word):
        if node.text.strip().casefold() not in RULE_SETS:
            fields.wrong(
                "openings",
                f"openings cannot be {quoted(node.text)}",
                f"{nearest(node.text, tuple(RULE_SETS))}; or your own, {{stair: 4 3/8, level: 4}}",
            )
            return blank
        return RULE_SETS[node.text.strip().casefold()]
    limits = fields.block("openings", "openings")
    return _own_limits(limits) if limits else blank


def _own_limits(fields: Fields) -> RuleSet:
    stair, level, triangle = (_limit(fields, key) for key in _LIMITS)
    if not fields.given(_LIMITS):
        fields.reading.faults.add(
            "openings give none of stair, level and triangle", fields.where, "give one at least"
        )
    equal_fails = fields.choice("equal", ("fails", "passes"), "fails") == "fails"
    return RuleSet("own", _OWN_EDITION, equal_fails, stair, level, triangle)


def _limit(fields: Fields, key: str) -> Limit | None:
    length = fields.maybe_length(key)
    return Limit(length.mm, "the job file") if length else None


def _sections(fields: Fields, types: tuple[str, ...]) -> tuple[Section, ...]:
    nodes = fields.items("sections", "a list of sections")
    inherited = Inherited(types, _pattern(fields, types, nodes), read_rail(fields))
    check_names(nodes, fields.reading)
    sections: list[Section] = []
    balusters = 0
    for node in nodes:
        section = _section(node, inherited, fields.reading)
        if section is None:
            continue
        sections.append(section)
        balusters += least_balusters(section)
        if balusters > MOST_BALUSTERS:
            fields.wrong("sections", f"the job has over {MOST_BALUSTERS:,} balusters", "split it")
            break
    return tuple(sections)


def _section(node: Node, inherited: Inherited, reading: Reading) -> Section | None:
    if isinstance(node, Block):
        return read_section(node, inherited, reading)
    as_fields(node, "a section", "a treads section", reading)
    return None


def _pattern(fields: Fields, types: tuple[str, ...], sections: tuple[Node, ...]) -> tuple[str, ...]:
    """The job's pattern; the only baluster where there is but one."""
    if "pattern" in fields:
        return read_pattern(fields, types)
    if len(types) < 2:
        return types
    if all(isinstance(node, Block) and node.get("pattern") for node in sections):
        return ()
    fields.reading.faults.add(
        f"{len(types)} baluster types and no pattern",
        fields.place("balusters"),
        f"add pattern: [{', '.join(map(printable, types[:3]))}]",
    )
    return ()
