"""The words by which a step says that something boils, is cut or is carried."""

from __future__ import annotations

from functools import cache

from spoonfold.knowledge.data import data


@cache
def _lists() -> dict[str, frozenset[str]]:
    return {name: frozenset(words) for name, words in data("step-words.json")["words"].items()}


def step_words(*names: str) -> frozenset[str]:
    """The words of one list of `step-words.json`, or of several together.

    Raises KeyError where there is no such list: what asks names its list.
    """
    return frozenset().union(*(_lists()[name] for name in names))
