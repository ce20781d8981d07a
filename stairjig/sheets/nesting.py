"""Tiles laid on the fewest sheets, in lanes: side by side across the sheet, stacked up a lane."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import inf

from stairjig.frozen import frozen
from stairjig.sheets.frame import BAR_STRIP, BETWEEN, Frame

_HAIR = 1e-6


@frozen
class Block:
    """What a tile takes on a sheet, mm; `index` is its place in the order of the pack."""

    index: int
    width: float
    height: float


@frozen
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


@frozen
class _Room:
    """A frame's measures, worked out once, mm."""

    width: float
    height: float
    full_height: float
    widest_tall: float


@dataclass(slots=True, eq=False)
class _Sheet:
    """What it still takes, mm: `room` across, `tall_room` for tall blocks, `stack` up a lane."""

    room: float
    tall_room: float
    stack: float = -inf
    lanes: list[_Lane] = field(default_factory=list)

    def may_take(self, block: Block, tall: bool) -> bool:
        """Whether it is worth while to look more closely."""
        if tall:
            return self.tall_room + 2 * _HAIR >= block.width
        return self.room + 2 * _HAIR >= block.width or self.stack + 2 * _HAIR >= block.height

    def across(self, tall_only: bool = False) -> float:
        lanes = [lane for lane in self.lanes if lane.tall or not tall_only]
        return sum(lane.width + BETWEEN for lane in lanes)


def nest(blocks: Sequence[Block], frame: Frame) -> tuple[tuple[Spot, ...], ...]:
    """The sheets, each with where its blocks lie, in the order of the pack.

    Widest first into the first lane or sheet that has room, with the tall ones before the others
    or among them, whichever takes fewer sheets; then blocks that may change places stand in the
    order of the pack. Every block must fit the frame.
    """
    room = _Room(frame.width, frame.height, frame.full_height, frame.widest_tall)
    orders = (
        sorted(blocks, key=lambda b: (-b.width, -b.height, b.index)),
        sorted(blocks, key=lambda b: (-_tall(b, room), -b.width, -b.height, b.index)),
    )
    fewest = min((_filled(order, room) for order in orders), key=len)
    sheets = sorted(fewest, key=_first)
    _put_in_order(sheets)
    return tuple(_spots(sheet) for sheet in sheets)


def _first(sheet: _Sheet) -> int:
    return min(block.index for lane in sheet.lanes for block, _ in lane.blocks)


def _put_in_order(sheets: Sequence[_Sheet]) -> None:
    """Change blocks of one width that have a lane each, so that a strip's tiles follow in order."""
    alike: dict[tuple[float, bool], list[_Lane]] = {}
    for sheet in sheets:
        for lane in sheet.lanes:
            if len(lane.blocks) == 1:
                alike.setdefault((lane.width, lane.tall), []).append(lane)
    for lanes in alike.values():
        blocks = sorted((lane.blocks[0][0] for lane in lanes), key=lambda block: block.index)
        for lane, block in zip(lanes, blocks, strict=True):
            lane.blocks = [(block, 0.0)]


def _filled(blocks: Sequence[Block], room: _Room) -> list[_Sheet]:
    sheets: list[_Sheet] = []
    still_open: list[_Sheet] = []
    narrowest = min((block.width for block in blocks), default=0.0)
    shortest = min((block.height for block in blocks), default=0.0)
    for block in blocks:
        tall = _tall(block, room)
        for sheet in still_open:
            if sheet.may_take(block, tall) and _put(sheet, block, room):
                break
        else:
            sheet = _Sheet(room.width, room.widest_tall)
            if not _put(sheet, block, room):
                raise ValueError("a tile is larger than its sheet")
            sheets.append(sheet)
            still_open.append(sheet)
        if sheet.room + 2 * _HAIR < narrowest and sheet.stack + 2 * _HAIR < shortest:
            still_open.remove(sheet)
    return sheets


def _tall(block: Block, room: _Room) -> bool:
    return block.height > room.height + _HAIR


def _put(sheet: _Sheet, block: Block, room: _Room) -> bool:
    taken = _stacked(sheet, block, room) or _beside(sheet, block, room)
    if taken:
        sheet.room = room.width - sheet.across()
        sheet.tall_room = min(sheet.room, room.widest_tall - sheet.across(tall_only=True))
        stacks = [room.height - lane.used - BETWEEN for lane in sheet.lanes if not lane.tall]
        sheet.stack = max(stacks, default=-inf)
    return taken


def _stacked(sheet: _Sheet, block: Block, room: _Room) -> bool:
    """Put the block onto the first lane that takes it."""
    for lane in sheet.lanes:
        if not lane.tall and lane.width + _HAIR >= block.width:
            top = lane.used + BETWEEN + block.height
            if top <= room.height + _HAIR:
                lane.blocks.append((block, lane.used + BETWEEN))
                lane.used = top
                return True
    return False


def _beside(sheet: _Sheet, block: Block, room: _Room) -> bool:
    """Begin a lane with the block where the sheet has room beside its lanes."""
    tall = _tall(block, room)
    wide = sheet.tall_room if tall else sheet.room
    if block.width > wide + _HAIR or block.height > room.full_height + _HAIR:
        return False
    sheet.lanes.append(_Lane(block.width, tall, block.height, [(block, 0.0)]))
    return True


def _spots(sheet: _Sheet) -> tuple[Spot, ...]:
    """Tall lanes leftmost, then the others above the bar across, in the order of the pack."""
    lanes = sorted(sheet.lanes, key=lambda lane: (not lane.tall, lane.blocks[0][0].index))
    spots, left = [], 0.0
    for lane in lanes:
        rise = 0.0 if lane.tall else BAR_STRIP
        spots += [Spot(block.index, left, rise + up) for block, up in lane.blocks]
        left += lane.width + BETWEEN
    return tuple(sorted(spots, key=lambda spot: spot.index))
