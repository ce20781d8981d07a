"""A piece put together from the paper, held against the layout: places, edges and words."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from math import hypot
from statistics import median

from stairjig.lengths import Shown
from stairjig.proof.assemble import CLOSE, Assembled, Laid
from stairjig.proof.expected import Edge, ExpectedMark, ExpectedPiece
from stairjig.proof.tiles import Cross, Point, TileRead, distance

FARTHEST_NAME = 45.0
"""mm within which a mark's name and reading stand from its base, or from its cross."""
_GUESS = 3.0
Segment = tuple[Point, Point]
_JOINT = re.compile(r"joint (\d+): (.+?)(?: from (?:the back edge|mark \S+))?")
_TREAD = re.compile(r"Treads? .+")
_PACK = re.compile(r"pack [0-9A-Z]{6}")


@dataclass(frozen=True, slots=True)
class _Found:
    """A printed mark: its cross in the piece's frame, on its tile."""

    laid: Laid
    cross: Cross
    at: Point


def compare(piece: Assembled, expected: ExpectedPiece, shown: Shown) -> tuple[str, ...]:
    """Everything that is further off than `CLOSE`, missing, double or saying something else."""
    faults = list(piece.faults)
    matched, said = _matched(piece, expected)
    faults += said
    lines = _lines(piece)
    shift = _shift(lines, expected, matched)
    for mark, found in matched:
        faults += _mark_faults(piece.name, mark, found, shift)
    for edge in expected.edges:
        faults += _edge_faults(piece.name, lines, edge, shift)
    for laid in piece.tiles:
        faults += _word_faults(laid, expected)
        faults += _joint_faults(laid, expected, shift, shown)
    return tuple(faults)


def compare_part(tile: TileRead, expected: ExpectedPiece, shown: Shown) -> tuple[str, ...]:
    """As `compare`, for one tile of a piece: what lies between the joints on it."""
    alone = Assembled(expected.name, (Laid(tile, (0.0, 0.0)),), ())
    names = {text.text for text in tile.texts}
    present = replace(expected, marks=tuple(m for m in expected.marks if m.name in names))
    matched, _ = _matched(alone, present)
    lines = _lines(alone)
    shift = _shift(lines, replace(present, edges=()), matched)
    low, high = _between_joints(tile, shift)
    marks = tuple(mark for mark in expected.marks if low <= mark.at[1] < high)
    edges = tuple(edge for edge in expected.edges if _lying_on(lines, edge, shift))
    return compare(alone, replace(expected, marks=marks, edges=edges), shown)


def _between_joints(tile: TileRead, shift: Point) -> tuple[float, float]:
    """The span of v that is the tile's own: without its lap, whose joint is the upper one."""
    low, high = min(v for _, v in tile.outline), max(v for _, v in tile.outline)
    for _, v in tile.registers.values():
        if v - low > high - v:
            high = v
    return low + shift[1] - CLOSE, high + shift[1]


def _matched(
    piece: Assembled, expected: ExpectedPiece
) -> tuple[list[tuple[ExpectedMark, _Found]], list[str]]:
    """The crosses by the names printed beside them."""
    claims: dict[str, list[_Found]] = {mark.name: [] for mark in expected.marks}
    halves = {mark.name: mark.half for mark in expected.marks}
    called_by: list[list[str]] = []
    for laid in piece.tiles:
        for found, names in _named_crosses(laid, halves):
            called_by.append(names)
            for name in names:
                claims[name].append(found)
    matched, faults = [], []
    for mark in expected.marks:
        claimed = claims[mark.name]
        if len(claimed) == 1:
            matched.append((mark, claimed[0]))
        else:
            times = len(claimed)
            faults.append(f"{piece.name}: mark {mark.name} stands {times} times instead of once")
    for names in called_by:
        if len(names) != 1:
            called = f"named {' and '.join(names)}" if names else "without a name"
            faults.append(
                f"{piece.name}: a cross {called} is no mark of the layout or one too many"
            )
    return matched, faults


def _named_crosses(laid: Laid, known: Mapping[str, float]) -> list[tuple[_Found, list[str]]]:
    """A tile's crosses, each with those of the known names that stand nearest to it."""
    crosses: list[tuple[_Found, list[str]]] = [
        (_Found(laid, cross, laid.at(cross.at)), []) for cross in laid.tile.crosses
    ]
    for text in laid.tile.texts:
        if text.text in known and crosses:
            off = [distance(text, found.cross.at) for found, _ in crosses]
            nearest = off.index(min(off))
            if off[nearest] < FARTHEST_NAME + known[text.text]:
                crosses[nearest][1].append(text.text)
    return crosses


def _shift(
    lines: _Lines, expected: ExpectedPiece, matched: Sequence[tuple[ExpectedMark, _Found]]
) -> Point:
    """What takes the paper's frame to the layout's, by the median: one wrong part can't bend it."""
    us = [mark.at[0] - found.at[0] for mark, found in matched]
    vs = [mark.at[1] - found.at[1] for mark, found in matched]
    guess = (median(us) if us else 0.0, median(vs) if vs else 0.0)
    for edge in expected.edges:
        off = _edge_off(lines, edge, guess)
        if off is not None:
            flat = abs(edge.end[1] - edge.start[1]) < abs(edge.end[0] - edge.start[0])
            (vs if flat else us).append((guess[1] if flat else guess[0]) - off)
    return (median(us) if us else 0.0, median(vs) if vs else 0.0)


def _mark_faults(name: str, mark: ExpectedMark, found: _Found, shift: Point) -> Iterable[str]:
    off_u = found.at[0] + shift[0] - mark.at[0]
    off_v = found.at[1] + shift[1] - mark.at[1]
    if hypot(off_u, off_v) > CLOSE:
        yield (
            f"{name}: mark {mark.name} is {off_v:+z.3f} mm along and {off_u:+z.3f} mm across from "
            "its place"
        )
    if found.cross.off > CLOSE:
        yield f"{name}: the cross of mark {mark.name} is broken"
    wanted = {mark.reading, f"reads {mark.reading}"}
    near = [
        text
        for text in found.laid.tile.texts
        if text.text in wanted and distance(text, found.cross.at) < FARTHEST_NAME + mark.half
    ]
    if not near:
        yield f"{name}: the reading of mark {mark.name}, {mark.reading}, is not printed beside it"


@dataclass(frozen=True, slots=True)
class _Lines:
    """Every stroke of a piece that is long enough to be an edge, printed or cut."""

    printed: tuple[Segment, ...]
    cut: tuple[Segment, ...]


def _lines(piece: Assembled) -> _Lines:
    printed: list[Segment] = []
    cut: list[Segment] = []
    for laid in piece.tiles:
        outline = laid.tile.outline
        around = zip(outline, (*outline[1:], outline[0]), strict=True)
        printed += _longer(laid, laid.tile.lines, 12.0)
        cut += _longer(laid, around, 3.0)
    return _Lines(tuple(printed), tuple(cut))


def _longer(laid: Laid, lines: Iterable[Segment], least: float) -> Iterable[Segment]:
    for start, end in lines:
        if hypot(end[0] - start[0], end[1] - start[1]) > least:
            yield laid.at(start), laid.at(end)


def _offs(edge: Edge, start: Point, end: Point, shift: Point) -> tuple[float, float]:
    """How far both ends of a segment lie off an edge: along v where it is flat, else along u."""
    du, dv = edge.end[0] - edge.start[0], edge.end[1] - edge.start[1]
    offs = []
    for point in (start, end):
        u, v = point[0] + shift[0] - edge.start[0], point[1] + shift[1] - edge.start[1]
        offs.append(v - u * dv / du if abs(du) >= abs(dv) else u - v * du / dv)
    return offs[0], offs[1]


def _lying_on(lines: _Lines, edge: Edge, shift: Point) -> list[tuple[float, float]]:
    found = []
    for start, end in lines.printed if edge.printed else lines.cut:
        offs = _offs(edge, start, end, shift)
        if max(abs(offs[0]), abs(offs[1])) < _GUESS and abs(offs[0] - offs[1]) < 0.2:
            found.append(offs)
    return found


def _edge_off(lines: _Lines, edge: Edge, shift: Point) -> float | None:
    found = _lying_on(lines, edge, shift)
    return min((sum(offs) / 2 for offs in found), key=abs, default=None)


def _edge_faults(name: str, lines: _Lines, edge: Edge, shift: Point) -> Iterable[str]:
    found = _lying_on(lines, edge, shift)
    if not found:
        yield f"{name}: {edge.what} is not where it belongs"
        return
    off = max(max(abs(a), abs(b)) for a, b in found)
    if off > CLOSE:
        yield f"{name}: {edge.what} is {off:.3f} mm off"


def _word_faults(laid: Laid, expected: ExpectedPiece) -> Iterable[str]:
    words = [text.text for text in laid.tile.texts]
    joined = " ".join(words)
    for banner in expected.banners:
        if banner not in joined:
            yield f"{expected.name}: a tile does not say {banner!r}"
    for word in words:
        named = _TREAD.fullmatch(word) or _PACK.fullmatch(word)
        if named and not any(banner.startswith(word) for banner in expected.banners):
            yield f"{expected.name}: a tile says {word!r}"
    for begin, rest in expected.sentences:
        at = joined.find(begin)
        if at >= 0 and not joined[at + len(begin) :].startswith(rest):
            said = joined[at : at + len(begin) + len(rest)]
            yield f"{expected.name}: it says {said!r} instead of {begin + rest!r}"


def _joint_faults(laid: Laid, expected: ExpectedPiece, shift: Point, shown: Shown) -> Iterable[str]:
    for text in laid.tile.texts:
        match = _JOINT.fullmatch(text.text)
        if not match:
            continue
        register = laid.tile.registers.get(f"J{match[1]}a")
        if register is None:
            yield f"{expected.name}: joint {match[1]} is named where it is not"
            continue
        reading = shown.text((laid.at(register)[1] + shift[1] - expected.zero) * expected.sense)
        if reading != match[2]:
            yield f"{expected.name}: joint {match[1]} says {match[2]} and stands at {reading}"
