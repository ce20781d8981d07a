"""How long stairjig takes, against a bare reportlab script that draws the same.

    python -m tests.benchmarks.speed [--runs N] [--large]

Whole processes, each started anew, in turn, so that what else the machine does falls on all alike.
The figures are medians: seconds of CPU (user and system), then seconds by the clock, then the peak
of memory in MB. `--large` adds a job of 100 flights and one of 1,600 treads. A process finds its
modules compiled: a first round, which does not count, sees to that.
"""

from __future__ import annotations

import argparse
import os
import re
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from statistics import median

from tests.benchmarks.jobs import flights

ROOT = Path(__file__).parent.parent.parent
FONTS = [str(ROOT / "fonts" / f"DejaVuSansCondensed{name}.ttf") for name in ("", "-Bold")]
PYTHON = [sys.executable]


@dataclass(frozen=True, slots=True)
class Run:
    """What a process took: seconds of CPU, seconds by the clock, MB at the most."""

    cpu: float
    clock: float
    memory: float
    said: str = ""

    def __str__(self) -> str:
        return f"{self.cpu:8.2f} {self.clock:8.2f} {self.memory:8.0f}"


def run(command: Sequence[str], environment: dict[str, str]) -> Run:
    """Run a process to its end. Raises `RuntimeError` where it fails."""
    start = time.perf_counter()
    with tempfile.TemporaryFile() as said, tempfile.TemporaryFile() as errors:
        child = subprocess.Popen(command, stdout=said, stderr=errors, env=environment, cwd=ROOT)
        _, status, used = os.wait4(child.pid, 0)
        child.returncode = os.waitstatus_to_exitcode(status)
        clock = time.perf_counter() - start
        said.seek(0)
        errors.seek(0)
        if child.returncode:
            raise RuntimeError(f"{command}: {errors.read().decode()}")
        words = said.read().decode()
    return Run(used.ru_utime + used.ru_stime, clock, used.ru_maxrss / 1024, words)


def medians(runs: Sequence[Run]) -> Run:
    """The median of each figure."""
    return Run(*(median(getattr(run, key) for run in runs) for key in ("cpu", "clock", "memory")))


class Bench:
    """A folder with jobs, packs and compiled modules."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.environment = {k: v for k, v in os.environ.items() if not k.startswith("PYTHON")}
        self.environment["PYTHONPYCACHEPREFIX"] = str(folder / "compiled")

    def job(self, number: int, treads: int) -> str:
        """The file of a job of some flights."""
        path = self.folder / f"{number}x{treads}.yaml"
        path.write_text(flights(number, treads))
        return str(path)

    def run(self, *command: str) -> Run:
        """A Python process."""
        return run([*PYTHON, *command], self.environment)

    def in_turn(self, commands: dict[str, Sequence[str]], runs: int) -> dict[str, Run]:
        """Some commands in turn, so many times, after a round that does not count."""
        done: dict[str, list[Run]] = {name: [] for name in commands}
        for turn in range(runs + 1):
            for name, command in commands.items():
                self.clear()
                found = self.run(*command)
                if turn:
                    done[name].append(found)
        return {name: medians(found) for name, found in done.items()}

    def clear(self) -> None:
        """Take away what an earlier run wrote, for a pack is read before it is written over."""
        for kind in ("unproved", "bare", "proved"):
            for path in self.folder.glob(f"*.{kind}.pdf"):
                path.unlink()

    def pack(self, job: str) -> list[str]:
        """The call that writes a job's pack."""
        return ["-m", "stairjig", "pack", job, "-o", f"{job}.proved.pdf"]

    def without_proof(self, job: str) -> list[str]:
        """The call that writes it without its proof, which then does not import pypdf."""
        return ["-m", "tests.benchmarks.whole_pack", job, f"{job}.unproved.pdf"]

    def bare(self, job: str) -> list[str]:
        """The bare script's call, for a pack that is there."""
        listed = f"{job}.pickle"
        self.run("-m", "tests.benchmarks.primitives", f"{job}.proved.pdf", listed)
        return ["tests/benchmarks/bare.py", listed, *FONTS, f"{job}.bare.pdf"]

    def reading(self, call: Sequence[str]) -> float:
        """Seconds of CPU in which the bare script reads its list."""
        return median(float(self.run(*call).said) for _ in range(5))


def start_up(bench: Bench, runs: int) -> None:
    """How long it takes to begin."""
    job = bench.job(1, 1)
    commands = {
        "python, nothing": ["-c", "pass"],
        "stairjig --help": ["-m", "stairjig", "--help"],
        "stairjig layout, 1 tread": ["-m", "stairjig", "layout", job],
        "the pack's imports": ["-c", "import stairjig.intake, stairjig.pack"],
        "pypdf's import": ["-c", "import pypdf"],
        "reportlab's canvas": ["-c", "import reportlab.pdfgen.canvas"],
    }
    for name, found in bench.in_turn(commands, runs).items():
        print(f"{name:44} {found}")


def against_bare(bench: Bench, number: int, treads: int, runs: int) -> dict[str, Run]:
    """A job's layout and pack, with and without the proof, against the bare script."""
    job = bench.job(number, treads)
    bench.run(*bench.pack(job))
    size = _bytes_a_sheet(Path(f"{job}.proved.pdf").read_bytes())
    bare = bench.bare(job)
    commands = {
        "layout": ["-m", "stairjig", "layout", job],
        "pack": bench.pack(job),
        "pack, no proof": bench.without_proof(job),
        "bare script": bare,
    }
    found = bench.in_turn(commands, runs)
    for name, took in found.items():
        print(f"{name + f', {number} x {treads} treads':44} {took}")
    floor = found["bare script"].cpu - bench.reading(bare)
    ratios = [found[name].cpu / floor for name in ("pack", "pack, no proof")]
    print(
        f"{'against the bare script, its list read':44} {ratios[0]:8.2f} {ratios[1]:8.2f} no proof"
    )
    print(f"{'bytes a sheet':44} {size}")
    return found


def _bytes_a_sheet(data: bytes) -> str:
    """The file less its fonts and less its form, over its sheets; with the form beside it."""
    objects = re.findall(rb"\n\d+ 0 obj\n(.*?)\nendobj", data, re.DOTALL)
    sheets = sum(b"/Type /Page\n" in found or b"/Type /Page " in found for found in objects)
    fonts = sum(len(found) for found in objects if b"/Length1" in found[:200])
    form = sum(len(o) for o in objects if b"/Subtype /Widget" in o or b"/Subtype /Form" in o[:400])
    return (
        f"{(len(data) - fonts - form) / sheets:8.0f} {(len(data) - fonts) / sheets:8.0f} with form"
    )


def scale(bench: Bench, runs: int) -> None:
    """One job of a hundred flights against a hundred of one, less what it takes to begin."""
    one, hundred = bench.job(1, 15), bench.job(100, 15)
    commands = {"one flight": bench.pack(one), "begin": ["-c", "import stairjig.pack, pypdf"]}
    found = bench.in_turn(commands, runs)
    bench.clear()
    large = bench.run(*bench.pack(hundred))
    print(f"{'pack, 100 flights of 15 treads':44} {large}")
    work = found["one flight"].cpu - found["begin"].cpu
    print(f"{'over one flight less its start-up':44} {large.cpu / work:8.1f} times")


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--runs", type=int, default=7)
    parser.add_argument("--large", action="store_true")
    call = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        bench = Bench(Path(folder))
        print(f"{'':44} {'CPU s':>8} {'clock s':>8} {'MB':>8}   of {call.runs} runs the median")
        start_up(bench, call.runs)
        against_bare(bench, 1, 1, call.runs)
        against_bare(bench, 1, 15, call.runs)
        if call.large:
            scale(bench, call.runs)
            against_bare(bench, 8, 200, 1)


if __name__ == "__main__":
    main()
