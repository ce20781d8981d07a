"""`stairjig pack` killed at moments by chance: `python tests/fuzz/kills.py`; `--help` for more.

Two jobs are packed over one another at the same target. Half of the kills come at any moment of the
whole command, half within milliseconds of its writing. What stands at the target is after each of
them one of the two packs, byte for byte.
"""

from __future__ import annotations

import argparse
import contextlib
import io
import os
import random
import signal
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from fuzz.calls import SMALL

from stairjig import files
from stairjig.cli import main

_WRITING = 0.004
"""Seconds that the writing of a small pack takes, and some."""


def kills(count: int, seed: int, folder: Path) -> Counter[str]:
    """Kill so many runs; how often which pack stood there, and how often a dead file was left."""
    chance, target = random.Random(seed), folder / "out.pdf"
    jobs = [folder / f"{name}.yaml" for name in ("one", "two")]
    for job in jobs:
        job.write_text(SMALL.replace("Wren House", job.stem), encoding="utf-8")
    begun = time.perf_counter()
    whole = {_packed(job, target): job.stem for job in jobs}
    lasts, seen = (time.perf_counter() - begun) / 2, Counter[str]()
    for number in range(count):
        job = jobs[number % 2]
        _kill(job, target, chance, lasts if number % 4 < 2 else 0.0)
        seen[whole.get(target.read_bytes(), "broken")] += 1
        seen["left a dead file"] += any(folder.glob(".stairjig-*"))
    _packed(jobs[0], target)
    seen["dead files at the end"] = len(list(folder.glob(".stairjig-*")))
    return seen


def _packed(job: Path, target: Path) -> bytes:
    quiet = io.StringIO()
    with contextlib.redirect_stdout(quiet), contextlib.redirect_stderr(quiet):
        if main(["pack", str(job), "-o", str(target)]):
            raise RuntimeError("it can't even be packed")
    return target.read_bytes()


def _kill(job: Path, target: Path, chance: random.Random, lasts: float) -> None:
    """Begin a run and kill it within that many seconds; 0: in the midst of its writing."""
    reader, writer = os.pipe()
    child = os.fork()
    if not child:
        _run(job, target, writer, at_writing=not lasts)
    os.read(reader, 1)
    time.sleep(chance.uniform(0, lasts or _WRITING))
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    os.close(reader)
    os.close(writer)


def _run(job: Path, target: Path, ready: int, at_writing: bool) -> None:
    real = files._write

    def write(path: Path, data: bytes) -> None:
        os.write(ready, b".")
        real(path, data)

    if at_writing:
        files._write = write
    else:
        os.write(ready, b".")
    with contextlib.suppress(BaseException):
        _packed(job, target)
    os._exit(0)


def run() -> int:
    """Kill and tell; 1 where anything was broken."""
    parser = argparse.ArgumentParser(description="Kill packing runs at moments by chance.")
    parser.add_argument("--count", type=int, default=400)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        seen = kills(asked.count, asked.seed, Path(name))
    for what, often in sorted(seen.items()):
        print(f"{what}: {often}")
    return 1 if seen["broken"] or seen["dead files at the end"] else 0


if __name__ == "__main__":
    sys.exit(run())
