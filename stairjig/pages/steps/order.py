"""The helper's steps in their order, and what the work takes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stairjig.pages.steps.ground import ground_steps
from stairjig.pages.steps.paper import paper_steps
from stairjig.pages.steps.rail import rail_steps

if TYPE_CHECKING:
    from stairjig.pages.steps.values import Step
    from stairjig.setout.values import Setout


def steps_of(setout: Setout) -> tuple[Step, ...]:
    """List the steps of a job in their order; only those that its sections call for."""
    return (*paper_steps(setout), *ground_steps(setout), *rail_steps(setout))


def have_at_hand(setout: Setout) -> str:
    """List what the work takes."""
    edge = "6 ft" if setout.job.units == "inch" else "1.8 m"
    return (
        "steel tape, plumb bob or laser, straightedge of "
        f"{edge} or more, string, square, sharp knife, awl, pencil, low-tack tape, props and a saw "
        "for them, clamps; for the last steps drill, bits and scrap wood"
    )
