"""As many readings as there should be: whether they pass, and what is wrong where they do not.

The causes that leave no reading further off than the tape's own error are compared by their
likelihood; at most two are said. A reading off by more than the tolerance always fails.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from stairjig.lengths import INCH
from stairjig.readings.cases import (
    PER_CAUSE,
    Case,
    capped,
    half_spacing,
    likeliest,
    with_causes,
)
from stairjig.readings.causes import (
    DRIFTS,
    UNLIKELY_CAUSE,
    Cause,
    drift_causes,
    nothing_wrong,
    single_causes,
)
from stairjig.readings.noise import HAIR, SLACK, Noise
from stairjig.readings.several import several_causes
from stairjig.readings.sums import beyond, nearest
from stairjig.readings.tape import Tape
from stairjig.readings.values import Kind, RailMarks, Way

BEHIND = 8.0
"""A second account is said where it is no more than e^8 times less likely."""
SURE = 4.5
"""Standard deviations from which a drift fails though no single reading is out."""
LIKELY = 3.5
"""Standard deviations from which a drift that moves a mark out of tolerance is more than chance."""
HINT = 2.3
"""Standard deviations from which a drift is said beside `within tolerance`."""
HINT_OUTSIDE = 1.5
"""The same where a reading is out of the tape's own errors, if within the tolerance."""
_FEW = 3
MOST_CAUSES = 6
"""Readings with more to explain are not these marks' readings."""
MOST_SHARE = 0.12
"""No fit to the page and no wrong pitch makes a larger ratio that is not all that is wrong."""
_PER_MOVE = 0.1
"""What each mm that marks are off makes an account of several mistakes less likely."""
LEAST_DRIFT = float(INCH) * 3 / 16
LEAST_MOVE = float(INCH) * 3 / 32
"""The least drift, and the least move of a mark, that are said beside `within tolerance`."""


def spacing_limit(way: Way, noise: Noise, tolerance: float) -> float:
    """From where on a spacing fails: the tolerance; between running readings, their errors too."""
    return tolerance if way == "spacing" else max(tolerance, 2 * noise.cut + SLACK)


def fails(taken: Tape, tolerance: float) -> bool:
    """Whether a reading, or the spacing between two running ones, is out of tolerance.

    A spacing counts as it is read; a running reading's own errors are no fault of the marks.
    """
    limit = tolerance + HAIR
    own = max(limit, taken.noise.cut + HAIR)
    marks = taken.off[: len(taken.off) - taken.total]
    if taken.total and abs(taken.off[-1]) > own:
        return True
    if taken.way == "spacing":
        return any(abs(off) > limit for off in marks)
    apart = (b - a for a, b in zip((0.0, *marks), marks, strict=False))
    between = spacing_limit(taken.way, taken.noise, tolerance) + HAIR
    return any(abs(off) > own for off in marks) or any(abs(off) > between for off in apart)


def passing(base: Case, rail: RailMarks) -> tuple[list[Case], bool]:
    """The accounts of readings none of which fails, and whether they fail all the same.

    They do where a drift is sure, and likelier than one mark's or one slip's, though it is spread
    over many spacings; and as not proved where the spacings add up to more than honest errors do,
    or a drift that would move a mark out of tolerance is more than chance. Where it only may be
    there, it is said beside `within tolerance`.
    """
    taken, cut = base.tape, base.tape.noise.cut + HAIR
    single = _no_drifts(single_causes(taken, rail, cut))
    drifts = [*drift_causes(taken, rail, max(cut + SLACK, rail.tolerance))]
    rival = min((cause.unlikely for cause in single), default=math.inf)
    grave = [cause for cause in drifts if abs(cause.amount) > rail.tolerance]
    likely = [cause for cause in grave if cause.unlikely < rival]
    if sure := [cause for cause in likely if _shows(base, rail, cause, SURE)]:
        return _cases(base, sure), True
    worth = [cause for cause in (*single, *drifts) if _worth_a_hint(taken, cause, cut)]
    hint = _cases(base, worth)[:1]
    likely = [cause for cause in likely if _shows(base, rail, cause, LIKELY)]
    if doubt := _unproved(base, rail, likely):
        return [doubt, *(_cases(base, likely) or hint or _cases(base, grave))[:1]], True
    return [base, *hint], False


def _unproved(base: Case, rail: RailMarks, likely: Sequence[Cause]) -> Case | None:
    """The case that nothing is proved, as the spacings' sum goes too far, or a drift is likely."""
    added = beyond(base.tape, rail.tolerance)
    if added:
        form = "apart" if added.apart else "rounded" if added.rounded else ""
        return with_causes(
            base, [Cause(Kind.UNPROVED, added.index, added.off, 0.0, form=form)], 0.0
        )
    return with_causes(base, [Cause(Kind.UNPROVED, 0, 0.0, 0.0)], 0.0) if likely else None


def _shows(base: Case, rail: RailMarks, cause: Cause, least: float) -> bool:
    """Whether a drift shows by so many standard deviations, and not by what rounding does."""
    if _gain(base.tape, cause) < least:
        return False
    exact = nearest(base.tape)
    bound = max(base.tape.noise.cut + HAIR + SLACK, rail.tolerance)
    alike = (other for other in drift_causes(exact, rail, bound) if other.kind is cause.kind)
    return any(other.amount * cause.amount > 0 and _gain(exact, other) >= least for other in alike)


def _no_drifts(causes: Iterable[Cause]) -> list[Cause]:
    return [cause for cause in causes if cause.kind not in DRIFTS]


def _cases(base: Case, causes: Iterable[Cause]) -> list[Case]:
    return likeliest((with_causes(base, [c], c.unlikely) for c in causes), 2, BEHIND)


def _gain(taken: Tape, cause: Cause) -> float:
    """How many standard deviations better a drift explains the readings than nothing wrong."""
    if cause.kind not in DRIFTS:
        return 0.0
    better = nothing_wrong(taken) - (cause.unlikely - UNLIKELY_CAUSE[cause.kind])
    return math.sqrt(max(0.0, 2 * better))


def _worth_a_hint(taken: Tape, cause: Cause, cut: float) -> bool:
    outside = bool(taken.outside(cut))
    if cause.kind in DRIFTS:
        least = HINT_OUTSIDE if outside else HINT
        return _gain(taken, cause) >= least and abs(cause.amount) >= LEAST_DRIFT
    least = LEAST_DRIFT if cause.kind is Kind.MISREAD else LEAST_MOVE
    return outside and abs(cause.amount) >= least


def wrong(base: Case, rail: RailMarks) -> list[Case]:
    """The accounts of readings that fail: one cause, or two that fit as well, or several."""
    cases, few = _explained(base, rail), _few_marks(base, rail)
    return [few] if few and few.unlikely < cases[0].unlikely else cases


def _explained(base: Case, rail: RailMarks) -> list[Case]:
    """The same, few marks off by themselves left out.

    What is smaller than half the tolerance is not why readings fail. Where the tape's errors are
    larger than they should be, one cause may leave readings off that are within tolerance.
    """
    cut = base.tape.noise.cut
    for bound in (cut + HAIR, cut + SLACK):
        if cases := _cases(base, _large(single_causes(base.tape, rail, bound), rail)):
            return cases
    apart = fallen_apart(base, rail)
    bound = max(cut + SLACK, rail.tolerance)
    loose = _cases(base, _large(single_causes(base.tape, rail, bound), rail))
    if loose and (len(apart.causes) < 2 or loose[0].causes[0].kind in DRIFTS):
        return loose
    return [apart]


def _large(causes: Iterable[Cause], rail: RailMarks) -> list[Cause]:
    return [cause for cause in causes if abs(cause.amount) > rail.tolerance / 2]


def _few_marks(base: Case, rail: RailMarks) -> Case | None:
    """Two or three marks off by running readings, where all others are within tolerance.

    A slip, a ratio or a bow that is spread thin over all marks may come near them as well; which
    of the two it is, their likelihoods tell.
    """
    taken = base.tape
    outside = taken.outside(max(rail.tolerance, taken.noise.cut) + HAIR)
    if taken.way == "spacing" or taken.total or not 2 <= len(outside) <= _FEW:
        return None
    causes = [Cause(Kind.MISPLACED, taken.spans[at][1], taken.off[at], 0.0) for at in outside]
    if any(abs(cause.amount) > half_spacing(base) for cause in causes):
        return None
    rest = sum(off * off for at, off in enumerate(taken.off) if at not in outside)
    unlikely = len(causes) * UNLIKELY_CAUSE[Kind.MISPLACED] + rest / (2 * taken.noise.sd**2)
    return with_causes(base, causes, unlikely)


def fallen_apart(base: Case, rail: RailMarks) -> Case:
    """The case with whatever else is wrong besides what it says already.

    What is off by less than the tolerance counts only where nothing else is.
    """
    cut = base.tape.noise.cut
    causes: tuple[Cause, ...] = ()
    for bound in (cut + SLACK, cut + HAIR, rail.tolerance):
        found = several_causes(base.tape, rail, bound)
        large = tuple(cause for cause in found if abs(cause.amount) > rail.tolerance)
        causes = causes or large or (() if base.causes else found)
    if not causes and not base.causes:
        causes = (_worst(base.tape),)
    count = len(base.causes) + len(causes)
    moves = sum(abs(cause.amount) for cause in causes) * _PER_MOVE
    left = 0.0 if causes else capped(base.tape.off, base.tape.noise.sd)
    return with_causes(base, causes, PER_CAUSE * count + moves + left)


def strange(case: Case) -> bool:
    """Whether so much would have to be wrong that these are not this rail's readings."""
    unread = sum(cause.kind is Kind.UNREAD for cause in case.causes)
    wrong = len(case.causes) - unread
    few = unread > 1 and wrong > 1 and 2 * wrong > len(case.tape.read) - case.tape.total
    far = any(abs(cause.amount) > half_spacing(case) for cause in case.causes)
    beside = len(case.causes) > 1 and any(abs(cause.share) > MOST_SHARE for cause in case.causes)
    return wrong > MOST_CAUSES or (few and far) or beside


def _worst(taken: Tape) -> Cause:
    reading = max(range(len(taken.off)), key=lambda index: abs(taken.off[index]))
    return Cause(Kind.SHIFTED, taken.spans[reading][1], taken.off[reading], 0.0)
