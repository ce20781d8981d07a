"""What a PDF holds beside its pages: its trees, embedded files, page labels and form fields.

Section numbers are those of ISO 32000-1. What is damaged raises whatever comes of it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from pypdf.generic import NameObject, NullObject, StreamObject, create_string_object

Unpack = Callable[[Any], bytes]
"""Unpacks a stream and keeps count of what came out."""
MOST_NODES = 100_000
_LONGEST_NAME = 10_000
"""Signs of a field's full name, which grows with each field that it stands in."""


def entry(holder: Any, key: str) -> Any:
    """Give what stands under the key, itself where there is only a reference; None if nothing."""
    value = holder.get(key)
    value = None if value is None else value.get_object()
    return None if isinstance(value, NullObject) else value


def words(value: Any) -> str:
    """Read a text string, or a name without its slash; "" for nothing."""
    if value is None:
        return ""
    if isinstance(value, bytes):
        return value.decode("latin-1")
    text = str(value)
    return text[1:] if isinstance(value, NameObject) else text


class Nodes:
    """Counts the nodes of a tree and refuses one that is met twice: trees may be made to loop."""

    def __init__(self) -> None:
        self.seen: set[int] = set()
        self.kept: list[Any] = []
        self.count = 0

    def enter(self, node: Any) -> None:
        """Count a node. Raises ValueError for one that was met before, or one too many."""
        self.count += 1
        if id(node) in self.seen or self.count > MOST_NODES:
            raise ValueError("a tree that loops or is too large")
        self.seen.add(id(node))
        self.kept.append(node)  # so that its id stays its own


def _tree(root: Any, key: str) -> Iterator[tuple[Any, Any]]:
    """Go through a tree of names or numbers, in order (7.9.6, 7.9.7)."""
    nodes, waiting = Nodes(), [root]
    while waiting:
        node = waiting.pop()
        nodes.enter(node)
        leaves = [leaf.get_object() for leaf in entry(node, key) or ()]
        yield from zip(leaves[::2], leaves[1::2], strict=True)
        waiting += [kid.get_object() for kid in reversed(entry(node, "/Kids") or ())]


def attachments(root: Any, unpack: Unpack) -> dict[str, bytes]:
    """Unpack the embedded files, by name (7.11.4)."""
    names = entry(entry(root, "/Names") or {}, "/EmbeddedFiles")
    found: dict[str, bytes] = {}
    for key, file in _tree(names, "/Names") if names is not None else ():
        name = words(entry(file, "/UF")) or words(entry(file, "/F")) or words(key)
        held = file["/EF"]
        stream = entry(held, "/UF")
        found[name] = unpack(held["/F"] if stream is None else stream)
    return found


def labels(root: Any) -> dict[int, str]:
    """Read the pages' labels, of those that have one each (12.4.2)."""
    tree = entry(root, "/PageLabels")
    found = {}
    for index, label in _tree(tree, "/Nums") if tree is not None else ():
        number = str(int(entry(label, "/St") or 1)) if entry(label, "/S") is not None else ""
        found[int(index)] = words(entry(label, "/P")) + number
    return found


def titles(root: Any) -> dict[int, str]:
    """Read the lines of the outline, by the object numbers of their pages (12.3.3)."""
    found: dict[int, str] = {}
    nodes, line = Nodes(), entry(entry(root, "/Outlines") or {}, "/First")
    while line is not None:
        nodes.enter(line)
        goal = entry(line, "/Dest")
        if isinstance(goal, list) and goal:
            found.setdefault(getattr(goal[0], "idnum", 0), words(entry(line, "/Title")))
        line = entry(line, "/Next")
    return found


def fields(root: Any, unpack: Unpack) -> Iterator[tuple[str, str]]:
    """Give each field's full name and value (12.7.3).

    A box counts as ticked, too, where a viewer has changed only what it shows (12.5.5), not its
    value.
    """
    form, nodes = entry(root, "/AcroForm"), Nodes()
    tops = (entry(form, "/Fields") or ()) if form is not None else ()
    waiting = [(kid.get_object(), "", None) for kid in reversed(tops)]
    while waiting:
        node, prefix, above = waiting.pop()
        nodes.enter(node)
        own = words(entry(node, "/T"))
        name = ".".join(part for part in (prefix, own) if part)
        if len(name) > _LONGEST_NAME:
            raise ValueError("fields in fields, too deep")
        value = entry(node, "/V")
        value = above if value is None else value
        kids = [kid.get_object() for kid in entry(node, "/Kids") or ()]
        named = [(kid, name, value) for kid in reversed(kids) if "/T" in kid]
        waiting += named
        if not named and name:
            shown = [entry(widget, "/AS") for widget in (node, *kids)]
            yield name, _value(value, unpack) or next(filter(None, map(_value, shown)), "")


def _value(value: Any, unpack: Unpack | None = None) -> str:
    """Read a field's value, a text string or a stream of one; "" for a box that is not ticked."""
    if unpack and isinstance(value, StreamObject):
        value = create_string_object(unpack(value))
    said = words(value)
    unticked = isinstance(value, NameObject) and said == "Off"
    return "" if unticked else said
