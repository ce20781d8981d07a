"""The set-out in words and figures for a terminal, as JSON and as CSV."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable, Sequence
from math import degrees, tan
from typing import Any

from stairjig.errors import in_words
from stairjig.ink import PLAIN, Ink
from stairjig.lengths import Real, Shown
from stairjig.setout.names import newel_name
from stairjig.setout.values import (
    Mark,
    Opening,
    RailSetout,
    SectionSetout,
    SetNewel,
    Setout,
    SetTread,
)

PaperCount = tuple[str, int, int]
"""A paper's name, and how many sheets and joints the strips take on it."""


def as_json(setout: Setout, paper: PaperCount | None) -> str:
    """The whole set-out, lengths in mm, unrounded."""
    name, sheets, joints = paper or (setout.job.paper.name, None, None)
    document = {
        "pack_id": setout.pack_id,
        "title": setout.job.title,
        "units": setout.job.units,
        "paper": {"name": name, "sheets": sheets, "joints": joints},
        "sections": [_section(section) for section in setout.sections],
        "warnings": [
            {"code": finding.code, "section": finding.section, "text": finding.text}
            for finding in setout.warnings
        ],
        "failures": [
            {"code": finding.code, "section": finding.section, "text": finding.text}
            for finding in setout.failures
        ],
        "changes": [
            {"section": c.section, "key": c.key, "value": c.value, "text": c.words}
            for c in setout.changes
        ],
    }
    return json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def _mm(value: Real | None) -> float | None:
    return None if value is None else float(value)


def _section(section: SectionSetout) -> dict[str, Any]:
    rail = section.rail
    return {
        "name": section.name,
        "kind": section.section.kind,
        "pitch_deg": degrees(rail.pitch),
        "line_length": float(section.line_length),
        "rail_length": rail.length,
        "rail_ends": {"lower": rail.lower, "upper": rail.upper},
        "bow_shift_per_bow": tan(rail.pitch),
        "gap": _mm(section.gap),
        "lower_newel": _newel(section.lower_newel),
        "upper_newel": _newel(section.upper_newel),
        "treads": [_tread(tread) for tread in section.treads],
        "marks": [_mark(mark) for mark in section.marks],
        "nosings": [
            {"s": float(nosing.s), "height": float(nosing.height), "under": nosing.under}
            for nosing in section.nosings
        ],
        "openings": [_opening(opening) for opening in section.openings],
    }


def _newel(newel: SetNewel | None) -> dict[str, float] | None:
    if newel is None:
        return None
    return {"face": float(newel.face), "centre": float(newel.centre)}


def _tread(tread: SetTread) -> dict[str, Any]:
    plan = tread.plan
    return {
        "number": plan.number,
        "line_run": float(plan.line_run),
        "front_skew": plan.front.skew,
        "back_skew": plan.back.skew,
        "gap": _mm(tread.gap),
        "marks": [
            {"name": mark.name, "type": mark.type.name, "x": float(mark.x), "s": float(mark.s)}
            for mark in tread.marks
        ],
    }


def _mark(mark: Mark) -> dict[str, Any]:
    return {
        "name": mark.name,
        "type": mark.type.name,
        "s": float(mark.s),
        "rail": mark.rail,
        "visible": mark.visible,
        "cut": mark.cut,
    }


def _opening(opening: Opening) -> dict[str, Any]:
    return {
        "between": list(opening.between),
        "rule": opening.rule,
        "clear": float(opening.clear),
        "limit": _mm(opening.limit),
        "passes": opening.passes,
    }


def as_csv(setout: Setout) -> str:
    """One row a mark, lengths in mm: section, mark, type, s, x, rail, visible, cut."""
    out = io.StringIO()
    rows = csv.writer(out, lineterminator="\n")
    rows.writerow(["section", "mark", "type", "s", "x", "rail", "visible", "cut"])
    for section in setout.sections:
        for mark in section.marks:
            figures = (mark.s, mark.x, mark.rail, mark.visible, mark.cut)
            rows.writerow(
                [section.name, mark.name, mark.type.name]
                + ["" if figure is None else f"{float(figure):.6f}" for figure in figures]
            )
    return out.getvalue()


def as_list(setout: Setout, papers: Sequence[PaperCount], ink: Ink = PLAIN) -> str:
    """A set-out list to read at the bench, in the job's units."""
    lines = [f"{ink.set_off(setout.job.title, ink.head)}    pack {setout.pack_id}"]
    for section in setout.sections:
        lines += ["", *_section_lines(setout, section, ink)]
    lines += _papers(papers, setout.job.paper.name)
    lines += _findings(ink.set_off("Know before you print:", ink.head), in_words(setout.warnings))
    lines += _findings(ink.set_off("REFUSED:", ink.bad), in_words(setout.failures))
    lines += [f"  mend: {change.section}: {change.words}" for change in setout.changes]
    lines += ["", *(ink.set_off(line, ink.faint) for line in _foot(setout))]
    return "\n".join(lines) + "\n"


def _foot(setout: Setout) -> Iterable[str]:
    if any(section.treads for section in setout.sections):
        yield "from riser: level, from the face of the riser below."
    if not all(section.treads for section in setout.sections):
        yield "from face: level, from the lower newel's face."
    yield "rail: along the underside, from the first mark."
    yield "The local code and its inspector are the law; this list is a help."


def _section_lines(setout: Setout, section: SectionSetout, ink: Ink) -> Iterable[str]:
    shown = setout.job.shown
    rail = section.rail
    name = ink.set_off(section.name, ink.head)
    pitch = f", pitch {degrees(rail.pitch):.1f}°" if rail.pitch else ""
    yield f"{name} ({section.section.kind}){pitch}"
    for newel in section.newels:
        yield f"  {_newel_line(setout, section, newel)}"
    if rail.length is not None:
        yield f"  rail, face to face along the underside: {shown.long(rail.length)}"
    if section.newels:
        yield f"  rail ends from mark {section.marks[0].name}: {_ends(rail, shown)}"
    if any(shown.rounded(nosing.under) for nosing in section.nosings):
        under = ", ".join(shown.text(nosing.under) for nosing in section.nosings)
        yield f"  nosings under the pitch line, going up: {under}"
    yield from _gaps(setout, section, ink)
    yield ""
    yield from _table(setout, section, ink)


def _ends(rail: RailSetout, shown: Shown) -> str:
    ends = (("lower", rail.lower), ("upper", rail.upper))
    return ", ".join(
        f"{end} open" if at is None else f"{end} {shown.text(abs(at))}" for end, at in ends
    )


def _newel_line(setout: Setout, section: SectionSetout, newel: SetNewel) -> str:
    shown, name = setout.job.shown, newel_name(newel.end, newel.kind)
    gap = f"gap {shown.text(newel.gap)}"
    if not section.treads:
        level = "" if section.rail.level else " on the level"
        return f"{name}: face at {shown.long(newel.face)}{level}, {gap}"
    goes = "is taken to stand" if newel.kind == "wall" else "goes"
    stands = "stands" if newel.stands else goes
    return f"{name} {stands}: face {_from_riser(section, newel, shown)}, {gap}"


def _from_riser(section: SectionSetout, newel: SetNewel, shown: Shown) -> str:
    upper = newel.end == "upper"
    riser = section.treads[-1].plan.back.s if upper else section.treads[0].plan.front.s
    face = f"the {'top' if upper else 'first'} riser's face"
    off = float(newel.face - riser)
    if not shown.rounded(off):
        return f"at {face}"
    return f"{shown.text(abs(off))} {'up' if off > 0 else 'down'} from {face}"


def _gaps(setout: Setout, section: SectionSetout, ink: Ink) -> Iterable[str]:
    """The widest opening of each kind that has a limit, against it."""
    shown, name = setout.job.shown, setout.job.openings.name
    for rule in dict.fromkeys(opening.rule for opening in section.openings):
        some = [one for one in section.openings if one.rule == rule and one.limit is not None]
        if not some:
            continue
        widest = max(some, key=lambda opening: opening.clear)
        passes = ink.set_off("passes", ink.good) if widest.passes else ink.set_off("FAILS", ink.bad)
        what = "largest sphere" if rule == "triangle" else "widest clear gap"
        yield (
            f"  {what} {shown.against(widest.clear, widest.limit)} "
            f"({' to '.join(widest.between)}), limit {shown.limit(widest.limit or 0)}: {passes} "
            f"({name})"
        )


def _table(setout: Setout, section: SectionSetout, ink: Ink) -> Iterable[str]:
    shown = setout.job.shown
    where = "from riser" if section.treads else "from face"
    heads = ("mark", "type", where, "rail", "spacing", "visible", "cut")
    rows, last = [heads], None
    for mark in section.marks:
        spacing = "" if last is None else shown.text(mark.rail - last)
        cut = "measure" if mark.cut is None else shown.text(mark.cut)
        rows.append(
            (
                mark.name,
                mark.type.name,
                shown.text(mark.x),
                shown.text(mark.rail),
                spacing,
                shown.text(mark.visible),
                cut,
            )
        )
        last = mark.rail
    widths = [max(len(row[n]) for row in rows) for n in range(len(heads))]
    for number, row in enumerate(rows):
        cells = [
            cell.ljust(wide) if n < 2 else cell.rjust(wide)
            for n, (cell, wide) in enumerate(zip(row, widths, strict=True))
        ]
        line = "  " + "   ".join(cells).rstrip()
        yield line if number else ink.set_off(line, ink.faint)


def _papers(papers: Sequence[PaperCount], chosen: str) -> list[str]:
    if not papers:
        return []
    lines = ["", "Strips on paper:"]
    for name, sheets, joints in papers:
        mark = "  (this job)" if name == chosen else ""
        on = f"sheet{'s' if sheets != 1 else ' '}, {joints:3} joint{'s' if joints != 1 else ''}"
        lines.append(f"  {name:10} {sheets:3} {on}{mark}")
    return lines


def _findings(head: str, findings: Sequence[str]) -> list[str]:
    return ["", head, *(f"  {finding}" for finding in findings)] if findings else []
