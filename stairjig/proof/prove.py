"""The proof: a finished pack read back and held against the layout of its own job."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from stairjig.errors import BadInput, Finding, Place, Problem
from stairjig.progress import Tell, told, untold
from stairjig.proof.assemble import assemble
from stairjig.proof.compare import compare, compare_part
from stairjig.proof.expected import expected_pieces
from stairjig.proof.feet import Foot, gaps, read_foot, strangers, unnamed
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


def filled_fields(data: bytes, setout: Setout, name: str) -> dict[str, str]:
    """The form's fields in a pack of this layout, or in a measuring form.

    Raises `BadInput` where a page that has fields is of another pack.
    """
    read = read_pdf(data, name, patience_for(setout))
    feet = [read_foot(page) for page in read.form_pages]
    mixed = tuple(strangers(feet, setout.pack_id, setout.job.title))
    if mixed:
        raise BadInput(*(Problem(fault, where=Place(name)) for fault in mixed))
    return dict(read.fields)


def prove_read(
    pack: ReadPack,
    setout: Setout,
    only: Collection[str] | None = None,
    scale: Point = (1.0, 1.0),
    part: bool = False,
    tell: Tell = untold,
) -> tuple[Finding, ...]:
    """As `prove`, for a pack that is read already."""
    tiles, feet = _read(pack, scale, tell)
    mixed = tuple(strangers(feet, setout.pack_id, setout.job.title))
    if mixed:  # nothing else that could be said of them would help
        return _findings(mixed)
    whole = not part and only is None
    said = _findings([*unnamed(feet, setout.pack_id), *gaps(feet, whole)])
    return said + (_prove_tiles(tiles, setout) if part else _prove_pieces(tiles, setout, only))


def _findings(faults: Iterable[str]) -> tuple[Finding, ...]:
    return tuple(Finding("proof", "", fault) for fault in faults)


def _prove_pieces(
    tiles: list[TileRead], setout: Setout, only: Collection[str] | None
) -> tuple[Finding, ...]:
    """The strips that the tiles make, put together."""
    pieces = assemble(tiles)
    expected = {
        piece.name: piece for piece in expected_pieces(setout) if only is None or piece.name in only
    }
    found = [
        f"{name or 'a tile without a name'} is no strip of this job"
        for name in pieces
        if name not in expected
    ]
    for name, piece in expected.items():
        if name not in pieces:
            found.append(f"{name} is missing")
        else:
            found += compare(pieces[name], piece, setout.job.shown)
    return _findings(found)


def _prove_tiles(tiles: list[TileRead], setout: Setout) -> tuple[Finding, ...]:
    """Each tile on its own: what of its strip lies between its own joints."""
    expected = {piece.name: piece for piece in expected_pieces(setout)}
    found: list[str] = []
    for tile in tiles:
        if tile.name in expected:
            found += compare_part(tile, expected[tile.name], setout.job.shown)
        else:
            found.append(f"{tile.name or 'a tile without a name'} is no strip of this job")
    return _findings(found)


def _read(pack: ReadPack, scale: Point, tell: Tell) -> tuple[list[TileRead], list[Foot]]:
    """Every tile and every page's foot, page by page, each read once."""
    tiles, feet = [], []
    for page in told(tell, "proving sheet", pack.pages):
        feet.append(read_foot(page))
        tiles += [read_tile(run, page.number, scale) for run in page.runs if run.tag == "Tile"]
    return tiles, feet
