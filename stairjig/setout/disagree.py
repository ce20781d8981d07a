"""A length taped along the rail that disagrees with the computed one, put down to a likely cause.

Every cause is a measure taken otherwise by some size: the size that explains the taped length is
found, and what a small error of it does to the far mark is said beside it. Most likely is, in this
order: one run or rise that stands out from the others and would fall in with them; a whole inch
(in millimetres: ten) misread on the rail; a measure taken once and used for every step, which
needs only a little; the rail's end, where the measures between are proved by another length; then
the smallest size. That a run or a rise was taken wrong by over an inch is least likely.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import cos, radians

from stairjig.errors import Finding
from stairjig.frozen import frozen
from stairjig.job.model import Job, TreadsSection
from stairjig.lengths import INCH, WHOLE, Units
from stairjig.setout.names import newel_name
from stairjig.setout.pitch import Point, resting_line
from stairjig.setout.plan import square_run
from stairjig.setout.values import SectionSetout

SMALL: dict[Units, float] = {"inch": float(INCH) / 8, "mm": 3.0}
"""The error whose effect is told: what a tape is held to."""
_LARGEST = 4 * float(INCH)
_STEPS = 12
_CLOSE = 1e-7
_TOLD = 3


@frozen
class _Spot:
    """A place on the line: its s, and how many whole treads of its section lie below it."""

    s: float
    level: int


@frozen
class _Taped:
    """A taped length between two spots, and what the set-out makes it."""

    words: str
    length: float
    computed: float
    low: _Spot
    high: _Spot
    governs: bool

    @property
    def off(self) -> float:
        """Taped less computed."""
        return self.length - self.computed


@frozen
class _Measure:
    """A measure of the stair that may be wrong: what 1 mm of it moves, along s and in height.

    `along`: by level; `up`: by nosing. `strays`: what would bring it in line with the others of
    its kind; `count`: how many steps share it.
    """

    words: str
    along: tuple[float, ...]
    up: tuple[float, ...]
    strays: float | None = None
    count: int = 1


@frozen
class _Cause:
    """A cause in words, the size that explains the taped length, and a rank, the least likeliest.

    `sides`: how its size is told, above and under zero.
    """

    words: str
    size: float
    rank: float
    effect: str
    sides: tuple[str, str] = ("more", "less")


def rail_warnings(job: Job, section: TreadsSection, done: SectionSetout) -> tuple[Finding, ...]:
    """What is to be said of `rail_taped` and `rail_length` where they are off."""
    stair = _Stair(job, section, done)
    found = []
    if section.rail_length and done.rail.length is None:
        text = "rail_length runs to an end without a newel and is held against nothing"
        found.append(Finding("rail-unchecked", section.name, text))
    found += [
        Finding("rail-disagrees", section.name, stair.told(taped))
        for taped in stair.taped()
        if stair.is_off(taped)
    ]
    return tuple(found)


class _Stair:
    """One flight as its measures have it, and as they might have been."""

    def __init__(self, job: Job, section: TreadsSection, done: SectionSetout) -> None:
        self._job, self._section, self._done = job, section, done
        self._points: list[Point] = [(float(n.s), float(n.height)) for n in done.nosings]
        self._pitch = resting_line(self._points).pitch
        self._levels = {tread.plan.number: tread.plan.index for tread in done.treads}

    def taped(self) -> Iterator[_Taped]:
        """What is taped along the rail; `rail_length` is held against the pitch that governs."""
        given, whole = self._section.rail_taped, self._section.rail_length
        if given:
            low, high = (self._mark(name) for name in (given.start, given.end))
            computed = (high.s - low.s) / cos(self._pitch)
            words = f"rail_taped from {given.start} to {given.end}"
            yield _Taped(words, float(given.length.mm), computed, low, high, governs=True)
        lower, upper = self._done.lower_newel, self._done.upper_newel
        if whole and lower and upper and self._done.rail.length is not None:
            low = _Spot(float(lower.face), 0)
            high = _Spot(float(upper.face), len(self._done.treads))
            computed = self._done.rail.length
            yield _Taped("rail_length", float(whole.mm), computed, low, high, governs=False)

    def is_off(self, taped: _Taped) -> bool:
        """Whether it is further off than plumbing and taping are."""
        return abs(taped.off) > float(self._job.tolerance.mm) / 2

    def told(self, taped: _Taped) -> str:
        """The disagreement and its causes, the likeliest first."""
        shown = self._job.shown
        more = "more" if taped.off > 0 else "less"
        made = "the runs and rises make" if taped.governs else "the set-out makes"
        head = (
            f"{taped.words} is {shown.text(taped.length)}, {shown.text(abs(taped.off))} {more} "
            f"than {made} it"
        )
        causes = sorted(self._causes(taped), key=lambda cause: (cause.rank, abs(cause.size)))
        likely, *others = [self._cause_words(cause) for cause in causes[:_TOLD]]
        tail = f"; else {'; or '.join(others)}" if others else ""
        return f"{head}. Most likely {likely}{tail}"

    def _cause_words(self, cause: _Cause) -> str:
        shown = self._job.shown
        size = shown.text(abs(cause.size))
        if not shown.rounded(cause.size):
            size = f"less than {shown.text(shown.step)}"
        side = cause.sides[0] if cause.size > 0 else cause.sides[1]
        return f"{cause.words}: {size} {side} explains it, and {cause.effect}"

    def _mark(self, name: str) -> _Spot:
        mark = next(mark for mark in self._done.marks if mark.name == name)
        return _Spot(float(mark.s), self._levels[mark.tread or 0])

    def _causes(self, taped: _Taped) -> Iterator[_Cause]:
        yield self._misread(taped)
        if not taped.governs:
            yield self._end(taped)
        singles: list[_Cause] = []
        for measure in self._measures(taped):
            size = self._explaining(measure, taped)
            if size is not None:
                effect = self._effect(measure)
                rank = self._rank(measure, size, taped)
                cause = _Cause(measure.words, size, rank, effect)
                if measure.count > 1 or rank == 0:
                    yield cause
                else:
                    singles.append(cause)
        yield from _least_of_each(singles)

    def _rank(self, measure: _Measure, size: float, taped: _Taped) -> float:
        small = SMALL[self._job.units]
        strays = measure.strays
        if strays is not None and abs(strays) > small and abs(size - strays) <= small:
            return 0.0
        if abs(size) > WHOLE[self._job.units]:
            return 6.0
        proved = not taped.governs and self._proved()
        if measure.count > 1 and abs(size) <= small and not proved:
            return 2.0
        return 5.0 if proved else 4.0

    def _proved(self) -> bool:
        """Whether a length taped between two marks agrees with the runs and the rises."""
        return any(other.governs and not self.is_off(other) for other in self.taped())

    def _misread(self, taped: _Taped) -> _Cause:
        """The tape on the rail itself."""
        whole, small = float(WHOLE[self._job.units]), SMALL[self._job.units]
        times = round(taped.off / whole)
        rank = 1.0 if times and abs(taped.off - times * whole) <= small / 2 else 4.5
        words = f"the reading of {taped.words.split()[0]} or a mark plumbed to it"
        if not taped.governs:
            return _Cause("the reading of rail_length", -taped.off, rank, "no mark hangs on it")
        marks = self._done.marks
        span = float(marks[-1].s - marks[0].s) / (taped.high.s - taped.low.s)
        return _Cause(words, -taped.off, rank, self._moves(small * span))

    def _end(self, taped: _Taped) -> _Cause:
        """A newel that stands otherwise: the rail's end alone."""
        newels = [newel for newel in self._done.newels if newel.stands or newel.kind == "wall"]
        names = " or ".join(f"the {newel_name(newel.end, newel.kind)}" for newel in newels)
        where = names or "a newel not where it is to go"
        level = taped.off * cos(self._done.rail.pitch)
        effect = "only the rail's end moves by it, no mark does"
        return _Cause(f"a rail end, {where}", level, 3.0, effect, ("further out", "further in"))

    def _measures(self, taped: _Taped) -> Iterator[_Measure]:
        steps = len(self._points)
        from statistics import median  # only where a taped rail disagrees

        none = (0.0,) * steps
        rises = [float(rise.mm) for rise in self._section.rises]
        runs = [square_run(tread.plan) for tread in self._done.treads]
        straight = [float(run) for run in runs if run is not None]
        for place, tread in enumerate(self._done.treads):
            run = runs[place]
            if run is not None and taped.low.level <= place < taped.high.level:
                per = 1 / cos(radians(tread.plan.skew or 0.0))
                along = tuple(per * (level > place) for level in range(steps))
                strays = median(straight) - float(run)
                yield _Measure(f"the run of tread {tread.plan.number}", along, none, strays)
        for place, rise in enumerate(rises[1:], start=1):
            up = tuple(float(nosing >= place) for nosing in range(steps))
            yield _Measure(f"rise {place + 1}", none, up, median(rises) - rise)
        ramp = tuple(float(level) for level in range(steps))
        if len(set(rises)) == 1:
            yield _Measure(f"the rise, taken once for all {steps}", none, ramp, count=steps)
        if len(straight) == steps - 1 > 1 and max(straight) - min(straight) < _CLOSE:
            yield _Measure(f"the run, taken once for all {steps - 1}", ramp, none, count=steps - 1)

    def _stretch(self, measure: _Measure, size: float, low: _Spot, high: _Spot) -> float:
        """Along the rail between two spots by the nosings' pitch, a measure being so much more."""
        points: list[Point] = [
            (float(s) + along * size, float(h) + up * size)
            for (s, h), along, up in zip(self._points, measure.along, measure.up, strict=True)
        ]
        level = high.s - low.s + size * (measure.along[high.level] - measure.along[low.level])
        return level / cos(resting_line(points).pitch)

    def _explaining(self, measure: _Measure, taped: _Taped) -> float | None:
        """The size that makes the computed length the taped one; None where no likely one does."""
        wanted = taped.off + self._stretch(measure, 0.0, taped.low, taped.high)
        size, step = 0.0, SMALL[self._job.units]
        try:
            for _ in range(_STEPS):
                short = wanted - self._stretch(measure, size, taped.low, taped.high)
                if abs(short) < _CLOSE:
                    return size
                ahead = self._stretch(measure, size + step, taped.low, taped.high)
                size += short * step / (ahead - (wanted - short))
                if abs(size) > _LARGEST:
                    return None
                step = 1e-3
        except ZeroDivisionError:
            pass
        return None

    def _effect(self, measure: _Measure) -> str:
        """What a small error of a measure does to the last mark, by the pitch that governs."""
        small = SMALL[self._job.units]
        first, last = (self._mark(self._done.marks[end].name) for end in (0, -1))
        given = self._section.rail_taped
        if given is None:
            moved = self._stretch(measure, small, first, last)
            return self._moves(moved - self._stretch(measure, 0.0, first, last))
        low, high = self._mark(given.start), self._mark(given.end)

        def along(size: float) -> float:
            far = last.s - first.s + size * (measure.along[last.level] - measure.along[first.level])
            near = high.s - low.s + size * (measure.along[high.level] - measure.along[low.level])
            return far * float(given.length.mm) / near

        return self._moves(along(small) - along(0.0))

    def _moves(self, by: float) -> str:
        shown, last = self._job.shown, self._done.marks[-1].name
        small = shown.text(SMALL[self._job.units])
        far = shown.text(abs(by))
        if shown.rounded(by) == 0:
            return f"{small} of it moves mark {last} by less than {shown.text(shown.step)}"
        return f"{small} of it moves mark {last} by {far} along the rail"


def _least_of_each(causes: Sequence[_Cause]) -> Iterator[_Cause]:
    """One run and one rise, those that need the least."""
    for kind in ("the run of", "rise"):
        of_kind = [cause for cause in causes if cause.words.startswith(kind)]
        if of_kind:
            yield min(of_kind, key=lambda cause: abs(cause.size))
