"""YAML as a small tree in which every scalar stays text and knows its place.

YAML would turn `no`, `1:30`, `012` and dates into other things without a word;
here a value means what its reader says it means. Built from the parser's events,
one after the other, so that deep nesting costs no stack.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import yaml

from spoonfold.problem import Level, Place, Problem
from spoonfold.read.yaml_slips import yaml_problem

_Loader: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)

_YAML_TAGS = "tag:yaml.org,2002:"
"""What the parser makes of `!!`."""

DEEPEST = 12
"""Nothing an educator writes is nested deeper; 12 leaves room."""


@dataclass(slots=True)
class Scalar:
    """A piece of text."""

    text: str
    place: Place
    quoted: bool = False
    last_line: int = 0
    """The line of the file on which it ends."""
    refused: bool = False
    """Stands for something that was refused already: nobody complains of it again."""


@dataclass(slots=True)
class Sequence:
    """A list."""

    place: Place
    items: list[Node] = field(default_factory=list)


@dataclass(slots=True)
class Mapping:
    """Keys and values in the order written."""

    place: Place
    entries: dict[str, Node] = field(default_factory=dict)
    keys: dict[str, Place] = field(default_factory=dict)


Node = Scalar | Sequence | Mapping


def describe(node: Node) -> str:
    """What a node is, in a cook's words."""
    if isinstance(node, Scalar):
        return f"“{shorten(node.text)}”" if node.text else "nothing"
    return "a list" if isinstance(node, Sequence) else "keys with values"


def shorten(text: str, most: int = 60) -> str:
    """Text that fits in a message."""
    folded = " ".join(text.split())
    return folded if len(folded) <= most else folded[: most - 1] + "…"


def node_from_plain(value: object, place: Place) -> Node:
    """The same tree from what `json` loads; all of it at one place."""
    if isinstance(value, dict):
        return Mapping(
            place,
            {key: node_from_plain(each, place) for key, each in value.items()},
            dict.fromkeys(value, place),
        )
    if isinstance(value, list):
        return Sequence(place, [node_from_plain(each, place) for each in value])
    return Scalar(str(value), place, quoted=True)


def node_from_yaml(text: str, path: str, found: list[Problem], first_line: int = 1) -> Node | None:
    """The tree of one YAML document, or None where it can't be read.

    `first_line` is the line of the file on which `text` begins. What the format
    refuses (anchors, aliases, tags, keys written twice) is added to `found`, and
    the rest is still read.
    """
    return _Builder(path, found, first_line).build(text)


class _Builder:
    def __init__(self, path: str, found: list[Problem], first_line: int) -> None:
        self.path = path
        self.found = found
        self.offset = first_line
        self.open: list[tuple[Sequence | Mapping, str | None]] = []
        self.root: Node | None = None

    def place(self, mark: Any) -> Place:
        return Place(self.path, mark.line + self.offset, mark.column + 1)

    def refuse(self, code: str, place: Place, message: str, hint: str) -> None:
        self.found.append(Problem(code, Level.ERROR, place, message, hint))

    def build(self, text: str) -> Node | None:
        documents = 0
        try:
            for event in yaml.parse(text, Loader=_Loader):
                if isinstance(event, yaml.DocumentStartEvent):
                    documents += 1
                    if documents > 1:
                        self.refuse(
                            "second-document",
                            self.place(event.start_mark),
                            "A line of three hyphens begins a second document here.",
                            "Remove the line `---`.",
                        )
                        break
                elif not self.take(event):
                    return None
        except yaml.YAMLError as error:
            self.found.append(yaml_problem(error, text, self.path, self.offset))
            return None
        except (ValueError, UnicodeError):
            self.refuse(
                "unreadable-yaml",
                Place(self.path, self.offset),
                "There is a character here that plain text can't hold.",
                "Type the line again by hand.",
            )
            return None
        return self.root

    def take(self, event: Any) -> bool:
        """Adds one event to the tree; False where reading can't go on."""
        if isinstance(event, yaml.AliasEvent):
            self.refuse(
                "yaml-alias",
                self.place(event.start_mark),
                f"`*{event.anchor}` points at another place; everything is written out here.",
                f'Write the value itself, or put quotes around it: "*{event.anchor}".',
            )
            self.attach(Scalar("", self.place(event.start_mark), refused=True), event)
            return True
        if isinstance(event, (yaml.SequenceEndEvent, yaml.MappingEndEvent)):
            self.open.pop()
            return True
        if not isinstance(event, yaml.NodeEvent):
            return True
        place = self.place(event.start_mark)
        self.refuse_decoration(event, place)
        if isinstance(event, yaml.ScalarEvent):
            quoted = event.style in ('"', "'")
            last = self.place(event.end_mark).line
            self.attach(Scalar(event.value, place, quoted, last), event)
            return True
        if len(self.open) >= DEEPEST:
            self.refuse(
                "too-deep",
                place,
                "Lists inside lists go deeper here than anything this file can mean.",
                "Check the brackets and the indentation.",
            )
            return False
        node = Sequence(place) if isinstance(event, yaml.SequenceStartEvent) else Mapping(place)
        self.attach(node, event)
        self.open.append((node, None))
        return True

    def refuse_decoration(self, event: Any, place: Place) -> None:
        if event.anchor:
            self.refuse(
                "yaml-anchor",
                place,
                f"`&{event.anchor}` names a value so that it can be repeated; "
                "everything is written out here.",
                f"Remove `&{event.anchor}`, or put quotes around the whole value.",
            )
        tag = getattr(event, "tag", None)
        if tag and tag != "!":
            self.refuse(
                "yaml-tag",
                place,
                f"`{shorten(tag).replace(_YAML_TAGS, '!!')}` is a YAML tag; nothing here needs "
                "one.",
                "Remove it, or put quotes around the whole value.",
            )

    def attach(self, node: Node, event: Any) -> None:
        if not self.open:
            self.root = node
            return
        parent, key = self.open[-1]
        if isinstance(parent, Sequence):
            parent.items.append(node)
        elif key is None:
            self.open[-1] = (parent, self.new_key(parent, node))
        else:
            if key:
                parent.entries[key] = node
            self.open[-1] = (parent, None)

    def new_key(self, parent: Mapping, node: Node) -> str:
        """The key's text; empty where its value must be passed over."""
        if not isinstance(node, Scalar) or not node.text:
            self.refuse(
                "strange-key",
                node.place,
                "A key must be a word; this one is empty or a list.",
                "Write the key as a word, then a colon and a space.",
            )
            return ""
        key = " ".join(node.text.split())
        if key in parent.entries:
            first = parent.keys[key]
            self.refuse(
                "key-twice",
                node.place,
                f"`{shorten(key)}` is already given on line {first.line}; which of the two counts?",
                "Keep one of them.",
            )
            return ""
        parent.keys[key] = node.place
        return key
