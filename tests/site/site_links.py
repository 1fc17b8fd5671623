"""Reading a page as a browser would, by the standard library's parser alone."""

from __future__ import annotations

from dataclasses import dataclass, field
from html.parser import HTMLParser
from pathlib import Path

_ADDRESSES = frozenset({"href", "src"})


@dataclass
class Page(HTMLParser):
    """What a page points at and what can be pointed at in it."""

    links: list[str] = field(default_factory=list)
    ids: list[str] = field(default_factory=list)
    headings: list[int] = field(default_factory=list)
    attributes: list[tuple[str, str]] = field(default_factory=list)
    empty: list[str] = field(default_factory=list)
    """Elements for text that have none."""
    words: list[str] = field(default_factory=list)
    _open: list[tuple[str, bool]] = field(default_factory=list)

    def __post_init__(self) -> None:
        super().__init__(convert_charrefs=True)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        for name, value in attrs:
            self.attributes.append((tag, name))
            if name in _ADDRESSES and value is not None:
                self.links.append(value)
            if name == "id" and value is not None:
                self.ids.append(value)
        if len(tag) == 2 and tag[0] == "h" and tag[1].isdigit():
            self.headings.append(int(tag[1]))
        self._open = [(each, full or tag in ("svg", "img", "input")) for each, full in self._open]
        self._open.append((tag, False))

    def handle_endtag(self, tag: str) -> None:
        while self._open:
            name, full = self._open.pop()
            if name == tag:
                if tag in ("span", "p", "li", "dd", "dt", "b", "i", "td") and not full:
                    self.empty.append(tag)
                return

    def handle_data(self, data: str) -> None:
        if data.strip():
            self.words.append(data)
            self._open = [(name, True) for name, _ in self._open]


def read_page(path: Path) -> Page:
    page = Page()
    page.feed(path.read_text(encoding="utf-8"))
    page.close()
    return page
