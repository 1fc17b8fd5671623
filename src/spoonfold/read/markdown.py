"""Markdown as prose with places, cut into sections at its `##` headings.

CommonMark alone, raw HTML off.

The inside of one block: words, stress, links and pictures, each with its place.

Inline tokens carry no lines, so places are found again by following the words through
the source lines of their block."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import groupby
from typing import Any
from urllib.parse import unquote

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

# Tags, also one that a star inside has cut in two; comments, declarations, instructions.
_HTML = re.compile(r"</?[A-Za-z][A-Za-z0-9-]*(?:(?:\s[^<>]*)?/?>|\s+[A-Za-z-]+=)|<[!?](?=\S)")
_UNREAD_LINK = re.compile(r"\]\(\s*[#<\w]")
_CURLY_TITLE = re.compile(r"\]\((#[\w-]+) ?[“”„‟]([^“”„‟()]*)[“”]\)")
_SCHEMES = ("https://", "http://", "mailto:", "tel:")
_DEEPEST = 8
"""Stress inside stress: nobody hears the ninth."""


@dataclass(frozen=True, slots=True)
class Lines:
    """The source lines that a token's `map` counts in."""

    path: str
    lines: Sequence[str]
    first_line: int
    inlines: Callable[[str], Sequence[Token]]
    """Reads the inlines of one block."""

    def place(self, line: int, column: int = 0) -> Place:
        return Place(self.path, line + self.first_line, column)


class _Cursor:
    """Follows a block's words through its source lines."""

    def __init__(self, token: Token, text: Lines) -> None:
        self.text = text
        self.line, self.end = token.map or (0, 0)
        self.column = 0
        self.lost = False

    def next_line(self) -> None:
        self.line += 1
        self.column = 0

    def find_code(self, words: str) -> Place:
        """The place of a run of code, which may have begun on this line and ended on another."""
        if self.line < len(self.text.lines) and words in self.text.lines[self.line][self.column :]:
            return self.find(words)
        self.lost = True
        return self.text.place(self.line)

    def catch_up(self, words: str) -> None:
        """Goes on to the line that has the words, after code that ended nobody knows where."""
        for line in range(self.line, min(self.end, len(self.text.lines))):
            if words in self.text.lines[line][self.column if line == self.line else 0 :]:
                self.column = self.column if line == self.line else 0
                self.line, self.lost = line, False
                return

    def find(self, words: str) -> Place:
        """The place of words on this line, and the cursor after them."""
        if self.lost and words:
            self.catch_up(words)
        if self.lost or self.line >= len(self.text.lines):
            return self.text.place(self.line)
        at = self.text.lines[self.line].find(words, self.column) if words else -1
        if at < 0:
            return self.text.place(self.line, self.column + 1 if self.column else 0)
        self.column = at + len(words)
        return self.text.place(self.line, at + 1)


def inline_tree(token: Token, text: Lines, found: Found) -> tuple[Inline, ...]:
    """The inlines of one block's token."""
    cursor = _Cursor(token, text)
    stack: list[tuple[Token | None, Place, list[Inline]]] = [(None, text.place(0), [])]
    for child in text.inlines(token.content):
        here = stack[-1][2]
        match child.type:
            case "code_inline":
                here.append(Text(child.content, cursor.find_code(child.content)))
            case "text" | "text_special":
                if child.content:
                    here.append(Text(child.content, cursor.find(child.content)))
            case "softbreak" | "hardbreak":
                place = cursor.find("")
                cursor.next_line()
                here.append(Text(" ", place))
            case "em_open" | "strong_open":
                stack.append((child, cursor.find(""), here if len(stack) > _DEEPEST else []))
            case "link_open":
                stack.append((child, cursor.find("["), []))
            case "em_close" | "strong_close":
                opened, _, children = stack.pop()
                strong = opened is not None and opened.type == "strong_open"
                if children is not stack[-1][2]:
                    stack[-1][2].append(Emphasis(_joined(children), strong))
            case "link_close":
                opened, place, children = stack.pop()
                # The parser wrote letters beyond ASCII as addresses have them.
                address = unquote(str(opened.attrs.get("href", ""))) if opened else ""
                title = str(opened.attrs.get("title", "")) if opened else ""
                cursor.find("](")
                cursor.find(")")
                link = _link(_joined(children), address, title, place, found)
                stack[-1][2].extend(link)
            case "image":
                place = cursor.find("![")
                cursor.find(")")
                # The parser wrote spaces and letters beyond ASCII as addresses have them.
                path = unquote(str(child.attrs.get("src", "")))
                here.append(Picture(path, _words(child), place))
            case _:
                pass
    joined = _joined(stack[0][2])
    _check_text(joined, found)
    return joined


def _words(image: Token) -> str:
    """What a picture shows, without its stress."""
    return "".join(
        " "
        if child.type in ("softbreak", "hardbreak")
        else _words(child)
        if child.type == "image"
        else child.content
        for child in image.children or ()
    )


def _link(
    children: tuple[Inline, ...], address: str, title: str, place: Place, found: Found
) -> tuple[Inline, ...]:
    if address.startswith("#") or address.lower().startswith(_SCHEMES):
        return (Link(children, address, title, place),)
    add(
        found,
        "link-to-file",
        place,
        f"“{shorten(address)}” is neither a web address nor an ingredient; on paper, and in "
        "another folder, it would lead nowhere.",
        "Write a whole address that begins with https://, or #name-of-the-ingredient.",
    )
    return children


def _joined(children: list[Inline]) -> tuple[Inline, ...]:
    """Neighbouring texts of one source line as one, at the place of the first."""
    joined: list[Inline] = []
    for line, run in groupby(children, key=_line_of):
        if line is None:
            joined.extend(run)
        else:
            same = [child for child in run if isinstance(child, Text)]
            joined.append(Text("".join(each.text for each in same), same[0].place))
    return tuple(joined)


def _line_of(child: Inline) -> tuple[int, bool] | None:
    """The line of a text, and whether its column is known."""
    return (child.place.line, child.place.column > 0) if isinstance(child, Text) else None


def _check_text(children: tuple[Inline, ...], found: Found) -> None:
    for child in children:
        if isinstance(child, (Emphasis, Link)):
            _check_text(child.children, found)
    for is_text, run in groupby(children, key=lambda child: isinstance(child, Text)):
        if is_text:
            _check_run([child for child in run if isinstance(child, Text)], found)


def _check_run(texts: Sequence[Text], found: Found) -> None:
    """Texts of neighbouring lines together: a link may have been broken between them."""
    joined = "".join(text.text for text in texts)
    link = _UNREAD_LINK.search(joined)
    if link is not None:
        curly = _CURLY_TITLE.search(joined)
        if curly is not None:
            add(
                found,
                "link-not-read",
                _place_in(texts, curly.start()),
                "The quotation marks in this link are curly, so it isn't read as one.",
                f'({curly[1]} "{curly[2]}")',
            )
            return
        add(
            found,
            "link-not-read",
            _place_in(texts, link.start()),
            "A link here could not be read as one and would be printed with its brackets.",
            'Write it as [the words](#the-ingredient "1/2"), without spaces in the address; '
            "script addresses are refused.",
        )
    html = _HTML.search(joined)
    if html is not None:
        add(
            found,
            "raw-html",
            _place_in(texts, html.start()),
            "HTML isn't read here; these letters would be printed as they stand.",
            "Use *stars* for stress, or write the words alone.",
        )


def _place_in(texts: Sequence[Text], at: int) -> Place:
    """Where the character at this offset of all the texts together was written."""
    for text in texts:
        if at < len(text.text):
            place = text.place
            return Place(place.path, place.line, place.column + at if place.column else 0)
        at -= len(text.text)
    return texts[-1].place


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
