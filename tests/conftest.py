"""What holds for every test."""

from __future__ import annotations

import os

os.environ["STAIRJIG_TRACEBACK"] = "1"
"""A fault of the program's own is raised in a test, not told in a line."""
