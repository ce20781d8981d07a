"""The sheets of a pack: every strip cut into tiles, every tile in its place, every word set."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf
from operator import itemgetter

from stairjig.drawing import Point
from stairjig.errors import Finding, Refusal
from stairjig.frozen import frozen
from stairjig.job.model import Paper
from stairjig.pieces.values import Piece
from stairjig.sheets import nesting
from stairjig.sheets.frame import Frame
from stairjig.sheets.joints import NoJoint, Room, fewest_joints, plan_joints
from stairjig.sheets.tiles import Tile, cut_tiles


@frozen
class CutPiece:
    """A piece as it goes on this paper, and where its joints stand (v, mm)."""

    piece: Piece
    joints: tuple[float, ...]


@frozen
class PlacedTile:
    """A tile on a sheet: `shift` takes the piece's frame to the sheet's, mm."""

    tile: Tile
    shift: Point


@frozen
class Sheet:
    """A sheet of tiles, mm: its height is the paper's, or on a roll what its tiles need."""

    width: float
    height: float
    tiles: tuple[PlacedTile, ...]

    @property
    def names(self) -> tuple[str, ...]:
        """What is on it, in words."""
        return tuple(tile_name(placed.tile) for placed in self.tiles)


@frozen
class SheetPlan:
    """All sheets of strips on one paper."""

    paper: Paper
    sheets: tuple[Sheet, ...]
    joints: int


def tile_name(tile: Tile) -> str:
    """A tile's name: its piece's, and which part of it where there are several."""
    part = f" ({tile.index + 1} of {tile.of})" if tile.of > 1 else ""
    return f"{tile.piece.name}{part}"


def plan_sheets(pieces: Sequence[Piece], paper: Paper) -> SheetPlan:
    """Cut and nest all pieces on a paper. Raises `Refusal` where a piece can't be cut for it."""
    frame = Frame(paper)
    cuts = [cut_for(piece, frame) for piece in pieces]
    tiles: list[Tile] = []
    joints = 0
    for cut in cuts:
        tiles += cut_tiles(cut.piece, cut.joints, joints + 1)
        joints += len(cut.joints)
    blocks = [nesting.Block(index, *tile.size) for index, tile in enumerate(tiles)]
    sheets = tuple(_sheet(spots, tiles, frame) for spots in nesting.nest(blocks, frame))
    return SheetPlan(paper, sheets, joints)


def cut_for(piece: Piece, frame: Frame) -> CutPiece:
    """The piece with the fewest joints on that paper; its short twin only where that saves one."""
    across = wide(piece)
    if across > frame.width:
        raise _no_paper(piece)
    rooms = [Room(frame.height)]
    if across <= frame.widest_tall:
        rooms.append(Room(frame.full_height))
    forms = [form for form in (piece, piece.short) if form]
    ways = [(_count(form, room), form, room) for room in rooms for form in forms]
    for _, form, room in sorted(ways, key=itemgetter(0)):
        try:
            return CutPiece(form, plan_joints(form, room))
        except NoJoint:
            continue
    raise _no_paper(piece)


def _count(piece: Piece, room: Room) -> float:
    try:
        return fewest_joints(piece, room)
    except NoJoint:
        return inf


def wide(piece: Piece) -> float:
    """What a strip measures across, mm."""
    across = [u for u, _ in piece.outline]
    return max(across) - min(across)


def _no_paper(piece: Piece) -> Refusal:
    return Refusal(Finding("no-joint", piece.section, piece.name))


def _sheet(spots: Sequence[nesting.Spot], tiles: Sequence[Tile], frame: Frame) -> Sheet:
    placed, top = [], 0.0
    for spot in spots:
        tile = tiles[spot.index]
        left, low = tile.origin
        shift = (frame.left + spot.left - left, frame.bottom + spot.bottom - low)
        placed.append(PlacedTile(tile, shift))
        top = max(top, spot.bottom + tile.size[1])
    height = float(frame.paper.height)
    if frame.paper.roll:
        height = max(top + 2 * frame.margin, float(frame.paper.width) + 1.0)
    return Sheet(float(frame.paper.width), height, tuple(placed))
