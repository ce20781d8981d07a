"""What a PDF looks like from outside: a quick look before a library takes it apart.

A library mends and searches where a file is damaged, at a cost that grows with the file. What is
refused here is large and no pack: a pack keeps nearly all of it in streams, and ends as it should.
"""

from __future__ import annotations

_TAIL = 2_048
"""Bytes at the end, among which `startxref` stands (7.5.5; viewers look through 1,024)."""
_MOST_OBJECTS = 200_000
_MOST_OUTSIDE = 24_000_000
"""Bytes outside of streams: objects, tables, names. A pack of 10,000 balusters has 17 million."""


def look_over(data: bytes) -> None:
    """Raise ValueError for a file without an end, or made of more parts than any pack."""
    if b"startxref" not in data[-_TAIL:]:
        raise ValueError("a file without an end")
    if data.count(b" 00000 n") > _MOST_OBJECTS or data.count(b"endobj") > _MOST_OBJECTS:
        raise ValueError("too many objects")
    if len(data) > _MOST_OUTSIDE and len(data) - _in_streams(data) > _MOST_OUTSIDE:
        raise ValueError("too much outside of streams")


def _in_streams(data: bytes) -> int:
    """Bytes from each `stream` to the next `endstream`."""
    inside, start = 0, data.find(b"stream")
    while start >= 0:
        end = data.find(b"endstream", start + 6)
        if end < 0:
            break
        inside += end - start
        start = data.find(b"stream", end + 9)
    return inside
