"""The terminal: how wide it is, and whether it shows colours."""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Callable, Mapping
from functools import partial

import click

NARROWEST, WIDEST = 40, 100
PIPED = 80
"""Columns where nobody watches, so that the same text comes out everywhere."""

_LOOKS: Mapping[str, Callable[[str], str]] = {
    "error": partial(click.style, fg="red", bold=True),
    "warning": partial(click.style, fg="yellow", bold=True),
    "hint": partial(click.style, fg="cyan", bold=True),
    "file": partial(click.style, bold=True),
    "beside": partial(click.style, dim=True),
    "mend": partial(click.style, fg="green", bold=True),
}


def width() -> int:
    """Columns to fill."""
    if not sys.stdout.isatty():
        return PIPED
    return max(NARROWEST, min(shutil.get_terminal_size((PIPED, 24)).columns, WIDEST))


def has_colours() -> bool:
    """Whether colours may be printed: on a terminal that has them, unless `NO_COLOR` is set to
    anything (an open convention, no-color.org)."""
    return (
        sys.stdout.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"
    )


def coloured(text: str, role: str) -> str:
    """The text as its role looks: a level, `file`, `beside` or `mend`."""
    return _LOOKS[role](text)
