"""The advice on other papers is for this job: its own margin, its own strips."""

from __future__ import annotations

from fractions import Fraction

import pytest
from packs import LONG_FLIGHT, job_of

from stairjig.lengths import INCH
from stairjig.pieces.build import cut_pieces
from stairjig.setout.build import set_out
from stairjig.sheets.advice import advice, common_papers
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
