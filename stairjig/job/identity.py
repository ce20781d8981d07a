"""The pack ID: six characters that tell one layout's paper from another's."""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from fractions import Fraction
from hashlib import sha256
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from stairjig.job.model import Job

LAYOUT_VERSION = 2
"""Goes up whenever the same job comes to other strips, so that their papers are not mixed."""
ALPHABET = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
"""The digits and capitals without I, L, O and U, which are misread."""
_LENGTH = 6
_BITS = 5


def pack_id(job: Job) -> str:
    """The job's pack ID: a SHA-256 over every resolved value but the title, and the layout.

    Places, ways of writing, comments and the order of keys don't count; the paper does.
    """
    digest = sha256(canonical(job).encode("utf-8", "surrogatepass")).digest()
    number = int.from_bytes(digest, "big") >> (8 * len(digest) - _BITS * _LENGTH)
    return "".join(ALPHABET[number >> _BITS * place & 31] for place in range(_LENGTH - 1, -1, -1))


def canonical(job: Job) -> str:
    """One text for all jobs that lay out alike, and for no other."""
    values = {
        field.name: getattr(job, field.name)
        for field in fields(job)
        if field.compare and field.name != "title"
    }
    values["balusters"] = tuple(sorted(job.balusters, key=lambda baluster: baluster.name))
    return f"layout {LAYOUT_VERSION} " + _named(values)


def _named(values: dict[str, Any]) -> str:
    inside = "".join(f"{name}={spelled(value)}" for name, value in sorted(values.items()))
    return f"{{{inside}}}"


def spelled(value: object) -> str:
    """A value so that no two spell alike: texts carry their length, everything else its kind."""
    if value is None or isinstance(value, bool):
        return f"{value};"
    if isinstance(value, str):
        return f"'{len(value)}:{value};"
    if isinstance(value, int):
        return f"i{value};"
    if isinstance(value, Fraction):
        return f"f{value.numerator}/{value.denominator};"
    if isinstance(value, tuple):
        return f"({len(value)}:{''.join(map(spelled, value))})"
    if is_dataclass(value):
        return _named({f.name: getattr(value, f.name) for f in fields(value) if f.compare})
    raise TypeError(f"no canonical spelling of {type(value).__name__}")
