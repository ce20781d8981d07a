"""The job file that teaches itself: valid as it stands and with its lines brought to life."""

from __future__ import annotations

import re

import pytest
from job_files import job_in, lines_for

from stairjig.job.identity import pack_id
from stairjig.job.keys import KEYS
from stairjig.job.template import commented_job

LINES = commented_job().decode().split("\n")
FIRST_OF_A_SECTION = re.compile(r"  #- name:")


def awake(line):
    """A line with the `#` in front of its key taken away."""
    return re.sub(r"^( *)#(?=(- )?([a-z_]+:|\{))", r"\1", line)


def with_awake(*numbers):
    lines = [awake(line) if n in numbers else line for n, line in enumerate(LINES)]
    return "\n".join(lines).encode()


SLEEPING = [n for n, line in enumerate(LINES) if awake(line) != line]
SECTIONS = [n for n in SLEEPING if FIRST_OF_A_SECTION.match(LINES[n])]
ALONE = [n for n in SLEEPING if n < SECTIONS[0]]
DEFAULTS = [n for n in ALONE if "# default" in LINES[n]]


def test_the_job_is_valid_as_it_stands_and_a_plain_stair_of_uneven_runs():
    job = job_in(commented_job())
    (flight,) = job.sections
    runs = {t.run.mm if t.run else t.depth.mm - flight.nosing.mm for t in flight.treads}
    assert (job.units, flight.kind, job.openings.name) == ("inch", "treads", "irc")
    assert len(runs) > 2
    assert not any(tread.front_skew.degrees or tread.bare for tread in flight.treads)


def test_its_rises_and_runs_keep_the_code_that_it_names():
    """IRC R311.7.5.1 and R311.7.5.2: rise at most 7-3/4, run at least 10, both within 3/8 in."""
    job = job_in(commented_job())
    (flight,) = job.sections
    runs = [t.run.mm if t.run else t.depth.mm - flight.nosing.mm for t in flight.treads]
    assert all(job.openings.run.holds(run) for run in runs)
    assert all(job.openings.rise.holds(rise.mm) for rise in flight.rises)
    assert max(runs) - min(runs) <= job.openings.uniform.mm


def test_every_key_of_every_block_stands_in_it():
    text = commented_job().decode()
    missing = [key for keys in KEYS.values() for key in keys if not re.search(rf"\b{key}:", text)]
    assert missing == []


def test_every_key_that_may_be_left_out_has_its_note():
    keys = [LINES[n] for n in ALONE if "#- " not in LINES[n]]
    assert [line for line in keys if line.count("#") < 2] == []


@pytest.mark.parametrize("number", ALONE, ids=lambda n: LINES[n].split("#")[1].split(":")[0])
def test_each_key_that_may_be_left_out_may_be_brought_to_life(number):
    assert lines_for(with_awake(number)) == []


@pytest.mark.parametrize("number", DEFAULTS, ids=lambda n: LINES[n].split("#")[1].split(":")[0])
def test_what_is_called_a_default_changes_nothing(number):
    assert pack_id(job_in(with_awake(number))) == pack_id(job_in(commented_job()))


def test_what_is_not_called_a_default_does_change_the_job():
    for number in set(ALONE) - set(DEFAULTS):
        assert pack_id(job_in(with_awake(number))) != pack_id(job_in(commented_job()))


def test_all_of_it_may_be_brought_to_life_at_once():
    job = job_in(with_awake(*SLEEPING))
    assert [section.kind for section in job.sections] == ["treads", "level", "sloped"]
    assert len(DEFAULTS) > 12


def test_it_prints_on_a_terminal_and_in_any_editor():
    assert all(len(line) <= 100 for line in LINES)
    assert "\t" not in commented_job().decode()
