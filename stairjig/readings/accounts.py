"""The one or two accounts of a sheet of readings, whatever their number."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import accumulate

from stairjig.frozen import frozen
from stairjig.readings.align import Alignment, align
from stairjig.readings.both_ways import (
    contradiction,
    or_misread,
    total_misread,
    with_last_reading,
)
from stairjig.readings.cases import Case, clean, half_spacing, likeliest
from stairjig.readings.causes import Cause
from stairjig.readings.counts import (
    drop_mark,
    extra,
    fits,
    left_out,
    missing,
    without_marks,
    without_readings,
)
from stairjig.readings.matched import BEHIND, fails, fallen_apart, passing, strange, wrong
from stairjig.readings.noise import HAIR, SLACK, Noise
from stairjig.readings.tape import tape
from stairjig.readings.values import Apart, Kind, RailMarks, Way


@frozen
class Sheet:
    """The readings to account for, in order, with the rail they were taken on."""

    rail: RailMarks
    way: Way
    read: tuple[float, ...]
    total: float | None
    noise: Noise


@frozen
class Accounts:
    """The one or two accounts of a sheet, the likelier first, and whether its readings fail.

    `apart`: how the total contradicts the running readings.
    """

    cases: tuple[Case, ...]
    redo: bool
    apart: Apart | None = None


def accounts(sheet: Sheet, unread: Sequence[str]) -> Accounts:
    """Account for the readings; `unread`: marks by name without one."""
    if sheet.way == "running" and sheet.total is not None and sheet.rail.names[-1] not in unread:
        return _beside_total(sheet, unread, sheet.total)
    cases, redo = _accounts(sheet, unread)
    return Accounts((*cases,), redo)


def _beside_total(sheet: Sheet, unread: Sequence[str], total: float) -> Accounts:
    """Account for running readings by themselves, then for the total beside them."""
    rail, noise = sheet.rail, sheet.noise
    cases, redo = _accounts(replace(sheet, total=None), unread)
    if not redo and (misread := total_misread(rail, sheet.read, total, noise)):
        return Accounts((misread,), True)
    apart = contradiction(cases, rail, sheet.read[-1], total, noise)
    if apart is None:
        return Accounts((*with_last_reading(cases, rail, sheet.read, total, noise),), redo)
    return Accounts((*(or_misread(cases, rail) if apart.as_drawn else cases),), redo, apart)


def _accounts(sheet: Sheet, unread: Sequence[str]) -> tuple[list[Case], bool]:
    short = len(sheet.rail) - 1 - len(sheet.read)
    if not short:
        return _matched(sheet)
    if unread and len(unread) == short:
        return _unread(sheet, [sheet.rail.names.index(name) for name in unread]), True
    return _miscounted(sheet, short), True


def _parts(sheet: Sheet) -> tuple[Way, RailMarks, Sequence[float], float | None, Noise]:
    return sheet.way, sheet.rail, sheet.read, sheet.total, sheet.noise


def _matched(sheet: Sheet) -> tuple[list[Case], bool]:
    rail = sheet.rail
    taken = tape(sheet.way, rail.positions, sheet.read, sheet.total, sheet.noise)
    base = clean(taken, range(len(rail)))
    if not fails(taken, rail.tolerance):
        return passing(base, rail)
    cases = wrong(base, rail)
    if _by_whole_marks(cases[0]):
        return [_fewest([cases[0], *_aligned(sheet)])], True
    return cases, True


def _by_whole_marks(case: Case) -> bool:
    """Whether several are off, much or by so much that a mark was taken for its neighbour."""
    half, count = half_spacing(case), len(case.causes)
    return count > 2 or (count == 2 and any(abs(cause.amount) > half for cause in case.causes))


def _fewest(cases: Iterable[Case]) -> Case:
    return min(cases, key=lambda case: (len(case.causes), case.unlikely))


def _unread(sheet: Sheet, gone: Sequence[int]) -> list[Case]:
    """Accounts of marks without a reading by name: not on the rail, or only not read.

    The others are known by their names, and are judged so unless far too much is wrong with them.
    """
    way, rail, read, total, noise = _parts(sheet)
    named = [
        without_marks(way, rail, gone, read, total, noise),
        without_readings(way, rail, gone, read, total, noise),
    ]
    fitting = _fitting(named, noise)
    if not fitting and len(gone) == 1:
        fitting = _fitting(missing(way, rail, read, total, noise), noise)
    by_name = _fewest(fallen_apart(case, rail) for case in reversed(named))
    return fitting or [_at_worst(sheet, named) if strange(by_name) else by_name]


def _miscounted(sheet: Sheet, short: int) -> list[Case]:
    """Accounts of too few or too many readings."""
    way, rail, read, total, noise = _parts(sheet)
    cases: list[Case] = []
    if short == 1:
        cases = [*missing(way, rail, read, total, noise), *_left_out(sheet)]
    if short == -1:
        cases = [*extra(way, rail, read, total, noise)]
    return _fitting(cases, noise) or [_simplest(sheet, cases, short)]


def _simplest(sheet: Sheet, cases: Iterable[Case], short: int) -> Case:
    """The account with the fewest mistakes; that readings end early counts for one."""
    worst = _at_worst(sheet, cases)
    if short < 2:
        return worst
    ended = _ended_early(sheet)
    wrong = sum(cause.kind is not Kind.UNREAD for cause in ended.causes)
    return worst if len(worst.causes) <= wrong + 1 else ended


def _ended_early(sheet: Sheet) -> Case:
    """The account that the readings are the first marks' in order, and no more was read."""
    rail, count = sheet.rail, len(sheet.read) + 1
    first = replace(  # a bow of a part of the rail is none of the rail
        rail, names=rail.names[:count], positions=rail.positions[:count], bow_shift_per_bow=0.0
    )
    found, _ = _matched(replace(sheet, rail=first, total=None))
    rest = [Cause(Kind.UNREAD, index, 0.0, 0.0) for index in range(count, len(rail))]
    return replace(found[0], causes=(*(_whole(c, rail) for c in found[0].causes), *rest))


def _whole(cause: Cause, rail: RailMarks) -> Cause:
    """A ratio by what it comes to at the rail's own last mark."""
    return replace(cause, amount=cause.share * rail.length) if cause.share else cause


def _at_worst(sheet: Sheet, cases: Iterable[Case]) -> Case:
    """The account with the fewest mistakes, where one alone does not explain the readings."""
    apart = (fallen_apart(case, sheet.rail) for case in cases)
    return _fewest([*apart, *_aligned(sheet)])


def _left_out(sheet: Sheet) -> list[Case]:
    """The likeliest spacing left out, if any: neighbours alike are one and the same to the tape."""
    if sheet.way == "running" or sheet.total is None:
        return []
    return likeliest(left_out(sheet.rail, sheet.read, sheet.total, sheet.noise), 1, 0.0)


def _fitting(cases: Iterable[Case], noise: Noise) -> list[Case]:
    cases = list(cases)
    for cut in (noise.cut + HAIR, noise.cut + SLACK):
        fitting = [case for case in cases if fits(case, cut)]
        if fitting:
            return likeliest(fitting, 2, BEHIND)
    return []


def _aligned(sheet: Sheet) -> list[Case]:
    """The marks read paired with those expected; nothing where all of them pair off."""
    way, rail, read, total, noise = _parts(sheet)
    places = [0.0, *read] if way == "running" else [*accumulate(read, initial=0.0)]
    pairing = align(places, rail.positions, noise)
    if not pairing.gone and not pairing.more:
        return []
    causes = []
    for at in sorted(pairing.more, reverse=True):
        read, place = drop_mark(way, at, read, rail, noise)
        causes.append(Cause(Kind.EXTRA, _stands_before(at, pairing), place, 0.0))
    ends = {0, len(rail) - 1} & {*pairing.gone} or {0, len(places) - 1} & {*pairing.more}
    case = without_marks(way, rail, pairing.gone, read, None if ends else total, noise)
    together = sorted((*case.causes, *causes), key=lambda cause: cause.index)
    return [fallen_apart(replace(case, causes=(*together,)), rail)]


def _stands_before(at: int, pairing: Alignment) -> int:
    """The mark of the drawing that a mark too many, number `at` of those read, stands before."""
    before = at - sum(more < at for more in pairing.more)
    for gone in pairing.gone:
        before += gone <= before
    return before


def right_from_the_top(sheet: Sheet) -> bool:
    """Whether the readings fit when they are taken to run from the last mark down."""
    way, rail, read, total, noise = _parts(sheet)
    if len(read) != len(rail) - 1:
        return False
    down = [rail.positions[-1] - at for at in reversed(rail.positions)]
    return not tape(way, down, read, total, noise).outside(noise.cut + SLACK)
