"""Shapes that hold others: lists, keys of the author's own choice, records of known keys.

One wrong value never hides the next one: every item and every key is read whatever became of
the others.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace
from typing import Any

from spoonfold.problem import Edit, Place
from spoonfold.read.nodes import Mapping, Node, Scalar, Sequence, describe, shorten
from spoonfold.read.shape import Found, Shape, add, is_refused, nearest, quoted_list, spelling

MOST = 1000
"""Items of one list: more than any class, kitchen or dish has of anything."""


@dataclass(frozen=True, slots=True)
class ListOf:
    """A list; a single value is read as a list of one where `or_one` says so."""

    item: Shape
    or_one: bool = False
    least: int = 0
    most: int = MOST

    def read(self, node: Node, found: Found) -> tuple[Any, ...] | None:
        if is_refused(node):
            return None
        if isinstance(node, Sequence):
            items = node.items
        elif self.or_one and (self.least or not (isinstance(node, Scalar) and not node.text)):
            # Where one would do and nothing is given, one is what is asked for, not a list.
            items = [node]
        elif isinstance(node, Scalar) and not node.text and not self.least:
            return ()
        else:
            add(
                found,
                "not-a-list",
                node.place,
                f"Here goes a list, not {describe(node)}.",
                "Write each item on a line of its own: two spaces, a hyphen, a space, the item.",
            )
            return None
        if len(items) < self.least:
            add(found, "empty-list", node.place, "This list is empty.", "Write at least one item.")
            return None
        if is_too_long(items, self.most, node, found):
            return None
        before = len(found)
        values = [self.item.read(each, found) for each in items]
        if isinstance(node, Scalar) and len(found) == before + 1 and "," in node.text:
            # Several were meant, and only the brackets are missing.
            bracketed = f"[{node.text}]"
            edits = (Edit(node.place, node.text, bracketed),) if not node.quoted else ()
            found[before] = replace(found[before], hint=shorten(bracketed), edits=edits)
        read = tuple(value for value in values if value is not None)
        # Of what must be there, nothing could be read.
        return None if self.least and not read else read


@dataclass(frozen=True, slots=True)
class MapOf:
    """Words of the author's own choice, each with a value of one shape."""

    value: Shape

    def read(self, node: Node, found: Found) -> dict[str, Any] | None:
        entries = entries_of(node, found)
        if entries is None or is_too_long(entries.entries, MOST, node, found):
            return None
        values = {key: self.value.read(each, found) for key, each in entries.entries.items()}
        return {key: value for key, value in values.items() if value is not None}


def is_too_long(items: Collection[object], most: int, node: Node, found: Found) -> bool:
    """Whether there are more items than can be meant; adds a problem where there are."""
    if len(items) > most:
        add(
            found,
            "list-too-long",
            node.place,
            f"Here stand {len(items)} items, and no more than {most} are read.",
            "Was something pasted in many times?",
        )
    return len(items) > most


def entries_of(node: Node, found: Found) -> Mapping | None:
    """The node as keys with values, or None after saying that it isn't."""
    if isinstance(node, Mapping):
        return node
    if is_refused(node):
        return None
    if isinstance(node, Scalar) and not node.text:
        return Mapping(node.place)
    add(
        found,
        "not-keys",
        node.place,
        f"Here go keys with values, not {describe(node)}.",
        "Write each on a line of its own: a word, a colon, a space, the value.",
    )
    return None


@dataclass(frozen=True, slots=True)
class Key:
    """One key of a record."""

    name: str
    shape: Shape
    about: str
    """What it is for, in one line."""
    required: bool = False
    example: str = ""


def _is_alone(value: Node, key: Place) -> bool:
    """Whether a key between braces has no colon and no value."""
    return (
        isinstance(value, Scalar)
        and not value.text
        and not value.quoted
        and (value.place.line == key.line)
    )


_OF_SAFETY = frozenset(
    {
        *("accept", "allergens", "avoid", "check label", "keep out of the room", "keeps", "needs"),
        *("needs dropped", "raw", "tags"),
    }
)
"""Keys that nobody writes but she herself."""


@dataclass(frozen=True, slots=True)
class Record:
    """A fixed set of keys; an unknown one is a problem that names the nearest."""

    keys: tuple[Key, ...]
    what: str

    def read(self, node: Node, found: Found) -> dict[str, Any] | None:
        mapping = entries_of(node, found)
        if mapping is None:
            return None
        known = {key.name: key for key in self.keys}
        values: dict[str, Any] = {}
        meant: set[str | None] = set()
        before: Node | None = None
        for name, value in mapping.entries.items():
            if name in known:
                values[name] = known[name].shape.read(value, found)
                before = value
                continue
            if isinstance(before, Scalar) and before.text and _is_alone(value, mapping.keys[name]):
                # `{dishes: rice, beans}`: the comma ends the value.
                add(
                    found,
                    "unknown-key",
                    mapping.keys[name],
                    f"`{shorten(name)}` isn't a key of {self.what}. Several in one value stand in "
                    "brackets.",
                    f"[{shorten(before.text)}, {shorten(name)}]",
                )
                continue
            close = nearest(name, [key for key in known if key not in mapping.entries])
            meant.add(close)
            close = close or nearest(name, known)
            add(
                found,
                "unknown-key",
                mapping.keys[name],
                f"`{shorten(name)}` isn't a key of {self.what}.",
                f"Did you mean `{close}`?" if close else f"The keys are {quoted_list(known)}.",
                spelling(mapping.keys[name], name, close, close not in _OF_SAFETY),
            )
        for key in self.keys:
            if key.required and key.name not in mapping.keys and key.name not in meant:
                add(
                    found,
                    "missing-key",
                    mapping.place,
                    f"{self.what[0].upper()}{self.what[1:]} needs `{key.name}`: {key.about}.",
                    f"For example:\n{key.name}: {key.example}" if key.example else "",
                )
        return {name: value for name, value in values.items() if value is not None}
