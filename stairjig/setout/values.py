"""The set-out: what the layout comes to, in frozen values. All lengths in mm.

`s` runs along the line, level, from where it crosses the face of the section's first riser (on
level and sloped sections: from the lower newel's face), growing up the stair. `x` is `s` less the
tread's own front riser, `y` runs square to the line, 0 on it and positive toward the tread end.
A `Real` is an exact fraction wherever the layout has a closed form, else a float.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

from stairjig.errors import Finding
from stairjig.frozen import frozen
from stairjig.job.model import Baluster, Job, Section
from stairjig.lengths import Real


@frozen
class Riser:
    """A riser's face: where it crosses the line, and its skew in degrees off square to it.

    A riser of skew a runs through (s + y tan a, y).
    """

    s: Real
    skew: float


@frozen
class PlanTread:
    """A tread in plan, between the faces of two risers; `index` counts from 0 in its section.

    `front_nosing`, `back_nosing`: how far the nosings of its two risers stand in front of their
    faces along the line; `square_nosing`: the same square to the riser, which is what is taped.
    `end_front`, `end_back`: from the line to the tread end, square to the line, where the end
    meets the front and the back riser's face. `skew`: the one that it was measured with, degrees,
    None where its risers were measured apart; a riser's own is the mean of what two treads say.
    """

    index: int
    number: int
    front: Riser
    back: Riser
    line_run: Real
    front_nosing: Real
    back_nosing: Real
    square_nosing: Real
    end_front: Real
    end_back: Real
    bare: bool
    skew: float | None

    @property
    def tapered(self) -> bool:
        """Whether its two risers were measured as not parallel."""
        return self.skew is None


@frozen
class Mark:
    """One baluster's centre.

    `tread`: the printed tread number, None off the treads; `x` its place on the tread; `rail`: its
    place along the rail's underside from the first mark; `visible`: between tread (or shoe) and
    rail on the centre line; `long_point`: what the high side of its top is longer; `cut`: the
    length to cut at the centre line, None where a hole is not given or the rail is plowed.
    """

    name: str
    type: Baluster
    tread: int | None
    x: Real
    s: Real
    rail: float
    visible: float
    long_point: float
    cut: float | None


@frozen
class SetTread:
    """A tread with its balusters; `gap`: its layout gap, None on a bare tread."""

    plan: PlanTread
    gap: Real | None
    marks: tuple[Mark, ...]


@frozen
class SetNewel:
    """A newel in its place: `face` toward the balusters, `centre`, both s; widths at the foot.

    `gap`: clear of its nearest baluster at the layout's height (the base). `stands`: it was there
    before the layout. `even_face`: for a standing one, the face that would even its gap.
    """

    end: Literal["lower", "upper"]
    kind: Literal["post", "wall"]
    width: Real
    narrowest: Real
    face: Real
    centre: Real
    gap: Real
    stands: bool
    even_face: Real | None

    def uneven(self, step: Fraction) -> float:
        """How far up the stair its face is from where it would even its gap, mm.

        0 for a newel that is to be set, and within half a step: no tape tells.
        """
        off = 0.0 if self.even_face is None else float(self.face - self.even_face)
        return off if abs(off) > step / 2 else 0.0


@frozen
class Nosing:
    """A nosing's point in elevation and how far it lies under the pitch line, plumb."""

    s: Real
    height: Real
    under: float


@frozen
class Opening:
    """A clear gap between two neighbours by name, held against its limit (None: not checked).

    `passes` is None where there is no limit.
    """

    between: tuple[str, str]
    rule: Literal["stair", "level", "triangle"]
    clear: Real
    limit: Real | None
    passes: bool | None


LEVEL = 1e-6
"""Radians under which a rail is level: less than the thickness of a line on any of them."""


@frozen
class RailSetout:
    """The rail over a section. Lengths along its underside, from the first mark.

    `pitch`: radians. `lower`, `upper`: the ends at the newel faces, None without a newel.
    `height_at_zero`: of the pitch line above the first riser's foot at s = 0. `risers`: (which
    riser's face by the tread it stands in front of, where it lands), plumb. `prop`: nosing to
    underside, plumb.
    """

    pitch: float
    lower: float | None
    upper: float | None
    height_at_zero: float
    risers: tuple[tuple[int, float], ...]
    prop: float

    @property
    def level(self) -> bool:
        """Whether the rail runs level."""
        return self.pitch < LEVEL

    @property
    def length(self) -> float | None:
        """Newel face to newel face along the underside; None where an end is open."""
        if self.lower is None or self.upper is None:
            return None
        return self.upper - self.lower


@frozen
class SectionSetout:
    """One section, set out. `gap`: the one layout gap, None where each tread has its own.

    `treads` and `nosings` are empty on level and sloped sections; `tops`: the height of each tread
    above the first riser's foot.
    """

    section: Section
    line_length: Real
    gap: Real | None
    treads: tuple[SetTread, ...]
    marks: tuple[Mark, ...]
    lower_newel: SetNewel | None
    upper_newel: SetNewel | None
    rail: RailSetout
    nosings: tuple[Nosing, ...]
    tops: tuple[Real, ...]
    openings: tuple[Opening, ...]

    @property
    def name(self) -> str:
        """The section's name."""
        return self.section.name

    @property
    def newels(self) -> tuple[SetNewel, ...]:
        """The newels that there are, lower first."""
        return tuple(newel for newel in (self.lower_newel, self.upper_newel) if newel)


@frozen
class Change:
    """The smallest change to the job that would make a failing layout pass, and in words.

    `key`: where in the job, `value`: what to write there.
    """

    section: str
    key: str
    value: str
    words: str


@frozen
class Setout:
    """A whole job, set out, with its pack ID.

    `failures` hold what the layout is refused for, `warnings` what is to be known.
    """

    job: Job
    pack_id: str
    sections: tuple[SectionSetout, ...]
    warnings: tuple[Finding, ...]
    failures: tuple[Finding, ...]
    changes: tuple[Change, ...] = ()

    @property
    def passes(self) -> bool:
        """Whether every opening and every base stands."""
        return not self.failures
