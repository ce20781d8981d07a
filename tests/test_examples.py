"""Every command that the help and the README show, on the job that `stairjig new` writes."""

from __future__ import annotations

import json
import re
import shlex
from pathlib import Path

import pytest
from commands import DONE, WRONG, call

from stairjig.commands import COMMANDS

README = (Path(__file__).parent.parent / "README.md").read_text(encoding="utf-8")
_SHOWN = re.compile(r"`(stairjig [^`]+)`")
EMPTY = {"stairjig check hall.pdf": "nothing is filled in on the check page"}
"""What can't be done before somebody has been on the stair, and what is said then."""
START = "stairjig new hall.yaml"


def plain(text: str) -> str:
    return " ".join(text.split())


def in_readme() -> list[str]:
    """Its commands in the order that they stand in."""
    return [plain(found) for found in _SHOWN.findall(README)]


def in_help(folder: Path) -> list[str]:
    """The example under each command's help, as it looks on a terminal, in the work's order."""
    names = [module.__name__.rpartition(".")[2] for module in COMMANDS]
    helps = [call(folder, name, "--help").out for name in names]
    return [plain(text.partition("Example: ")[2]) for text in helps]


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.setenv("COLUMNS", "80")
    (tmp_path / "work").mkdir()
    return tmp_path / "work"


def taped(folder: Path) -> str:
    """Readings of the job as a carpenter's list has them, to the sixteenth."""
    [section] = json.loads(call(folder, "layout", "hall.yaml", "--json").out)["sections"]
    rows = [f"{mark['name']},{round(mark['rail'] / 25.4 * 16) / 16}" for mark in section["marks"]]
    return "\n".join(["mark,running", *rows[1:]])


def run_all(folder: Path, commands: list[str]) -> None:
    """Each in its turn, as a shell would read it; those of `EMPTY` are told what is missing."""
    for command in commands:
        said = call(folder, *shlex.split(command)[1:])
        if command in EMPTY:
            assert (said.status, EMPTY[command] in said.lines[0]) == (WRONG, True)
        else:
            assert said.status == DONE, (command, said)
        if command == START:
            (folder / "taped.csv").write_text(taped(folder), encoding="utf-8")


def test_every_command_of_the_readme_works_in_its_order(folder):
    commands = in_readme()
    assert len(commands) >= 10
    assert commands[0] == START
    run_all(folder, commands)
    assert {"hall.pdf", "hall-reprint.pdf", "hall-form.pdf"} <= {p.name for p in folder.iterdir()}


def test_every_example_of_the_help_works_in_its_order(folder):
    commands = in_help(folder)
    assert len(commands) == len(COMMANDS)
    assert commands[0] == START
    run_all(folder, commands)


def test_the_strips_that_the_help_of_pack_names_are_those_of_the_new_job(folder):
    run_all(folder, [START, "stairjig pack hall.yaml"])
    text = plain(call(folder, "pack", "--help").out)
    names = re.findall(
        r"'([^']+)'", text.partition("reprint some strips: ")[2].partition("rail ")[0]
    )
    assert len(names) == 2
    for name in (*names, "rail"):
        assert call(folder, "pack", "hall.pdf", "--only", name).status == DONE


def test_a_reprint_on_another_paper_has_another_pack_id(folder):
    run_all(folder, [START, "stairjig pack hall.yaml"])
    ids = [
        re.search(r"pack (\w{6})", call(folder, "pack", "hall.pdf", "--only", "rail", *paper).out)[
            1
        ]
        for paper in ((), ("--paper", "letter"), ("--paper", "a4"))
    ]
    assert ids[0] == ids[1] != ids[2]
