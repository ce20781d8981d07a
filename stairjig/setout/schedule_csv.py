"""The hole and cut schedule as CSV, a line a mark."""

from __future__ import annotations

import csv
import io
from math import degrees
from typing import TYPE_CHECKING

from stairjig.setout.schedule import MEASURE, MarkHoles, bevel, foot_bevel, long_point, mark_holes

if TYPE_CHECKING:
    from stairjig.job.model import Hole
    from stairjig.lengths import Shown
    from stairjig.setout.values import Mark, SectionSetout, Setout

CSV_COLUMNS = (
    "section",
    "mark",
    "type",
    "tread_hole_size",
    "tread_hole_depth",
    "rail_hole_size",
    "rail_hole_depth",
    "rail_hole_along",
    "visible",
    "cut",
    "cut_shown",
    "bevel_deg",
    "foot_bevel_deg",
    "long_point",
)
"""`long_point`: the whole length there, as in the cut list; of what is visible where `cut` is not
known, empty where no end or both have a bevel."""


def schedule_csv(setout: Setout) -> str:
    """Write holes and cuts, a line a mark under a header; mm, but `cut_shown` as the job shows it.

    An empty cell: there is no such hole, or the end is square. `cut` is `measure` where it is not
    known.
    """
    text = io.StringIO()
    rows = csv.writer(text, lineterminator="\n")
    rows.writerow(CSV_COLUMNS)
    for section in setout.sections:
        for mark, holes in zip(section.marks, mark_holes(section), strict=True):
            rows.writerow(_csv_row(section, mark, holes, setout.job.shown))
    return text.getvalue()


def _csv_row(section: SectionSetout, mark: Mark, holes: MarkHoles, shown: Shown) -> list[str]:
    point = long_point(section, mark)
    return [
        section.name,
        mark.name,
        mark.type.name,
        *_hole_cells(holes.tread),
        *_hole_cells(holes.rail),
        "" if holes.along is None else _mm(holes.along),
        _mm(mark.visible),
        MEASURE if mark.cut is None else _mm(mark.cut),
        MEASURE if mark.cut is None else shown.text(mark.cut),
        _degrees(bevel(section, mark.type)),
        _degrees(foot_bevel(section, mark.type)),
        "" if point is None else _mm(point),
    ]


def _hole_cells(hole: Hole | None) -> tuple[str, str]:
    return (_mm(float(hole.size.mm)), _mm(float(hole.depth.mm))) if hole else ("", "")


def _degrees(angle: float) -> str:
    return f"{degrees(angle):.4f}" if angle else ""


def _mm(length: float) -> str:
    return f"{length:.6f}".rstrip("0").rstrip(".")
