"""The header of a Markdown file, split off by hand.

By hand, because a header that is never closed must be a problem with a line, not a heading.
"""

from __future__ import annotations

from dataclasses import dataclass

from spoonfold.problem import Place
from spoonfold.read.files import Source
from spoonfold.read.nodes import Mapping, Node, node_from_yaml
from spoonfold.read.record import entries_of
from spoonfold.read.shape import Found, add

FENCE = "---"


@dataclass(frozen=True, slots=True)
class Split:
    """A file in its two halves."""

    header: Mapping
    body: str
    body_line: int
    """The line of the file on which the body begins, from 1."""


def header_nodes(source: Source) -> tuple[Node, int] | None:
    """The keys and values of a file, of YAML or of the header of a Markdown one, and the line on
    which they end; None where they can't be read."""
    lines = source.text.split("\n")
    first, last = 1, len(lines)
    if source.path.endswith(".md"):
        if lines[0].rstrip() != FENCE:
            return None
        closing = (n for n, line in enumerate(lines[1:], 2) if line.rstrip() == FENCE)
        first, last = 2, next(closing, 0) - 1
    text = "\n".join(lines[first - 1 : last])
    node = node_from_yaml(text, source.path, [], first_line=first) if last > 0 else None
    return None if node is None else (node, last)


def split_header(source: Source, found: Found) -> Split | None:
    """Header and body, or None after adding why they can't be told apart."""
    top = Place(source.path, 1)
    if not source.text.strip():
        add(
            found,
            "empty-file",
            Place(source.path),
            "This file is empty.",
            "Write a header between two lines of three hyphens, or remove the file.",
        )
        return None
    lines = source.text.split("\n")
    if lines[0].rstrip() != FENCE:
        add(
            found,
            "no-header",
            top,
            "The header is missing: the first line must be three hyphens and nothing else.",
            FENCE,
        )
        return None
    closing = next((n for n, line in enumerate(lines[1:], 1) if line.rstrip() == FENCE), None)
    if closing is None:
        add(
            found,
            "unclosed-header",
            top,
            "The header that begins here is never closed, so nothing after it can be read.",
            "Write a line of three hyphens after the last key, before the first paragraph.",
        )
        return None
    node = node_from_yaml("\n".join(lines[1:closing]), source.path, found, first_line=2)
    if node is None:
        if not found or found[-1].place.path != source.path:
            add(found, "empty-header", top, "The header is empty.", "title: …")
        return None
    header = entries_of(node, found)
    if header is None:
        return None
    header.place = top
    return Split(header, "\n".join(lines[closing + 1 :]), closing + 2)
