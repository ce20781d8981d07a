"""The proof: a finished pack read back and held against the layout of its own job."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from stairjig.errors import BadInput, Finding, Place, Problem
from stairjig.progress import Tell, told, untold
from stairjig.proof import bars, checkrows
from stairjig.proof.assemble import Assembled, assemble
from stairjig.proof.compare import compare, compare_part
from stairjig.proof.expected import ExpectedPiece, expected_pieces
from stairjig.proof.feet import Foot, gaps, missing, read_foot, strangers, unnamed
from stairjig.proof.ink import cover_faults, ink_faults
from stairjig.proof.marks import ReadPage
from stairjig.proof.reading import A_MARK, OPENING, ReadPack, read_pdf
from stairjig.proof.say import tile_number
from stairjig.proof.tiles import Point, TileRead, read_tile
from stairjig.proof.visible import page_faults
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
    sheets = _read(pack, setout, scale, tell)
    mixed = tuple(strangers(sheets.feet, setout.pack_id, setout.job.title))
    if mixed:  # nothing else that could be said of them would help
        return _findings(mixed)
    whole = not part and only is None
    lacking = list(gaps(sheets.feet, whole))
    faults = [*unnamed(sheets.feet, setout.pack_id), *lacking, *sheets.faults]
    torn = part or bool(whole and missing(sheets.feet))
    faults += _strip_faults(sheets.tiles, setout, only, torn)
    if not lacking:  # else a file's labels are not those of its pages
        faults += [*sheets.labelled, *_working_faults(sheets, setout, whole, part)]
    return _findings(faults)


def _findings(faults: Iterable[str]) -> tuple[Finding, ...]:
    return tuple(Finding("proof", "", fault) for fault in faults)


@dataclass(slots=True)
class _Sheets:
    """What was read of a pack: its feet, its tiles, its check pages, what is wrong on each page.

    `labelled`: what is wrong on pages that are known by their labels.
    """

    feet: list[Foot] = field(default_factory=list)
    tiles: list[TileRead] = field(default_factory=list)
    checks: list[ReadPage] = field(default_factory=list)
    tested: bool = False
    faults: list[str] = field(default_factory=list)
    labelled: list[str] = field(default_factory=list)


def _read(pack: ReadPack, setout: Setout, scale: Point, tell: Tell) -> _Sheets:
    """Every page, each read once."""
    sheets, job = _Sheets(), setout.job
    for page in told(tell, "proving sheet", pack.pages):
        foot = read_foot(page)
        sheets.feet.append(foot)
        number = str(foot.sheet)
        sheets.faults += ink_faults(page, f"sheet {number}")
        sheets.labelled += cover_faults(page, f"sheet {number}")
        tiles = [read_tile(run, number, scale) for run in page.runs if run.tag == "Tile"]
        if tiles:
            sheets.tiles += tiles
            sheets.faults += page_faults(page, number, job.paper, scale)
            sheets.faults += bars.sheet_bar_faults(page, number, job, scale)
            sheets.faults += bars.foot_faults(page, number, job, _names(tiles))
            if page.label != number:
                sheets.labelled.append(f"page {page.number}, {page.label}, says sheet {number}")
        elif checkrows.is_check(page.label):
            sheets.checks.append(page)
        elif page.label in bars.TEST_LABELS:
            sheets.tested = True
            sheets.labelled += bars.test_bar_faults(page, number, job, scale)
    return sheets


def _names(tiles: Iterable[TileRead]) -> list[str]:
    """The tiles of a sheet as it names them."""
    names = []
    for tile in tiles:
        number = tile_number(tile.texts)
        names.append(f"{tile.name} ({number[0]} of {number[1]})" if number else tile.name)
    return names


def _working_faults(sheets: _Sheets, setout: Setout, whole: bool, part: bool) -> Iterable[str]:
    """What is wrong with the check page, which with the test sheet only a part may lack."""
    if sheets.checks or whole:
        yield from checkrows.check_faults(sheets.checks, setout, part)
    if whole and not sheets.tested:
        yield "the test sheet is missing"


def _strip_faults(
    tiles: Sequence[TileRead], setout: Setout, only: Collection[str] | None, part: bool
) -> list[str]:
    """What is wrong with the strips: whole ones, or of `part` of a pack each tile on its own."""
    expected = {
        " ".join(piece.name.split()): piece
        for piece in expected_pieces(setout)
        if only is None or piece.name in only
    }
    strange = {tile.name: tile.sheet for tile in tiles if tile.name not in expected}
    faults = [
        f"{name or 'a tile without a name'}, sheet {sheet}: it is no strip of this job"
        for name, sheet in strange.items()
    ]
    if part:
        known = [tile for tile in tiles if tile.name in expected]
        return [*faults, *_part_faults(known, expected, setout)]
    pieces = assemble(tiles)
    return [*faults, *_whole_faults(pieces, expected, setout), *_joint_faults(pieces)]


def _part_faults(
    tiles: Sequence[TileRead], expected: Mapping[str, ExpectedPiece], setout: Setout
) -> Iterable[str]:
    for tile in tiles:
        others = [other for other in tiles if other.name == tile.name and other is not tile]
        numbers = [(tile_number(other.texts), other.sheet) for other in others]
        beside = {number[0]: sheet for number, sheet in numbers if number}
        yield from compare_part(tile, expected[tile.name], setout.job.shown, beside)


def _whole_faults(
    pieces: Mapping[str, Assembled], expected: Mapping[str, ExpectedPiece], setout: Setout
) -> Iterable[str]:
    for name, piece in expected.items():
        if name not in pieces:
            yield f"{name} is missing"
        else:
            yield from compare(pieces[name], piece, setout.job.shown)


def _joint_faults(pieces: Mapping[str, Assembled]) -> Iterable[str]:
    """Registration marks that two strips name alike."""
    holder: dict[str, str] = {}
    for name, piece in pieces.items():
        for register in sorted({r for laid in piece.tiles for r in laid.tile.registers}):
            other = holder.setdefault(register, name)
            if other != name:
                yield f"registration mark {register} stands on {other} and on {name}"
