"""Shapes: what a value must look like, what it becomes, and what to say when it doesn't.

A shape reads a node and answers the value, or None after adding a problem. Here stand the
shapes of one value; those that hold others are in `record`.
"""

from __future__ import annotations

import datetime
import difflib
import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any, Protocol

from spoonfold.knowledge.names import fold, is_slip
from spoonfold.model.recipe import Term
from spoonfold.problem import Edit, Level, Place, Problem
from spoonfold.quantity.refusal import Refusal
from spoonfold.read.nodes import Node, Scalar, describe, shorten
from spoonfold.read.yaml_text import yaml_text

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


def add(
    found: Found,
    code: str,
    place: Place,
    message: str,
    hint: str = "",
    edits: tuple[Edit, ...] = (),
) -> None:
    """Adds an error."""
    found.append(Problem(code, Level.ERROR, place, message, hint, edits=edits))


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


def spelling(place: Place, written: str, close: str | None, safe: bool = True) -> tuple[Edit, ...]:
    """The nearest known word in the place of one that isn't known: certain where it is that word
    with a letter or so wrong, unless it is one on which safety hangs."""
    if close is None or "\n" in written:
        return ()
    return (Edit(place, written, close, safe and is_slip(fold(written), fold(close))),)


def value_edit(node: Scalar, new: str, certain: bool = False) -> tuple[Edit, ...]:
    """A new value in the place of one on a single line; none where its signs aren't known."""
    place, is_yaml = node.place, bool(node.last_line)
    if not place.column or not node.text or (is_yaml and node.last_line != place.line):
        return ()
    new = new.strip('"')
    first, *more = new.split("\n")
    if node.quoted:
        if more or any(sign in new for sign in "\"'\\"):
            return ()
        return (Edit(place, node.text, first, certain),)
    written = yaml_text if is_yaml else str
    # Each line more is an item more of the list that this one is in.
    item = "\n" + " " * (place.column - 3) + "- "
    return (Edit(place, node.text, item.join(map(written, (first, *more))), certain),)


def refused(refusal: Refusal, node: Scalar, found: Found, is_meant: bool = False) -> None:
    """Adds what a grammar refused in a value, at its column. `is_meant`: what it says to write is
    always her own words rewritten, never an example."""
    place = node.place
    # Only an unquoted scalar starts at its own column; quotes shift it by one.
    column = place.column + node.quoted + refusal.offset if place.column else 0
    ways = refusal.readings
    # What stands in her own words is no example.
    is_meant = is_meant or refusal.certain or (refusal.instead or "\n") in node.text
    if refusal.instead and not ways and is_meant:
        ways = (refusal.instead,)
    add(
        found,
        refusal.code,
        Place(place.path, place.line, column),
        refusal.why,
        refusal.instead or "",
        tuple(edit for way in ways for edit in value_edit(node, way, refusal.certain)),
    )


LONGEST = 2000
"""Signs in one value: twenty lines of a page."""


@dataclass(frozen=True, slots=True)
class Line:
    """Text on one line, not empty."""

    what: str = "a few words"

    def read(self, node: Node, found: Found) -> str | None:
        if is_refused(node):
            return None
        if not isinstance(node, Scalar):
            add(
                found,
                "not-text-here",
                node.place,
                f"Here goes {self.what}, not {describe(node)}.",
                "If the text holds a colon, a bracket or a # put quotes around it.",
            )
            return None
        text = " ".join(node.text.split())
        if not text:
            add(
                found,
                "nothing-given",
                node.place,
                f"Nothing is given here; it needs {self.what}.",
                "Write it after the colon, or remove the key.",
            )
            return None
        if len(text) > LONGEST:
            add(
                found,
                "text-too-long",
                node.place,
                f"Here go {len(text)} signs, and no sheet has room for them: “{shorten(text)}”",
                f"Write at most {LONGEST} signs.",
            )
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
            assert isinstance(node, Scalar)  # Otherwise it would be no line.
            refused(value, node, found)
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
    safe: bool = True
    """Whether a misspelt word may be mended without asking."""

    def read(self, node: Node, found: Found) -> str | None:
        text = Line("one of " + quoted_list(self.words)).read(node, found)
        if text is None or text.lower() in self.words:
            return text and text.lower()
        close = nearest(text, self.words)
        add(
            found,
            "unknown-choice",
            node.place,
            f"“{shorten(text)}” isn't one of {quoted_list(self.words)}.",
            f"Did you mean `{close}`?" if close else "Choose one of them.",
            spelling(node.place, text, close, self.safe),
        )
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
            add(
                found,
                "not-a-whole-number",
                node.place,
                f"“{shorten(text)}” should be {self.what}.",
                f"Write a whole number from {self.least} to {self.most}.",
            )
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
        add(
            found,
            "not-a-date",
            node.place,
            f"“{shorten(text)}” isn't a date of the calendar.",
            "Write year, month and day: 2027-09-18.",
        )
        return None
