"""The program as it is called, in a folder of its own: how it ends and what it says."""

from __future__ import annotations

import contextlib
import io
import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

from stairjig.cli import main

DONE, FAILS, WRONG = 0, 1, 2


@dataclass(frozen=True, slots=True)
class Said:
    """How a call ended, what it printed and the lines that it complained in."""

    status: int
    out: str
    lines: tuple[str, ...]


def call(folder: Path, *arguments: str) -> Said:
    """Call the program in this process."""
    out, told = io.StringIO(), io.StringIO()
    with (
        contextlib.chdir(folder),
        contextlib.redirect_stdout(out),
        contextlib.redirect_stderr(told),
    ):
        status = main(arguments)
    return Said(status, out.getvalue(), tuple(told.getvalue().splitlines()))


def call_apart(folder: Path, *arguments: str, shell: str = "", **environment: str) -> Said:
    """Call the program as a process; `shell`: what follows it on a line, such as `> /dev/full`."""
    command = [sys.executable, "-m", "stairjig", *arguments]
    if shell:
        command = ["sh", "-c", f'"$@" {shell}', "sh", *command]
    done = subprocess.run(
        command,
        cwd=folder,
        env=os.environ | environment,
        stdin=subprocess.DEVNULL,
        capture_output=True,
        check=False,
    )
    out, told = (text.decode("utf-8", "replace") for text in (done.stdout, done.stderr))
    return Said(done.returncode, out, tuple(told.splitlines()))
