"""Phrases that tell how warm, how long, how far done or how clean something is."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence, Set
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from operator import contains
from typing import Any
from unicodedata import numeric

from spoonfold.knowledge.dangers import danger_words
from spoonfold.knowledge.data import data

_LOOK_BACK = 4
"""Words in front of a phrase that may deny it: “none of it is pink”."""


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
        self._by_first: dict[str, list[tuple[tuple[frozenset[str], ...], str]]] = defaultdict(list)
        for name, phrases in lists.items():
            for phrase in phrases:
                words = tuple(map(_plurals, phrase.split()))
                for first in words[0]:
                    self._by_first[first].append((words, name))
        for found in self._by_first.values():
            found.sort(key=lambda each: -len(each[0]))
        self._denials = frozenset(tuple(each.split()) for each in denials)
        self._begin = {
            name: frozenset(form for phrase in phrases for form in _plurals(phrase.split()[0]))
            for name, phrases in lists.items()
        }

    def may_say(self, words: Set[str], *names: str) -> bool:
        """False where no word begins a phrase of these lists: most steps need no closer look."""
        return any(not self._begin[name].isdisjoint(words) for name in names)

    def found(self, words: Sequence[str]) -> Mapping[str, tuple[Phrase, ...]]:
        """What stands in the words, by the name of its list."""
        # Most words begin no phrase, and short lists have none of a sentence's.
        if self._by_first.keys().isdisjoint(words):
            return {}
        met: dict[str, list[Phrase]] = defaultdict(list)
        taken = -1
        for at in [at for at, word in enumerate(words) if word in self._by_first]:
            if at < taken:
                continue
            length = 0
            for phrase, name in self._by_first[words[at]]:
                if len(phrase) < length:
                    break
                end = at + len(phrase)
                if all(map(contains, phrase[1:], words[at + 1 : end])) and end <= len(words):
                    length = len(phrase)
                    text = " ".join(words[at:end])
                    met[name].append(Phrase(text, at, length, self._is_denied(words, at)))
            # “pink salt” is seen whole; what begins inside it is no phrase of its own.
            taken = at + length if length > 1 else taken
        return {name: tuple(phrases) for name, phrases in met.items()}

    def _is_denied(self, words: Sequence[str], at: int) -> bool:
        return any(
            tuple(words[begin : begin + length]) in self._denials
            for begin in range(max(0, at - _LOOK_BACK), at)
            for length in range(1, at - begin + 1)
        )


def _plurals(word: str) -> frozenset[str]:
    """A word and what its regular plural may be."""
    ending = [f"{word[:-1]}ies"] if word.endswith("y") else []
    return frozenset((word, f"{word}s", f"{word}es", *ending))


@cache
def _data() -> Mapping[str, Any]:
    known: Mapping[str, Any] = data("wordings.json")
    return known


@cache
def wordings() -> Phrases:
    """Every list of wordings and of dangers that ships, by its name."""
    known = _data()
    lists = {**known["phrases"], "long": tuple(known["minutes"]), **danger_words()}
    return Phrases(lists, known["denied by"])


def longest_said(words: Sequence[str]) -> Fraction | None:
    """The longest time that the words name, in minutes; None where they name none."""
    said = [Fraction(_data()["minutes"][each.words]) for each in _long(words)]
    said.extend(_counted(words))
    return max(said, default=None)


@cache
def _units() -> Mapping[str, Fraction]:
    """The minutes in each unit of time."""
    return {unit: Fraction(minutes) for unit, minutes in _data()["units of time"].items()}


@cache
def _hour_words() -> Mapping[str, frozenset[str]]:
    """What stands around an hour of the day."""
    return {name: frozenset(words) for name, words in _data()["around an hour"].items()}


def _counted(words: Sequence[str]) -> Iterator[Fraction]:
    """Every time with its unit behind it, in minutes."""
    units, shares = _units(), _data()["parts of a time"]
    if units.keys().isdisjoint(words):
        return
    for at, unit in enumerate(words):
        minutes = units.get(unit)
        if minutes is None or not at:
            continue
        before = words[at - 1]
        behind = words[at + 1 : at + 4]
        half = Fraction(1, 2) if behind[:2] == ("a", "half") or behind[1:] == ("a", "half") else 0
        number = number_of(words[at - 2]) if before == "of" and at > 1 else number_of(before)
        if before in ("a", "an"):
            parts = (
                words[at - 3 : at - 1]
                if words[at - 2 : at - 1] == ("of",)
                else words[at - 2 : at - 1]
            )
            number = Fraction(shares.get(parts[0], 1)) if parts else Fraction(1)
        elif before in shares:
            number = Fraction(shares[before])
        if words[at - 2 : at - 1] in (("1",), ("3",)) and before in ("2", "3", "4"):
            # “3 1/2 hours”, without its stroke.
            number = Fraction(int(words[at - 2]), int(before)) + (
                (number_of(words[at - 3]) or 0) if at > 2 else 0
            )
        if number is not None:
            yield (number + half) * minutes


@cache
def _long_times() -> Phrases:
    """The words for long times alone: every action asks for them."""
    return Phrases({"long": tuple(_data()["minutes"])}, ())


def _long(words: Sequence[str]) -> Iterator[Phrase]:
    minutes = _data()["minutes"]
    for each in _long_times().found(words).get("long", ()):
        if each.words in minutes:
            yield each


def number_of(word: str) -> Fraction | None:
    """What a word counts, in figures or written out; None: nothing."""
    if len(word) == 1 and not word.isascii() and word.isnumeric():
        return Fraction(numeric(word)).limit_denominator(8)
    if word.isdigit() and word.isascii():
        return Fraction(int(word))
    known = _data()["numbers"].get(word)
    return None if known is None else Fraction(known)


_HALF_DAY = 12


def span_said(sentences: Iterable[Sequence[str]]) -> Fraction | None:
    """From the first to the last time of day that they name, in minutes; None where they name
    fewer than two. An hour that may be of the morning or of the evening is the next one."""
    hours = [hour for words in sentences for hour in _hours(words)]
    if len(hours) < 2:
        return None
    (first, first_sure), (last, last_sure) = hours[0], hours[-1]
    day = 24 if first_sure and last_sure else _HALF_DAY
    return Fraction(((last - first) % day) * 60)


def _hours(words: Sequence[str]) -> Iterator[tuple[int, bool]]:
    """Each hour, with whether it is sure which half of the day it is in."""
    known, clock = _data()["times of day"], _hour_words()
    for at, word in enumerate(words):
        if word in known:
            yield known[word], True
            continue
        number = number_of(word)
        if number is None or not 1 <= number <= _HALF_DAY:
            continue
        behind = words[at + 1 : at + 4]
        if behind[:1] and behind[0].isdigit() and len(behind[0]) == 2:
            behind = behind[1:]
        if (
            behind[:1]
            and behind[0] in clock["behind"]
            and (behind[0] in ("am", "pm", "o'clock") or behind[1:2] == ("m",))
        ):
            hour = int(number) % _HALF_DAY + (_HALF_DAY if behind[0].startswith("p") else 0)
            yield hour, not behind[0].startswith("o")
        elif (
            at
            and words[at - 1] in clock["in front"]
            and (not behind or behind[0] in clock["goes on"])
            and words[at - 1] != "to"
        ):
            yield int(number) % _HALF_DAY, False
