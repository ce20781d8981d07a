"""A bound on the time that a file may take to read.

Bytes are easily counted; what a library makes of them is not: a small file can unpack to much, in
many ways. The processor's time is what a hostile file is after, so that is what is bounded.
"""

from __future__ import annotations

import signal
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from typing import NoReturn

_COUNTED, _TAKES = 100_000, 0.0025
"""Steps of a loop, and the seconds that they take where the bounds were measured."""
_SLOWEST = 20.0


class TooLong(Exception):  # noqa: N818
    """The time is used up."""


class _Alarm(BaseException):
    """Goes through every `except Exception` on its way out."""


class Patience:
    """Seconds of the processor that are left; nothing is bounded where no timer can be set.

    A timer belongs to a process's main thread, and not every system has one.
    """

    def __init__(self, seconds: float | None) -> None:
        """Of so many seconds, more on a slow machine; None: without end."""
        self.left = None if seconds is None else seconds * slowness()

    @contextmanager
    def spending(self) -> Iterator[None]:
        """Count the time inside. Raises `TooLong` from there when it is used up."""
        left, main = self.left, threading.current_thread() is threading.main_thread()
        if left is None or not main or not _TIMED:
            yield
            return
        begun, handler = time.process_time(), signal.signal(signal.SIGPROF, _ring)
        try:
            # again and again, should it be swallowed
            signal.setitimer(signal.ITIMER_PROF, max(left, 0.001), 0.1)
            try:
                yield
            finally:
                signal.setitimer(signal.ITIMER_PROF, 0)
        except _Alarm:
            raise TooLong from None
        finally:
            signal.setitimer(signal.ITIMER_PROF, 0)
            signal.signal(signal.SIGPROF, handler)
            self.left = left - (time.process_time() - begun)


@cache
def slowness() -> float:
    """How many times as long this machine takes for the same work, 1 at the least."""
    begun = time.process_time()
    for _ in range(_COUNTED):
        pass
    return min(max((time.process_time() - begun) / _TAKES, 1.0), _SLOWEST)


_TIMED = hasattr(signal, "setitimer")


def _ring(*_: object) -> NoReturn:
    raise _Alarm
