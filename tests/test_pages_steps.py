"""The helper's steps: in their order, with the stair's own figures, stops and signatures."""

from __future__ import annotations

from dataclasses import replace
from math import cos, tan
from typing import TYPE_CHECKING

import pytest
from job_files import LEVEL, SLOPED, TREADS, changed, written
from packs import sample
from page_boxes import area, clashes, fields_of, outside, struck_out, texts_of, words_of
from work_jobs import HOLES, NAMES, WINDER, work

from stairjig.drawing import Fill, Page, Stroke, Text
from stairjig.job.reader import read_job
from stairjig.lengths import INCH, NEAR, Shown
from stairjig.pages.cautions import cautions_for
from stairjig.pages.leaf import leaf_of, numbered
from stairjig.pages.steps import drawings as draw
from stairjig.pages.steps import drawings_rail as draw_rail
from stairjig.pages.steps.boring import SIGN
from stairjig.pages.steps.order import steps_of
from stairjig.pages.steps.rail import newel_lines, prop_words
from stairjig.pages.steps.steps import signed, steps_pages
from stairjig.pages.steps.values import MOST, each
from stairjig.pieces.rail_strip import rail_strip
from stairjig.setout.build import set_out
from stairjig.setout.schedule import borings

if TYPE_CHECKING:
    from stairjig.drawing import Item
    from stairjig.setout.values import Setout

PAPERS = ("letter", "a4", "legal", "tabloid", "a3", "10 in x 15 in", "roll 24", "6 in x 9 in")
SIXTEENTHS = Shown("inch", INCH / 16)

SMALL = {
    "scale": draw.scale_check(),
    "depth": draw.depth_check("11 13/16″", "1 1/8″"),
    "faces": draw.face_check("196 13/16″"),
    "cutting": draw.cutting(),
    "joint": draw.joint(),
    "tread, left": draw.tread_strip("left"),
    "tread, right": draw.tread_strip("right"),
    "winder, left": draw.tread_strip("left", (0.1, 0.25)),
    "winder, right": draw.tread_strip("right", (0.1, 0.25)),
    "pricking": draw.pricking("14-3"),
    "prop": draw_rail.prop("stairs"),
    "prop, level": draw_rail.prop("floor"),
    "plumb": draw_rail.plumb("14-1", "28-3", "stairs"),
    "plumb, level": draw_rail.plumb("1", "160", "floor"),
    "rail strip": draw_rail.rail_strip("14-1", "28-3"),
    "shoe strip": draw_rail.shoe_strip(sloped=True),
    "shoe strip, level": draw_rail.shoe_strip(sloped=False),
    "newel": draw_rail.newel("14 13/16″", "first riser", down=True),
    "newel up": draw_rail.newel("14 13/16″", "top riser", down=False),
    "tape": draw_rail.tape_proof("14-1", "14-2", "14 13/16″"),
    "boring": draw_rail.boring(36.2),
    "boring, steep": draw_rail.boring(60.0),
    "boring, level": draw_rail.boring(0.0),
    "boring, shoe": draw_rail.boring(36.2, shoe=True),
    "boring, steep shoe": draw_rail.boring(60.0, shoe=True),
    "prop, ramp": draw_rail.prop("ramp"),
    "plumb, ramp": draw_rail.plumb("1", "160", "ramp"),
}


def made(*sections: dict[str, str], **job: str) -> Setout:
    return set_out(read_job(written(job or None, *sections), "steps.yaml"))


def pages(setout: Setout) -> tuple[Page, ...]:
    return steps_pages(setout, leaf_of(setout.job.paper))


def titles(setout: Setout) -> list[str]:
    return [step.title for step in steps_of(setout)]


def said(setout: Setout) -> str:
    steps = steps_of(setout)
    return " ".join(" ".join((*step.words, *step.figures, step.stop)) for step in steps)


def place(setout: Setout, start: str) -> int:
    return next(n for n, title in enumerate(titles(setout)) if title.startswith(start))


@pytest.mark.parametrize("name", NAMES)
def test_every_step_stands_on_the_sheets_under_its_number(name: str) -> None:
    setout = work(name)
    texts = [text.text for text in texts_of(pages(setout))]
    plain = "".join("".join(texts).split())
    for number, step in enumerate(steps_of(setout), start=1):
        assert f"{number}{''.join(step.title.split())}" in plain
        for words in (*step.words, *step.figures, step.stop):
            assert "".join(words.split()) in plain


@pytest.mark.parametrize("name", NAMES)
def test_nothing_is_bored_before_it_is_proved_and_signed(name: str) -> None:
    setout = work(name)
    order = ["Check the print", "Prick", "Prop", "Plumb", "Lay the rail", "Prove", SIGN]
    bored = any(map(borings, setout.sections))
    places = [place(setout, start) for start in (*order, *(["Bore"] * bored))]
    assert places == sorted(places)
    assert places[-1] == len(titles(setout)) - 1
    assert bored != ("nothing is bored" in said(setout))


@pytest.mark.parametrize("name", NAMES)
def test_newels_are_marked_before_the_rail_comes_down_to_be_bored(name: str) -> None:
    setout = work(name)
    if any(section.newels for section in setout.sections):
        posts = [
            one.treads and newel.kind == "post" for one in setout.sections for newel in one.newels
        ]
        marked = "Mark the newels" if any(posts) else "Mark the rail's ends"
        assert place(setout, "Lay the rail") < place(setout, marked) < place(setout, SIGN)


def test_a_job_without_treads_has_no_word_of_treads_or_risers() -> None:
    setout = made(LEVEL)
    assert not [title for title in titles(setout) if "tread" in title]
    words = said(setout).casefold()
    for word in ("tread", "riser", "nosing", "nick"):
        assert word not in words
    assert "Lay the strip on the floor" in titles(setout)


def test_a_job_of_treads_alone_lays_no_shoe_strip() -> None:
    setout = work("six treads")
    assert "Lay each tread strip on its tread" in titles(setout)
    assert not [title for title in titles(setout) if "floor" in title or "shoe" in title]


def test_a_job_of_both_lays_both_before_it_marks() -> None:
    setout = made(TREADS, changed(SLOPED, {"shoe": "{depth: 1}"}), LEVEL)
    tread, shoe = place(setout, "Lay each tread"), place(setout, "Lay the strip on the shoe or")
    assert tread < shoe < place(setout, "Prick")


def test_what_a_bow_does_is_said_in_the_figures_of_this_stair() -> None:
    """An eighth of bow at 36.19 degrees: 0.09146 in the middle, b tan(pitch), worked by hand."""
    setout = work("six treads")
    moved = float(INCH) / 8 * tan(setout.sections[0].rail.pitch)
    assert moved / float(INCH) == pytest.approx(0.09146, abs=5e-6)
    words = said(setout)
    assert "a bow of 1/8″ moves a mark plumbed up" in words
    assert f"{Shown('inch', INCH / 64).text(moved)} along the rail" in words
    assert "3/32″ along the rail" in words
    assert "one off the strip less than 1/64″" in words


def test_a_level_rail_is_not_said_to_move_its_marks_by_bowing() -> None:
    assert "bow" not in said(made(LEVEL)).replace("bottom", "")


def test_the_prop_is_plumb_from_nosing_to_underside() -> None:
    """Height less depth over cos: 36 - 2 1/2 / cos(36.1932 degrees) is 32.902."""
    setout = work("six treads")
    section = setout.sections[0]
    exact = 36.0 - 2.5 / cos(section.rail.pitch)
    assert exact == pytest.approx(32.902, abs=1e-3)
    assert prop_words(setout, section) == "prop 32 7/8″, on any nosing"


def test_props_that_differ_are_given_for_both_ends_of_the_rail() -> None:
    """Nosings 0.243, 0.088, 0, 0.152, 0.030 and 0 under the pitch line, worked by hand."""
    setout = work("uneven")
    words = prop_words(setout, setout.sections[0])
    assert words == (
        "prop 33 1/8″ on the nosing of tread 1, 32 15/16″ on that of the landing; the others "
        "on the boring card"
    )


@pytest.mark.parametrize("name", NAMES)
def test_first_and_last_marks_and_rail_lengths_stand_in_the_figures(name: str) -> None:
    setout = work(name)
    shown, words = setout.job.shown, words_of(pages(setout))
    for section in setout.sections:
        first, last = section.marks[0], section.marks[-1]
        assert first.name in words
        assert f"{first.name} to {last.name}: {shown.text(last.rail)} along the rail" in said(
            setout
        )
        if section.rail.length is not None:
            assert shown.text(section.rail.length) in words


@pytest.mark.parametrize("name", NAMES)
def test_the_pack_id_to_look_for_is_named(name: str) -> None:
    setout = work(name)
    assert setout.pack_id in steps_of(setout)[0].words[1]


def test_a_newels_place_and_its_face_on_the_rail_are_given() -> None:
    """Lower centre -4.54167, ends from the first mark -3.84641 and 75.81809, worked by hand."""
    lower, upper = newel_lines(work("six treads"))
    assert lower == (
        "lower newel: centre 4 9/16″ down the stair from riser 1; on the rail its face 3 7/8″ "
        "before zero"
    )
    assert upper.endswith("face 75 13/16″ past zero")


def test_where_no_newel_is_set_the_walls_are_marked_and_with_no_end_nothing() -> None:
    walls = made(changed(LEVEL, {"lower_newel": "wall", "upper_newel": "wall"}))
    assert "Mark the rail's ends while it is up" in titles(walls)
    open_ends = made(changed(LEVEL, {"lower_newel": "none", "upper_newel": "none"}))
    assert not [title for title in titles(open_ends) if title.startswith("Mark")]


def test_a_shoe_is_bored_in_a_step_of_its_own_that_leans_the_other_way() -> None:
    """Face up, plumb leans toward the upper end; a rail's underside up, toward the lower."""
    balusters = f"{{plain: {{shape: round, width: 5/8, {HOLES}}}}}"
    setout = made(changed(SLOPED, {"shoe": "{depth: 1 1/2}"}), balusters=balusters)
    step = steps_of(setout)[-1]
    assert step.title.startswith("Bore the shoe")
    assert "the drill's body toward the rail's lower end" in said(setout)
    assert "face up, write UP on its upper end: the drill's body leans toward UP, " in said(setout)
    assert step.drawing == draw_rail.boring(36.9, shoe=True)
    reach = [
        max(item.points, key=lambda point: point[1])[0]
        for shoe in (False, True)
        for item in draw_rail.boring(36.9, shoe)
        if isinstance(item, Fill) and item.grey == 1.0
    ]
    assert reach[0] < 32.0 < reach[1]
    for other in (work("six treads"), work("sloped"), made(LEVEL)):
        assert not [title for title in titles(other) if "shoe: " in title]


@pytest.mark.parametrize("units", ["inch", "mm"])
def test_the_tape_starts_at_zero_and_its_line_is_the_exception(units: str) -> None:
    setout = work("six treads" if units == "inch" else "metric")
    words = steps_of(setout)[place(setout, "Prove")].words[0]
    line = "1″" if units == "inch" else "100 mm"
    assert words.index("zero on the first mark") < words.index("Only where the hook")
    assert f"hold the {line} line there, and take {line} off every reading" in words


@pytest.mark.parametrize("name", NAMES)
def test_marks_on_treads_shoe_and_floor_have_a_limit_and_a_stop(name: str) -> None:
    setout = work(name)
    step = steps_of(setout)[place(setout, "Prick")]
    near = Shown(setout.job.units, NEAR[setout.job.units]).near
    assert step.stop == f"A cross is still off by more than {near}."


def test_the_line_on_a_floor_is_snapped_by_the_carpenter_and_never_guessed() -> None:
    floor = steps_of(made(LEVEL))[place(made(LEVEL), "Lay the strip")]
    assert "the carpenter snaps the line first" in floor.words[0]
    assert "no line on the floor" in floor.stop
    shoe = made(changed(SLOPED, {"shoe": "{depth: 1}"}))
    laid = steps_of(shoe)[place(shoe, "Lay the strip")]
    assert "On a shoe it lies centred." in laid.words[0]
    assert not laid.stop


def test_one_riser_of_two_flights_is_said_to_be_one() -> None:
    above = changed(TREADS, {"name": "Upper flight", "first_tread": "7"})
    assert "riser 7 is the top riser of Main flight, too" in said(made(TREADS, above))
    apart = changed(TREADS, {"name": "Upper flight", "first_tread": "8"})
    assert "too" not in " ".join(steps_of(made(TREADS, apart))[1].figures)


def test_the_gap_that_is_let_pass_under_a_straightedge_is_each_rails_own() -> None:
    """1/16 over tan(36.19) is 0.0854, over tan(45) 0.0625: 5/64 and 1/16, rounded down."""
    raked = changed(SLOPED, {"pitch": "45"})
    setout = made(TREADS, raked)
    stop = steps_of(setout)[place(setout, "Prop")].stop
    assert "more than 5/64″ (Main flight), 1/16″ (" in stop
    alone = made(TREADS)
    assert "more than 5/64″ in the middle" in steps_of(alone)[place(alone, "Prop")].stop


RAILS = [
    ("width: 2 3/8", "Its long edges on the rail's edges", ""),
    ("width: 1 1/8", "Folded up on the two lines drawn along it", "fold up on the two drawn lines"),
    ("width: 2 3/8, plow: {width: 1 1/4, depth: 1/4}", "It lies in the plow", "lies in the plow"),
    (
        "width: 2 3/8, plow: {width: 3/4, depth: 1/4}",
        "The two lines drawn along it over the plow's edges",
        "over the plow, centred on it",
    ),
]


@pytest.mark.parametrize(("rail", "laid", "printed"), RAILS)
def test_step_and_strip_say_alike_how_the_rail_strip_is_laid(
    rail: str, laid: str, printed: str
) -> None:
    setout = made(rail=f"{{height: 36, depth: 2 1/2, {rail}}}")
    assert laid in steps_of(setout)[place(setout, "Lay the rail")].words[0]
    strip = rail_strip(setout.sections[0], SIXTEENTHS, setout.pack_id)
    long = max(u for u, _ in strip.outline) * 2
    width = setout.sections[0].section.rail
    assert (long == float((width.plow or width).width.mm)) == ("drawn" not in laid)
    texts = [words.text for words in strip.words]
    assert any(printed in text for text in texts)
    assert printed or not any("drawn lines" in text or "plow" in text for text in texts)
    cut_clean = "The long edges of a rail strip centre it" in said(setout)
    assert cut_clean == ("drawn" not in laid)


def test_rails_that_are_laid_differently_are_told_apart_by_their_sections() -> None:
    narrow = "{height: 36, depth: 2 1/2, width: 1 1/8}"
    setout = made(TREADS, changed(LEVEL, {"rail": narrow}))
    words = steps_of(setout)[place(setout, "Lay the rail")].words[0]
    assert (
        "Its long edges on the rail's edges (Main flight); folded up on the two lines drawn along "
        "it, so that it holds the rail between them (Balcony), zero"
    ) in words


def test_only_rails_that_are_bored_have_a_tilt() -> None:
    balusters = f"{{plain: {{shape: square, width: 5/8, {HOLES}}}}}"
    plow = "{height: 36, depth: 2 1/2, width: 2 3/8, plow: {width: 1 1/4, depth: 1/4}}"
    assert "gets no holes" not in said(made(balusters=balusters))
    whole = made(balusters=balusters, rail=plow)
    step = steps_of(whole)[place(whole, "Bore")]
    assert step.words[1].startswith("The rail is plowed (it has a groove) and gets no holes.")
    assert not step.figures
    assert "tilt the bit" not in said(whole)
    mixed = made(changed(TREADS, {"rail": plow}), LEVEL, balusters=balusters)
    step = steps_of(mixed)[place(mixed, "Bore")]
    assert "A plowed rail has a groove and gets no holes (Main flight)." in step.words[1]
    assert "The rail's holes are square to it." in step.words[1]
    assert step.figures == ("Balcony: rail level, bit square to it",)


def test_each_flight_is_laid_from_what_it_was_measured_from() -> None:
    above = {"name": "Upper flight", "line_from": "wall", "first_tread": "7"}
    setout = made(TREADS, changed(TREADS, above))
    words = steps_of(setout)[place(setout, "Lay each")].words[0]
    assert "return nosing and all: it sets the direction (Main flight)" in words
    assert "the line set from the wall, as the strip says (Upper flight)" in words
    mixed = made(TREADS, LEVEL)
    marks = steps_of(mixed)[place(mixed, "Prick")].words[0]
    assert "from the back edge, on the line (Main flight); mark 1 (Balcony)" in marks


def test_holes_are_plumb_too_only_where_others_are() -> None:
    bare = made(balusters="{plain: {shape: square, width: 5/8, rail_hole: {size: 1, depth: 1}}}")
    assert "The rail's holes are plumb: tilt" in said(bare)
    assert "Holes in" not in said(bare)
    both = said(work("six treads"))
    assert both.index("The rail's holes are plumb") < both.index("Holes in the treads are plumb.")


@pytest.mark.parametrize("origin", ["string", "wall"])
def test_without_a_tread_end_the_line_is_set_from_what_there_is(origin: str) -> None:
    words = said(made(changed(TREADS, {"line_from": origin})))
    assert f"the line set from the {origin}" in words
    assert "long cut edge" not in words


def test_strips_that_serve_several_treads_are_said_to() -> None:
    assert "all treads it serves" in said(made(TREADS, copies="shared"))
    assert "all treads it serves" not in said(made(TREADS))


def test_a_newel_that_stands_on_a_strip_is_cut_out_of_it() -> None:
    """That of `newels` stands before riser 1, beyond its strip; that of the turn on two."""
    cut, hidden = "drawn on a strip, cut it out", "Where a newel covers the back edge"
    assert cut in said(sample("winder-turn.yaml"))
    assert hidden in said(sample("winder-turn.yaml"))
    for name in ("six treads", "newels"):
        assert cut not in said(work(name))
        assert hidden not in said(work(name))


@pytest.mark.parametrize("name", NAMES)
def test_every_stop_is_white_on_black_with_its_reason_beside_it(name: str) -> None:
    setout = work(name)
    stops = [step for step in steps_of(setout) if step.stop]
    assert len(stops) >= 6
    found = 0
    for page in pages(setout):
        black = [area(item) for item in page.items if isinstance(item, Fill) and item.grey == 0.0]
        for text in texts_of([page]):
            if text.grey or text.text == "STOP":
                assert text.grey == 1.0
                box = area(text)
                found += text.text == "STOP"
                assert any(
                    tag[0] <= box[0] and tag[1] <= box[1] and box[2] <= tag[2] and box[3] <= tag[3]
                    for tag in black
                )
    assert found == len(stops)


def test_only_what_was_done_is_signed_for() -> None:
    marked = "marked, rail still up"
    walls = {"lower_newel": "wall", "upper_newel": "wall"}
    bare = {"lower_newel": "none", "upper_newel": "none"}
    assert signed(made(TREADS))[1] == f"newels {marked}"
    assert signed(made(changed(TREADS, walls)))[1] == f"rail's ends {marked}"
    assert len(signed(made(changed(TREADS, bare)))) == 2


def test_who_is_called_and_who_signs_can_be_filled_in() -> None:
    found = fields_of(pages(work("six treads")))
    names = [field.name for field in found]
    assert len(set(names)) == len(names)
    assert not [name for name in names if "." in name]
    assert {"steps__call__name", "steps__call__phone"} <= set(names)
    assert len([name for name in names if name.startswith("sign__steps__")]) == 2 * 3
    assert min(field.height for field in found) >= 6.0


@pytest.mark.parametrize("name", NAMES)
def test_the_lines_to_sign_stand_on_the_sheet_of_the_step_that_asks_for_them(name: str) -> None:
    for page in pages(work(name)):
        asks = SIGN in words_of([page])
        signs = [one for one in fields_of([page]) if one.name.startswith("sign__")]
        assert bool(signs) == asks


def test_the_cautions_name_every_danger_and_who_decides() -> None:
    what = [caution.what for caution in cautions_for(work("six treads"))]
    assert what == [
        "Open edge", "Propped rail", "Power tools", "Dust", "Adhesive", "Code and licence",
    ]  # fmt: skip
    words = words_of(pages(work("six treads"))[:1])
    for each_one in what:
        assert each_one in words
    assert "licensed" in words
    assert "inspector" in words


def test_cautions_come_before_the_first_step() -> None:
    words = words_of(pages(work("six treads")))
    assert words.index("Keep safe") < words.index("Check the print")


@pytest.mark.parametrize("name", SMALL)
def test_a_small_drawing_keeps_to_its_box_and_its_words_clear(name: str) -> None:
    items: tuple[Item, ...] = SMALL[name]
    page = Page(draw.WIDE, draw.HIGH, "", "", items)
    assert not outside(page, -0.6)
    assert not clashes(page)
    assert not list(struck_out(page))
    assert min(text.size for text in texts_of([page])) >= 2.5


def test_the_drawn_tread_is_mirrored_for_the_other_side_its_words_readable() -> None:
    drawings_mirror(draw.tread_strip("left"), draw.tread_strip("right"))
    drawings_mirror(draw.tread_strip("left", (0.1, 0.25)), draw.tread_strip("right", (0.1, 0.25)))


def drawings_mirror(left: tuple[Item, ...], right: tuple[Item, ...]) -> None:
    def shapes(items: tuple[Item, ...], flip: bool) -> set[tuple[object, ...]]:
        found = set()
        for item in items:
            if isinstance(item, Stroke | Fill):
                points = [(draw.WIDE - u if flip else u, v) for u, v in item.points]
                found.add(tuple(sorted((round(u, 6), round(v, 6)) for u, v in points)))
        return found

    assert shapes(left, flip=True) == shapes(right, flip=False)
    words = [[item.text for item in one if isinstance(item, Text)] for one in (left, right)]
    assert words[0] == words[1]


def test_the_drawing_of_the_tread_is_for_the_first_flights_side() -> None:
    for side in ("left", "right"):
        setout = made(changed(TREADS, {"side": side}))
        step = steps_of(setout)[place(setout, "Lay each tread")]
        assert step.drawing == draw.tread_strip(side)
        winders = made(changed(TREADS, {"side": side, "treads": f"[{WINDER}]"}))
        step = steps_of(winders)[place(winders, "Lay each tread")]
        plan = winders.sections[0].treads[0].plan
        slopes = -plan.front.skew / 100, -plan.back.skew / 100
        assert slopes[1] == pytest.approx(0.218035)
        assert step.drawing == draw.tread_strip(side, slopes)


def test_figures_are_listed_for_so_many_sections_and_the_rest_is_referred_to() -> None:
    setout = work("six treads")
    many = [replace(setout.sections[0]) for _ in range(MOST + 3)]
    setout = replace(setout, sections=tuple(many))
    lines = each(setout, setout.sections, lambda one: one.marks[0].name, "on the cover")
    assert lines == (*["Main flight: 1-1"] * MOST, "The other sections: on the cover.")


def holds(setout: Setout) -> None:
    leaf, found = leaf_of(setout.job.paper), pages(setout)
    for page in numbered(found, setout.job.title, setout.pack_id, 1, len(found), leaf.margin):
        assert not clashes(page), page.label
        assert not list(struck_out(page)), page.label
        assert not outside(page, leaf.margin), page.label
        assert min(text.size for text in texts_of([page])) >= 2.5


@pytest.mark.parametrize("paper", ["letter", "6 in x 9 in"])
@pytest.mark.parametrize("name", NAMES)
def test_no_words_meet_words_or_a_line_or_leave_the_margin(name: str, paper: str) -> None:
    holds(work(name, paper))


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", ["pattern", "metric"])
def test_every_paper_holds(name: str, paper: str) -> None:
    holds(work(name, paper))


def test_the_same_job_gives_the_same_pages() -> None:
    assert pages(work("pattern")) == pages(work("pattern"))
