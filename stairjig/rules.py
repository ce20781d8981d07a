"""The opening rules by place, as data: each limit with its section, edition and source.

A help for the layout and never legal advice: each place adopts and amends its own edition, and the
local code and its inspector are the law. US limits are the exact inch, never the rounded
millimetres that the codes print in brackets.
"""

from __future__ import annotations

from fractions import Fraction

from stairjig.frozen import frozen
from stairjig.lengths import INCH, Real

CLOSE = Fraction(1, 10**6)
"""Gaps without a closed form count as equal to a limit within this many mm."""


@frozen
class Limit:
    """One limit in mm, with the paragraph it stands in and where that was read."""

    mm: Fraction
    section: str


@frozen
class Range:
    """A band in mm (degrees for a pitch), either end open or not, and where it stands."""

    least: Fraction | None
    most: Fraction | None
    section: str

    def holds(self, value: Real) -> bool:
        """Whether `value` lies in the band; its ends belong to it, within `CLOSE`."""
        low = self.least is None or value >= self.least - CLOSE
        return low and (self.most is None or value <= self.most + CLOSE)


@frozen
class RuleSet:
    """A place's limits. `equal_fails`: a gap exactly at a limit is refused.

    `stair`, `level` and `triangle` are the spheres that must not pass (None: not checked); the
    other bands are only ever warned about. `uniform`: the largest less the smallest of a flight,
    for rises and for runs; `neighbours`: two beside each other; `nosing_spared`: from this run on
    no nosing is asked for.
    """

    name: str
    edition: str
    equal_fails: bool
    stair: Limit | None = None
    level: Limit | None = None
    triangle: Limit | None = None
    stair_height: Range | None = None
    level_height: Range | None = None
    rise: Range | None = None
    run: Range | None = None
    nosing: Range | None = None
    pitch: Range | None = None
    uniform: Limit | None = None
    neighbours: Limit | None = None
    nosing_spared: Limit | None = None
    twice_rise_and_run: Range | None = None
    notes: tuple[str, ...] = ()

    def passes(self, gap: Real, limit: Fraction) -> bool:
        """Whether a clear gap of `gap` mm passes; exact for fractions, else within `CLOSE`."""
        if isinstance(gap, Fraction):
            return gap < limit if self.equal_fails else gap <= limit
        if abs(gap - float(limit)) <= CLOSE:
            return not self.equal_fails
        return gap < limit


def _in(whole: int, part: str = "0") -> Fraction:
    return (whole + Fraction(part)) * INCH


_IRC = RuleSet(
    name="irc",
    edition="International Residential Code, 2018 and 2021 numbering (guards move to R321 in 2024)",
    equal_fails=True,
    stair=Limit(_in(4, "3/8"), "R312.1.3, exception 2"),
    level=Limit(_in(4), "R312.1.3"),
    triangle=Limit(_in(6), "R312.1.3, exception 1"),
    stair_height=Range(_in(34), _in(38), "R312.1.2, exceptions 1 and 2; R311.7.8.1"),
    level_height=Range(_in(36), None, "R312.1.2"),
    rise=Range(None, _in(7, "3/4"), "R311.7.5.1"),
    run=Range(_in(10), None, "R311.7.5.2"),
    nosing=Range(_in(0, "3/4"), _in(1, "1/4"), "R311.7.5.3"),
    uniform=Limit(_in(0, "3/8"), "R311.7.5.1 and R311.7.5.2"),
    nosing_spared=Limit(_in(11), "R311.7.5.3"),
)

_IBC = RuleSet(
    name="ibc",
    edition="International Building Code, 1015 and 1011 (2015 and later numbering)",
    equal_fails=True,
    stair=Limit(_in(4), "1015.4"),
    level=Limit(_in(4), "1015.4"),
    triangle=Limit(_in(6), "1015.4, exception 2"),
    stair_height=Range(_in(42), None, "1015.3 (34 in on the stair in R-3 and R-2 dwelling units)"),
    level_height=Range(_in(42), None, "1015.3 (36 in in R-3 and R-2 dwelling units)"),
    rise=Range(_in(4), _in(7), "1011.5.2"),
    run=Range(_in(11), None, "1011.5.2"),
    uniform=Limit(_in(0, "3/8"), "1011.5.4 (section number from memory)"),
    notes=("In R-3 and R-2 dwelling units the open side of a stair may have 4 3/8 in (1015.4, "
           "exception 6, from memory): give your own limits there.",),
)  # fmt: skip

_UK = RuleSet(
    name="uk",
    edition="Approved Document K, 2013 edition (England), private stair",
    equal_fails=True,
    stair=Limit(Fraction(100), "3.3"),
    level=Limit(Fraction(100), "3.3"),
    triangle=Limit(Fraction(100), "3.3"),
    stair_height=Range(Fraction(900), Fraction(1000), "Diagram 3.1; section 1, handrails"),
    level_height=Range(Fraction(900), None, "Diagram 3.1 (1100 mm on external balconies)"),
    rise=Range(Fraction(150), Fraction(220), "Table 1.1, private stair"),
    run=Range(Fraction(220), Fraction(300), "Table 1.1, private stair"),
    pitch=Range(None, Fraction(42), "Table 1.1, note 1"),
    twice_rise_and_run=Range(Fraction(550), Fraction(700), "Table 1.1, footnote"),
)

_CA = RuleSet(
    name="ca",
    edition="National Building Code of Canada, Part 9 (Ontario's Part 3 wording was read)",
    equal_fails=False,
    stair=Limit(Fraction(100), "9.8.8.5 (from memory); Ontario 3.3.1.18"),
    level=Limit(Fraction(100), "9.8.8.5 (from memory); Ontario 3.3.1.18"),
    triangle=Limit(Fraction(100), "9.8.8.5 (from memory): no wider triangle is clearly allowed"),
    stair_height=Range(Fraction(900), None, "9.8.8.3 (from memory)"),
    level_height=Range(Fraction(900), None, "9.8.8.3 (from memory; 1070 mm in general)"),
    uniform=Limit(Fraction(10), "Ontario 9.8.4"),
    neighbours=Limit(Fraction(5), "Ontario 9.8.4"),
)

_AU = RuleSet(
    name="au",
    edition="National Construction Code 2022 (Australia), Housing Provisions 11.2 and 11.3",
    equal_fails=True,
    stair=Limit(Fraction(125), "11.3.4 (tested above the nosing line)"),
    level=Limit(Fraction(125), "11.3.4"),
    triangle=Limit(Fraction(125), "11.3.4"),
    stair_height=Range(Fraction(865), None, "11.3.4(2)"),
    level_height=Range(Fraction(1000), None, "11.3.4(2)"),
    rise=Range(Fraction(115), Fraction(190), "11.2.2 (from memory)"),
    run=Range(Fraction(240), Fraction(355), "11.2.2 (from memory)"),
    twice_rise_and_run=Range(Fraction(550), Fraction(700), "11.2.2 (from memory)"),
)

RULE_SETS = {rules.name: rules for rules in (_IRC, _IBC, _UK, _CA, _AU)}
"""The rule sets by the name that a job file uses."""
