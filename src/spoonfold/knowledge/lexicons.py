"""The words of other languages than English, by what English says of them."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

from spoonfold.knowledge.data import data

READ = "en"
"""The language that every rule is written in."""


@cache
def languages_read() -> frozenset[str]:
    """The languages whose steps are understood."""
    folder = files("spoonfold") / "knowledge" / "lexicon"
    names = (each.name for each in folder.iterdir())
    return frozenset({READ} | {name[:-5] for name in names if name.endswith(".json")})


def is_read(language: str) -> bool:
    """Whether the words of steps in that language are understood; a BCP 47 tag."""
    return language.split("-")[0] in languages_read()


@cache
def lexicon_of(language: str) -> Mapping[str, Any]:
    """The lexicon of a language that is read by way of English, by the name of each part.

    Raises FileNotFoundError where there is none: who asks has asked `is_read`.
    """
    known: Mapping[str, Any] = data(f"lexicon/{language}.json")
    return known
