"""What went wrong, where, and what to do about it.

Two kinds are kept apart: input or a call that cannot be used (`BadInput`, exit status 2), and a
layout, proof or reading that was understood and does not pass (`Refusal`, exit status 1).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from stairjig.frozen import frozen

_OF_A_FILE = ("is ", "has ", "holds ", "carries ", "takes ")
"""What is said of a whole file goes on from its name; of a spot in it stands behind a colon."""
_MOST_NAMED = 3
"""Sections that a line names before it counts the rest."""


@frozen
class Place:
    """A spot in the input: a file with line and column (from 1), or a form's printed label."""

    file: str
    line: int = 0
    column: int = 0
    label: str = ""

    @property
    def whole(self) -> bool:
        """Whether it is the file itself, and no spot in it."""
        return not (self.line or self.label)

    def __str__(self) -> str:
        if self.label:
            return f"{self.file}: {self.label}"
        return f"{self.file}:{self.line}:{self.column}" if self.line else self.file


@frozen
class Problem:
    """One thing that is wrong with the input: what it is and how to mend it, one line each."""

    what: str
    mend: str = ""
    where: Place | None = None

    def __str__(self) -> str:
        mend = f" - {self.mend}" if self.mend else ""
        if self.where is None:
            return f"{self.what}{mend}"
        of_file = self.where.whole and self.what.startswith(_OF_A_FILE)
        return f"{self.where}{'' if of_file else ':'} {self.what}{mend}"


class BadInput(Exception):  # noqa: N818 - reads as what it says at the place it is raised
    """The input or the call cannot be used; every problem found is in `problems`."""

    def __init__(self, *problems: Problem) -> None:
        super().__init__("; ".join(str(problem) for problem in problems))
        self.problems = problems


@frozen
class Finding:
    """Something a check has to say: a stable code, the section's name ("" for the job), words.

    `between`: the neighbours by name whose gap it is about; its text then begins with `gap_words`.
    """

    code: str
    section: str
    text: str
    between: tuple[str, str] | None = None

    def __str__(self) -> str:
        return f"{self.section}: {self.text}" if self.section else self.text


def counted(count: int, noun: str) -> str:
    """A number and its noun: `1 tread`, `6 treads`."""
    return f"{count:,} {noun}" if count == 1 else f"{count:,} {noun}s"


def gap_words(low: str, high: str) -> str:
    """What a finding about one gap begins with."""
    return f"the gap from {low} to {high}"


def together(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The findings, those that say the same of gaps side by side told as one."""
    runs: list[list[Finding]] = []
    for finding in findings:
        if runs and _runs_on(runs[-1][-1], finding):
            runs[-1].append(finding)
        else:
            runs.append([finding])
    return tuple(_as_one(run) for run in runs)


def _runs_on(below: Finding, above: Finding) -> bool:
    if not below.between or not above.between or below.between[1] != above.between[0]:
        return False
    return (below.code, below.section, _rest(below)) == (above.code, above.section, _rest(above))


def _rest(finding: Finding) -> str:
    return finding.text.removeprefix(gap_words(*finding.between or ("", "")))


def _as_one(run: Sequence[Finding]) -> Finding:
    first, last = run[0], run[-1]
    if len(run) == 1 or not first.between or not last.between:
        return first
    text = f"each of the {len(run)} gaps from {first.between[0]} to {last.between[1]}{_rest(first)}"
    return Finding(first.code, first.section, text)


def gathered(findings: Iterable[Finding]) -> list[tuple[str, list[str]]]:
    """What is said, each with the sections that it is said of in the same words."""
    found: dict[str, list[str]] = {}
    for finding in together(findings):
        sections = found.setdefault(finding.text, [])
        if finding.section and finding.section not in sections:
            sections.append(finding.section)
    return list(found.items())


def in_words(findings: Iterable[Finding]) -> tuple[str, ...]:
    """A line for each thing that is said, with the sections that it is said of."""
    told = gathered(findings)
    return tuple(f"{_some(names)}: {text}" if names else text for text, names in told)


def _some(names: Sequence[str]) -> str:
    more = len(names) - _MOST_NAMED
    return ", ".join(names) if more <= 1 else f"{', '.join(names[:-more])} and {more} more"


class Refusal(Exception):  # noqa: N818 - reads as what it says at the place it is raised
    """A layout or a proof that does not pass; every finding is in `findings`."""

    def __init__(self, *findings: Finding) -> None:
        super().__init__("; ".join(str(finding) for finding in findings))
        self.findings = findings
