"""`stairjig new`: a commented job file to start from."""

from __future__ import annotations

import argparse
import sys

from stairjig.commands.parts import DONE, Commands, command, new_file


def add(commands: Commands) -> None:
    """Declare the command."""
    says = "write a commented job file to fill in"
    parser = command(commands, "new", says, "stairjig new hall.yaml")
    parser.add_argument("file", nargs="?", metavar="FILE", help="where to; else on the terminal")
    parser.set_defaults(command=run)


def run(call: argparse.Namespace) -> int:
    """Write the job file, or show it."""
    from stairjig.files import write_whole
    from stairjig.job.template import commented_job

    if call.file is None:
        sys.stdout.write(commented_job().decode())
        return DONE
    path = new_file(call.file)
    write_whole(path, commented_job())
    print(f"wrote {path}")
    return DONE
