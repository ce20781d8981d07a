"""Files are written whole or not at all, whatever comes in between."""

from __future__ import annotations

import contextlib
import errno
import fcntl
import os
import random
import resource
import signal
import stat
import subprocess
import sys
import time
from pathlib import Path

import pytest

from stairjig import files
from stairjig.errors import BadInput
from stairjig.files import target, write_whole

OLD, NEW = b"old" * 40_000, b"newer" * 30_000
pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="processes are split by fork")


@pytest.fixture
def pack(tmp_path):
    """A file that is there already."""
    path = tmp_path / "pack.pdf"
    path.write_bytes(OLD)
    return path


def parts(folder):
    return sorted(path.name for path in folder.glob(".stairjig-*"))


def refusal(path, data=NEW):
    """The one line that a write ends in."""
    with pytest.raises(BadInput) as caught:
        write_whole(path, data)
    (problem,) = caught.value.problems
    return str(problem)


# What is written


@pytest.mark.parametrize(
    "name", ["pack.pdf", "Stair of Zoë, ½ up.pdf", "a[b]*.pdf", "-o", "n" * 255]
)
def test_the_new_file_stands_alone_under_its_name(tmp_path, name):
    write_whole(tmp_path / name, NEW)
    assert (tmp_path / name).read_bytes() == NEW
    assert os.listdir(tmp_path) == [name]


def test_a_new_file_has_the_rights_that_any_new_file_gets(tmp_path):
    (tmp_path / "plain").touch()
    write_whole(tmp_path / "pack.pdf", NEW)
    assert (tmp_path / "pack.pdf").stat().st_mode == (tmp_path / "plain").stat().st_mode


def test_a_file_that_is_replaced_hands_on_its_rights(pack):
    pack.chmod(0o640)
    write_whole(pack, NEW)
    assert stat.S_IMODE(pack.stat().st_mode) == 0o640


def test_a_link_stays_and_what_it_leads_to_is_written(tmp_path, pack):
    elsewhere = tmp_path / "desk"
    elsewhere.mkdir()
    (elsewhere / "link.pdf").symlink_to(pack)
    (elsewhere / "new.pdf").symlink_to(tmp_path / "not yet.pdf")
    write_whole(elsewhere / "link.pdf", NEW)
    write_whole(elsewhere / "new.pdf", NEW)
    assert (elsewhere / "link.pdf").is_symlink()
    assert pack.read_bytes() == (tmp_path / "not yet.pdf").read_bytes() == NEW


def test_whoever_has_the_old_file_open_reads_it_to_its_end(pack):
    with pack.open("rb") as reader:
        begun = reader.read(10)
        write_whole(pack, NEW)
        assert begun + reader.read() == OLD


# What can't be written


def test_no_file_is_written_where_none_can_be(tmp_path, pack):
    (tmp_path / "out").mkdir()
    os.mkfifo(tmp_path / "pipe")
    (tmp_path / "loop").symlink_to(tmp_path / "loop")
    said = {
        "out": "out is a folder - name a file",
        "no/pack.pdf": "no/pack.pdf: there is no folder no - make it, or name another",
        "pack.pdf/x": "pack.pdf/x: there is no folder pack.pdf - make it, or name another",
        "pipe": "pipe is no file but a device or a pipe - name a file",
        "n" * 256: "n" * 256 + " can't be written: file name too long - nothing was changed",
        "a\0b": "a\0b can't be written: it is no name for a file - nothing was changed",
    }
    with contextlib.chdir(tmp_path):
        assert {name: refusal(Path(name)) for name in said} == said
        assert "can't be written" in refusal(Path("loop"))
    assert refusal(Path("/dev/null")) == "/dev/null is no file but a device or a pipe - name a file"
    assert pack.read_bytes() == OLD
    assert parts(tmp_path) == []


def test_a_file_protected_against_writing_stays(pack, monkeypatch):
    """Renaming would go over it: a pack that was signed off may be protected on purpose."""
    monkeypatch.setattr(os, "access", lambda _, mode: mode != os.W_OK)  # root may do anything
    assert refusal(pack) == f"{pack} is protected against writing - name another, or lift that"
    assert pack.read_bytes() == OLD


def test_a_folder_protected_against_writing_is_said_so(pack, monkeypatch):
    def refuse(path, *_):
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), path)

    monkeypatch.setattr(os, "open", refuse)
    assert refusal(pack) == f"{pack} can't be written: permission denied - nothing was changed"


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "the name of the file to write is empty - name a file"),
        ("  ", "the name of the file to write is empty - name a file"),
        ("out/", "out/ is the name of a folder - name a file in it"),
    ],
)
def test_a_name_for_no_file_is_refused(text, says):
    with pytest.raises(BadInput) as caught:
        target(text)
    assert str(caught.value) == says
    assert target("out/pack.pdf") == Path("out/pack.pdf")


# Faults on the way


@pytest.mark.parametrize("call", ["open", "fsync", "replace"])
@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EIO, errno.EROFS, errno.EDQUOT])
def test_a_call_that_fails_leaves_the_old_file_and_no_other(pack, monkeypatch, call, number):
    def fail(*_, **__):
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(os, call, fail)
    said = refusal(pack)
    assert said == (f"{pack} can't be written: {os.strerror(number).lower()} - nothing was changed")
    assert pack.read_bytes() == OLD
    assert parts(pack.parent) == []


def test_rights_that_can_t_be_given_are_no_reason_not_to_write(pack, monkeypatch):
    """Sticks and shares know no rights."""

    def fail(*_):
        raise PermissionError(errno.EPERM, "no rights here")

    monkeypatch.setattr(os, "fchmod", fail)
    write_whole(pack, NEW)
    assert pack.read_bytes() == NEW


def test_a_file_larger_than_there_is_room_for_leaves_the_old_one(pack):
    """A limit on the size of files stands for the full disk: the write itself fails half way."""
    script = (
        "import resource, sys; from pathlib import Path; from stairjig.files import write_whole\n"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (70_000, 70_000))\n"
        "write_whole(Path(sys.argv[1]), bytes(150_000))"
    )
    done = subprocess.run(
        [sys.executable, "-c", script, str(pack)], capture_output=True, text=True, check=False
    )
    assert done.stderr.splitlines()[-1].endswith(
        "can't be written: file too large - nothing was changed"
    )
    assert pack.read_bytes() == OLD
    assert parts(pack.parent) == []


def split_off(action):
    """Carry the action out in a process split off from this one; its number."""
    child = os.fork()
    if child:
        return child
    with contextlib.suppress(BaseException):
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
        action()
        os._exit(0)
    os._exit(1)


def ended(child):
    """How a process ended: its status, or minus the signal."""
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


STEPS = ("open", "fsync", "fchmod", "replace", "close", "fstat")
"""What a write asks the system for through `os`; `flock` comes on top."""


def dying_at(step):
    """Make this process die at that moment: they are before and after each call to the system."""
    moment = 0

    def pass_on():
        nonlocal moment
        if moment == step:
            os.kill(os.getpid(), signal.SIGKILL)
        moment += 1

    def counted(real):
        def call(*arguments, **named):
            pass_on()
            came = real(*arguments, **named)
            pass_on()
            return came

        return call

    for name in STEPS:
        setattr(os, name, counted(getattr(os, name)))
    fcntl.flock = counted(fcntl.flock)


def test_a_run_that_dies_before_or_after_any_call_to_the_system_leaves_a_whole_file(pack):
    """All of them, one after the other, with two dead files lying about to be cleared."""
    seen = set()
    for step in range(100):
        pack.write_bytes(OLD)
        for name in ("a", "b"):
            (pack.parent / f".stairjig-{name}.part").write_bytes(b"dead")

        def die(step=step):
            dying_at(step)
            write_whole(pack, NEW)

        if ended(split_off(die)) == 0:
            break
        data = pack.read_bytes()
        assert data in (OLD, NEW)
        seen.add(data)
        write_whole(pack.parent / "next.pdf", b"")
        assert parts(pack.parent) == []
    assert step > 20
    assert seen == {OLD, NEW}


def test_a_run_killed_at_any_moment_leaves_the_old_file_or_the_new_one(pack):
    """200 moments by chance, seeded, in runs that write one file over the other without end."""
    chance, whole, left = random.Random(13), {OLD: 0, NEW: 0}, 0

    def write_on(ready):
        while True:
            write_whole(pack, NEW)
            os.write(ready, b".")
            write_whole(pack, OLD)

    for _ in range(200):
        reader, writer = os.pipe()
        child = split_off(lambda ready=writer: write_on(ready))
        os.read(reader, 1)
        time.sleep(chance.uniform(0, 0.003))
        os.kill(child, signal.SIGKILL)
        os.close(reader)
        os.close(writer)
        assert ended(child) == -signal.SIGKILL
        whole[pack.read_bytes()] += 1
        left = max(left, len(parts(pack.parent)))
    assert sum(whole.values()) == 200
    assert min(whole.values()) > 15
    assert 0 < left < 3, "some were killed in the midst, and the next run cleared that"
    write_whole(pack, NEW)
    assert parts(pack.parent) == []


def test_an_interrupt_in_the_midst_takes_the_temporary_file_away(pack, monkeypatch):
    def interrupt(*_):
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "fsync", interrupt)
    with pytest.raises(KeyboardInterrupt):
        write_whole(pack, NEW)
    assert pack.read_bytes() == OLD
    assert parts(pack.parent) == []


# Runs beside one another


def test_runs_at_once_each_leave_whole_files_and_none_fails(pack):
    """Six that write one file and clear dead ones, 60 times each, while another reads it."""
    kinds = [bytes([number]) * (50_000 + number) for number in range(6)]

    def write_often(data):
        for _ in range(60):
            write_whole(pack, data)

    children = [split_off(lambda data=data: write_often(data)) for data in kinds]
    allowed, reads, running = {OLD, *kinds}, 0, set(children)
    while running:
        assert pack.read_bytes() in allowed
        reads += 1
        for child in list(running):
            done, status = os.waitpid(child, os.WNOHANG)
            if done:
                assert os.waitstatus_to_exitcode(status) == 0
                running.remove(child)
    assert reads > 20
    assert pack.read_bytes() in kinds
    assert parts(pack.parent) == []


def test_a_file_cleared_between_its_making_and_its_holding_is_made_again(pack, monkeypatch):
    real, made = files._held, []

    def late(descriptor):
        made.extend(parts(pack.parent))
        if len(made) < 3:
            files._clear_dead(pack.parent)  # another run comes by
        return real(descriptor)

    monkeypatch.setattr(files, "_held", late)
    write_whole(pack, NEW)
    assert len(set(made)) == 3
    assert pack.read_bytes() == NEW
    assert parts(pack.parent) == []


def test_a_file_that_another_run_is_about_to_clear_is_left_to_it(pack, monkeypatch):
    real, others = files._held, []

    def late(descriptor):
        if not others:
            (name,) = parts(pack.parent)
            others.append(os.open(pack.parent / name, os.O_RDWR))
            fcntl.flock(others[0], fcntl.LOCK_EX)
        return real(descriptor)

    monkeypatch.setattr(files, "_held", late)
    write_whole(pack, NEW)
    os.close(others[0])
    assert pack.read_bytes() == NEW
    assert len(parts(pack.parent)) == 1
    write_whole(pack, OLD)
    assert parts(pack.parent) == []


def test_files_that_are_cleared_without_end_are_an_error_not_a_loop(pack, monkeypatch):
    monkeypatch.setattr(files, "_held", lambda _: False)
    assert "other runs keep clearing this folder" in refusal(pack)
    assert pack.read_bytes() == OLD


def test_only_what_nobody_holds_is_cleared(pack):
    dead, alive = (pack.parent / f".stairjig-{name}.part" for name in ("dead", "alive"))
    dead.write_bytes(b"x")
    with alive.open("wb") as file:
        fcntl.flock(file, fcntl.LOCK_EX)
        write_whole(pack, NEW)
        assert parts(pack.parent) == [alive.name]
    write_whole(pack, NEW)
    assert parts(pack.parent) == []


def test_what_only_looks_like_a_dead_file_stays(pack):
    """A link to a file of value, a pipe that nobody feeds, a folder."""
    precious = pack.parent / "precious.pdf"
    precious.write_bytes(OLD)
    (pack.parent / ".stairjig-link.part").symlink_to(precious)
    os.mkfifo(pack.parent / ".stairjig-pipe.part")
    (pack.parent / ".stairjig-folder.part").mkdir()
    begun = time.perf_counter()
    write_whole(pack, NEW)
    assert time.perf_counter() - begun < 1
    assert len(parts(pack.parent)) == 3
    assert precious.read_bytes() == OLD


def test_a_system_without_locks_writes_all_the_same_and_clears_nothing(pack, monkeypatch):
    """It may rename no file that is open: the file is closed first."""
    open_when_renamed, real = [], os.replace

    def replace(source, to):
        here = Path("/proc/self/fd")
        held = (
            [os.readlink(link) for link in here.iterdir() if link.is_symlink()]
            if here.exists()
            else []
        )
        open_when_renamed.append(str(source) in held)
        real(source, to)

    monkeypatch.setattr(os, "replace", replace)
    dead = pack.parent / ".stairjig-dead.part"
    dead.touch()
    monkeypatch.setattr(files, "fcntl", None)
    write_whole(pack, NEW)
    assert pack.read_bytes() == NEW
    assert open_when_renamed == [False]
    assert parts(pack.parent) == [dead.name]


def test_a_share_without_locks_is_written_and_nothing_on_it_is_cleared(pack, monkeypatch):
    def no_locks(*_):
        raise OSError(errno.ENOLCK, os.strerror(errno.ENOLCK))

    dead = pack.parent / ".stairjig-dead.part"
    dead.touch()
    monkeypatch.setattr(fcntl, "flock", no_locks)
    write_whole(pack, NEW)
    assert pack.read_bytes() == NEW
    assert parts(pack.parent) == [dead.name]
