"""Runs a call, in this process or in one of its own, and holds what came of it to the rules.

The exit status is 0, 1 or 2; nothing but the program's own lines is said; what is written is
whole; it ends in good time. A fault of the program's own is raised, not said: it must not pass.
"""

from __future__ import annotations

import contextlib
import io
import json
import os
import resource
import signal
import subprocess
import sys
import time
import traceback
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import NoReturn

from fuzz.calls import Call

from stairjig.cli import main

SLOWEST_REFUSAL = 2.0
"""Seconds of the processor that input which can't be used may take."""
SLOWEST = 60.0
"""Seconds by the clock after which a call is stopped."""


class TooSlow(BaseException):
    """Raised in the midst of a call that takes too long."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came of a call: its status, what it said, the processor's seconds that it took."""

    status: int
    out: str
    told: str
    seconds: float
    fault: str = ""


def run(call: Call, folder: Path) -> Outcome:
    """Run a call in this process, in a folder of its own."""
    _lay_out(call, folder)
    out, told = io.StringIO(), io.StringIO()
    begun, status, fault = time.process_time(), -1, ""
    with _inside(folder), contextlib.redirect_stdout(out), contextlib.redirect_stderr(told):
        try:
            with _limited():
                status = main(call.arguments)
        except TooSlow:
            fault = "too slow\n" + traceback.format_exc(limit=-12)
        except BaseException:
            fault = traceback.format_exc()
    return Outcome(status, out.getvalue(), told.getvalue(), time.process_time() - begun, fault)


def run_apart(call: Call, folder: Path) -> Outcome:
    """Run a call in a process of its own."""
    _lay_out(call, folder)
    begun = _childrens_time()
    arguments = [text.replace("\0", "") for text in call.arguments]
    try:
        done = subprocess.run(
            [sys.executable, "-m", "stairjig", *arguments],
            cwd=folder,
            capture_output=True,
            stdin=subprocess.DEVNULL,
            env=os.environ | {"XDG_CONFIG_HOME": str(folder)},
            timeout=SLOWEST,
            check=False,
        )
    except subprocess.TimeoutExpired:
        return Outcome(-1, "", "", SLOWEST, "too slow")
    seconds = _childrens_time() - begun
    out, told = (text.decode("utf-8", "replace") for text in (done.stdout, done.stderr))
    return Outcome(done.returncode, out, told, seconds)


def _childrens_time() -> float:
    spent = resource.getrusage(resource.RUSAGE_CHILDREN)
    return spent.ru_utime + spent.ru_stime


def wrongs(call: Call, outcome: Outcome, folder: Path) -> list[str]:
    """What breaks the rules, in words."""
    if outcome.fault:
        return [outcome.fault]
    found = []
    if outcome.status not in (0, 1, 2):
        found.append(f"status {outcome.status}")
    if "Traceback" in outcome.told or "fault of stairjig" in outcome.told:
        found.append(f"it broke: {outcome.told}")
    if outcome.status == 2 and not outcome.told.strip():
        found.append("status 2 and not a word")
    if outcome.status == 1 and not (outcome.told + outcome.out).strip():
        found.append("status 1 and not a word")
    found += [
        f"no line of the program's own: {line!r}"
        for line in outcome.told.splitlines()
        if not line.startswith(("stairjig: ", "note: "))
    ]
    if outcome.status == 2 and outcome.seconds > SLOWEST_REFUSAL:
        found.append(f"took {outcome.seconds:.1f} s to refuse")
    found += _written(call, folder)
    found += _numbers(call, outcome)
    return found


def _written(call: Call, folder: Path) -> Iterator[str]:
    for path in folder.rglob("*"):
        name = path.name
        if name.endswith(".part"):
            yield f"{name} was left lying"
        elif name in call.files and path.parent == folder and path.read_bytes() != call.files[name]:
            yield f"{name}, an input, was changed"
        elif path.suffix == ".pdf" and name not in call.files:
            data = path.read_bytes()
            if not (data.startswith(b"%PDF-") and data.rstrip().endswith(b"%%EOF")):
                yield f"{name} is no whole PDF"


def _numbers(call: Call, outcome: Outcome) -> Iterator[str]:
    if "--json" in call.arguments and outcome.status in (0, 1) and outcome.out.startswith("{"):
        try:
            json.loads(outcome.out, parse_constant=_no_number)
        except ValueError as error:
            yield f"JSON: {error}"
    if "--csv" in call.arguments:
        for line in outcome.out.splitlines():
            cells = line.lower().split(",")
            if "nan" in cells or "inf" in cells or "-inf" in cells:
                yield f"CSV: {line}"


def _no_number(text: str) -> NoReturn:
    raise ValueError(f"{text} stands for a number")


def _lay_out(call: Call, folder: Path) -> None:
    for name, data in call.files.items():
        (folder / name).write_bytes(data)


@contextlib.contextmanager
def _inside(folder: Path) -> Iterator[None]:
    before, here = dict(os.environ), os.getcwd()
    os.environ.update(XDG_CONFIG_HOME=str(folder), STAIRJIG_TRACEBACK="1")
    os.chdir(folder)
    try:
        yield
    finally:
        os.chdir(here)
        os.environ.clear()
        os.environ.update(before)


@contextlib.contextmanager
def _limited() -> Iterator[None]:
    def stop(*_: object) -> NoReturn:
        raise TooSlow

    before = signal.signal(signal.SIGALRM, stop)
    signal.setitimer(signal.ITIMER_REAL, SLOWEST)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.signal(signal.SIGALRM, before)
