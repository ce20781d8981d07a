"""Running readings and a total: the first mark to the last, taped twice.

The last running reading is a total, too, and the others bear it out. So a total never mends running
readings: they are judged by themselves, and a total that disagrees stands alone. It may be copied
from the drawing, it may be misread, or it may be right and the tape was moved among the others; no
mark is proved before it is taped again.
"""

from __future__ import annotations

from collections.abc import Sequence

from stairjig.readings.cases import Case, clean, with_causes
from stairjig.readings.causes import Cause
from stairjig.readings.counts import without_readings
from stairjig.readings.noise import HAIR, SLACK, Noise
from stairjig.readings.several import misread
from stairjig.readings.tape import tape
from stairjig.readings.values import Apart, Kind, RailMarks

_REACHES = (Kind.MISPLACED, Kind.SHIFTED, Kind.RATIO)
"""What moves the last mark, where it is not another mark that is misplaced."""


def total_misread(
    rail: RailMarks, read: Sequence[float], total: float, noise: Noise
) -> Case | None:
    """The case that the total alone is wrong, where it is off by more than it may be.

    The running readings are within tolerance.
    """
    taken = tape("running", rail.positions, read, total, noise)
    if abs(taken.off[-1]) <= max(rail.tolerance, noise.cut) + HAIR:
        return None
    cause = misread(taken, len(taken.read) - 1, -1, noise.cut, rail)
    return with_causes(clean(taken, range(len(rail))), [cause], 0.0)


def contradiction(
    cases: Sequence[Case], rail: RailMarks, last: float, total: float, noise: Noise
) -> Apart | None:
    """How the total contradicts the running readings, which `cases` account for without it.

    Two readings may be off each, one of them against a mark that many bear out.
    """
    as_drawn = _as_drawn(rail, total, noise)
    if _has(cases[0], Kind.UNREAD, len(rail) - 1) or (as_drawn and _ends_elsewhere(cases[0], rail)):
        return None
    expected = _expected(cases, rail)
    near = abs(total - last) <= 2 * noise.cut + HAIR
    if near and (expected is None or abs(total - expected) <= noise.cut + SLACK):
        return None
    return Apart(last, total, _slipped(cases, rail) if as_drawn else (), as_drawn)


def _as_drawn(rail: RailMarks, total: float, noise: Noise) -> bool:
    return abs(total - rail.length) <= noise.cut + SLACK


def _ends_elsewhere(case: Case, rail: RailMarks) -> bool:
    """Whether the last reading is not the drawing's last mark's, so that it is no total."""
    last = len(rail) - 1
    return _has(case, Kind.MISSING, last) or _has(case, Kind.EXTRA, last + 1)


def _has(case: Case, kind: Kind, index: int) -> bool:
    return any((cause.kind, cause.index) == (kind, index) for cause in case.causes)


def _expected(cases: Sequence[Case], rail: RailMarks) -> float | None:
    """The total by the first account, where one cause is all of it and reaches the last mark."""
    cause = _only(cases[0])
    if cause is None or not _reaches(cause, rail):
        return None
    return rail.length + cause.amount


def _only(case: Case) -> Cause | None:
    return case.causes[0] if len(case.causes) == 1 else None


def _reaches(cause: Cause, rail: RailMarks) -> bool:
    if cause.kind is Kind.MISPLACED:
        return cause.index == len(rail) - 1
    return cause.kind in _REACHES


def _slipped(cases: Sequence[Case], rail: RailMarks) -> tuple[str, ...]:
    """The marks between which the tape may have been moved."""
    for case in cases:
        cause = _only(case)
        if cause and cause.kind is Kind.SHIFTED:
            return rail.names[cause.index - 1], rail.names[cause.index]
    return ()


def with_last_reading(
    cases: Sequence[Case], rail: RailMarks, read: Sequence[float], total: float, noise: Noise
) -> list[Case]:
    """The accounts in the light of a total that agrees with the last reading, or goes beyond it.

    Then that is not misread; and where the total is as drawn and a reading is too few, the last
    mark is there and was not read.
    """
    last = len(rail) - 1
    if _is(cases[0], Kind.MISSING, last) and _as_drawn(rail, total, noise):
        return [without_readings("running", rail, [last], read, None, noise)]
    return [case for case in cases if not _is(case, Kind.MISREAD, last)] or [*cases]


def or_misread(cases: Sequence[Case], rail: RailMarks) -> list[Case]:
    """The accounts where the total is as drawn: the last reading may be misread, whatever its slip.

    That is, where it alone is off.
    """
    last = len(rail) - 1
    if len(cases) > 1 or not _is(cases[0], Kind.MISPLACED, last):
        return [*cases]
    taken = cases[0].tape
    cause = misread(taken, len(taken.read) - 1, last, taken.noise.cut, rail)
    bare = clean(taken, cases[0].marks)
    return [*cases, with_causes(bare, [cause], cases[0].unlikely)]


def _is(case: Case, kind: Kind, index: int) -> bool:
    cause = _only(case)
    return cause is not None and (cause.kind, cause.index) == (kind, index)
