"""Measures with fractions that no tape has, such as 9/61: a slip of the pen, most likely."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass

from stairjig.errors import Finding
from stairjig.job.model import Job
from stairjig.lengths import Length

_FRACTION = re.compile(r"(\d+)\s*[/⁄]\s*(\d+)")
_ON_A_TAPE = {2, 4, 8, 16, 32, 64}


def odd_fractions(job: Job) -> tuple[Finding, ...]:
    """A warning for each measure written with a fraction other than halves down to 64ths.

    It names no file or line: a pack says it, and opens again under another name.
    """
    found: dict[str, Finding] = {}
    for length in _lengths(job):
        match = _FRACTION.search(length.text)
        if match and int(match[2]) not in _ON_A_TAPE:
            text = f"{length.text} has a fraction that no tape has: read it again"
            found.setdefault(text, Finding("odd-fraction", "", text))
    return tuple(found.values())


def _lengths(value: object) -> Iterator[Length]:
    if isinstance(value, Length):
        yield value
    elif isinstance(value, tuple):
        for part in value:
            yield from _lengths(part)
    elif is_dataclass(value):
        for field in fields(value):
            yield from _lengths(getattr(value, field.name))
