"""The parts of the measuring form, set one after the other in the order of measuring."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from stairjig.job.form.fields import ENDS, LANDING, QUESTIONS, TITLE, TYPES, part
from stairjig.pages.form import drawings
from stairjig.pages.form import drawings_rail as rail_drawings
from stairjig.pages.form.boxes import (
    choices,
    grid,
    hint,
    legend,
    name,
    question,
    questions,
)
from stairjig.pages.form.panels import Panel, beside, panel_of, squared, stacked
from stairjig.pages.form.sketch import WORDS
from stairjig.pages.tables import Blank, Column, spread

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stairjig.job.form.fields import Question
    from stairjig.lengths import Units
    from stairjig.pages.flow import Flow
    from stairjig.pages.tables import Cell

_ROW = 8.0
_DRAWING = 92.0
_BOX = 30.0
_TYPE_BOX = 24.0
_WRITTEN = {
    "inch": "in inches: 10 1/4, 10-1/4, 10.25 or 3' 6 1/2\". A unit that is written out holds "
    "all the same: 260 mm.",
    "mm": "in millimetres: 260 or 26.5 or 26,5. A unit that is written out holds all the same: "
    "10 1/4 in.",
}
_TREADS = (
    "One row for each tread, from the lowest up; rows that are left over stay blank. Fill in one "
    "of C2, C3 and C4, or its sides in part D. Where a tread's two risers differ in skew, take C4."
)
_WINDERS = (
    "Only for treads whose two risers are not parallel, where no angle can be taken: with the "
    "tape alone, at the risers' faces. First square the face of the riser below up onto the "
    "tread, in pencil. Both diagonals, for one proves the other."
)
_NEWELS = (
    "Give a newel's width, or tick what stands in its place. F3 is for a newel that stands "
    "already: from the first riser's face to its uphill face, or from the top riser's face to "
    "its downhill face; with a minus where it is down the stair from there."
)


@dataclass(slots=True)
class Parts:
    """Sets the form's parts on a flow: `treads` rows, in `units`."""

    flow: Flow
    units: Units
    treads: int
    room: float = field(init=False)

    def __post_init__(self) -> None:
        """Take the room that the flow's leaf has."""
        self.room = self.flow.leaf.room

    def make(self) -> None:
        """Every part."""
        self._job()
        self._flight()
        self._treads()
        self._winders()
        self._straight()
        self._ends()
        self._rail()
        self._balusters()
        self._office()

    def _head(self, letter: str, words: str, follow: float) -> tuple[Question, ...]:
        """A part's heading, kept with `follow` mm of what comes behind it; its questions."""
        found = part(letter)
        self.flow.heading(f"{letter}  {found.title}", follow=follow + 4.0)
        if words:
            self.flow.words(words, WORDS)
            self.flow.space(2.0)
        return found.questions

    def _put(self, panel: Panel, after: float = 4.0) -> None:
        self.flow.drawing(panel.items, panel.height)
        self.flow.space(after)

    def _asked(self, asked: Sequence[Question], room: float) -> Panel:
        return questions(asked, self.units, room, _BOX)

    @property
    def _page(self) -> float:
        """What a page holds under a heading."""
        return self.flow.leaf.top - self.flow.leaf.bottom - 12.0

    @property
    def _column(self) -> float:
        """The room beside a drawing."""
        return self.room - _DRAWING - 4.0

    def _job(self) -> None:
        self.flow.heading(TITLE, 6.0)
        for words in _how_to(self.units):
            self.flow.words(words, WORDS, indent=4.0, mark="•")
        self.flow.space(4.0)
        title, called, by, on, kind, side = self._head("A", "", 60.0)
        for asked in (title, called, by, on):
            self._put(question(asked, self.units, self.room, 100.0), 1.5)
        pictures = [panel_of(drawings.kind_drawing(word)) for word, _ in kind.options]
        self._put(choices(kind, self.units, pictures, self.room))
        pictures = [panel_of(drawings.side_drawing(word)) for word, _ in side.options]
        self._put(choices(side, self.units, pictures, self.room * 0.62))

    def _flight(self) -> None:
        pictures = (drawings.flight_drawing(), drawings.line_drawing())
        self._drawn("B", "For balusters on treads.", [panel_of(picture) for picture in pictures])

    def _drawn(self, letter: str, words: str, pictures: Sequence[Panel]) -> None:
        """A part whose questions stand beside its drawings."""
        drawn = stacked(pictures, 5.0)
        asked = self._head(letter, words, drawn.height + 8.0)
        self._put(beside([drawn, self._asked(asked, self._column)], self.room))

    def _treads(self) -> None:
        asked = part("C").questions
        pictures = [panel_of(drawings.run_drawing()), panel_of(drawings.skew_drawing())]
        told = legend(asked, self.units, self.room, 4)
        self._explained("C", _TREADS, stacked([beside(pictures, self.room), told], 2.0))
        rise, *others = asked
        landing = (LANDING, *_cells([rise], self.units, LANDING), *("" for _ in others))
        self._table("C", [*self._rows(asked), landing])

    def _winders(self) -> None:
        asked = part("D").questions
        picture = panel_of(drawings.winder_drawing())
        told = legend(asked, self.units, self._column)
        self._explained("D", _WINDERS, beside([picture, told], self.room))
        self._table("D", self._rows(asked))

    def _rows(self, asked: Sequence[Question]) -> list[tuple[Cell, ...]]:
        numbers = map(str, range(1, self.treads + 1))
        return [(row, *_cells(asked, self.units, row)) for row in numbers]

    def _explained(self, letter: str, words: str, panel: Panel) -> None:
        """A part with a table, begun on a new page where that keeps the table whole."""
        whole = panel.height + (self.treads + 1) * _ROW + 26.0
        least = panel.height + 5 * _ROW + 14.0
        self._head(letter, words, whole if whole < self._page else least)
        self._put(panel, 2.0)

    def _table(self, letter: str, rows: Sequence[Sequence[Cell]]) -> None:
        asked, above = part(letter).questions, f"{letter}  {part(letter).title}, continued"
        columns = [Column("row", 17.0, "middle", bold=True)]
        columns += [Column(f"{one.code} {one.label}", 22.0, "middle") for one in asked]
        self.flow.table(spread(columns, self.room), rows, _ROW, WORDS, above)

    def _straight(self) -> None:
        words = "For balusters on a floor, a shoe rail, a closed stringer or a knee wall."
        pictures = (
            rail_drawings.level_drawing(),
            rail_drawings.slope_drawing(),
            rail_drawings.bottom_rail_drawing(),
        )
        self._drawn("E", words, [panel_of(picture) for picture in pictures])

    def _ends(self) -> None:
        picture = panel_of(rail_drawings.ends_drawing())
        asked = self._head("F", _NEWELS, picture.height + 60.0)
        self._put(picture)
        self._put(grid(asked, tuple(ENDS), self.units, self.room, 36.0))

    def _rail(self) -> None:
        words = "G6 to G9 are for a rail that is propped in its place; only on treads."
        pictures = (
            rail_drawings.rail_drawing(),
            rail_drawings.section_drawing(),
            rail_drawings.taped_drawing(),
        )
        self._drawn("G", words, [panel_of(picture) for picture in pictures])

    def _balusters(self) -> None:
        *asked, pattern = part("H").questions
        picture = panel_of(rail_drawings.baluster_drawing())
        room = self.room - picture.width - 4.0
        table = grid(asked, TYPES, self.units, room, _TYPE_BOX)
        self._head("H", "A column for each type of baluster that is used.", table.height + 20.0)
        self._put(beside([picture, table], self.room))
        self._put(question(pattern, self.units, self.room, 110.0))

    def _office(self) -> None:
        asked = part("J").questions
        half = (self.room - 8.0) / 2
        middle = asked.index(QUESTIONS["allowance"])
        columns = [self._asked(asked[:middle], half), self._asked(asked[middle:], half)]
        words = "What the rules and the paper want; it can wait for the office."
        self._head("J", words, columns[0].height + 6.0)
        columns[1] = stacked([columns[1], panel_of(rail_drawings.set_back_drawing())], 6.0)
        self._put(beside(columns, self.room))
        self._paper()

    def _paper(self) -> None:
        """Squared paper down to the foot of the page."""
        self.flow.words("For sketches and notes, on paper only.", WORDS, bold=True)
        self.flow.space(1.5)
        high = self.flow.y - self.flow.leaf.bottom - 1.0
        self._put(squared(self.room, high), 0.0)


def _cells(asked: Sequence[Question], units: Units, row: str) -> list[Cell]:
    return [_cell(one, units, row) for one in asked]


def _cell(asked: Question, units: Units, row: str) -> Cell:
    word = asked.options[0][0] if asked.options else ""
    return Blank(name(asked, units, row, word), hint(asked, units, row), check=bool(word))


def _how_to(units: Units) -> tuple[str, ...]:
    return (
        f"Measure the finished stair with one tape, and write what it says, {_WRITTEN[units]}",
        "A box with a heavy edge must be filled where its part applies. What a blank means in "
        "the others stands beside them.",
        "One form is one section: the balustrade between two newels, or a newel and a wall. "
        "Where the line turns, and behind the next newel, begin another form.",
        "On treads fill in all parts but E; part D only for winders. On the level and on a slope "
        "fill in A and E to J.",
        "Filled in with a viewer and saved, this file is a job. Save it as it is: printed to a "
        "PDF or scanned it holds no readings any more.",
    )
