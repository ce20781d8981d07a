"""The advice on other papers is for this job: its own margin, its own strips."""

from __future__ import annotations

from fractions import Fraction

import pytest
from packs import FLIGHT, LONG_FLIGHT, PLAIN, job_of
from strip_jobs import StripJob

from stairjig.errors import Refusal
from stairjig.lengths import INCH
from stairjig.pieces.build import cut_pieces
from stairjig.setout.build import set_out
from stairjig.sheets.advice import _told_apart, advice, plan_or_explain
from stairjig.sheets.elsewhere import common_papers
from stairjig.sheets.plan import plan_sheets


def job_with(margin: str, paper: str):  # type: ignore[no-untyped-def]
    return job_of(f"{LONG_FLIGHT.format(side='left')}margin: {margin}\npaper: {paper}\n")


@pytest.mark.parametrize("margin", ["1/8", "3/4"])
def test_other_papers_are_counted_with_the_jobs_own_margin(margin: str) -> None:
    counted = []
    for paper in ("letter", "a3"):
        setout = set_out(job_with(margin, paper))
        pieces = cut_pieces(setout)
        counts = advice(pieces, plan_sheets(pieces, setout.job.paper))
        counted.append({count.name: (count.sheets, count.joints) for count in counts})
    assert counted[0] == counted[1]


def test_a_margin_that_is_usual_on_rolls_alone_is_not_taken_for_sheets() -> None:
    usual = job_of(LONG_FLIGHT.format(side="left"), "roll 24").paper
    assert {paper.margin.mm for paper in common_papers(usual)} == {Fraction(5, 16) * INCH}
    own = job_with("3/8", "roll 24").paper
    assert {paper.margin.mm for paper in common_papers(own)} == {Fraction(3, 8) * INCH}


def refused(text: str) -> list[str]:
    """What a refusal of a job for its paper says."""
    setout = set_out(job_of(text))
    with pytest.raises(Refusal) as refusal:
        plan_or_explain(cut_pieces(setout), setout.job.paper, setout.job.shown)
    return [finding.text for finding in refusal.value.findings]


@pytest.mark.parametrize(
    ("seed", "strip"), [(500034, "Section 0 · tread 51"), (500187, f"{'W' * 38} 1 · tread 11")]
)
def test_no_paper_is_advised_without_room_for_the_words_of_every_strip(
    seed: int, strip: str
) -> None:
    (said,) = refused(StripJob(seed).text())
    assert said.endswith(
        f"; no paper has room for {strip} and all that it says: "
        "check the measures, or give the section a shorter name"
    )


def test_a_strip_that_is_hardly_too_wide_is_told_in_figures_that_read_apart() -> None:
    (said,) = refused(StripJob(500289).text())
    assert "is 4.70 in (119.3 mm) across and the paper has room for 4.69 in (119.1 mm); " in said
    assert _told_apart(100.00001, 100.0, "mm") == ("just over 100 mm (3.9 in)", "100 mm (3.9 in)")


def test_a_strip_too_wide_is_told_in_the_jobs_units_first() -> None:
    (said,) = refused(FLIGHT.format(**{**PLAIN, "line": "17 3/4"}))
    assert "is 20.7 in (526 mm) across and the paper has room for 7.4 in (187 mm); " in said
    assert said.endswith("; take a roll, such as --paper 'roll 24'")
    assert _told_apart(526, 187, "mm") == ("526 mm (20.7 in)", "187 mm (7.4 in)")
