"""What holds for every test."""

from __future__ import annotations

import os

from hypothesis import HealthCheck, settings

os.environ["STAIRJIG_TRACEBACK"] = "1"
"""A fault of the program's own is raised in a test, not told in a line."""

settings.register_profile(
    "the same every time",
    deadline=None,  # no test is timed: a benchmark is
    derandomize=True,  # new examples are drawn by the longer runs
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("the same every time")
