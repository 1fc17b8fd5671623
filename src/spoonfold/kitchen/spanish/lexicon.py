"""The Spanish lexicon that ships, and the forms of the English words that it leads to."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from spoonfold.kitchen import lexicon as kitchen
from spoonfold.kitchen.spanish.english import Sort
from spoonfold.kitchen.spanish.forms import Form, adjective_forms, plurals, verb_forms
from spoonfold.knowledge.data import data
from spoonfold.knowledge.equipment import all_tools
from spoonfold.knowledge.lexicons import lexicon_of
from spoonfold.knowledge.names import bare


@dataclass(frozen=True)
class Lexicon:
    """What Spanish is read by; phrases by their words, without accents."""

    phrases: Mapping[tuple[str, ...], tuple[Sort, str]]
    verbs: Mapping[str, Sequence[tuple[str, Form]]]
    nouns: Mapping[str, str]
    adjectives: Mapping[str, str]
    small: Mapping[str, str]
    idioms: Mapping[tuple[str, ...], Sequence[tuple[str, Form]]]
    """Behind the first word, a form of a verb: what the whole means."""
    beside: Mapping[str, Mapping[str, frozenset[str]]]
    """What a verb means where one of these words stands in its clause, without accents."""
    in_tail: Mapping[str, str]
    """What a verb means behind “hasta que” and the like."""
    first: frozenset[str] = field(init=False)
    """The first words of all phrases."""
    second: frozenset[str] = field(init=False)
    """The second words of all idioms."""

    def __post_init__(self) -> None:
        object.__setattr__(self, "first", frozenset(words[0] for words in self.phrases))
        object.__setattr__(self, "second", frozenset(words[1] for words in self.idioms))


@cache
def spanish() -> Lexicon:
    """The lexicon that ships, with the names of all tools."""
    known = lexicon_of("es")
    phrases: dict[tuple[str, ...], tuple[Sort, str]] = {}
    nouns: dict[str, str] = {}
    small: dict[str, str] = {}

    def put(sort: Sort, said: str, words: str) -> None:
        split = tuple(bare(words).split())
        if len(split) > 1:
            phrases.setdefault(split, (sort, said))
        elif sort in (Sort.NOUN, Sort.FOOD):
            nouns.setdefault(split[0], said)
        else:
            small.setdefault(split[0], said)

    for said, each in known["phrases"].items():
        for words in each:
            split = tuple(bare(words).split())
            phrases.setdefault(split, (Sort.PHRASE, said))
    for said, each in known["auxiliaries"].items():
        for words in each:
            phrases.setdefault(tuple(bare(words).split()), (Sort.MODAL, said))
    for said, each in known["people"].items():
        for words in each:
            head, *rest = bare(words).split()
            for form in plurals(head):
                phrases.setdefault((form, *rest), (Sort.PERSON, said))
    for said, each in known["small"].items():
        for words in each:
            put(Sort.SMALL, said, words)
            # De el and a el are one word.
            if words.endswith((" de", " a")):
                put(Sort.SMALL, f"{said} the", f"{words}l")
    for said, each in known["nouns"].items():
        for words in each:
            head, *rest = bare(words).split()
            for form in plurals(head):
                many = form != head
                put(Sort.NOUN, _plural(said) if many else said, " ".join((form, *rest)))
    for tool in all_tools():
        for name in tool.names.get("es", ()):
            head, *rest = bare(name).split()
            for form in plurals(head) if rest else ():
                put(Sort.NOUN, tool.name, " ".join((form, *rest)))
    adjectives = {
        form: said
        for said, each in known["adjectives"].items()
        for word in each
        for form in adjective_forms(bare(word))
    }
    verbs = _verbs(known, known["verbs"])
    idioms: dict[tuple[str, ...], list[tuple[str, Form]]] = {}
    for said, each in known["idioms"].items():
        for words in each:
            infinitive, *rest = bare(words).split()
            for form, told in _forms_of(known, infinitive):
                idioms.setdefault((form, *rest), []).append((said, told))
    return Lexicon(
        phrases,
        verbs,
        nouns,
        adjectives,
        small,
        idioms,
        {
            verb: {said: frozenset(words) for said, words in cases.items()}
            for verb, cases in known["beside"].items()
        },
        known["in a tail"],
    )


def _forms_of(known: Mapping[str, Any], infinitive: str) -> Iterator[tuple[str, Form]]:
    change = next((each for each, words in known["changes"].items() if infinitive in words), "")
    return verb_forms(infinitive, change, known["irregular"].get(infinitive, {}))


def _verbs(
    known: Mapping[str, Any], verbs: Mapping[str, Sequence[str]]
) -> Mapping[str, Sequence[tuple[str, Form]]]:
    found: dict[str, list[tuple[str, Form]]] = {}
    for said, infinitives in verbs.items():
        for infinitive in infinitives:
            if " " not in infinitive:
                for form, told in _forms_of(known, infinitive):
                    found.setdefault(form, []).append((said, told))
    return found


_SAME_FOR_MANY = frozenset(
    {
        "scissors",
        "spaghetti",
        "spinach",
        "shrimp",
        "salmon",
        "fish",
        "bread",
        "rice",
        "meat",
        "beef",
        "pork",
        "tongs",
        "garlic",
        "water",
        "heat",
        "seafood",
        "broccoli",
        "yogurt",
        "lettuce",
        "celery",
        "corn",
        "milk",
        "sugar",
        "salt",
        "oil",
        "basil",
        "cabbage",
        "people",
        "jam",
    }
)


def _plural(noun: str) -> str:
    last = noun.rsplit(" ", 1)[-1]
    if last in _SAME_FOR_MANY:
        return noun
    if last.endswith("y") and last[-2:-1] not in "aeiou":
        return noun[:-1] + "ies"
    if last.endswith("fe") or last in ("half", "leaf", "loaf"):
        return noun.removesuffix("e")[:-1] + "ves"
    return noun + ("es" if last.endswith(("s", "x", "ch", "sh", "tomato", "potato")) else "s")


@cache
def _irregular() -> Mapping[str, Sequence[str]]:
    forms: Mapping[str, Sequence[str]] = data("verbs.json")["forms"]
    return forms


@cache
def _doubled() -> frozenset[str]:
    return frozenset(data("verbs.json")["doubled"])


def inflected(verb: str, ending: str) -> str:
    """An English verb in -s, -ed or -ing."""
    head, _, rest = verb.partition(" ")
    known = _irregular().get(head, ())
    if ending == "ed" and known:
        made = next((each for each in known if each.endswith("n")), known[0])
    elif verb == "be":
        made = {"s": "is", "ed": "been", "ing": "being"}[ending]
    elif ending == "s":
        made = head + ("es" if head.endswith(("s", "sh", "ch", "x", "z", "go", "do")) else "s")
        if head.endswith("y") and head[-2:-1] not in "aeiou":
            made = head[:-1] + "ies"
    elif ending == "ed" and head.endswith("y") and head[-2:-1] not in "aeiou":
        made = head[:-1] + "ied"
    else:
        stem = head + head[-1] if head in _doubled() else head.removesuffix("e")
        made = stem + ending
        if (
            made not in kitchen.english().forms
            and head + head[-1] + ending in kitchen.english().forms
        ):
            made = head + head[-1] + ending
    return f"{made} {rest}" if rest else made
