"""Packs are written whole or not at all: the real command, in processes of its own.

Root may do anything, so where the tests run as root the processes give that up first.
"""

from __future__ import annotations

import ctypes
import os
import resource
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from commands import DONE, WRONG, call
from fuzz.calls import SMALL
from fuzz.kills import kills
from fuzz.pdfs import pack_with

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="processes are split by fork")
OLD = pack_with({"pack.json": b"{}"})
"""An older pack, as small as one can be."""
COMMAND = (sys.executable, "-m", "stairjig")
_DROP = 24
_OVERRIDES = (1, 2)  # CAP_DAC_OVERRIDE, CAP_DAC_READ_SEARCH


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A job file and an older pack."""
    (tmp_path / "job.yaml").write_text(SMALL, encoding="utf-8")
    (tmp_path / "out.pdf").write_bytes(OLD)
    return tmp_path


def ended(folder, *arguments, before=None):
    """Status and lines of a process that carried out `before` first."""
    done = subprocess.run(
        [*COMMAND, *arguments],
        cwd=folder,
        preexec_fn=before,
        capture_output=True,
        text=True,
        check=False,
    )
    return done.returncode, done.stderr.splitlines()


def small_files():
    """No file may grow over 30 kB: a write fails half way, as on a full disk."""
    resource.setrlimit(resource.RLIMIT_FSIZE, (30_000, 30_000))


def as_anybody():
    """Give up root's right to pass over the rights of files, from the next program on."""
    if os.geteuid() == 0:
        for right in _OVERRIDES:
            if ctypes.CDLL(None, use_errno=True).prctl(_DROP, right, 0, 0, 0):
                raise OSError(ctypes.get_errno(), "it can't be given up")


def test_a_pack_that_does_not_fit_leaves_the_old_one_and_one_line(folder):
    status, lines = ended(folder, "pack", "job.yaml", "-o", "out.pdf", before=small_files)
    assert (status, lines) == (
        WRONG,
        ["stairjig: out.pdf can't be written: file too large - nothing was changed"],
    )
    assert (folder / "out.pdf").read_bytes() == OLD
    assert sorted(os.listdir(folder)) == ["job.yaml", "out.pdf"]


ON_A_SMALL_DISK = """
mkdir disk && mount -t tmpfs -o size=48k tmpfs disk || exit 77
cp out.pdf disk/out.pdf
"$@" pack job.yaml -o disk/out.pdf
echo "status $?"
ls -A disk
cmp out.pdf disk/out.pdf && echo the same
"""


@pytest.mark.skipif(shutil.which("unshare") is None, reason="needs unshare to mount a disk")
def test_a_full_disk_leaves_the_old_pack_and_one_line(folder):
    """A disk of 48 kB, mounted in a name space of its own, so that it goes with the process."""
    done = subprocess.run(
        ["unshare", "-m", "sh", "-c", ON_A_SMALL_DISK, "sh", *COMMAND],
        cwd=folder,
        capture_output=True,
        text=True,
        check=False,
    )
    if done.returncode == 77 or "unshare" in done.stderr:
        pytest.skip("may not mount")
    assert done.stderr.splitlines() == [
        "stairjig: disk/out.pdf can't be written: no space left on device - nothing was changed"
    ]
    assert done.stdout.split("\n") == ["status 2", "out.pdf", "the same", ""]


def test_a_folder_or_a_file_protected_against_writing_stays_as_it_is(folder):
    shut = folder / "shut"
    shut.mkdir()
    (shut / "mine.pdf").write_bytes(OLD)
    (folder / "out.pdf").chmod(0o444)
    shut.chmod(0o555)
    cases = {
        "shut/new.pdf": "shut/new.pdf: the folder shut is protected against writing",
        "shut/mine.pdf": "shut/mine.pdf: the folder shut is protected against writing",
        "out.pdf": "out.pdf is protected against writing",
    }
    try:
        for name, line in cases.items():
            said = ended(folder, "pack", "job.yaml", "-o", name, before=as_anybody)
            assert said == (WRONG, [f"stairjig: {line} - name another, or lift that"])
    finally:
        shut.chmod(0o755)
    assert (folder / "out.pdf").read_bytes() == (shut / "mine.pdf").read_bytes() == OLD
    assert os.listdir(shut) == ["mine.pdf"]


def test_a_job_that_may_not_be_read_is_refused(folder):
    (folder / "job.yaml").chmod(0)
    status, lines = ended(folder, "layout", "job.yaml", before=as_anybody)
    assert (status, lines) == (WRONG, ["stairjig: job.yaml can't be read: permission denied"])


def test_two_runs_at_once_and_a_reader_of_the_old_pack_do_not_disturb_each_other(folder):
    (folder / "two.yaml").write_text(SMALL.replace("Wren", "Owl"), encoding="utf-8")
    (folder / ".stairjig-0.part").write_bytes(b"left by a run that died")
    with (folder / "out.pdf").open("rb") as reader:
        begun = reader.read(5)
        runs = [
            subprocess.Popen(
                [*COMMAND, "pack", job, "-o", "out.pdf"],
                cwd=folder,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
            )
            for job in ("job.yaml", "two.yaml")
        ]
        assert [run.communicate()[0].count(b"proved") for run in runs] == [1, 1]
        assert [run.returncode for run in runs] == [DONE, DONE]
        assert begun + reader.read() == OLD
    made = (folder / "out.pdf").read_bytes()
    assert call(folder, "proof", "out.pdf").status == DONE
    for job in ("job.yaml", "two.yaml"):
        call(folder, "pack", job, "-o", f"{job}.pdf")
    assert made in {(folder / f"{job}.pdf").read_bytes() for job in ("job.yaml", "two.yaml")}
    assert not list(folder.glob(".stairjig-*"))


def test_packing_runs_killed_at_any_moment_leave_one_pack_or_the_other(tmp_path):
    """The long run kills 400: `python tests/fuzz/kills.py`."""
    seen = kills(4, 5, tmp_path)
    assert seen["one"] + seen["two"] == 4
    assert seen["dead files at the end"] == 0


# What stands at the target already.

OTHERS = {
    "hall.yaml": b"title: another job\n",
    "taped.csv": b"mark,running\n1-2,4 1/4\n",
    "notes.txt": b"call the mill",
    "empty.pdf": b"",
    "plan.pdf": pack_with({}),
    "job-carrying.pdf": pack_with({"job.yaml": SMALL.encode()}),
    "damaged.pdf": OLD[: len(OLD) // 2],
    "begun.pdf": b"%PDF-1.7 ",
}


@pytest.mark.parametrize("name", OTHERS)
def test_a_file_that_is_no_pack_is_never_written_over(folder, name):
    (folder / name).write_bytes(OTHERS[name])
    (folder / "link.pdf").symlink_to(name)
    for target in (name, "link.pdf"):
        said = call(folder, "pack", "job.yaml", "-o", target)
        line = f"stairjig: {target} is no pack of stairjig's - name another file with -o"
        assert (said.status, said.out, said.lines) == (WRONG, "", (line,))
    assert (folder / name).read_bytes() == OTHERS[name]


def test_a_client_s_pdf_at_the_default_name_is_kept(folder):
    (folder / "job.pdf").write_bytes(OTHERS["plan.pdf"])
    assert call(folder, "pack", "job.yaml").status == WRONG
    assert (folder / "job.pdf").read_bytes() == OTHERS["plan.pdf"]


def test_a_measuring_form_is_no_pack_and_is_kept(folder):
    assert call(folder, "form", "-o", "form.pdf", "--treads", "3").status == DONE
    before = (folder / "form.pdf").read_bytes()
    assert call(folder, "pack", "job.yaml", "-o", "form.pdf").status == WRONG
    assert (folder / "form.pdf").read_bytes() == before


def test_a_pack_and_a_reprint_are_written_over(folder):
    for extra in ((), ("--only", "Steps:1"), ()):
        assert call(folder, "pack", "job.yaml", "-o", "out.pdf", *extra).status == DONE
    assert call(folder, "proof", "out.pdf").status == DONE


def test_a_file_that_may_be_written_and_not_read_is_kept(folder):
    (folder / "out.pdf").chmod(0o200)
    status, lines = ended(folder, "pack", "job.yaml", "-o", "out.pdf", before=as_anybody)
    (folder / "out.pdf").chmod(0o600)
    line = "stairjig: out.pdf is no pack of stairjig's - name another file with -o"
    assert (status, lines) == (WRONG, [line])
    assert (folder / "out.pdf").read_bytes() == OLD
