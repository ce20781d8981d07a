"""The job file as a tree of words, lists and blocks of keys, each with its line and column.

Every scalar stays the text that was written, so no guess of YAML's (`6:30`, `on`, a leading 0)
touches a measurement. The tree is built from the parser's events with a stack of its own: however
deep a file nests, nothing recurses.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, TypeGuard

import yaml
from yaml.parser import Parser
from yaml.reader import Reader
from yaml.scanner import Scanner

from stairjig.errors import Place
from stairjig.frozen import frozen
from stairjig.job.faults import quoted
from stairjig.job.syntax import syntax_problem

if TYPE_CHECKING:
    from stairjig.job.faults import Faults

LARGEST = 256_000
"""Bytes in a job file."""
DEEPEST = 20
"""Lists and blocks of keys inside one another."""
MOST_NODES = 25_000
"""Words, lists and blocks of keys in a job file; ten thousand balusters come to fewer."""
_UNREADABLE = re.compile("[\0-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff\ufffe\uffff]")
_YAML_OWN = "tag:yaml.org,2002:"
_BOM = b"\xef\xbb\xbf"


@frozen
class Word:
    """A scalar, as it was written."""

    text: str
    where: Place


@frozen
class Listing:
    """A list."""

    items: tuple[Node, ...]
    where: Place


@frozen
class Block:
    """Keys with their values, in the order written; no key stands twice."""

    entries: tuple[tuple[Word, Node], ...]
    where: Place

    def get(self, key: str) -> Node | None:
        """What stands at a key, None where it does not."""
        return next((node for found, node in self.entries if found.text == key), None)


@frozen
class Broken:
    """Something that cannot be used and has been reported."""

    where: Place


Node = Word | Listing | Block | Broken


def read_document(source: bytes, file: str, faults: Faults) -> Node:
    """The tree of a job file of UTF-8 bytes; `file` names it in messages.

    Problems go to `faults`; raises BadInput where nothing can be read behind one.
    """
    text = _decoded(source, file, faults)
    root = _Builder(text, file, faults).built()
    if root is None:
        faults.stop("holds no job", Place(file), "begin with title: and units:")
    return root


def _decoded(source: bytes, file: str, faults: Faults) -> str:
    if len(source) > LARGEST:
        faults.stop(
            f"is over {LARGEST // 1000} kB; no job file is that long",
            Place(file),
            "is it the right file?",
        )
    body = source.removeprefix(_BOM)
    try:
        text = body.decode("utf-8")
    except UnicodeDecodeError as error:
        at = error.start + len(source) - len(body)
        faults.stop(
            f"is not UTF-8 text: byte {at + 1} is 0x{source[at]:02X}",
            Place(file, source.count(b"\n", 0, at) + 1, at - source.rfind(b"\n", 0, at)),
            "save it as UTF-8",
        )
    odd = _UNREADABLE.search(text)
    if odd:
        at = odd.start()
        faults.stop(
            f"holds a control character (U+{ord(odd[0]):04X})",
            Place(file, text.count("\n", 0, at) + 1, at - text.rfind("\n", 0, at)),
            "take it out",
        )
    return text


class _Events(Reader, Scanner, Parser):
    """The parser alone: neither composer, resolver nor constructor, so no value is interpreted."""

    def __init__(self, text: str) -> None:
        Reader.__init__(self, text)
        Scanner.__init__(self)
        Parser.__init__(self)


@dataclass(slots=True)
class _Open:
    """A list or block of keys that has begun and not ended."""

    where: Place
    block: bool
    nodes: list[Node] = field(default_factory=list)


class _Builder:
    """Builds the tree of one file, event by event."""

    def __init__(self, text: str, file: str, faults: Faults) -> None:
        self._events: Any = _Events(text)
        self._file = file
        self._faults = faults
        self._open: list[_Open] = []
        self._root: Node | None = None
        self._documents = 0
        self._nodes = 0

    def built(self) -> Node | None:
        """The root, or None where the file is empty but for comments."""
        try:
            while self._events.check_event():
                self._take(self._events.get_event())
        except yaml.MarkedYAMLError as error:
            what, mend, mark = syntax_problem(error)
            self._faults.stop(what, self._place(mark or self._mark()), mend)
        except (yaml.YAMLError, ValueError, OverflowError):
            # Escapes and version numbers beyond what Python can hold end here.
            self._faults.stop(
                "a number behind a backslash or a % is out of all bounds",
                self._place(self._mark()),
                "write plain text",
            )
        return self._root

    def _mark(self) -> Any:
        return self._events.get_mark()

    def _place(self, mark: Any) -> Place:
        return Place(self._file, mark.line + 1, mark.column + 1)

    def _take(self, event: Any) -> None:
        where = self._place(event.start_mark)
        if isinstance(event, yaml.DocumentStartEvent):
            self._begin(event, where)
        elif isinstance(event, yaml.CollectionEndEvent):
            self._close()
        elif isinstance(event, yaml.NodeEvent):
            self._count(where)
            if isinstance(event, yaml.AliasEvent):
                self._refuse_alias(event, where)
            else:
                self._start(event, where)

    def _count(self, where: Place) -> None:
        self._nodes += 1
        if self._nodes > MOST_NODES:
            self._faults.stop(
                f"holds over {MOST_NODES:,} values; no job needs that many",
                where,
                "divide it, or write treads alike with times",
            )

    def _begin(self, event: Any, where: Place) -> None:
        self._documents += 1
        if self._documents > 1:
            self._faults.stop("a second job begins here", where, "keep one job in a file")
        if event.tags:
            self._faults.add("tags (%TAG) have no use in a job file", where, "take the line out")

    def _refuse_alias(self, event: Any, where: Place) -> None:
        shown = quoted(f"*{event.anchor}")
        self._faults.add(f"{shown} refers to another place", where, "write the value out")
        self._put(Broken(where))

    def _start(self, event: Any, where: Place) -> None:
        if event.anchor is not None:
            shown = quoted(f"&{event.anchor}")
            self._faults.add(f"{shown} marks a place to refer to", where, "leave it out")
        if event.tag is not None:
            tag = event.tag.replace(_YAML_OWN, "!!")
            self._faults.add(f"{quoted(tag)} is a tag", where, "leave it out")
        if isinstance(event, yaml.ScalarEvent):
            self._put(Word(event.value, where))
            return
        self._open.append(_Open(where, isinstance(event, yaml.MappingStartEvent)))
        if len(self._open) > DEEPEST:
            self._faults.stop(
                f"lists and keys are nested over {DEEPEST} deep", where, "no job needs that"
            )

    def _close(self) -> None:
        done = self._open.pop()
        nodes = tuple(done.nodes)
        self._put(self._block(nodes, done.where) if done.block else Listing(nodes, done.where))

    def _put(self, node: Node) -> None:
        if self._open:
            self._open[-1].nodes.append(node)
        else:
            self._root = node

    def _block(self, nodes: tuple[Node, ...], where: Place) -> Block:
        entries: dict[str, tuple[Word, Node]] = {}
        for key, value in zip(nodes[::2], nodes[1::2], strict=True):
            if self._is_key(key, entries):
                entries[key.text] = (key, value)
        return Block(tuple(entries.values()), where)

    def _is_key(self, key: Node, earlier: dict[str, tuple[Word, Node]]) -> TypeGuard[Word]:
        if isinstance(key, Broken):
            return False
        if not isinstance(key, Word):
            self._faults.add("a key must be one word", key.where, "write it as key: value")
        elif key.text == "<<":
            self._faults.add('"<<" merges another block', key.where, "write the keys out")
        elif key.text in earlier:
            first = earlier[key.text][0].where.line
            self._faults.add(
                f"{quoted(key.text)} is given twice, first on line {first}",
                key.where,
                "keep one of the two",
            )
        else:
            return True
        return False
