"""A saved web page: the data in it, and its words line by line. The standard library's parser."""

from __future__ import annotations

from html.parser import HTMLParser

_JSON_LD = "application/ld+json"
_UNSEEN = frozenset({"script", "style", "template", "noscript", "svg", "nav", "footer"})
BLOCKS = frozenset(
    (
        *("address", "article", "aside", "blockquote", "br", "dd", "div", "dl", "dt", "fieldset"),
        *("figcaption", "figure", "form", "h1", "h2", "h3", "h4", "h5", "h6", "header", "hr", "li"),
        *("main", "ol", "p", "pre", "section", "table", "td", "th", "tr", "ul"),
    )
)
_APART = frozenset(("p", "ol", "ul", "div", "section", "h1", "h2", "h3", "h4", "h5", "h6"))
"""Before and after these a page has an empty line."""


class Page(HTMLParser):
    """Gathers while it is fed; everything after that is read from its attributes."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.data: list[str] = []
        """The text of every JSON-LD script."""
        self.title = ""
        self.address = ""
        self._line: list[str] = []
        self._lines: list[str] = []
        self._in_data = False
        self._in_title = False
        self._unseen: list[str] = []
        self._numbers: list[int | None] = []

    @property
    def text(self) -> str:
        """The page's words; what stands in a block of its own is a line of its own."""
        return "\n".join([*self._lines, " ".join("".join(self._line).split())])

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        values = {name: value or "" for name, value in attrs}
        if tag == "script":
            self._in_data = values.get("type", "").split(";")[0].strip().lower() == _JSON_LD
            if self._in_data:
                self.data.append("")
        elif tag == "title" and not self.title:
            self._in_title = True
        elif tag == "link" and "canonical" in values.get("rel", "").lower().split():
            self.address = self.address or values.get("href", "")
        if tag in _UNSEEN:
            self._unseen.append(tag)
        self._break(tag)
        if tag in ("ol", "ul"):
            self._numbers.append(0 if tag == "ol" else None)
        elif tag == "li" and self._numbers:
            number = self._numbers[-1]
            if number is not None:
                self._numbers[-1] = number + 1
            self._line.append("- " if number is None else f"{number + 1}. ")

    def handle_endtag(self, tag: str) -> None:
        if tag == "script":
            self._in_data = False
        elif tag == "title":
            self._in_title = False
        elif tag in ("ol", "ul") and self._numbers:
            self._numbers.pop()
        if tag in self._unseen:
            # A page may leave its own tags open: whatever stands inside ends with it.
            while self._unseen.pop() != tag:
                pass
        self._break(tag)

    def handle_data(self, data: str) -> None:
        if self._in_data:
            self.data[-1] += data
        elif self._in_title:
            self.title += data
        elif not self._unseen:
            self._line.append(data)

    def _break(self, tag: str) -> None:
        if tag in BLOCKS:
            self._lines.append(" ".join("".join(self._line).split()))
            self._line = []
            if tag in _APART:
                self._lines.append("")


def read_page(text: str) -> Page:
    """A page, however broken."""
    page = Page()
    try:
        page.feed(text)
        page.close()
    except (AssertionError, ValueError, RecursionError):
        # The parser gives up on some marked sections that no browser writes; what was read
        # before them is kept.
        pass
    return page


def words_of(text: str) -> str:
    """The words of a text that may hold tags and character references."""
    if "<" not in text and "&" not in text:
        return text
    return read_page(text).text
