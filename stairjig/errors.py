"""What went wrong, where, and what to do about it.

Two kinds are kept apart: input or a call that cannot be used (`BadInput`, exit status 2), and a
layout, proof or reading that was understood and does not pass (`Refusal`, exit status 1).
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Place:
    """A spot in the input: a file with line and column (from 1), or a form's printed label."""

    file: str
    line: int = 0
    column: int = 0
    label: str = ""

    def __str__(self) -> str:
        if self.label:
            return f"{self.file}: {self.label}"
        return f"{self.file}:{self.line}:{self.column}" if self.line else self.file


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that is wrong with the input: what it is and how to mend it, one line each."""

    what: str
    mend: str = ""
    where: Place | None = None

    def __str__(self) -> str:
        place = f"{self.where}: " if self.where else ""
        mend = f" - {self.mend}" if self.mend else ""
        return f"{place}{self.what}{mend}"


class BadInput(Exception):  # noqa: N818 - reads as what it says at the place it is raised
    """The input or the call cannot be used; every problem found is in `problems`."""

    def __init__(self, *problems: Problem) -> None:
        super().__init__("; ".join(str(problem) for problem in problems))
        self.problems = problems


@dataclass(frozen=True, slots=True)
class Finding:
    """Something a check has to say: a stable code, the section's name ("" for the job), words."""

    code: str
    section: str
    text: str

    def __str__(self) -> str:
        return f"{self.section}: {self.text}" if self.section else self.text


class Refusal(Exception):  # noqa: N818 - reads as what it says at the place it is raised
    """A layout or a proof that does not pass; every finding is in `findings`."""

    def __init__(self, *findings: Finding) -> None:
        super().__init__("; ".join(str(finding) for finding in findings))
        self.findings = findings
