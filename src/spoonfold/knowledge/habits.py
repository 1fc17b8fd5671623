"""Habits that cut, burn or choke in any dish: which words of one sentence tell of each."""

from __future__ import annotations

from collections.abc import Iterable, Sequence, Set
from dataclasses import dataclass
from functools import cache

from spoonfold.knowledge.data import data


class Said:
    """Words and phrases of which one must stand in a sentence."""

    def __init__(self, phrases: Iterable[str]) -> None:
        self._by_first: dict[str, list[tuple[str, ...]]] = {}
        for phrase in phrases:
            words = tuple(phrase.split())
            self._by_first.setdefault(words[0], []).append(words)

    @property
    def firsts(self) -> Set[str]:
        """Every word that begins one of them."""
        return self._by_first.keys()

    def at(self, words: Sequence[str]) -> int | None:
        """Where the first of them begins; None: none stands there."""
        found = self.found(words)
        return None if found is None else found[0]

    def found(self, words: Sequence[str]) -> tuple[int, str] | None:
        """The same, with the words themselves."""
        if self._by_first.keys().isdisjoint(words):
            return None
        for at, word in enumerate(words):
            for phrase in self._by_first.get(word, ()):
                if len(phrase) == 1 or tuple(words[at : at + len(phrase)]) == phrase:
                    return at, " ".join(phrase)
        return None


@dataclass(frozen=True, slots=True)
class Habit:
    """One of them: refused where a sentence has a word of each group and none of the others."""

    code: str
    groups: tuple[Said, ...]
    dish: Said | None
    """Of these, one stands anywhere in the steps."""
    unless: Said
    """With one of these, the sentence means something else, or says what makes it safe."""
    across: bool
    """What one sentence begins, the next may end: both are read as one."""
    say: str
    write: str

    def met(self, sentence: Sequence[str]) -> int | None:
        """Which word begins what the last group asks for; None: it is no such habit."""
        at = None
        for group in self.groups:
            at = group.at(sentence)
            if at is None:
                return None
        return at if self.unless.at(sentence) is None else None


@cache
def habits_of(code: str) -> tuple[Habit, ...]:
    """Every habit that is told under a code."""
    return tuple(each for each in habits() if each.code == code)


@cache
def habits() -> tuple[Habit, ...]:
    """Every habit that is known."""
    known = data("habits.json")
    denied = known["denied by"]
    return tuple(
        Habit(
            row["code"],
            tuple(map(Said, row["sentence"])),
            Said(row["dish"]) if "dish" in row else None,
            # In some, “don't” is the danger itself: “don't wait until the pressure has gone”.
            Said([*row.get("unless", ()), *(denied if row.get("denied", True) else ())]),
            row.get("across", False),
            row["say"],
            row["write"],
        )
        for row in known["rows"]
    )


@cache
def denials() -> frozenset[str]:
    """Words by which a sentence forbids what it speaks of."""
    return frozenset(each for each in data("habits.json")["denied by"] if " " not in each)
