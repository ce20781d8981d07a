"""Newels that stand already: the treads that they leave open, the balusters they stand close to."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import islice

from stairjig.errors import BadInput, Finding
from stairjig.frozen import frozen
from stairjig.job.model import Job, Newel, Tread, TreadsSection
from stairjig.lengths import INCH, NEAR, Length, Real, Shown, Units
from stairjig.setout.flight import set_flight
from stairjig.setout.footing import base_findings
from stairjig.setout.names import in_runs
from stairjig.setout.newels import End
from stairjig.setout.rows import tread_counts
from stairjig.setout.values import Mark, SectionSetout, SetNewel

CLOSE: dict[Units, Fraction] = {"inch": INCH / 4, "mm": Fraction(6)}
"""Nearer to a newel no baluster can be set and finished, mm (common practice, no source)."""
_ENDS: tuple[End, ...] = ("lower", "upper")
_SHARES = (Fraction(1), Fraction(3, 4), Fraction(1, 2), Fraction(1, 4))
"""Of a gap, by which a row is tried further from a newel."""
_OTHERS = (1, -1, 2, -2)
"""How many balusters more or fewer a tread is tried with."""
_TOLD = 2


def open_warnings(section: TreadsSection, done: SectionSetout, shown: Shown) -> tuple[Finding, ...]:
    """Name whole treads that a newel standing beyond them leaves without a baluster."""
    held = [place for place, tread in enumerate(done.treads) if tread.marks]
    found = []
    for end, newel in zip(_ENDS, (done.lower_newel, done.upper_newel), strict=True):
        lower = end == "lower"
        beyond = done.treads[: held[0]] if lower else done.treads[held[-1] + 1 :]
        numbers = [tread.plan.number for tread in beyond if not tread.plan.bare]
        if newel is None or not numbers or _asked(section, end).place == "gap":
            continue
        off, riser = _from_riser(done, newel)
        at = f"{shown.text(abs(float(off)))} {'up' if off > 0 else 'down'} the stair from {riser}"
        treads = f"tread{'s' if len(numbers) > 1 else ''} {in_runs(numbers)}"
        given = [section.treads[tread.plan.index] for tread in beyond if not tread.plan.bare]
        bare = f"write bare: yes on {'it' if len(numbers) == 1 else 'them'}"
        text = (
            f"the {end} newel leaves {treads} without a baluster: is its face {at}? If it is, "
            f"{bare if all(_may_be_bare(section, tread) for tread in given) else 'all is well'}"
        )
        found.append(Finding("newel-leaves-open", section.name, text))
    return tuple(found)


def _may_be_bare(section: TreadsSection, tread: Tread) -> bool:
    """Whether a tread can be written as bare and no baluster on the others changes its type."""
    return len(set(section.pattern)) == 1 and tread.per_tread is None


def _asked(section: TreadsSection, end: End) -> Newel:
    return section.lower_newel if end == "lower" else section.upper_newel


def _from_riser(done: SectionSetout, newel: SetNewel) -> tuple[Real, str]:
    """How far up the stair its face is from the riser that it is measured from, and which."""
    first, last = done.treads[0].plan, done.treads[-1].plan
    if newel.end == "lower":
        return newel.face - first.front.s, f"riser {first.number}'s face"
    return newel.face - last.back.s, f"the top riser's face (riser {last.number + 1})"


def close_warnings(job: Job, section: TreadsSection, done: SectionSetout) -> tuple[Finding, ...]:
    """Name the balusters that a standing newel touches or nearly does, and what clears them."""
    found = []
    for newel in done.newels if section.spacing == "tread" else ():
        gap = _foot_gap(done, newel)
        if newel.stands and 0 <= gap <= CLOSE[job.units]:
            near = _Near(job, section, done, newel)
            found.append(Finding("newel-close", section.name, near.words(gap)))
    return tuple(found)


def _nearest(done: SectionSetout, newel: SetNewel) -> Mark:
    return done.marks[0 if newel.end == "lower" else -1]


def _foot_gap(done: SectionSetout, newel: SetNewel) -> Real:
    """From the newel's face to the base of the baluster beside it, mm."""
    kind = _nearest(done, newel).type
    return newel.gap - (kind.base.mm - kind.width.mm) / 2


@frozen
class _Near:
    """A newel that stands, with a baluster right beside it."""

    job: Job
    section: TreadsSection
    done: SectionSetout
    newel: SetNewel

    def words(self, gap: Real) -> str:
        """What is wrong, and what of all that is tried would mend it."""
        shown, mark = self.job.shown, _nearest(self.done, self.newel).name
        stands = f"stands {shown.text(gap)} from" if shown.rounded(gap) else "touches"
        passing = (
            next((words for words, tried in kind if self._mended(tried)), "")
            for kind in (self._taken(), self._on_tread(), self._set_back(), self._moved())
        )
        mends = islice(filter(None, passing), _TOLD)
        mend = ", or ".join(mends) or "leave it out, or set the newel elsewhere"
        return f"the {self.newel.end} newel {stands} {mark}, which can't be set there: {mend}"

    def _mended(self, section: TreadsSection) -> bool:
        """Whether that section passes, its newel clear of the baluster beside it."""
        try:
            flight = set_flight(self.job, section)
        except BadInput:
            return False
        done = flight.setout
        refused = flight.failures or base_findings(done, self.job.shown)
        if refused or any(opening.passes is False for opening in done.openings):
            return False
        newel = done.lower_newel if self.newel.end == "lower" else done.upper_newel
        return newel is not None and _foot_gap(done, newel) > CLOSE[self.job.units]

    def _taken(self) -> Iterator[tuple[str, TreadsSection]]:
        """Its face written so little further on that the baluster is left out."""
        shown, asked = self.job.shown, _asked(self.section, self.newel.end)
        step = self.job.show.mm
        by = (Fraction(_foot_gap(self.done, self.newel)) // step + 1) * step
        if asked.face and by <= NEAR[self.job.units]:
            face = asked.face.mm + (by if self.newel.end == "lower" else -by)
            mark = _nearest(self.done, self.newel).name
            words = f"leave {mark} out by writing its place as {{face: {shown.plain(face)}}}"
            yield words, self._with_newel(replace(asked, face=Length(face)))

    def _on_tread(self) -> Iterator[tuple[str, TreadsSection]]:
        """Other numbers on its tread, or none where there is but that one."""
        number = _nearest(self.done, self.newel).tread
        tread = next(one for one in self.done.treads if one.plan.number == number)
        index = tread.plan.index
        given, now = self.section.treads[index], self._count(index)
        if len(tread.marks) == 1 and _may_be_bare(self.section, given):
            bare = replace(given, per_tread=None, bare=True)
            yield f"write bare: yes on tread {number}", self._with_tread(index, bare)
        for count in (now + more for more in _OTHERS if now + more > 0):
            other = self._with_tread(index, replace(given, per_tread=count))
            yield f"put {count} on tread {number} (per_tread: {count})", other

    def _set_back(self) -> Iterator[tuple[str, TreadsSection]]:
        shown, gap = self.job.shown, _gap_beside(self.done, self.newel)
        now = self.section.set_back.mm if self.section.set_back else Fraction(0)
        up = 1 if self.newel.end == "lower" else -1
        for share in _SHARES:
            back = shown.rounded(now + up * gap * share)
            if back >= 0:
                words = f"give set_back {shown.text(back)}"
                yield words, replace(self.section, set_back=Length(back))

    def _moved(self) -> Iterator[tuple[str, TreadsSection]]:
        """The newel in the baluster's place, whose name no newel has changed."""
        mark = _nearest(self.done, self.newel)
        tread = next(one for one in self.done.treads if one.plan.number == mark.tread)
        if len(tread.marks) == self._count(tread.plan.index):
            asked = _asked(self.section, self.newel.end)
            asked = replace(asked, place="replaces", face=None, replaces=mark.name)
            words = f"if it can still be moved, give it place: {{replaces: {mark.name}}}"
            yield words, self._with_newel(asked)

    def _count(self, index: int) -> int:
        """How many stand on a tread by its number, those that the newel takes among them."""
        plan = [tread.plan for tread in self.done.treads]
        return tread_counts(self.job, self.section, plan).choose()[index]

    def _with_newel(self, newel: Newel) -> TreadsSection:
        if self.newel.end == "lower":
            return replace(self.section, lower_newel=newel)
        return replace(self.section, upper_newel=newel)

    def _with_tread(self, index: int, tread: Tread) -> TreadsSection:
        treads = self.section.treads
        return replace(self.section, treads=(*treads[:index], tread, *treads[index + 1 :]))


def _gap_beside(done: SectionSetout, newel: SetNewel) -> Real:
    """The layout gap of the tread beside it."""
    number = _nearest(done, newel).tread
    return next(tread.gap or Fraction(0) for tread in done.treads if tread.plan.number == number)
