"""Markdown as prose with places, cut into sections at its `##` headings.

CommonMark alone, raw HTML off. Inline tokens carry no lines, so places are found
again by following the words through the source lines of their block.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from markdown_it import MarkdownIt
from markdown_it.token import Token

from spoonfold.model.prose import (
    Block,
    Emphasis,
    Heading,
    Inline,
    Link,
    Listing,
    Paragraph,
    Picture,
    Prose,
    Quote,
    Text,
)
from spoonfold.problem import Level, Place, Problem
from spoonfold.read.nodes import shorten
from spoonfold.read.shape import Found, add

_HTML = re.compile(r"</?[A-Za-z][A-Za-z0-9-]*(?:\s[^<>]*)?/?>|<!--")
_UNREAD_LINK = re.compile(r"\]\(\s*[#<\w]")
_SCHEMES = ("https://", "http://", "mailto:", "tel:")


@lru_cache(maxsize=1)
def _parser() -> MarkdownIt:
    return MarkdownIt("commonmark", {"html": False})


@dataclass(slots=True)
class Item:
    """One item of a list: its blocks, and the raw text of each line of its nested bullets."""

    blocks: list[Block]
    place: Place
    notes: list[Note] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Note:
    """One nested bullet as raw text."""

    text: str
    place: Place


@dataclass(slots=True)
class Section:
    """What stands under one `##` heading; the first one, without a heading, is the headnote."""

    title: str
    place: Place
    blocks: list[Block] = field(default_factory=list)
    numbered: list[tuple[str | None, Item]] = field(default_factory=list)
    """Numbered items with the `###` heading above them; only where `steps` was asked for."""
    loose: list[Place] = field(default_factory=list)
    """Blocks between the numbered items."""


@dataclass(frozen=True, slots=True)
class _Text:
    """The source lines that a token's `map` counts in."""

    path: str
    lines: Sequence[str]
    first_line: int

    def place(self, line: int, column: int = 0) -> Place:
        return Place(self.path, line + self.first_line, column)


def read_sections(
    body: str, path: str, first_line: int, found: Found, steps_in: str | int | None = None
) -> list[Section]:
    """The body's sections. `steps_in` says whose numbered lists are read as steps:
    the section of that title (any case), or that number counted from the first `##` as 0."""
    text = _Text(path, body.split("\n"), first_line)
    tokens = _parser().parse(body)
    sections = [Section("", text.place(0))]
    group: str | None = None
    stepping = False
    index = 0
    while index < len(tokens):
        token = tokens[index]
        end = _end_of(tokens, index)
        if token.type == "heading_open":
            inline = tokens[index + 1]
            title = " ".join(inline.content.split())
            place = text.place(token.map[0] if token.map else 0, 1)
            if token.tag == "h2":
                sections.append(Section(title, place))
                group = None
                number = len(sections) - 2
                stepping = steps_in == number or (
                    isinstance(steps_in, str) and title.casefold() == steps_in
                )
            elif token.tag == "h3" and stepping:
                group = title
            else:
                if token.tag == "h1":
                    add(found, "heading-level", place,
                        "A heading with one # is the title, which stands in the header already.",
                        f"## {title}")
                children = _inline_tree(inline, text, found)
                sections[-1].blocks.append(Heading(children))
        elif token.type == "ordered_list_open" and stepping:
            for item in _items(tokens, index, end, text, found):
                sections[-1].numbered.append((group, item))
        else:
            blocks = _blocks(tokens[index:end], text, found)
            if stepping and blocks:
                sections[-1].loose.append(text.place(token.map[0] if token.map else 0, 1))
            sections[-1].blocks.extend(blocks)
        index = end
    return sections


def read_prose(body: str, path: str, first_line: int, found: Found) -> Prose:
    """A whole body as prose, its headings kept."""
    text = _Text(path, body.split("\n"), first_line)
    return tuple(_blocks(_parser().parse(body), text, found))


def _end_of(tokens: Sequence[Token], start: int) -> int:
    """The index after the block that opens at `start`."""
    depth = 0
    for index in range(start, len(tokens)):
        depth += tokens[index].nesting
        if depth <= 0:
            return index + 1
    return len(tokens)


def _blocks(tokens: Sequence[Token], text: _Text, found: Found) -> list[Block]:
    blocks: list[Block] = []
    index = 0
    while index < len(tokens):
        token = tokens[index]
        end = _end_of(tokens, index)
        match token.type:
            case "paragraph_open":
                blocks.append(Paragraph(_inline_tree(tokens[index + 1], text, found)))
            case "heading_open":
                blocks.append(Heading(_inline_tree(tokens[index + 1], text, found)))
            case "bullet_list_open" | "ordered_list_open":
                items = tuple(
                    tuple(_blocks(tokens[start + 1 : stop - 1], text, found))
                    for start, stop in _children(tokens, index, end)
                )
                blocks.append(Listing(items, token.type.startswith("ordered")))
            case "blockquote_open":
                blocks.append(Quote(tuple(_blocks(tokens[index + 1 : end - 1], text, found))))
            case "code_block" | "fence":
                place = text.place(token.map[0] if token.map else 0, 1)
                found.append(Problem(
                    "set-as-code", Level.WARNING, place,
                    "Four spaces (or three backquotes) make this a block of code.",
                    "Begin the lines at the left edge.",
                ))
                words = Text(" ".join(token.content.split()), place)
                blocks.append(Paragraph((words,)))
            case _:
                pass
        index = end
    return blocks


def _children(tokens: Sequence[Token], start: int, end: int) -> Iterator[tuple[int, int]]:
    """Start and end of each item of the list that opens at `start`."""
    index = start + 1
    while index < end - 1:
        stop = _end_of(tokens, index)
        yield index, stop
        index = stop


def _items(
    tokens: Sequence[Token], start: int, end: int, text: _Text, found: Found
) -> Iterator[Item]:
    for first, stop in _children(tokens, start, end):
        opening = tokens[first]
        item = Item([], text.place(opening.map[0] if opening.map else 0, 1))
        index = first + 1
        while index < stop - 1:
            last = _end_of(tokens, index)
            if tokens[index].type == "bullet_list_open":
                for one, two in _children(tokens, index, last):
                    item.notes.extend(_note(tokens[one:two], text))
            else:
                item.blocks.extend(_blocks(tokens[index:last], text, found))
            index = last
        yield item


def _note(tokens: Sequence[Token], text: _Text) -> Iterator[Note]:
    for token in tokens:
        if token.type == "inline" and token.map:
            line = token.map[0]
            content = token.content.replace("\n", " ")
            column = text.lines[line].find(token.content.split("\n")[0]) if line < len(
                text.lines) else -1
            yield Note(content, text.place(line, column + 1))


class _Cursor:
    """Follows a block's words through its source lines."""

    def __init__(self, token: Token, text: _Text) -> None:
        self.text = text
        self.line = token.map[0] if token.map else 0
        self.column = 0

    def next_line(self) -> None:
        self.line += 1
        self.column = 0

    def find(self, words: str) -> Place:
        """The place of words on this line, and the cursor after them."""
        if self.line >= len(self.text.lines):
            return self.text.place(self.line)
        at = self.text.lines[self.line].find(words, self.column) if words else -1
        if at < 0:
            return self.text.place(self.line, self.column + 1 if self.column else 0)
        self.column = at + len(words)
        return self.text.place(self.line, at + 1)


def _inline_tree(token: Token, text: _Text, found: Found) -> tuple[Inline, ...]:
    cursor = _Cursor(token, text)
    stack: list[tuple[Token | None, Place, list[Inline]]] = [(None, text.place(0), [])]
    for child in token.children or ():
        here = stack[-1][2]
        match child.type:
            case "text" | "code_inline" | "text_special":
                if child.content:
                    here.append(Text(child.content, cursor.find(child.content)))
            case "softbreak" | "hardbreak":
                place = cursor.find("")
                cursor.next_line()
                here.append(Text(" ", place))
            case "em_open" | "strong_open":
                stack.append((child, cursor.find(""), []))
            case "link_open":
                stack.append((child, cursor.find("["), []))
            case "em_close" | "strong_close":
                opened, _, children = stack.pop()
                strong = opened is not None and opened.type == "strong_open"
                stack[-1][2].append(Emphasis(tuple(children), strong))
            case "link_close":
                opened, place, children = stack.pop()
                address = str(opened.attrs.get("href", "")) if opened else ""
                title = str(opened.attrs.get("title", "")) if opened else ""
                cursor.find("](")
                cursor.find(")")
                link = _link(tuple(children), address, title, place, found)
                stack[-1][2].extend(link)
            case "image":
                place = cursor.find("![")
                cursor.find(")")
                here.append(Picture(str(child.attrs.get("src", "")), child.content, place))
            case _:
                pass
    joined = _joined(stack[0][2])
    _check_text(joined, found)
    return joined


def _link(
    children: tuple[Inline, ...], address: str, title: str, place: Place, found: Found
) -> tuple[Inline, ...]:
    if address.startswith("#") or address.lower().startswith(_SCHEMES):
        return (Link(children, address, title, place),)
    add(found, "link-to-file", place,
        f"“{shorten(address)}” is neither a web address nor an ingredient; on paper, and in "
        "another folder, it would lead nowhere.",
        "Write a whole address that begins with https://, or #name-of-the-ingredient.")
    return children


def _joined(children: list[Inline]) -> tuple[Inline, ...]:
    """Neighbouring texts as one; the first one's place stands for both."""
    joined: list[Inline] = []
    for child in children:
        last = joined[-1] if joined else None
        if isinstance(child, Text) and isinstance(last, Text):
            joined[-1] = Text(last.text + child.text, last.place)
        else:
            joined.append(child)
    return tuple(joined)


def _check_text(children: tuple[Inline, ...], found: Found) -> None:
    for child in children:
        if isinstance(child, (Emphasis, Link)):
            _check_text(child.children, found)
        if not isinstance(child, Text):
            continue
        if _UNREAD_LINK.search(child.text):
            add(found, "link-not-read", child.place,
                "A link here could not be read as one and would be printed with its brackets.",
                'Write it as [the words](#the-ingredient "1/2"), without spaces in the address; '
                "script addresses are refused.")
        if _HTML.search(child.text):
            add(found, "raw-html", child.place,
                "HTML isn't read here; these letters would be printed as they stand.",
                "Use *stars* for stress, or write the words alone.")
