"""The strip of one tread: the true shape of that part of it, to be laid on and marked from.

Built as seen from above on a stair with its open side on the left: u = -y, v = x. The right-hand
side is the mirror image, the words apart.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import radians, tan

from stairjig.drawing import Pen, Point, Stroke, Text
from stairjig.job.model import TreadsSection
from stairjig.lengths import Shown
from stairjig.pieces.shapes import crossing, inside, mirrored, within
from stairjig.pieces.spots import base_spot
from stairjig.pieces.tread_words import tread_words
from stairjig.pieces.values import LABEL, Lane, Piece, Spot
from stairjig.setout.names import tread_strip_name
from stairjig.setout.plan import reach
from stairjig.setout.values import Mark, PlanTread, SectionSetout, SetNewel, SetTread
from stairjig.type import width

WALL_SIDE = 75.0
"""Least reach of the strip on the wall side of the line, mm."""
BEYOND_BASE = 30.0
"""Least reach beyond the widest base, mm."""
SHORT_FRONT = 3.0
"""What the strip keeps in front of the riser line where the paper has no room, mm."""
PAST_NOSING = 8.0
"""What it has in front of the nosing's edge where there is room, mm."""
NICK = (6.0, 4.0)
"""Half width and depth of the nick in the back edge, for cove or glue, mm."""
EDGE_LANE = (1.3, 5.4)
"""The tread end's lane, from its edge, mm."""
ROOM_AT_BACK = 36.0
"""Least length of a tile at the back edge, for what it has to say, mm."""


@dataclass(frozen=True, slots=True)
class _Frame:
    """The four edges the strip is cut from, as points and slopes in (u, v)."""

    plan: PlanTread
    outer_front: float
    outer_back: float
    wall: float

    @property
    def front_slope(self) -> float:
        return -tan(radians(self.plan.front.skew))

    @property
    def back_slope(self) -> float:
        return -tan(radians(self.plan.back.skew))

    @property
    def run(self) -> float:
        return float(self.plan.line_run)

    def front(self, u: float, ahead: float = 0.0) -> Point:
        """A point of the front riser's face, or `ahead` mm in front of it along the line."""
        return (u, u * self.front_slope - ahead)

    def back(self, u: float) -> Point:
        return (u, self.run + u * self.back_slope)

    def corner(self, ahead: float) -> Point:
        """Where the outer edge meets the front edge."""
        low, high = self.front(-self.outer_front), self.back(-self.outer_back)
        return crossing(low, high, self.front(0, ahead), self.front(1, ahead))

    def outline(self, ahead: float) -> tuple[Point, ...]:
        """Counterclockwise from the outer corner in front; straight, without the nick."""
        return (
            self.corner(ahead),
            self.front(self.wall, ahead),
            self.back(self.wall),
            self.back(-self.outer_back),
        )


def tread_strip(
    section: SectionSetout, treads: Sequence[SetTread], shown: Shown, pack_id: str
) -> Piece:
    """The strip for one tread, or for several that are alike, with its shorter twin."""
    full = _strip(section, treads, shown, pack_id, None)
    least = max(SHORT_FRONT, *(_ahead_of_riser(treads[0], mark) + 1.0 for mark in treads[0].marks))
    return replace(full, short=_strip(section, treads, shown, pack_id, least))


def _ahead_of_riser(tread: SetTread, mark: Mark) -> float:
    """How far a base reaches in front of the riser's line, along the line, mm."""
    return float(reach(tread.plan.front.skew, mark.type.base.mm / 2, mark.type.shape) - mark.x)


def _strip(
    section: SectionSetout,
    treads: Sequence[SetTread],
    shown: Shown,
    pack_id: str,
    ahead: float | None,
) -> Piece:
    tread, flight = treads[0], section.section
    assert isinstance(flight, TreadsSection)
    frame = _frame(tread, flight)
    nosing = float(tread.plan.front_nosing)
    front = nosing + PAST_NOSING if ahead is None else ahead
    outline = frame.outline(front)
    spots = tuple(_spot(tread, mark, shown, front) for mark in tread.marks)
    drawn = _drawn_newels(section, tread, outline)
    newels = tuple(shape for _, shape in drawn)
    piece = Piece(
        name=tread_strip_name(section, treads),
        section=section.name,
        kind="tread",
        treads=tuple(each.plan.number for each in treads),
        outline=_nicked(outline, frame),
        along=(Stroke(((0.0, -front), (0.0, frame.run)), Pen.LINE),),
        across=(*_risers(frame, nosing if ahead is None else None), *newels),
        spots=spots,
        shut=_shut(frame, front, newels),
        lanes=(*_lanes(frame, spots), *(_front_lanes(frame, nosing) if ahead is None else ())),
        words=tread_words(section, treads, shown, pack_id, bool(drawn)),
        turned=False,
        zero=frame.run,
        sense=-1,
        origin="the back edge",
        labels=tuple(label for newel, shape in drawn for label in _newel_labels(newel, shape)),
        step=float(shown.step),
    )
    return _right_handed(piece) if flight.side == "right" else piece


def _frame(tread: SetTread, flight: TreadsSection) -> _Frame:
    plan = tread.plan
    widest = max(float(mark.type.base.mm) for mark in tread.marks) / 2
    beyond = widest + BEYOND_BASE
    wall = max(WALL_SIDE, beyond)
    if flight.line.origin == "end":
        return _Frame(plan, float(plan.end_front), float(plan.end_back), wall)
    return _Frame(plan, beyond, beyond, wall)


def _spot(tread: SetTread, mark: Mark, shown: Shown, reach: float) -> Spot:
    reading = shown.text(tread.plan.line_run - mark.x)
    below = float(mark.x) + reach - 0.5
    return base_spot(mark, (0.0, float(mark.x)), reading, shown, below=below)


def _risers(frame: _Frame, nosing: float | None) -> tuple[Stroke, ...]:
    """The riser below right across the strip; the nosing's edge where the strip reaches it."""
    strokes = [Stroke((frame.corner(0.0), frame.front(frame.wall)), Pen.RISER)]
    if nosing is not None:
        edge = (frame.corner(nosing), frame.front(frame.wall, nosing))
        strokes.append(Stroke(edge, Pen.NOSING))
    return tuple(strokes)


def _nicked(outline: tuple[Point, ...], frame: _Frame) -> tuple[Point, ...]:
    """The outline with a nick in the middle of its back edge, clear of the line."""
    half, depth = NICK
    middle = (frame.wall - frame.outer_back) / 2
    if abs(middle) < half + 8:
        middle = half + 8
    right, left = frame.back(middle + half), frame.back(middle - half)
    nick = (right, (right[0], right[1] - depth), (left[0], left[1] - depth), left)
    return (*outline[:3], *nick, outline[3])


def _drawn_newels(
    section: SectionSetout, tread: SetTread, outline: tuple[Point, ...]
) -> list[tuple[SetNewel, Stroke]]:
    """The newels that stand on this strip, to be cut out where they stand already."""
    shapes = []
    for newel in section.newels:
        if newel.kind == "post":
            shape = within(_footprint(newel, tread), outline)
            if len(shape) >= 3:
                pen = Pen.CUT if newel.stands else Pen.EDGE
                shapes.append((newel, Stroke(shape, pen, closed=True)))
    return shapes


def _newel_labels(newel: SetNewel, shape: Stroke) -> tuple[Text, ...]:
    """What to do with a drawn newel, inside it, on the wall side of the line; none without room."""
    lines = ("newel stands:", "CUT OUT") if newel.stands else ("newel to come:", "don't cut")
    wide, high = max(width(line, LABEL, True) for line in lines), LABEL * 2.8
    low, top = (pick(v for _, v in shape.points) for pick in (min, max))
    for step in range(int((top - low) / 2)):
        v = top - NICK[1] - 2.0 - step * 2.0
        corners = [(u, w) for u in (1.2, 1.8 + wide) for w in (v - high, v + 1.0)]
        if all(inside(shape.points, corner) for corner in corners):
            return tuple(
                Text(line, (1.5, v - LABEL - n * LABEL * 1.6), LABEL, True)
                for n, line in enumerate(lines)
            )
    return ()


def _footprint(newel: SetNewel, tread: SetTread) -> tuple[Point, ...]:
    half = float(newel.width) / 2
    v = float(newel.centre - tread.plan.front.s)
    return ((-half, v - half), (half, v - half), (half, v + half), (-half, v + half))


def _shut(frame: _Frame, reach: float, newels: Sequence[Stroke]) -> tuple[tuple[float, float], ...]:
    """Where no joint may stand: the part in front of the riser line, the back edge, a newel."""
    front_top = max(frame.corner(0.0)[1], frame.front(frame.wall)[1]) + 6.0
    front_low = min(frame.corner(reach)[1], frame.front(frame.wall, reach)[1])
    back_low = min(frame.back(-frame.outer_back)[1], frame.back(frame.wall)[1])
    back_top = max(frame.back(-frame.outer_back)[1], frame.back(frame.wall)[1])
    spans = [(front_low, front_top), (back_low - ROOM_AT_BACK, back_top)]
    for newel in newels:
        heights = [v for _, v in newel.points]
        spans.append((min(heights) - 6.0, max(heights) + 6.0))
    return tuple(spans)


def _lanes(frame: _Frame, spots: Sequence[Spot]) -> tuple[Lane, ...]:
    """Room for words: the main lane on the wall side of the line, then the tread-end side.

    The tread end's own lane runs beside that edge where the bases leave it room.
    """
    clear = max((spot.across for spot in spots), default=5.0) + 2.5
    outer = min(frame.outer_front, frame.outer_back)
    lanes = [_lane(frame, clear, frame.wall - 2.5, 1)]
    beside = outer - EDGE_LANE[1]
    if beside > clear:
        lanes.append(replace(_lane(frame, EDGE_LANE[0] - outer, -beside, -1), edge=True))
    if beside - clear > 12:
        lanes.append(_lane(frame, 0.5 - beside, -clear, -1))
    return tuple(lanes)


def _lane(frame: _Frame, left: float, right: float, out: int) -> Lane:
    """A lane from the riser's line to the nick in the back edge; `out`: away from the line."""
    inner = left if out > 0 else right
    low = frame.front(inner)[1] + 1.5
    high = frame.back(inner)[1] - NICK[1] - 1.5
    return Lane(left, right, low, high, frame.front_slope * out, frame.back_slope * out)


def _front_lanes(frame: _Frame, nosing: float) -> tuple[Lane, ...]:
    """Room between the nosing's edge and the riser's line, either side of the line."""
    lanes = []
    outer = min(frame.outer_front, frame.outer_back)
    for left, right, out in ((1.5, frame.wall - 2.5, 1), (2.5 - outer, -1.5, -1)):
        inner, slope = (left if out > 0 else right), frame.front_slope * out
        low, high = frame.front(inner, nosing)[1] + 1.2, frame.front(inner)[1] - 1.5
        lanes.append(Lane(left, right, low, high, slope, slope))
    return tuple(lanes)


def _right_handed(piece: Piece) -> Piece:
    """The mirror image for the right-hand side; words and readings stay as they are."""
    spots = tuple(
        replace(
            spot,
            shapes=tuple(mirrored(shape) for shape in spot.shapes),
            at=(-spot.at[0], spot.at[1]),
        )
        for spot in piece.spots
    )
    return replace(
        piece,
        outline=tuple((-u, v) for u, v in piece.outline[::-1]),
        along=tuple(mirrored(stroke) for stroke in piece.along),
        across=tuple(mirrored(stroke) for stroke in piece.across),
        spots=spots,
        lanes=tuple(replace(lane, left=-lane.right, right=-lane.left) for lane in piece.lanes),
        labels=tuple(
            replace(label, at=(-label.at[0], label.at[1]), anchor="end") for label in piece.labels
        ),
    )
