"""Jobs for the tests of the schedule and the working sheets; the houses are invented."""

from __future__ import annotations

import re
from functools import lru_cache

from job_files import LEVEL, METRIC, METRIC_TREADS, SLOPED, TREADS, changed, written

from stairjig.job.reader import read_job
from stairjig.setout.build import set_out
from stairjig.setout.values import SectionSetout, Setout

HOLES = "tread_hole: {size: 11/16, depth: 1}, rail_hole: {size: 11/16, depth: 3/4}"
PATTERN = (
    f"{{plain: {{shape: square, width: 5/8, {HOLES}}}, "
    f"basket: {{shape: square, width: 1, narrowest: 5/8, {HOLES}}}, "
    "knuckle: {shape: round, width: 5/8, narrowest: 9/16}}"
)
TURNED = "{turned: {shape: square, width: 1 1/4, base: 1 1/2, top: bevel}}"
PLOWED = "{height: 36, depth: 2 1/2, width: 2 3/8, plow: {width: 1 1/4, depth: 1/4}}"
WINDER = "{sides: {end: 9 1/2, back: 38 13/16, wall: 24, front: 36}, diagonal: 43 1/4}"

_FILES = {
    "six treads": written({"balusters": f"{{plain: {{shape: square, width: 5/8, {HOLES}}}}}"}),
    "uneven": written(
        None,
        changed(
            TREADS,
            {
                "treads": "[10 1/4, 10, 10 1/2, 10 1/8, 10 1/4]",
                "rise": None,
                "rises": "[7 1/2, 7 5/8, 7 3/8, 7 1/2, 7 1/2, 7 1/2]",
            },
        ),
    ),
    "pattern": written(
        {"balusters": PATTERN, "pattern": "[plain, plain, basket, knuckle]"},
        changed(TREADS, {"treads": f"[{{run: 10 1/4, times: 5}}, 10 1/8, {WINDER}]"}),
        changed(
            TREADS,
            {
                "name": "Porch flight",
                "side": "right",
                "treads": "[{run: 11, skew: 22.5, times: 5}]",
                "upper_newel": "wall",
            },
        ),
        LEVEL,
    ),
    "level": written(None, changed(LEVEL, {"upper_newel": "none"})),
    "sloped": written(
        {"balusters": TURNED}, changed(SLOPED, {"shoe": "{depth: 1}", "upper_newel": "wall"})
    ),
    "plowed": written(
        {"balusters": TURNED, "rail": PLOWED},
        changed(SLOPED, {"shoe": "{depth: 3/4}"}),
        changed(TREADS, {"name": "Upper flight", "treads": "[{run: 10 1/4, times: 4}]"}),
    ),
    "metric": written(METRIC, changed(TREADS, METRIC_TREADS)),
    "sixty": written(
        None, changed(LEVEL, {"length": "280", "count": "60", "name": "Long gallery"})
    ),
    "newels": written(
        {"openings": "ca"},
        changed(
            TREADS,
            {
                "lower_newel": "{width: 3 1/2, narrowest: 2 3/4, place: {face: -3}}",
                "upper_newel": "{width: 4, place: {replaces: 6-3}}",
            },
        ),
        changed(
            TREADS,
            {
                "name": "Second flight",
                "first_tread": "8",
                "treads": "[{run: 11, bare: true}, {run: 10, times: 4}]",
                "upper_newel": "none",
            },
        ),
    ),
    "long names": written(
        {
            "title": "W" * 80,
            "balusters": f"{{{'M' * 40}: {{shape: square, width: 5/8, {HOLES}}}}}",
            "openings": "{stair: 4 3/8, level: 4}",
        },
        changed(TREADS, {"name": "W" * 40}),
    ),
    "steep": written(None, changed(SLOPED, {"pitch": "79", "length": "300"})),
    "flat": written(None, changed(SLOPED, {"pitch": "2", "length": "90"})),
}
NAMES = tuple(_FILES)


@lru_cache(maxsize=64)
def work(name: str, paper: str | None = None) -> Setout:
    """The job of that name, set out."""
    return set_out(read_job(_FILES[name], f"{name}.yaml", paper))


@lru_cache(maxsize=64)
def bored(name: str) -> Setout:
    """The job of that name, each baluster let into holes on both ends."""
    hole = b"{size: 18 mm, depth: 15 mm}"
    holes = b"shape: \\1, tread_hole: " + hole + b", rail_hole: " + hole
    data = re.sub(rb"shape: (\w+)", holes, re.sub(rb", \w+_hole: {[^}]*}", b"", _FILES[name]))
    return set_out(read_job(data, f"{name}.yaml"))


def section(name: str, index: int = 0) -> SectionSetout:
    """A section of the job of that name."""
    return work(name).sections[index]
