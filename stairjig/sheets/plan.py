"""The sheets of a pack: every strip cut into tiles, every tile in its place, every word set."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import inf

from stairjig.drawing import Item, Point, Run, moved
from stairjig.errors import Finding, Refusal
from stairjig.job.model import Paper
from stairjig.lengths import Shown
from stairjig.pieces.values import Piece
from stairjig.sheets import nesting
from stairjig.sheets.bars import Bar, band_words, bar_items, bar_words, fitting_words, longest
from stairjig.sheets.frame import Frame
from stairjig.sheets.joints import NoJoint, Room, plan_joints
from stairjig.sheets.lettering import letter
from stairjig.sheets.tiles import Tile, cut_tiles, tile_strokes


@dataclass(frozen=True, slots=True)
class CutPiece:
    """A piece as it goes on this paper, and where its joints stand (v, mm)."""

    piece: Piece
    joints: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class PlacedTile:
    """A tile on a sheet: `shift` takes the piece's frame to the sheet's, mm."""

    tile: Tile
    shift: Point


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet of tiles, mm: its height is the paper's, or on a roll what its tiles need."""

    width: float
    height: float
    tiles: tuple[PlacedTile, ...]

    @property
    def names(self) -> tuple[str, ...]:
        """What is on it, in words."""
        return tuple(tile_name(placed.tile) for placed in self.tiles)


@dataclass(frozen=True, slots=True)
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
    wide = max(u for u, _ in piece.outline) - min(u for u, _ in piece.outline)
    if wide > frame.width:
        raise _no_paper(piece)
    rooms = [Room(frame.height)]
    if wide <= frame.widest_tall:
        rooms.append(Room(frame.full_height))
    best: CutPiece | None = None
    for room in rooms:
        for form in (piece, piece.short):
            cut = _cut(form, room) if form else None
            if cut and (best is None or len(cut.joints) < len(best.joints)):
                best = cut
    if best is None:
        raise _no_paper(piece)
    return best


def _cut(piece: Piece, room: Room) -> CutPiece | None:
    try:
        return CutPiece(piece, plan_joints(piece, room))
    except NoJoint:
        return None


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


def sheet_items(
    sheet: Sheet, paper: Paper, shown: Shown, words: Sequence[str]
) -> tuple[Item | Run, ...]:
    """Everything on a sheet: its tiles, each in a run of its own, its bars and its words.

    `words`: up to two lines for the lane at its side.
    """
    runs = [tile_run(placed, shown) for placed in sheet.tiles]
    return (*runs, *_furniture(sheet, Frame(paper), shown, words))


def tile_run(placed: PlacedTile, shown: Shown) -> Run:
    """A tile as it stands on its sheet: its strokes, the outline first, then its words."""
    tile = placed.tile
    piece = tile.piece
    readings = {
        joint.number: shown.text((joint.v - piece.zero) * piece.sense)
        for joint in (tile.below, tile.above)
        if joint
    }
    items = (*tile_strokes(tile), *letter(tile, readings))
    return Run("Tile", tuple(moved(item, placed.shift) for item in items))


def _furniture(sheet: Sheet, frame: Frame, shown: Shown, words: Sequence[str]) -> Iterable[Item]:
    up = Bar(
        (frame.margin + 2.2, frame.bottom),
        longest(sheet.height - 2 * frame.margin, shown.units),
        True,
        shown.units,
    )
    yield from bar_items(up)
    across = across_bar(sheet, frame, shown)
    if across:
        yield from bar_items(across)
        yield bar_words(across, fitting_words(across.length, shown.units, 2.5), 2.8, 2.5)
    lines = [f"{band_words(up.length, shown.units)} · print at actual size", *words]
    for n, line in enumerate(lines[:2]):
        yield bar_words(up, line, -5.4 - n * 4.2, 2.5)


def across_bar(sheet: Sheet, frame: Frame, shown: Shown) -> Bar | None:
    """The bar across the sheet, right of its tall tiles, as long as there is room."""
    left = frame.left
    right = frame.left + frame.width
    for placed in sheet.tiles:
        low = placed.tile.origin[1] + placed.shift[1]
        if low < frame.bottom + 5.0:
            edge = max(u for u, _ in placed.tile.outline) + placed.shift[0]
            left = max(left, edge + 3.0)
    length = longest(right - left, shown.units)
    return Bar((left, frame.bottom + 2.2), length, False, shown.units) if length > 0 else None


def smallest_without_joints(piece: Piece, papers: Iterable[Paper]) -> Paper | None:
    """The smallest of some papers that needs no joint for a piece; None where all do."""

    def area(paper: Paper) -> float:
        return float(paper.width * paper.height) if not paper.roll else inf

    for paper in sorted(papers, key=area):
        try:
            if not cut_for(piece, Frame(paper)).joints:
                return paper
        except Refusal:
            continue
    return None


__all__ = ["SheetPlan", "plan_sheets", "replace", "sheet_items", "tile_name"]
