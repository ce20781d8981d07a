"""Sets of tape readings over varied stairs with one known mistake, none or two.

The mistakes are made to the marks or to the readings from first principles; the tape's noise is
normal with sigma 1/32 in, cut at 1/16 in, one error a reading.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache
from itertools import pairwise

import pytest

from stairjig.lengths import INCH, Shown
from stairjig.readings.diagnose import diagnose
from stairjig.readings.say import say
from stairjig.readings.values import Diagnosis, Kind, RailMarks, Readings, Verdict, Way
from stairjig.readings.words import GO_ON

IN = float(INCH)
LEAST = 3 / 16 * IN
LEAST_DRIFT = 3 / 8 * IN
SETS = 2000
CLEAN_SETS = 1000


@dataclass(frozen=True)
class Told:
    """What was done: kind, index of the mark, amount in mm (+ up); and the readings it gave."""

    kind: Kind
    index: int
    amount: float
    rail: RailMarks
    readings: Readings


def stair(rng: random.Random) -> RailMarks:
    """6 to 60 marks, 2 to 4 on a tread, runs alike or up to 3/8 in apart, pitch 30° to 42°."""
    count, per_tread = rng.randint(6, 60), rng.randint(2, 4)
    pitch = math.radians(rng.uniform(30, 42))
    run = rng.uniform(4, 6) * per_tread * math.cos(pitch) * IN
    apart = rng.choice((0.0, 3 / 16, 3 / 8)) * IN
    names, positions, at = [], [], 0.0
    for tread in range(1, count // per_tread + 2):
        step = (run + rng.uniform(-apart, apart)) / per_tread / math.cos(pitch)
        for baluster in range(1, per_tread + 1):
            names.append(f"{tread}-{baluster}")
            positions.append(at)
            at += step
    end = rng.uniform(2, 5) * IN, rng.uniform(2, 5) * IN
    return RailMarks(
        "Hall flight",
        tuple(names[:count]),
        tuple(positions[:count]),
        math.tan(pitch),
        IN / 8,
        Shown("inch", INCH / 16),
        -end[0],
        positions[count - 1] + end[1],
    )


def tape_error(rng: random.Random) -> float:
    while True:
        error = rng.gauss(0, IN / 32)
        if abs(error) <= IN / 16:
            return error


def taped(rng: random.Random, places: list[float], way: Way, total: bool, step: float) -> Readings:
    """The places of marks as a tape reads them, rounded to `step` where it is not 0."""

    def read(length: float) -> float:
        length += tape_error(rng)
        return round(length / step) * step if step else length

    starts = places[:-1] if way == "spacing" else [places[0]] * (len(places) - 1)
    values = tuple(read(b - a) for a, b in zip(starts, places[1:], strict=True))
    return Readings(way, values, read(places[-1] - places[0]) if total else None)


def size(rng: random.Random, least: float = LEAST, most: float = 1.5 * IN) -> float:
    return rng.choice((-1, 1)) * rng.uniform(least, most)


Marks = list[float]
Made = tuple[int, float]


def misplace(rng: random.Random, rail: RailMarks, marks: Marks, at: int | None = None) -> Made:
    index, amount = rng.randrange(len(rail)) if at is None else at, size(rng)
    marks[index] += amount
    return index, amount


def shift(rng: random.Random, rail: RailMarks, marks: Marks, at: int | None = None) -> Made:
    index, amount = rng.randrange(1, len(rail)) if at is None else at, size(rng)
    for later in range(index, len(marks)):
        marks[later] += amount
    return index, amount


def drop(rng: random.Random, rail: RailMarks, marks: Marks, at: int | None = None) -> Made:
    index = rng.randrange(len(rail)) if at is None else at
    del marks[index]
    return index, 0.0


def add(rng: random.Random, rail: RailMarks, marks: Marks, at: int | None = None) -> Made:
    """A mark more, 3/16 in or more from its neighbours, or beyond either end."""
    index = rng.randrange(len(rail) + 1) if at is None else at
    low = marks[index - 1] if index else marks[0] - 6 * IN
    high = marks[index] if index < len(marks) else marks[-1] + 6 * IN
    place = rng.uniform(low + LEAST, high - LEAST)
    marks.insert(index, place)
    return index, place


def stretch(rng: random.Random, rail: RailMarks, marks: Marks) -> Made:
    most = size(rng, LEAST_DRIFT, 3 * IN)
    for index, place in enumerate(marks):
        marks[index] = place * (1 + most / rail.length)
    return 0, most


def bow(rng: random.Random, rail: RailMarks, marks: Marks) -> Made:
    """A mark at u of L moves 4 u (L - u) / L^2 x bow x tan(pitch): L from mark to mark, or rail."""
    assert rail.lower is not None
    assert rail.upper is not None
    low, high = rng.choice(((0.0, rail.length), (rail.lower, rail.upper)))
    much, length = size(rng, LEAST_DRIFT, 1.5 * IN), high - low
    hump = [4 * (at - low) * (high - at) / length**2 for at in rail.positions]
    most = max(abs(part - hump[0]) for part in hump)
    for index, part in enumerate(hump):
        marks[index] += much * part / most
    return 0, much / most / rail.bow_shift_per_bow


MADE: dict[Kind, Callable[..., Made]] = {
    Kind.MISPLACED: misplace,
    Kind.SHIFTED: shift,
    Kind.MISSING: drop,
    Kind.EXTRA: add,
    Kind.RATIO: stretch,
    Kind.BOWED: bow,
}
DRIFTS = (Kind.RATIO, Kind.BOWED)


def misread(
    rng: random.Random, readings: Readings, at: int | None = None
) -> tuple[Readings, int, float]:
    """One reading a whole inch too much or too little, or 3/8 for 5/8 and the like."""
    values = [float(value) for value in readings.values]
    at = rng.randrange(len(values)) if at is None else at - 1
    wrong = values[at] + rng.choice((-1, 1)) * IN
    mirrored = (2 * math.floor(values[at] / IN) + 1) * IN - values[at]
    if rng.random() < 0.5 and abs(mirrored - values[at]) >= LEAST:
        wrong = mirrored
    amount, values[at] = wrong - values[at], wrong
    return Readings(readings.way, tuple(values), readings.total), at + 1, amount


def one_mistake(rng: random.Random, kind: Kind, step: float = 0.0) -> Told:
    rail = stair(rng)
    way: Way = rng.choice(("spacing", "running"))
    total = rng.random() < 0.5 or (way == "spacing" and kind in DRIFTS)
    marks = list(rail.positions)
    index, amount = MADE[kind](rng, rail, marks) if kind in MADE else (0, 0.0)
    readings = taped(rng, marks, way, total, step)
    if kind is Kind.MISREAD:
        readings, index, amount = misread(rng, readings)
    return Told(kind, index, amount, rail, readings)


def names_it(verdict: Verdict, told: Told) -> bool:
    """Whether the verdict is the one that was made: class, mark and, roughly, amount.

    A mark too many is named by its neighbours; a drift by its way and its size within a factor.
    """
    names = told.rail.names
    if told.kind is Kind.EXTRA:
        beside = tuple(names[i] for i in (told.index - 1, told.index) if 0 <= i < len(names))
        return verdict.kind is told.kind and verdict.marks == beside
    if told.kind in DRIFTS:
        return verdict.kind is told.kind and 0.4 < verdict.amount / told.amount < 2.5
    said = [(verdict.kind, verdict.marks, verdict.amount)]
    if verdict.twin:
        said.append((verdict.twin[0], (verdict.twin[1],), verdict.twin[2]))
    return any(
        kind is told.kind and marks == (names[told.index],) and abs(amount - told.amount) < LEAST
        for kind, marks, amount in said
    )


def missed(seed: int, step: float = 0.0) -> list[tuple[Told, Diagnosis]]:
    """The sets, of `SETS`, whose mistake is not named; no set may pass as good without a hint."""
    rng = random.Random(seed)
    kinds = [*MADE, Kind.MISREAD]
    unnamed = []
    for number in range(SETS):
        told = one_mistake(rng, kinds[number % len(kinds)], step)
        found = diagnose(told.readings, told.rail)
        assert 1 <= len(found.verdicts) <= 2
        if not any(names_it(verdict, told) for verdict in found.verdicts):
            unnamed.append((told, found))
    return unnamed


def test_each_of_2000_single_mistakes_is_named_as_its_class_or_one_of_two() -> None:
    assert missed(seed=20) == []


def test_of_2000_sets_rounded_to_a_sixteenth_at_least_995_in_1000_are_named() -> None:
    """Measured once over 28,000 sets: all but four slight bows from spacings."""
    unnamed = missed(seed=21, step=IN / 16)
    print(f"rounded to 1/16 in: {1 - len(unnamed) / SETS:.2%} of {SETS} named")
    assert len(unnamed) <= SETS * 0.005


def beside_copied_total(rng: random.Random, step: float) -> Told:
    """A slip of marks or of the tape in running readings, the total as printed, or taped so.

    A helper copies it from the check page; or the marks are right and the tape was moved.
    """
    rail = stair(rng)
    marks = list(rail.positions)
    index, amount = shift(rng, rail, marks)
    values = taped(rng, marks, "running", False, step).values
    total = rail.length + rng.choice((0.0, tape_error(rng)))
    total = round(total / step) * step if step else total
    return Told(Kind.SHIFTED, index, amount, rail, Readings("running", values, total))


@pytest.mark.parametrize("step", [0.0, IN / 16])
def test_a_slip_of_running_readings_is_named_whatever_a_copied_total_says(step: float) -> None:
    """The last of them is a total, too: that the two differ is said, and nothing passes."""
    rng = random.Random(50)
    for _ in range(250):
        told = beside_copied_total(rng, step)
        found = diagnose(told.readings, told.rail)
        lines = say(found, told.rail)
        assert found.redo
        assert len(found.verdicts) <= 2
        assert any(names_it(verdict, told) for verdict in found.verdicts), (told, lines)
        assert not [line for line in lines if GO_ON in line or "marks look right" in line]
        if abs(told.amount) > IN * 5 / 16:
            slipped = told.rail.names[told.index - 1 : told.index + 1]
            assert found.apart is not None
            assert found.apart.as_drawn
            assert found.apart.between == slipped or told.index == len(told.rail) - 1
            assert lines[1].startswith("bore nothing: the last running reading, ")


def test_a_total_off_by_itself_is_the_one_reading_that_is_named() -> None:
    rng = random.Random(51)
    for _ in range(150):
        rail = stair(rng)
        right = taped(rng, list(rail.positions), "running", True, 0.0)
        assert right.total is not None
        found = diagnose(replace(right, total=right.total + size(rng)), rail)
        assert found.redo
        assert [(one.kind, one.marks) for one in found.verdicts] == [(Kind.MISREAD, ())]


@cache
def clean_sets(seed: int, step: float) -> list[Diagnosis]:
    rng = random.Random(seed)
    found: list[Diagnosis] = []
    for _ in range(CLEAN_SETS):
        rail = stair(rng)
        way: Way = rng.choice(("spacing", "running"))
        readings = taped(rng, list(rail.positions), way, rng.random() < 0.5, step)
        found.append(diagnose(readings, rail))
    return found


def test_none_of_1000_clean_sets_raises_an_alarm() -> None:
    found = clean_sets(seed=30, step=0.0)
    assert not any(one.redo for one in found)
    assert {one.verdict.kind for one in found} == {Kind.WITHIN}


def test_none_of_1000_clean_sets_rounded_to_a_sixteenth_raises_an_alarm() -> None:
    found = clean_sets(seed=31, step=IN / 16)
    assert not any(one.redo for one in found)
    assert {one.verdict.kind for one in found} == {Kind.WITHIN}


@pytest.mark.parametrize("share", [0.0, 0.5])
def test_no_clean_set_of_spacings_alarms_however_well_the_tape_is_read(share: float) -> None:
    """Exact, or half as far off as a tape may be, to the sixteenth: rounding alone adds up, too.

    What an exact tape rounds the same way each time only a total tells from marks that are off.
    """
    rng = random.Random(32)
    for _ in range(CLEAN_SETS):
        rail = stair(rng)
        spacings = (b - a + share * tape_error(rng) for a, b in pairwise(rail.positions))
        values = tuple(round(value / IN * 16) * IN / 16 for value in spacings)
        total = round(rail.length / IN * 16) * IN / 16 if rng.random() < 0.5 else None
        found = diagnose(Readings("spacing", values, total), rail)
        rounded = {Kind.WITHIN} if total or share else {Kind.WITHIN, Kind.UNPROVED}
        assert found.verdict.kind in rounded
        assert found.redo == (found.verdict.kind is Kind.UNPROVED)


def test_a_slight_drift_is_hinted_at_in_few_clean_sets_and_never_from_running_readings() -> None:
    found = clean_sets(seed=30, step=0.0)
    hinted = [one for one in found if len(one.verdicts) > 1]
    assert len(hinted) < 0.03 * CLEAN_SETS
    assert all(one.verdicts[1].kind in DRIFTS and one.way == "spacing" for one in hinted)


def two_mistakes(rng: random.Random, kinds: tuple[Kind, Kind]) -> tuple[list[Told], Readings]:
    """Two mistakes, five or more marks apart and off the ends; the upper one made first."""
    rail = stair(rng)
    while len(rail) < 14:
        rail = stair(rng)
    low = rng.randrange(2, len(rail) - 9)
    places = low, rng.randrange(low + 5, len(rail) - 3)
    way: Way = rng.choice(("spacing", "running"))
    marks, done = list(rail.positions), []
    for kind, at in sorted(zip(kinds, places, strict=True), key=lambda pair: -pair[1]):
        made = MADE[kind](rng, rail, marks, at)
        done.append(Told(kind, *made, rail, Readings(way, ())))
    return done, taped(rng, marks, way, rng.random() < 0.5, 0.0)


def test_of_two_mistakes_at_once_none_passes_and_more_than_one_is_said() -> None:
    rng = random.Random(40)
    kinds = (Kind.MISPLACED, Kind.SHIFTED, Kind.MISSING, Kind.EXTRA)
    both_named = 0
    for _ in range(120):
        done, readings = two_mistakes(rng, (rng.choice(kinds), rng.choice(kinds)))
        found = diagnose(readings, done[0].rail)
        assert found.redo
        assert {told.kind for told in done} == {Kind.MISSING} or found.verdict.kind is Kind.SEVERAL
        parts = found.verdict.parts or (found.verdict,)
        named = {mark for part in parts for mark in part.marks}
        ours = [done[0].rail.names[told.index] for told in done]
        assert named & set(ours)
        both_named += named >= set(ours)
    assert both_named > 114


def test_a_drift_with_a_mark_off_besides_never_passes() -> None:
    rng = random.Random(41)
    for _ in range(80):
        rail = stair(rng)
        marks = list(rail.positions)
        MADE[rng.choice(DRIFTS)](rng, rail, marks)
        index, _ = misplace(rng, rail, marks)
        readings = taped(rng, marks, rng.choice(("spacing", "running")), True, 0.0)
        assert diagnose(readings, rail).redo, (rail, index)


@pytest.mark.parametrize("step", [0.0, IN / 16])
def test_two_or_three_marks_off_are_named_with_amount_and_way_wherever_they_stand(
    step: float,
) -> None:
    """Running readings, the marks side by side in half of the sets; a slip of all is not said."""
    rng = random.Random(42)
    named = 0
    for _ in range(300):
        rail, many = stair(rng), rng.choice((2, 3))
        while len(rail) < 12:
            rail = stair(rng)
        marks = list(rail.positions)
        first = rng.randrange(1, len(rail) - many)
        close = rng.random() < 0.5
        at = range(first, first + many) if close else rng.sample(range(1, len(rail)), many)
        alike = size(rng, IN / 4, IN * 3 / 8)
        done = {rail.names[index]: alike for index in at}
        for name, amount in done.items():
            marks[rail.names.index(name)] += amount
        found = diagnose(taped(rng, marks, "running", False, step), rail)
        assert found.redo
        parts = {part.marks[0]: part.amount for part in found.verdict.parts if part.marks}
        named += parts.keys() == done.keys() and all(
            abs(parts[name] - amount) < IN / 8 for name, amount in done.items()
        )
    assert named == 300


def test_no_mark_is_said_to_be_nothing_too_far_up_or_down() -> None:
    """Marks a little over the tolerance off: no slip of next to nothing is why they fail."""
    rng = random.Random(3)
    for _ in range(700):
        rail = stair(rng)
        marks = list(rail.positions)
        for _ in range(rng.choice((1, 2, 3))):
            marks[rng.randrange(len(marks))] += size(rng, IN / 8, IN / 4)
        found = diagnose(taped(rng, marks, "running", False, IN / 16), rail)
        assert not [line for line in say(found, rail) if " 0″ too far" in line]
