"""A file written whole or not at all, and what earlier runs left lying cleared away.

The bytes go to a temporary file beside the target, held under a lock while it is written, and are
renamed over the target at the end: whoever looks sees the old file whole or the new one whole. A
temporary file that nobody holds was left by a run that died; the next run in its folder clears it.
"""

from __future__ import annotations

import contextlib
import errno
import os
import stat
from collections.abc import Iterator
from pathlib import Path

from stairjig.errors import BadInput, Problem

try:
    import fcntl
except ImportError:  # without it nothing is held, so nothing is cleared
    fcntl = None  # type: ignore[assignment]

_PREFIX = ".stairjig-"
_SUFFIX = ".part"
_TRIES = 100
_READ_WRITE = os.O_RDWR | getattr(os, "O_BINARY", 0)
_AS_IT_IS = _READ_WRITE | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0)
"""Opens what lies there itself, not what it leads to, and never waits."""


def target(text: str) -> Path:
    """The file that a call names to be written. Raises `BadInput` for a folder's name or none."""
    if not text.strip():
        raise BadInput(Problem("the name of the file to write is empty", "name a file"))
    separators = tuple(filter(None, (os.sep, os.altsep)))
    if text.endswith(separators):
        raise BadInput(Problem(f"{text} is the name of a folder", "name a file in it"))
    return Path(text)


def write_whole(path: Path, data: bytes) -> None:
    """Put `data` at `path`, replacing what is there; a link stays, and what it leads to is written.

    Raises `BadInput` where that can't be done; what was there is then as it was.
    """
    with _refusing(path):
        place = _place(path)
        _clear_dead(place.parent)
        _write(place, data)


def check_target(path: Path) -> None:
    """Raise `BadInput` where no file can be written, before anything is worked out for it."""
    with _refusing(path):
        _place(path)


@contextlib.contextmanager
def _refusing(path: Path) -> Iterator[None]:
    try:
        yield
    except (OSError, ValueError, RuntimeError) as error:
        raise BadInput(
            Problem(f"{path} can't be written: {reason(error)}", "nothing was changed")
        ) from None


def reason(error: Exception) -> str:
    """Why the system refused, in its own words; it knows more than can be guessed here."""
    if isinstance(error, OSError) and error.strerror:
        return error.strerror.lower()
    return "it is no name for a file"


def _place(path: Path) -> Path:
    """The file itself, behind links. Raises `BadInput` where there can be no file."""
    place = path.resolve()
    if place.is_dir():
        raise BadInput(Problem(f"{path} is a folder", "name a file"))
    if not place.parent.is_dir():
        raise BadInput(
            Problem(f"{path}: there is no folder {path.parent}", "make it, or name another")
        )
    if place.exists():
        if not stat.S_ISREG(place.stat().st_mode):
            raise BadInput(Problem(f"{path} is no file but a device or a pipe", "name a file"))
        if not os.access(place, os.W_OK):
            raise BadInput(
                Problem(f"{path} is protected against writing", "name another, or lift that")
            )
    if not os.access(place.parent, os.W_OK):
        raise BadInput(
            Problem(
                f"{path}: the folder {path.parent} is protected against writing",
                "name another, or lift that",
            )
        )
    return place


def _write(path: Path, data: bytes) -> None:
    part, descriptor = _held_part(path.parent)
    try:
        with open(descriptor, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(descriptor)
            _take_rights(descriptor, path)
            if fcntl is not None:  # held until it has its name
                os.replace(part, path)
        if fcntl is None:  # a system without locks renames no open file either
            os.replace(part, path)
    except BaseException:
        with contextlib.suppress(OSError):
            part.unlink()
        raise


def _held_part(folder: Path) -> tuple[Path, int]:
    """A new temporary file, open and held.

    Between its making and its holding another run may take it for a dead one: then one more.
    """
    for _ in range(_TRIES):
        part = folder / f"{_PREFIX}{os.urandom(8).hex()}{_SUFFIX}"
        descriptor = os.open(part, _READ_WRITE | os.O_CREAT | os.O_EXCL, 0o666)
        try:
            if _held(descriptor) and _is_at(part, descriptor):
                return part, descriptor
        except BaseException:
            os.close(descriptor)
            raise
        os.close(descriptor)
    raise OSError(errno.EAGAIN, "other runs keep clearing this folder")


def _held(descriptor: int) -> bool:
    """Hold a file of one's own; False where another run is about to clear it."""
    try:
        _lock(descriptor)
    except BlockingIOError:
        return False
    except OSError:  # a file system without locks: the others can't hold it either
        return True
    return True


def _is_at(part: Path, descriptor: int) -> bool:
    """Whether the open file still has its name."""
    try:
        return os.path.samestat(part.lstat(), os.fstat(descriptor))
    except FileNotFoundError:
        return False


def _lock(descriptor: int) -> None:
    if fcntl is not None:
        fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)


def _take_rights(descriptor: int, path: Path) -> None:
    """Give the new file the rights of the one that it replaces, where the file system has any."""
    with contextlib.suppress(OSError, AttributeError):
        os.fchmod(descriptor, stat.S_IMODE(path.stat().st_mode))


def _clear_dead(folder: Path) -> None:
    """Remove temporary files that no living run holds; one that can't be locked is in use."""
    if fcntl is None:
        return
    for part in _parts(folder):
        with contextlib.suppress(OSError):
            descriptor = os.open(part, _AS_IT_IS)
            try:
                _lock(descriptor)
                if stat.S_ISREG(os.fstat(descriptor).st_mode):
                    part.unlink()
            finally:
                os.close(descriptor)


def _parts(folder: Path) -> Iterator[Path]:
    with contextlib.suppress(OSError):
        yield from folder.glob(f"{_PREFIX}*{_SUFFIX}")
