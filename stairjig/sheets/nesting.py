"""Tiles laid on the fewest sheets, in lanes: side by side across the sheet, stacked up a lane."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from stairjig.sheets.frame import BAR_STRIP, BETWEEN, Frame

_HAIR = 1e-6


@dataclass(frozen=True, slots=True)
class Block:
    """What a tile takes on a sheet, mm; `index` is its place in the order of the pack."""

    index: int
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a block lies: its lower left corner from the frame's, mm."""

    index: int
    left: float
    bottom: float


@dataclass(slots=True)
class _Lane:
    width: float
    tall: bool
    used: float
    blocks: list[tuple[Block, float]] = field(default_factory=list)


@dataclass(slots=True)
class _Sheet:
    lanes: list[_Lane] = field(default_factory=list)

    def across(self, tall_only: bool = False) -> float:
        lanes = [lane for lane in self.lanes if lane.tall or not tall_only]
        return sum(lane.width + BETWEEN for lane in lanes)


def nest(blocks: Sequence[Block], frame: Frame) -> tuple[tuple[Spot, ...], ...]:
    """The sheets, each with where its blocks lie, in the order of the pack.

    Widest first into the first lane or sheet that has room, with the tall ones before the others
    or among them, whichever takes fewer sheets. Every block must fit the frame.
    """
    orders = (
        sorted(blocks, key=lambda b: (-b.width, -b.height, b.index)),
        sorted(blocks, key=lambda b: (-_tall(b, frame), -b.width, -b.height, b.index)),
    )
    sheets = min((_filled(order, frame) for order in orders), key=len)
    placed = [_spots(sheet) for sheet in sheets]
    return tuple(sorted(placed, key=lambda spots: min(spot.index for spot in spots)))


def _filled(blocks: Sequence[Block], frame: Frame) -> list[_Sheet]:
    sheets: list[_Sheet] = []
    open_from = 0
    narrowest = min((block.width for block in blocks), default=0.0)
    shortest = min((block.height for block in blocks), default=0.0)
    for block in blocks:
        if not any(_put(sheet, block, frame) for sheet in sheets[open_from:]):
            sheets.append(_Sheet())
            if not _put(sheets[-1], block, frame):
                raise ValueError("a tile is larger than its sheet")
        while open_from < len(sheets) and _full(sheets[open_from], frame, narrowest, shortest):
            open_from += 1
    return sheets


def _tall(block: Block, frame: Frame) -> bool:
    return block.height > frame.height + _HAIR


def _put(sheet: _Sheet, block: Block, frame: Frame) -> bool:
    tall = _tall(block, frame)
    for lane in sheet.lanes:
        if not tall and not lane.tall and lane.width + _HAIR >= block.width:
            top = lane.used + BETWEEN + block.height
            if top <= frame.height + _HAIR:
                lane.blocks.append((block, lane.used + BETWEEN))
                lane.used = top
                return True
    room = frame.width - sheet.across()
    if tall:
        room = min(room, frame.widest_tall - sheet.across(tall_only=True))
    if block.width > room + _HAIR or block.height > frame.full_height + _HAIR:
        return False
    sheet.lanes.append(_Lane(block.width, tall, block.height, [(block, 0.0)]))
    return True


def _full(sheet: _Sheet, frame: Frame, narrowest: float, shortest: float) -> bool:
    """Whether no block can come onto the sheet any more."""
    if frame.width - sheet.across() >= narrowest:
        return False
    return all(lane.tall or lane.used + BETWEEN + shortest > frame.height for lane in sheet.lanes)


def _spots(sheet: _Sheet) -> tuple[Spot, ...]:
    """Tall lanes leftmost, then the others above the bar across, in the order of the pack."""
    lanes = sorted(sheet.lanes, key=lambda lane: (not lane.tall, lane.blocks[0][0].index))
    spots, left = [], 0.0
    for lane in lanes:
        rise = 0.0 if lane.tall else BAR_STRIP
        spots += [Spot(block.index, left, rise + up) for block, up in lane.blocks]
        left += lane.width + BETWEEN
    return tuple(sorted(spots, key=lambda spot: spot.index))
