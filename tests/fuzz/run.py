"""The long run: `python tests/fuzz/run.py`; `--help` for its options.

20,000 calls through the program's main function and 200 through processes of their own. Each that
breaks a rule is told with its number, and its files are kept; `--only` makes it again.
"""

from __future__ import annotations

import argparse
import resource
import sys
import tempfile
import time
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from fuzz.calls import call_of
from fuzz.judge import run, run_apart, wrongs

_MEMORY = 3 * 2**30


@dataclass(slots=True)
class Tally:
    """What a batch of calls came to."""

    counts: Counter[tuple[str, int]] = field(default_factory=Counter)
    broken: list[tuple[int, str]] = field(default_factory=list)
    slowest: list[tuple[float, int, str, int]] = field(default_factory=list)
    memory: int = 0

    def add(self, other: Tally) -> None:
        """Take another batch in."""
        self.counts += other.counts
        self.broken += other.broken
        self.slowest = sorted(self.slowest + other.slowest, reverse=True)[:8]
        self.memory = max(self.memory, other.memory)


def batch(seed: int, numbers: range | list[int], apart: bool) -> Tally:
    """Make the calls of those numbers."""
    tally = Tally()
    for number in numbers:
        call = call_of(seed, number)
        with tempfile.TemporaryDirectory() as name:
            folder = Path(name)
            outcome = (run_apart if apart else run)(call, folder)
            found = wrongs(call, outcome, folder)
        tally.counts[call.kind, outcome.status] += 1
        tally.slowest.append((outcome.seconds, number, call.kind, outcome.status))
        if found:
            words = "\n".join(found)
            tally.broken.append((number, f"{' '.join(map(repr, call.arguments))}\n{words}"))
    tally.slowest = sorted(tally.slowest, reverse=True)[:8]
    tally.memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
    return tally


def main() -> int:
    """Run it; 1 where a call broke a rule."""
    asked = _asked()
    tally, begun = Tally(), time.perf_counter()
    if asked.only is not None:
        tally.add(batch(asked.seed, [asked.only], asked.processes > 0))
        _keep(asked.seed, asked.only)
    else:
        tally.add(_all(asked))
    _report(tally, asked.seed, time.perf_counter() - begun)
    return 1 if tally.broken else 0


def _all(asked: argparse.Namespace) -> Tally:
    tally = Tally()
    with ProcessPoolExecutor(asked.jobs, initializer=_limit) as pool:
        jobs = [
            pool.submit(batch, asked.seed, range(start, min(start + size, most)), apart)
            for size, most, apart in ((100, asked.count, False), (20, asked.processes, True))
            for start in range(0, most, size)
        ]
        for number, job in enumerate(jobs, start=1):
            tally.add(job.result())
            print(f"\r{number} of {len(jobs)}, {len(tally.broken)} broken", end="", file=sys.stderr)
    return tally


def _asked() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description="Throw calls by chance at the program.")
    parser.add_argument("--count", type=int, default=20_000, help="calls in this process")
    parser.add_argument("--processes", type=int, default=200, help="calls as real processes")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", type=int, help="make one call again and keep its files")
    parser.add_argument("--jobs", type=int, default=2, help="how many at a time")
    return parser.parse_args()


def _limit() -> None:
    resource.setrlimit(resource.RLIMIT_AS, (_MEMORY, _MEMORY))


def _keep(seed: int, number: int) -> None:
    call, folder = call_of(seed, number), Path(tempfile.mkdtemp(prefix="fuzz-"))
    for name, data in call.files.items():
        (folder / name).write_bytes(data)
    print(f"its files: {folder}\nits arguments: {call.arguments}")


def _report(tally: Tally, seed: int, seconds: float) -> None:
    print(f"\nseed {seed}: {sum(tally.counts.values()):,} calls in {seconds:.0f} s")
    for (kind, status), count in sorted(tally.counts.items()):
        print(f"  {kind:10} exit {status:2}: {count:6,}")
    for took, number, kind, status in tally.slowest:
        print(f"  slowest: {took:5.2f} s, call {number} ({kind}, exit {status})")
    print(f"  peak memory of a worker: {tally.memory} MB")
    for number, words in sorted(tally.broken):
        print(f"\ncall {number}: {words}")
    print(f"\n{len(tally.broken)} calls broke a rule")


if __name__ == "__main__":
    sys.exit(main())
