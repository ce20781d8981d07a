"""What several commands share: how one is declared, the job it takes, the files it keeps whole."""

from __future__ import annotations

import argparse
import os
from pathlib import Path
from typing import Any

from stairjig.commands.parser import Parser
from stairjig.errors import BadInput, Problem
from stairjig.terminal import note

DONE, FAILS, WRONG = 0, 1, 2
"""Exit status: done; the layout, the proof or the readings fail; the input or the call is wrong."""

Commands = Any
"""What argparse adds commands to; it has no public name for that."""


def command(commands: Commands, name: str, says: str, example: str) -> Parser:
    """A command's parser, an example under its help."""
    parser: Parser = commands.add_parser(
        name,
        help=says,
        description=f"{says[0].upper()}{says[1:]}.",
        epilog=f"Example: {example}",
    )
    return parser


def add_job(parser: argparse.ArgumentParser) -> None:
    """The job that a command works on, and the paper in place of the job's own."""
    parser.add_argument("job", metavar="JOB", help="a job file, a filled form, or a pack")
    parser.add_argument(
        "--paper", metavar="P", help="letter, legal, tabloid, a4, a3, 'roll 24', '10 x 15'"
    )
    parser.add_argument("--save-job", metavar="FILE", help="write the job as a job file, too")


def save_job(call: argparse.Namespace, source: bytes) -> None:
    """Write the job as a job file where that is wanted, and say so; never over anything else."""
    if call.save_job is None:
        return
    from stairjig.files import target, write_whole
    from stairjig.intake import read_bytes

    path = target(call.save_job)
    if os.path.lexists(path):
        if read_bytes(path) == source:
            note([f"{path} holds the job already"])
            return
        raise BadInput(Problem(f"{path} is there already", "name another file with --save-job"))
    write_whole(path, source)
    note([f"wrote the job to {path}"])


def new_file(name: str) -> Path:
    """The file to write, which must not be there yet. Raises `BadInput`."""
    from stairjig.files import target

    path = target(name)
    if os.path.lexists(path):
        raise BadInput(Problem(f"{path} is there already", "name a file that is not"))
    return path
