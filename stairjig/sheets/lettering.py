"""Words set on a tile: in lanes beside the marks, never over a stroke, the most needed first.

A lane keeps the spans of v that are still free. Where a strip is short of room it says less, not
smaller: words that find no place are left out, but for its name, which every tile carries.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from stairjig.drawing import Text
from stairjig.pieces.values import Lane, Spot, Words
from stairjig.sheets.tiles import Joint, Tile
from stairjig.type import width, wrapped

NAME_SIZE = 5.0
"""Height of a mark's name, mm."""
READING_SIZE = 3.6
SMALL = 2.5
"""Nothing that the helper needs is smaller, mm."""
DROP = 0.32
"""What letters reach below the line, over their height."""
LEADING = 1.55
"""From line to line, over the height of capitals."""
JOINT_ROOM = 9.0
"""Kept clear of words either side of a joint, mm; its marks' names stand there."""
_EDGE = 1.5

Span = tuple[float, float]


@dataclass(slots=True)
class Track:
    """A band of u with the spans of v in it that are still free.

    `base`: u of the baseline for words along the strip, or of the words' start for words across.
    """

    left: float
    right: float
    free: list[Span]

    def block(self, low: float, high: float) -> None:
        """Take a span out."""
        kept: list[Span] = []
        for start, end in self.free:
            if high <= start or low >= end:
                kept.append((start, end))
                continue
            if low > start:
                kept.append((start, low))
            if high < end:
                kept.append((high, end))
        self.free = kept

    def find(self, length: float, near: float | None) -> float | None:
        """The start of a free span of `length`, nearest to `near` or highest up; None if none."""
        best: tuple[float, float] | None = None
        for low, high in self.free:
            if high - low + 1e-9 < length:
                continue
            start = high - length if near is None else min(max(near, low), high - length)
            far = (
                -start if near is None else abs(start + (length / 2 if near > start else 0) - near)
            )
            if best is None or far < best[0]:
                best = (far, start)
        return best[1] if best else None


@dataclass(slots=True)
class Across:
    """A lane whose words run across the strip, lines one under the other."""

    track: Track
    toward_line: str

    def put(self, words: str, size: float, bold: bool, near: float | None) -> list[Text] | None:
        """The words as texts, wrapped to the lane; None where there is no room."""
        room = self.track.right - self.track.left
        lines = wrapped(words, size, room, bold)
        if not lines or max(width(line, size, bold) for line in lines) > room:
            return None
        height = size * (LEADING * (len(lines) - 1) + 1 + 2 * DROP)
        low = self.track.find(height, near)
        if low is None:
            return None
        self.track.block(low, low + height)
        top = low + height - size * (1 + DROP)
        return [
            self._line(line, top - n * size * LEADING, size, bold) for n, line in enumerate(lines)
        ]

    def _line(self, line: str, v: float, size: float, bold: bool) -> Text:
        if self.toward_line == "left":
            return Text(line, (self.track.left, v), size, bold)
        return Text(line, (self.track.right, v), size, bold, anchor="end")


@dataclass(slots=True)
class Along:
    """A lane whose words run along the strip, in rows one beside the other.

    `rows[0]` is next to the line and holds large words; the others hold small ones.
    """

    rows: list[Track]
    spare: list[Track] = field(default_factory=list)

    def put(self, words: str, size: float, bold: bool, near: float | None) -> list[Text] | None:
        """The words as texts turned up the strip, in as many rows as they need; None if none."""
        for room in (400.0, 180.0, 120.0, 85.0, 60.0, 42.0):
            lines = wrapped(words, size, room, bold)
            texts = self._block(lines, size, bold, near)
            if texts:
                return texts
        return None

    def _block(
        self, lines: list[str], size: float, bold: bool, near: float | None
    ) -> list[Text] | None:
        length = max(width(line, size, bold) for line in lines) + 1.0
        rows = [row for row in self.rows if row.right - row.left >= size * (1 + DROP)]
        for first in range(len(rows) - len(lines) + 1):
            chosen = rows[first : first + len(lines)]
            common = Track(0, 0, _common([row.free for row in chosen]))
            start = common.find(length, near)
            if start is None:
                continue
            for row in chosen:
                row.block(start, start + length)
            chosen.sort(key=lambda row: row.left)
            return [
                Text(line, (row.right - size * DROP, start + 0.5), size, bold, angle=90)
                for row, line in zip(chosen, lines, strict=True)
            ]
        return None


def _common(spans: Sequence[Sequence[Span]]) -> list[Span]:
    common = list(spans[0])
    for others in spans[1:]:
        common = [
            (max(a, c), min(b, d)) for a, b in common for c, d in others if min(b, d) > max(a, c)
        ]
    return common


def letter(tile: Tile, reading_of: dict[int, str]) -> tuple[Text, ...]:
    """Every word of a tile: its piece's name first. `reading_of`: each joint's, by its number."""
    lanes = _lanes(tile)
    texts: list[Text] = []
    piece = tile.piece
    name, *others = piece.words
    part = f", tile {tile.index + 1} of {tile.of}" if tile.of > 1 else ""
    texts += _first(lanes, name.text, name.size, tile)
    for spot in tile.spots:
        texts += _spot_name(lanes, spot, piece.turned)
    for spot in tile.spots:
        texts += _spot_reading(lanes, spot, piece.turned)
    for joint in (tile.below, tile.above):
        if joint:
            texts += _joint_words(lanes, tile, joint, reading_of[joint.number])
    if part:
        texts += _anywhere(lanes, Words(part.removeprefix(", "), 2.8, bold=True))
    for words in others:
        if words.every or _falls_on(tile, words):
            texts += _anywhere(lanes, words)
    for spot in tile.spots:
        texts += _spot_notes(lanes, spot)
    return tuple(texts)


def _falls_on(tile: Tile, words: Words) -> bool:
    if words.v is None:
        return tile.index == 0
    low = -1e9 if tile.index == 0 else tile.low
    high = 1e9 if tile.index == tile.of - 1 else tile.high
    return low <= words.v < high


def _first(lanes: list[Across] | list[Along], name: str, size: float, tile: Tile) -> list[Text]:
    near = tile.high if not tile.piece.turned else tile.low
    for smaller in (size, SMALL):
        for lane in lanes:
            texts = lane.put(name, smaller, True, near)
            if texts and len(texts) == 1:
                return texts
    u = sum(p[0] for p in tile.outline) / len(tile.outline)
    return [Text(name, (u, tile.low + _EDGE), SMALL, True, angle=90)]


def _anywhere(lanes: Sequence[Across] | Sequence[Along], words: Words) -> list[Text]:
    for lane in lanes:
        texts = lane.put(words.text, words.size, words.bold, words.v)
        if texts:
            return texts
    return []


def _lanes(tile: Tile) -> list[Across] | list[Along]:
    make = _along if tile.piece.turned else _across
    low = tile.low + (JOINT_ROOM if tile.below else _EDGE)
    high = tile.high - (JOINT_ROOM if tile.above else _EDGE)
    return [made for lane in tile.piece.lanes if (made := make(tile, lane, low, high))]  # type: ignore[return-value]


def _across(tile: Tile, lane: Lane, low: float, high: float) -> Across | None:
    start, end = max(low, lane.low), min(high, lane.high)
    if start >= end:
        return None
    track = Track(lane.left, lane.right, [(start, end)])
    for low_, high_ in _obstacles(tile, lane.left, lane.right):
        track.block(low_, high_)
    return Across(track, "left" if lane.left > 0 else "right")


def _along(tile: Tile, lane: Lane, low: float, high: float) -> Along:
    rows = []
    for left, right in _row_bands(lane):
        track = Track(left, right, [(low, high)] if high > low else [])
        for low_, high_ in _obstacles(tile, left, right):
            track.block(low_, high_)
        rows.append(track)
    return Along(rows)


def _row_bands(lane: Lane) -> Iterable[Span]:
    """The row for large words next to the line, then small rows out to the edge."""
    large, small = NAME_SIZE * (1 + DROP) + 0.4, 2.8 * (1 + DROP) + 0.6
    room = lane.right - lane.left
    large = min(large, room)
    count = int((room - large) / small)
    if lane.left < 0:
        yield lane.right - large, lane.right
        for n in range(count):
            yield lane.right - large - (n + 1) * small, lane.right - large - n * small
    else:
        yield lane.left, lane.left + large
        for n in range(count):
            yield lane.left + large + n * small, lane.left + large + (n + 1) * small


def _obstacles(tile: Tile, left: float, right: float) -> Iterable[Span]:
    """Spans of v that strokes take in the band of u from `left` to `right`."""
    for spot in tile.spots:
        u, v = spot.at
        if left < u + spot.across + 1 and right > u - spot.across - 1:
            yield v - spot.half - 1, v + spot.half + 1
    for stroke in tile.piece.across:
        us, vs = [u for u, _ in stroke.points], [v for _, v in stroke.points]
        if not stroke.closed:
            (u0, v0), (u1, v1) = stroke.points
            ends = [v0 + (v1 - v0) * (u - u0) / (u1 - u0) for u in (left, right)]
            yield min(ends) - 1.2, max(ends) + 1.2
        elif left < max(us) + 1 and right > min(us) - 1:
            yield min(vs) - 1.2, max(vs) + 1.2


def _spot_name(lanes: Sequence[Across] | Sequence[Along], spot: Spot, turned: bool) -> list[Text]:
    lane, v = lanes[0], spot.at[1]
    if isinstance(lane, Along):
        row = lane.rows[0]
        length = width(spot.name, NAME_SIZE, True) + 1.0
        start = _beside(row, v, spot.half, length)
        if start is None:
            return []
        row.block(start, start + length)
        u = row.right - NAME_SIZE * DROP
        return [Text(spot.name, (u, start + 0.5), NAME_SIZE, True, angle=90)]
    assert not turned
    return _beside_base(lane, spot)


def _beside(row: Track, v: float, half: float, length: float) -> float | None:
    """Room right above a mark, or else right below it."""
    for start in (v + half + 1.5, v - half - 1.5 - length):
        if any(low - 1e-9 <= start and start + length <= high + 1e-9 for low, high in row.free):
            return start
    return row.find(length, v)


def _beside_base(lane: Across, spot: Spot) -> list[Text]:
    """The mark's name level with its cross, its reading after it."""
    track, v = lane.track, spot.at[1]
    name = width(spot.name, NAME_SIZE, True)
    reading = f"reads {spot.reading}"
    half = NAME_SIZE / 2 + 0.8
    if not any(low <= v - half and v + half <= high for low, high in track.free):
        return lane.put(spot.name, NAME_SIZE, True, v) or []
    texts = [lane._line(spot.name, v - NAME_SIZE / 2, NAME_SIZE, True)]
    track.block(v - half, v + half)
    rest = track.right - track.left - name - 3.0
    if width(reading, READING_SIZE) <= rest:
        shift = name + 3.0
        u = track.left + shift if lane.toward_line == "left" else track.right - shift
        anchor = "start" if lane.toward_line == "left" else "end"
        texts.append(Text(reading, (u, v - NAME_SIZE / 2), READING_SIZE, anchor=anchor))
    else:
        texts += lane.put(reading, READING_SIZE, False, v - half - READING_SIZE) or []
    return texts


def _spot_reading(
    lanes: Sequence[Across] | Sequence[Along], spot: Spot, turned: bool
) -> list[Text]:
    if not turned:
        return []
    lane = lanes[-1]
    assert isinstance(lane, Along)
    row = lane.rows[0]
    length = width(spot.reading, READING_SIZE) + 1.0
    start = _beside(row, spot.at[1], spot.half, length)
    if start is None:
        return []
    row.block(start, start + length)
    return [
        Text(spot.reading, (row.left + READING_SIZE * 1.15, start + 0.5), READING_SIZE, angle=90)
    ]


def _spot_notes(lanes: Sequence[Across] | Sequence[Along], spot: Spot) -> list[Text]:
    texts: list[Text] = []
    for note in spot.notes:
        for lane in lanes[:1] if isinstance(lanes[0], Across) else lanes:
            near = spot.at[1] + (spot.half + 2.0 if isinstance(lane, Along) else -4.0)
            put = lane.put(note, SMALL, False, near)
            if put:
                texts += put
                break
    return texts


def _joint_words(
    lanes: Sequence[Across] | Sequence[Along], tile: Tile, joint: Joint, reading: str
) -> list[Text]:
    """Its registration marks' names beside them, and its reading from zero."""
    above = joint is tile.below
    shift = 5.4 if above else -5.4 - SMALL
    texts = [
        Text(mark.name, (mark.at[0], mark.at[1] + shift), SMALL, True, anchor="middle")
        for mark in joint.marks
    ]
    near = joint.v + (JOINT_ROOM if above else -JOINT_ROOM)
    words = Words(f"joint {joint.number}: {reading} from zero", SMALL, v=near)
    return texts + _anywhere(lanes, words)
