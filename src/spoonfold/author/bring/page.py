"""A saved web page: the data in it, and its words line by line. libxml2 makes a tree of any page
in time proportional to it, however broken the page is."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Protocol

from lxml import etree, html

_JSON_LD = "application/ld+json"
_UNSEEN = frozenset({"script", "style", "template", "noscript", "svg", "nav", "footer"})
BLOCKS = frozenset(
    (
        *("address", "article", "aside", "blockquote", "br", "dd", "div", "dl", "dt", "fieldset"),
        *("figcaption", "figure", "form", "h1", "h2", "h3", "h4", "h5", "h6", "header", "hr", "li"),
        *("main", "ol", "p", "pre", "section", "table", "tr", "ul"),
    )
)
_APART = frozenset(("p", "ol", "ul", "div", "section", "h1", "h2", "h3", "h4", "h5", "h6", "table"))
"""Before and after these a page has an empty line."""
_CELLS = frozenset(("td", "th"))
_SPACES = re.compile(r"\s+")


class Reader(Protocol):
    """What is told of a page, in its order."""

    def start(self, tag: str, attributes: Mapping[str, str]) -> None:
        """A tag that opens."""

    def end(self, tag: str) -> None:
        """The same tag, closed: by the page, or by what HTML says of it."""

    def words(self, text: str) -> None:
        """Words in the innermost open tag."""


def read_aloud(text: str, reader: Reader) -> None:
    """Tells a reader everything that stands in a page."""
    for event, element in _events(text):
        # A comment, or an instruction that isn't for us.
        is_tag = isinstance(element.tag, str)
        if event == "start" and is_tag:
            reader.start(element.tag, {str(name): value for name, value in element.items()})
            reader.words(element.text or "")
        elif event != "start":
            if is_tag:
                reader.end(element.tag)
            reader.words(element.tail or "")


def _events(text: str) -> Iterator[tuple[str, html.HtmlElement]]:
    # As bytes: of a text that names another encoding than its own lxml would say that it can't be.
    raw = text.encode("utf-8", "replace")
    parser = html.HTMLParser(encoding="utf-8", no_network=True)
    try:
        tree = html.document_fromstring(raw, parser=parser)
    except etree.LxmlError:
        # Nothing is in it but white space and comments.
        return
    yield from etree.iterwalk(tree, events=("start", "end", "comment", "pi"))


@dataclass(slots=True)
class Page:
    """Gathers what is told of a page."""

    data: list[str] = field(default_factory=list)
    """The text of every JSON-LD script."""
    title: str = ""
    address: str = ""
    _line: list[str] = field(default_factory=list)
    _lines: list[str] = field(default_factory=list)
    _open: list[str] = field(default_factory=list)
    _unseen: int = 0
    _is_data: bool = False
    _numbers: list[int | None] = field(default_factory=list)

    @property
    def text(self) -> str:
        """The page's words; what stands in a block of its own is a line of its own, the cells of a
        table's row stand on one with tabs between them."""
        return "\n".join([*self._lines, self._closed_line()])

    def start(self, tag: str, attributes: Mapping[str, str]) -> None:
        """Opens a line, a list or a script."""
        self._open.append(tag)
        self._unseen += tag in _UNSEEN
        kind = attributes.get("type", "").split(";")[0].strip().lower()
        self._is_data = tag == "script" and kind == _JSON_LD
        if self._is_data:
            self.data.append("")
        if tag == "link" and "canonical" in attributes.get("rel", "").lower().split():
            self.address = self.address or attributes.get("href", "")
        self._break(tag)
        if tag in ("ol", "ul"):
            self._numbers.append(0 if tag == "ol" else None)
        elif tag == "li" and self._numbers:
            number = self._numbers[-1]
            if number is not None:
                self._numbers[-1] = number + 1
            self._line.append("- " if number is None else f"{number + 1}. ")

    def end(self, tag: str) -> None:
        """Closes it."""
        self._open.pop()
        self._unseen -= tag in _UNSEEN
        self._is_data = False
        if tag in ("ol", "ul"):
            self._numbers.pop()
        elif tag in _CELLS:
            self._line.append("\t")
        self._break(tag)

    def words(self, text: str) -> None:
        """Adds to the line, the title or the data."""
        if self._is_data:
            self.data[-1] += text
        elif self._open and self._open[-1] == "title" and self._unseen == 0:
            self.title = self.title or text
        elif self._unseen == 0:
            self._line.append(text)

    def _break(self, tag: str) -> None:
        if tag in BLOCKS:
            self._lines.append(self._closed_line())
            self._line = []
            if tag in _APART:
                self._lines.append("")

    def _closed_line(self) -> str:
        # The tabs between cells are ours: those of the page are white space like any other.
        cells = "".join(each if each == "\t" else _SPACES.sub(" ", each) for each in self._line)
        return "\t".join(" ".join(each.split()) for each in cells.split("\t")).strip()


def read_page(text: str) -> Page:
    """A page, however broken."""
    page = Page()
    read_aloud(text, page)
    return page


def words_of(text: str) -> str:
    """The words of a text that may hold tags and character references."""
    if "<" not in text and "&" not in text:
        return text
    return read_page(text).text
