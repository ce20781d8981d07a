"""The job file that teaches itself: valid as it stands and with its lines brought to life."""

from __future__ import annotations

import re

import pytest
from commands import DONE, call
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


OF_TREADS = [n for n in ALONE if LINES[n].lstrip().startswith("#- ")]
"""Other treads than those of the plain stair, each of which makes another one."""


@pytest.mark.parametrize("sleepers", [[n for n in SLEEPING if n not in OF_TREADS],
                                      [n for n in SLEEPING if n >= SECTIONS[0]]])  # fmt: skip
def test_brought_to_life_it_lays_out_with_whole_holes_and_packs(tmp_path, sleepers):
    """All keys but the odd treads, and the two sections alone."""
    (tmp_path / "hall.yaml").write_bytes(with_awake(*sleepers))
    said = call(tmp_path, "layout", "hall.yaml")
    assert (said.status, said.lines) == (DONE, ())
    assert "Balcony (level)" in said.out
    assert "Knee wall (sloped)" in said.out
    assert "hole" not in said.out
    assert call(tmp_path, "pack", "hall.yaml").status == DONE


@pytest.mark.parametrize("number", OF_TREADS, ids=lambda n: LINES[n].split("#")[1])
def test_each_odd_tread_lays_out_behind_the_others(tmp_path, number):
    (tmp_path / "hall.yaml").write_bytes(with_awake(number))
    assert call(tmp_path, "layout", "hall.yaml").status == DONE


@pytest.mark.parametrize("words", ["from the floor or the shoe's base", "return nosing included"])
def test_it_says_where_height_and_line_begin(words):
    plain = " ".join(commented_job().decode().replace("#", " ").split())
    assert words in plain


def test_it_prints_on_a_terminal_and_in_any_editor():
    assert all(len(line) <= 100 for line in LINES)
    assert "\t" not in commented_job().decode()
