"""Shapes: what a value must look like, what it becomes, and what to say when it doesn't.

A shape reads a node and answers the value, or None after adding a problem. One wrong
value never hides the next one: every key is read whatever became of the others.
"""

from __future__ import annotations

import datetime
import difflib
import re
from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass, replace
from typing import Any, Protocol

from spoonfold.model.recipe import Term
from spoonfold.problem import Level, Place, Problem
from spoonfold.quantity.refusal import Refusal
from spoonfold.read.nodes import Mapping, Node, Scalar, Sequence, describe, shorten

Found = list[Problem]


class Shape(Protocol):
    """Anything that reads a node."""

    def read(self, node: Node, found: Found) -> Any:
        """The value, or None after adding why not."""


class Described(Protocol):
    """A shape that makes more of a node than its parts say, and names the shapes that may be
    written there: what an editor is told comes from the same tables as what is read."""

    @property
    def written(self) -> tuple[Shape, ...]:
        """Any one of these."""


def add(found: Found, code: str, place: Place, message: str, hint: str = "") -> None:
    """Adds an error."""
    found.append(Problem(code, Level.ERROR, place, message, hint))


def is_refused(node: Node) -> bool:
    """Whether this stands for something that was refused already."""
    return isinstance(node, Scalar) and node.refused


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word that is spelt most like it, if any is near."""
    close = difflib.get_close_matches(word.lower(), list(known), n=1, cutoff=0.6)
    return close[0] if close else None


def quoted_list(words: Iterable[str]) -> str:
    """Words in backquotes with commas."""
    return ", ".join(f"`{word}`" for word in words)


def refused(refusal: Refusal, place: Place, found: Found) -> None:
    """Adds what the grammar of amounts refused, at its column."""
    where = Place(place.path, place.line, place.column + refusal.offset if place.column else 0)
    add(found, refusal.code, where, refusal.why, refusal.instead or "")


LONGEST = 2000
"""Signs in one value: twenty lines of a page."""
MOST = 1000
"""Items of one list: more than any class, kitchen or dish has of anything."""


@dataclass(frozen=True, slots=True)
class Line:
    """Text on one line, not empty."""

    what: str = "a few words"

    def read(self, node: Node, found: Found) -> str | None:
        if is_refused(node):
            return None
        if not isinstance(node, Scalar):
            add(found, "not-text-here", node.place, f"Here goes {self.what}, not {describe(node)}.",
                "If the text holds a colon, a bracket or a # put quotes around it.")
            return None
        text = " ".join(node.text.split())
        if not text:
            add(found, "nothing-given", node.place, f"Nothing is given here; it needs {self.what}.",
                "Write it after the colon, or remove the key.")
            return None
        if len(text) > LONGEST:
            add(found, "text-too-long", node.place,
                f"Here go {len(text)} signs, and no sheet has room for them: “{shorten(text)}”",
                f"Write at most {LONGEST} signs.")
            return None
        return text


@dataclass(frozen=True, slots=True)
class Parsed:
    """Text that a grammar turns into a value."""

    parse: Callable[[str], Any]
    what: str

    def read(self, node: Node, found: Found) -> Any:
        text = Line(self.what).read(node, found)
        if text is None:
            return None
        value = self.parse(text)
        if isinstance(value, Refusal):
            # Only an unquoted scalar starts at its own column; quotes shift it by one.
            quoted = isinstance(node, Scalar) and node.quoted
            place = node.place
            shift = 1 if quoted and place.column else 0
            refused(value, Place(place.path, place.line, place.column + shift), found)
            return None
        return value


@dataclass(frozen=True, slots=True)
class Named:
    """A name that points at something else, kept with its place."""

    what: str = "a name"

    def read(self, node: Node, found: Found) -> Term | None:
        text = Line(self.what).read(node, found)
        return None if text is None else Term(text, node.place)


@dataclass(frozen=True, slots=True)
class Choice:
    """One of a few words."""

    words: tuple[str, ...]

    def read(self, node: Node, found: Found) -> str | None:
        text = Line("one of " + quoted_list(self.words)).read(node, found)
        if text is None or text.lower() in self.words:
            return text and text.lower()
        close = nearest(text, self.words)
        add(found, "unknown-choice", node.place,
            f"“{shorten(text)}” isn't one of {quoted_list(self.words)}.",
            f"Did you mean `{close}`?" if close else "Choose one of them.")
        return None


@dataclass(frozen=True, slots=True)
class Whole:
    """A whole number within bounds."""

    least: int
    most: int
    what: str = "a whole number"

    def read(self, node: Node, found: Found) -> int | None:
        text = Line(self.what).read(node, found)
        if text is None:
            return None
        if not re.fullmatch(r"[0-9]{1,9}", text) or not self.least <= int(text) <= self.most:
            add(found, "not-a-whole-number", node.place,
                f"“{shorten(text)}” should be {self.what}.",
                f"Write a whole number from {self.least} to {self.most}.")
            return None
        return int(text)


@dataclass(frozen=True, slots=True)
class YesNo:
    """`yes` or `no`."""

    def read(self, node: Node, found: Found) -> bool | None:
        word = Choice(("yes", "no")).read(node, found)
        return None if word is None else word == "yes"


@dataclass(frozen=True, slots=True)
class Day:
    """A date as 2027-09-18."""

    def read(self, node: Node, found: Found) -> datetime.date | None:
        text = Line("a date").read(node, found)
        if text is None:
            return None
        try:
            # Sessions follow by weeks: a first day near the last year would run out of years.
            if re.fullmatch(r"[12][0-9]{3}-[0-9]{2}-[0-9]{2}", text):
                return datetime.date.fromisoformat(text)
        except ValueError:
            pass
        add(found, "not-a-date", node.place, f"“{shorten(text)}” isn't a date of the calendar.",
            "Write year, month and day: 2027-09-18.")
        return None


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
            add(found, "not-a-list", node.place, f"Here goes a list, not {describe(node)}.",
                "Write each item on a line of its own: two spaces, a hyphen, a space, the item.")
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
            found[before] = replace(found[before], hint=f"[{shorten(node.text)}]")
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
        add(found, "list-too-long", node.place,
            f"Here stand {len(items)} items, and no more than {most} are read.",
            "Was something pasted in many times?")
    return len(items) > most


def entries_of(node: Node, found: Found) -> Mapping | None:
    """The node as keys with values, or None after saying that it isn't."""
    if isinstance(node, Mapping):
        return node
    if is_refused(node):
        return None
    if isinstance(node, Scalar) and not node.text:
        return Mapping(node.place)
    add(found, "not-keys", node.place, f"Here go keys with values, not {describe(node)}.",
        "Write each on a line of its own: a word, a colon, a space, the value.")
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
    return isinstance(value, Scalar) and not value.text and not value.quoted and (
        value.place.line == key.line)


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
                add(found, "unknown-key", mapping.keys[name],
                    f"`{shorten(name)}` isn't a key of {self.what}. Several in one value stand in "
                    "brackets.", f"[{shorten(before.text)}, {shorten(name)}]")
                continue
            close = nearest(name, [key for key in known if key not in mapping.entries])
            meant.add(close)
            close = close or nearest(name, known)
            add(found, "unknown-key", mapping.keys[name],
                f"`{shorten(name)}` isn't a key of {self.what}.",
                f"Did you mean `{close}`?" if close else f"The keys are {quoted_list(known)}.")
        for key in self.keys:
            if key.required and key.name not in mapping.keys and key.name not in meant:
                add(found, "missing-key", mapping.place,
                    f"{self.what[0].upper()}{self.what[1:]} needs `{key.name}`: {key.about}.",
                    f"For example:\n{key.name}: {key.example}" if key.example else "")
        return {name: value for name, value in values.items() if value is not None}
