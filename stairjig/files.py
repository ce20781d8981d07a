"""A file written whole or not at all, and what earlier runs left lying cleared away.

The bytes go to a temporary file beside the target, held under a lock while it is written, and are
renamed over the target at the end: whoever looks sees the old file whole or the new one whole.
"""

from __future__ import annotations

import contextlib
import os
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import IO

from stairjig.errors import BadInput, Problem

try:
    import fcntl
except ImportError:  # a system without it clears only what it can rename
    fcntl = None  # type: ignore[assignment]

_PREFIX = ".stairjig-"
_SUFFIX = ".part"


def write_whole(path: Path, data: bytes) -> None:
    """Put `data` at `path`, replacing what is there. Raises `BadInput` where that can't be done."""
    if path.is_dir():
        raise BadInput(Problem(f"{path} is a folder", "name a file"))
    folder = path.parent
    if not folder.is_dir():
        raise BadInput(Problem(f"there is no folder {folder}", "make it, or name another"))
    _clear_dead(folder)
    try:
        _write(path, data)
    except OSError as error:
        reason = (error.strerror or "it can't be written").lower()
        raise BadInput(
            Problem(f"{path} can't be written: {reason}", "nothing was changed")
        ) from None


def _write(path: Path, data: bytes) -> None:
    with tempfile.NamedTemporaryFile(
        dir=path.parent, prefix=_PREFIX, suffix=_SUFFIX, delete=False
    ) as part:
        try:
            _lock(part)
            part.write(data)
            part.flush()
            os.fsync(part.fileno())
            os.chmod(part.name, _mode(path))
            os.replace(part.name, path)
        except BaseException:
            with contextlib.suppress(OSError):
                os.unlink(part.name)
            raise


def _mode(path: Path) -> int:
    """The rights of the file that is replaced, else what a new file gets."""
    try:
        return path.stat().st_mode & 0o777
    except OSError:
        mask = os.umask(0)
        os.umask(mask)
        return 0o666 & ~mask


def _lock(file: IO[bytes]) -> None:
    if fcntl is not None:
        fcntl.flock(file.fileno(), fcntl.LOCK_EX | fcntl.LOCK_NB)


def _clear_dead(folder: Path) -> None:
    """Remove temporary files that no living run holds; one that can't be locked is in use."""
    if fcntl is None:
        return
    for part in _parts(folder):
        with contextlib.suppress(OSError), part.open("rb") as file:
            _lock(file)
            part.unlink()


def _parts(folder: Path) -> Iterator[Path]:
    with contextlib.suppress(OSError):
        yield from folder.glob(f"{_PREFIX}*{_SUFFIX}")
