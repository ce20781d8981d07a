"""Words in a drawing: each where it is clear of those already set, or left out."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from stairjig.drawing import Pen, Stroke, Text
from stairjig.type import width

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from stairjig.drawing import Item, Point

LABEL = 2.5
"""Height of a drawing's labels, mm."""
DESCENT = 0.3
"""What letters reach below the line, over the height of capitals."""
ASCENT = 1.1
"""What letters and fractions reach above it, over the same."""
_CLEAR = 0.5

Box = tuple[float, float, float, float]


def text_box(text: Text) -> Box:
    """Left, bottom, right and top of a text, mm."""
    long = width(text.text, text.size, text.bold)
    start = {"start": 0.0, "middle": -long / 2, "end": -long}[text.anchor]
    along, off = (start, start + long), (-text.size * DESCENT, text.size * ASCENT)
    u, v = text.at
    match text.angle:
        case 90:
            return u - off[1], v + along[0], u - off[0], v + along[1]
        case 180:
            return u - along[1], v - off[1], u - along[0], v - off[0]
        case 270:
            return u + off[0], v - along[1], u + off[1], v - along[0]
        case _:
            return u + along[0], v + off[0], u + along[1], v + off[1]


def _apart(a: Box, b: Box, beside: float = _CLEAR) -> bool:
    """Whether two boxes are clear of each other; `beside`: so far if side by side, mm."""
    return (
        a[2] + beside <= b[0]
        or b[2] + beside <= a[0]
        or a[3] + _CLEAR <= b[1]
        or b[3] + _CLEAR <= a[1]
    )


@dataclass(slots=True)
class Labels:
    """The labels of one drawing `width` by `height` mm, in the order of their need."""

    width: float
    height: float
    texts: list[Text] = field(default_factory=list)
    boxes: list[Box] = field(default_factory=list)

    def put(self, *candidates: Text, beside: float = _CLEAR) -> bool:
        """Set the first candidate that is clear of all others and inside; tell whether one is.

        `beside`: what is kept free before and behind it, mm.
        """
        for text in candidates:
            box = text_box(text)
            if self._inside(box) and all(_apart(box, other, beside) for other in self.boxes):
                self.texts.append(text)
                self.boxes.append(box)
                return True
        return False

    def put_all(self, texts: Sequence[Text]) -> bool:
        """Set all of the texts, or none where one of them has no room."""
        before = self.state
        if all(self.put(text) for text in texts):
            return True
        self.back_to(before)
        return False

    @property
    def state(self) -> tuple[int, int]:
        """How many texts are set and how many places taken, to go back to."""
        return len(self.texts), len(self.boxes)

    def back_to(self, state: tuple[int, int]) -> None:
        """Take back all that has been set since."""
        del self.texts[state[0] :], self.boxes[state[1] :]

    def reserve(self, points: Sequence[Point]) -> None:
        """Keep labels off a drawn shape."""
        self.boxes.append(_about(points))

    def clear(self, points: Sequence[Point]) -> bool:
        """Whether a shape to be drawn is clear of all labels and of what they keep off."""
        return all(_apart(_about(points), other) for other in self.boxes)

    def _inside(self, box: Box) -> bool:
        return (
            box[0] >= -1e-9
            and box[1] >= -1e-9
            and box[2] <= self.width + 1e-9
            and box[3] <= self.height + 1e-9
        )


def _about(points: Sequence[Point]) -> Box:
    us, vs = [u for u, _ in points], [v for _, v in points]
    return min(us), min(vs), max(us), max(vs)


def chain(at: Iterable[float], level: float, upright: bool = False) -> list[Item]:
    """Draw a dimension line with a slanting tick at each place, `level` its other coordinate."""
    places = sorted(at)
    points = [(level, place) if upright else (place, level) for place in places]
    return [Stroke((points[0], points[-1]), Pen.THIN), *(tick(point) for point in points)]


def tick(at: Point) -> Stroke:
    """Draw a dimension's tick, a short slanting stroke."""
    return Stroke(((at[0] - 0.9, at[1] - 0.9), (at[0] + 0.9, at[1] + 0.9)), Pen.RULE)
