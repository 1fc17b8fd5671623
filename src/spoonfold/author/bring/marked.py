"""Data that a page carries in the attributes of its tags, as the values that JSON-LD would hold.

Published sources: Microdata (HTML Living Standard, chapter 5: itemscope, itemtype, itemprop) and
RDFa Lite 1.1 (W3C Recommendation: typeof, property). Both with the vocabulary of schema.org.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from spoonfold.author.bring.page import BLOCKS, read_aloud

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


class _Marked:
    def __init__(self) -> None:
        self.items: list[dict[str, Any]] = []
        """Every thing that isn't part of another."""
        self._open: list[_Open] = []
        self._unseen = 0

    def start(self, tag: str, attributes: Mapping[str, str]) -> None:
        """Opens what it describes."""
        self._break(tag)
        kind = attributes.get("itemtype") or attributes.get("typeof") or ""
        thing = bool(kind) or "itemscope" in attributes
        self._open.append(
            _Open(
                tag,
                (attributes.get("itemprop") or attributes.get("property") or "").split(),
                {"@type": kind.split()} if thing else None,
                attributes.get("content", attributes.get(_VALUES.get(tag, ""))),
            )
        )
        self._unseen += tag in _UNSEEN

    def end(self, tag: str) -> None:
        """Gives the value to the thing around it."""
        closed = self._open.pop()
        self._unseen -= tag in _UNSEEN
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
        self._break(tag)

    def words(self, text: str) -> None:
        """Words of every value around them."""
        if not self._unseen:
            self._say(" ".join(f"x{text}x".split())[1:-1])

    def _break(self, tag: str) -> None:
        if tag in BLOCKS:
            self._say("\n")

    def _say(self, text: str) -> None:
        for each in self._open:
            if each.names:
                each.text.append(text)


def marked_items(text: str) -> list[dict[str, Any]]:
    """Every thing that a page describes in its attributes, however broken the page."""
    marked = _Marked()
    read_aloud(text, marked)
    return marked.items
