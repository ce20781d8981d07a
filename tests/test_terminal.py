"""What is shown where somebody watches, and kept out of every file and pipe."""

from __future__ import annotations

import contextlib
import io
import os
import threading
from pathlib import Path

import pytest

from stairjig import terminal
from stairjig.cli import main
from stairjig.ink import PLAIN

SAMPLES = Path(__file__).parent.parent / "samples"
SKEWED = str(SAMPLES / "skewed-porch.yaml")


class Screen(io.StringIO):
    """A stream that says it is a terminal."""

    def isatty(self):
        return True


class Clock:
    """A clock that goes on by a step each time it is read."""

    def __init__(self, step):
        self.now, self.step = 0.0, step

    def __call__(self):
        self.now += self.step
        return self.now


@pytest.fixture(autouse=True)
def _plain_terminal(monkeypatch):
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.delenv("NO_COLOR", raising=False)


class Terminal:
    """A terminal of the system's own, read as it fills: it holds but some thousand signs."""

    def __init__(self):
        self.reader, writer = os.openpty()
        self.stream = os.fdopen(writer, "w", buffering=1, encoding="utf-8")
        self.parts = []
        self.watcher = threading.Thread(target=self._watch, daemon=True)
        self.watcher.start()

    def _watch(self):
        with contextlib.suppress(OSError):  # its other end is closed
            while part := os.read(self.reader, 65_536):
                self.parts.append(part)

    def shown(self):
        """Everything that was shown, the stream closed."""
        self.stream.close()
        self.watcher.join(10)
        os.close(self.reader)
        return b"".join(self.parts).decode().replace("\r\n", "\n")


def on_terminal(monkeypatch, name, *arguments):
    """What a command shows on a stream that is a terminal."""
    screen = Terminal()
    with monkeypatch.context() as patch:
        patch.setattr(f"sys.{name}", screen.stream)
        assert main(arguments) == 0
    return screen.shown()


def test_quick_work_shows_no_progress():
    shown = Screen()
    with terminal.progress(shown, Clock(0.1)) as tell:
        for sheet in range(1, 6):
            tell("proving sheet", sheet, 5)
    assert "proving" not in shown.getvalue()


def test_work_of_over_a_second_says_how_far_it_is_and_leaves_a_clean_line():
    shown = Screen()
    with terminal.progress(shown, Clock(0.3)) as tell:
        tell("setting out", 0, 0)
        for sheet in range(1, 31):
            tell("proving sheet", sheet, 30)
    assert "\x1b[Kproving sheet 12 of 30 …" in shown.getvalue()
    assert shown.getvalue().endswith("\r\x1b[K")


def test_progress_is_told_at_most_ten_times_a_second():
    shown = Screen()
    with terminal.progress(shown, Clock(0.01)) as tell:
        for sheet in range(1, 301):  # three seconds
            tell("proving sheet", sheet, 300)
    assert 15 <= shown.getvalue().count("…") <= 21


def test_a_pipe_is_told_nothing_of_progress():
    piped = io.StringIO()
    with terminal.progress(piped, Clock(10)) as tell:
        tell("proving sheet", 1, 2)
    assert piped.getvalue() == ""


def test_progress_of_work_that_fails_is_cleared_away_all_the_same():
    shown = Screen()

    def fail():
        with terminal.progress(shown, Clock(2)) as tell:
            tell("drawing sheet", 1, 2)
            raise ValueError("no")

    with pytest.raises(ValueError, match="no"):
        fail()
    assert shown.getvalue().endswith("…\r\x1b[K")


def test_a_pack_and_its_proof_show_their_stages_on_a_terminal(tmp_path, monkeypatch):
    monkeypatch.setattr(terminal, "_PATIENCE", 0.0)
    monkeypatch.setattr(terminal, "_EVERY", 0.0)
    pack = str(tmp_path / "porch.pdf")
    told = on_terminal(monkeypatch, "stderr", "pack", SKEWED, "-o", pack)
    stages = ["setting out", "planning joints", "placing words, sheet 1 of", "drawing sheet 1 of"]
    places = [told.index(stage) for stage in (*stages, "proving sheet 1 of")]
    assert places == sorted(places)
    assert "…" not in told.rpartition("\x1b[K")[2]
    assert "proving sheet 2 of" in on_terminal(monkeypatch, "stderr", "proof", pack)


def test_a_pack_that_is_piped_shows_no_stage(tmp_path, monkeypatch, capsys):
    monkeypatch.setattr(terminal, "_PATIENCE", 0.0)
    assert main(["pack", SKEWED, "-o", str(tmp_path / "porch.pdf")]) == 0
    out, err = capsys.readouterr()
    assert "\x1b" not in out + err
    assert all(line.startswith("note: ") for line in err.splitlines())


def test_a_list_is_coloured_on_a_terminal_alone(monkeypatch, capsys):
    assert main(["layout", SKEWED]) == 0
    plain = capsys.readouterr().out
    assert "\x1b" not in plain
    coloured = on_terminal(monkeypatch, "stdout", "layout", SKEWED)
    assert "\x1b[32mpasses\x1b[0m" in coloured
    for code in ("0", "1", "2", "32"):
        coloured = coloured.replace(f"\x1b[{code}m", "")
    assert coloured == plain


@pytest.mark.parametrize(("name", "value"), [("NO_COLOR", "1"), ("TERM", "dumb")])
def test_who_asks_for_no_colour_gets_none(monkeypatch, name, value):
    assert terminal.ink_for(Screen()) != PLAIN
    monkeypatch.setenv(name, value)
    assert terminal.ink_for(Screen()) == PLAIN


@pytest.mark.parametrize("form", ["--json", "--csv", "--schedule"])
def test_data_is_never_coloured(monkeypatch, form):
    shown = on_terminal(monkeypatch, "stdout", "layout", str(SAMPLES / "balcony.yaml"), form)
    assert "1," in shown
    assert "\x1b" not in shown
