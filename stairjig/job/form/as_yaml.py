"""A form's job as a commented job file: the same tree, written out."""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING

from stairjig.job.document import Block, Listing, Word
from stairjig.job.keys import KEYS, SECTION_KINDS

if TYPE_CHECKING:
    from collections.abc import Iterator

    from stairjig.job.document import Node

_END = "A-Za-z0-9½¼¾⅛⅜⅝⅞"
_PLAIN = re.compile(f"-?[{_END}]([{_END} .'\"′″°/_-]*[{_END}.'\"′″°])?")
"""What needs no quotes, not even between brackets: no sign in it is one of YAML's own."""
_NOTES_AT = 35
_OPEN_BLOCKS = {"rail": "a rail", "openings": "openings"}
"""Blocks that get a line for each key, by what their keys are those of."""
_OPEN_LISTS = ("rises", "treads")
"""Lists that get a line for each item."""


def commented(job: Block, remark: str) -> bytes:
    """The job file of this tree, each key with what it is; `remark` stands at its head."""
    head = [f"# {_printable(remark)}", ""]
    return "\n".join([*head, *_job(job), ""]).encode()


def _printable(text: str) -> str:
    return " ".join("".join(sign if sign.isprintable() else " " for sign in text).split())


def _job(job: Block) -> Iterator[str]:
    notes = KEYS["a job"]
    for key, node in job.entries:
        if key.text == "balusters" and isinstance(node, Block):
            yield _noted("balusters:", notes["balusters"])
            yield from _types(node)
        elif key.text == "sections" and isinstance(node, Listing):
            yield _noted("sections:", notes["sections"])
            yield from _sections(node)
        else:
            yield from _entry(key.text, node, notes[key.text], "")


def _types(types: Block) -> Iterator[str]:
    for name, node in types.entries:
        yield f"  {_scalar(name.text)}:"
        if isinstance(node, Block):
            yield from _keys(node, "a baluster", "    ")


def _sections(sections: Listing) -> Iterator[str]:
    for node in sections.items:
        if isinstance(node, Block):
            first, *rest = _keys(node, SECTION_KINDS[_text(node, "kind")], "    ")
            yield f"  - {first.lstrip()}"
            yield from rest


def _text(block: Block, key: str) -> str:
    node = block.get(key)
    return node.text if isinstance(node, Word) else ""


def _keys(block: Block, kind: str, indent: str) -> Iterator[str]:
    first = int(_text(block, "first_tread") or 1)
    for key, node in block.entries:
        note = KEYS[kind][key.text]
        if isinstance(node, Listing) and key.text in _OPEN_LISTS:
            yield _noted(f"{indent}{key.text}:", note)
            yield from _items(node, key.text, first, f"{indent}  ")
        else:
            yield from _entry(key.text, node, note, indent)


def _items(listing: Listing, key: str, first: int, indent: str) -> Iterator[str]:
    last = len(listing.items) - 1
    for n, item in enumerate(listing.items):
        note = f"tread {first + n}"
        if key == "rises":
            note = "to the landing" if n == last else f"to {note}"
        yield _noted(f"{indent}- {_inline(item)}", note)


def _entry(key: str, node: Node, note: str, indent: str) -> Iterator[str]:
    if isinstance(node, Block) and key in _OPEN_BLOCKS:
        yield _noted(f"{indent}{key}:", note)
        yield from _keys(node, _OPEN_BLOCKS[key], f"{indent}  ")
    else:
        yield _noted(f"{indent}{key}: {_inline(node)}", note)


def _noted(line: str, note: str) -> str:
    return f"{f'{line} ':<{_NOTES_AT}} # {note}" if note else line


def _inline(node: Node) -> str:
    if isinstance(node, Word):
        return _scalar(node.text)
    if isinstance(node, Listing):
        return f"[{', '.join(map(_inline, node.items))}]"
    if isinstance(node, Block):
        return f"{{{', '.join(f'{key.text}: {_inline(value)}' for key, value in node.entries)}}}"
    raise TypeError("a job that was read holds nothing broken")


def _scalar(text: str) -> str:
    return text if _PLAIN.fullmatch(text) else json.dumps(text, ensure_ascii=False)
