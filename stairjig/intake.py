"""Whatever a command takes as a job - a job file, a filled form or a pack - opened as one."""

from __future__ import annotations

import json
import shlex
from collections.abc import Mapping
from dataclasses import field
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING, Any

from stairjig.errors import BadInput, Place, Problem
from stairjig.files import reason
from stairjig.frozen import frozen
from stairjig.job.model import Job
from stairjig.job.reader import read_job
from stairjig.wanted import JOB_FILE, PACK_FILE, WHOLE, Wanted, wanted_of

if TYPE_CHECKING:
    from stairjig.proof.marks import ReadPack

_LARGEST = 50_000_000
_NO_JOB = (
    "carries no job: it is neither a pack nor a filled measuring form",
    "a form that was printed to a PDF, flattened or scanned has lost its fields: fill in the blank "
    "one with a viewer and save it",
)
_LARGEST_MADE = 64_000
_MOST_BESIDE = 1000
"""Files of a folder that are looked at for a name that was meant."""


def read_bytes(path: Path) -> bytes:
    """A file's bytes. Raises `BadInput` for a folder, a missing, unreadable or too long a file."""
    try:
        if path.is_dir():
            raise BadInput(Problem(f"{path} is a folder", "name a job file"))
        with path.open("rb") as file:  # a device or a pipe has no size to ask for
            data = file.read(_LARGEST + 1)
    except FileNotFoundError:
        raise BadInput(Problem(f"there is no file {path}", _where_else(path))) from None
    except (OSError, ValueError) as error:
        raise BadInput(Problem(f"{path} can't be read: {reason(error)}")) from None
    if len(data) > _LARGEST:
        raise BadInput(Problem(f"{path} is over {_LARGEST // 10**6} MB", "is it a job file?"))
    return data


def _where_else(path: Path) -> str:
    """Say where a file that is not there may be: under a name like it, or in another folder."""
    from difflib import get_close_matches  # only for who errs

    try:
        beside = [each.name for each in islice(path.parent.iterdir(), _MOST_BESIDE)]
    except OSError:
        beside = []
    near = get_close_matches(path.name, beside, 1, 0.75)
    if near:
        return f"is it {path.parent / near[0]}?"
    new = "" if path.suffix.lower() in (".pdf", ".csv") else " stairjig new FILE writes a new one"
    return f"is it in another folder?{new}"


def text_of(data: bytes, path: Path) -> str:
    """The words of a text file's bytes. Raises `BadInput` where it is none."""
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        where = Place(str(path))
        raise BadInput(
            Problem(f"is no text in UTF-8 (byte {error.start})", "save it as UTF-8", where)
        ) from None


def check_no_text(data: bytes, path: Path) -> None:
    """Raise `BadInput` where a pack is due and the bytes are a job file's or another text's."""
    try:
        text = "" if is_pdf(data) else data.decode("utf-8-sig").strip()
    except UnicodeDecodeError:
        return
    if "sections:" in text:
        mend = f"stairjig pack {shlex.quote(str(path))} makes one"
        raise BadInput(Problem("is a job file, and proof takes a pack", mend, Place(str(path))))
    if text:
        mend = "name the PDF that stairjig pack made"
        raise BadInput(Problem("is no PDF, and proof takes a pack", mend, Place(str(path))))


@frozen
class Opened:
    """A job, and what of it the pack that it came in holds; all of it from a job file.

    `made`: what the pack says it was made with, nothing for other files.
    """

    job: Job
    wanted: Wanted = WHOLE
    made: Mapping[str, Any] = field(default_factory=dict, compare=False)


def open_job(path: Path, paper: str | None = None) -> Opened:
    """The job in a file, on `paper` where given. Raises `BadInput` with all that is wrong."""
    data = read_bytes(path)
    if is_pdf(data):
        return _open_pdf(data, str(path), paper)
    return Opened(read_job(data, str(path), paper, missing_signs))


def is_pdf(data: bytes) -> bool:
    """Whether a file's bytes begin as a PDF does."""
    return data.lstrip()[:5] == b"%PDF-"


def _open_pdf(data: bytes, name: str, paper: str | None) -> Opened:
    """The job in a pack, or in a measuring form that has been filled in."""
    from stairjig.job.form.form import is_form, job_of_form
    from stairjig.proof.reading import read_pdf

    read = read_pdf(data, name)
    if JOB_FILE in read.attachments:
        return _carried(read.attachments, name, paper)
    if is_form(read.fields):
        return Opened(job_of_form(read.fields, name, paper, missing_signs))
    raise BadInput(Problem(*_NO_JOB, Place(name)))


def check_replaceable(path: Path) -> None:
    """Raise `BadInput` where what is to be written over is no pack, or has been filled in."""
    if not path.is_file():
        return
    old = _pack_at(path)
    if old is None:
        raise BadInput(Problem(f"{path} is no pack of stairjig's", "name another file with -o"))
    filled = sum(1 for text in _filled_in(old).values() if text.strip())
    if filled:
        what = "1 field" if filled == 1 else f"{filled} fields"
        text = f"{path} has been filled in, and {what} would be lost"
        raise BadInput(Problem(text, "name another file with -o, or delete it first"))


def _pack_at(path: Path) -> ReadPack | None:
    """The pack in a file that is there; None where it is anything else, or can't be read."""
    from stairjig.proof.reading import read_pdf

    try:
        data = read_bytes(path)
        read = read_pdf(data, str(path)) if is_pdf(data) else None
    except BadInput:
        return None
    return read if read and PACK_FILE in read.attachments else None


def _filled_in(pack: ReadPack) -> Mapping[str, str]:
    """The fields of a pack; none where they can't be read, for then nobody can have filled them."""
    try:
        return dict(pack.fields)
    except BadInput:
        return {}


def open_pack(data: bytes, name: str, paper: str | None = None) -> Opened:
    """The job that a pack carries, on its own paper unless another is named."""
    from stairjig.proof.reading import read_pdf

    return _carried(read_pdf(data, name).attachments, name, paper)


def _carried(files: Mapping[str, bytes], name: str, paper: str | None) -> Opened:
    if JOB_FILE not in files:
        raise BadInput(Problem("carries no job: it is no pack", "", Place(name)))
    made = _made_with(files.get(PACK_FILE, b"{}"), name)
    paper = paper or made.get("paper")
    job = read_job(files[JOB_FILE], f"{name} ({JOB_FILE} in it)", paper, missing_signs)
    return Opened(job, wanted_of(made), made)


def missing_signs(text: str) -> str:
    """The characters of a name that the pack's fonts have no sign for."""
    if text.isascii() and text.isprintable():
        return ""  # the fonts need not be read for that
    from stairjig.type import missing

    return missing(text)


def _made_with(text: bytes, name: str) -> dict[str, Any]:
    try:
        made = json.loads(text) if len(text) <= _LARGEST_MADE else None
    except (ValueError, RecursionError):
        made = None
    if not isinstance(made, dict) or not isinstance(made.get("paper", ""), str):
        raise BadInput(
            Problem(f"its {PACK_FILE} is damaged", "print it anew from the job", Place(name))
        )
    return made
