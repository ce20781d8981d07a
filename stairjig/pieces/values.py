"""A piece: one full-scale strip, with all that stands on it, in mm.

Its frame (u, v): v runs along the strip, up the stair, u across it to the right as it is looked at
with the stair going up the page (tread and shoe strips from above, rail strips from below, this
face to the reader).
"""

from __future__ import annotations

from typing import Literal

from stairjig.drawing import Ellipse, Point, Stroke, Text
from stairjig.frozen import frozen

CROSS_ARM = 4.5
"""Half a stroke of a centre cross: the strokes are 9 mm long."""

SMALL = 2.5
"""Nothing that the helper needs is smaller, mm."""

PieceKind = Literal["tread", "rail", "shoe"]


@frozen
class Spot:
    """A mark on a piece, its centre cross at `at`.

    `half`: how far its shapes reach from the centre along the strip; `across`: the same across it;
    `shapes`: base and hole, drawn to shape; `reading`: the tape's reading from the strip's zero;
    `notes`: type and hole, longest first, for as many lines as there is room for.
    """

    name: str
    at: Point
    half: float
    across: float
    shapes: tuple[Stroke | Ellipse, ...]
    reading: str
    notes: tuple[str, ...]


@frozen
class Lane:
    """A band along the strip where words may stand: u from `left` to `right`.

    `low`, `high`: its ends, v, on its side toward the line; `low_slope`, `high_slope`: how they
    rise going away from the line, where the strip ends at a skewed riser. `edge`: it runs beside a
    cut edge, one row of words up the strip, kept for what is said of that edge. `splits`: u, in
    order, where its rows are parted, so that marks take few of them.
    """

    left: float
    right: float
    low: float
    high: float
    low_slope: float = 0.0
    high_slope: float = 0.0
    edge: bool = False
    splits: tuple[float, ...] = ()


@frozen
class Words:
    """Words for the strip: lines in falling order of need, near `v` where given.

    `every`: they stand on each tile; else once, on the tile that `v` falls on or on the first one
    that has room. `first`: they are set before all others; `edge`: they are said of a cut edge,
    beside it. `need`: a strip without them is refused; `roams`: another tile may carry them where
    the one of `v` has no room. `shorter`: what is said where there is no room, longest first;
    `least`: the least height that the shortest of it may be set in, mm; `whole`: on one line;
    `within`: where it is more than 0, no farther from `v`, mm, while there is room; `level`: it
    points up the stair and so never stands in a row up the side, turned.
    """

    text: str
    size: float
    bold: bool = False
    v: float | None = None
    every: bool = False
    first: bool = False
    edge: bool = False
    need: bool = False
    roams: bool = False
    shorter: tuple[str, ...] = ()
    least: float = 0.0
    whole: bool = False
    within: float = 0.0
    level: bool = False


@frozen
class Piece:
    """One strip.

    `treads`: printed numbers of the treads it is for. `outline`: closed, counterclockwise. `along`:
    strokes that run the length of it, into the laps; `across`: strokes that cross it (risers,
    nosing), each on the tile it falls on, clipped. `spots`: the marks, in order of v. `shut`: spans
    of v where no joint may stand. `turned`: words run along the strip instead of across it. `zero`,
    `sense`: a reading at v is (v - zero) * sense, counted from `origin` in words. `labels`: words
    that have their place. `step`: what readings are shown to; a joint stands on a whole one where
    it can, so that its own is exact. `short`: the same piece with as little as may be in front of
    the riser line, for paper that has no room for more.
    """

    name: str
    section: str
    kind: PieceKind
    treads: tuple[int, ...]
    outline: tuple[Point, ...]
    along: tuple[Stroke, ...]
    across: tuple[Stroke, ...]
    spots: tuple[Spot, ...]
    shut: tuple[tuple[float, float], ...]
    lanes: tuple[Lane, ...]
    words: tuple[Words, ...]
    turned: bool
    zero: float
    sense: int
    origin: str
    labels: tuple[Text, ...] = ()
    step: float = 0.0
    short: Piece | None = None

    @property
    def low(self) -> float:
        """The least v of the outline."""
        return min(v for _, v in self.outline)

    @property
    def high(self) -> float:
        """The greatest v of the outline."""
        return max(v for _, v in self.outline)
