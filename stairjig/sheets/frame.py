"""A sheet's own parts: where tiles may lie, and where its scale bars and its words stand."""

from __future__ import annotations

from stairjig.frozen import frozen
from stairjig.job.model import Paper

SIDE_LANE = 13.0
"""Width of the lane for the bar along the sheet and the sheet's words, mm."""
BAR_STRIP = 11.0
"""Height of the strip for the bar across the sheet, mm."""
LEAST_BAR = 52.0
"""Least width kept for the bar across where a tall tile takes the sheet's whole height, mm."""
BETWEEN = 3.0
"""Between tiles, for the scissors, mm."""


@frozen
class Frame:
    """The printable part of a sheet, mm from its lower left corner."""

    paper: Paper

    @property
    def margin(self) -> float:
        """The unprinted edge."""
        return float(self.paper.margin.mm)

    @property
    def left(self) -> float:
        """Where tiles begin, right of the side lane."""
        return self.margin + SIDE_LANE

    @property
    def bottom(self) -> float:
        """Where tall tiles begin."""
        return self.margin

    @property
    def width(self) -> float:
        """Room for tiles across the sheet."""
        return float(self.paper.width) - self.margin - self.left

    @property
    def full_height(self) -> float:
        """Room for a tall tile, which leaves no strip for the bar across under it."""
        return float(self.paper.height) - 2 * self.margin

    @property
    def height(self) -> float:
        """Room for a tile above the bar across."""
        return self.full_height - BAR_STRIP

    @property
    def widest_tall(self) -> float:
        """Room across for tall tiles, which leave the bar across its least width beside them."""
        return self.width - LEAST_BAR - BETWEEN
