"""The command line: what a process is called with, and the status that it exits with.

Exit status 0: done; 1: the layout, the proof or the readings fail; 2: the input or the call is
wrong. Warnings never change it. What a command needs is imported when it runs.
"""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import NoReturn

from stairjig import __version__
from stairjig.commands import COMMANDS
from stairjig.commands.parser import Parser
from stairjig.commands.parts import DONE, FAILS, WRONG
from stairjig.errors import BadInput, Refusal
from stairjig.terminal import complain, ready_streams, silence_broken_streams


def run() -> NoReturn:
    """Run with the process's arguments and exit."""
    spare_the_collector()
    sys.exit(main(sys.argv[1:]))


def spare_the_collector() -> None:
    """Look for circles of values rarely: a process makes few, and ends soon."""
    gc.set_threshold(20_000, 20, 50)


def main(arguments: Sequence[str]) -> int:
    """Run a command; its exit status, whatever happens.

    A fault of the program's own ends in one line, too; with STAIRJIG_TRACEBACK set it is raised.
    """
    ready_streams()
    status = DONE
    try:
        status = _status(arguments)
        sys.stdout.flush()
    except BrokenPipeError:
        pass  # whoever reads along has seen enough; a status that is found stays
    except OSError as error:
        complain([_failed(error)])
        status = WRONG
    except KeyboardInterrupt:
        complain(["stopped"])
        status = WRONG
    silence_broken_streams()
    return status


def _status(arguments: Sequence[str]) -> int:
    try:
        call = _parser().parse_args(arguments)
        return int(call.command(call))
    except SystemExit as stop:
        return stop.code if isinstance(stop.code, int) else WRONG
    except BadInput as bad:
        complain(str(problem) for problem in bad.problems)
        return WRONG
    except Refusal as refused:
        complain(str(finding) for finding in refused.findings)
        return FAILS
    except MemoryError:
        complain(["there is not memory enough to work this out; divide the job"])
        return WRONG
    except OSError:
        raise
    except Exception as error:
        if os.environ.get("STAIRJIG_TRACEBACK"):
            raise
        complain([_fault(error)])
        return WRONG


def _failed(error: OSError) -> str:
    reason = (error.strerror or "it failed").lower()
    return f"{error.filename or 'the output'} can't be used: {reason}"


def _fault(error: Exception) -> str:
    """One line for what should never happen: enough to find the place by."""
    at = error.__traceback__
    while at is not None and at.tb_next is not None:
        at = at.tb_next
    place = f"{Path(at.tb_frame.f_code.co_filename).name}:{at.tb_lineno}" if at else ""
    return (
        f"a fault of stairjig's own ({type(error).__name__} at {place}); the layout can't be "
        "trusted - please report it with the job file"
    )


def _parser() -> Parser:
    parser = Parser(
        prog="stairjig",
        description="Full-scale paper strips that mark every baluster on the treads and under the "
        "handrail, from the measures of a stair.",
        epilog="A help for laying out: the local code and its inspector are the law.",
    )
    parser.add_argument("--version", action="version", version=f"stairjig {__version__}")
    commands = parser.add_subparsers(title="commands", required=True, metavar="COMMAND")
    for command in COMMANDS:
        command.add(commands)
    return parser
