"""The inside of one block: words, stress, links and pictures, each with its place.

Inline tokens carry no lines, so places are found again by following the words through
the source lines of their block.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import groupby
from urllib.parse import unquote

from markdown_it.token import Token

from spoonfold.model.prose import Emphasis, Inline, Link, Picture, Text
from spoonfold.problem import Place
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
                address = str(opened.attrs.get("href", "")) if opened else ""
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
