"""The openings held against their limits, for the cover."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stairjig.errors import gathered
from stairjig.pages.flow import Flow
from stairjig.pages.tables import Column, spread
from stairjig.setout.openings import limit_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from stairjig.lengths import Real, Shown
    from stairjig.rules import RuleSet
    from stairjig.setout.values import Opening, SectionSetout, Setout

_OPENINGS = (
    Column("section", 40, bold=True),
    Column("gaps", 26),
    Column("widest, clear", 28, bold=True),
    Column("between", 42),
    Column("must be", 32),
    Column("result", 24, bold=True),
)
HELP_ONLY = (
    "The limits and figures of the codes are a help in laying out. The local code and its "
    "inspector are the law: ask before anything is ordered or bored."
)
_PASSES = {True: "passes", False: "FAILS", None: "not checked"}


def opening_table(flow: Flow, setout: Setout) -> None:
    """Set the opening check: of each section and rule the widest gap, then where limits stand."""
    rules = setout.job.openings
    flow.heading("The opening check")
    rows = [row for section in setout.sections for row in _opening_rows(section, setout)]
    flow.table(spread(_OPENINGS, flow.leaf.room), rows, above="The opening check, continued")
    for words in limit_words(setout):
        flow.words(words)
    for words in rules.notes:
        flow.words(words)
    flow.words(HELP_ONLY, bold=True)


def _opening_rows(section: SectionSetout, setout: Setout) -> Iterator[tuple[str, ...]]:
    rules, shown = setout.job.openings, setout.job.shown
    for rule in dict.fromkeys(opening.rule for opening in section.openings):
        some = [opening for opening in section.openings if opening.rule == rule]
        widest = max(some, key=lambda opening: opening.clear)
        between = " and ".join(widest.between)
        clear = shown.against(widest.clear, widest.limit)
        limit = _must_be(widest.limit, rules, shown)
        yield section.name, f"{len(some)} {rule}", clear, between, limit, _PASSES[_verdict(some)]


def _verdict(openings: list[Opening]) -> bool | None:
    """Tell whether all pass; None where there is no limit."""
    results = [opening.passes for opening in openings]
    if False in results:
        return False
    return None if None in results else True


def _must_be(limit: Real | None, rules: RuleSet, shown: Shown) -> str:
    if limit is None:
        return "no limit given"
    return f"{'less than' if rules.equal_fails else 'at most'} {shown.limit(limit)}"


def limit_words(setout: Setout) -> tuple[str, ...]:
    """Say where each limit in use stands, and whether a gap exactly at it passes."""
    rules, shown = setout.job.openings, setout.job.shown
    used = dict.fromkeys(one.rule for section in setout.sections for one in section.openings)
    parts = []
    for rule in used:
        limit = limit_of(rules, rule)
        where = f"{shown.limit(limit.mm)}, {limit.section}" if limit else "none given, not checked"
        parts.append(f"{rule}: {where}")
    name = f"Limits by {rules.name} ({rules.edition})"
    if rules.name == "own":
        name = "Limits given for this job, not by a code's name"
    exact = "fails" if rules.equal_fails else "passes"
    ends = [newel for section in setout.sections for newel in _open_ends(section)]
    found: tuple[str, ...] = (
        f"{name}: {'; '.join(parts)}. A gap exactly at a limit {exact}.",
        "Gaps are level and clear, at the narrowest part of balusters and newels, planned with "
        f"{shown.limit(setout.job.allowance.mm)} to spare; one that passes by less is listed as a "
        "warning.",
    )
    if ends:
        found += (f"Not checked, since there is no newel: {', '.join(ends)}.",)
    return found


def _open_ends(section: SectionSetout) -> Iterator[str]:
    for end, newel in (("lower", section.lower_newel), ("upper", section.upper_newel)):
        if newel is None:
            yield f"the {end} end of {section.name}"


def verdict_words(setout: Setout) -> tuple[str, str]:
    """Say of the opening check and the warnings, in a line each, how the layout stands."""
    some = [opening for section in setout.sections for opening in section.openings]
    checked = [opening for opening in some if opening.passes is not None]
    failing = sum(opening.passes is False for opening in checked)
    result = f"{failing} FAIL" if failing else "all pass"
    if not checked:
        result = "none has a limit"
    name = "the limits given" if setout.job.openings.name == "own" else setout.job.openings.name
    openings = f"{len(checked)} checked against {name}, {result}"
    if len(checked) < len(some):
        openings += f"; {len(some) - len(checked)} not checked"
    count = len(gathered(setout.warnings))
    warnings = (
        "none" if not count else f"{count}, listed under “Warnings”: read them before ordering"
    )
    return openings, warnings
