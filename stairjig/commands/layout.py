"""`stairjig layout`: where every baluster and newel goes, on the terminal."""

from __future__ import annotations

import argparse
import sys
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from stairjig.commands.parts import DONE, FAILS, Commands, add_job, command, save_job
from stairjig.errors import Refusal, together

if TYPE_CHECKING:
    from stairjig.report import PaperCount
    from stairjig.setout.values import Setout


def add(commands: Commands) -> None:
    """Declare the command."""
    says = "show where every baluster and newel goes"
    parser = command(commands, "layout", says, "stairjig layout hall.yaml")
    add_job(parser)
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="everything, in mm, as JSON")
    form.add_argument("--csv", action="store_true", help="one row a mark, in mm, as CSV")
    form.add_argument("--schedule", action="store_true", help="holes and cuts by mark, as CSV")
    parser.set_defaults(command=run)


def run(call: argparse.Namespace) -> int:
    """Print the layout; a failing one is printed, too, and refused."""
    from stairjig.intake import open_job
    from stairjig.setout.build import set_out

    job = open_job(Path(call.job), call.paper).job
    setout = set_out(job)
    save_job(call, job.source)
    setout, papers = _on_paper(setout)
    sys.stdout.write(_printed(call, setout, papers))
    if setout.failures and (call.csv or call.schedule):
        raise Refusal(*together(setout.failures))  # which these forms have no place for
    return DONE if setout.passes else FAILS


def _on_paper(setout: Setout) -> tuple[Setout, list[PaperCount]]:
    """What the strips take on each paper; the set-out refused where they can't be cut."""
    from stairjig.pieces.build import cut_pieces
    from stairjig.sheets.advice import advice, plan_or_explain

    if not setout.passes:
        return setout, []
    try:
        pieces = cut_pieces(setout)
        counts = advice(pieces, plan_or_explain(pieces, setout.job.paper, setout.job.shown))
    except Refusal as refused:
        return replace(setout, failures=refused.findings), []
    return setout, [(count.name, count.sheets, count.joints) for count in counts]


def _printed(call: argparse.Namespace, setout: Setout, papers: list[PaperCount]) -> str:
    from stairjig import report
    from stairjig.setout.schedule_csv import schedule_csv
    from stairjig.terminal import ink_for

    if call.csv:
        return report.as_csv(setout)
    if call.schedule:
        return schedule_csv(setout)
    if call.json:
        return report.as_json(setout, papers[0] if papers else None)
    return report.as_list(setout, papers, ink_for(sys.stdout))
