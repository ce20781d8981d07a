"""A newel's box filled in: where its face stands by the tape, and what its gap comes to then.

Marks run from the first one, never from a newel: where a newel stands a little off, only its own
gap and the rail's end are not as drawn. Lengths in mm.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Literal

from stairjig.frozen import frozen
from stairjig.lengths import NotALength, Real, Shown, Units
from stairjig.readings.parse import read_reading
from stairjig.setout.schedule_newels import FLUSH, Taped

_FLUSH = re.compile(r"flush(?:\s+with(?:\s+the\s+face\s+of)?\s+riser\s+(?P<riser>\d+))?", re.I)


@frozen
class FaceRead:
    """A face as it was taped: how far from its riser, or from the nosing's edge; mm.

    `flush`: it was written that it is in the riser's plane, so it is the riser that is meant.
    """

    far: Fraction
    flush: bool = False


def read_face(text: str, place: Taped, units: Units) -> FaceRead:
    """A face in words or as a length. Raises `NotALength`."""
    said = _FLUSH.fullmatch(text.strip())
    if said is None:
        return FaceRead(read_reading(text, units))
    if said["riser"] and int(said["riser"]) != place.riser:
        raise NotALength(f"is said of another riser than {place.riser}")
    return FaceRead(Fraction(0), flush=True)


def wider(read: FaceRead, place: Taped, end: Literal["lower", "upper"]) -> Real:
    """By how much the newel's gap is wider than drawn, - narrower, where its face stands so.

    The tape gives no side: it is the one that is due, and of a riser that the face should be
    flush with the one that opens the gap.
    """
    due = place.edge if _from_edge(read, place) else place.off
    if due is None or abs(float(due)) < FLUSH:
        return read.far
    up = _up(read.far, due)
    return up if end == "upper" else -up


def _from_edge(read: FaceRead, place: Taped) -> bool:
    """Whether the reading is nearer to what is due from the nosing's edge."""
    if place.edge is None or read.flush:
        return False
    from_riser, from_edge = (abs(float(due)) for due in (place.off, place.edge))
    return abs(read.far - from_edge) < abs(read.far - from_riser)


def _up(far: Fraction, due: Real) -> Real:
    """How much further up the stair a face is than due, taped `far` on the side that is due."""
    return (far if due > 0 else -far) - due


def place_words(place: Taped, shown: Shown) -> str:
    """Where a face should be, as the newel sheet has it."""
    way = "down" if place.off < 0 else "up"
    far = f"{shown.text(abs(float(place.off)))} {way} the stair from"
    at = f"{'flush with' if place.flush else far} the face of riser {place.riser}"
    if place.edge is None:
        return at
    return f"{at}, or {shown.text(abs(float(place.edge)))} behind the nosing's edge,"
