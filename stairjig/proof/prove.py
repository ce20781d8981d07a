"""The proof: a finished pack read back and held against the layout of its own job."""

from __future__ import annotations

from collections.abc import Collection

from stairjig.errors import Finding
from stairjig.progress import Tell, told, untold
from stairjig.proof.assemble import assemble
from stairjig.proof.compare import compare, compare_part
from stairjig.proof.expected import expected_pieces
from stairjig.proof.reading import A_MARK, OPENING, ReadPack, read_pdf
from stairjig.proof.tiles import Point, TileRead, read_tile
from stairjig.setout.values import Setout


def prove(
    data: bytes,
    setout: Setout,
    only: Collection[str] | None = None,
    scale: Point = (1.0, 1.0),
    part: bool = False,
    name: str = "",
    tell: Tell = untold,
) -> tuple[Finding, ...]:
    """Everything that is wrong with a pack's strips; nothing where it is right.

    `only`: the names of the strips that it is to hold, all where None. `scale`: the printer
    correction it was drawn with, across and along. `part`: it is a sheet of a pack, whose tiles
    need not make whole strips. `name`: what the file is called in what is said about it. `tell`
    hears of each sheet. Raises `BadInput` for what is no PDF.
    """
    read = read_pdf(data, name, patience_for(setout) if name else None)
    return prove_read(read, setout, only, scale, part, tell)


def patience_for(setout: Setout) -> float:
    """Seconds of the processor that reading a pack of this layout may take."""
    return OPENING + A_MARK * sum(len(section.marks) for section in setout.sections)


def prove_read(
    pack: ReadPack,
    setout: Setout,
    only: Collection[str] | None = None,
    scale: Point = (1.0, 1.0),
    part: bool = False,
    tell: Tell = untold,
) -> tuple[Finding, ...]:
    """As `prove`, for a pack that is read already."""
    if part:
        return _prove_tiles(read_tiles(pack, scale, tell), setout)
    pieces = assemble(read_tiles(pack, scale, tell))
    expected = {
        piece.name: piece for piece in expected_pieces(setout) if only is None or piece.name in only
    }
    found = [
        Finding("proof", "", f"{name or 'a tile without a name'} is no strip of this job")
        for name in pieces
        if name not in expected
    ]
    for name, piece in expected.items():
        if name not in pieces:
            found.append(Finding("proof", "", f"{name} is missing"))
            continue
        faults = compare(pieces[name], piece, setout.job.shown)
        found += [Finding("proof", "", fault) for fault in faults]
    return tuple(found)


def _prove_tiles(tiles: list[TileRead], setout: Setout) -> tuple[Finding, ...]:
    """Each tile on its own: what of its strip lies between its own joints."""
    expected = {piece.name: piece for piece in expected_pieces(setout)}
    found: list[Finding] = []
    for tile in tiles:
        if tile.name not in expected:
            name = tile.name or "a tile without a name"
            found.append(Finding("proof", "", f"{name} is no strip of this job"))
            continue
        faults = compare_part(tile, expected[tile.name], setout.job.shown)
        found += [Finding("proof", "", fault) for fault in faults]
    return tuple(found)


def read_tiles(pack: ReadPack, scale: Point = (1.0, 1.0), tell: Tell = untold) -> list[TileRead]:
    """Every tile of a pack, sheet by sheet."""
    return [
        read_tile(run, page.number, scale)
        for page in told(tell, "proving sheet", pack.pages)
        for run in page.runs
        if run.tag == "Tile"
    ]
