"""What can hurt somebody on this job, and who has the last word."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stairjig.drawing import Pen, Stroke, Text
from stairjig.frozen import frozen
from stairjig.pages.lines import BODY, LEADING, lines_in

if TYPE_CHECKING:
    from stairjig.drawing import Item
    from stairjig.pages.flow import Flow
    from stairjig.setout.values import Setout


@frozen
class Caution:
    """A danger, or a duty, in a word or two, and what to do about it."""

    what: str
    do: str


_EDGE = Caution(
    "Open edge",
    "While you work there is no balustrade. Put up a temporary guard, keep everybody else off, "
    "never step back toward the open side, and keep tape, offcuts and cords off the treads.",
)
_DROP = Caution(
    "Open edge",
    "While you work there is no guard. Put up a temporary one, keep everybody else away from the "
    "edge, and never step back toward it.",
)
_REST = (
    Caution("Propped rail", "It is no handrail and holds nobody: don't lean on it."),
    Caution(
        "Power tools",
        "Eyes and ears protected, sleeves and hair tied back, work clamped. Unplug, or take the "
        "battery out, before a bit is changed. Keep to the tool's own manual.",
    ),
    Caution(
        "Dust",
        "Hardwood dust harms lungs: extract it where it is made, wear a mask made for fine dust, "
        "and vacuum instead of sweeping.",
    ),
    Caution(
        "Adhesive",
        "Read its label: gloves, fresh air, no flame near it, rags laid out flat to dry.",
    ),
    Caution(
        "Code and licence",
        "Local code and its inspector decide. Work that the law leaves to licensed people is "
        "theirs. This pack helps in laying out; it approves nothing.",
    ),
)
_NAME = 37.0
_ROW_GAP = 1.0


def cautions_for(setout: Setout) -> tuple[Caution, ...]:
    """List the cautions for a job, the worst first: an open stair, or only a landing's edge."""
    stair = any(not section.rail.level for section in setout.sections)
    return (_EDGE if stair else _DROP, *_REST)


def cautions(flow: Flow, setout: Setout) -> None:
    """Set the cautions in a frame."""
    room = flow.leaf.room - 8.0
    name = _NAME if room > 110.0 else 0.0
    rows = [(one.what, lines_in(one.do, BODY, room - name)) for one in cautions_for(setout)]
    heights = [(len(lines) + (not name)) * BODY * LEADING + _ROW_GAP for _, lines in rows]
    high = sum(heights) + 11.5
    items: list[Item] = [*_frame(flow.leaf.room, high)]
    items.append(Text("▲ Keep safe", (4.0, high - 6.6), 3.6, bold=True))
    y = high - 8.4
    for (what, lines), height in zip(rows, heights, strict=True):
        items.append(Text(what, (4.0, y - BODY * 1.5), BODY, bold=True))
        start = y if name else y - BODY * LEADING
        items += [
            Text(line, (4.0 + name, start - BODY * 1.5 - n * BODY * LEADING), BODY)
            for n, line in enumerate(lines)
        ]
        y -= height
    flow.drawing(items, high)
    flow.space(2.0)


def _frame(wide: float, high: float) -> tuple[Stroke, ...]:
    """Draw a heavy frame with a second, thin one inside it."""
    return tuple(
        Stroke(
            ((off, off), (wide - off, off), (wide - off, high - off), (off, high - off)),
            pen,
            closed=True,
        )
        for off, pen in ((0.4, Pen.HEAVY), (1.6, Pen.THIN))
    )
