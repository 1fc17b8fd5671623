"""Whether a text says a child's name."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence

_SHORTEST = 2
"""A single letter names nobody, and stands in any text."""


def said_names(text: str, names: Sequence[str]) -> tuple[str, ...]:
    """The names that stand in a text as words of their own, spelt as listed or in capitals.

    The first capital counts: `Rose` is a child, the rose that somebody brought isn't.
    """
    text = unicodedata.normalize("NFC", text)
    return tuple(name for name in names if len(name) >= _SHORTEST and _says(text, name))


def _says(text: str, name: str) -> bool:
    name = unicodedata.normalize("NFC", name)
    spelt = "|".join(re.escape(each) for each in (name, name.upper()))
    return re.search(rf"(?<!\w)(?:{spelt})(?!\w)", text) is not None


def says_name(text: str, names: Sequence[str]) -> bool:
    """Whether any name is said."""
    return bool(said_names(text, names))
