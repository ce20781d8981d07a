"""A piece's tiles put together again, by their registration marks alone."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from stairjig.frozen import frozen
from stairjig.proof.shapes import CLOSE
from stairjig.proof.tiles import Point, TileRead


@frozen
class Laid:
    """A tile with the shift that takes it into the frame of its piece, mm."""

    tile: TileRead
    shift: Point

    def at(self, point: Point) -> Point:
        """A point of the tile in that frame."""
        return (point[0] + self.shift[0], point[1] + self.shift[1])

    def moved(self, by: Point) -> Laid:
        """The tile laid further on."""
        return Laid(self.tile, self.at(by))

    @property
    def where(self) -> str:
        """The piece and its sheet, in words."""
        return f"{self.tile.name}, sheet {self.tile.sheet}"


@frozen
class Assembled:
    """A piece put together; `faults`: what did not close, in words."""

    name: str
    tiles: tuple[Laid, ...]
    faults: tuple[str, ...]


def assemble(tiles: Sequence[TileRead]) -> dict[str, Assembled]:
    """Every piece by name, its tiles laid at each other's registration marks."""
    by_name: dict[str, list[TileRead]] = {}
    for tile in tiles:
        by_name.setdefault(tile.name, []).append(tile)
    return {name: _assembled(name, group) for name, group in by_name.items()}


def _assembled(name: str, tiles: list[TileRead]) -> Assembled:
    laid = [Laid(tiles[0], (0.0, 0.0))]
    faults = [
        f"{name}, sheet {tile.sheet}: a registration mark has no name of its own"
        for tile in tiles
        if tile.unnamed
    ]
    waiting = dict(enumerate(tiles[1:], start=1))
    holders = _holders(tiles)
    for low in laid:  # grows by what joins it
        for number in sorted({n for register in low.tile.registers for n in holders[register]}):
            if number in waiting:
                joined, said = _join(low, waiting.pop(number))
                laid.append(joined)
                faults += said
    faults += [
        f"{name}, sheet {tile.sheet}: this tile joins no other one of its strip"
        for tile in waiting.values()
    ]
    faults += _open_marks(name, holders)
    return Assembled(name, tuple(laid), tuple(faults))


def _holders(tiles: Sequence[TileRead]) -> dict[str, list[int]]:
    """Which tiles each registration mark stands on, by their numbers."""
    holders: dict[str, list[int]] = {}
    for number, tile in enumerate(tiles):
        for register in tile.registers:
            holders.setdefault(register, []).append(number)
    return holders


def _join(low: Laid, tile: TileRead) -> tuple[Laid, list[str]]:
    shared = sorted(low.tile.registers.keys() & tile.registers.keys())
    shifts = []
    for name in shared:
        there, here = low.at(low.tile.registers[name]), tile.registers[name]
        shifts.append((there[0] - here[0], there[1] - here[1]))
    shift = (sum(s[0] for s in shifts) / len(shifts), sum(s[1] for s in shifts) / len(shifts))
    faults = []
    if len(shared) < 2:
        faults.append(
            f"{tile.name}: joint {shared[0][:-1]} has one registration mark that both its tiles "
            "name instead of two"
        )
    off = max(max(abs(s[0] - shift[0]), abs(s[1] - shift[1])) for s in shifts)
    if off > CLOSE:
        faults.append(
            f"{tile.name}: joint {shared[0][:-1]} does not close, its marks on sheets "
            f"{low.tile.sheet} and {tile.sheet} are {off:.3f} mm off"
        )
    return Laid(tile, shift), faults


def _open_marks(name: str, holders: Mapping[str, Sequence[int]]) -> list[str]:
    return [
        f"{name}: registration mark {register} stands on {_tiles(len(tiles))} instead of two"
        for register, tiles in holders.items()
        if len(tiles) != 2
    ]


def _tiles(count: int) -> str:
    return "one tile" if count == 1 else f"{count} tiles"
