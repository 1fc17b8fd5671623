"""Phrases that tell how warm, how long, how far done or how clean something is."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import Any

from spoonfold.knowledge.data import data
from spoonfold.knowledge.names import singulars

_LOOK_BACK = 3
"""Words in front of a phrase that may deny it: “no longer a bit pink”."""
_HOURS = frozenset({"hour", "hours", "hr", "hrs"})
_DAYS = frozenset({"day", "days"})
_MINUTES = frozenset({"minute", "minutes", "min", "mins"})


@dataclass(frozen=True, slots=True)
class Phrase:
    """Some words of a sentence that stand in one of the lists."""

    words: str
    at: int
    """Its first word's position among the words of the sentence."""
    length: int
    denied: bool


class Phrases:
    """Lists of phrases, found in words: the longest first, each word in one phrase only."""

    def __init__(self, lists: Mapping[str, Iterable[str]], denials: Iterable[str]) -> None:
        self._by_first: dict[str, list[tuple[tuple[str, ...], str]]] = defaultdict(list)
        for name, phrases in lists.items():
            for phrase in phrases:
                words = tuple(phrase.split())
                self._by_first[words[0]].append((words, name))
        self._denials = [tuple(each.split()) for each in denials]

    def found(self, words: Sequence[str]) -> Mapping[str, tuple[Phrase, ...]]:
        """What stands in the words, by the name of its list."""
        met: dict[str, list[Phrase]] = defaultdict(list)
        taken = -1
        for at, word in enumerate(words):
            if at < taken:
                continue
            longest = 0
            for name, length in self._at(words, at, word):
                longest = max(longest, length)
                text = " ".join(words[at : at + length])
                met[name].append(Phrase(text, at, length, self._is_denied(words, at)))
            # “pink salt” is seen whole; what begins inside it is no phrase of its own.
            taken = max(taken, at + longest if longest > 1 else taken)
        return {name: tuple(phrases) for name, phrases in met.items()}

    def _at(self, words: Sequence[str], at: int, word: str) -> Iterator[tuple[str, int]]:
        """The lists that have the longest phrase beginning here."""
        fits = [
            (len(phrase), name)
            for form in dict.fromkeys(singulars(word))
            for phrase, name in self._by_first.get(form, ())
            if _same(phrase, words[at : at + len(phrase)])
        ]
        most = max((length for length, _ in fits), default=0)
        yield from dict.fromkeys((name, length) for length, name in fits if length == most)

    def _is_denied(self, words: Sequence[str], at: int) -> bool:
        before = tuple(words[max(0, at - _LOOK_BACK) : at])
        return any(
            before[i : i + len(denial)] == denial
            for denial in self._denials
            for i in range(len(before))
        )


def _same(phrase: Sequence[str], words: Sequence[str]) -> bool:
    return len(words) == len(phrase) and all(
        word == wanted or wanted in singulars(word)
        for wanted, word in zip(phrase, words, strict=True)
    )


@cache
def _data() -> Mapping[str, Any]:
    known: Mapping[str, Any] = data("wordings.json")
    return known


@cache
def wordings() -> Phrases:
    """Every list of wordings that ships, by its name."""
    known = _data()
    return Phrases({**known["phrases"], "long": tuple(known["minutes"])}, known["denied by"])


def longest_said(words: Sequence[str]) -> Fraction | None:
    """The longest time that the words name, in minutes; None where they name none."""
    said = [Fraction(_data()["minutes"][each.words]) for each in _long(words)]
    said += [
        number * (60 if unit in _HOURS else 1440 if unit in _DAYS else 1)
        for number, unit in zip(map(_number, words), words[1:], strict=False)
        if number is not None and unit in _HOURS | _DAYS | _MINUTES
    ]
    return max(said, default=None)


def _long(words: Sequence[str]) -> Iterator[Phrase]:
    minutes = _data()["minutes"]
    for each in wordings().found(words).get("long", ()):
        if each.words in minutes:
            yield each


def _number(word: str) -> Fraction | None:
    if word.isdigit() and word.isascii():
        return Fraction(int(word))
    known = _data()["numbers"].get(word)
    return None if known is None else Fraction(known)
