"""The helper's steps: numbered, in plain words, with where to stop and who signs."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stairjig.drawing import Ellipse, Field, Fill, Stroke, Text, moved
from stairjig.pages.cautions import cautions
from stairjig.pages.flow import Flow
from stairjig.pages.leaf import Leaf
from stairjig.pages.lines import BODY, LEADING, lines_in
from stairjig.pages.steps.boring import SIGN
from stairjig.pages.steps.drawings import HIGH, WIDE
from stairjig.pages.steps.order import have_at_hand, steps_of
from stairjig.pages.steps.rail import to_place
from stairjig.pages.steps.values import Step
from stairjig.pages.stop import stop_items
from stairjig.pages.tables import Blank, Column, spread
from stairjig.pages.wording import angle, sign_off, signed_height

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stairjig.drawing import Item, Page
    from stairjig.setout.values import SectionSetout, Setout

_NUMBER = 15.0
_BESIDE = 7.0
_TITLE = 3.8
_AFTER = 2.5
_NARROW = 140.0


def signed(setout: Setout) -> tuple[str, ...]:
    """What the helper signs for; the carpenter's word for boring stands on the check page."""
    ends: tuple[str, ...] = ()
    if any(section.newels for section in setout.sections):
        what = "newels" if to_place(setout) else "rail's ends"
        ends = (f"{what} marked, rail still up",)
    return ("every mark pricked and named", *ends, "marks proved by tape")


def steps_pages(setout: Setout, leaf: Leaf) -> tuple[Page, ...]:
    """Set the helper's steps, with this stair's own figures in them."""
    flow = Flow(leaf, "steps", "Helper's steps")
    flow.heading("Helper's steps", 5.5)
    flow.words(
        "Do them in this order. Where a step says STOP: stop, leave everything as it is, and call. "
        "A wrong mark costs a sheet of paper, a wrong hole a tread or the rail. Setting newels, "
        "cutting the rail's ends and fitting balusters are the carpenter's work: not in here.",
        bold=True,
    )
    _call(flow)
    flow.words(f"Have at hand: {have_at_hand(setout)}.")
    flow.space(1.0)
    cautions(flow, setout)
    figures(flow, setout)
    for number, step in enumerate(steps_of(setout), start=1):
        _step(flow, number, step, signed(setout) if step.title == SIGN else ())
    return flow.pages()


def _call(flow: Flow) -> None:
    """Whom to call, to be filled in."""
    columns = spread(
        (Column("at a STOP, call (fill in before you start)", 92), Column("phone", 100)),
        flow.leaf.room,
    )
    row = (
        Blank("steps__call__name", "whom to call at a stop"),
        Blank("steps__call__phone", "their telephone"),
    )
    flow.space(1.0)
    flow.table(columns, [row], row_height=8.5)


_FIGURES = (
    Column("section", 42, bold=True),
    Column("pitch", 18, "end"),
    Column("first mark", 25, "end", bold=True),
    Column("last mark", 24, "end", bold=True),
    Column("between, on the rail", 45, "end"),
    Column("rail, face to face", 38, "end"),
)


def figures(flow: Flow, setout: Setout) -> None:
    """Set the figures that the steps come back to, a row for each section."""
    shown = setout.job.shown

    def row(section: SectionSetout) -> tuple[str, ...]:
        rail, first, last = section.rail, section.marks[0], section.marks[-1]
        pitch = "level" if section.rail.level else angle(rail.pitch)
        whole = "an end is open" if rail.length is None else shown.text(rail.length)
        return section.name, pitch, first.name, last.name, shown.text(last.rail), whole

    flow.heading("Figures of this stair", 3.8, follow=16.0)
    rows = [row(section) for section in setout.sections]
    flow.table(spread(_FIGURES, flow.leaf.room), rows, above="Figures of this stair, continued")
    flow.space(2.0)


def _step(flow: Flow, number: int, step: Step, signed_for: Sequence[str]) -> None:
    """A step with its drawing beside it, or under it on narrow paper; the lines to sign follow."""
    beside = flow.leaf.room >= _NARROW
    items, high = step_block(number, step, flow.leaf.room, beside)
    flow.keep(high + (signed_height(signed_for) if signed_for else 0.0))
    flow.drawing(items, high)
    if step.drawing and not beside:
        flow.drawing([moved(item, (_NUMBER, 0.0)) for item in step.drawing], HIGH)
    if signed_for:
        sign_off(flow, "steps", signed_for)
    flow.space(_AFTER)


def step_block(
    number: int, step: Step, room: float, beside: bool
) -> tuple[tuple[Item, ...], float]:
    """Draw a step from its lower left corner: number, title, words, stop; gives items and height.

    `beside`: its drawing stands to the right of the words.
    """
    picture = step.drawing if beside else ()
    words, long = _words(number, step, room - (WIDE + _BESIDE if picture else 0.0))
    high = max(long, HIGH + 1.0 - lowest(picture)) if picture else long
    items: list[Item] = [moved(item, (0.0, high)) for item in words]
    items += [moved(item, (room - WIDE, high - HIGH)) for item in picture]
    return tuple(items), high


def lowest(items: Sequence[Item]) -> float:
    """How far up the foot of a drawing is, mm."""
    return min(_foot(item) for item in items)


def _foot(item: Item) -> float:
    match item:
        case Stroke() | Fill():
            return min(v for _, v in item.points)
        case Ellipse():
            return item.centre[1] - item.half_height
        case Text() | Field():
            return item.at[1] - 0.8
    raise AssertionError(item)


def _words(number: int, step: Step, room: float) -> tuple[list[Item], float]:
    """The words of a step from its top at 0 downward, and how far they reach."""
    titles = lines_in(step.title, _TITLE, room - _NUMBER, bold=True)
    y = -_TITLE * 1.2
    items: list[Item] = [Text(str(number), (0.0, -7.0), 6.5, bold=True)]
    for n, line in enumerate(titles):
        y -= _TITLE * 1.5 * (n > 0)
        items.append(Text(line, (_NUMBER, y), _TITLE, bold=True))
    y -= 1.2
    for text, bold in (*((each, False) for each in step.words), *((f, True) for f in step.figures)):
        for line in lines_in(text, BODY, room - _NUMBER, bold):
            y -= BODY * LEADING
            items.append(Text(line, (_NUMBER, y), BODY, bold))
        y -= BODY * 0.35
    if step.stop:
        stop, y = stop_items(step.stop, _NUMBER, room, y)
        items += stop
    return items, -y + 1.5
