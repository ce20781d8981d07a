"""Words on tiles: all that must be said is, nothing lies over anything, or the strip is refused."""

from __future__ import annotations

import re
from collections.abc import Sequence

import pytest
from packs import (
    CHANGES,
    FLIGHT,
    PLAIN,
    SAMPLE_NAMES,
    edge_case,
    job_of,
    long_flight,
    planned,
    sample,
    strip_pages,
    strips_pdf,
)
from strip_jobs import StripJob
from tile_words import gaps_in

from stairjig.drawing import Page, Run, Text
from stairjig.errors import BadInput, Refusal
from stairjig.pack import compose
from stairjig.pieces.build import cut_pieces
from stairjig.proof.prove import prove
from stairjig.setout.build import set_out
from stairjig.setout.values import Setout
from stairjig.sheets.advice import plan_or_explain
from stairjig.sheets.drawn import side_lines
from stairjig.sheets.plan import PlacedTile, SheetPlan
from stairjig.type import width

STRAIGHT = """
title: Edge house
units: inch
openings: {openings}
paper: {paper}
balusters: {{plain: {{shape: square, width: {width}{more}}}}}
rail: {{height: 36, depth: 2 1/2, width: {rail}}}
sections:
  - {{name: {name}, kind: {kind}, length: {length}{pitch}, lower_newel: {lower},
     upper_newel: {upper}}}
"""
USUAL = {
    "openings": "irc", "paper": "letter", "width": "5/8", "more": "", "rail": "2 3/8",
    "name": "Gallery", "kind": "level", "length": "96 1/2", "pitch": "",
    "lower": "{width: 3 1/2}", "upper": "{width: 3 1/2}",
}  # fmt: skip
WIDE = "plain: {shape: square, width: 1 3/4, base: 2}"
LONG_NAME = "Main flight from hall to north landing"


def tiled(page: Page) -> bool:
    return any(isinstance(item, Run) for item in page.items)


def straight(**changes: str) -> Setout:
    return set_out(job_of(STRAIGHT.format(**{**USUAL, **changes})))


def flight(paper: str = "letter", **changes: str) -> Setout:
    return set_out(job_of(FLIGHT.format(**{**PLAIN, **changes}), paper))


EDGES = {
    "feet of 2 in and names of two digits": lambda: flight(
        baluster=WIDE, more=", first_tread: 41, set_back: 1/2", treads="{run: 10 1/4, times: 3}"
    ),
    "feet of 4 in": lambda: flight(
        baluster="plain: {shape: round, width: 1, base: 4}", line="2 1/2",
        more=", set_back: 1 5/8", treads="{run: 10 1/2, times: 2}",
    ),
    "a slope with wide feet on a3": lambda: straight(
        kind="sloped", pitch=", pitch: 36.9", length="121 3/8", paper="a3", width="1 3/4",
        more=", base: 3",
    ),
    "a skew of -20": lambda: flight(treads="{run: 10 1/4, skew: -20, times: 3}", paper="a4"),
    "a rail narrower than its balusters": lambda: flight(
        rail="1", baluster="plain: {shape: square, width: 1 3/4}",
        more=", set_back: 3/8", lower="{face: 5}",
    ),
    "balusters as wide as the rail": lambda: straight(rail="1 3/8", width="1 3/8"),
    "a plow narrower than any strip": lambda: straight(rail="2, plow: {width: 3/4, depth: 3/16}"),
    "a long name": lambda: flight(name=LONG_NAME),
    "one baluster": lambda: straight(length="8"),
    "a tread end that runs toward the line in front": lambda: flight(
        treads="5", line="{front: 1 3/16, back: 3}", nosing="1 5/16", side="right"
    ),
    "risers that meet beyond the line": lambda: flight(
        treads="{line_run: 5, front_skew: -40, back_skew: 40}", line="1 1/4"
    ),
}  # fmt: skip
CASES = {
    **{f"{name} on {paper}": lambda name=name, paper=paper: sample(name, paper)
       for name in SAMPLE_NAMES for paper in ("letter", "a4")},
    **{name: lambda name=name: edge_case(name) for name in CHANGES},
    "a long flight": lambda: long_flight("right"),
    **EDGES,
}  # fmt: skip


def runs_of(plan: SheetPlan, pages: Sequence[Page]) -> list[tuple[PlacedTile, Run]]:
    """Every tile of a plan with all that is drawn on it."""
    found = []
    for sheet, page in zip(plan.sheets, filter(tiled, pages), strict=True):
        runs = [item for item in page.items if isinstance(item, Run)]
        found += list(zip(sheet.tiles, runs, strict=True))
    return found


def said_on(setout: Setout) -> dict[str, list[str]]:
    """What each tile of each strip says, in order."""
    plan = planned(setout)
    found: dict[str, list[tuple[int, str]]] = {}
    for placed, run in runs_of(plan, strip_pages(setout, plan)):
        words = " ".join(item.text for item in run.items if isinstance(item, Text))
        found.setdefault(placed.tile.piece.name, []).append((placed.tile.index, words))
    return {name: [words for _, words in sorted(tiles)] for name, tiles in found.items()}


@pytest.mark.parametrize("name", CASES)
def test_a_tile_says_all_it_must_and_no_words_lie_over_anything(name: str) -> None:
    setout = CASES[name]()
    assert setout.passes
    plan = planned(setout)
    pages = compose(setout, plan, []) if name in EDGES else strip_pages(setout, plan)
    assert list(gaps_in(runs_of(plan, pages))) == []
    if name in EDGES:
        assert prove(strips_pdf(pages), setout) == ()


def test_what_is_set_badly_is_seen() -> None:
    setout = sample("winder-turn.yaml")
    plan = planned(setout)
    tiles = runs_of(plan, strip_pages(setout, plan))
    placed, run = next(each for each in tiles if each[0].tile.below and each[0].tile.spots)
    strokes = [item for item in run.items if not isinstance(item, Text)]
    texts = [item for item in run.items if isinstance(item, Text)]
    spot = placed.tile.spots[0]
    at = (spot.at[0] + placed.shift[0], spot.at[1] + placed.shift[1])
    for changed, told in (
        ([*strokes, *texts, Text("over it", at, 3.0)], "'over it' over a BASE stroke"),
        ([*strokes, *texts, Text("twice", texts[3].at, 3.0)], f"{texts[3].text!r} over 'twice'"),
        ([*strokes, *(t for t in texts if t.text != spot.name)], f"mark {spot.name} or"),
        ([*strokes, *(t for t in texts if not t.text.startswith("joint"))], "reading of joint"),
        ([*strokes, *texts, Text("x" * 90, texts[0].at, 3.0)], "over the edge"),
    ):
        faults = list(gaps_in([(placed, Run("Tile", tuple(changed)))]))
        assert any(told in fault for fault in faults)


def packed(seed: int) -> str:
    """What becomes of a job by chance: a code of its refusal, or what its strips came to."""
    try:
        setout = set_out(job_of(StripJob(seed).text()))
    except BadInput:
        return "bad"
    if not setout.passes:
        return "fails"
    try:
        plan = plan_or_explain(cut_pieces(setout), setout.job.paper, setout.job.shown)
        pages = compose(setout, plan, [])
    except Refusal as refused:
        return refused.findings[0].code
    assert list(gaps_in(runs_of(plan, pages))) == []
    assert prove(strips_pdf(pages), setout) == ()
    return "packed"


SEEDS = (*range(14), 894, 1862, 2040, 2454, 3552)
"""The last: a word by a steep nick, two newels alike on a tread, a wide foot at an open end."""


def test_jobs_by_chance_are_packed_or_refused_before_their_proof() -> None:
    ends = [packed(seed) for seed in SEEDS]
    assert ends.count("packed") >= 5
    assert set(ends) <= {"packed", "bad", "fails", "no-room", "no-joint", "too-wide"}


def test_a_strip_without_room_for_what_it_must_say_is_refused_with_a_paper_that_has_it() -> None:
    crowded = {"name": "W" * 36, "treads": "{run: 11, times: 2}"}
    setout = flight(**crowded)
    with pytest.raises(Refusal) as refused:
        strip_pages(setout, plan_or_explain(cut_pieces(setout), setout.job.paper, setout.job.shown))
    (finding,) = refused.value.findings
    assert finding.code == "no-room"
    said = re.fullmatch(r"(.+) has no room on .+ for: (.+); the smallest .+ is (\w+)", finding.text)
    assert said
    assert said[1] == f"{'W' * 36} · tread 1 (2 of 2)"
    assert said[2] == f"the strip's name, {'W' * 36} · tread 1"
    assert strip_pages(flight(said[3], **crowded))


def test_an_arrow_up_the_stair_is_never_turned_to_find_room() -> None:
    crowded = {
        "baluster": "plain: {shape: square, width: 1 1/2, tread_hole: {size: 9/16, depth: 1}}",
        "lower": "{replaces: 1-1}", "side": "right", "nosing": "9/16",
        "line": "{front: 2 3/4, back: 1 1/4}", "treads": "{line_run: 9 1/2, skew: 23.2, times: 2}",
    }  # fmt: skip
    with pytest.raises(Refusal, match=r"on letter for: ↑ up the stair; .+ is legal$"):
        strip_pages(flight(**crowded))
    setout = flight("legal", **crowded)
    runs = [run for _, run in runs_of(planned(setout), strip_pages(setout))]
    said = [item for run in runs for item in run.items if isinstance(item, Text)]
    assert {text.angle for text in said if text.text.startswith("↑")} == {0}


@pytest.mark.parametrize("paper", ["letter", "a4", "legal"])
@pytest.mark.parametrize("name", SAMPLE_NAMES)
def test_the_checks_that_stop_a_helper_stand_on_every_strip(name: str, paper: str) -> None:
    setout = sample(name, paper)
    near = setout.job.shown.near
    for piece, tiles in said_on(setout).items():
        together = " ".join(tiles)
        must = [r"whole strip, end to end \S"]
        if piece.endswith("rail"):
            must += [
                r"zero is (mark )?\d.* plumb .*stop",
                "lower end",
                "upper end",
                re.escape(near),
            ]
        elif " · tread" in piece:
            must = [r"nosing edge .+ in front of the long dashes.+(1/8|3 mm).+stop", "line run",
                    "zero: (this )?back edge", r"(left|right) edge on the tread's end",
                    "long dashes: "]  # fmt: skip
        for words in must:
            assert re.search(words, together), f"{piece} lacks {words}"
        for tile in tiles:
            assert f"pack {setout.pack_id}" in tile
            assert re.search(
                r"up the stair|↑ up|up →|to the|(upper|lower) (newel|wall|end) →", tile
            )
            assert ("this face down" if piece.endswith("rail") else "this face up") in tile


def test_a_level_rail_runs_to_its_upper_newel_or_wall_and_up_no_stair() -> None:
    for upper, says in (("{width: 3 1/2}", "upper newel"), ("wall", "upper wall"), ("none", "end")):
        for tile in (tile for tiles in said_on(straight(upper=upper)).values() for tile in tiles):
            assert f"{says} →" in tile
            assert not re.search("up the stair|pitch", tile)


def test_a_strip_with_one_mark_is_checked_by_its_ends() -> None:
    (rail,) = said_on(straight(length="8"))["Gallery · rail"]
    assert "plumb it up" in rail
    assert "both ends meet their faces within 1/16″, else stop" in rail
    assert "zero rules" not in rail
    assert "1 and 1" not in rail


def test_a_long_title_is_cut_short_and_never_what_stands_before_it() -> None:
    note = "only for printer Oak-office-large-format-second-floor-x: drawn +0.55 % along, -0.41 %"
    head = ["sheet 12 of 118", "pack K7Q2WX", "REPRINT", note]
    for room in (500.0, 263.0, 195.0):
        lines = side_lines("bar 10″: use this sheet only if it measures", [*head, "t" * 90], room)
        assert len(lines) == 2
        assert all(width(line, 2.5) <= room for line in lines)
        assert " · ".join(head) in " ".join(lines)
    assert side_lines("bar", ["sheet 1 of 2", "pack K7Q2WX", "t" * 200], 195.0)[1].endswith("t…")
    assert side_lines("bar", ["sheet 1 of 2", "title"], 195.0)[1] == "sheet 1 of 2 · title"
