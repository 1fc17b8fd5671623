"""How names are compared: of foods, of tools, of everything that an author may write anyhow."""

from __future__ import annotations

import difflib
import re
import unicodedata
from collections.abc import Iterable
from functools import lru_cache

_SPACES = re.compile(r"\s+")


@lru_cache(maxsize=1 << 14)
def fold(name: str) -> str:
    """A name as it is compared: case, spaces and hyphens don't count."""
    return _SPACES.sub(" ", name.casefold().replace("-", " ").replace("’", "'")).strip()


@lru_cache(maxsize=1 << 14)
def bare(words: str) -> str:
    """Words in small letters without accents: ñ is n, and ü is u."""
    folded = words.casefold()
    if folded.isascii():
        return folded
    apart = unicodedata.normalize("NFD", folded)
    return "".join(sign for sign in apart if not unicodedata.combining(sign))


def singulars(name: str) -> Iterable[str]:
    """The name itself, then what it may be the regular plural of."""
    yield name
    if name.endswith("ies") and len(name) > 4:
        yield name[:-3] + "y"
    if name.endswith("ves") and len(name) > 4:
        yield name[:-3] + "f"
    if name.endswith("es") and len(name) > 3:
        yield name[:-2]
    if name.endswith("s") and len(name) > 2 and not name.endswith("ss"):
        yield name[:-1]


_SLIP = 0.8
"""How alike two spellings of a word are at least: a letter in five."""
_JOINED_SLIP = 0.85
"""How alike they are where words stand together in the one and apart in the other."""
_SHORT, _LONG_ENOUGH = 4, 6
"""Letters below which a word is no slip for any other, and from which one wrong letter leaves no
doubt: oat is no goat, and water no wafer."""


def is_slip(written: str, name: str) -> bool:
    """Whether one name is the other with a letter or so wrong in its words, and not another
    name that only looks like it."""
    words, meant = written.split(" "), name.split(" ")
    if len(words) != len(meant):
        return likeness("".join(words), "".join(meant)) >= _JOINED_SLIP
    return all(_is_same_word(*pair) for pair in zip(words, meant, strict=True))


def _is_same_word(word: str, other: str) -> bool:
    if word == other:
        return True
    if min(len(word), len(other)) < _SHORT:
        return False
    if len(word) == len(other) < _LONG_ENOUGH:
        # Two letters the wrong way round are a slip; another letter makes another word.
        return sorted(word) == sorted(other)
    return likeness(word, other) >= _SLIP


def likeness(word: str, other: str) -> float:
    """From 0 to 1, as difflib counts it."""
    return difflib.SequenceMatcher(None, word, other).ratio()
