"""The cover and the test sheet: drawn to scale, true to the set-out, with room for every word."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import pairwise
from math import cos, hypot, radians, tan
from typing import TYPE_CHECKING

import pytest
from job_files import LEVEL, METRIC, METRIC_TREADS, SLOPED, TREADS, changed, written
from page_boxes import clashes, fields_of, outside, struck_out, texts_of, words_of
from work_jobs import NAMES, work

from stairjig.drawing import Ellipse, Fill, Pen, Stroke, Text
from stairjig.errors import Finding, gathered, together
from stairjig.job.reader import read_job
from stairjig.lengths import INCH, Shown
from stairjig.pages.cover.cover import cover_pages
from stairjig.pages.cover.facts import counts_of, facts, tread_list
from stairjig.pages.cover.head import ID_SIZE
from stairjig.pages.cover.index import Contents
from stairjig.pages.cover.key import LINES
from stairjig.pages.cover.openings import limit_words
from stairjig.pages.elevation import parts
from stairjig.pages.elevation.elevation import Drawing, elevation, elevation_view, kinds_of
from stairjig.pages.elevation.labels import Labels, text_box
from stairjig.pages.elevation.plan_view import has_plan, plan_view, wall_side
from stairjig.pages.leaf import Leaf, leaf_of, numbered
from stairjig.pages.test_sheet import test_bars as bars_of
from stairjig.pages.test_sheet import test_sheet_pages as sheet_pages
from stairjig.pages.test_sheet_samples import joint_samples, mark_sample
from stairjig.pieces.build import cut_pieces
from stairjig.setout.build import set_out
from stairjig.sheets.bars import TEST_BARS, band

if TYPE_CHECKING:
    from stairjig.drawing import Page
    from stairjig.setout.values import SectionSetout, Setout

PAPERS = ("letter", "a4", "legal", "tabloid", "a3", "10 in x 15 in", "roll 24", "6 in x 9 in")
ROOM = (124.0, 128.0)
IN = float(INCH)
INDEX = Contents(
    {"Cover": [1, 2, 3], "Test sheet": [4]},
    {
        "Hall · rail": [5, 6, 7, 9],
        "Hall · tread 10": [6, 8],
        "Hall · tread 2": [5],
        "Porch, north · side · treads 4 to 6": [10],
    },
)
COUNTS = [("letter", 12, 9), ("a3", 5, 2), ("tabloid", 5, 3)]


@cache
def right_handed() -> Setout:
    """A flight that climbs to the right, whose treads and rises differ."""
    flight = {
        "side": "right",
        "rise": None,
        "rises": "[7 1/2, 7 5/8, 7 3/8, 7 1/2]",
        "treads": "[10 1/4, 10, 10 1/2]",
        "lower_newel": "{width: 5, narrowest: 4}",
        "upper_newel": "wall",
    }
    return set_out(read_job(written(None, changed(TREADS, flight)), "right.yaml"))


def sections() -> list[SectionSetout]:
    setouts = [work(name) for name in NAMES] + [right_handed()]
    return [section for setout in setouts for section in setout.sections]


SECTIONS = sections()
IDS = [f"{number} {section.section.kind}" for number, section in enumerate(SECTIONS)]
SHOWN = Shown("inch", INCH / 16)


def drawn(section: SectionSetout) -> Drawing:
    return elevation(section, SHOWN, ROOM)


def baluster_shapes(drawing: Drawing) -> list[tuple[tuple[float, float], ...]]:
    """The outlines in a drawing that are balusters: they alone have that pen and four corners."""
    return [
        item.points
        for item in drawing.items
        if isinstance(item, Stroke) and item.pen is Pen.CROSS and item.closed
    ]


def middle(points: tuple[tuple[float, float], ...]) -> float:
    return (min(u for u, _ in points) + max(u for u, _ in points)) / 2


@pytest.mark.parametrize("section", SECTIONS, ids=IDS)
def test_every_mark_has_its_baluster_at_its_scaled_place(section: SectionSetout) -> None:
    view, shapes = elevation_view(section, SHOWN, ROOM), baluster_shapes(drawn(section))
    assert len(shapes) == len(section.marks)
    zero = middle(shapes[0]) - view.sense * float(section.marks[0].s) / view.scale
    for mark, shape in zip(section.marks, shapes, strict=True):
        place = zero + view.sense * float(mark.s) / view.scale
        assert middle(shape) == pytest.approx(place, abs=1e-9), mark.name
        wide = max(u for u, _ in shape) - min(u for u, _ in shape)
        assert wide * view.scale == pytest.approx(float(mark.type.width.mm), abs=1e-9)


@pytest.mark.parametrize("section", SECTIONS, ids=IDS)
def test_a_drawn_baluster_is_as_long_as_it_stands_between_tread_and_rail(
    section: SectionSetout,
) -> None:
    view, shapes = elevation_view(section, SHOWN, ROOM), baluster_shapes(drawn(section))
    for mark, shape in zip(section.marks, shapes, strict=True):
        foot, top = sorted(v for _, v in shape)[:2], sorted(v for _, v in shape)[2:]
        if not section.treads:
            foot = [shape[0][1], shape[1][1]]
            top = [shape[2][1], shape[3][1]]
        long = (sum(top) - sum(foot)) / 2 * view.scale
        assert long == pytest.approx(mark.visible, abs=1e-6), mark.name


@pytest.mark.parametrize(("side", "climbs"), [("left", -1), ("right", 1)])
def test_a_flight_climbs_as_it_does_for_who_stands_at_its_open_side(side: str, climbs: int) -> None:
    setout = set_out(read_job(written(None, changed(TREADS, {"side": side})), "side.yaml"))
    shapes = baluster_shapes(drawn(setout.sections[0]))
    assert (middle(shapes[-1]) - middle(shapes[0])) * climbs > 0


def test_the_same_flight_open_on_the_other_side_is_its_mirror_image() -> None:
    """Lower left corners differ, distances between neighbours do not."""
    both = [
        set_out(read_job(written(None, changed(TREADS, {"side": side})), "side.yaml")).sections[0]
        for side in ("left", "right")
    ]
    left, right = ([middle(shape) for shape in baluster_shapes(drawn(one))] for one in both)
    for (a, b), (c, d) in zip(pairwise(left), pairwise(right), strict=True):
        assert a - b == pytest.approx(d - c, abs=1e-9)


@pytest.mark.parametrize("section", SECTIONS, ids=IDS)
def test_the_drawn_rail_is_as_long_and_as_deep_as_the_rail(section: SectionSetout) -> None:
    low, high, top, _ = parts.rail_shape(section)
    pitch = section.rail.pitch
    if section.rail.length is not None:
        along = hypot(high[0] - low[0], high[1] - low[1])
        assert along == pytest.approx(section.rail.length, abs=1e-6)
    deep = (top[1] - high[1]) * cos(pitch)
    assert deep == pytest.approx(float(section.section.rail.depth.mm), abs=1e-6)
    assert high[1] - low[1] == pytest.approx((high[0] - low[0]) * tan(pitch), abs=1e-6)


@pytest.mark.parametrize("section", [one for one in SECTIONS if one.treads])
def test_every_nosing_stands_in_the_drawn_steps(section: SectionSetout) -> None:
    points = [(round(s, 6), round(h, 6)) for s, h in parts.steps(section)]
    for nosing in section.nosings:
        assert (round(float(nosing.s), 6), round(float(nosing.height), 6)) in points
    lines = parts.lines_of(section)
    for nosing in section.nosings:
        over = lines.top(float(nosing.s)) - float(nosing.height)
        expected = float(section.section.rail.height.mm) + nosing.under
        assert over == pytest.approx(expected, abs=1e-6)


@pytest.mark.parametrize("section", SECTIONS, ids=IDS)
def test_a_newel_is_drawn_where_it_stands_and_no_wider_than_it_is(section: SectionSetout) -> None:
    for newel in section.newels:
        if newel.kind == "post":
            shape = parts.newel_shape(section, newel)
            places = sorted({round(s - float(newel.centre), 6) for s, _ in shape})
            half = round(float(newel.width) / 2, 6)
            assert places[0] == -half
            assert places[-1] == half
            narrow = round(float(newel.narrowest) / 2, 6)
            assert set(places) <= {-half, half, -narrow, narrow}
        else:
            face, _ = parts.wall_face(section, newel)
            assert face[0] == float(newel.face)


@pytest.mark.parametrize("room", [(124.0, 128.0), (192.0, 92.0), (76.0, 80.0)])
@pytest.mark.parametrize("section", SECTIONS, ids=IDS)
def test_a_drawing_keeps_to_its_room(section: SectionSetout, room: tuple[float, float]) -> None:
    drawing = elevation(section, SHOWN, room)
    assert drawing.width <= room[0] + 1e-9
    assert drawing.height <= room[1] + 1e-9
    page = as_page(drawing)
    assert not outside(page, 0.0)
    assert not clashes(page)
    assert not list(struck_out(page))


def as_page(drawing: Drawing) -> Page:
    from stairjig.drawing import Page

    return Page(drawing.width, drawing.height, "", "", drawing.items)


@pytest.mark.parametrize("section", SECTIONS, ids=IDS)
def test_a_drawing_names_first_and_last_mark_and_its_rails_length(section: SectionSetout) -> None:
    texts = " ".join(item.text for item in drawn(section).items if isinstance(item, Text))
    assert section.marks[0].name in texts
    assert section.marks[-1].name in texts
    if section.rail.pitch:
        assert f"pitch {section.rail.pitch * 180 / 3.141592653589793:.1f}°" in texts
    if section.rail.length is not None:
        assert SHOWN.text(section.rail.length) in texts


def test_runs_and_rises_stand_one_by_one_where_they_differ_and_once_where_not() -> None:
    texts = [
        item.text for item in drawn(right_handed().sections[0]).items if isinstance(item, Text)
    ]
    for each in ("10 1/4″", "10″", "10 1/2″", "7 5/8″", "7 3/8″"):
        assert each in texts
    alike = [
        item.text for item in drawn(work("six treads").sections[0]).items if isinstance(item, Text)
    ]
    assert "6 × 10 1/4″" in alike
    assert "7 × 7 1/2″" in alike
    # common practice, no source: the first riser to the top riser and the newels' centres
    assert {"4 9/16″", "1 3/4″"} <= set(alike)


SKEWED = [section for section in SECTIONS if has_plan(section)]


def test_a_plan_is_drawn_where_a_riser_is_off_square_and_only_there() -> None:
    assert SKEWED
    for section in SECTIONS:
        skews = [tread.plan.front.skew for tread in section.treads]
        skews += [tread.plan.back.skew for tread in section.treads]
        assert has_plan(section) == any(skews)


@pytest.mark.parametrize("section", SKEWED)
def test_the_plan_stands_under_its_elevation_mark_for_mark(section: SectionSetout) -> None:
    view = elevation_view(section, SHOWN, ROOM)
    plan = plan_view(section, view, kinds_of([section]))
    over, under = baluster_shapes(drawn(section)), baluster_shapes(plan)
    assert len(under) == len(section.marks)
    for elevation_shape, plan_shape in zip(over, under, strict=True):
        assert middle(plan_shape) == pytest.approx(middle(elevation_shape), abs=1e-9)
    assert not clashes(as_page(plan))


@pytest.mark.parametrize("section", SKEWED)
def test_a_positive_skew_puts_a_drawn_risers_outer_end_further_up_the_stair(
    section: SectionSetout,
) -> None:
    """The open side lies toward the foot of the page, as it does for who stands there."""
    view = elevation_view(section, SHOWN, ROOM)
    plan = plan_view(section, view, kinds_of([section]))
    last = section.treads[-1].plan
    riser = [item for item in plan.items if isinstance(item, Stroke) and item.pen is Pen.RULE][-1]
    (u0, v0), (u1, v1) = sorted(riser.points, key=lambda point: point[1])
    assert v0 < v1
    up = (u0 - u1) * view.sense * view.scale
    across = float(last.end_back) + wall_side(section)
    assert up == pytest.approx(across * tan(radians(last.back.skew)), abs=1e-6)


def test_labels_that_meet_are_left_out_and_groups_are_set_whole_or_not_at_all() -> None:
    labels = Labels(40.0, 20.0)
    first = Text("10 1/4″", (2.0, 5.0), 2.5)
    assert labels.put(first)
    assert not labels.put(Text("10 1/8″", (4.0, 6.0), 2.5))
    assert labels.put(Text("10 1/8″", (4.0, 6.0), 2.5), Text("10 1/8″", (4.0, 12.0), 2.5))
    labels.reserve(((20.0, 0.0), (22.0, 20.0)))
    before = list(labels.texts), list(labels.boxes)
    assert not labels.put_all([Text("a", (30.0, 2.0), 2.5), Text("b", (2.0, 5.0), 2.5)])
    assert (labels.texts, labels.boxes) == before
    assert not labels.put(Text("b", (20.5, 14.0), 2.5))
    assert not labels.put(Text("beyond", (38.0, 15.0), 2.5))


@pytest.mark.parametrize("angle", [0, 90, 180, 270])
def test_a_turned_text_covers_what_its_turned_box_covers(angle: int) -> None:
    flat = text_box(Text("10 1/4″", (0.0, 0.0), 2.5))
    box = text_box(Text("10 1/4″", (0.0, 0.0), 2.5, angle=angle))
    turn = {0: (1, 0), 90: (0, 1), 180: (-1, 0), 270: (0, -1)}[angle]
    corners = [
        (u * turn[0] - v * turn[1], u * turn[1] + v * turn[0])
        for u in (flat[0], flat[2])
        for v in (flat[1], flat[3])
    ]
    us, vs = zip(*corners, strict=True)
    assert box == pytest.approx((min(us), min(vs), max(us), max(vs)), abs=1e-9)


def cover(setout: Setout) -> tuple[Page, ...]:
    return cover_pages(setout, leaf_of(setout.job.paper), lambda _: INDEX, COUNTS)


@pytest.mark.parametrize("name", NAMES)
def test_the_cover_shows_the_pack_id_larger_than_anything_else(name: str) -> None:
    setout = work(name)
    texts = texts_of(cover(setout)[:1])
    ids = [text for text in texts if text.text == setout.pack_id]
    assert all(9.0 <= text.size <= ID_SIZE for text in ids)
    assert max(text.size for text in texts) in [text.size for text in ids]


@pytest.mark.parametrize("name", NAMES)
def test_the_first_page_says_what_the_pack_is_and_what_to_do_first(name: str) -> None:
    setout = work(name)
    first = words_of(cover(setout)[:1])
    for words in ("at full scale", "Print at actual size", "Measure the bars", "Follow the steps"):
        assert words in first
    assert "".join(setout.job.title.split()) in "".join(first.split())


@pytest.mark.parametrize("name", NAMES)
def test_every_warning_stands_on_the_cover_with_its_section(name: str) -> None:
    setout = work(name)
    plain = "".join(words_of(cover(setout)).split())
    for warning in together(setout.warnings):
        assert "".join(warning.text.split()) in plain
        assert "".join(warning.section.split()) in plain
    if not setout.warnings:
        assert "Warningsnone" in plain


def test_what_is_said_of_several_sections_in_the_same_words_is_said_once() -> None:
    warnings = [
        Finding("a", "Hall", "too small"),
        Finding("a", "Porch", "too small"),
        Finding("b", "", "note"),
    ]
    assert gathered(warnings) == [("too small", ["Hall", "Porch"]), ("note", [])]


@pytest.mark.parametrize("name", NAMES)
def test_the_opening_check_names_the_widest_gap_its_marks_and_its_limits_source(name: str) -> None:
    setout = work(name)
    words = words_of(cover(setout))
    for section in setout.sections:
        widest = max(section.openings, key=lambda opening: opening.clear)
        assert setout.job.shown.text(widest.clear) in words
        assert all(name in words for name in widest.between)
    rules = setout.job.openings
    used = {opening.rule for section in setout.sections for opening in section.openings}
    limits = {"stair": rules.stair, "level": rules.level, "triangle": rules.triangle}
    for rule in used:
        limit = limits[rule]
        if limit:
            assert limit.section in " ".join(limit_words(setout))
    if rules.name != "own":
        assert rules.edition in " ".join(limit_words(setout))
    assert "inspector are the law" in words


def openings_words(openings: str, **section: str) -> str:
    source = written({"openings": openings}, changed(TREADS, section))
    return words_of(cover(set_out(read_job(source, "own.yaml"))))


def test_own_limits_are_named_as_such_and_what_equal_means_is_said() -> None:
    words = openings_words("{stair: 4 3/8, equal: passes}")
    assert "Limits given for this job" in words
    assert "at most 4 3/8″" in words
    assert "exactly at a limit passes" in words
    assert "less than 4 3/8″" in openings_words("irc")


def test_a_limit_that_is_not_given_is_not_checked_and_the_cover_says_so() -> None:
    words = openings_words("{level: 4}", per_tread="3")
    assert "no limit given" in words
    assert "not checked" in words
    assert "0 checked against the limits given, none has a limit" in words


def test_a_newel_at_which_flights_may_meet_is_ordered_once_and_one_measured_from_if_need_be() -> (
    None
):
    above = changed(TREADS, {"name": "Upper flight", "first_tread": "7"})
    both = set_out(read_job(written(None, TREADS, above), "both.yaml"))
    assert "one where two sections meet counts twice" in words_of(cover(both))
    assert "counts twice" not in words_of(cover(work("six treads")))
    level = set_out(read_job(written(None, LEVEL), "level.yaml"))
    assert "order what is not there yet" in words_of(cover(level))
    assert "does not stand yet" not in words_of(cover(work("six treads")))


def test_an_open_end_is_named_among_what_is_not_checked() -> None:
    assert "the upper end of Balcony" in words_of(cover(work("level")))


def test_a_gap_a_hair_under_its_limit_is_not_shown_as_the_limit() -> None:
    """Two of 5/8 on 9.998 have gaps of 4.374, which the sixty-fourth rounds to 4 3/8."""
    words = openings_words("irc", per_tread="2", treads="[{run: 9.998, times: 4}]")
    assert "just under 4 3/8″" in words


def test_a_failing_layout_says_so_in_its_table_and_at_its_head() -> None:
    setout = set_out(read_job(written(None, changed(TREADS, {"per_tread": "2"})), "fails.yaml"))
    assert setout.failures
    words = words_of(cover(setout))
    assert "FAILS" in words
    assert "FAIL" in words_of(cover(setout)[:1])


@pytest.mark.parametrize("name", NAMES)
def test_what_is_ordered_adds_up_to_the_marks(name: str) -> None:
    setout = work(name)
    counts: dict[str, int] = {}
    for section in setout.sections:
        for kind, count in counts_of(section).items():
            counts[kind] = counts.get(kind, 0) + count
    assert sum(counts.values()) == sum(len(section.marks) for section in setout.sections)
    plain = "".join(words_of(cover(setout)).split())
    for kind in counts:
        assert "".join(f"baluster {kind}".split()) in plain


def test_every_strip_stands_on_the_cover_under_its_section_with_its_sheets() -> None:
    words = words_of(cover(work("pattern")))
    assert "Cover 1 to 3 Test sheet 4" in words
    assert "Strips of Hall tread 2 5 tread 10 6, 8 rail 5 to 7, 9" in words
    assert "Strips of Porch, north · side treads 4 to 6 10" in words


def test_each_paper_stands_on_the_cover_with_its_sheets_and_joints() -> None:
    words = words_of(cover(work("pattern")))
    columns = list(zip(*COUNTS, strict=True))
    for name, row in zip(("on paper", "sheets of strips", "joints"), columns, strict=True):
        assert " ".join((name, *map(str, row))) in words
    assert "Laid out for letter" in words
    assert "Fewest joints: a3, 2 joints" in words


def test_the_spares_and_every_long_piece_stand_in_the_order() -> None:
    # 5 % of 18 is one at the least (common practice, no source)
    words = words_of(cover(work("six treads")))
    assert "baluster plain 5/8″ square, cut 35 9/16″ to 40 9/16″ 18 19" in words
    assert "rail, Main flight 79 11/16″ (6′ 7 11/16″) face to face, pitch 36.2°" in words
    assert "Spares are 5%, one of each type at the least" in words
    words = words_of(cover(work("plowed")))
    assert words.count("shoe, ") == 1


@pytest.mark.parametrize("name", NAMES)
def test_the_key_explains_every_line_that_a_strip_can_have(name: str) -> None:
    known = {pen for pen, _, _ in LINES} | {Pen.CROSS, Pen.TICK}
    for piece in cut_pieces(work(name)):
        shapes = [shape for spot in piece.spots for shape in spot.shapes]
        for item in (*piece.along, *piece.across, *shapes):
            assert item.pen in known
    words = words_of(cover(work(name))[-2:])
    assert all(meaning.split()[0] in words for _, _, meaning in LINES)


def test_the_lines_of_the_key_differ_in_weight_or_dashes_not_in_grey() -> None:
    looks = [(pen.weight, pen.dashes) for pen, _, _ in LINES]
    assert len(set(looks)) == len(looks)
    assert not any(pen.grey for pen, _, _ in LINES)


def test_treads_that_differ_are_listed_and_alike_ones_stand_together() -> None:
    setout = work("uneven")
    listed = tread_list(setout, setout.sections[0])
    assert listed is not None
    columns, rows = listed
    depths = [row[2] for row in rows[:-1]]
    assert [column.heading for column in columns][2] == "depth"
    # the depth is what can be taped: the run and the nosing of 1 1/8
    assert depths == ["11 3/8″", "11 1/8″", "11 5/8″", "11 1/4″", "11 3/8″"]
    assert [row[1] for row in rows][-1] == "7 1/2″"
    assert tread_list(work("six treads"), work("six treads").sections[0]) is None


def test_the_list_of_treads_leaves_none_out() -> None:
    for section in SECTIONS:
        listed = tread_list(work("six treads"), section)
        if listed:
            spans = [row[0].split(" to ") for row in listed[1][:-1]]
            covered = [n for span in spans for n in range(int(span[0]), int(span[-1]) + 1)]
            assert covered == [tread.plan.number for tread in section.treads]


@pytest.mark.parametrize("section", SECTIONS, ids=IDS)
def test_a_newels_place_is_said_from_the_riser_that_a_tape_can_reach(
    section: SectionSetout,
) -> None:
    said = dict(facts(section, SHOWN))
    for newel in section.newels:
        if newel.kind == "post" and section.treads:
            plans = [tread.plan for tread in section.treads]
            faces = {plan.number: float(plan.front.s) for plan in plans}
            faces[plans[-1].number + 1] = float(plans[-1].back.s)
            s = float(newel.centre)
            # on the floor the first riser, on a tread the next one, on the landing the top one
            riser = next((n for n, face in faces.items() if face > s), max(faces))
            words = said[f"{newel.end} newel, centre from riser {riser}"]
            way = "up" if s > faces[riser] else "down"
            assert words == f"{SHOWN.text(abs(s - faces[riser]))} {way} the stair"


def sheet(setout: Setout) -> tuple[Page, ...]:
    return sheet_pages(setout, leaf_of(setout.job.paper))


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", ["six treads", "metric"])
def test_the_bars_are_those_a_printer_is_corrected_by_where_the_paper_holds_them(
    name: str, paper: str
) -> None:
    setout = work(name, paper)
    leaf, step = leaf_of(setout.job.paper), IN if setout.job.units == "inch" else 10.0
    along, across = bars_of(leaf, setout.job.units)
    for bar in (along, across):
        assert bar.length / step == pytest.approx(round(bar.length / step), abs=1e-9)
        assert bar.length > 0
    true = [float(length) for length in TEST_BARS[setout.job.units]]
    room = (leaf.height - 2 * leaf.margin, leaf.width - leaf.margin - across.start[0])
    for bar, whole, most in zip((along, across), true, room, strict=True):
        assert bar.length <= most
        assert bar.length == pytest.approx(whole) or bar.length + step > most
    assert along.length >= across.length


@pytest.mark.parametrize("name", ["six treads", "metric"])
def test_both_bars_are_drawn_as_long_as_they_say(name: str) -> None:
    setout = work(name)
    bars = bars_of(leaf_of(setout.job.paper), setout.job.units)
    page = sheet(setout)[0]
    strokes = [item for item in page.items if isinstance(item, Stroke) and item.pen is Pen.RULE]
    lengths = [hypot(b[0] - a[0], b[1] - a[1]) for a, b in (s.points[:2] for s in strokes)]
    for bar in bars:
        assert any(length == pytest.approx(bar.length, abs=1e-9) for length in lengths)
    fine = Shown(setout.job.units, INCH / 64 if setout.job.units == "inch" else INCH / 254)
    words = words_of([page])
    for bar in bars:
        exact, off = round(bar.length, 6), float(band(bar.length, setout.job.units))
        for length in (exact, exact - off, exact + off):
            assert fine.text(length) in words


@pytest.mark.parametrize("paper", ["letter", "a4", "legal", "tabloid", "a3", "roll 24"])
@pytest.mark.parametrize("name", ["six treads", "metric", "sloped", "long names"])
def test_the_test_sheet_is_one_sheet(name: str, paper: str) -> None:
    assert len(sheet(work(name, paper))) == 1


def test_the_square_is_two_inches_or_fifty_millimetres() -> None:
    for name, side in (("six treads", 50.8), ("metric", 50.0)):
        squares = [
            item
            for item in sheet(work(name))[0].items
            if isinstance(item, Stroke) and item.closed and item.pen is Pen.RULE
        ]
        sizes = [
            (max(u for u, _ in s.points) - min(u for u, _ in s.points),
             max(v for _, v in s.points) - min(v for _, v in s.points))
            for s in squares
        ]  # fmt: skip
        assert any(size == pytest.approx((side, side), abs=1e-9) for size in sizes)


def test_the_samples_are_of_true_size() -> None:
    """A cross is 9 mm, a ring 6 mm, a lap 15 mm, a base as wide as the job's own."""
    setout = work("six treads")
    mark = mark_sample(setout)
    crosses = [s for s in mark.items if isinstance(s, Stroke) and s.pen is Pen.CROSS]
    for stroke in crosses:
        (u0, v0), (u1, v1) = stroke.points
        assert hypot(u1 - u0, v1 - v0) == pytest.approx(9.0)
    base = next(s for s in mark.items if isinstance(s, Stroke) and s.pen is Pen.BASE)
    wide = max(u for u, _ in base.points) - min(u for u, _ in base.points)
    assert wide == pytest.approx(0.625 * IN)
    lower, upper, closed = joint_samples()
    for sample in (lower, upper, closed):
        rings = [item for item in sample.items if isinstance(item, Ellipse)]
        assert {ring.half_width for ring in rings} == {3.0}
        arms = [s for s in sample.items if isinstance(s, Stroke) and s.pen is Pen.CROSS]
        ends = [(stroke.points[0], stroke.points[1]) for stroke in arms]
        assert {round(hypot(b[0] - a[0], b[1] - a[1]), 6) for a, b in ends} == {9.0}
    assert lower.height - 15.0 == pytest.approx(15.0)
    edges = [s for s in upper.items if isinstance(s, Stroke) and s.pen is Pen.CUT]
    cut = min(v for stroke in edges for _, v in stroke.points)
    assert {ring.centre[1] for ring in upper.items if isinstance(ring, Ellipse)} == {cut}


def test_the_test_sheet_says_how_a_printer_is_corrected() -> None:
    words = words_of(sheet(work("six treads")))
    assert "actual size" in words
    assert "stairjig printer office --along" in words
    assert "100 %" in words
    names = [field.name for field in fields_of(sheet(work("six treads")))]
    assert names == ["test__along", "test__across"]


def all_pages(setout: Setout) -> tuple[Page, ...]:
    pages = [*cover(setout), *sheet(setout)]
    leaf = leaf_of(setout.job.paper)
    return numbered(pages, setout.job.title, setout.pack_id, 1, len(pages), leaf.margin)


def holds(setout: Setout) -> None:
    leaf: Leaf = leaf_of(setout.job.paper)
    for page in all_pages(setout):
        assert not clashes(page), page.label
        assert not list(struck_out(page)), page.label
        assert not outside(page, leaf.margin), page.label
        for text in texts_of([page]):
            assert text.size >= 2.5, text
            assert text.grey == 0.0, text


@pytest.mark.parametrize("paper", ["letter", "6 in x 9 in"])
@pytest.mark.parametrize("name", NAMES)
def test_no_words_meet_words_or_a_line_or_leave_the_margin(name: str, paper: str) -> None:
    holds(work(name, paper))


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", ["pattern", "metric"])
def test_every_paper_holds(name: str, paper: str) -> None:
    holds(work(name, paper))


def test_runs_and_rises_that_differ_hold() -> None:
    holds(right_handed())


def test_a_wide_margin_and_many_types_hold() -> None:
    kinds = ", ".join(f"type{n}: {{shape: round, width: {n + 18}}}" for n in range(6))
    source = written(
        {**METRIC, "margin": "20", "balusters": f"{{{kinds}}}",
         "pattern": "[type0, type1, type2, type3, type4, type5]"},
        changed(TREADS, {**METRIC_TREADS, "treads": "[{run: 240, times: 40}]", "side": "right"}),
        changed(SLOPED, {"length": "900", "pitch": "35",
                         "bottom_rail": "{lift: 0, rise: 180, run: 250, nosing: 20}"}),
        changed(LEVEL, {"length": "300"}),
    )  # fmt: skip
    setout = set_out(read_job(source, "wide.yaml"))
    holds(replace(setout, failures=()))


def test_types_of_balusters_are_told_apart_without_colour() -> None:
    """White, black, two greys, and a ring from the fifth on."""
    setout = work("pattern")
    kinds = kinds_of(setout.sections)
    assert len(kinds) >= 3
    drawing = elevation(setout.sections[0], SHOWN, ROOM, kinds)
    greys = {item.grey for item in drawing.items if isinstance(item, Fill)}
    assert {0.0, 0.6} <= greys


@pytest.mark.parametrize("name", ["pattern", "metric"])
def test_the_same_job_gives_the_same_pages(name: str) -> None:
    assert all_pages(work(name)) == all_pages(work(name))
