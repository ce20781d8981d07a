"""How words are set off where they are read on a screen; plain everywhere else."""

from __future__ import annotations

from stairjig.frozen import frozen


@frozen
class Ink:
    """Parameters of SGR (ECMA-48, 8.3.117) for what a list sets off; empty for plain text.

    No meaning hangs on them: what is bold or coloured says in words what it is.
    """

    head: str = ""
    good: str = ""
    bad: str = ""
    faint: str = ""

    def set_off(self, text: str, how: str) -> str:
        """The text in one of this ink's ways."""
        return f"\x1b[{how}m{text}\x1b[0m" if how else text


PLAIN = Ink()
"""Nothing set off."""
