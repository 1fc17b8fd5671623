"""Data that a page carries in the attributes of its tags, as the values that JSON-LD would hold.

Published sources: Microdata (HTML Living Standard, chapter 5: itemscope, itemtype, itemprop) and
RDFa Lite 1.1 (W3C Recommendation: typeof, property). Both with the vocabulary of schema.org.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from html.parser import HTMLParser
from typing import Any

from spoonfold.author.bring.page import BLOCKS

_VOID = frozenset(
    (
        "area",
        "base",
        "br",
        "col",
        "embed",
        "hr",
        "img",
        "input",
        "link",
        "meta",
        "source",
        "track",
        "wbr",
    )
)
_CLOSED_BY_NEXT = frozenset(("li", "p", "dt", "dd", "tr", "td", "th", "option"))
_UNSEEN = frozenset(("script", "style", "template"))
# Where a tag says its value in an attribute instead of its words.
_VALUES = {
    "a": "href",
    "area": "href",
    "link": "href",
    "img": "src",
    "time": "datetime",
    "data": "value",
}
_DEEPEST = 100
"""Tags inside tags; a recipe's own part of a page has a dozen."""


@dataclass(slots=True)
class _Open:
    """A tag that is open."""

    tag: str
    names: list[str] = field(default_factory=list)
    """The properties whose value it is."""
    item: dict[str, Any] | None = None
    """The thing that it describes, if it describes one."""
    said: str | None = None
    """A value that stands in an attribute."""
    text: list[str] = field(default_factory=list)


class _Marked(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.items: list[dict[str, Any]] = []
        self._open: list[_Open] = []
        self._unseen = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._break(tag)
        if tag in _CLOSED_BY_NEXT and self._open and self._open[-1].tag == tag:
            self._close(self._open.pop())
        values = {name: value or "" for name, value in attrs}
        kind = values.get("itemtype") or values.get("typeof") or ""
        thing = bool(kind) or "itemscope" in values
        opened = _Open(
            tag,
            (values.get("itemprop") or values.get("property") or "").split(),
            {"@type": kind.split()} if thing else None,
            values.get("content", values.get(_VALUES.get(tag, ""))),
        )
        if tag in _VOID:
            self._close(opened)
        elif len(self._open) < _DEEPEST:
            self._open.append(opened)
        self._unseen = self._unseen or tag in _UNSEEN

    def handle_endtag(self, tag: str) -> None:
        self._unseen = self._unseen and tag not in _UNSEEN
        if any(each.tag == tag for each in self._open):
            while True:
                last = self._open.pop()
                self._close(last)
                if last.tag == tag:
                    break
        self._break(tag)

    def handle_data(self, data: str) -> None:
        if not self._unseen:
            self._say(" ".join(f"x{data}x".split())[1:-1])

    def finish(self) -> list[dict[str, Any]]:
        """Every thing that isn't part of another."""
        while self._open:
            self._close(self._open.pop())
        return self.items

    def _break(self, tag: str) -> None:
        if tag in BLOCKS:
            self._say("\n")

    def _say(self, text: str) -> None:
        for each in self._open:
            if each.names:
                each.text.append(text)

    def _close(self, closed: _Open) -> None:
        value = (
            closed.item
            if closed.item is not None
            else (closed.said if closed.said is not None else "".join(closed.text).strip())
        )
        inside = next((each.item for each in reversed(self._open) if each.item is not None), None)
        if closed.item is not None and (inside is None or not closed.names):
            self.items.append(closed.item)
        if closed.item is not None and len(closed.item) == 1:
            # A thing of which nothing is said but its words: an author's name, a step.
            closed.item["name"] = "".join(closed.text).strip()
        if inside is not None:
            for name in closed.names:
                inside.setdefault(name, []).append(value)


def marked_items(text: str) -> list[dict[str, Any]]:
    """Every thing that a page describes in its attributes, however broken the page."""
    parser = _Marked()
    try:
        parser.feed(text)
        parser.close()
    except (AssertionError, ValueError, RecursionError):
        pass
    return parser.finish()
