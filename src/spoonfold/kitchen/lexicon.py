"""The verbs of kitchen English in all their forms, and the small words that stand around them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache

from spoonfold.knowledge.data import data

_VOWELS = "aeiou"


@dataclass(frozen=True, slots=True)
class Verb:
    """Something that a cook does."""

    name: str
    kind: str
    """What it does to food: `cut`, `mix`, `cook`, `rest`, `eat` ..., as the lexicon groups it."""


@dataclass(frozen=True, slots=True)
class SmallWords:
    """Words around a command, by what they tell of it."""

    negations: frozenset[str]
    fillers: frozenset[str]
    """May stand in front of a command: “then”, “always”."""
    no_command: frozenset[str]
    """Where one of these stands first, there is no command: “the”, “in”, “everyone”."""
    determiners: frozenset[str]
    """What a command does something to begins so: “the”, “it”, “each”."""
    states: frozenset[str]
    """Behind a noun: “is”, “should”."""


@dataclass(frozen=True, slots=True)
class Lexicon:
    """What a language's sentences are read by."""

    commands: Mapping[str, Verb]
    """By the form in which a cook is told to do it."""
    forms: Mapping[str, Verb]
    """By any form: `chopped`, `chopping`, `chops`."""
    small: SmallWords


@cache
def english() -> Lexicon:
    """The lexicon that ships."""
    known = data("verbs.json")
    doubled = frozenset(known["doubled"])
    commands: dict[str, Verb] = {}
    forms: dict[str, Verb] = {}
    for kind, names in known["verbs"].items():
        for name in names:
            verb = Verb(name, kind)
            commands[name] = verb
            irregular = known["forms"].get(name, ())
            for form in (name, *_regular(name, name in doubled), *irregular):
                forms.setdefault(form, verb)
    small = known["small words"]
    return Lexicon(
        commands,
        forms,
        SmallWords(
            *(
                frozenset(small[name])
                for name in ("negations", "fillers", "no command", "determiners", "states")
            )
        ),
    )


def _regular(verb: str, doubles: bool) -> Iterator[str]:
    """The forms in -s, -ed and -ing."""
    stem = verb
    if doubles:
        stem = verb + verb[-1]
    elif verb.endswith("e"):
        stem = verb[:-1]
    past = stem
    third = verb + ("es" if verb.endswith(("s", "sh", "ch", "x", "z")) else "s")
    if verb.endswith("y") and verb[-2:-1] not in _VOWELS:
        past, third = verb[:-1] + "i", verb[:-1] + "ies"
    yield third
    yield past + "ed"
    yield stem + "ing"
