"""What else is filled in on a pack: bars, newels, built gaps and heights, against their limits."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from fractions import Fraction
from typing import Literal, TypeVar

from stairjig.errors import gap_words
from stairjig.frozen import frozen
from stairjig.lengths import NotALength, Real, Shown, Units, read_length
from stairjig.readings.newel_boxes import place_words, read_face, wider
from stairjig.readings.parse import read_reading
from stairjig.rules import Range
from stairjig.setout.checks import height_band
from stairjig.setout.names import newel_name
from stairjig.setout.schedule_newels import taped
from stairjig.setout.values import Opening, SectionSetout, SetNewel, Setout

_MOST_LISTED = 6
_HAIR = 1e-6
_LEAVE = "tape it again; if it stands so, only that gap and the rail's end are not as drawn"
_CALL = "tape it again; if it stands so, call the carpenter"
_FAR = 4
"""Tolerances by which a built gap that passes may be off before it is looked at again."""
_MARK = "tape it again; if it stands so, a baluster stands off its mark"
_Read = TypeVar("_Read")


@frozen
class BarBand:
    """A bar of the test sheet, `along` the sheet or `across`: its length and how far it may be off.

    In mm, exact.
    """

    way: str
    length: Fraction
    off: Fraction


State = Literal["right", "not right", "to look at again", "not understood"]
"""What a box comes to: `not right` fails a limit, `to look at again` only differs from the plan."""
_WORST_FIRST: tuple[State, ...] = ("not right", "to look at again", "not understood")


@frozen
class Boxes:
    """What the boxes come to in lines of words.

    `fails`: a bar is out of its band or can't be read, or a gap fails its limit.
    """

    lines: tuple[str, ...]
    fails: bool


@frozen
class _Judged:
    """A filled box: what it comes to, and what there is to say of it, "" where it is right.

    `fails`: nothing is bored before it is put right.
    """

    state: State = "right"
    says: str = ""
    fails: bool = False


def judge_boxes(
    fields: Mapping[str, str], setout: Setout, bars: Sequence[BarBand], section: str = ""
) -> Boxes | None:
    """Every filled box of test sheet, newel sheet and inspector's sheet; None where none is.

    Their fields: `test__along`, `test__across`; `newel__{section from 1}__{lower or upper}__face`,
    `__gap`; `built__{section}__{opening from 1}__gap`, `built__{section}__height`. `section`: the
    only one to look at. A box that holds no length is told, and not judged; a bar must be read.
    """
    reader = _Reader(fields, setout)
    for bar in bars:
        reader.bar(bar)
    for number, one in enumerate(setout.sections, start=1):
        if section in ("", one.name):
            reader.section(number, one)
    return _told(reader.found) if reader.found else None


def _told(found: Sequence[_Judged]) -> Boxes:
    said = sorted((one for one in found if one.says), key=_worst_first)
    boxes = "1 box" if len(found) == 1 else f"{len(found)} boxes"
    head = f"test sheet, newel sheet and inspector's sheet: {boxes} filled in: "
    lines = [head + _counts(found), *(one.says for one in said[:_MOST_LISTED])]
    if more := len(said[_MOST_LISTED:]):
        lines.append(f"and {more} more like these")
    return Boxes((*lines,), any(one.fails for one in said))


def _worst_first(one: _Judged) -> tuple[bool, int]:
    return not one.fails, _WORST_FIRST.index(one.state)


def _counts(found: Sequence[_Judged]) -> str:
    """`right`, or how many are and are not: `4 right, 1 not understood`."""
    counts = Counter(one.state for one in found)
    states: tuple[State, ...] = ("right", *_WORST_FIRST)
    if len(counts) == 1:
        return found[0].state
    return ", ".join(f"{counts[state]} {state}" for state in states if counts[state])


class _Reader:
    """Reads the boxes one by one and holds each against what the layout says."""

    def __init__(self, fields: Mapping[str, str], setout: Setout) -> None:
        self.fields, self.setout = fields, setout
        self.shown, self.rules = setout.job.shown, setout.job.openings
        self.found: list[_Judged] = []

    def _read(self, name: str, label: str, holds: str = "") -> Fraction | None:
        """What a box says, mm; None where it says nothing, or no length, which is told.

        `holds`: what is not done before such a box can be read.
        """
        return self._understood(name, label, lambda text: read_reading(text, self._units), holds)

    def _understood(
        self, name: str, label: str, read: Callable[[str], _Read], holds: str = ""
    ) -> _Read | None:
        text = self.fields.get(name, "").strip()
        if not text:
            return None
        try:
            return read(text)
        except NotALength as fault:
            says = f"{label}: {text!r} {fault}: {holds or 'not looked at'}"
            self.found.append(_Judged("not understood", says, bool(holds)))
            return None

    @property
    def _units(self) -> Units:
        return self.setout.job.units

    def _wrong(self, what: str, fails: bool = False) -> None:
        self.found.append(_Judged("not right" if fails else "to look at again", what, fails))

    def bar(self, bar: BarBand) -> None:
        """A bar of the test sheet against its band."""
        name = f"test sheet: the bar {bar.way} the sheet"
        read = self._read(f"test__{bar.way}", name, "bore nothing before the bar is read")
        if read is None:
            return
        if abs(read - bar.length) <= bar.off:
            self.found.append(_Judged())
            return
        fine = Shown.fine(self.shown.units)
        low, high = fine.text(bar.length - bar.off), fine.text(bar.length + bar.off)
        self._wrong(
            f"{name} measures {fine.text(read)}, good is {low} to {high}: it was printed at "
            f"{float(read / bar.length):.1%} of its size - use no strip; print again at actual "
            "size, and see the test sheet where that does not help",
            fails=True,
        )

    def section(self, number: int, section: SectionSetout) -> None:
        """A section's newels, built gaps and built height."""
        for newel in (section.lower_newel, section.upper_newel):
            if newel is not None:
                field = f"newel__{number}__{newel.end}"
                if self._face(f"{field}__face", section, newel):
                    self.found.append(_Judged("to look at again"))
                else:
                    self._newel_gap(f"{field}__gap", section, newel)
        for count, opening in enumerate(section.openings, start=1):
            self._built(f"built__{number}__{count}__gap", section, opening)
        self._height(f"built__{number}__height", section)

    def _face(self, field: str, section: SectionSetout, newel: SetNewel) -> bool:
        """A newel's face against its place; whether what is said of it is of its gap box, too."""
        label = f"{section.name}, {newel_name(newel.end, newel.kind)}: its face as set"
        place = taped(section, newel.face)
        if place is None:
            return False
        read = self._understood(field, label, lambda text: read_face(text, place, self._units))
        if read is None:
            return False
        by = wider(read, place, newel.end)
        if abs(float(by)) <= self._tolerance:
            self.found.append(_Judged())
            return False
        far = "flush" if read.flush else self.shown.text(read.far)
        due = f"{label} reads {far}, where {place_words(place, self.shown)} is due"
        taped_gap = self._taped_gap(field.replace("__face", "__gap"))
        gap, opening = newel.gap + by, self._opening(section, newel)
        if taped_gap is None:
            self._where_it_stands(due, newel, opening, gap, "comes to")
        elif self._apart(taped_gap, (gap, newel.gap - by if place.flush else gap)):
            self._contradicted(due, newel, opening, (gap, taped_gap))
        else:
            self._where_it_stands(due, newel, opening, taped_gap, "is taped as")
        return taped_gap is not None

    def _apart(self, gap: Real, others: Sequence[Real]) -> bool:
        """Whether a gap is none of those that a face may leave: flush, either side of its riser."""
        return min(abs(float(gap - other)) for other in others) > self._tolerance

    def _taped_gap(self, field: str) -> Fraction | None:
        with suppress(NotALength):
            if text := self.fields.get(field, "").strip():
                return read_length(text, self._units)
        return None

    def _contradicted(
        self, due: str, newel: SetNewel, opening: Opening | None, gaps: Sequence[Real]
    ) -> None:
        """A gap as taped, and by the face, which are two: the worse of them counts."""
        by_face, as_taped = (self._gap_text(gap, newel, opening) for gap in gaps)
        says = (
            f"{due}: by it the gap comes to {by_face}, but it is taped as {as_taped}: one of the "
            "two is misread - tape both again"
        )
        more = opening.clear - newel.gap if opening else 0
        self._wrong(
            says,
            fails=any(
                gap <= 0 or bool(opening and self._over(gap + more, opening)) for gap in gaps
            ),
        )

    def _where_it_stands(
        self, due: str, newel: SetNewel, opening: Opening | None, gap: Real, verb: str
    ) -> None:
        """A newel off its place: its gap as taped, else as it comes to, against its limit."""
        if gap <= 0:
            self._wrong(f"{due}: there it has no gap left to its baluster - {_CALL}", fails=True)
            return
        comes = f"{due}: its gap {verb} {self._gap_text(gap, newel, opening)}"
        if opening and self._over(gap + opening.clear - newel.gap, opening):
            self._wrong(f"{comes} and {self._limit(opening)}", fails=True)
        else:
            self._wrong(f"{comes}{self._passes(opening)} - {_LEAVE}")

    def _opening(self, section: SectionSetout, newel: SetNewel) -> Opening | None:
        name = newel_name(newel.end, newel.kind)
        return next((one for one in section.openings if name in one.between), None)

    def _gap_text(self, gap: Real, newel: SetNewel, opening: Opening | None) -> str:
        """A newel's gap, and what it is at the narrowest parts where that is more."""
        more = opening.clear - newel.gap if opening else 0
        at = f", {self.shown.text(gap + more)} at the narrowest" if more else ""
        return f"{self.shown.text(gap)}{at}"

    def _passes(self, opening: Opening | None) -> str:
        if opening is None or opening.limit is None:
            return ""
        return f", which passes, {self._held(opening)}"

    @property
    def _tolerance(self) -> float:
        return float(self.setout.job.tolerance.mm) + _HAIR

    def _newel_gap(self, field: str, section: SectionSetout, newel: SetNewel) -> None:
        label = f"{section.name}, {newel_name(newel.end, newel.kind)}: its gap as set"
        read = self._understood(field, label, lambda text: read_length(text, self._units))
        if read is None:
            return
        opening = self._opening(section, newel)
        if read <= 0:
            due = f"{label} is {self.shown.text(read)}, and {self.shown.text(newel.gap)} is due"
            self._wrong(f"{due}: it stands where its baluster is to go - {_CALL}", fails=True)
        elif opening and self._over(read + opening.clear - newel.gap, opening):
            gap = self._gap_text(read, newel, opening)
            self._wrong(f"{label}, {gap}, {self._limit(opening)}", fails=True)
        elif abs(float(read - newel.gap)) > self._tolerance:
            gap = self._gap_text(read, newel, opening)
            due = f"{self.shown.text(newel.gap)} is due"
            self._wrong(f"{label} is {gap}, and {due}{self._passes(opening)} - {_LEAVE}")
        else:
            self.found.append(_Judged())

    def _over(self, gap: Real, opening: Opening) -> bool:
        limit = opening.limit
        return limit is not None and not self.rules.passes(gap, Fraction(limit))

    def _held(self, opening: Opening) -> str:
        limit = self.shown.limit(Fraction(opening.limit or 0))
        return f"under {limit}" if self.rules.equal_fails else f"at most {limit}"

    def _limit(self, opening: Opening) -> str:
        """How a gap fails."""
        return f"fails its limit, {self._held(opening)} - close it up, or call the carpenter"

    def _built(self, field: str, section: SectionSetout, opening: Opening) -> None:
        label = f"{section.name}, {gap_words(*opening.between)} as built"
        read = self._read(field, label)
        if read is None:
            return
        if self._over(read, opening):
            self._wrong(f"{label}, {self.shown.text(read)}, {self._limit(opening)}", fails=True)
        elif abs(float(read - opening.clear)) > _FAR * self._tolerance:
            built = f"{label} is {self.shown.text(read)}{self._passes(opening)}"
            self._wrong(f"{built}, where {self.shown.text(opening.clear)} is drawn - {_MARK}")
        else:
            self.found.append(_Judged())

    def _height(self, field: str, section: SectionSetout) -> None:
        label = f"{section.name}: the rail's height as built"
        read = self._read(field, label)
        if read is None:
            return
        band = height_band(section.section, self.rules)
        if band is None or band.holds(read):
            self.found.append(_Judged())
            return
        self._wrong(
            f"{label}, {self.shown.text(read)}, is not {_band(band, self.shown)} "
            f"({band.section}) - tape it again, plumb; ask the inspector before it stays so"
        )


def _band(band: Range, shown: Shown) -> str:
    if band.least is None or band.most is None:
        if band.least is not None:
            return f"{shown.text(band.least)} at least"
        return f"{shown.text(band.most or 0)} at most"
    return f"from {shown.text(band.least)} to {shown.text(band.most)}"
