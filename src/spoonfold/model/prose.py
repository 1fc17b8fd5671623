"""Prose as a small tree: text, emphasis, links, pictures, lists. Never HTML.

Readers make it, pages show it; nothing between them needs to know how it was written.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from spoonfold.problem import Place


@dataclass(frozen=True, slots=True)
class Text:
    """A run of plain text on one source line."""

    text: str
    place: Place


@dataclass(frozen=True, slots=True)
class Emphasis:
    """Stressed words."""

    children: tuple[Inline, ...]
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Link:
    """A link out of the page, or to an ingredient of the recipe (`#olive-oil`)."""

    children: tuple[Inline, ...]
    address: str
    title: str
    place: Place


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture in the class folder and what it shows, in words."""

    path: str
    """As the author wrote it: relative to the file that it stands in."""
    alt: str
    place: Place


@dataclass(frozen=True, slots=True)
class Explained:
    """A taught word where it stands in a text, and which word's explanation it leads to."""

    children: tuple[Inline, ...]
    term: str
    """Its name in the class's list: `simmer`, where the text says `simmering`, in any language."""


Inline = Text | Emphasis | Link | Picture | Explained


@dataclass(frozen=True, slots=True)
class Paragraph:
    """One paragraph."""

    children: tuple[Inline, ...]


@dataclass(frozen=True, slots=True)
class Listing:
    """A list, each item a run of blocks."""

    items: tuple[tuple[Block, ...], ...]
    ordered: bool = False


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading inside a section; the pages decide its level."""

    children: tuple[Inline, ...]


@dataclass(frozen=True, slots=True)
class Quote:
    """Somebody's words."""

    blocks: tuple[Block, ...]


Block = Paragraph | Listing | Heading | Quote
Prose = tuple[Block, ...]


def leaves(children: tuple[Inline, ...]) -> Iterator[Text | Link | Picture]:
    """Texts, links and pictures in reading order; a link counts as one leaf."""
    for child in children:
        if isinstance(child, Emphasis | Explained):
            yield from leaves(child.children)
        else:
            yield child


def inlines(prose: Prose) -> Iterator[Inline]:
    """Every top inline of a prose, in reading order."""
    for block in prose:
        match block:
            case Paragraph(children) | Heading(children):
                yield from children
            case Listing(items):
                for item in items:
                    yield from inlines(item)
            case Quote(blocks):
                yield from inlines(blocks)


def plain(children: tuple[Inline, ...]) -> str:
    """The words alone."""
    parts = []
    for child in children:
        match child:
            case Text(text):
                parts.append(text)
            case Emphasis(inner) | Link(inner) | Explained(inner):
                parts.append(plain(inner))
            case Picture(_, alt):
                parts.append(alt)
    return "".join(parts)


def plain_prose(prose: Prose) -> str:
    """The words of a prose, a space between blocks."""
    parts: list[str] = []
    for block in prose:
        match block:
            case Paragraph(children) | Heading(children):
                parts.append(plain(children))
            case Listing(items):
                parts.extend(plain_prose(item) for item in items)
            case Quote(blocks):
                parts.append(plain_prose(blocks))
    return " ".join(parts)
