"""The job: everything measured and chosen, resolved, in frozen values.

Every default is filled in, every `times` is written out, every pattern and rail is resolved for
its section: what stands here is what the layout uses and what the pack ID is made of.
"""

from __future__ import annotations

from dataclasses import field
from fractions import Fraction
from typing import Literal

from stairjig.errors import Place
from stairjig.frozen import frozen
from stairjig.lengths import Angle, Length, Shown, Units
from stairjig.rules import RuleSet

NOTHING = Length(Fraction(0))
SQUARE = Angle(Fraction(0))
MOST_TREADS = 200
"""Treads in one section."""
MOST_BALUSTERS = 10_000
"""Balusters in one job."""


@frozen
class Hole:
    """A bored hole: diameter and depth."""

    size: Length
    depth: Length


@frozen
class Baluster:
    """A baluster type.

    `width`: its face, or diameter, at the tread; `narrowest`: at its narrowest part; `base`: the
    size of the shoe or foot that stands on the tread; `fit`: what a cut length is made shorter.
    """

    name: str
    shape: Literal["square", "round"]
    width: Length
    narrowest: Length
    base: Length
    top: Literal["square", "bevel", "pin"]
    tread_hole: Hole | None
    rail_hole: Hole | None
    fit: Length


@frozen
class Plow:
    """The groove in the underside of a rail."""

    width: Length
    depth: Length


@frozen
class Rail:
    """The handrail.

    `height`: from nosings (or shoe, or floor) to its top, plumb; `depth`: top to underside, square
    to the rail; `width`: of the underside.
    """

    height: Length
    depth: Length
    width: Length
    plow: Plow | None = None


@frozen
class Newel:
    """How a section ends: a post, the word `wall` or the word `none`.

    `place`: `gap` (found, so that its gap matches), `face` (it stands already, `face` up the stair
    from its riser's face) or `replaces` (it stands in that baluster's place).
    """

    kind: Literal["post", "wall", "none"]
    width: Length = NOTHING
    narrowest: Length = NOTHING
    place: Literal["gap", "face", "replaces"] = "gap"
    face: Length | None = None
    replaces: str | None = None
    where: Place | None = field(default=None, compare=False)


@frozen
class Sides:
    """A winder taped at the riser faces: its four sides, one diagonal, and a second as a check.

    `diagonal`: front at the tread end to back at the wall; `check_diagonal` the other one.
    """

    end: Length
    back: Length
    wall: Length
    front: Length
    diagonal: Length
    check_diagonal: Length | None


@frozen
class Tread:
    """One tread as measured: exactly one of `run`, `depth`, `line_run` and `sides` is there.

    `number`: as printed, counted from the section's `first_tread`; skews in degrees; `per_tread`:
    its own count of balusters, None for the section's.
    """

    number: int
    run: Length | None = None
    depth: Length | None = None
    line_run: Length | None = None
    sides: Sides | None = None
    front_skew: Angle = SQUARE
    back_skew: Angle = SQUARE
    per_tread: int | None = None
    bare: bool = False
    where: Place | None = field(default=None, compare=False)


@frozen
class Line:
    """Tread end to the line, at the tread's front and at its back, square to the line.

    `origin`: what it is measured from where there is no straight tread end.
    """

    front: Length
    back: Length
    origin: Literal["end", "string", "wall"] = "end"


@frozen
class RailTaped:
    """Two marks plumbed to the propped rail and the length taped between them, underside."""

    start: str
    end: str
    length: Length
    where: Place | None = field(default=None, compare=False)


@frozen
class TreadsSection:
    """Balusters standing on the treads of an open stringer; `rises` one more than `treads`.

    `per_tread`: None for auto. `side`: the open side, going up.
    """

    name: str
    lower_newel: Newel
    upper_newel: Newel
    pattern: tuple[str, ...]
    rail: Rail
    side: Literal["left", "right"]
    rises: tuple[Length, ...]
    nosing: Length
    line: Line
    treads: tuple[Tread, ...]
    spacing: Literal["tread", "even"] = "tread"
    per_tread: int | None = None
    set_back: Length | None = None
    rail_taped: RailTaped | None = None
    rail_length: Length | None = None
    where: Place | None = field(default=None, compare=False)
    kind: Literal["treads"] = "treads"


@frozen
class LevelSection:
    """A landing or balcony: a straight length between two faces; `count` None for auto."""

    name: str
    lower_newel: Newel
    upper_newel: Newel
    pattern: tuple[str, ...]
    rail: Rail
    length: Length
    count: int | None
    shoe_depth: Length
    where: Place | None = field(default=None, compare=False)
    kind: Literal["level"] = "level"


@frozen
class BottomRail:
    """A rail under the balusters over open treads: `lift` plumb above its nosings."""

    lift: Length
    rise: Length
    run: Length
    nosing: Length


@frozen
class SlopedSection:
    """A shoe rail on a closed stringer or knee wall: `length` along the slope, `pitch` degrees."""

    name: str
    lower_newel: Newel
    upper_newel: Newel
    pattern: tuple[str, ...]
    rail: Rail
    length: Length
    pitch: Angle
    count: int | None
    shoe_depth: Length
    bottom_rail: BottomRail | None
    where: Place | None = field(default=None, compare=False)
    kind: Literal["sloped"] = "sloped"


Section = TreadsSection | LevelSection | SlopedSection


@frozen
class Paper:
    """Paper by name; `width` and `height` in mm, portrait; a roll's height is its longest page."""

    name: str
    width: Fraction
    height: Fraction
    margin: Length
    roll: bool = False


@frozen
class Job:
    """One job, resolved. `source` is the input's own bytes, for the pack to carry."""

    title: str
    units: Units
    openings: RuleSet
    paper: Paper
    balusters: tuple[Baluster, ...]
    allowance: Length
    tolerance: Length
    show: Length
    copies: Literal["each", "shared"]
    sections: tuple[Section, ...]
    source: bytes = field(default=b"", compare=False, repr=False)

    @property
    def shown(self) -> Shown:
        """How this job's lengths are shown."""
        return Shown(self.units, self.show.mm)

    def baluster(self, name: str) -> Baluster:
        """The type of that name. Raises KeyError."""
        for baluster in self.balusters:
            if baluster.name == name:
                return baluster
        raise KeyError(name)
