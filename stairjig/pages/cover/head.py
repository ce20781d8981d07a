"""The head of the cover: what the pack is, its ID, and what to do first."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stairjig.drawing import Fill, Pen, Text, rectangle
from stairjig.pages.lines import BODY, LEADING, lines_in
from stairjig.type import width

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stairjig.drawing import Item
    from stairjig.pages.flow import Flow
    from stairjig.setout.values import Setout

ID_SIZE = 11.0
"""Height of the pack ID on the cover, mm: it is compared across a workbench."""
_BOX = (72.0, 31.0)
_TITLE = (8.0, 6.0, 4.5)
_NARROW = 150.0
_DIGIT = 9.0


def head(flow: Flow, setout: Setout) -> None:
    """Set title and pack ID beside each other, then what the pack is."""
    room = flow.leaf.room
    beside = room >= _NARROW
    words_room = room - _BOX[0] - 8.0 if beside else room
    size = next((one for one in _TITLE if _lines(setout, one, words_room) <= 2), _TITLE[-1])
    lines = lines_in(setout.job.title, size, words_room, bold=True)
    high = BODY * 2.2 + len(lines) * size * 1.5
    if beside:
        high = max(high, _BOX[1])
    items: list[Item] = [Text("Stair layout at full scale", (0.0, high - BODY * 1.2), BODY)]
    items += [
        Text(line, (0.0, high - BODY * 2.2 - (n + 1) * size * 1.5 + size * 0.2), size, bold=True)
        for n, line in enumerate(lines)
    ]
    if beside:
        items += _id_box(setout.pack_id, room - _BOX[0], high - _BOX[1])
    flow.drawing(items, high)
    if not beside:
        flow.space(3.0)
        flow.drawing(_id_box(setout.pack_id, 0.0, 0.0), _BOX[1])
    flow.space(2.0)


def _lines(setout: Setout, size: float, room: float) -> int:
    return len(lines_in(setout.job.title, size, room, bold=True))


def _id_box(pack_id: str, left: float, bottom: float) -> list[Item]:
    """Draw the pack ID in a heavy frame."""
    wide, high = _BOX
    middle = left + wide / 2
    size = min(ID_SIZE, ID_SIZE * (wide - 8.0) / width(pack_id, ID_SIZE, True))
    return [
        rectangle(left + 0.4, bottom + 0.4, wide - 0.8, high - 0.8, Pen.HEAVY),
        Text("pack", (left + 4.0, bottom + high - 6.4), BODY, bold=True),
        Text(pack_id, (middle, bottom + 10.6), size, bold=True, anchor="middle"),
        Text("the same on every sheet and strip", (middle, bottom + 3.4), 2.5, anchor="middle"),
    ]


def first_steps(setout: Setout) -> tuple[tuple[str, str], ...]:
    """Say in three steps what to do with the pack, each a title and a line or two."""
    paper = setout.job.paper
    sheets = "roll paper" if paper.roll else f"{paper.name} paper"
    return (
        (
            "Print at actual size",
            f"On {sheets}, one side, scale 100 %. Never “fit to page”.",
        ),
        (
            "Measure the bars",
            "With a steel tape: the test sheet's, then each strip sheet's. If one is off, don't "
            "use that sheet.",
        ),
        (
            "Follow the steps",
            "The helper's steps, in order; stop where they say so. Bore nothing before the "
            "check page is signed.",
        ),
    )


def first_panel(flow: Flow, steps: Sequence[tuple[str, str]]) -> None:
    """Set the steps side by side, each with its number; one under the other on narrow paper."""
    room = flow.leaf.room
    across = len(steps) if room >= _NARROW else 1
    wide = room / across
    text_room = wide - _DIGIT - 7.0
    blocks = [lines_in(words, BODY, text_room) for _, words in steps]
    high = 10.0 + max(len(lines) for lines in blocks) * BODY * LEADING
    for start in range(0, len(steps), across):
        items: list[Item] = [_band(room, high)]
        for place, number in enumerate(range(start, min(start + across, len(steps)))):
            items += _step(number, steps[number][0], blocks[number], place * wide, high)
        flow.drawing(items, high)
        flow.space(1.2)
    flow.space(1.2)


def _band(room: float, high: float) -> Fill:
    return Fill(((0.0, 0.0), (room, 0.0), (room, high), (0.0, high)), grey=0.93)


def _step(number: int, title: str, lines: Sequence[str], left: float, high: float) -> list[Item]:
    digit = Text(str(number + 1), (left + 3.0, high - 3.0 - _DIGIT * 0.8), _DIGIT * 0.8, bold=True)
    start = left + 3.0 + width(digit.text, digit.size, bold=True) + 3.0
    top = high - 3.0 - 3.0
    items: list[Item] = [digit, Text(title, (start, top), 3.0, bold=True)]
    items += [
        Text(line, (start, top - (n + 1) * BODY * LEADING - 0.4), BODY)
        for n, line in enumerate(lines)
    ]
    return items
