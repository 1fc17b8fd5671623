"""YAML as a small tree in which every scalar stays text and knows its place.

YAML would turn `no`, `1:30`, `012` and dates into other things without a word;
here a value means what its reader says it means. Built from the parser's events,
one after the other, so that deep nesting costs no stack.

What YAML refuses, said so that a cook can mend it: the slip that was likely made, and the line
as it should be."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass, field
from typing import Any

import yaml

from spoonfold.problem import Edit, Level, Place, Problem

_GLUED_KEY = re.compile(r"\s*([a-z][a-z ]*):([^\s:/][^:]*)")
"""`serves:4`"""
_BULLETS = ("–", "—", "•", "●", "▪", "‣", "·", "*", "+")
_BOX = re.compile(r"\s*- (\[[ xX]?\]) ")
_HARD_SPACE = re.compile("[\u00a0\u2007\u202f]")
_MARKED_VALUE = re.compile(r"\s*([a-z][a-z ]*): +([*&!].*\S)\s*")
"""`title: *Plain* rice`"""


_KEY_AND_VALUE = re.compile(r"[^\W\d_][\w -]*: +[^\s|>#].*")
_SURELY = 2
"""Lines beside an odd one that stand alike."""


def _last_item(lines: list[str]) -> int | None:
    """How far to the right the hyphen of the item above stands; None where the last line is
    none."""
    last = lines[-1] if lines else ""
    return len(last) - len(last.lstrip()) if last.lstrip().startswith("- ") else None


def _stands_apart(lines: list[str], line: int) -> tuple[int, str] | None:
    """Of a line that can't be read and the one above it the one that stands further left or right
    than its neighbours, all of a kind, and how it should stand; None where neither surely does."""
    kind = _sort_of(lines[line])
    if not kind or line == 0 or _sort_of(lines[line - 1]) != kind:
        return None
    # Two lines on each side are enough to tell which one is the odd one.
    beside = [
        number
        for number in range(max(0, line - 3), min(len(lines), line + 3))
        if _sort_of(lines[number]) == kind
    ]
    indents = Counter(len(lines[each]) - len(lines[each].lstrip()) for each in beside)
    (usual, most), *others = indents.most_common()
    odd = [each for each in beside if len(lines[each]) - len(lines[each].lstrip()) != usual]
    if len(odd) != 1 or most < _SURELY or odd[0] not in (line - 1, line) or len(others) != 1:
        return None
    return odd[0], " " * usual + lines[odd[0]].strip()


def _sort_of(line: str) -> str:
    """What a line is in a list or among keys: an item, a key with its value, or neither."""
    words = line.strip()
    if words.startswith("- "):
        return "item"
    return "key" if _KEY_AND_VALUE.fullmatch(words) else ""


def _whole_line(place: Place, line: str, new: str) -> tuple[Edit, ...]:
    """Another line in the place of a line, as far to the right unless it says how far."""
    indent = line[: len(line) - len(line.lstrip())] if new == new.lstrip() else ""
    old = line.rstrip()
    return (Edit(Place(place.path, place.line, 1), old, indent + new, True),) if old else ()


def _lone_words(line: str, place: Place) -> Problem:
    """Words on a line of their own where a key with its colon was to be."""
    words = line.strip()
    is_line = True
    if words.startswith("-"):
        message, hint = "A space is missing behind the hyphen.", f"- {words.lstrip('-').strip()}"
    elif words.startswith(_BULLETS):
        message = "A list has plain hyphens; a word processor makes dashes and dots of them."
        hint = f"- {words.lstrip(''.join(_BULLETS)).strip()}"
    else:
        key, _, value = words.partition(" ")
        message = "A key is followed by a colon and a space, and here is none."
        plain = value and ":" not in words and " " not in value
        hint = (
            words.replace(":", ": ", 1)
            if re.match(r"[\w ]+:\S", words)
            else words.replace("：", ": ", 1)
            if "：" in words
            else f"{key}: {value}"
            if plain
            else "Write the key, a colon, a space, the value."
        )
        # A word and a value without a colon may also be two words of the line above.
        is_line = ":" in words or "：" in words
    edits = _whole_line(place, line, hint) if is_line and not hint.startswith("Write") else ()
    return Problem("unreadable-yaml", Level.ERROR, place, message, hint, edits=edits)


def _too_deep(place: Place) -> Problem:
    """Lists inside lists inside lists."""
    return Problem(
        "too-deep",
        Level.ERROR,
        place,
        "Lists inside lists go deeper here than anything this file can mean.",
        "Check the brackets and the indentation.",
    )


def yaml_problem(error: yaml.YAMLError, text: str, path: str, offset: int) -> Problem:
    """A YAML syntax error in a cook's words."""
    mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    what = str(getattr(error, "problem", None) or getattr(error, "reason", "") or "")
    lines = text.split("\n")
    line = min(mark.line, len(lines) - 1) if mark else 0
    column = mark.column if mark else 0
    here = lines[line] if lines else ""
    place = Place(path, line + offset, column + 1)

    begin = getattr(error, "context_mark", None)
    opening = Place(path, begin.line + offset, begin.column + 1) if begin else place

    def problem(
        code: str, message: str, hint: str, where: Place = place, whole: bool = False
    ) -> Problem:
        written = lines[where.line - offset] if whole else ""
        edits = _whole_line(where, written, hint) if whole else ()
        return Problem(code, Level.ERROR, where, message, hint, edits=edits)

    tab = here.find("\t", 0, len(here) - len(here.lstrip()) or 1)
    if tab < 0 and "\\t" in what and "\t" in here:
        tab = here.index("\t")
    if tab >= 0:
        return problem(
            "tab",
            "There is a tab here; the indentation must be spaces.",
            here.replace("\t", "  ").rstrip() or "Delete the tab.",
            Place(path, line + offset, tab + 1),
            whole=bool(here.strip()),
        )
    for number in dict.fromkeys((begin.line if begin else line, line)):
        hard = _HARD_SPACE.search(lines[number]) if number < len(lines) else None
        if hard is not None:
            return problem(
                "unreadable-yaml",
                "This is a hard space, which looks like a space and isn't one; web pages and word "
                "processors leave it.",
                _HARD_SPACE.sub(" ", lines[number]).strip(),
                Place(path, number + offset, hard.start() + 1),
                whole=True,
            )
    if "nesting depth" in what:
        return _too_deep(opening)
    if "quoted scalar" in str(getattr(error, "context", "")):
        return problem(
            "unclosed-quote",
            "A quotation mark opens here and never closes.",
            "Close it, or remove it.",
            opening,
        )
    if "expected ','" in what and mark and begin and mark.line == begin.line:
        return problem(
            "unclosed-bracket",
            "Before this a comma is missing, or a bracket that closes.",
            "Put a comma between any two, and check that every [ has its ] and every { its }.",
        )
    if "flow" in str(getattr(error, "context", "")):
        return problem(
            "unclosed-bracket",
            "A bracket opens here and doesn't close as it should.",
            "Check that every [ has its ] and every { its }, with commas between.",
            opening,
        )
    if "mapping values are not allowed" in what and not (
        line and _GLUED_KEY.fullmatch(lines[line - 1])
    ):
        key, _, value = here.strip().partition(": ")
        return problem(
            "second-colon",
            "There is a second colon on this line, so it can't be read as one value.",
            f'{key}: "{value}"' if value else "Put quotes around the value.",
            whole=bool(value) and not any(sign in value for sign in '"\\#'),
        )
    if "simple key" in str(getattr(error, "context", "")) and begin:
        return _lone_words(lines[min(begin.line, len(lines) - 1)], opening)
    glued = _GLUED_KEY.fullmatch(lines[line - 1]) if line else None
    if glued is not None and "mapping values" in what:
        return problem(
            "unreadable-yaml",
            "A space is missing behind the colon.",
            f"{glued[1]}: {glued[2]}",
            Place(path, line - 1 + offset, glued.end(1) + 1),
            whole=True,
        )
    if (
        here.strip().startswith(("*", "&", "!", "%", "@", "`", "- *", "- &", "- @", "- `", "- %"))
        or "cannot start any token" in what
    ):
        return problem(
            "strange-start",
            f"A value can't begin with “{here[column : column + 1] or here.strip()[:1]}”.",
            "Put quotes around the whole value.",
        )
    marked = _MARKED_VALUE.fullmatch(here)
    if marked is not None and begin and begin.line == line:
        return problem(
            "strange-start",
            f"A value can't begin with “{marked[2][0]}”.",
            f'{marked[1]}: "{marked[2]}"',
            opening,
            whole=not any(sign in marked[2] for sign in '"\\#'),
        )
    box = _BOX.match(here)
    if box is not None:
        return problem(
            "unreadable-yaml",
            "The box to tick isn't written here: the sheets draw it.",
            f"- {here[box.end() :].strip()}",
            Place(path, line + offset, box.start(1) + 1),
            whole=True,
        )
    apart = _stands_apart(lines, line)
    if apart is not None:
        number, words = apart
        where = Place(path, number + offset, len(lines[number]) - len(lines[number].lstrip()) + 1)
        old = lines[number].rstrip()
        return Problem(
            "unreadable-yaml",
            Level.ERROR,
            where,
            "This doesn't stand exactly below the item above it."
            if number == line and _sort_of(here) == "item"
            else "This doesn't stand exactly as far to the right as the lines beside it.",
            words,
            edits=(Edit(Place(path, where.line, 1), old, words, True),),
        )
    above = _last_item(lines[:line])
    if here.lstrip().startswith("- ") and above not in (None, len(here) - len(here.lstrip())):
        return problem(
            "unreadable-yaml",
            "This doesn't stand exactly below the item above it.",
            " " * (above or 0) + here.strip(),
            whole=True,
        )
    return problem(
        "unreadable-yaml",
        "The layout of this line, or of the one before it, can't be read.",
        "Compare its indentation with the lines above: items of one list stand exactly below "
        "each other, and every key has a colon and a space.",
    )


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
            self.found.append(_too_deep(place))
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
