"""Where a tape finds a newel's place: from a riser's face that can be reached, or a nosing."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Literal

from stairjig.frozen import frozen
from stairjig.job.model import TreadsSection

if TYPE_CHECKING:
    from stairjig.lengths import Real
    from stairjig.setout.values import SectionSetout, SetNewel, Setout

FLUSH = 1e-6
"""Nearer than this to a riser's face, in mm, a place is in its plane."""


@frozen
class Taped:
    """A place on the line, from what a person can put a tape to; mm along the line.

    `riser`: its printed number (that of the tread behind it); `off`: from its face, + up the
    stair; `on`: the number of the tread that the place is on, None on the floor below the first;
    `landing`: whether that is the landing; `edge`: from the edge of the nosing that it stands
    behind, None on the floor; `askew`: that edge is not square to the line.
    """

    riser: int
    off: Real
    on: int | None
    landing: bool
    edge: Real | None
    askew: bool = False

    @property
    def flush(self) -> bool:
        """Whether it is in the plane of the riser's face."""
        return abs(float(self.off)) < FLUSH


def continues(setout: Setout, section: SectionSetout) -> SectionSetout | None:
    """Give the flight whose top riser is this one's first; None where there is none.

    The treads of the section before it in the job run up to this one's in number, so that the
    landing of the one is the first tread of the other.
    """
    pairs = (below for below, above in pairwise(setout.sections) if above is section)
    return next((below for below in pairs if _runs_on(below, section)), None)


def top_of(setout: Setout, section: SectionSetout) -> str:
    """Say what lies behind a flight's top riser: the landing, or the next section's first tread."""
    above = (one for one in setout.sections if continues(setout, one) is section)
    return next((f"tread {one.treads[0].plan.number}" for one in above), "the landing")


def shares(setout: Setout, section: SectionSetout, end: Literal["lower", "upper"]) -> str | None:
    """Name the section that may stand at the same newel as this section's end; None if none may.

    Both have a newel where one flight runs on into the other.
    """
    for below, above in pairwise(setout.sections):
        here, other = (above, below) if end == "lower" else (below, above)
        if here is section and _runs_on(below, above):
            both = _post(below.upper_newel) and _post(above.lower_newel)
            return other.name if both else None
    return None


def _runs_on(below: SectionSetout, above: SectionSetout) -> bool:
    if not (below.treads and above.treads):
        return False
    return above.treads[0].plan.number == below.treads[-1].plan.number + 1


def _post(newel: SetNewel | None) -> bool:
    return newel is not None and newel.kind == "post"


def taped(section: SectionSetout, s: Real) -> Taped | None:
    """Give a place's distance from the riser that can be taped to; None off the treads.

    The riser below lies under its nosing, so on a tread the next riser's face is taped to, on
    the floor the first one's, and on the landing the nosing's edge with the top riser behind it.
    """
    if not isinstance(section.section, TreadsSection):
        return None
    plans = [tread.plan for tread in section.treads]
    top = plans[-1].number + 1
    if float(s - plans[-1].back.s) > -FLUSH:
        off = s - plans[-1].back.s
        return Taped(
            top,
            off,
            top,
            landing=True,
            edge=off + plans[-1].back_nosing,
            askew=float(plans[-1].back_nosing - plans[-1].square_nosing) > FLUSH,
        )
    if float(s - plans[0].front.s) < -FLUSH:
        return Taped(plans[0].number, s - plans[0].front.s, None, landing=False, edge=None)
    plan = next(plan for plan in plans if float(s - plan.back.s) < -FLUSH)
    edge = s - plan.front.s + plan.front_nosing
    return Taped(plan.number + 1, s - plan.back.s, plan.number, landing=False, edge=edge)
