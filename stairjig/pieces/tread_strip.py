"""The strip of one tread: the true shape of that part of it, to be laid on and marked from.

Built as seen from above on a stair with its open side on the left: u = -y, v = x. The right-hand
side is the mirror image, the words apart.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import inf, radians, tan

from stairjig.drawing import Pen, Point, Stroke
from stairjig.errors import Finding, Refusal
from stairjig.frozen import frozen
from stairjig.job.model import TreadsSection
from stairjig.lengths import Shown
from stairjig.pieces.newel_shapes import drawn_newels, newel_labels
from stairjig.pieces.shapes import crossing, meets, mirrored
from stairjig.pieces.spots import base_spot
from stairjig.pieces.tread_words import tread_words
from stairjig.pieces.values import Lane, Piece, Spot
from stairjig.setout.names import tread_strip_name
from stairjig.setout.plan import reach
from stairjig.setout.values import Mark, PlanTread, SectionSetout, SetTread

WALL_SIDE = 75.0
"""Least reach of the strip on the wall side of the line, mm."""
BEYOND_BASE = 30.0
"""Least reach beyond the widest base, mm."""
SHORT_FRONT = 3.0
"""What the strip keeps in front of the riser line where the paper has no room, mm."""
PAST_NOSING = 8.0
"""What it has in front of the nosing's edge where there is room, mm."""
NICK = (6.0, 4.0)
"""Half width and least depth of the nick in the back edge, for cove or glue, mm."""
OFF_NEWEL = 10.0
"""What the nick keeps from a newel, so that no sliver of paper is left between two cuts, mm."""
EDGE_LANE = (1.3, 5.4)
"""The tread end's lane, from its edge, mm."""
LEAST_END = 10.0
"""Where its risers meet, the strip ends where they are still so far apart, mm."""
LEAST_BESIDE = 8.0
"""What a strip needs beyond its widest base, mm."""
ROOM_AT_BACK = 36.0
"""Least length of a tile at the back edge, for what it has to say, mm."""


@frozen
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
    def nick_depth(self) -> float:
        """How deep the nick is cut, along the line."""
        return NICK[1] * max(1.0, abs(self.back_slope))

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
    frame = _frame(section, tread)
    nosing = float(tread.plan.front_nosing)
    front = nosing + PAST_NOSING if ahead is None else ahead
    spots = tuple(_spot(tread, mark, shown, front) for mark in tread.marks)
    drawn = drawn_newels(section, tread, frame.outline(front))
    newels = tuple(shape for _, shape in drawn)
    nick = _nick(frame, newels, max(spot.across for spot in spots))
    outline = _nicked(frame.outline(front), nick, frame.nick_depth)
    risers = _risers(frame, nosing if ahead is None else None)
    ends = {newel.end for newel, _ in drawn}
    words = tread_words(
        section, treads, shown, pack_id, ends, nick=bool(nick), nosing=len(risers) > 1
    )
    piece = Piece(
        name=tread_strip_name(section, treads),
        section=section.name,
        kind="tread",
        treads=tuple(each.plan.number for each in treads),
        outline=outline,
        along=(Stroke(((0.0, -front), (0.0, frame.run)), Pen.LINE),),
        across=(*risers, *newels),
        spots=spots,
        shut=_shut(frame, front, newels),
        lanes=(*_lanes(frame, spots), *(_front_lanes(frame, nosing) if ahead is None else ())),
        words=words,
        turned=False,
        zero=frame.run,
        sense=-1,
        origin="the back edge, on the line",
        labels=newel_labels(
            drawn, tread, ((*outline, outline[0]), *(each.points for each in risers))
        ),
        step=float(shown.step),
    )
    return _right_handed(piece) if flight.side == "right" else piece


def _frame(section: SectionSetout, tread: SetTread) -> _Frame:
    """The strip's edges; it ends before the risers meet, where they do within its reach."""
    plan, flight = tread.plan, section.section
    assert isinstance(flight, TreadsSection)
    widest = max(float(mark.type.base.mm) for mark in tread.marks) / 2
    beyond = widest + BEYOND_BASE
    frame = _Frame(plan, beyond, beyond, max(WALL_SIDE, beyond))
    closing = frame.front_slope - frame.back_slope
    meet = (frame.run - LEAST_END) / abs(closing) if closing else inf
    if meet < widest + LEAST_BESIDE:
        raise Refusal(_no_strip(section, tread))
    if closing > 0:
        frame = replace(frame, wall=min(frame.wall, meet))
    elif closing < 0:
        frame = replace(frame, outer_front=min(beyond, meet), outer_back=min(beyond, meet))
    if flight.line.origin != "end":
        return frame
    return replace(frame, outer_front=float(plan.end_front), outer_back=float(plan.end_back))


def _no_strip(section: SectionSetout, tread: SetTread) -> Finding:
    return Finding(
        "no-room",
        section.name,
        f"tread {tread.plan.number} has no room for a strip: its risers meet beside its balusters; "
        "check its skews, or set the balusters on another line",
    )


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


def _nick(frame: _Frame, newels: Sequence[Stroke], widest: float) -> float | None:
    """Where the nick's middle stands, u, clear of the line, the bases and the newels."""
    half, depth = NICK[0], frame.nick_depth
    low, high = half + 4.0 - frame.outer_back, frame.wall - half - 4.0
    middle = (frame.wall - frame.outer_back) / 2
    places = sorted((low + n for n in range(int(high - low) + 1)), key=lambda u: abs(u - middle))

    def clear(u: float) -> bool:
        room = half + OFF_NEWEL
        low, high = sorted(frame.back(at)[1] for at in (u - room, u + room))
        box = ((u - room, low - depth - 3.0), (u + room, high + 3.0))
        return frame.back(u)[1] - frame.front(u)[1] > 4 * depth and not any(
            meets((*newel.points, newel.points[0]), *box) for newel in newels
        )

    for beside in (max(8.0, widest + 1.0), 8.0):
        for u in (middle, *places):
            if low <= u <= high and abs(u) >= half + beside and clear(u):
                return u
    return None


def _nicked(outline: tuple[Point, ...], nick: float | None, depth: float) -> tuple[Point, ...]:
    """The outline with a nick in its back edge."""
    if nick is None:
        return outline
    half = NICK[0]
    wall, outer = outline[2:]
    right, left = (crossing(wall, outer, (u, 0.0), (u, 1.0)) for u in (nick + half, nick - half))
    cut = (right, (right[0], right[1] - depth), (left[0], left[1] - depth), left)
    return (*outline[:3], *cut, outer)


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
    lanes = [_lane(frame, clear, frame.wall - 2.5, 1)] if frame.wall - 2.5 > clear + 8 else []
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
    high = frame.back(inner)[1] - frame.nick_depth - 1.5
    return Lane(left, right, low, high, frame.front_slope * out, frame.back_slope * out)


def _front_lanes(frame: _Frame, nosing: float) -> tuple[Lane, ...]:
    """Room between the nosing's edge and the riser's line, either side of the line."""
    lanes = []
    outer = min(-frame.corner(ahead)[0] for ahead in (0.0, nosing))
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
