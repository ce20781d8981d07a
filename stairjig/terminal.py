"""The two streams of a process: what is said on them, and how it looks where somebody watches."""

from __future__ import annotations

import contextlib
import os
import sys
import time
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from typing import TextIO

from stairjig.ink import PLAIN, Ink
from stairjig.progress import Tell, untold

_LONGEST, _BEGUN, _ENDED = 1_000, 700, 250
"""Signs of a complaint, and what is told of the beginning and the end of a longer one."""
_PATIENCE, _EVERY = 1.0, 0.1
"""Seconds before progress is shown at all, and between two lines of it."""
_ERASE = "\r\x1b[K"


def ready_streams() -> None:
    """Make both streams take any text; one that is closed takes it nowhere."""
    for name in ("stdout", "stderr"):
        if getattr(sys, name) is None:
            setattr(sys, name, open(os.devnull, "w", encoding="utf-8"))  # noqa: SIM115
        with contextlib.suppress(AttributeError, ValueError):
            getattr(sys, name).reconfigure(errors="replace")


def silence_broken_streams() -> None:
    """Send what can't be written nowhere, so that leaving does not fail on it once more."""
    for stream in (sys.stdout, sys.stderr):
        try:
            stream.flush()
        except (OSError, ValueError):
            with contextlib.suppress(OSError, ValueError):
                os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


def complain(lines: Iterable[str]) -> None:
    """Say what is wrong, each on one line, control characters spelled out."""
    for line in lines:
        short = line if len(line) <= _LONGEST else f"{line[:_BEGUN]} … {line[-_ENDED:]}"
        plain = "".join(sign if sign.isprintable() else f"<U+{ord(sign):04X}>" for sign in short)
        with contextlib.suppress(OSError):
            print(f"stairjig: {plain}", file=sys.stderr)


def note(lines: Iterable[str]) -> None:
    """Say what there is to know, each on one line, beside what a command prints."""
    for line in lines:
        print(f"note: {line}", file=sys.stderr)


def ink_for(stream: TextIO) -> Ink:
    """Bold and colour where somebody watches and wants them; https://no-color.org asks for none."""
    plain = not _watched(stream) or bool(os.environ.get("NO_COLOR"))
    return PLAIN if plain else Ink(head="1", good="32", bad="1;31", faint="2")


def _watched(stream: TextIO) -> bool:
    return stream.isatty() and os.environ.get("TERM", "dumb") != "dumb"


@dataclass(slots=True)
class _Line:
    """One line that is written over itself while work goes on."""

    stream: TextIO
    clock: Callable[[], float]
    last: float = field(init=False)

    def __post_init__(self) -> None:
        self.last = self.clock() + _PATIENCE - _EVERY

    def show(self, what: str, done: int, of: int) -> None:
        now = self.clock()
        if now - self.last < _EVERY:
            return
        self.last = now
        count = f" {done} of {of}" if of else ""
        with contextlib.suppress(OSError):
            self.stream.write(f"{_ERASE}{what}{count} …")
            self.stream.flush()

    def erase(self) -> None:
        with contextlib.suppress(OSError):
            self.stream.write(_ERASE)
            self.stream.flush()


@contextlib.contextmanager
def progress(stream: TextIO, clock: Callable[[], float] = time.monotonic) -> Iterator[Tell]:
    """What long work tells how far it is: shown on a terminal after a second, then taken away."""
    if not _watched(stream):
        yield untold
        return
    line = _Line(stream, clock)
    try:
        yield line.show
    finally:
        line.erase()
