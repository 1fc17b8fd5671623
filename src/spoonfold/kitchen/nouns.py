"""The nouns of a kitchen: tools, places, what was made on the way, pieces, parts of things."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cache

from spoonfold.knowledge.data import data
from spoonfold.knowledge.equipment import all_tools


class Sort(StrEnum):
    """What a noun is; where it is several, the one that stands first here."""

    HOT = "hot place"
    """Somebody cooks there; its name says on what heat."""
    COLD = "cold place"
    TOOL = "tool"
    """Of the list of equipment, vessels included."""
    WARM = "warm place"
    """Neither hot nor cold."""
    PLACE = "place"
    MIX = "mix"
    """Made on the way: dough, sauce."""
    PIECE = "piece"
    """A food, cut or shaped: slices, patties, the rest."""
    LEVEL = "level"
    """How hot: medium."""
    PART = "part"
    """Of a thing, or whatever else stands in a kitchen sentence: the middle, a minute."""


@dataclass(frozen=True, slots=True)
class Noun:
    """One of them, as it is called."""

    sort: Sort
    name: str
    """A tool by its name in the list of equipment, a hot place by its heat, others as said."""


_Entry = tuple[tuple[str, ...], Noun]


@cache
def _index() -> Mapping[str, Sequence[_Entry]]:
    """By the first word: every phrase with the noun that it is, the longest first."""
    found: dict[tuple[str, ...], Noun] = {}
    for noun, called in _nouns():
        words = called.casefold().replace("-", " ").split()
        for last in _plurals(words[-1]):
            found.setdefault((*words[:-1], last), noun)
    index: dict[str, list[_Entry]] = defaultdict(list)
    for words_, noun in found.items():
        index[words_[0]].append((words_, noun))
    for entries in index.values():
        entries.sort(key=lambda each: -len(each[0]))
    return index


def _nouns() -> Iterator[tuple[Noun, str]]:
    known = data("nouns.json")
    for heat, names in known["hot places"]["words"].items():
        for name in names:
            yield Noun(Sort.HOT, heat), name
    for name in known["places"]["cold"]["words"]:
        yield Noun(Sort.COLD, name), name
    others = frozenset(known["not tools"]["words"])
    for tool in all_tools():
        for name in (tool.name, *tool.names.get("en", ())):
            if name not in others:
                yield Noun(Sort.TOOL, tool.name), name
    for sort, names in (
        (Sort.WARM, known["places"]["warm"]["words"]),
        (Sort.PLACE, known["places"]["none"]["words"]),
        (Sort.MIX, known["mixes"]["words"]),
        (Sort.PIECE, known["pieces"]["words"]),
        (Sort.LEVEL, known["levels"]["words"]),
        (Sort.PART, known["parts"]["words"]),
    ):
        for name in names:
            yield Noun(sort, name), name


def _plurals(word: str) -> tuple[str, ...]:
    if word.endswith("y") and word[-2:-1] not in "aeiou":
        return word, word[:-1] + "ies"
    if word.endswith(("s", "x", "ch", "sh")):
        return word, word + "es"
    if word.endswith(("fe", "lf", "af")):
        return word, word.removesuffix("e")[:-1] + "ves"
    return word, word + "s", *((word + "es",) if word.endswith("o") else ())


def noun_at(words: Sequence[str], at: int) -> tuple[Noun, int] | None:
    """The noun whose name begins at a word, with how many words the name has."""
    for phrase, noun in _index().get(words[at], ()):
        length = len(phrase)
        if length == 1 or tuple(words[at : at + length]) == phrase:
            return noun, length
    return None


@cache
def noun_words() -> frozenset[str]:
    """Every word in the name of a noun."""
    found = (word for entries in _index().values() for phrase, _ in entries for word in phrase)
    return frozenset(found) | waste() | derived()


@cache
def _list(name: str) -> frozenset[str]:
    return frozenset(form for word in data("nouns.json")[name]["words"] for form in _plurals(word))


def waste() -> frozenset[str]:
    """What is taken off a food and thrown away: shells, peel."""
    return _list("waste")


def derived() -> frozenset[str]:
    """What is made of a food and isn't meant by its name: of the chicken, the broth."""
    return _list("derived")
