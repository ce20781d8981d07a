"""Calls by chance: whatever the program is given, it ends as it should.

The long run is one command, `python tests/fuzz/run.py`.
"""

from __future__ import annotations

import pytest
from fuzz.calls import Call, call_of
from fuzz.grammar import Grammar
from fuzz.judge import Outcome, run, run_apart, wrongs
from fuzz.mutate import JOB_CHANGES, mutated
from fuzz.run import batch
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

SEED = 20
KINDS = {"layout", "pack", "check", "pdf", "form", "carried", "arguments"}


def quietly(examples):
    """Settings for tests whose examples take their time and share a folder."""
    unasked = [HealthCheck.function_scoped_fixture, HealthCheck.too_slow]
    return settings(deadline=None, max_examples=examples, suppress_health_check=unasked)


def test_calls_by_chance_end_as_they_should_and_leave_nothing_behind():
    tally = batch(SEED, range(110), apart=False)
    assert not tally.broken
    assert {kind for kind, _ in tally.counts} == KINDS
    assert {status for _, status in tally.counts} == {0, 1, 2}
    assert tally.memory < 1000


def test_processes_by_chance_end_as_they_should_and_leave_nothing_behind():
    assert not batch(SEED, range(3), apart=True).broken


@quietly(25)
@given(st.randoms(use_true_random=False), st.sampled_from((0, 0.02, 0.1)))
def test_a_job_by_chance_is_laid_out_or_refused(tmp_path, chance, wild):
    source = Grammar(chance, wild).job().encode("utf-8", "surrogatepass")
    call = Call("layout", ("layout", "job.yaml", "--json"), {"job.yaml": source})
    assert not wrongs(call, run(call, tmp_path), tmp_path)


@quietly(30)
@given(st.binary(max_size=200), st.randoms(use_true_random=False))
def test_bytes_by_chance_are_refused(tmp_path, data, chance):
    for source in (data, mutated(data, chance, JOB_CHANGES), b"%PDF-1.7\n" + data):
        for command in ("layout", "proof"):
            call = Call("bytes", (command, "x"), {"x": source})
            outcome = run(call, tmp_path)
            assert outcome.status == 2
            assert not wrongs(call, outcome, tmp_path)


@given(st.lists(st.text(st.characters(codec="utf-8"), max_size=12), max_size=5))
@quietly(30)
def test_arguments_by_chance_are_understood_or_refused(tmp_path, arguments):
    call = Call("arguments", tuple(arguments), {})
    assert not wrongs(call, run(call, tmp_path), tmp_path)


def test_a_call_is_the_same_each_time_it_is_made_from_its_number():
    assert call_of(3, 77) == call_of(3, 77)
    assert len({call_of(3, number).arguments for number in range(200)}) > 20


# The judge itself


BROKEN = {
    "a fault": Outcome(-1, "", "", 0, "Traceback: KeyError"),
    "another status": Outcome(3, "", "stairjig: no", 0),
    "a death": Outcome(-11, "", "", 0),
    "a traceback": Outcome(2, "", "Traceback (most recent call last):\nKeyError", 0),
    "a fault told": Outcome(2, "", "stairjig: a fault of stairjig's own (KeyError at x.py:1)", 0),
    "silence": Outcome(2, "", "", 0),
    "a silent failure": Outcome(1, "", "", 0),
    "a library's words": Outcome(0, "", "UserWarning: x", 0),
    "slowness": Outcome(2, "", "stairjig: no", 2.5),
    "no number": Outcome(0, '{"gap": NaN}', "", 0),
    "no JSON": Outcome(0, '{"gap": ', "", 0),
}


@pytest.mark.parametrize("what", BROKEN)
def test_the_judge_sees_what_breaks_the_rules(tmp_path, what):
    call = Call("layout", ("layout", "job.yaml", "--json"), {})
    assert wrongs(call, BROKEN[what], tmp_path)
    assert not wrongs(call, Outcome(0, '{"gap": 1.0}', "note: x", 3), tmp_path)


def test_the_judge_sees_what_was_left_changed_or_not_finished(tmp_path):
    call, fine = Call("pack", ("pack", "job.yaml"), {"job.yaml": b"x"}), Outcome(0, "", "", 0)
    (tmp_path / "job.yaml").write_bytes(b"x")
    assert not wrongs(call, fine, tmp_path)
    for name, data in (
        (".stairjig-1.part", b""),
        ("job.yaml", b"y"),
        ("out.pdf", b"%PDF-1.7\n1 0"),
    ):
        (tmp_path / name).write_bytes(data)
        assert wrongs(call, fine, tmp_path), name
        (tmp_path / name).write_bytes(call.files.get(name, b"%PDF-\n%%EOF"))
        (tmp_path / ".stairjig-1.part").unlink(missing_ok=True)


def test_the_judge_stops_what_does_not_end(tmp_path, monkeypatch):
    from fuzz import judge

    def endless(_):
        while True:
            pass

    monkeypatch.setattr(judge, "main", endless)
    monkeypatch.setattr(judge, "SLOWEST", 0.05)
    call = Call("layout", ("layout", "x"), {})
    assert any("too slow" in line for line in wrongs(call, run(call, tmp_path), tmp_path))


def test_a_process_is_judged_as_a_call_is(tmp_path):
    call = Call("layout", ("layout", "no.yaml"), {})
    here, there = run(call, tmp_path), run_apart(call, tmp_path)
    assert (here.status, here.told) == (there.status, there.told)
