"""Files made to do harm, each in a process of its own: `python tests/fuzz/harm.py`.

Every file of `hostile.py` is given to every command that opens it. Each is refused, within two
seconds of the processor and in little memory.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from fuzz.hostile import JOBS, PDFS, SLOW

from stairjig.proof.patience import slowness

SECONDS, MEMORY = 2.0, 400
"""What a refusal may take: the processor's seconds, megabytes."""
_SCRIPT = """
import resource, sys, time
from stairjig.cli import main
status = main(sys.argv[1:])
sys.stdout.flush()
try:
    with open("/proc/self/status") as file:
        (peak,) = (int(line.split()[1]) for line in file if line.startswith("VmHWM"))
except OSError:
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
print(peak, time.process_time(), file=sys.stderr)
sys.exit(status)
"""
"""The high water mark is of this program alone; `ru_maxrss` would count who started it."""


@dataclass(frozen=True, slots=True)
class Harm:
    """What a file did: the status, the lines, the processor's seconds, the peak in megabytes."""

    status: int
    lines: tuple[str, ...]
    seconds: float
    memory: float


def harm_of(name: str, folder: Path, command: str = "layout") -> Harm:
    """Give the file of that name to the program, as a process."""
    path = "job.yaml" if name in JOBS else "x.pdf"
    (folder / path).write_bytes((JOBS | PDFS | SLOW)[name]())
    done = subprocess.run(
        [sys.executable, "-c", _SCRIPT, command, path],
        cwd=folder,
        env=os.environ | {"XDG_CONFIG_HOME": str(folder)},
        capture_output=True,
        text=True,
        check=False,
    )
    *lines, last = done.stderr.splitlines()
    peak, seconds = last.split()
    return Harm(done.returncode, tuple(lines), float(seconds), float(peak) / 1024)


def wrongs(harm: Harm) -> Sequence[str]:
    """What breaks the rules."""
    found = []
    if harm.status != 2:
        found.append(f"status {harm.status}")
    if not harm.lines or not all(line.startswith("stairjig: ") for line in harm.lines):
        found.append("no line of the program's own")
    if harm.seconds > SECONDS * slowness():
        found.append(f"{harm.seconds:.2f} s")
    if harm.memory > MEMORY:
        found.append(f"{harm.memory:.0f} MB")
    return found


def main() -> int:
    """Give them all; 1 where one of them did harm."""
    begun, worst, broken = time.perf_counter(), [], 0
    cases = [(name, command) for name in PDFS | SLOW for command in ("layout", "proof", "check")]
    cases += [(name, "layout") for name in JOBS]
    for name, command in cases:
        with tempfile.TemporaryDirectory() as folder:
            harm = harm_of(name, Path(folder), command)
        worst.append((harm.seconds, harm.memory, f"{command}: {name}"))
        found = wrongs(harm)
        broken += bool(found)
        if found:
            print(f"{command}: {name}: {', '.join(found)}; {harm.lines[:1]}")
    print(f"{len(cases)} calls in {time.perf_counter() - begun:.0f} s, {broken} did harm")
    for number, what in ((0, "s"), (1, "MB")):
        top = max(worst, key=lambda one: one[number])
        print(f"  most: {top[number]:.2f} {what}, {top[2]}")
    return 1 if broken else 0


if __name__ == "__main__":
    sys.exit(main())
