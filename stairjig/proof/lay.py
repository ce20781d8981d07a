"""How the words of a tile lie: within its outline, at their angle, none over another."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from stairjig.proof.expected import ExpectedPiece
from stairjig.proof.geometry import Plane, inward
from stairjig.proof.marks import Box, ReadText, overlap
from stairjig.proof.place import Part, outline_of
from stairjig.proof.say import OfMark, Spoken

_TURN = 1.0
"""Degrees that words may be off their angle."""
_INSIDE = 1.0
"""mm that a nick's floor lies inside of the edge that it is cut into, at the least."""
_HAIR = 0.05
"""mm that words may reach over an edge or each other: what rounding and a letter's side leave."""


def lay_faults(part: Part, piece: ExpectedPiece, said: Spoken) -> Iterable[str]:
    """Words beyond a tile's edge, turned another way than its words are, or over others."""
    where, tile = part.laid.where, part.laid.tile
    texts = [tile.heading, *tile.texts] if tile.heading else [*tile.texts]
    boxes = [text.box for text in texts]
    edges, nick = _edges(part, piece)
    for text, box in zip(texts, boxes, strict=True):
        if _beyond(box, edges, nick):
            yield f"{where}: {text.text!r} stands beyond the tile's cut outline"
    for text, angles in _angled(part, piece, said):
        if text.angle not in angles and not any(_is_about(text.angle, one) for one in angles):
            yield f"{where}: {text.text!r} is turned another way than the words of its strip"
    for one, other in _overlaps(boxes, 0 if 90 in piece.angles[:1] else 1):
        yield f"{where}: {texts[one].text!r} and {texts[other].text!r} are over each other"


def _angled(
    part: Part, piece: ExpectedPiece, said: Spoken
) -> Iterable[tuple[ReadText, tuple[int, ...]]]:
    """Each text with the angles that it may have."""
    if part.laid.tile.heading:
        yield part.laid.tile.heading, piece.angles
    for what, _, texts in said.known:
        lies = None if isinstance(what, OfMark) else what.lies
        angles = piece.angles if lies is None else (lies,)
        for text in texts:
            yield text, angles


def _is_about(angle: float, other: float) -> bool:
    return abs((angle - other + 180) % 360 - 180) < _TURN


def _edges(part: Part, piece: ExpectedPiece) -> tuple[list[Plane], Sequence[tuple[float, float]]]:
    """The tile's straight edges, in its own frame, and the floor of the nick in one, if any."""
    u, v = part.laid.shift
    corners = [(p[0] - u, p[1] - v) for p in outline_of(part, piece)]
    edges = inward(corners)
    floor = [
        point
        for point in part.laid.tile.corners
        if all(a * point[0] + b * point[1] > c + _INSIDE for a, b, c in edges)
    ]
    return edges, floor


def _beyond(box: Box, edges: Sequence[Plane], floor: Sequence[tuple[float, float]]) -> bool:
    """Whether a box reaches over an edge, or into the nick above its floor."""
    left, low, right, high = box
    for a, b, c in edges:
        if a * (left if a > 0 else right) + b * (low if b > 0 else high) < c - _HAIR:
            return True
    if len(floor) != 2:
        return False
    start, end = sorted(floor)
    if left > end[0] + _HAIR or right < start[0] - _HAIR:
        return False
    slope = (end[1] - start[1]) / (end[0] - start[0])
    under = max(left, start[0]), min(right, end[0])
    return max(high - start[1] - slope * (u - start[0]) for u in under) > _HAIR


def _overlaps(boxes: Sequence[Box], axis: int) -> Iterable[tuple[int, int]]:
    """Boxes that lie over each other, by their numbers; `axis`: across the lines of words."""
    order = sorted(range(len(boxes)), key=lambda n: boxes[n][axis])
    for place, one in enumerate(order):
        top = boxes[one][axis + 2] - _HAIR
        for other in order[place + 1 :]:
            if boxes[other][axis] >= top:
                break
            if overlap(boxes[one], boxes[other], _HAIR):
                yield one, other
