"""What is wrong with the words of a tile, judged from the values that are drawn."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from shapely import LineString, Point, Polygon, affinity, box
from shapely.geometry.base import BaseGeometry

from stairjig.drawing import Ellipse, Pen, Run, Stroke, Text
from stairjig.pieces.values import Piece
from stairjig.sheets.plan import PlacedTile
from stairjig.sheets.tiles import Tile
from stairjig.type import width

DESCENT = 0.22
"""What letters reach below the line, over the height of capitals (DejaVu Sans Condensed, g)."""
SMALLEST = 2.5


def words_box(text: Text) -> BaseGeometry:
    """What the letters of a text cover."""
    long, (u, v) = width(text.text, text.size, text.bold), text.at
    back = {"start": 0.0, "middle": long / 2, "end": long}[text.anchor]
    if text.angle == 90:
        return box(u - text.size, v - back, u + DESCENT * text.size, v - back + long)
    return box(u - back, v - DESCENT * text.size, u - back + long, v + text.size)


def shape_of(item: Stroke | Ellipse) -> BaseGeometry:
    """What a stroke runs along; all of what a curve or a base encloses."""
    if isinstance(item, Ellipse):
        return affinity.scale(Point(item.centre).buffer(1), item.half_width, item.half_height)
    if item.closed:
        return Polygon(item.points) if item.pen is Pen.BASE else Polygon(item.points).exterior
    return LineString(item.points)


def badly_set(run: Run) -> Iterator[str]:
    """Words over others, over a stroke, a mark or an edge, off the paper, or too small to read."""
    outline, *strokes = [item for item in run.items if isinstance(item, Stroke | Ellipse)]
    assert isinstance(outline, Stroke)
    paper = Polygon(outline.points)
    if not paper.is_valid:
        yield "the outline crosses itself"
    texts = [(text, words_box(text)) for text in run.items if isinstance(text, Text)]
    shapes = [(stroke, shape_of(stroke)) for stroke in strokes]
    for number, (text, covered) in enumerate(texts):
        inner = covered.buffer(-0.05, join_style="mitre")
        for other, more in texts[number + 1 :]:
            if inner.intersects(more.buffer(-0.05, join_style="mitre")):
                yield f"{text.text!r} over {other.text!r}"
        for stroke, shape in shapes:
            if inner.intersects(shape):
                yield f"{text.text!r} over a {stroke.pen.name} stroke"
        if not paper.contains(inner):
            yield f"{text.text!r} over the edge"
        if text.size < SMALLEST - 1e-9:
            yield f"{text.text!r} is {text.size} mm high"
    drawn = (shape for stroke, shape in shapes if stroke.pen in (Pen.BASE, Pen.HOLE, Pen.CUT))
    if not all(paper.buffer(0.02).contains(shape) for shape in drawn):
        yield "a base, a hole or a newel beyond the edge"


def unsaid(placed: PlacedTile, run: Run) -> Iterator[str]:
    """What has to stand on this very tile and does not."""
    tile = placed.tile
    texts = [item.text for item in run.items if isinstance(item, Text)]
    together = " ".join(texts)
    if texts[0] != tile.piece.name:
        yield "the piece's name first"
    for words in tile.piece.words[1:]:
        must = words.every and words.need and not words.edge
        if must and not _said((words.text, *words.shorter), together):
            yield words.text
    for spot in tile.spots:
        if spot.name not in texts or not {spot.reading, f"reads {spot.reading}"} & set(texts):
            yield f"mark {spot.name} or its reading"
    yield from _unsaid_at_joints(tile, together)
    large = [t for t in run.items if isinstance(t, Text) and re.match("Tread |Treads ", t.text)]
    large += [
        t for t in run.items if isinstance(t, Text) and t.text in {s.name for s in tile.spots}
    ]
    if any(text.size < 5.0 for text in large):
        yield "the names of tread and marks at least 5 mm high"


def _unsaid_at_joints(tile: Tile, together: str) -> Iterator[str]:
    if tile.of > 1 and f"tile {tile.index + 1} of {tile.of}" not in together:
        yield "which tile it is"
    for joint in (tile.below, tile.above):
        if joint and not re.search(rf"joint {joint.number}: \S.{{0,30}}? (from|on) ", together):
            yield f"the reading of joint {joint.number}, and from where"
    if tile.below and f"on tile {tile.index}" not in together:
        yield "which tile it goes on"
    if tile.above and not re.search(f"tile {tile.index + 2}\\b.* here", together):
        yield "which tile goes on it"


def unsaid_once(piece: Piece, runs: Iterable[Run]) -> Iterator[str]:
    """What has to stand somewhere on a piece and does not."""
    said = [" ".join(t.text for t in run.items if isinstance(t, Text)) for run in runs]
    for words in piece.words:
        ways = (words.text, *words.shorter)
        if words.need and not any(_said(ways, together) for together in said):
            yield words.text


def _said(ways: Sequence[str], together: str) -> bool:
    return any(way in together for way in ways)


def gaps_in(runs: Sequence[tuple[PlacedTile, Run]]) -> Iterator[str]:
    """Every fault of the tiles of a pack's strips."""
    pieces: dict[str, list[tuple[PlacedTile, Run]]] = {}
    for placed, run in runs:
        pieces.setdefault(placed.tile.piece.name, []).append((placed, run))
        for fault in (*badly_set(run), *(f"lacks {what}" for what in unsaid(placed, run))):
            yield f"{placed.tile.piece.name}, tile {placed.tile.index + 1}: {fault}"
    for name, tiles in pieces.items():
        for what in unsaid_once(tiles[0][0].tile.piece, [run for _, run in tiles]):
            yield f"{name} lacks {what}"
