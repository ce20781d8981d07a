"""Job files for the reader's tests, put together from lines that a test may change."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stairjig.errors import BadInput
from stairjig.job.reader import read_job

if TYPE_CHECKING:
    from stairjig.errors import Problem
    from stairjig.job.model import Job

JOB = {
    "title": "Lantern Cove",
    "units": "inch",
    "openings": "irc",
    "balusters": "{plain: {shape: square, width: 5/8}}",
    "rail": "{height: 36, depth: 2 1/2, width: 2 3/8}",
}
_ENDS = {"lower_newel": "{width: 3 1/2}", "upper_newel": "{width: 3 1/2}"}
TREADS = {
    "name": "Main flight",
    "kind": "treads",
    "side": "left",
    "rise": "7 1/2",
    "nosing": "1 1/8",
    "line": "1 3/4",
    **_ENDS,
    "treads": "[{run: 10 1/4, times: 6}]",
}
LEVEL = {"name": "Balcony", "kind": "level", "length": "96 1/2", **_ENDS}
SLOPED = {"name": "Knee wall", "kind": "sloped", "length": "121 3/8", "pitch": "36.9", **_ENDS}
SECTIONS = {"treads": TREADS, "level": LEVEL, "sloped": SLOPED}
METRIC = {
    "units": "mm",
    "openings": "uk",
    "balusters": "{plain: {shape: square, width: 32}}",
    "rail": "{height: 950, depth: 60, width: 60}",
}
METRIC_TREADS = {
    "rise": "190", "nosing": "20", "line": "45", "lower_newel": "{width: 90}",
    "upper_newel": "{width: 90}", "treads": "[{run: 240, times: 12}]",
}  # fmt: skip
Changes = dict[str, "str | None"]


def changed(base: dict[str, str], changes: Changes | None) -> dict[str, str]:
    """The lines of `base` with some of them replaced, added or (None) left out."""
    merged = {**base, **(changes or {})}
    return {key: text for key, text in merged.items() if text is not None}


def written(job: Changes | None = None, *sections: dict[str, str]) -> bytes:
    """A job file, one key a line; without sections it has the plain treads section."""
    lines = [f"{key}: {text}" for key, text in changed(JOB, job).items()]
    lines.append("sections:")
    for section in sections or (TREADS,):
        first, *rest = (f"{key}: {text}" for key, text in section.items())
        lines += [f"  - {first}", *(f"    {line}" for line in rest)]
    return "\n".join(lines).encode()


def treads_file(**changes: str | None) -> bytes:
    """The plain job with its treads section changed."""
    return written(None, changed(TREADS, changes))


def tread_file(item: str) -> bytes:
    """The plain job with one more tread, written as `item`, in front of its six."""
    return treads_file(treads=f"[{item}, {{run: 10, times: 6}}]")


def level_file(**changes: str | None) -> bytes:
    return written(None, changed(LEVEL, changes))


def sloped_file(**changes: str | None) -> bytes:
    return written(None, changed(SLOPED, changes))


def job_in(source: bytes, paper: str | None = None) -> Job:
    return read_job(source, "flight.yaml", paper)


def problems_in(source: bytes, paper: str | None = None) -> tuple[Problem, ...]:
    """What the reader finds wrong; () where it reads the job."""
    try:
        job_in(source, paper)
    except BadInput as bad:
        return bad.problems
    return ()


def lines_for(source: bytes, paper: str | None = None) -> list[str]:
    """The problems as the lines that a user sees."""
    return [str(problem) for problem in problems_in(source, paper)]
