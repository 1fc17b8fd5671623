"""The table of sheets: every part of a build, in the order in which a class needs them.

A part is a module or a folder of this room with the same name (`lesson-card` is `lesson_card`),
which holds its row as `PART`. Nothing is imported until a row is asked for, so that a command
can name the parts and start at once.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from spoonfold.sheets.sheet import Part

SITE = "site"

NAMES = (
    SITE,
    "booklet",
    "large-print",
    "card",
    "mini-book",
    "notice",
    "brief",
    "shopping",
    "prep",
    "lesson-card",
    "jobs",
    "table-cards",
    "story-card",
    "word-cards",
    "worksheet",
    "packet",
    "home-labels",
    "safety",
    "season",
    "colours",
    "changed",
    "print-pack",
)
"""What `--only` may name. In this order the sheets of one moment lie in the print pack."""


@cache
def parts() -> Mapping[str, Part]:
    """The row of each part, by its name."""
    return {name: import_module(f"{__name__}.{name.replace('-', '_')}").PART for name in NAMES}
