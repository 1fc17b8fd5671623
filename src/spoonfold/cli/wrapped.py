"""Plain sentences on a terminal: wrapped to its width, lines to type or to paste left alone."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING, NoReturn

from spoonfold.cli.common import say, stop, width

if TYPE_CHECKING:
    from spoonfold.author.written import Refused

_NARROWEST = 40


def wrapped(text: str) -> str:
    """Every line wrapped by itself; one that begins with two spaces stays as it is."""
    return "\n".join(
        line
        if line.startswith("  ")
        else textwrap.fill(
            line, max(width(), _NARROWEST), break_long_words=False, break_on_hyphens=False
        )
        for line in text.split("\n")
    )


def tell(*paragraphs: str) -> None:
    """Paragraphs with an empty line between."""
    say("\n\n".join(map(wrapped, paragraphs)))


def refuse(code: int, refused: Refused) -> NoReturn:
    """Ends the command because nothing could be written."""
    stop(code, wrapped(refused.why), wrapped(refused.instead))
