"""One equal gap over uneven treads: it clears every riser and nosing, or it is refused."""

from __future__ import annotations

import random
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from job_files import TREADS, changed, job_in, treads_file, written
from strategies import inch_text, tape

from stairjig.lengths import INCH
from stairjig.setout.build import set_out
from stairjig.setout.clearance import Moving, clearance, clearest, nearest_spans

UNEVEN = "[10 1/4, 10 3/16, 10 5/16, 10 1/4, 10 1/8, 10 1/4]"


def even(treads=UNEVEN, **changes):
    return set_out(job_in(treads_file(treads=treads, spacing="even", **changes)))


def inches(mm):
    return float(mm) / float(INCH)


def half(mark):
    return mark.type.width.mm / 2


def level_gaps(section):
    """Every gap from newel to newel, face to face."""
    marks, newels = section.marks, (section.lower_newel, section.upper_newel)
    edges = [(mark.s - half(mark), mark.s + half(mark)) for mark in marks]
    if newels[0]:
        edges.insert(0, (None, newels[0].face))
    if newels[1]:
        edges.append((newels[1].face, None))
    return [high[0] - low[1] for low, high in pairwise(edges)]


def in_a_step(section):
    """Marks whose base stands across a riser's face or over a nosing, found tread by tread.

    Only for risers square to the line: the wood that a base may stand on is from a riser's face
    to the next nosing's edge.
    """
    hit = []
    for tread in section.treads:
        low, high = tread.plan.front.s, tread.plan.back.s - tread.plan.back_nosing
        for mark in tread.marks:
            reach = mark.type.base.mm / 2
            if float(mark.s - reach - low) < -1e-6 or float(mark.s + reach - high) > 1e-6:
                hit.append(mark.name)
    return hit


def flight_of(count, per, chance):
    """A flight whose runs vary by a quarter of an inch about 10 1/4, on the tape's marks."""
    steps = per // 4
    offs = [Fraction(chance.randint(-steps, steps), 2 * per) for _ in range(count)]
    return f"[{', '.join(inch_text(Fraction(41, 4) + off) for off in offs)}]"


def test_every_gap_of_an_even_row_is_the_same_and_adds_up_to_the_line():
    section = even().sections[0]
    assert {round(float(gap), 9) for gap in level_gaps(section)} == {round(float(section.gap), 9)}
    widths = sum(mark.type.width.mm for mark in section.marks)
    assert float(widths + len(section.marks) * section.gap) == pytest.approx(
        float(section.line_length)
    )


def test_newels_stand_one_gap_before_the_row_and_one_line_further():
    """Faces at b - gap and L + b, b being where the row starts."""
    section = even().sections[0]
    start = section.marks[0].s - half(section.marks[0])
    assert 0 <= start < section.gap
    assert float(section.lower_newel.face) == pytest.approx(float(start - section.gap))
    assert float(section.upper_newel.face) == pytest.approx(float(section.line_length + start))


def test_an_even_row_clears_every_riser_and_nosing():
    setout = even()
    assert setout.passes
    assert not in_a_step(setout.sections[0])


def test_an_even_row_stands_where_its_bases_are_clearest():
    """No other start, tried every hundredth of an inch, stands further from its nearest step."""
    section = even().sections[0]
    places = [float(mark.s) for mark in section.marks]
    start = places[0] - float(half(section.marks[0]))

    def clearance(shift):
        least = 1e9
        for place in places:
            for tread in section.treads:
                low = float(tread.plan.front.s - tread.plan.front_nosing) - 7.9375
                high = float(tread.plan.front.s) + 7.9375
                least = min(least, max(low - place - shift, place + shift - high))
            back = float(section.line_length - section.treads[-1].plan.back_nosing) - 7.9375
            least = min(least, back - place - shift)
        return least

    best = clearance(0.0)
    shifts = [n * 0.254 - start for n in range(int(float(section.gap) / 0.254))]
    assert best > 0
    assert all(clearance(shift) <= best + 1e-6 for shift in shifts)


def test_a_set_back_is_where_an_even_row_starts():
    section = even(set_back="1/4").sections[0]
    assert section.marks[0].s - half(section.marks[0]) == INCH / 4
    assert all(isinstance(gap, Fraction) for gap in level_gaps(section))
    assert set(level_gaps(section)) == {section.gap}


def by_hand(total):
    """The uneven flight with its balusters counted by hand, `total` in all."""
    runs = UNEVEN.strip("[]").split(", ")
    counts = [total // 6 + (place < total % 6) for place in range(6)]
    treads = (f"{{run: {run}, per_tread: {n}}}" for run, n in zip(runs, counts, strict=True))
    return even(f"[{', '.join(treads)}]")


def test_an_even_row_takes_the_fewest_balusters_that_pass_and_clear():
    """Over 61 3/8 in 12 leave 4.49, 13 and 14 pass but stand in a step, 15 do neither."""
    assert len(even().sections[0].marks) == 15
    assert {f.code for f in by_hand(12).failures} >= {"opening"}
    for total in (13, 14):
        setout = by_hand(total)
        assert [f.code for f in setout.failures] == ["even-spacing"]
        assert in_a_step(setout.sections[0])
    assert by_hand(15).passes


def test_the_number_on_the_treads_given_by_hand_is_the_rows():
    section = even(per_tread="4").sections[0]
    assert len(section.marks) == 24


def test_an_even_row_says_where_it_puts_another_number_than_was_given():
    """2 and 4 on two runs of 10 make one row of six: three and three."""
    setout = even("[{run: 10, per_tread: 2}, {run: 10, per_tread: 4}]")
    assert [len(tread.marks) for tread in setout.sections[0].treads] == [3, 3]
    (told,) = [w.text for w in setout.warnings if w.code == "even-count"]
    assert told.endswith("it puts 3 on tread 1 (per_tread 2), 3 on tread 2 (per_tread 4)")
    for quiet in (even("[{run: 10, per_tread: 3}, {run: 10, per_tread: 3}]"), even(per_tread="3")):
        assert "even-count" not in [warning.code for warning in quiet.warnings]


def test_a_bare_step_is_no_part_of_an_even_row():
    section = even("[{run: 13, bare: true}, 10 1/4, 10 3/16, 10 5/16]").sections[0]
    assert section.marks[0].name == "2-1"
    assert section.marks[0].s >= 13 * INCH
    assert not in_a_step(section)


def test_an_even_row_of_a_pattern_keeps_one_gap():
    job = {
        "balusters": "{a: {shape: square, width: 5/8}, b: {shape: square, width: 1, base: 1 1/4}}",
        "pattern": "[a, a, b]",
    }
    section = set_out(
        job_in(written(job, changed(TREADS, {"treads": UNEVEN, "spacing": "even"})))
    ).sections[0]
    assert [mark.type.name for mark in section.marks[:4]] == ["a", "a", "b", "a"]
    assert {round(float(gap), 9) for gap in level_gaps(section)} == {round(float(section.gap), 9)}
    assert not in_a_step(section)


# Newels that stand.


def test_between_two_standing_newels_the_row_is_divided():
    """Gap = (D - sum w) / (N + 1), exactly, the first at one gap from the face."""
    section = even(
        lower_newel="{width: 3 1/2, place: {face: -2 3/4}}",
        upper_newel="{width: 3 1/2, place: {face: 1/8}}",
    ).sections[0]
    distance = section.upper_newel.face - section.lower_newel.face
    widths = sum(mark.type.width.mm for mark in section.marks)
    assert section.gap == (distance - widths) / (len(section.marks) + 1)
    assert set(level_gaps(section)) == {section.gap}
    assert section.lower_newel.stands
    assert not in_a_step(section)


@pytest.mark.parametrize("end", ["lower", "upper"])
@pytest.mark.parametrize("face", ["-2", "0", "3/4", "-3 1/2"])
def test_one_standing_newel_holds_the_row_and_the_other_is_found(end, face):
    """The free end keeps to its own tread: within one gap of where the found newel stands."""
    setout = even(**{f"{end}_newel": f"{{width: 3 1/2, place: {{face: {face}}}}}"})
    section = setout.sections[0]
    assert {round(float(gap), 6) for gap in level_gaps(section)} == {round(float(section.gap), 6)}
    assert (section.lower_newel.stands, section.upper_newel.stands) == (
        end == "lower",
        end == "upper",
    )
    if end == "lower":
        assert 0 <= float(section.upper_newel.face - section.line_length) <= float(section.gap)
    else:
        assert -float(section.gap) <= float(section.lower_newel.face) <= 0
    assert setout.passes is not bool(in_a_step(section))


def test_a_row_held_by_one_newel_clears_more_often_than_not():
    """Faces every 1/4 in over a whole gap: the free gap finds its way between most steps."""
    faces = [inch_text(Fraction(n, 8)) for n in range(-28, 7, 2)]
    done = [
        even(**{f"{end}_newel": f"{{width: 3 1/2, place: {{face: {face}}}}}"}).passes
        for face in faces
        for end in ("lower", "upper")
    ]
    assert sum(done) / len(done) > 0.75


def test_a_set_back_finds_the_gap_of_a_row_that_one_newel_holds():
    section = even(set_back="1/8", upper_newel="{width: 3 1/2, place: {face: 1/4}}").sections[0]
    assert section.marks[0].s - half(section.marks[0]) == INCH / 8
    assert section.upper_newel.face == section.line_length + INCH / 4
    assert set(level_gaps(section)) == {section.gap}


def test_a_set_back_stands_the_other_newel_as_far_over_the_top_riser():
    """Found newels stand at the top riser's face and the set-back, held by the lower as well."""
    section = even(set_back="1/8", lower_newel="{width: 3 1/2, place: {face: -2 3/4}}").sections[0]
    assert section.upper_newel.face == section.line_length + INCH / 8
    assert section.lower_newel.face == -INCH * 11 / 4
    assert set(level_gaps(section)) == {section.gap}


def test_a_row_that_would_stand_before_the_first_riser_is_no_row():
    """From a face 6 in down the stair the first of any row that passes stands on no tread."""
    setout = even(
        lower_newel="{width: 3 1/2, place: {face: -6}}",
        upper_newel="{width: 3 1/2, place: {face: 0}}",
    )
    (failure,) = [f for f in setout.failures if f.code == "even-spacing"]
    assert "and of these 1 stands in a step: 1-1 by" in failure.text


def test_a_newel_in_a_balusters_place_stands_in_an_even_row_too():
    whole = even(set_back="1/4").sections[0]
    section = even(set_back="1/4", lower_newel="{width: 3 1/2, place: {replaces: 1-1}}").sections[0]
    assert [mark.s for mark in section.marks] == [mark.s for mark in whole.marks[1:]]
    assert section.lower_newel.face == whole.marks[0].s + INCH * 5 / 16
    assert section.lower_newel.gap == section.gap


# Where none clears.


SHOES = {"balusters": "{b: {shape: square, width: 1 3/4, base: 3}}", "openings": "uk"}


def crowded():
    """Shoes of 3 in on narrow and wide treads: they fit, but at no equal spacing."""
    section = {"treads": "[9, 11, 10, 12, 9 1/2, 11 1/4]", "spacing": "even", "nosing": "1 1/4"}
    return set_out(job_in(written(SHOES, changed(TREADS, section))))


def test_where_nothing_clears_the_best_number_and_the_marks_that_hit_are_named():
    setout = crowded()
    (failure,) = [f for f in setout.failures if f.code == "even-spacing"]
    hit = in_a_step(setout.sections[0])
    told = failure.text.partition("stand in a step: ")[2].removesuffix("; take spacing: tread")
    named = [part.split(" by ")[0] for part in told.split(", ")]
    assert hit
    assert named[:6] == hit[:6]
    assert named[6:] == ([f"and {len(hit) - 6} more"] if len(hit) > 6 else [])
    count = len(setout.sections[0].marks)
    assert f"{count} balusters come nearest, and of these {len(hit)} stand" in failure.text
    assert failure.text.endswith("; take spacing: tread")


def test_the_named_shortfall_is_how_far_the_base_is_from_clearing():
    setout = crowded()
    (failure,) = [f for f in setout.failures if f.code == "even-spacing"]
    section = setout.sections[0]
    for name in in_a_step(section)[:6]:
        tread = next(t for t in section.treads if name in [mark.name for mark in t.marks])
        mark = next(mark for mark in tread.marks if mark.name == name)
        reach = mark.type.base.mm / 2
        low = tread.plan.front.s - mark.s + reach
        high = mark.s + reach - (tread.plan.back.s - tread.plan.back_nosing)
        short = inches(max(low, high))
        told = Fraction(failure.text.partition(f"{name} by ")[2].partition("″")[0].strip())
        assert short - 1e-9 <= told < short + 1 / 32


def test_a_row_held_where_it_hits_is_refused_with_its_own_count():
    """Three on 10 1/4 set back by 2 in: the third base reaches under the next nosing."""
    assert even("[{run: 10 1/4, times: 4}]", per_tread="3", set_back="1/4").passes
    (failure,) = even("[{run: 10 1/4, times: 4}]", per_tread="3", set_back="2").failures
    assert "12 balusters come nearest, and of these 4 stand in a step: 1-3 by" in failure.text


def test_marks_that_hit_have_the_names_that_a_newel_in_a_balusters_place_leaves_them():
    """With 1-1 taken by the newel, what was 1-3 is 1-2."""
    taken = {"lower_newel": "{width: 3 1/2, place: {replaces: 1-1}}"}
    setout = even("[{run: 10 1/4, times: 4}]", per_tread="3", set_back="2", **taken)
    (failure,) = setout.failures
    assert "11 balusters come nearest, and of these 4 stand in a step: 1-2 by" in failure.text
    assert in_a_step(setout.sections[0]) == ["1-2", "2-3", "3-3", "4-3"]
    assert "2-3 by" in failure.text


@pytest.mark.parametrize(
    ("spacing", "said"),
    [
        (
            "tread",
            "spacing by the tread has gaps of 2 3/4″ to 2 13/16″ with 18 balusters; "
            "spacing: even makes every gap 3 7/16″ with 15 balusters",
        ),
        (
            "even",
            "every gap is equal; spacing: tread would have gaps of 2 3/4″ to 2 13/16″ "
            "with 18 balusters",
        ),
    ],
)
def test_the_comparison_is_shown_whichever_spacing_is_asked_for(spacing, said):
    setout = set_out(job_in(treads_file(treads=UNEVEN, spacing=spacing)))
    assert [w.text for w in setout.warnings if w.code == "spacing-comparison"] == [said]


def test_the_comparison_says_why_even_spacing_cannot_be_done():
    section = {"treads": "[9, 11, 10, 12, 9 1/2, 11 1/4]", "nosing": "1 1/4", "set_back": "5/8"}
    setout = set_out(job_in(written(SHOES, changed(TREADS, section))))
    (text,) = [w.text for w in setout.warnings if w.code == "spacing-comparison"]
    assert "; even spacing can't be done: no equal spacing clears" in text
    assert not [f for f in setout.failures if f.code == "even-spacing"]


def test_even_runs_need_no_comparison():
    setout = set_out(job_in(treads_file()))
    assert not [w for w in setout.warnings if w.code == "spacing-comparison"]


# How often it can be done.


@pytest.mark.parametrize(("per", "least"), [(8, 0.9), (16, 0.9)], ids=["eighths", "sixteenths"])
def test_most_flights_that_vary_by_a_quarter_can_be_spaced_evenly(per, least):
    """Flights of 8 to 13 treads, runs 10 1/8 to 10 3/8, taped in eighths or sixteenths."""
    chance, done = random.Random(per), 0
    flights = 25
    for _ in range(flights):
        setout = even(flight_of(chance.randint(8, 13), per, chance))
        section = setout.sections[0]
        hit = in_a_step(section)
        assert setout.passes is not bool(hit)
        done += not hit
    assert done / flights >= least


@settings(max_examples=25, deadline=None)
@given(st.lists(tape("9.5", "11.5"), min_size=1, max_size=7), st.booleans())
def test_an_even_row_clears_or_is_refused(runs, thin):
    """Whatever the runs: what passes stands in no step, what stands in one is refused by name."""
    setout = even(f"[{', '.join(map(inch_text, runs))}]", nosing="3/4" if thin else "1 1/4")
    section = setout.sections[0]
    told = [f for f in setout.failures if f.code == "even-spacing"]
    assert bool(in_a_step(section)) is bool(told)
    gaps = [float(gap) for gap in level_gaps(section)]
    assert gaps == pytest.approx([float(section.gap)] * len(gaps))
    if not told:
        assert max(gaps) + 25.4 / 16 < 4.375 * 25.4


# The search itself.


@settings(max_examples=30, deadline=None)
@given(
    st.lists(
        st.tuples(st.integers(0, 400), st.sampled_from([1, 2, 3, -1, -2]),
                  st.lists(st.tuples(st.integers(-300, 900), st.integers(1, 60)), min_size=1,
                           max_size=3)),
        min_size=1, max_size=4,
    )
)  # fmt: skip
def test_the_clearest_place_is_no_worse_than_any_on_a_fine_grid(drawn):
    row = [
        Moving(float(start), float(rate), tuple((float(a), float(a + w)) for a, w in spans))
        for start, rate, spans in drawn
    ]
    found = clearest(row, (0.0, 100.0), -1e6)
    assert found is not None
    best, place = found
    assert 0 <= place <= 100
    assert min(moving.clearance(place) for moving in row) == pytest.approx(best)
    grid = max(min(moving.clearance(n) for moving in row) for n in range(101))
    assert best >= grid - 1e-6
    assert clearest(row, (0.0, 100.0), best + 1e-6) is None


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.tuples(st.integers(1, 90), st.integers(1, 40)), min_size=1, max_size=8),
    st.integers(-50, 700),
    st.integers(0, 300),
)
def test_the_nearest_spans_are_all_that_a_clearance_hangs_on(widths, low, width):
    """For spans in order, none over another, and any centre between two places."""
    spans, at = [], 0.0
    for free, blocked in widths:
        spans.append((at + free, at + free + blocked))
        at += free + blocked
    near = nearest_spans(spans, low, low + width)
    for s in range(low, low + width + 1):
        assert clearance(s, near) == clearance(s, spans)
