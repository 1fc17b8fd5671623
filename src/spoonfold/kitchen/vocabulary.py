"""Which words of a step nobody knows: a recipe that uses one may say anything there."""

from __future__ import annotations

import re
from collections.abc import Container, Iterator, Sequence
from functools import cache, lru_cache

from spoonfold.kitchen.lexicon import english
from spoonfold.kitchen.nouns import noun_words
from spoonfold.knowledge.data import data
from spoonfold.knowledge.names import singulars

_SAYS_NOTHING = "check"
"""Verbs of this kind don't say what happens to food: give, find, know."""


@cache
def _known() -> frozenset[str]:
    lexicon = english()
    verbs = (form for form, verb in lexicon.forms.items() if verb.kind != _SAYS_NOTHING)
    plain = (word for words in data("plain-words.json")["words"].values() for word in words)
    parts = (part for word in (*verbs, *plain) for part in re.split(r"[-\s]", word))
    return frozenset((*parts, *noun_words(), *lexicon.small.every))


def strange(words: Sequence[str], own: Container[str]) -> Iterator[int]:
    """The positions of all words that stand in no list; `own` holds what foods, the dish and the
    class call things."""
    for at, word in enumerate(words):
        forms = _forms(word)
        if forms and not any(form in own for form in forms):
            yield at


def _positives(word: str) -> tuple[str, ...]:
    """What “heaviest”, “heavier” and “greenest” may be the degrees of."""
    for ending in ("iest", "ier"):
        if word.endswith(ending):
            return (word.removesuffix(ending) + "y",)
    stem = word.removesuffix("est")
    return (stem, stem + "e") if stem != word else ()


@lru_cache(maxsize=1 << 13)
def _forms(word: str) -> tuple[str, ...]:
    """What a word may be a form of; empty: it is known, or says nothing by itself."""
    word = word.removesuffix("'s").removesuffix("'")
    if len(word) < 3 or not word.replace("'", "").isalpha() or word.endswith("ly"):
        return ()
    forms = (word, *singulars(word), *_positives(word))
    return () if any(form in _known() for form in forms) else forms


def says_how_much(word: str) -> bool:
    """Whether it only says how much of something there is: “in plenty of water”."""
    return word in data("plain-words.json")["words"]["how much"]
