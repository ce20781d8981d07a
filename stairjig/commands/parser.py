"""The parser of the command line and of each command: what is wrong with a call, in one line."""

from __future__ import annotations

import argparse
import re
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any, NoReturn

from stairjig.errors import BadInput, Problem
from stairjig.job.faults import nearest, printable, quoted

_ONE_FILE = "it takes one file at a time"
_QUOTES = "words with spaces stand in quotes, like 'roll 24'"
_COMMAND = re.compile(r"argument COMMAND: invalid choice: '(.*)' \(choose from (.*)\)", re.DOTALL)
_PLAINLY = (
    (re.compile(r"the following arguments are required: COMMAND"), r"a command is missing"),
    (re.compile(r"the following arguments are required: (.*)"), r"{} needs \1"),
    (re.compile(r"argument (\S+): expected (?:one|\d+) arguments?"), r"{} \1 needs a value"),
    (re.compile(r"argument (\S+): invalid int value: (.*)", re.DOTALL), r"{} \1: \2 is no number"),
    (
        re.compile(r"argument (\S+): not allowed with argument (\S+)"),
        r"{} takes \2 or \1, not both",
    ),
)
"""What argparse says, and the same in the words of this program."""


class Parser(argparse.ArgumentParser):
    """Says what is wrong with a call, and what was most likely meant.

    `late`: the name of an optional word that may stand behind options, too; argparse by itself
    takes all such words in one go. `given`: the words that it was called with.
    """

    late: str | None = None
    given: Sequence[str] = ()

    def parse_known_args(  # type: ignore[override]
        self, args: Sequence[str] | None = None, namespace: Any = None
    ) -> tuple[argparse.Namespace, list[str]]:
        """Parse what the command knows; whatever is over is refused. Raises `BadInput`."""
        self.given = sys.argv[1:] if args is None else args
        call, over = super().parse_known_args(args, namespace)
        if self.late and over and getattr(call, self.late) is None and not _option(over[0]):
            setattr(call, self.late, over.pop(0))
        if over:
            raise BadInput(self._too_much(over))
        return call, over

    def error(self, message: str) -> NoReturn:
        """Refuse a call. Raises `BadInput`."""
        if found := _COMMAND.fullmatch(message):
            commands = found[2].replace("'", "").split(", ")
            raise BadInput(
                Problem(
                    f"there is no command {printable(found[1])}",
                    self._mend(nearest(found[1], commands)),
                )
            )
        if "are required: " in message and (slip := self._slip()):
            raise BadInput(self._too_much([slip]))
        for said, plain in _PLAINLY:
            message = said.sub(plain.format(self._name), message)
        raise BadInput(Problem(message, self._mend("")))

    @property
    def _name(self) -> str:
        """How it is called: the command alone, the program where there is none."""
        return self.prog.rpartition(" ")[2]

    def _mend(self, meant: str) -> str:
        return f"{meant}{'; ' * bool(meant)}{self.prog} --help says how to call it"

    def _slip(self) -> str:
        """The first option of the call that is none here; argparse asks for missing words first."""
        options = (word.partition("=")[0] for word in self.given if word.startswith("--"))
        known = [*self._option_string_actions]
        return next((o for o in options if not any(k.startswith(o) for k in known)), "")

    def _too_much(self, over: Sequence[str]) -> Problem:
        option = next(filter(_option, over), None)
        if option is None:
            what = f"{self._name}: {quoted(over[0])} is one word too many"
            return Problem(what, self._mend(_ONE_FILE if Path(over[0]).suffix else _QUOTES))
        name = option.partition("=")[0]
        known = [each for each in self._option_string_actions if each.startswith("--")]
        return Problem(
            f"{self._name} has no option {printable(name)}", self._mend(nearest(name, known))
        )


def _option(word: str) -> bool:
    return word.startswith("-") and len(word) > 1
