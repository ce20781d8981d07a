"""What else is filled in on a pack: bars, newels, built gaps and heights, against their limits."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from stairjig.errors import gap_words
from stairjig.frozen import frozen
from stairjig.lengths import NotALength, Real, Shown
from stairjig.readings.parse import read_reading
from stairjig.rules import Range
from stairjig.setout.checks import height_band
from stairjig.setout.names import newel_name
from stairjig.setout.schedule_newels import Taped, taped
from stairjig.setout.values import Opening, SectionSetout, SetNewel, Setout

_MOST_LISTED = 6
_HAIR = 1e-6


@frozen
class BarBand:
    """A bar of the test sheet, `along` the sheet or `across`: its length and how far it may be off.

    In mm, exact.
    """

    way: str
    length: Fraction
    off: Fraction


@frozen
class Boxes:
    """What the boxes come to in lines of words.

    `fails`: a bar is out of its band, or a gap fails its limit. `right`: all are as they should be.
    """

    lines: tuple[str, ...]
    fails: bool
    right: bool


@frozen
class _Judged:
    """A filled box: what there is to say of it, "" where it is right, and what that comes to."""

    says: str = ""
    fails: bool = False
    read: bool = True


def judge_boxes(
    fields: Mapping[str, str], setout: Setout, bars: Sequence[BarBand], section: str = ""
) -> Boxes | None:
    """Every filled box of test sheet, newel sheet and inspector's sheet; None where none is.

    Their fields: `test__along`, `test__across`; `newel__{section from 1}__{lower or upper}__face`,
    `__gap`; `built__{section}__{opening from 1}__gap`, `built__{section}__height`. `section`: the
    only one to look at. A box that holds no length is told, and not judged.
    """
    reader = _Reader(fields, setout)
    for bar in bars:
        reader.bar(bar)
    for number, one in enumerate(setout.sections, start=1):
        if section in ("", one.name):
            reader.section(number, one)
    return _told(reader.found) if reader.found else None


def _told(found: Sequence[_Judged]) -> Boxes:
    said = sorted((one for one in found if one.says), key=lambda one: (not one.fails, not one.read))
    boxes = "1 box" if len(found) == 1 else f"{len(found)} boxes"
    right = all(not one.read for one in said)
    head = f"test sheet, newel sheet and inspector's sheet: {boxes} filled in: "
    lines = [head + ("right" if right else "not right")]
    lines += [one.says for one in said[:_MOST_LISTED]]
    if more := len(said[_MOST_LISTED:]):
        lines.append(f"and {more} more like these")
    return Boxes((*lines,), any(one.fails for one in said), right)


class _Reader:
    """Reads the boxes one by one and holds each against what the layout says."""

    def __init__(self, fields: Mapping[str, str], setout: Setout) -> None:
        self.fields, self.setout = fields, setout
        self.shown, self.rules = setout.job.shown, setout.job.openings
        self.found: list[_Judged] = []

    def _read(self, name: str, label: str) -> Fraction | None:
        """What a box says, mm; None where it says nothing, or no length, which is told."""
        text = self.fields.get(name, "").strip()
        if not text:
            return None
        try:
            return read_reading(text, self.setout.job.units)
        except NotALength as fault:
            self.found.append(_Judged(f"{label}: {text!r} {fault}: not looked at", read=False))
            return None

    def _wrong(self, what: str, fails: bool = False) -> None:
        self.found.append(_Judged(what, fails))

    def bar(self, bar: BarBand) -> None:
        """A bar of the test sheet against its band."""
        name = f"test sheet: the bar {bar.way} the sheet"
        read = self._read(f"test__{bar.way}", name)
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
                self._face(f"newel__{number}__{newel.end}__face", section, newel)
                self._newel_gap(f"newel__{number}__{newel.end}__gap", section, newel)
        for count, opening in enumerate(section.openings, start=1):
            self._built(f"built__{number}__{count}__gap", section, opening)
        self._height(f"built__{number}__height", section)

    def _face(self, field: str, section: SectionSetout, newel: SetNewel) -> None:
        label = f"{section.name}, {newel_name(newel.end, newel.kind)}: its face as set"
        read, place = self._read(field, label), taped(section, newel.face)
        if read is None or place is None:
            return
        if any(abs(float(read - due)) <= self._tolerance for due in _due(place)):
            self.found.append(_Judged())
            return
        due = self._place(place)
        self._wrong(
            f"{label} reads {self.shown.text(read)}, where {due} is due - tape it again; if it "
            "stands so, its own gap and the rail's end are not as drawn"
        )

    def _place(self, place: Taped) -> str:
        """Where a face should be, as the newel sheet has it."""
        way = "down" if place.off < 0 else "up"
        far = f"{self.shown.text(abs(float(place.off)))} {way} the stair from"
        at = f"{'flush with' if place.flush else far} the face of riser {place.riser}"
        if place.edge is None:
            return at
        return f"{at}, or {self.shown.text(abs(float(place.edge)))} behind the nosing's edge,"

    @property
    def _tolerance(self) -> float:
        return float(self.setout.job.tolerance.mm) + _HAIR

    def _newel_gap(self, field: str, section: SectionSetout, newel: SetNewel) -> None:
        name = newel_name(newel.end, newel.kind)
        label = f"{section.name}, {name}: its gap as set"
        read = self._read(field, label)
        if read is None:
            return
        opening = next((one for one in section.openings if name in one.between), None)
        more = opening.clear - newel.gap if opening else 0
        if opening and self._over(read + more, opening):
            at = f", {self.shown.text(read + more)} at the narrowest" if more else ""
            self._wrong(f"{label}, {self.shown.text(read)}{at}, {self._limit(opening)}", fails=True)
        elif abs(float(read - newel.gap)) > self._tolerance:
            due = self.shown.text(newel.gap)
            what = f"{label} is {self.shown.text(read)}, and {due} is due"
            self._wrong(f"{what} - tape it again; if it stands so, the rail's end is not as drawn")
        else:
            self.found.append(_Judged())

    def _over(self, gap: Real, opening: Opening) -> bool:
        limit = opening.limit
        return limit is not None and not self.rules.passes(gap, Fraction(limit))

    def _limit(self, opening: Opening) -> str:
        """How a gap fails."""
        limit = self.shown.limit(Fraction(opening.limit or 0))
        held = f"under {limit}" if self.rules.equal_fails else f"at most {limit}"
        return f"fails its limit, {held} - close it up, or call the carpenter"

    def _built(self, field: str, section: SectionSetout, opening: Opening) -> None:
        label = f"{section.name}, {gap_words(*opening.between)} as built"
        read = self._read(field, label)
        if read is None:
            return
        if self._over(read, opening):
            self._wrong(f"{label}, {self.shown.text(read)}, {self._limit(opening)}", fails=True)
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


def _due(place: Taped) -> tuple[Real, ...]:
    """What a tape may say of a newel's face: from its riser, or from the nosing's edge."""
    return abs(place.off), *(() if place.edge is None else (abs(place.edge),))


def _band(band: Range, shown: Shown) -> str:
    if band.least is None or band.most is None:
        if band.least is not None:
            return f"{shown.text(band.least)} at least"
        return f"{shown.text(band.most or 0)} at most"
    return f"from {shown.text(band.least)} to {shown.text(band.most)}"
