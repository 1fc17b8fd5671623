"""Markdown as prose with places, cut into sections at its `##` headings.

CommonMark alone, raw HTML off.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

from markdown_it import MarkdownIt
from markdown_it.token import Token

from spoonfold.model.prose import Block, Heading, Listing, Paragraph, Prose, Quote, Text
from spoonfold.problem import Level, Place, Problem
from spoonfold.read.inline import Lines, inline_tree
from spoonfold.read.shape import Found, add

_RARE_SIGNS = ("```", "~~~", ">", "]:")
"""Of fences, quotes and references."""
_RARE_END = re.compile(r"[-=*_][ \t]*(?:[\r\n]|\Z)")
"""How a line of a rule ends, and one under a heading. Few others do."""
_INLINE_SIGNS = re.compile(r"[\n\\`*_\[<&]")
"""What begins an inline other than plain text. Nine of ten blocks of a recipe have none of it."""
_RARE_BLOCKS = ("fence", "blockquote", "hr", "reference", "lheading")


@lru_cache(maxsize=2)
def _parser(rare: bool) -> MarkdownIt:
    """CommonMark's blocks, the rare ones only where a text has a sign of any: every line of every
    list is asked for each of them, which takes a third of the time. Inlines are read when they
    are asked for: most blocks of a recipe are the notes of its steps, which have none."""
    parser = MarkdownIt("commonmark", {"html": False})
    parser.core.ruler.disable(["inline", "text_join"])
    # With HTML off these two find nothing, and are asked at every line.
    parser.disable(["html_block", "html_inline"])
    return parser if rare else parser.disable(list(_RARE_BLOCKS))


@dataclass(frozen=True, slots=True)
class _Tokens:
    """The parser's tokens, and for each the index after the block that opens there."""

    each: Sequence[Token]
    ends: Sequence[int]


def _parsed(body: str, path: str, first_line: int) -> tuple[_Tokens, Lines]:
    """The blocks, and the lines that they stand on."""
    parser = _parser(
        _RARE_END.search(body) is not None or any(sign in body for sign in _RARE_SIGNS)
    )
    # Link references are found among the blocks and used by the inlines.
    found: dict[str, Any] = {}
    tokens = parser.parse(body, found)

    def inlines(words: str) -> Sequence[Token]:
        if words and not _INLINE_SIGNS.search(words):
            return [Token("text", "", 0, content=words)]
        children: list[Token] = []
        parser.inline.parse(words, parser, found, children)
        return children

    return _Tokens(tokens, _ends(tokens)), Lines(path, body.split("\n"), first_line, inlines)


@dataclass(slots=True)
class Item:
    """One item of a list: its blocks, and the raw text of each line of its nested bullets."""

    blocks: list[Block]
    place: Place
    number: int
    """As typed."""
    notes: list[Note] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Note:
    """One nested bullet as raw text, with its line ends."""

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
    bullets: list[Place] = field(default_factory=list)
    """Bulleted lists between the numbered items: notes that stand too far to the left."""


def read_sections(
    body: str, path: str, first_line: int, found: Found, steps_in: str | int | None = None
) -> list[Section]:
    """The body's sections. `steps_in` says whose numbered lists are read as steps:
    the section of that title (any case), or that number counted from the first `##` as 0."""
    tokens, text = _parsed(body, path, first_line)
    sections = [Section("", text.place(0))]
    group: str | None = None
    stepping = False
    index = 0
    while index < len(tokens.each):
        token = tokens.each[index]
        end = tokens.ends[index]
        if token.type == "heading_open":
            inline = tokens.each[index + 1]
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
                    add(
                        found,
                        "heading-level",
                        place,
                        "A heading with one # is the title, which stands in the header already.",
                        f"Remove this line, or write `## {title}` where a section begins here.",
                    )
                children = inline_tree(inline, text, found)
                sections[-1].blocks.append(Heading(children))
        elif token.type == "ordered_list_open" and stepping:
            for item in _items(tokens, index, text, found):
                sections[-1].numbered.append((group, item))
        else:
            # Between steps a block is a problem already, whatever it is made of.
            blocks = _blocks(tokens, index, end, text, [] if stepping else found)
            if stepping and blocks:
                bullets = token.type == "bullet_list_open"
                stray = sections[-1].bullets if bullets else sections[-1].loose
                stray.append(text.place(token.map[0] if token.map else 0, 1))
            sections[-1].blocks.extend(blocks)
        index = end
    return sections


def read_prose(body: str, path: str, first_line: int, found: Found) -> Prose:
    """A whole body as prose, its headings kept."""
    tokens, text = _parsed(body, path, first_line)
    return tuple(_blocks(tokens, 0, len(tokens.each), text, found))


def _ends(tokens: Sequence[Token]) -> list[int]:
    """For each token the index after the block that opens there."""
    ends = list(range(1, len(tokens) + 1))
    open_at: list[int] = []
    for index, token in enumerate(tokens):
        if token.nesting > 0:
            open_at.append(index)
        elif token.nesting < 0:
            ends[open_at.pop()] = index + 1
    return ends


def _blocks(tokens: _Tokens, start: int, stop: int, text: Lines, found: Found) -> list[Block]:
    blocks: list[Block] = []
    index = start
    while index < stop:
        token = tokens.each[index]
        end = tokens.ends[index]
        match token.type:
            case "paragraph_open":
                blocks.append(Paragraph(inline_tree(tokens.each[index + 1], text, found)))
            case "heading_open":
                blocks.append(Heading(inline_tree(tokens.each[index + 1], text, found)))
            case "bullet_list_open" | "ordered_list_open":
                items = tuple(
                    tuple(_blocks(tokens, first + 1, last - 1, text, found))
                    for first, last in _children(tokens, index)
                )
                blocks.append(Listing(items, token.type.startswith("ordered")))
            case "blockquote_open":
                blocks.append(Quote(tuple(_blocks(tokens, index + 1, end - 1, text, found))))
            case "code_block" | "fence":
                place = _start(token, text)
                found.append(
                    Problem(
                        "set-as-code",
                        Level.WARNING,
                        place,
                        "Four spaces (or three backquotes) make this a block of code.",
                        "Begin the lines at the left edge.",
                    )
                )
                words = Text(" ".join(token.content.split()), place)
                blocks.append(Paragraph((words,)))
            case _:
                pass
        index = end
    return blocks


def _children(tokens: _Tokens, start: int) -> Iterator[tuple[int, int]]:
    """Start and end of each item of the list that opens at `start`."""
    index = start + 1
    while index < tokens.ends[start] - 1:
        stop = tokens.ends[index]
        yield index, stop
        index = stop


def _items(tokens: _Tokens, start: int, text: Lines, found: Found) -> Iterator[Item]:
    for first, stop in _children(tokens, start):
        opening = tokens.each[first]
        number = int(opening.info) if opening.info.isdecimal() else 0
        item = Item([], text.place(opening.map[0] if opening.map else 0, 1), number)
        index = first + 1
        while index < stop - 1:
            last = tokens.ends[index]
            if tokens.each[index].type == "bullet_list_open":
                item.notes.extend(
                    _note(token, token.map[0], text)
                    for token in tokens.each[index:last]
                    if token.type == "inline" and token.map
                )
            elif tokens.each[index].type in ("code_block", "fence"):
                add(
                    found,
                    "strange-step",
                    _start(tokens.each[index], text),
                    "This stands so far to the right that it is read as a block of code.",
                    "Begin the words of a step three spaces in, and its notes four.",
                )
            else:
                item.blocks.extend(_blocks(tokens, index, last, text, found))
            index = last
        yield item


def _start(token: Token, text: Lines) -> Place:
    return text.place(token.map[0] if token.map else 0, 1)


def _note(token: Token, line: int, text: Lines) -> Note:
    words = token.content
    first = words.split("\n", 1)[0] if "\n" in words else words
    column = text.lines[line].find(first) if line < len(text.lines) else -1
    return Note(words, text.place(line, column + 1))
