"""The verbs of kitchen English in all their forms, and the small words that stand around them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields
from fractions import Fraction
from functools import cache
from typing import Any

from spoonfold.knowledge.data import data

_VOWELS = "aeiou"


@dataclass(frozen=True, slots=True)
class Implied:
    """What goes with a verb though nobody says it."""

    tools: tuple[str, ...] = ()
    """By their names in the list of equipment."""
    heat: str = ""
    """`stove`, `oven`, `griddle`, `grill`, or the appliance by its name; empty: nothing heats."""
    vessel: str = ""
    """Where no word names one."""


@dataclass(frozen=True, slots=True)
class Case:
    """Words beside a verb, or in the name of its food, with which other things go with it."""

    words: frozenset[str]
    phrases: tuple[str, ...]
    """Of several words."""
    implied: Implied


@dataclass(frozen=True, slots=True)
class Verb:
    """Something that a cook does."""

    name: str
    kind: str
    """What it does to food: `cut`, `mix`, `cook`, `rest`, `eat` ..., as the lexicon groups it."""
    implied: Implied = Implied()
    passive: bool = False
    """It goes on without anybody's hands."""
    minutes: tuple[Fraction, Fraction] | None = None
    """Once, and for each piece; a rough guess. None: nobody knows."""
    unless: tuple[Case, ...] = ()


@dataclass(frozen=True, slots=True)
class Phrasal:
    """Words behind a verb that make another one of it: set ... aside."""

    behind: tuple[str, ...]
    means: Verb


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
    subordinate: frozenset[str]
    """What begins so says when or which, and tells nobody to do it: “when”, “once”, “which”."""
    persons: frozenset[str]
    """Who does something: “everyone”, “an adult”."""
    modals: frozenset[str]
    """Between a person and what they do: “may”, “should”."""
    cut_off: frozenset[str]
    """From here on a clause says how far, when or why: “until”, “before”, “so”."""
    set_states: frozenset[str]
    """Verbs that say behind “until” how something has become: hot and set."""
    passives: frozenset[str]
    """In front of what is done to something: “is”, “be”."""
    prepositions: frozenset[str]
    placing: frozenset[str]
    """In front of what something is put in, on or near."""
    means: frozenset[str]
    """In front of a tool, or of what something is taken out of."""
    pronouns: frozenset[str]
    joins: frozenset[str]
    """Between two things that are alike: “and”, “or”."""
    clean: frozenset[str]
    """In front of a tool that nothing was on: “clean”, “another”."""
    same: frozenset[str]
    """In front of one that was used: “same”, “dirty”."""
    units: frozenset[str]
    """Behind a number, and no thing: “o'clock”, “degrees”."""

    @property
    def every(self) -> frozenset[str]:
        """All of them."""
        return frozenset().union(*(getattr(self, each.name) for each in fields(self)))


@dataclass(frozen=True, slots=True)
class Lexicon:
    """What a language's sentences are read by."""

    commands: Mapping[str, Verb]
    """By the form in which a cook is told to do it."""
    forms: Mapping[str, Verb]
    """By any form: `chopped`, `chopping`, `chops`."""
    small: SmallWords
    phrasal: Mapping[str, tuple[Phrasal, ...]]
    """By the name of the verb in front."""
    passing_on: frozenset[str]
    """Verbs behind which the one stands that is meant: let it cool."""
    passed_kinds: frozenset[str]
    """The kinds of verbs that are meant so."""
    groups: Mapping[str, frozenset[str]]
    """Verbs and nouns that are alike in something, by what the lexicon calls that."""
    hidden_behind: Mapping[str, tuple[tuple[str, ...], ...]]
    """What stands behind one of these isn't there: “instead of”, “away from”; by the first
    word."""


@cache
def english() -> Lexicon:
    """The lexicon that ships."""
    known = data("verbs.json")
    doubled = frozenset(known["doubled"])
    rows = {name: row for row in known["implies"]["rows"] for name in row["verbs"]}
    commands: dict[str, Verb] = {}
    forms: dict[str, Verb] = {}
    for kind, names in known["verbs"].items():
        for name in names:
            verb = _verb(name, kind, rows.get(name, {}))
            commands[name] = verb
            irregular = known["forms"].get(name, ())
            for form in (name, *_regular(name, name in doubled), *irregular):
                forms.setdefault(form, verb)
    small = known["small words"]
    phrasal: dict[str, list[Phrasal]] = defaultdict(list)
    for row in known["phrasal"]["rows"]:
        for behind in row["with"]:
            phrasal[row["verb"]].append(Phrasal(tuple(behind.split()), commands[row["as"]]))
    passing = known["passing on"]
    hidden: dict[str, list[tuple[str, ...]]] = defaultdict(list)
    for each in small["hidden behind"]:
        hidden[each.split()[0]].append(tuple(each.split()))
    return Lexicon(
        commands,
        forms,
        SmallWords(
            *(
                frozenset(small[name])
                for name in (
                    *("negations", "fillers", "no command", "determiners", "states"),
                    *("subordinate", "persons", "modals", "cut off", "set states", "passives"),
                    *("prepositions", "placing", "means", "pronouns", "joins", "clean", "same"),
                    "units",
                )
            )
        ),
        {name: tuple(each) for name, each in phrasal.items()},
        frozenset(passing["verbs"]),
        frozenset(passing["kinds"]),
        {name: frozenset(group["words"]) for name, group in known["groups"].items()},
        {name: tuple(each) for name, each in hidden.items()},
    )


def _verb(name: str, kind: str, row: Mapping[str, Any]) -> Verb:
    minutes = row.get("minutes")
    return Verb(
        name,
        kind,
        _implied(row),
        row.get("passive", False),
        (Fraction(minutes[0]), Fraction(minutes[1])) if minutes else None,
        tuple(
            Case(
                frozenset(word for word in case["words"] if " " not in word),
                tuple(word for word in case["words"] if " " in word),
                _implied({**_vessel(row, case), **case}),
            )
            for case in row.get("unless", ())
        ),
    )


def _vessel(row: Mapping[str, Any], case: Mapping[str, Any]) -> Mapping[str, Any]:
    """What a case leaves as it is, unless it is hot elsewhere."""
    elsewhere = case.get("heat", row.get("heat", "")) != row.get("heat", "")
    return {} if elsewhere else {key: row[key] for key in ("heat", "vessel") if key in row}


def _implied(row: Mapping[str, Any]) -> Implied:
    return Implied(tuple(row.get("tools", ())), row.get("heat", ""), row.get("vessel", ""))


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
