"""The working sheets: what they say, what can be filled in on them, and that all of it has room."""

from __future__ import annotations

import io
import re
from itertools import combinations, pairwise
from math import atan2, degrees
from typing import TYPE_CHECKING

import pypdf
import pytest
from job_files import LEVEL, SLOPED, TREADS, changed, written
from work_jobs import HOLES, NAMES, work
from work_jobs import bored as bored_job

from stairjig.drawing import Ellipse, Field, Fill, Page, Pen, Run, Stroke, Text
from stairjig.job.reader import read_job
from stairjig.lengths import INCH
from stairjig.pages.boring_card import boring_pages
from stairjig.pages.check_page import check_pages
from stairjig.pages.cut_list import cut_list_pages
from stairjig.pages.inspector import inspector_pages
from stairjig.pages.leaf import Leaf, leaf_of, numbered
from stairjig.pages.newel_sheet import newel_pages
from stairjig.pdf import write_pdf
from stairjig.setout.build import set_out
from stairjig.setout.schedule import borings
from stairjig.type import width

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from stairjig.setout.values import Setout

SHEETS = (newel_pages, check_pages, inspector_pages, boring_pages, cut_list_pages)
PAPERS = ("letter", "a4", "legal", "tabloid", "a3", "10 in x 15 in", "roll 24")
IN = float(INCH)
Box = tuple[float, float, float, float]


def leaf(setout: Setout) -> Leaf:
    return leaf_of(setout.job.paper)


def all_pages(setout: Setout) -> tuple[Page, ...]:
    pages = [page for sheet in SHEETS for page in sheet(setout, leaf(setout))]
    job = setout.job
    return numbered(pages, job.title, setout.pack_id, 1, len(pages), leaf(setout).margin)


def texts(pages: tuple[Page, ...]) -> list[Text]:
    return [item for page in pages for item in page.items if isinstance(item, Text)]


def fields(pages: tuple[Page, ...]) -> dict[str, Field]:
    found = [item for page in pages for item in page.items if isinstance(item, Field)]
    assert len({field.name for field in found}) == len(found)
    return {field.name: field for field in found}


def words(pages: tuple[Page, ...]) -> str:
    """All words in the order in which they were set, one blank between them."""
    return " ".join(text.text for text in texts(pages))


def box(text: Text) -> Box:
    """What a text covers, with what reaches under the line."""
    long = width(text.text, text.size, text.bold)
    back = {"start": 0.0, "middle": long / 2, "end": long}[text.anchor]
    low, high = -0.3 * text.size, 1.05 * text.size
    x, y = text.at
    if text.angle == 90:
        return x - high, y - back, x - low, y - back + long
    assert text.angle == 0
    return x - back, y + low, x - back + long, y + high


def field_box(field: Field) -> Box:
    x, y = field.at
    return x, y, x + field.width, y + field.height


def meet(one: Box, other: Box) -> bool:
    return (
        one[0] < other[2] - 0.01
        and other[0] < one[2] - 0.01
        and one[1] < other[3] - 0.01
        and other[1] < one[3] - 0.01
    )


def clashes(page: Page) -> Iterator[tuple[str, str]]:
    """Texts over texts, texts over fields and fields over fields."""
    boxes = [(item.text, box(item)) for item in page.items if isinstance(item, Text)]
    boxes += [(item.name, field_box(item)) for item in page.items if isinstance(item, Field)]
    boxes.sort(key=lambda named: named[1][1])
    for (one, at), (other, there) in combinations(boxes, 2):
        if meet(at, there):
            yield one, other


def points(item: object) -> list[tuple[float, float]]:
    match item:
        case Stroke() | Fill():
            return list(item.points)
        case Ellipse():
            (x, y), a, b = item.centre, item.half_width, item.half_height
            return [(x - a, y - b), (x + a, y + b)]
        case Text():
            left, low, right, high = box(item)
        case Field():
            left, low, right, high = field_box(item)
        case _:
            raise AssertionError(item)
    return [(left, low), (right, high)]


def outside(page: Page, margin: float) -> list[object]:
    return [
        item
        for item in page.items
        if any(
            not (margin - 1e-6 <= x <= page.width - margin + 1e-6)
            or not (margin - 1e-6 <= y <= page.height - margin + 1e-6)
            for x, y in points(item)
        )
    ]


def struck_out(page: Page) -> Iterator[str]:
    """Words that a line runs through."""
    texts_of = [(item.text, box(item)) for item in page.items if isinstance(item, Text)]
    for item in page.items:
        if isinstance(item, Stroke):
            corners = (*item.points, item.points[0]) if item.closed else item.points
            for start, end in pairwise(corners):
                yield from (text for text, at in texts_of if crosses(start, end, at))


def crosses(start: tuple[float, float], end: tuple[float, float], at: Box) -> bool:
    """Whether a line runs through a box (Liang and Barsky's clipping)."""
    first, last = 0.0, 1.0
    for axis in (0, 1):
        long = end[axis] - start[axis]
        low, high = at[axis] - start[axis], at[axis + 2] - start[axis]
        if abs(long) < 1e-9:
            if low > 0 or high < 0:
                return False
            continue
        enter, leave = sorted((low / long, high / long))
        first, last = max(first, enter), min(last, leave)
    return first < last


def holds(setout: Setout) -> None:
    for page in all_pages(setout):
        assert not list(clashes(page)), page.label
        assert not list(struck_out(page)), page.label
        assert not outside(page, leaf(setout).margin), page.label
        assert not [item for item in page.items if isinstance(item, Run)]
        assert min(item.size for item in page.items if isinstance(item, Text)) >= 2.5


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", NAMES)
def test_no_words_meet_words_or_a_field_or_leave_the_margin(name: str, paper: str) -> None:
    holds(work(name, paper))


def test_the_law_of_room_is_broken_by_words_that_meet() -> None:
    page = Page(100, 100, "", "", (Text("one", (10, 10), 3.0), Text("two", (12, 11), 3.0)))
    assert list(clashes(page)) == [("one", "two")]
    page = Page(100, 100, "", "", (Text("one", (96, 50), 3.0), Field("f", (95, 49), 9, 9, "")))
    assert list(clashes(page)) == [("f", "one")]
    assert len(outside(page, 8.0)) == 2
    line = Stroke(((0, 40), (100, 60)), Pen.THIN)
    page = Page(100, 100, "", "", (Text("one", (48, 49), 3.0), line))
    assert list(struck_out(page)) == ["one"]
    page = Page(100, 100, "", "", (Text("one", (48, 55), 3.0), line))
    assert not list(struck_out(page))


@pytest.mark.parametrize("name", NAMES)
def test_every_mark_has_its_two_fields_and_every_section_a_total(name: str) -> None:
    setout = work(name)
    wanted = set()
    for number, section in enumerate(setout.sections, start=1):
        for mark in section.marks:
            wanted.add(f"check__{number}__{mark.name}__running")
            if mark is not section.marks[0]:
                wanted.add(f"check__{number}__{mark.name}__spacing")
        wanted.add(f"check__{number}__total")
    found = {name for name in fields(check_pages(setout, leaf(setout))) if name[:5] == "check"}
    assert found == wanted


def test_fields_have_one_name_each_over_all_working_sheets() -> None:
    for name in NAMES:
        for field in fields(all_pages(work(name))):
            assert "." not in field


@pytest.mark.parametrize("sheet", [check_pages, inspector_pages])
def test_rows_to_fill_in_are_eight_millimetres_apart_or_more(
    sheet: Callable[[Setout, Leaf], tuple[Page, ...]],
) -> None:
    for page in sheet(work("sixty"), leaf(work("sixty"))):
        lows = {item.at[1] for item in page.items if isinstance(item, Field)}
        assert all(high - low >= 8.0 - 1e-9 for low, high in pairwise(sorted(lows)))


def row_of(page: Page, field: Field) -> list[str]:
    """The words in a field's row, from the left, of its own half where the table is folded."""
    u, low, high = field.at[0], field.at[1] - 1.0, field.at[1] + field.height + 1.0
    bands = [item.points for item in page.items if isinstance(item, Fill) and item.grey == 0.88]
    over = [band for band in bands if band[0][0] < u < band[1][0] and band[0][1] >= high - 1.0]
    left, right = (corner[0] for corner in min(over, key=lambda band: band[0][1])[:2])
    inside = [t for t in page.items if isinstance(t, Text) and low < t.at[1] < high]
    inside = [text for text in inside if left <= text.at[0] <= right]
    return [text.text for text in sorted(inside, key=lambda text: text.at[0])]


@pytest.mark.parametrize("name", ["six treads", "metric", "sixty", "pattern"])
def test_the_check_page_says_each_marks_spacing_and_running_reading(name: str) -> None:
    setout = work(name)
    shown = setout.job.shown
    rows = {}
    for page in check_pages(setout, leaf(setout)):
        for item in page.items:
            if isinstance(item, Field) and item.name.startswith("check"):
                rows[item.name] = row_of(page, item)
    for number, section in enumerate(setout.sections, start=1):
        for below, mark in pairwise(section.marks):
            spacing, running = shown.text(mark.rail - below.rail), shown.text(mark.rail)
            row = rows[f"check__{number}__{mark.name}__running"]
            assert [mark.name, spacing, running] == row
            assert rows[f"check__{number}__{mark.name}__spacing"] == row
        assert rows[f"check__{number}__total"] == ["total", shown.text(section.marks[-1].rail)]


def test_sixty_marks_run_on_under_their_sections_name() -> None:
    setout = work("sixty")
    assert len(setout.sections[0].marks) == 60
    pages = check_pages(setout, leaf(setout))
    assert len(pages) > 1
    for page in pages[1:]:
        if not any(name.startswith("check__") for name in fields((page,))):
            continue
        assert any(text.text.startswith("Long gallery, continued") for text in texts((page,)))


def test_the_check_page_says_where_to_stop_and_what_a_bow_does() -> None:
    # the design's worked figures: a bow of 1/8 moves a mark plumbed in the middle by 0.09146,
    # 3/32 on a rule; 1/16 in over tan(36.1932 degrees) is 0.0854, 5/64 and a hair
    said = words(check_pages(work("six treads"), leaf(work("six treads"))))
    assert "two neighbours more than 1/16″ off, look again" in said
    assert "More than 1/8″ off, stop" in said
    assert "where a string along the underside shows 1/8″ in the middle" in said
    assert "lands 3/32″ from where it belongs" in said
    assert "in the middle is more than 5/64″" in said
    assert "moves no mark along it" in words(check_pages(work("level"), leaf(work("level"))))


def test_a_metric_check_page_speaks_in_millimetres() -> None:
    said = words(check_pages(work("metric"), leaf(work("metric"))))
    assert "″" not in said
    assert "more than 1.5 mm off, look again" in said
    assert "More than 3 mm off, stop" in said


@pytest.mark.parametrize("name", ["six treads", "metric"])
def test_what_is_filled_in_comes_back(name: str) -> None:
    setout = work(name)
    pages = check_pages(setout, leaf(setout))
    reader = pypdf.PdfReader(io.BytesIO(write_pdf(pages, "", {})))
    writer = pypdf.PdfWriter()
    writer.append(reader)
    said = {field: f"{n} 1/16" for n, field in enumerate(fields(pages))}
    for page in writer.pages:
        writer.update_page_form_field_values(page, said)
    out = io.BytesIO()
    writer.write(out)
    back = pypdf.PdfReader(out).get_form_text_fields()
    assert back == said


@pytest.mark.parametrize("name", NAMES)
def test_the_inspectors_sheet_has_every_opening_with_its_limit_and_room_for_what_was_built(
    name: str,
) -> None:
    setout = work(name)
    pages = inspector_pages(setout, leaf(setout))
    shown, said = setout.job.shown, words(pages)
    for page in pages:
        for item in page.items:
            if not (isinstance(item, Field) and item.name.endswith("__gap")):
                continue
            _, number, count, _ = item.name.split("__")
            opening = setout.sections[int(number) - 1].openings[int(count) - 1]
            assert opening.limit is not None
            between, row = " and ".join(opening.between), " ".join(row_of(page, item))
            clear, limit = shown.against(opening.clear, opening.limit), shown.text(opening.limit)
            assert row in {f"{between} {clear}", f"{between} {limit} {clear}"}
            assert row == f"{between} {limit} {clear}" or said.count(f" {limit}. ")
    gaps = [field for field in fields(pages) if field.endswith("__gap")]
    initials = [field for field in fields(pages) if field.endswith("__initials")]
    assert len(gaps) == len(initials) == sum(len(part.openings) for part in setout.sections)


def test_the_inspectors_sheet_names_its_rule_and_who_is_the_law() -> None:
    said = words(inspector_pages(work("six treads"), leaf(work("six treads"))))
    assert "The local code and its inspector are the law" in said
    assert "International Residential Code, 2018 and 2021 numbering" in said
    assert "a sphere of 4 3/8″ (R312.1.3, exception 2)" in said
    assert "A gap exactly at its limit fails" in said
    assert "34″ to 38″ (R312.1.2, exceptions 1 and 2; R311.7.8.1)" in said


def test_where_an_equal_gap_passes_the_limit_reads_at_most() -> None:
    # Canadian wording stops what is larger than 100 mm (reference values, 1.1)
    said = words(inspector_pages(work("newels"), leaf(work("newels"))))
    assert "A gap exactly at its limit passes" in said
    assert "Limit of every opening: at most 3 15/16″." in said
    assert "opening: under" not in said
    said = words(inspector_pages(work("sloped"), leaf(work("sloped"))))
    assert "Limit of every opening: under 4 3/8″." in said


def test_openings_that_have_no_limit_are_said_not_to_be_checked() -> None:
    setout = work("long names")
    said = words(inspector_pages(setout, leaf(setout)))
    assert "the triangle of tread, riser and bottom rail: not checked" in said
    assert "none given" in said
    assert "The upper end is open" in words(inspector_pages(work("level"), leaf(work("level"))))


def test_the_newel_sheet_places_newels_from_risers_that_can_be_taped() -> None:
    # the design's worked example: -2.79167, centre -4.54167, upper face flush with riser 7
    said = words(newel_pages(work("six treads"), leaf(work("six treads"))))
    assert "Face: 2 13/16″ down the stair from the face of riser 1, taped on the floor." in said
    assert "Centre, on the line: 4 9/16″ down the stair from the face of riser 1" in said
    assert "Face: flush with the face of riser 7 (1 1/8″ behind the edge of the nosing" in said
    assert "2 7/8″ behind the edge of the nosing over riser 7, which is 1 3/4″ up the" in said
    assert "3 1/2″ wide: to be set" in said
    assert "Gap to 1-1: 2 13/16″ at the foot." in said


def test_the_newel_sheet_says_what_stands_what_is_replaced_and_what_is_open() -> None:
    said = words(newel_pages(work("newels"), leaf(work("newels"))))
    assert "Lower newel, 3 1/2″ wide: stands already" in said
    assert "Don't move it. A note for the office: to even its gap with those beside it" in said
    assert "its face would stand 3/16″ further up" in said
    assert "It stands in the place of baluster 6-3" in said
    assert "Upper end: open, no newel" in said
    assert "of riser 9, taped on tread 8" in said
    walls = words(newel_pages(work("pattern"), leaf(work("pattern"))))
    assert "Upper wall Taken to stand where its gap is as the others." in walls


def test_a_newel_at_which_two_flights_may_meet_is_said_to_be_one() -> None:
    above = changed(TREADS, {"name": "Upper flight", "first_tread": "7"})
    setout = bored("5/8", TREADS, above)
    said = words(newel_pages(setout, leaf(setout)))
    assert "If this is the newel that begins Upper flight, it is one newel, not two:" in said
    assert "If this is the newel that ends Main flight, it is one newel, not two:" in said
    assert "Riser 7 is the top riser of Main flight too: one riser." in said
    apart = bored("5/8", TREADS, changed(above, {"first_tread": "8"}))
    assert "one newel" not in words(newel_pages(apart, leaf(apart)))
    wall = bored("5/8", changed(TREADS, {"upper_newel": "wall"}), above)
    assert "one newel" not in words(newel_pages(wall, leaf(wall)))


def test_a_level_section_is_told_of_no_riser_and_its_newel_stands() -> None:
    setout = bored("5/8", LEVEL)
    said = words(newel_pages(setout, leaf(setout)))
    assert "riser" not in said
    assert "Lower newel, 3 1/2″ wide: as measured" in said
    assert "to be set" not in said


def test_the_newel_sheet_says_the_gap_at_the_narrowest_where_it_is_wider() -> None:
    # a post 3 1/2 wide and 2 3/4 at its narrowest adds 3/8 on each side
    said = words(newel_pages(work("newels"), leaf(work("newels"))))
    assert "Gap to 1-1: 3″ at the foot. At the narrowest 3 3/8″: that is what is checked." in said


@pytest.mark.parametrize("name", ["six treads", "metric", "sloped", "steep", "flat", "uneven"])
def test_the_pitch_block_stands_at_the_pitch_and_its_printed_sides_prove_it(name: str) -> None:
    setout = bored_job(name)
    pages = boring_pages(setout, leaf(setout))
    [outline] = [
        item
        for page in pages
        for item in page.items
        if isinstance(item, Stroke) and item.pen is Pen.CUT
    ]
    (right, bottom), (_, top), foot = outline.points[1:4]
    assert outline.points[0][1] == bottom
    assert outline.points[2][0] == right
    angle = degrees(atan2(top - foot[1], right - foot[0]))
    assert angle == pytest.approx(degrees(setout.sections[0].rail.pitch), abs=1e-9)
    said = re.search(r"the block is (\S.*?) level and (\S.*?) plumb", words(pages))
    assert said
    unit = IN if setout.job.units == "inch" else 1.0
    assert read(said[1]) * unit == pytest.approx(right - foot[0], abs=1e-6)
    assert read(said[2]) * unit == pytest.approx(top - foot[1], abs=unit / 100 + 0.05)


def read(length: str) -> float:
    """A length as shown, without its unit."""
    parts = length.replace("″", "").replace("mm", "").split()
    return sum(
        int(part.split("/")[0]) / int(part.split("/")[1]) if "/" in part else float(part)
        for part in parts
    )


def test_the_pitch_blocks_arms_are_long_on_an_ordinary_stair() -> None:
    for paper in PAPERS:
        setout = work("six treads", paper)
        [outline] = [
            item
            for page in boring_pages(setout, leaf(setout))
            for item in page.items
            if isinstance(item, Stroke) and item.pen is Pen.CUT
        ]
        assert outline.points[1][0] - outline.points[3][0] >= 100.0


def test_sections_of_one_pitch_share_a_block_and_a_level_job_has_none() -> None:
    for name in NAMES:
        setout = bored_job(name)
        pitches = {
            round(section.rail.pitch, 5)
            for section in setout.sections
            if any(not boring.square for boring in borings(section))
        }
        assert bool(pitches) == (name not in ("level", "sixty"))
        said = words(boring_pages(setout, leaf(setout)))
        assert said.count("Pitch block,") == len(pitches)


def test_the_boring_card_gives_bit_depth_and_tilt_and_what_it_leaves() -> None:
    said = words(boring_pages(work("six treads"), leaf(work("six treads"))))
    assert "the tread plain 18 ⌀ 11/16″ 1″ none: square to it round" in said
    assert "under the rail plain 18 ⌀ 11/16″ 3/4″ 36.2° off square, plumb 11/16″ × 7/8″" in said
    assert "the bit's point leans toward the upper end" in said
    # 36 less 2.5 / cos(36.1932 degrees) is 32.9022
    assert "Prop: 32 7/8″, plumb, from the edge of any nosing to the rail's underside: its" in said


def test_the_boring_card_warns_of_square_bars_in_round_holes() -> None:
    # a square of 5/8 needs 0.8839 (reference values, section 5; arithmetic), the next drill 57/64
    said = words(boring_pages(work("six treads"), leaf(work("six treads"))))
    assert "a bar of 5/8″ that is square to its end needs a round hole of 57/64″ or more" in said


def test_the_boring_card_bores_nothing_into_a_plowed_rail() -> None:
    said = words(boring_pages(work("plowed"), leaf(work("plowed"))))
    assert "The rail is plowed: nothing is bored into it" in said
    assert "under the rail" not in said


def test_props_are_listed_where_nosings_lie_under_the_pitch_line() -> None:
    # the design's worked example: nosings 0.24291, 0.08755, 0, 0.15182, 0.03036 and 0 under it
    said = words(boring_pages(work("uneven"), leaf(work("uneven"))))
    assert "prop's downhill edge, plumb stands on the nosing of" in said
    assert "treads 3, 5 and the landing" in said


@pytest.mark.parametrize("name", NAMES)
def test_the_cut_list_names_every_mark_and_its_counts_come_to_all(name: str) -> None:
    setout = work(name)
    said = words(cut_list_pages(setout, leaf(setout)))
    for section in setout.sections:
        assert f"{len(section.marks)} balusters; " in said
        for mark in section.marks:
            if "-" in mark.name:
                assert re.search(rf"(?<![0-9-]){mark.name}(?![0-9-])", said)


def test_the_cut_list_says_lengths_and_what_is_to_be_measured() -> None:
    said = words(cut_list_pages(work("six treads"), leaf(work("six treads"))))
    assert "6 plain 40 9/16″ 38 15/16″ square 1-3, 2-3, 3-3" in said
    uneven = words(cut_list_pages(work("uneven"), leaf(work("uneven"))))
    assert "plain measure" in uneven


def test_the_cut_list_gives_bevels_with_their_long_points_and_fillets_with_the_end_ones() -> None:
    setout = work("plowed")
    said = words(cut_list_pages(setout, leaf(setout)))
    assert "bevel 36.9°, the foot parallel to it" in said
    assert "Feet that stand on the shoe without a hole are cut 36.9° off square" in said
    assert "fillets for the rail 1 1/4″ wide and 1/4″ thick, as the plow" in said
    assert "fillets for the shoe" in said
    assert "both ends plumb: 36.9° off square" in said
    assert "1 at the lower newel, 1 at the upper newel" in said
    assert "turned: the rail is plowed, so measure" in said
    assert "fillets" not in words(cut_list_pages(work("six treads"), leaf(work("six treads"))))


def test_the_cut_list_says_of_each_end_what_it_is_cut_to() -> None:
    both = "a: {shape: square, width: 5/8, top: bevel, tread_hole: {size: 11/16, depth: 1}}"
    job = written(
        {"balusters": f"{{{both}, b: {{shape: square, width: 5/8}}}}", "pattern": "[a, b]"}, SLOPED
    )
    setout = set_out(read_job(job, "ends.yaml"))
    said = words(cut_list_pages(setout, leaf(setout)))
    assert "bevel 36.9°, to the long point" in said
    assert "square; foot bevel 36.9°, to the long point" in said
    assert "The shoe is bored where a hole is given, and takes no fillets; b stands on it" in said


def bored(width: str, *sections: dict[str, str]) -> Setout:
    balusters = f"{{plain: {{shape: round, width: {width}, {HOLES}}}}}"
    return set_out(read_job(written({"balusters": balusters}, *sections), "bored.yaml"))


RAKED = changed(SLOPED, {"shoe": "{depth: 1 1/2}"})


def test_a_shoe_is_bored_or_takes_fillets_and_never_both() -> None:
    setout = bored("5/8", RAKED)
    said = words(cut_list_pages(setout, leaf(setout)))
    assert "The shoe is bored: it takes no fillets." in said
    assert "fillets for" not in said
    assert "the shoe plain" in words(boring_pages(setout, leaf(setout)))
    plowed = words(cut_list_pages(work("sloped"), leaf(work("sloped"))))
    assert "fillets for the shoe" in plowed
    assert "The shoe is bored" not in plowed


def test_the_boring_card_has_the_bit_lean_the_other_way_on_a_shoe() -> None:
    """Seen from the side with the stair going up to the right, plumb leans by the pitch.

    Turned level the right way up, plumb upward points toward the upper end; turned level upside
    down, what was downward points up and toward the lower end (a rotation, by hand).
    """
    setout = bored("5/8", RAKED)
    said = words(boring_pages(setout, leaf(setout)))
    assert "face up on the bench the drill's body leans toward the UPPER end" in said
    assert "the drill's body toward the lower." in said
    for name in ("six treads", "sloped"):
        assert "UPPER end" not in words(boring_pages(work(name), leaf(work(name))))


def test_the_boring_card_stops_at_wood_too_thin_for_the_hole() -> None:
    """An inch of hole and 6 mm under it: 1.236, on a rule 1 1/4."""
    said = words(boring_pages(work("six treads"), leaf(work("six treads"))))
    assert "STOP The tread is thinner than 1 1/4″: too thin for the hole." in said
    stops = [
        text
        for text in texts(boring_pages(work("six treads"), leaf(work("six treads"))))
        if text.text.startswith("STOP")
    ]
    assert stops
    assert all(text.bold for text in stops)
    setout = bored("5/8", LEVEL)
    assert "STOP The floor is thinner than" in words(boring_pages(setout, leaf(setout)))


def test_a_baluster_wider_than_its_hole_gets_a_pin_on_both_lists() -> None:
    wide, slim = bored("1 1/4", LEVEL), bored("5/8", LEVEL)
    said = words(cut_list_pages(wide, leaf(wide)))
    assert "1 1/4″ is wider than its hole. It needs a pin that fits" in said
    assert "⌀ 11/16″, 1″ long at the foot; ⌀ 11/16″, 3/4″ long at the top" in said
    assert "only its pin, turned to fit, goes in" in words(boring_pages(wide, leaf(wide)))
    assert "pin" not in words(cut_list_pages(slim, leaf(slim)))
    assert "pin," not in words(boring_pages(slim, leaf(slim)))


def test_marks_that_two_sections_share_are_listed_with_their_section() -> None:
    both = bored("5/8", LEVEL, RAKED)
    said = words(cut_list_pages(both, leaf(both)))
    for section in both.sections:
        assert f"{section.name} 1 to {len(section.marks)}" in " ".join(said.split())
    alone = bored("5/8", LEVEL)
    section = alone.sections[0]
    assert f"{section.name} 1 to" not in words(cut_list_pages(alone, leaf(alone)))


def test_the_same_job_sets_the_same_sheets() -> None:
    assert all_pages(work("pattern")) == all_pages(work("pattern"))
