"""Questions of the measuring form with their boxes to write in or to tick."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from stairjig.drawing import Field, Item, Pen, Text, moved, rectangle
from stairjig.job.form.fields import TYPES, FieldName, Question, row_words
from stairjig.pages.form.panels import GAP, Panel, beside, placed, stacked
from stairjig.pages.form.sketch import WORDS, Sketch, code_radius
from stairjig.pages.lines import lines_in
from stairjig.type import width

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from stairjig.drawing import Point
    from stairjig.lengths import Units

BOX = 8.5
"""Height of a box to write in, mm."""
TICK = 5.5
"""Side of a box to tick, mm."""
_LABEL = 2.7
_LEADING = 4.3
_UNIT = 6.0
_COLUMN_HEAD = 6.0
_SIGNS = {"inch": "in", "mm": "mm"}


def hint(asked: Question, units: Units, row: str = "") -> str:
    """What a viewer says of the field under the pointer."""
    spots = [row_words(row)] if row else []
    return f"{', '.join([*spots, f'{asked.code} {asked.label}'])}: {asked.told(units)}"


def name(asked: Question, units: Units, row: str = "", word: str = "") -> str:
    """The name of the question's field, its page still to be filled in."""
    return str(FieldName(units, tuple(part for part in (asked.key, row, word) if part)))


# Boxes and labels


def _box(asked: Question, units: Units, at: Point, wide: float, row: str = "") -> list[Item]:
    """A box to write in."""
    field = Field(name(asked, units, row), at, wide, BOX, hint(asked, units, row))
    return [field, *_edge(asked, at, (wide, BOX), row)]


def _edge(asked: Question, at: Point, size: Point, row: str) -> list[Item]:
    """A heavy edge where it must be filled; of the types of baluster, one must be."""
    heavy = asked.needed and row not in TYPES[1:]
    return [rectangle(*at, *size, Pen.HEAVY)] if heavy else []


def _ticks(asked: Question, units: Units, at: Point, row: str = "") -> tuple[list[Item], float]:
    """The question's boxes to tick with their words, from `at` on; how far they run, mm."""
    items: list[Item] = []
    x, y = at
    for word, label in asked.options:
        says = f"{hint(asked, units, row)}: {label}"
        items.append(Field(name(asked, units, row, word), (x, y), TICK, TICK, says, check=True))
        items += _edge(asked, (x, y), (TICK, TICK), row)
        items.append(Text(label, (x + TICK + 1.2, y + (TICK - WORDS) / 2), WORDS))
        x += TICK + 1.2 + width(label, WORDS) + 4.0
    return items, x - at[0] - 4.0


def _sign(asked: Question, units: Units, at: Point) -> list[Item]:
    """The unit behind a box."""
    signs = {"length": _SIGNS[units], "degrees": "°", "words": ""}
    return [Text(signs[asked.measure], at, WORDS)] if signs[asked.measure] else []


def _heading(asked: Question, at: Point) -> list[Item]:
    """The question's code on its disc and its label behind it, on a baseline at `at`."""
    sketch = Sketch(0.0, 0.0)
    radius = code_radius(asked.code)
    sketch.code(asked.code, (at[0] + radius, at[1] + _LABEL / 2))
    label = Text(asked.label, (at[0] + 2 * radius + 1.2, at[1]), _LABEL, bold=True)
    return [*sketch.items, label]


def _labelled(asked: Question, units: Units, room: float, least: float) -> Panel:
    """A question's code, label and how to measure it, `least` mm high or more."""
    indent = 2 * code_radius(asked.code) + 1.2
    lines = lines_in(asked.told(units), WORDS, room - indent)
    height = max(least, _LABEL + 1.8 + len(lines) * _LEADING)
    top = height - _LABEL - 0.8
    items = _heading(asked, (0.0, top))
    for number, line in enumerate(lines, start=1):
        items.append(Text(line, (indent, top - number * _LEADING), WORDS))
    return Panel(tuple(items), room, height)


# Questions


def legend(asked: Sequence[Question], units: Units, room: float, columns: int = 1) -> Panel:
    """What the columns of a table ask, without boxes, in so many columns of its own."""
    wide = (room - (columns - 1) * GAP) / columns
    words = [_labelled(one, units, wide, 0.0) for one in asked]
    rows = [words[n : n + columns] for n in range(0, len(words), columns)]
    return stacked([beside(row, room) for row in rows], 0.8)


def question(asked: Question, units: Units, room: float, wide: float) -> Panel:
    """A question's label and how to measure it, with its box or its boxes to tick beside it."""
    words = _labelled(asked, units, room - wide - _UNIT - 2.0, BOX + 1.0)
    items, height = list(words.items), words.height
    left = room - wide - _UNIT
    if asked.options:
        items += _ticks(asked, units, (left, height - TICK - 1.0))[0]
    else:
        items += _box(asked, units, (left, height - BOX - 0.5), wide)
        items += _sign(asked, units, (room - _UNIT + 1.0, height - BOX / 2 - 1.5))
    return Panel(tuple(items), room, height)


def questions(asked: Iterable[Question], units: Units, room: float, wide: float) -> Panel:
    """Questions one under the other."""
    return stacked([question(one, units, room, wide) for one in asked])


def choices(asked: Question, units: Units, pictures: Sequence[Panel], room: float) -> Panel:
    """A question's boxes to tick, each under its picture."""
    head = Panel(tuple(_heading(asked, (0.0, 1.5))), room, _LABEL + 3.0)
    cards = [
        _card(replace(asked, options=(option,)), units, picture)
        for option, picture in zip(asked.options, pictures, strict=True)
    ]
    return stacked([head, beside(cards, room)], 0.5)


def _card(asked: Question, units: Units, picture: Panel) -> Panel:
    lift = TICK + 2.5
    items, run = _ticks(asked, units, (0.0, 0.0))
    shifted = [moved(item, ((picture.width - run) / 2, 0.5)) for item in items]
    return Panel((*placed(picture, (0.0, lift)), *shifted), picture.width, picture.height + lift)


# Questions asked of several things at once


def grid(
    asked: Sequence[Question], rows: Sequence[str], units: Units, room: float, wide: float
) -> Panel:
    """Questions down the page, a column of boxes for each of `rows`, filled column by column."""
    labels = room - len(rows) * (wide + 2.0) - _UNIT
    words = [_labelled(one, units, labels - 2.0, _cell_height(one)) for one in asked]
    height = _COLUMN_HEAD + sum(panel.height + GAP for panel in words)
    tops = _tops(words, height - _COLUMN_HEAD)
    items: list[Item] = []
    for panel, top in zip(words, tops, strict=True):
        items += placed(panel, (0.0, top - panel.height))
    for number, row in enumerate(rows):
        x = labels + number * (wide + 2.0)
        items.append(Text(row_words(row), (x, height - 3.5), _LABEL, bold=True))
        for one, top in zip(asked, tops, strict=True):
            items += _grid_cell(one, units, (x, top), wide, row)
    for one, top in zip(asked, tops, strict=True):
        items += _sign(one, units, (room - _UNIT, top - BOX / 2 - 1.5))
    return Panel(tuple(items), room, height)


def _tops(panels: Sequence[Panel], y: float) -> list[float]:
    """Where each of the panels begins, one under the other from `y` on."""
    tops = []
    for panel in panels:
        tops.append(y)
        y -= panel.height + GAP
    return tops


def _cell_height(asked: Question) -> float:
    return len(asked.options) * (TICK + 1.5) if asked.options else BOX


def _grid_cell(asked: Question, units: Units, top: Point, wide: float, row: str) -> list[Item]:
    x, y = top
    if not asked.options:
        return _box(asked, units, (x, y - BOX), wide, row)
    items: list[Item] = []
    for number, option in enumerate(asked.options, start=1):
        at = (x, y - number * (TICK + 1.5) + 1.5)
        items += _ticks(replace(asked, options=(option,)), units, at, row)[0]
    return items
