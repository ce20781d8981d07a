"""Jobs out of the common run: what their pages must not say, since it would not be true."""

from __future__ import annotations

import pytest
from job_files import LEVEL, SLOPED, TREADS, Changes, changed, job_in, written
from page_boxes import words_of
from work_jobs import HOLES

from stairjig.check import bow_lines
from stairjig.drawing import Page
from stairjig.pages.boring_card import boring_pages
from stairjig.pages.check_page import check_pages
from stairjig.pages.cover.openings import verdict_words
from stairjig.pages.cut_list import cut_list_pages
from stairjig.pages.inspector import inspector_pages
from stairjig.pages.leaf import leaf_of
from stairjig.pages.newel_sheet import newel_pages
from stairjig.pages.steps.steps import steps_pages
from stairjig.readings.values import rail_marks
from stairjig.report import as_list
from stairjig.setout.build import set_out
from stairjig.setout.values import Setout

OPEN = {"lower_newel": "none", "upper_newel": "none"}
WALLS = {"lower_newel": "wall", "upper_newel": "wall"}
PLOW = {"rail": "{height: 36, depth: 2 1/2, width: 2 3/8, plow: {width: 1 1/4, depth: 1/4}}"}
BORED = {"balusters": f"{{plain: {{shape: square, width: 5/8, {HOLES}}}}}"}
ABOVE = {"name": "Upper flight"}

ODD: dict[str, tuple[Changes, tuple[dict[str, str], ...], tuple[str, ...]]] = {
    "one mark, no ends": (
        BORED,
        (changed(LEVEL, {"length": "5", **OPEN}),),
        ("newels marked", "Mark the newels", "two marks", "Prove every", "its ends meet the faces",
         "Zero rules", "ends their faces", "or an end"),
    ),
    "one mark between walls": (
        BORED,
        (changed(LEVEL, {"length": "7", **WALLS}),),
        ("newels marked", "Plumb two", "1 to 1", "from the newels", "1 balusters", "Zero rules"),
    ),
    "one tread, no ends": (
        BORED,
        (changed(TREADS, {"treads": "[{run: 4}]", **OPEN}),),
        ("newels marked", "1 treads", "1 balusters", "both plumbed marks", "Prove every mark"),
    ),
    "walls alone": (
        BORED,
        (changed(TREADS, WALLS),),
        ("newels marked", "Mark the newels", "lower newel"),
    ),
    "no holes": (
        {},
        (changed(SLOPED, {"shoe": "{depth: 3/4}"}),),
        ("Bore by the boring card", "try hole in", "Pitch block", "tilt the bit", "cut lengths"),
    ),
    "plowed and bored below": (
        {**BORED, **PLOW},
        (TREADS,),
        ("tilt the bit", "Pitch block", "Take the rail down", "let in past", "what goes into both"),
    ),
    "plowed beside bored": (
        BORED,
        (changed(TREADS, PLOW), LEVEL),
        ("tilt the bit", "Pitch block", "pitch 36.2°; Balcony"),
    ),
    "pins without a cut": (
        {"balusters": "{p: {shape: round, width: 1 1/4, rail_hole: {size: 3/4, depth: 3/4}}}"},
        (TREADS,),
        ("counts the pins", "goes into both holes"),
    ),
    "open floor": (
        BORED,
        (changed(LEVEL, OPEN),),
        ("misses both", "split the difference"),
    ),
}  # fmt: skip


def _setout(job: Changes, sections: tuple[dict[str, str], ...]) -> Setout:
    return set_out(job_in(written(job, *sections)))


def _pages(setout: Setout) -> tuple[Page, ...]:
    """All pages that a job has of its own, but the cover."""
    leaf = leaf_of(setout.job.paper)
    makers = (
        steps_pages, newel_pages, check_pages, inspector_pages, boring_pages, cut_list_pages,
    )  # fmt: skip
    return tuple(page for make in makers for page in make(setout, leaf))


@pytest.mark.parametrize("name", ODD)
def test_the_pages_of_an_odd_job_say_nothing_untrue(name: str) -> None:
    job, sections, never = ODD[name]
    said = words_of(_pages(_setout(job, sections))).casefold()
    assert not [words for words in never if words.casefold() in said]


def test_alike_marks_are_told_apart_by_section_and_only_then() -> None:
    two = _setout(BORED, (TREADS, changed(TREADS, ABOVE)))
    said = words_of(_pages(two))
    assert "Sections here call their marks the same" in said
    assert "Upper flight 1-1" in said
    apart = _setout(BORED, (TREADS, changed(TREADS, {**ABOVE, "first_tread": "7"}), LEVEL))
    assert "call their marks the same" not in words_of(_pages(apart))


def test_paper_and_check_hold_the_same_line_and_the_same_bow() -> None:
    metric = {
        "units": "mm", "openings": "uk", "rail": "{height: 950, depth: 60, width: 60}",
        "balusters": "{plain: {shape: square, width: 32}}",
    }  # fmt: skip
    raked = {"length": "3000", "pitch": "38", "lower_newel": "{width: 90}", "upper_newel": "wall"}
    setout = _setout(metric, (changed(SLOPED, raked),))
    said = words_of(_pages(setout))
    assert "hold the 100 mm line there, and take 100 mm off" in said
    section = setout.sections[0]
    [bow] = bow_lines(section, rail_marks(section, setout.job))
    assert "a gap of 1.5 mm" in bow
    assert "more than 1.5 mm" in said


def test_the_list_gives_each_kind_of_opening_its_own_line_and_side_of_the_limit() -> None:
    """5 of 5/8 in 27 1/16 leave 23 15/16 over 6 gaps, 3.9896, which the sixteenth shows as 4."""
    near = _setout({}, (changed(LEVEL, {"length": "27 1/16", "count": "5"}),))
    assert "widest clear gap just under 4″" in as_list(near, ())
    rail = "{lift: 1, rise: 7 1/2, run: 10, nosing: 1 1/8}"
    both = as_list(_setout({}, (changed(SLOPED, {"bottom_rail": rail}),)), ())
    assert "largest sphere" in both
    assert "widest clear gap" in both


def test_what_has_no_limit_does_not_all_pass() -> None:
    only = _setout({"openings": "{triangle: 6}"}, (changed(LEVEL, {"count": "21"}),))
    assert "all pass" not in verdict_words(only)[0]


def test_a_hole_nearly_as_wide_as_its_rail_is_warned_of() -> None:
    balusters = "{p: {shape: round, width: 1 3/8, rail_hole: {size: 1 3/8, depth: 1}}}"
    rail = "{height: 36, depth: 2 1/2, width: 1 9/16}"
    setout = _setout({"balusters": balusters, "rail": rail}, (TREADS,))
    [found] = [one for one in setout.warnings if one.code == "hole-wide"]
    assert found.text == (
        "the rail hole of p, ⌀ 1 3/8″ in a rail 1 9/16″ wide, leaves only 3/32″ of wood on either "
        "side"
    )
    assert found.text in words_of(boring_pages(setout, leaf_of(setout.job.paper)))


@pytest.mark.parametrize(("low", "warned"), [("10 1/4", False), ("6 1/2", True)])
def test_a_rail_stands_higher_over_a_nosing_that_lies_low(low: str, warned: bool) -> None:
    """IRC R311.7.8.1: 34 to 38 in over every nosing; two steep steps at the foot lie far under."""
    treads = f"[{{run: {low}, times: 2}}, {{run: 10 1/4, times: 5}}]"
    setout = _setout({}, (changed(TREADS, {"treads": treads, "per_tread": "2"}),))
    highest = 36 * 25.4 + max(nosing.under for nosing in setout.sections[0].nosings)
    found = [one.text for one in setout.warnings if one.code == "rail-height"]
    assert bool(found) == warned == (highest > 38 * 25.4)
    shown = setout.job.shown.text(highest)
    said = words_of(inspector_pages(setout, leaf_of(setout.job.paper)))
    assert (f"36″ to {shown}" in said) == warned
    assert all(shown in text and "tread 1" in text for text in found)
