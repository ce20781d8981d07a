"""The holes of baluster types against the rails that they are bored into."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stairjig.job.faults import quoted

if TYPE_CHECKING:
    from stairjig.job.model import Job, Rail
    from stairjig.job.scalars import Reading
    from stairjig.lengths import Length


def check_rail_holes(job: Job, reading: Reading) -> None:
    """Report every hole that is as wide as a rail that it is bored into, or wider."""
    sizes = {one.name: one.rail_hole.size for one in job.balusters if one.rail_hole}
    told: set[str] = set()
    for section in job.sections:
        for name in section.pattern:
            if name in sizes and name not in told and _too_wide(sizes[name], section.rail):
                told.add(name)
                reading.faults.add(
                    f"rail_hole size {quoted(str(sizes[name]))} is not less than the width of the "
                    f"rail of {quoted(section.name)}, {section.rail.width}",
                    sizes[name].where,
                    "it can't be bored: check both",
                )


def _too_wide(size: Length, rail: Rail) -> bool:
    """Whether that hole leaves nothing of the rail; a plowed one is not bored, 0 was not read."""
    return rail.plow is None and 0 < rail.width.mm <= size.mm
