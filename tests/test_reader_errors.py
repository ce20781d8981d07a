"""A job file that cannot be used: every problem at its place, in words that mend it."""

from __future__ import annotations

import time

import pytest
from job_files import (
    JOB,
    LEVEL,
    METRIC,
    METRIC_TREADS,
    SECTIONS,
    SLOPED,
    TREADS,
    changed,
    level_file,
    lines_for,
    problems_in,
    sloped_file,
    tread_file,
    treads_file,
    written,
)  # fmt: skip

from stairjig.job.fields import mend_for_unknown
from stairjig.job.keys import KEYS, SECTION_KINDS


def only_problem(source, paper=None):
    """The one line that a file's one problem comes to."""
    lines = lines_for(source, paper)
    assert len(lines) == 1, lines
    return lines[0]


def test_a_misspelt_key_is_answered_with_the_nearest_known_one():
    assert only_problem(treads_file(nosng="1")) == (
        'flight.yaml:16:5: "nosng" is no key of a treads section - did you mean "nosing"?'
    )


def test_a_slip_in_a_fraction_is_shown_as_it_was_written():
    assert only_problem(treads_file(treads="[10 5/4]")) == (
        'flight.yaml:15:14: run "10 5/4" has a fraction of one or more beside a whole number; '
        "is a digit missing?"
    )


@pytest.mark.parametrize("key", ["title", "openings", "units", "balusters", "rail"])
def test_each_key_that_a_job_needs_is_missed(key):
    lines = lines_for(written({key: None}))
    assert f'flight.yaml:1:1: a job needs "{key}" - add it: {KEYS["a job"][key]}' in lines
    assert len(lines) == 1


def test_a_job_without_sections_misses_them():
    source = "\n".join(f"{key}: {text}" for key, text in JOB.items()).encode()
    assert only_problem(source).startswith('flight.yaml:1:1: a job needs "sections"')


NEEDED = [
    (kind, key) for kind, base in SECTIONS.items() for key in base if key not in ("kind", "rise")
]


@pytest.mark.parametrize(("kind", "key"), NEEDED)
def test_each_key_that_a_section_needs_is_missed(kind, key):
    line = only_problem(written(None, changed(SECTIONS[kind], {key: None})))
    where = "flight.yaml:7:5"
    assert line.startswith(f'{where}: {SECTION_KINDS[kind]} needs "{key}" - add it: ')


@pytest.mark.parametrize(("key", "rest"), [("shape", "width: 5/8"), ("width", "shape: round")])
def test_each_key_that_a_baluster_needs_is_missed(key, rest):
    line = only_problem(written({"balusters": f"{{plain: {{{rest}}}}}"}))
    assert line == f'flight.yaml:4:20: a baluster needs "{key}" - add it: {KEYS["a baluster"][key]}'


@pytest.mark.parametrize("kind", sorted(KEYS))
def test_each_key_misspelt_is_answered_with_itself(kind):
    """Whatever block a key is of, losing a letter of it leaves it the nearest."""
    for key in KEYS[kind]:
        if len(key) > 4:
            assert (
                mend_for_unknown(key[:2] + key[3:], tuple(KEYS[kind])) == f'did you mean "{key}"?'
            )


JOB_VALUES = [
    ("title", '""', "title is empty"),
    ("title", "x" * 81, "title has 81 characters - keep it to 80"),
    ("title", '"up\\u202edown"', "cannot be printed (U+202E)"),
    ("title", '"bell\\a"', "cannot be printed (U+0007)"),
    ("title", '"half \\ud800"', "cannot be printed (U+D800)"),
    ("title", '"own \\ue000"', "cannot be printed (U+E000)"),
    ("title", '"new \\u0378"', "cannot be printed (U+0378)"),
    ("title", '"two\\nlines"', "cannot be printed (U+000A)"),
    ("title", '"two\\Llines"', "cannot be printed (U+2028)"),
    ("title", "[a]", "title is a list - write words to print"),
    ("units", "inches", 'units cannot be "inches" - did you mean "inch"?'),
    ("openings", "irk", 'openings cannot be "irk" - did you mean "irc"?'),
    ("openings", "zzz", "known: irc, ibc, uk, ca, au"),
    ("openings", "{}", "give none of stair, level and triangle"),
    ("openings", "{equal: fails}", "give none of stair, level and triangle"),
    ("openings", "{stair: 4, equal: fail}", 'equal cannot be "fail" - did you mean "fails"?'),
    ("openings", "{stair: 4, levle: 4}", '"levle" is no key of openings'),
    ("openings", "[4]", "openings is a list"),
    ("balusters", "{}", "balusters names no type"),
    ("balusters", "[plain]", "balusters is a list"),
    ("balusters", "{plain: 5/8}", '"plain" is "5/8" - write keys, like {shape: …'),
    ("balusters", "{p: {shape: squre, width: 1}}", 'shape cannot be "squre"'),
    ("balusters", "{p: {shape: round, width: 1/4}}", 'width "1/4" is under 8 mm'),
    ("balusters", "{p: {shape: round, width: 0}}", 'width "0" is zero'),
    ("balusters", "{p: {shape: round, width: -1}}", 'width "-1" is negative'),
    ("balusters", "{p: {shape: round, width: [1]}}", "width is a list - write a length"),
    ("balusters", "{p: {shape: round, width: {a: 1}}}", "width is a block of keys"),
    ("balusters", "{p: {shape: round, width: }}", "width is empty"),
    ("balusters", "{p: {shape: round, width: 1, narrowest: 2}}", "is wider than the width"),
    ("balusters", "{p: {shape: round, width: 1, base: 3/4}}", "is narrower than the width"),
    ("balusters", "{p: {shape: round, width: 1, fit: -1/8}}", 'fit "-1/8" is negative'),
    ("balusters", "{p: {shape: round, width: 1, top: pined}}", 'did you mean "pin"?'),
    ("balusters", "{p: {shape: round, width: 1, rail_hole: {size: 1}}}", 'a hole needs "depth"'),
    ("balusters", "{p: {shape: round, width: 1, rail_hole: 1}}", 'rail_hole is "1"'),
    ("balusters", "{p: {shape: round, width: 1, rail_hole: {size: 1/4, depth: 1}}}", "under 8 mm"),
    ("balusters", "{" + "n" * 41 + ": {shape: round, width: 1}}", "has 41 characters"),
    ("balusters",
     '{a b: {shape: round, width: 1}, "a  b": {shape: round, width: 1}}', "given twice"),
    ("rail", "36", 'rail is "36"'),
    ("rail", "{height: 36, depth: 2}", 'a rail needs "width"'),
    ("rail", "{height: 36, depth: 36, width: 2}", "is not less than the height"),
    ("rail", "{height: 36, depth: 2, width: 2, plow: {width: 2, depth: 1}}", "not narrower"),
    ("rail", "{height: 36, depth: 2, width: 2, plow: {width: 1, depth: 2}}", "not shallower"),
    ("rail", "{height: 36, depth: 2, width: 2, plow: {width: 1}}", 'a plow needs "depth"'),
    ("pattern", "plain", 'pattern is "plain" - write a list'),
    ("pattern", "[]", "pattern is an empty list"),
    ("pattern", "[plan]", '"plan", which is no baluster type - did you mean "plain"?'),
    ("pattern", "[[plain]]", "pattern is a list"),
    ("allowance", "-1/16", 'allowance "-1/16" is negative'),
    ("tolerance", "0", 'tolerance "0" is zero'),
    ("show", "1/64", 'show cannot be "1/64" - a job in these units shows 1/16 or 1/32'),
    ("show", "0.5 mm", 'show cannot be "0.5 mm"'),
    ("copies", "share", 'did you mean "shared"?'),
    ("margin", "0", 'margin "0" is zero'),
    ("margin", "3", "is over a quarter of the paper"),
    ("paper", "lettr", 'paper "lettr" is not known - did you mean "letter"?'),
    ("paper", "a9000", "is not known"),
    ("paper", "poster", "is not known - use letter, legal"),
    ("paper", "roll", "is not known"),
    ("paper", "roll x", "is no size"),
    ("paper", "roll 10", "a roll is 11 to 60 inches wide"),
    ("paper", "roll 61", "a roll is 11 to 60 inches wide"),
    ("paper", "roll 24 24", "is no size"),
    ("paper", "1 x 2", "sides from 4 in to 196 in"),
    ("paper", "3 x 5", 'paper "3 x 5" is out of bounds - a sheet has sides from 4 in to 196 in'),
    ("paper", "ledgr", 'paper "ledgr" is not known - did you mean "ledger"?'),
    ("paper", "10 x 15 x 20", "is not known"),
    ("paper", "10 x", "is no size"),
    ("paper", "10 x ten", "is no size"),
    ("paper", "-10 x 15", "is not known"),
    ("paper", "10 x 999", "sides from 4 in to 196 in"),
    ("paper", "[a4]", "paper is a list"),
    ("sections_", "1", 'did you mean "sections"?'),
    ("Title", "x", 'did you mean "title"?'),
    ("pitch", "36", "it belongs to a sloped section"),
    ("xyz", "1", "known: title, units"),
]  # fmt: skip


@pytest.mark.parametrize(("key", "text", "says"), JOB_VALUES)
def test_a_job_value_that_cannot_be_used_is_refused(key, text, says):
    line = only_problem(written({key: text}))
    assert says in line
    assert line.startswith("flight.yaml:")


@pytest.mark.parametrize(("size", "told"), [("2 5/16", False), ("2 3/8", True), ("2 5/8", True)])
def test_a_rail_hole_as_wide_as_the_rail_is_refused_once_at_its_size(size, told):
    bar = f"{{turned: {{shape: round, width: 2 1/4, rail_hole: {{size: {size}, depth: 1}}}}}}"
    second = changed(TREADS, {"name": "Upper flight", "upper_newel": "wall"})
    lines = lines_for(written({"balusters": bar}, TREADS, second))
    assert (
        lines
        == [
            f'flight.yaml:4:68: rail_hole size "{size}" is not less than the width of the rail of '
            '"Main flight", 2 3/8 - it can\'t be bored: check both'
        ][: int(told)]
    )


def test_a_rail_hole_is_held_against_the_rails_that_it_is_bored_into_alone():
    """One section has a slim rail and another type, a second the wide type and a plowed rail."""
    bars = (
        "{a: {shape: round, width: 1}, b: {shape: round, width: 2, rail_hole: {size: 2, depth: 1}}}"
    )
    slim = changed(TREADS, {"pattern": "[a]", "rail": "{height: 36, depth: 2, width: 1 1/2}"})
    plow = "{height: 36, depth: 2, width: 1 1/2, plow: {width: 1, depth: 1/4}}"
    plowed = changed(LEVEL, {"pattern": "[b]", "rail": plow})
    wide = changed(SLOPED, {"pattern": "[a, b]"})
    job = {"balusters": bars}
    assert lines_for(written(job, slim, plowed, wide)) == []
    line = only_problem(written(job, changed(slim, {"pattern": "[a, b]"})))
    assert 'rail_hole size "2" is not less than the width of the rail of "Main flight"' in line


TREADS_VALUES = [
    ({"rise": "190"}, 'rise "190" is over 4 feet; no step is that high - if it is in millimetres'),
    ({"rise": None, "rises": "[7, 49, 7, 7, 7, 7, 7]"}, 'rise "49" is over 4 feet'),
    ({"name": "n" * 41}, "name has 41 characters - keep it to 40"),
    ({"name": "[a]"}, "name is a list"),
    ({"kind": "tread"}, 'kind cannot be "tread" - did you mean "treads"?'),
    ({"kind": None}, 'a section needs "kind"'),
    ({"side": "lft"}, 'side cannot be "lft" - did you mean "left"?'),
    ({"rise": None}, 'a treads section needs "rise" - add it: one rise for all, or rises'),
    ({"rise": "0"}, 'rise "0" is zero'),
    ({"rises": "[7, 7, 7, 7, 7, 7, 7]"}, "rises stands beside rise"),
    ({"rise": None, "rises": "[7, 7]"}, "lists 2 for 6 treads - it takes one more"),
    ({"rise": None, "rises": "7"}, 'rises is "7" - write a list of rises'),
    ({"rise": None, "rises": "[7, 7, 7, 7, 7, 7, x]"}, 'rise "x" is no length'),
    ({"nosing": "-1"}, 'nosing "-1" is negative'),
    ({"line": "0"}, 'line "0" is zero'),
    ({"line": "[1, 2]"}, "line is a list"),
    ({"line": "{front: 1}"}, 'a line needs "back"'),
    ({"line": "{front: 1, back: 2, side: 3}"}, "it belongs to a treads section"),
    ({"line_from": "strng"}, 'did you mean "string"?'),
    ({"spacing": "evenly"}, 'did you mean "even"?'),
    ({"per_tread": "0"}, 'per_tread "0" is not a whole number from 1 to 50'),
    ({"per_tread": "51"}, "from 1 to 50"),
    ({"per_tread": "2.5"}, 'per_tread "2.5" is no whole number'),
    ({"per_tread": "some"}, 'per_tread "some" is no whole number'),
    ({"set_back": "-1/8"}, 'set_back "-1/8" is negative'),
    ({"first_tread": "0"}, 'first_tread "0" is not'),
    ({"first_tread": "٣"}, "is no whole number"),
    ({"first_tread": "9" * 300}, "is not a whole number from 1 to 999"),
    ({"rail_length": "0"}, 'rail_length "0" is zero'),
    ({"rail_taped": "72"}, 'rail_taped is "72"'),
    ({"rail_taped": "{from: 1-1, to: 6-1}"}, 'a taped rail needs "length"'),
    ({"rail_taped": "{from: one, to: 6-1, length: 72}"}, 'from "one" names no mark'),
    ({"rail_taped": "{from: 6-1, to: 1-1, length: 72}"}, 'to "1-1" is not above from "6-1"'),
    ({"rail_taped": "{from: 2-1, to: 2-1, length: 72}"}, 'to "2-1" is not above from "2-1"'),
    ({"rail_taped": "{from: 1-1, to: 7-1, length: 72}"}, "no mark 7-1: the section has treads 1"),
    ({"rail_taped": "{from: 1-1, to: 6-4, length: 72}", "per_tread": "3"},
     "no mark 6-4: tread 6 carries 3"),
    ({"lower_newel": "wal"}, 'cannot be "wal" - write {width: 3 1/2}, or wall, or none'),
    ({"lower_newel": "3 1/2"}, "write {width: 3 1/2}, or wall, or none"),
    ({"lower_newel": ""}, 'lower_newel cannot be ""'),
    ({"lower_newel": "[wall]"}, "lower_newel is a list"),
    ({"lower_newel": "{narrowest: 3}"}, 'a newel needs "width"'),
    ({"lower_newel": "{width: 3, narrowest: 4}"}, "is wider than the width"),
    ({"lower_newel": "{width: 3, place: gape}"}, 'place cannot be "gape" - write gap, {face'),
    ({"lower_newel": "{width: 3, place: {}}"}, "is one of face and replaces"),
    ({"lower_newel": "{width: 3, place: {face: 1, replaces: 1-1}}"}, "give one of the two"),
    ({"lower_newel": "{width: 3, place: {replaces: 1}}"}, 'replaces "1" names no mark'),
    ({"lower_newel": "{width: 3, place: {replaces: 0-1}}"}, 'replaces "0-1" names no mark'),
    ({"lower_newel": "{width: 3, place: {replaces: 9-1}}"}, "no mark 9-1"),
    ({"treads": "10"}, 'treads is "10" - write a list'),
    ({"treads": "[]"}, "treads is an empty list"),
    ({"treads": "[{run: 10, times: 201}]"}, "is not a whole number from 1 to 200"),
    ({"treads": "[{run: 10, times: 101}, {run: 10, times: 100}]"}, "treads come to 201, over 200"),
    ({"treads": "[{run: 10, bare: yes, times: 3}]"}, "every tread of the section is bare"),
    ({"treads": "[10, {run: 9, bare: yes}, 10]"}, "a bare tread stands between others"),
    ({"treads": "[{run: 9, bare: yes}, 10]", "rail_taped": "{from: 1-1, to: 2-1, length: 9}"},
     "no mark 1-1: tread 1 is bare"),
    ({"treads": "[10, {run: 10, per_tread: 3}]", "spacing": "even"},
     "per_tread on some treads alone beside spacing: even"),
    ({"treads": "[10, {run: 10, per_tread: 3}]", "spacing": "even", "per_tread": "auto"},
     "give the section a per_tread, or leave it out of its treads"),
    ({"length": "96"}, "it belongs to a level section, a sloped section or a taped rail"),
    ({"26": "1"}, "a decimal comma between brackets must stand in quotes"),
]  # fmt: skip


@pytest.mark.parametrize(("changes", "says"), TREADS_VALUES)
def test_a_treads_value_that_cannot_be_used_is_refused(changes, says):
    assert says in only_problem(treads_file(**changes))


TREAD_ITEMS = [
    ("{times: 2}", "a tread needs one of run, depth, line_run and sides"),
    ("{run: 10, depth: 11}", "depth stands beside run - keep the one that was measured"),
    ("{run: 10, line_run: 11}", "line_run stands beside run"),
    ("{depth: 1}", 'depth "1" is no more than the nosing, "1 1/8"'),
    ("{depth: 1 1/8}", "is no more than the nosing"),
    ("{run: 10, skew: 80}", 'skew "80" is not between -80 and 80 degrees'),
    ("{run: 10, skew: 90}", "is not between -80 and 80 degrees"),
    ("{run: 10, skew: -80}", "is not between -80 and 80 degrees"),
    ("{run: 10, skew: nan}", 'skew "nan" is no angle'),
    ("{run: 10, skew: 2, back_skew: 2}", "back_skew stands beside skew"),
    ("{run: 10, front_skew: 2}", "run of a tread whose two risers differ in skew - give line_run"),
    ("{depth: 11, front_skew: 2, back_skew: 3}", "depth of a tread whose two risers differ"),
    ("{run: 10, times: 0}", 'times "0" is not'),
    ("{run: 10, times: -2}", 'times "-2" is no whole number'),
    ("{run: 10, times: 99999999}", "is not a whole number from 1 to 200"),
    ("{run: 10, bare: maybe}", 'bare cannot be "maybe"'),
    ("{run: 10, bare: yes, per_tread: 3}", "a bare tread carries no balusters"),
    ("{run: 10, diagonal: 20}", "diagonal stands without sides"),
    ("{run: 10, check_diagonal: 20}", "check_diagonal stands without sides"),
    ("{sides: {end: 9, back: 38, wall: 24, front: 36}}", 'a tread needs "diagonal"'),
    ("{sides: {end: 9, back: 38, wall: 24}, diagonal: 43}", 'a winder needs "front"'),
    ("{sides: 9, diagonal: 43}", 'sides is "9"'),
    ("{sides: {end: 9, back: 38, wall: 24, front: 36}, diagonal: 43, skew: 3}", "skew stands"),
    ("-10", 'run "-10" is negative'),
    ("0", 'run "0" is zero'),
    ("nan", 'run "nan" is no length'),
    (".5e3", 'run ".5e3" is no length'),
    ("inf", 'run "inf" is no length'),
    ("9" * 300, "is too long for a length"),
    ("21/2", "is a space missing, as in 10 1/4?"),
    ("[10]", "a tread is a list"),
    ('""', "run is empty"),
]  # fmt: skip


@pytest.mark.parametrize(("item", "says"), TREAD_ITEMS)
def test_a_tread_that_cannot_be_used_is_refused(item, says):
    assert says in only_problem(tread_file(item))


WINDER = "[{sides: {end: 9, back: 38, wall: 24, front: 36}, diagonal: 43}]"


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"line": "{front: 1, back: 2}"}, "line differs front and back beside sides"),
        ({"line_from": "wall"}, "line_from stands beside sides - measure from the tread end"),
    ],
)
def test_sides_hold_the_line_by_one_length_from_the_tread_end(changes, says):
    assert says in only_problem(treads_file(treads=WINDER, **changes))


@pytest.mark.parametrize(
    ("source", "says"),
    [
        (level_file(length="0"), 'length "0" is zero'),
        (level_file(count="0"), "from 1 to 2,000"),
        (level_file(count="2001"), "from 1 to 2,000"),
        (level_file(shoe="1"), 'shoe is "1"'),
        (level_file(shoe="{depth: -1}"), 'depth "-1" is negative'),
        (level_file(pitch="36"), '"pitch" is no key of a level section - it belongs to a sloped'),
        (level_file(lower_newel="{width: 3, place: {face: 1}}"), "place is for a newel on treads"),
        (sloped_file(pitch="0"), 'pitch "0" is not between 0 and 80 degrees'),
        (sloped_file(pitch="80"), "is not between 0 and 80 degrees"),
        (sloped_file(pitch="steep"), "is no angle"),
        (sloped_file(bottom_rail="{lift: 0, rise: 7, run: 10}"), 'a bottom rail needs "nosing"'),
        (sloped_file(nosing="1"), "it belongs to a treads section or a bottom rail"),
        (sloped_file(kind="slope"), 'kind cannot be "slope" - did you mean "sloped"?'),
    ],
)
def test_a_straight_section_that_cannot_be_used_is_refused(source, says):
    assert says in only_problem(source)


def test_section_names_are_told_apart_by_more_than_their_case():
    source = written(None, TREADS, changed(LEVEL, {"name": "MAIN  flight"}))
    assert only_problem(source) == (
        'flight.yaml:16:11: section name "MAIN  flight" is taken, on line 7 - give each section '
        "its own"
    )


def test_several_types_without_a_pattern_are_refused_once():
    two = "{plain: {shape: square, width: 1}, fancy: {shape: square, width: 1}}"
    line = only_problem(written({"balusters": two}, TREADS, LEVEL))
    assert line.endswith("2 baluster types and no pattern - add pattern: [plain, fancy]")


def test_a_metric_job_is_told_when_a_width_looks_like_inches():
    source = written(
        {**METRIC, "balusters": "{p: {shape: square, width: 5/8}}"}, changed(TREADS, METRIC_TREADS)
    )
    assert only_problem(source).endswith(
        'width "5/8" is under 8 mm, too small to mark - if it is in inches, write in behind it'
    )


def test_a_decimal_comma_that_a_bracket_has_cut_is_recognised():
    cut = changed({**TREADS, **METRIC_TREADS}, {"treads": "[{run: 241,5}]"})
    assert 'must stand in quotes, like "26,5"' in only_problem(written(METRIC, cut))
    rises = {"rise": None, "rises": "[190,5, 190]", "treads": "[240]"}
    lines = lines_for(written(METRIC, changed({**TREADS, **METRIC_TREADS}, rises)))
    assert any(
        "for 1 tread - it takes one more than the treads: 2; a decimal comma" in line
        for line in lines
    )


def test_a_paper_given_on_the_call_is_named_as_such():
    assert only_problem(written(), paper="a44") == (
        '--paper: paper "a44" is not known - did you mean "a4"?'
    )


def test_the_bounds_of_paper_are_given_in_the_jobs_units():
    metric = written(METRIC, changed(TREADS, METRIC_TREADS))
    assert only_problem(metric, "90 x 150") == (
        '--paper: paper "90 x 150" is out of bounds - a sheet has sides from 100 mm to 5000 mm'
    )


def test_a_margin_is_held_against_the_paper_that_is_used():
    assert not lines_for(written({"margin": "2 1/8"}))  # a quarter of letter's 8 1/2
    assert "over a quarter" in only_problem(written({"margin": "2 3/16"}))
    assert "over a quarter" in only_problem(written({"margin": "2"}), paper="5 x 9")


def test_over_ten_thousand_balusters_by_hand_are_refused():
    full = {"treads": "[{run: 120, times: 200}]", "per_tread": "50"}
    assert "the job has over 10,000 balusters" in only_problem(
        written(None, changed(TREADS, full), changed(LEVEL, {"count": "1"}))
    )


def test_all_problems_come_in_one_go_sorted_by_place():
    source = written(
        {"title": None, "margin": "0", "colour": "red", "openings": "{stair: x}"},
        changed(TREADS, {"nosing": "-1", "treads": "[10, 10 5/4, {run: 1, depth: 2}, {}]"}),
        changed(SLOPED, {"pitch": "99", "name": "main flight"}),
    )
    problems = problems_in(source)
    places = [(problem.where.line, problem.where.column) for problem in problems]
    assert places == sorted(places)
    texts = " | ".join(problem.what for problem in problems)
    for what in (
        'a job needs "title"', 'margin "0" is zero', '"colour" is no key', 'stair "x" is no length',
        'nosing "-1"', 'run "10 5/4"', "depth stands beside run", "a tread needs one of",
        'pitch "99"', 'section name "main flight" is taken',
    ):  # fmt: skip
        assert what in texts
    assert len(problems) == 10


def test_problems_of_one_line_are_sorted_by_column():
    """The width is read before the top, whatever their order in the line."""
    source = written({"balusters": "{plain: {top: pinn, shape: square, width: 0}}"})
    columns = [problem.where.column for problem in problems_in(source)]
    assert len(columns) == 2
    assert columns == sorted(columns)


def test_a_huge_count_costs_nothing():
    source = written(
        None,
        *(changed(TREADS, {"name": f"F{n}", "treads": "[{run: 10, times: 99999999}]"})
          for n in range(50)),
    )  # fmt: skip
    begun = time.perf_counter()
    assert len(problems_in(source)) == 50
    assert time.perf_counter() - begun < 2


def test_many_sections_stop_at_the_most_balusters_a_job_may_have():
    many = (
        changed(TREADS, {"name": f"F{n}", "treads": "[{run: 10, times: 200}]"}) for n in range(60)
    )
    assert "over 10,000 balusters" in only_problem(written(None, *many))
