"""The rail over a section: where every mark lands on its underside, and how long balusters are."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import acos, cos, tan

from stairjig.errors import BadInput, Problem
from stairjig.frozen import frozen
from stairjig.job.model import Baluster, Rail, RailTaped
from stairjig.lengths import Real
from stairjig.setout.pitch import PitchLine
from stairjig.setout.spacing import Placed
from stairjig.setout.values import Mark, RailSetout, SetNewel


@frozen
class Named:
    """A placed baluster with its name and the printed number of its tread."""

    name: str
    placed: Placed
    tread: int | None


def numbered(row: Sequence[Placed], numbers: dict[int, int]) -> tuple[Named, ...]:
    """Names going up: tread-baluster on treads, a plain count elsewhere."""
    named, on_tread = [], dict.fromkeys(numbers, 0)
    for count, placed in enumerate(row, start=1):
        if placed.tread is None:
            named.append(Named(str(count), placed, None))
            continue
        on_tread[placed.tread] += 1
        tread = numbers[placed.tread]
        named.append(Named(f"{tread}-{on_tread[placed.tread]}", placed, tread))
    return tuple(named)


def taped_pitch(taped: RailTaped, named: Iterable[Named]) -> float:
    """The pitch in radians that a length taped between two plumbed marks proves.

    cos(pitch) = (s difference) / length. Raises `BadInput` where a mark is not there, or the
    length is shorter than the level distance.
    """
    places = {mark.name: mark.placed.s for mark in named}
    for end in (taped.start, taped.end):
        if end not in places:
            raise BadInput(Problem(f"rail_taped: there is no mark {end}", "", taped.where))
    level = abs(float(places[taped.end] - places[taped.start]))
    if not 0 < level < float(taped.length.mm):
        raise BadInput(
            Problem(
                f"rail_taped: {taped.length} is no longer than the level distance of its marks",
                "tape it again along the underside",
                taped.where,
            )
        )
    return acos(level / float(taped.length.mm))


def set_rail(
    pitch: PitchLine,
    first: Real,
    newels: tuple[SetNewel | None, SetNewel | None],
    risers: Iterable[tuple[int, Real]],
    rail: Rail,
    lift: float = 0.0,
) -> RailSetout:
    """The rail's frame: m = (s - s of the first mark) / cos(pitch), from the first mark, mm.

    `lift`: plumb, from the pitch line to what the height is measured from.
    """
    slope = cos(pitch.pitch)

    def along(s: Real) -> float:
        return float(s - first) / slope

    lower, upper = newels
    return RailSetout(
        pitch=pitch.pitch,
        lower=along(lower.face) if lower else None,
        upper=along(upper.face) if upper else None,
        height_at_zero=pitch.at_zero,
        risers=tuple((number, along(s)) for number, s in risers),
        prop=float(rail.height.mm) - (float(rail.depth.mm) + lift) / slope,
    )


def marks_on(
    named: Sequence[Named],
    pitch: PitchLine,
    prop: float,
    stands: Sequence[Real],
    plowed: bool,
) -> tuple[Mark, ...]:
    """The marks with their place on the rail and their lengths, mm.

    `prop`: pitch line to underside, plumb; `stands`: the height each baluster stands at; `plowed`:
    the rail is bored for none of them. Raises `BadInput` where a baluster has no length.
    """
    first, slope = named[0].placed.s, cos(pitch.pitch)
    marks = []
    for mark, stand in zip(named, stands, strict=True):
        kind, s = mark.placed.type, mark.placed.s
        visible = pitch.height(s) + prop - float(stand)
        cut = None if plowed else cut_length(kind, visible)
        if visible <= 0 or (cut is not None and cut <= 0):
            text = f"the rail leaves no length for the baluster of mark {mark.name}"
            raise BadInput(Problem(text, "check the rail's height and depth, and the pitch"))
        marks.append(
            Mark(
                name=mark.name,
                type=kind,
                tread=mark.tread,
                x=mark.placed.x if mark.tread is not None else s,
                s=s,
                rail=float(s - first) / slope,
                visible=visible,
                long_point=float(kind.width.mm) / 2 * tan(pitch.pitch),
                cut=cut,
            )
        )
    return tuple(marks)


def cut_length(kind: Baluster, visible: float) -> float | None:
    """Visible length and both hole depths less the fit, mm; None where a hole is not given."""
    if not (kind.tread_hole and kind.rail_hole):
        return None
    depths = kind.tread_hole.depth.mm + kind.rail_hole.depth.mm
    return visible + float(depths - kind.fit.mm)


def plumb_length(size: float, pitch: float) -> float:
    """How long a plumb hole of `size` opens along a rail of that pitch (radians): size / cos."""
    return size / cos(pitch)


def bow_shift(bow: float, pitch: float, at: float = 0.5) -> float:
    """How far a plumbed mark lands along the rail from where it belongs, mm.

    `bow`: in the middle, square to the rail; `at`: the mark's place over the rail's length, 0 to
    1. b tan(pitch), elsewhere times 4 u (1 - u): geometry, the bow taken as a parabola.
    """
    return bow * tan(pitch) * 4 * at * (1 - at)


def bow_shortening(bow: float, length: float) -> float:
    """How much a rail bowed by `bow` is longer than its chord: 8 b^2 / (3 L), mm."""
    return 8 * bow * bow / (3 * length)
