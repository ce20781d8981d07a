"""What a filled form says, question by question, each answer with its printed label and page."""

from __future__ import annotations

from typing import TYPE_CHECKING, NoReturn

from stairjig.errors import BadInput, Place, Problem
from stairjig.job.document import Broken, Word
from stairjig.job.form.fields import (
    LANDING,
    ORDER,
    QUESTIONS,
    VERSION,
    FieldName,
    field_name,
    part,
    row_words,
)

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from stairjig.job.document import Node
    from stairjig.job.faults import Faults
    from stairjig.job.form.fields import Question, Slot
    from stairjig.lengths import Units

_OFF = {"", "off", "no", "false"}
"""What an empty box's value may be; whatever else it is, the box is ticked."""
_A_ROW = 1000
_LAST = 10_000


def names_of(fields: Iterable[str]) -> dict[str, FieldName]:
    """Those of a document's fields that are a measuring form's, and what their names say."""
    found = {text: field_name(text) for text in fields}
    return {text: name for text, name in found.items() if name}


class Answers:
    """The answers of one form: `fields` are the values of a document's fields by name.

    Raises BadInput where they are those of no form, of two, or of another version's.
    """

    def __init__(self, fields: Mapping[str, str], file: str, faults: Faults) -> None:
        self.file = file
        self.faults = faults
        names = names_of(fields)
        self.units = self._units(set(names.values()))
        self._values = {name.slot: fields[text] for text, name in names.items()}
        self._pages: dict[Slot, int] = {}
        for name in names.values():
            for end in range(1, len(name.slot) + 1):
                self._pages.setdefault(name.slot[:end], name.page)

    def _units(self, names: set[FieldName]) -> Units:
        if not names:
            self._refuse("holds no measuring form", "stairjig form writes one to fill in")
        if any(name.version != VERSION for name in names):
            self._refuse("is a form of another version of stairjig", "fill in a new one")
        units = {name.units for name in names}
        if len(units) > 1 or len({name.slot for name in names}) < len(names):
            self._refuse("holds two forms", "keep each in a file of its own")
        return units.pop()

    def _refuse(self, what: str, mend: str) -> NoReturn:
        raise BadInput(Problem(what, mend, Place(self.file)))

    def place(self, key: str, row: str = "") -> Place:
        """Where the question stands on paper; sorted, places are in the order of the form."""
        asked = QUESTIONS[key]
        spots = [row_words(row)] if row else []
        return self._spot([*spots, f"{asked.code} {asked.label}"], self._page(key, row), key, row)

    def area(self, letter: str, row: str = "") -> Place:
        """Where a part, or one row of its table, stands."""
        found = part(letter)
        key = found.questions[0].key
        words = row_words(row) if row else f"{letter} {found.title}"
        return self._spot([words], self._page(key, row), key, row)

    def _page(self, key: str, row: str) -> int:
        """The question's printed page, 0 where its field was lost."""
        return self._pages.get((key, row) if row else (key,), 0)

    def _spot(self, words: list[str], page: int, key: str, row: str) -> Place:
        number = int(row) if row.isdigit() else _LAST if row == LANDING else ord(row[:1] or "\0")
        label = ", ".join([*([f"page {page}"] if page else []), *words])
        return Place(self.file, page, number * _A_ROW + ORDER[key], label)

    def text(self, key: str, row: str = "") -> str:
        """What is written there, single-spaced; "" for nothing."""
        return " ".join(self._values.get((key, row) if row else (key,), "").split())

    def word(self, key: str, row: str = "") -> Word | None:
        """What is written there with its place; None for nothing."""
        text = self.text(key, row)
        return Word(text, self.place(key, row)) if text else None

    def needed(self, key: str, row: str = "", mend: str = "") -> Node:
        """What is written there, its lack being reported."""
        return self.word(key, row) or self.lacking(key, row, mend)

    def lacking(self, key: str, row: str = "", mend: str = "") -> Broken:
        """Report that the question has no answer."""
        where = self.place(key, row)
        self.faults.add("is empty", where, mend or _how(QUESTIONS[key]))
        return Broken(where)

    def ticked(self, key: str, row: str = "") -> list[str]:
        """The words whose boxes are ticked."""
        head = (key, row) if row else (key,)
        words = [word for word, _ in QUESTIONS[key].options]
        return [word for word in words if self._is_on(self._values.get((*head, word), ""))]

    def _is_on(self, value: str) -> bool:
        return value.strip().casefold() not in _OFF

    def tick(self, key: str, row: str = "") -> Node | None:
        """The one word whose box is ticked, two being reported; None for none."""
        found, where = self.ticked(key, row), self.place(key, row)
        if len(found) > 1:
            options = dict(QUESTIONS[key].options)
            both = " and ".join(options[word] for word in found)
            self.faults.add(f"{both} are ticked", where, "tick one of them")
            return Broken(where)
        return Word(found[0], where) if found else None

    def given(self, key: str, row: str = "") -> bool:
        """Whether anything is written or ticked there."""
        return bool(self.ticked(key, row) if QUESTIONS[key].options else self.text(key, row))

    def rows(self, keys: Iterable[str]) -> list[int]:
        """The numbered rows in which one of these questions is answered, in order."""
        wanted = set(keys)
        numbers = {
            int(slot[1])
            for slot in self._values
            if len(slot) > 1 and slot[0] in wanted and _is_number(slot[1])
        }
        return [n for n in sorted(numbers) if any(self.given(key, str(n)) for key in wanted)]


def _how(asked: Question) -> str:
    if asked.options:
        return asked.how
    return f"write {asked.how}" if asked.measure == "words" else f"measure it: {asked.how}"


def _is_number(text: str) -> bool:
    return text.isascii() and text.isdigit() and len(text) < 5
