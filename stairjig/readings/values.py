"""The values around a check of the tape readings. Lengths in mm, along the rail's underside.

Signs: + is up the rail (on a level one: away from the first mark), - is down.
"""

from __future__ import annotations

import math
from enum import StrEnum
from typing import Literal

from stairjig.errors import Place
from stairjig.frozen import frozen
from stairjig.job.model import Job
from stairjig.lengths import Real, Shown
from stairjig.setout.names import newel_name
from stairjig.setout.values import SectionSetout

Way = Literal["spacing", "running"]
"""How the tape was read: from neighbour to neighbour, or all from the first mark."""


class Kind(StrEnum):
    """The classes of verdict.

    `UNREAD` is a reading that was not taken, its mark unproved; `UNPROVED` are readings that pass
    one by one and together do not show that the marks are right.
    """

    WITHIN = "within tolerance"
    MISPLACED = "one mark misplaced"
    SHIFTED = "everything from one mark on shifted"
    MISSING = "a mark missing"
    EXTRA = "one mark too many"
    RATIO = "all spacings long or short by one ratio"
    BOWED = "a bowed rail"
    MISREAD = "a reading that looks misread"
    UNREAD = "a reading left out"
    UNPROVED = "not proved yet"
    SEVERAL = "more than one thing is wrong"
    FOREIGN = "readings that do not fit this rail"


@frozen
class RailMarks:
    """The expected marks of one section's rail.

    `positions`: along the underside from the first mark, growing. `bow_shift_per_bow`: how far a
    plumbed mark in the middle moves along the rail for each mm of bow, tan(pitch); 0 on a level
    rail. `lower`, `upper`: the rail's ends at the faces of newels or walls, None where open;
    `foot`: what stands at the lower one, by name.
    """

    section: str
    names: tuple[str, ...]
    positions: tuple[float, ...]
    bow_shift_per_bow: float
    tolerance: float
    shown: Shown
    lower: float | None = None
    upper: float | None = None
    foot: str = "lower newel"

    def __len__(self) -> int:
        return len(self.names)

    @property
    def length(self) -> float:
        """First mark to last."""
        return self.positions[-1] - self.positions[0] if self.positions else 0.0

    @property
    def level(self) -> bool:
        """Whether the rail runs level."""
        return self.bow_shift_per_bow == 0


def rail_marks(section: SectionSetout, job: Job) -> RailMarks:
    """The marks of a section's rail as set out."""
    return RailMarks(
        section.name,
        tuple(mark.name for mark in section.marks),
        tuple(float(mark.rail) for mark in section.marks),
        0.0 if section.rail.level else math.tan(section.rail.pitch),
        float(job.tolerance.mm),
        job.shown,
        section.rail.lower,
        section.rail.upper,
        newel_name("lower", section.lower_newel.kind) if section.lower_newel else "",
    )


@frozen
class Line:
    """One line of a table: a mark's name and its reading, None where nothing was filled in."""

    mark: str
    reading: Real | None
    where: Place | None = None


@frozen
class Table:
    """Readings by name, as written; `way` None where it has to be recognised.

    `section`: "" where the table does not say.
    """

    section: str
    way: Way | None
    lines: tuple[Line, ...]
    total: Real | None = None
    where: Place | None = None


@frozen
class Readings:
    """Readings in order, from the first mark up; `way` None where it has to be recognised.

    Running readings may begin with the first mark's own. `total`: first mark to last. `unread`:
    marks by name that have a line but no reading.
    """

    way: Way | None
    values: tuple[Real, ...]
    total: Real | None = None
    unread: tuple[str, ...] = ()


@frozen
class Row:
    """One mark in the verdict's table; a spacing is from the mark before.

    `spacing` or `running` None: not read. The differences are read less expected.
    """

    mark: str
    expected_spacing: float | None
    expected_running: float
    spacing: float | None
    running: float | None

    @property
    def spacing_off(self) -> float | None:
        """How much longer than expected the spacing reads."""
        if self.spacing is None or self.expected_spacing is None:
            return None
        return self.spacing - self.expected_spacing

    @property
    def running_off(self) -> float | None:
        """How much longer than expected the running reading is."""
        return None if self.running is None else self.running - self.expected_running


@frozen
class Neighbours:
    """Two neighbours that stand further apart (+) or closer (-) than expected by `off`.

    `fails`: by more than the tolerance and what the tape's own errors come to.
    """

    lower: str
    upper: str
    off: float
    fails: bool


@frozen
class Verdict:
    """What the readings say.

    `marks`: those it names, in order. `amount`: how far the mark, or all from it on, stands off;
    for a ratio the running error at the last mark, for a bow the bow itself square to the rail
    (+ crown, - sag), for a misread reading what it reads too much, for a mark too many its place.
    `says`, `do`: in words. `tells`: the further reading that would tell it from what else fits.
    `twin`: the same thing seen from the other end of the rail: the readings cannot differ.
    `parts`: what is wrong, one by one, where more than one thing is. `share`: the ratio less one.
    """

    kind: Kind
    marks: tuple[str, ...]
    amount: float
    says: str
    do: str
    tells: str = ""
    twin: tuple[Kind, str, float] | None = None
    parts: tuple[Verdict, ...] = ()
    share: float = 0.0

    @property
    def direction(self) -> Literal["up", "down", ""]:
        """Which way along the rail marks stand off; "" where none does."""
        if not self.amount or self.kind not in (Kind.MISPLACED, Kind.SHIFTED, Kind.BOWED):
            return ""
        return "up" if self.amount > 0 else "down"

    @property
    def certain(self) -> bool:
        """Whether nothing else fits the readings."""
        return not self.tells


@frozen
class Apart:
    """The last running reading and the total: one length taped twice that reads two ways, mm.

    `between`: the marks between which the tape may have been moved, empty where that alone does
    not explain it. `as_drawn`: the total is what the drawing says, and may be copied from it.
    """

    last: float
    total: float
    between: tuple[str, ...] = ()
    as_drawn: bool = True


@frozen
class Diagnosis:
    """The verdict on one section's readings: one, or the two that fit, the likelier first.

    `redo`: the readings fail. `way`: as read or recognised. `count`: readings given. `rows` has
    one line a mark in the verdict's own reckoning; `neighbours` those that are pointed out.
    `apart`: how the total contradicts the running readings, and then no mark is proved.
    """

    section: str
    way: Way
    count: int
    verdicts: tuple[Verdict, ...]
    redo: bool
    rows: tuple[Row, ...]
    neighbours: tuple[Neighbours, ...]
    total: tuple[float, float] | None = None
    apart: Apart | None = None

    @property
    def verdict(self) -> Verdict:
        """The likelier one."""
        return self.verdicts[0]
