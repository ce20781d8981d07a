"""Every length that a job can hold counts: a sixteenth of an inch more makes another pack.

In `FULL` each length stands between two signs of @.
"""

from __future__ import annotations

import json
import re

from commands import call

from stairjig.job.identity import pack_id
from stairjig.job.keys import KEYS
from stairjig.job.reader import read_job
from stairjig.lengths import INCH, read_length

FULL = """\
title: Plover House           # every key that takes a length
units: inch
openings: {stair: @4 3/8@, level: @4@, triangle: @6@, equal: fails}
paper: @11@ in x @17@ in
margin: @5/16@
allowance: @1/16@
tolerance: @1/8@
balusters:
  turned: {shape: square, width: @1 1/4@, narrowest: @3/4@, base: @1 3/8@, fit: @1/8@,
           tread_hole: {size: @15/16@, depth: @1@}, rail_hole: {size: @7/8@, depth: @3/4@}}
rail: {height: @36@, depth: @2 1/2@, width: @2 3/8@, plow: {width: @1 1/4@, depth: @3/8@}}
sections:
  - name: Hall
    kind: treads
    side: left
    rises: [@7 1/2@, @7 1/2@, @7 1/2@, @7 1/2@, @7 1/2@]
    nosing: @1 1/8@
    line: {front: @1 3/4@, back: @1 7/8@}
    set_back: @1/2@
    rail: {height: @35@, depth: @2@, width: @2 1/4@}
    rail_taped: {from: 1-1, to: 4-2, length: @46@}
    rail_length: @60@
    lower_newel: {width: @3 1/2@, narrowest: @3@, place: {face: -@2@}}
    upper_newel: {width: @3 1/4@, place: {face: @1@}}
    treads:
      - @10 1/4@
      - {depth: @11 3/8@}
      - {run: @10@}
      - {line_run: @10 1/8@}
  - name: Turn
    kind: treads
    side: left
    rise: @7 1/4@
    nosing: @1@
    line: @1 3/4@
    lower_newel: {width: @3 1/2@, place: {replaces: 1-1}}
    upper_newel: none
    treads:
      - {sides: {end: @9 1/2@, back: @38 13/16@, wall: @24@, front: @36@}, diagonal: @43 1/4@,
         check_diagonal: @37 1/4@}
  - {name: Balcony, kind: level, length: @96 1/2@, shoe: {depth: @3/4@}, lower_newel: wall,
     upper_newel: wall}
  - {name: Wall, kind: sloped, length: @121 3/8@, pitch: 36.9, shoe: {depth: @5/8@},
     lower_newel: wall, upper_newel: wall,
     bottom_rail: {lift: @1@, rise: @7 1/2@, run: @10@, nosing: @7/8@}}
"""
NO_LENGTH = {
    "title", "units", "openings", "balusters", "rail", "sections", "pattern", "show",
    "copies", "equal", "shoe", "shape", "top", "tread_hole", "rail_hole", "plow", "name", "kind",
    "lower_newel", "upper_newel", "side", "line_from", "treads", "spacing", "per_tread",
    "first_tread", "rail_taped", "count", "pitch", "bottom_rail", "sides", "skew", "front_skew",
    "back_skew", "times", "bare", "place", "replaces", "from", "to",
}  # fmt: skip
SPOT = re.compile("@([^@]+)@")
PLAIN = SPOT.sub(r"\1", FULL)


def changed(number: int) -> str:
    """The job with one of its lengths a sixteenth of an inch longer."""
    spots = [spot.span() for spot in SPOT.finditer(FULL)]
    start, end = spots[number]
    longer = read_length(FULL[start + 1 : end - 1], "inch") + INCH / 16
    return SPOT.sub(r"\1", f"{FULL[:start]}{float(longer / INCH)}{FULL[end:]}")


def test_the_job_holds_every_key_that_takes_a_length():
    """A key that is new stands here or among those that take none."""
    taken = set(re.findall(r"(\w+): [\[-]?@", FULL))
    known = {key for keys in KEYS.values() for key in keys}
    assert taken == known - NO_LENGTH


def test_a_sixteenth_more_anywhere_in_a_full_job_makes_another_pack():
    count = len(SPOT.findall(FULL))
    texts = [PLAIN, *(changed(number) for number in range(count))]
    assert count > 50
    assert len({pack_id(read_job(text.encode(), "job.yaml")) for text in texts}) == count + 1


def test_the_printed_pack_id_follows_a_measure_and_no_comment(tmp_path):
    small = "\n".join(line for line in PLAIN.splitlines() if "rail_taped" not in line)
    versions = (small, small.replace("# every", "# any"), small.replace("96 1/2", "96 9/16"))
    ids = []
    for text in versions:
        (tmp_path / "job.yaml").write_text(text, encoding="utf-8")
        said = call(tmp_path, "layout", "job.yaml", "--json")
        assert said.out.startswith("{"), said
        ids.append(json.loads(said.out)["pack_id"])
    assert ids[0] == ids[1] != ids[2]
