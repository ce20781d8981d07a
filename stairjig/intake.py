"""Whatever a command takes as a job - a job file or a pack - opened as one."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from stairjig.errors import BadInput, Place, Problem
from stairjig.job.model import Job
from stairjig.job.reader import read_job
from stairjig.wanted import WHOLE, Wanted, wanted_of

_LARGEST = 50_000_000


def read_bytes(path: Path) -> bytes:
    """A file's bytes. Raises `BadInput` for a folder, a missing or an unreadable file."""
    if path.is_dir():
        raise BadInput(Problem(f"{path} is a folder", "name a job file"))
    try:
        if path.stat().st_size > _LARGEST:
            raise BadInput(Problem(f"{path} is over {_LARGEST // 10**6} MB", "is it a job file?"))
        return path.read_bytes()
    except FileNotFoundError:
        raise BadInput(
            Problem(f"there is no file {path}", "stairjig new FILE writes one to start from")
        ) from None
    except OSError as error:
        reason = (error.strerror or "it can't be opened").lower()
        raise BadInput(Problem(f"{path} can't be read: {reason}")) from None


def read_text(path: Path) -> str:
    """A text file's words. Raises `BadInput` where it is none."""
    try:
        return read_bytes(path).decode("utf-8-sig")
    except UnicodeDecodeError as error:
        where = Place(str(path))
        raise BadInput(
            Problem(f"is no text in UTF-8 (byte {error.start})", "save it as UTF-8", where)
        ) from None


@dataclass(frozen=True, slots=True)
class Opened:
    """A job, and what of it the pack that it came in holds; all of it from a job file."""

    job: Job
    wanted: Wanted = WHOLE


def open_job(path: Path, paper: str | None = None) -> Opened:
    """The job in a file, on `paper` where given. Raises `BadInput` with all that is wrong."""
    data = read_bytes(path)
    if data.lstrip()[:5] == b"%PDF-":
        return open_pack(data, str(path), paper)
    return Opened(read_job(data, str(path), paper))


def open_pack(data: bytes, name: str, paper: str | None = None) -> Opened:
    """The job that a pack carries, on its own paper unless another is named."""
    from stairjig.proof.reading import read_pdf

    files = read_pdf(data, name).attachments
    if "job.yaml" not in files:
        raise BadInput(Problem("carries no job: it is no pack", "", Place(name)))
    made = _made_with(files.get("pack.json", b"{}"), name)
    paper = paper or made.get("paper")
    return Opened(read_job(files["job.yaml"], f"{name} (job.yaml in it)", paper), wanted_of(made))


def _made_with(text: bytes, name: str) -> dict[str, Any]:
    try:
        made = json.loads(text)
    except (ValueError, RecursionError):
        made = None
    if not isinstance(made, dict) or not isinstance(made.get("paper", ""), str):
        raise BadInput(
            Problem("its pack.json is damaged", "print it anew from the job", Place(name))
        )
    return made
