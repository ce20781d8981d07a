"""The sample jobs: each reads, and each shows what it is there to show."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from math import acos, degrees
from pathlib import Path

import pytest

from stairjig.job.identity import pack_id
from stairjig.job.reader import read_job
from stairjig.lengths import INCH

SAMPLES = Path(__file__).parent.parent / "samples"
FILES = sorted(SAMPLES.glob("*.yaml"))


def sample(name):
    path = SAMPLES / name
    return read_job(path.read_bytes(), path.name)


def runs_of(flight):
    """The depth less the nosing is the run."""
    return [t.run.mm if t.run else t.depth.mm - flight.nosing.mm for t in flight.treads]


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_every_sample_reads_and_begins_with_a_comment_on_its_stair(path):
    job = read_job(path.read_bytes(), path.name)
    assert job.sections
    assert path.read_text(encoding="utf-8").startswith("# ")


def test_no_two_samples_have_one_pack_id():
    ids = {pack_id(read_job(path.read_bytes(), path.name)) for path in FILES}
    assert len(ids) == len(FILES) >= 5


def test_the_mill_has_fifteen_uneven_treads_a_pattern_and_a_newel_that_stands():
    job = sample("kestrel-mill.yaml")
    (flight,) = job.sections
    assert (len(flight.treads), len(flight.rises)) == (15, 16)
    assert len(set(runs_of(flight))) > 3
    assert len({rise.mm for rise in flight.rises}) > 3
    assert len(set(flight.pattern)) == 3
    assert (flight.upper_newel.place, flight.lower_newel.place) == ("face", "gap")
    assert (job.paper.name, job.openings.name) == ("letter", "irc")


def test_the_mill_keeps_its_rises_and_runs_uniform():
    """IRC R311.7.5: largest less smallest of a flight at most 3/8 in, for rises and for runs."""
    (flight,) = sample("kestrel-mill.yaml").sections
    runs = runs_of(flight)
    rises = [rise.mm for rise in flight.rises]
    assert max(runs) - min(runs) <= Fraction(3, 8) * INCH
    assert max(rises) - min(rises) <= Fraction(3, 8) * INCH


def test_the_porch_is_crossed_at_an_angle_and_open_on_the_right():
    (flight,) = sample("skewed-porch.yaml").sections
    assert flight.side == "right"
    assert {tread.front_skew.degrees for tread in flight.treads} == {Fraction(45, 2)}
    assert all(tread.front_skew == tread.back_skew for tread in flight.treads)


def _front_skew(sides):
    """From the corner at the tread end's front, by the law of cosines on the other diagonal."""
    end, front, across = (float(x.mm) for x in (sides.end, sides.front, sides.check_diagonal))
    return degrees(acos((end**2 + front**2 - across**2) / (2 * end * front))) - 90


def _back_skew(sides):
    """From the corner at the tread end's back, by the law of cosines on the diagonal."""
    end, back, across = (float(x.mm) for x in (sides.end, sides.back, sides.diagonal))
    return 90 - degrees(acos((end**2 + back**2 - across**2) / (2 * end * back)))


def test_the_winders_agree_about_the_risers_they_share():
    winders, flight = sample("winder-turn.yaml").sections
    sides = [tread.sides for tread in winders.treads]
    for lower, upper in pairwise(sides):
        assert _back_skew(lower) == pytest.approx(_front_skew(upper), abs=1)
    assert _front_skew(sides[0]) == pytest.approx(0, abs=0.5)
    assert _back_skew(sides[-1]) == pytest.approx(-36, abs=0.5)
    assert [tread.number for tread in flight.treads] == list(range(4, 11))


def test_the_balcony_has_a_level_and_a_sloped_section_with_a_shoe():
    balcony, wall = sample("balcony.yaml").sections
    assert (balcony.kind, balcony.upper_newel.kind) == ("level", "wall")
    assert (wall.kind, wall.shoe_depth.mm) == ("sloped", Fraction(3, 2) * INCH)


def test_the_harbour_job_is_the_metric_stair_on_a4():
    job = sample("harbour-a4.yaml")
    (flight,) = job.sections
    assert (job.units, job.paper.name, job.openings.name) == ("mm", "a4", "uk")
    assert [tread.run.mm for tread in flight.treads] == [240] * 12
    assert (flight.rises[0].mm, flight.nosing.mm, flight.rail.height.mm) == (190, 20, 950)
    assert (flight.rail.depth.mm, job.balusters[0].width.mm) == (60, 32)
