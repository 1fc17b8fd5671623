"""A recipe file: header, headnote, steps, sections."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Any

from spoonfold.knowledge.line_words import NUMBER_WORDS
from spoonfold.model.recipe import Recipe, Term
from spoonfold.problem import Edit, Place
from spoonfold.quantity.grammar import Refusal, read_number
from spoonfold.quantity.temperature import read_temperature
from spoonfold.read.accept import ACCEPT
from spoonfold.read.files import Source
from spoonfold.read.grammar import read_country, read_pan, read_position
from spoonfold.read.header import split_header
from spoonfold.read.ingredients import IngredientList, SwapEntry
from spoonfold.read.markdown import Section, read_sections
from spoonfold.read.nutrients import packaged_names
from spoonfold.read.record import Key, ListOf, Record
from spoonfold.read.shape import (
    Choice,
    Found,
    Line,
    Named,
    Parsed,
    add,
    nearest,
    quoted_list,
    spelling,
)
from spoonfold.read.steps import read_steps

STEPS = "steps"
SECTIONS = ("culture", "talk", "at home", "science")
"""Below the steps, in the order in which taught words are looked for in them."""
_OTHER_STEPS = frozenset(
    {
        "directions",
        "instructions",
        "method",
        "preparation",
        "procedure",
        "how to make it",
        "how to cook it",
    }
)
"""What the same heading is called elsewhere."""
MOST_SERVINGS = 10_000
"""More than that is a typing mistake, whatever the occasion."""


_PEOPLE = re.compile(
    r"(?:(?:about|for|serves|feeds)\s+)*(?P<first>[^\s–-]+)"
    r"(?:\s*(?:-|–|to)\s*(?P<second>[0-9]+))?"
    r"(?:\s+(?:people|persons?|servings?|portions?|children|kids))?",
    re.IGNORECASE,
)


def _serves(text: str) -> Fraction | Refusal:
    people = _PEOPLE.fullmatch(text)
    if people is not None:
        first = NUMBER_WORDS.get(people["first"].lower(), people["first"])
        # Of “4 to 6” the smaller: nobody goes hungry.
        if first.isdigit() and (not people["second"] or int(first) < int(people["second"])):
            text = first
    number = read_number(text)
    if isinstance(number, Refusal):
        figures = NUMBER_WORDS.get(text.strip().lower())
        if figures is not None:
            why = "Write numbers in figures."
            return Refusal("word-for-number", why, 0, figures, certain=True)
        if number.code == "zero-amount":
            return replace(
                number, why="A recipe feeds somebody: this is its household yield.", instead="4"
            )
        return number
    if number > MOST_SERVINGS:
        return Refusal("number-too-large", "No pot feeds as many as that.", 0, "4")
    return number


HEADER = Record(
    (
        Key("title", Line("the dish's name"), "the dish's name", True, "Red lentil soup"),
        Key(
            "place",
            Line("a town or region and its country"),
            "where the dish comes from",
            example="Gaziantep, Türkiye",
        ),
        Key(
            "country",
            ListOf(Parsed(read_country, "a country code"), or_one=True, least=1),
            "its country as two letters (ISO 3166-1)",
            example="TR",
        ),
        Key(
            "at",
            Parsed(read_position, "degrees north, degrees east"),
            "where it is on the map: degrees north, then east",
        ),
        Key(
            "serves",
            Parsed(_serves, "how many it feeds"),
            "how many people it feeds at home",
            True,
            "4",
        ),
        Key("portion", Line("one portion"), "what one portion is"),
        Key("ingredients", IngredientList(), "the list of ingredients", True),
        Key("swaps", ListOf(SwapEntry()), "what to use instead, and why"),
        Key("words", ListOf(Named("a word of words.yaml"), or_one=True), "words taught here"),
        Key(
            "sources",
            ListOf(Line("a source"), or_one=True),
            "where its culture and science were looked up",
        ),
        Key(
            "packaged cousin",
            Choice(packaged_names()),
            "a packaged food to set the dish beside on a worksheet",
        ),
        Key("oven", Parsed(read_temperature, "a temperature, such as 400 °F"), "the oven's heat"),
        Key("pan", Parsed(read_pan, "a pan's size, such as 9 x 13 in"), "the pan's size"),
        ACCEPT,
    ),
    "a recipe's header",
)


# After one of these the sums of a recipe can't be trusted: what they would report
# as missing may only be unread.
_NEEDED = frozenset(key.name for key in HEADER.keys if key.required)
_SPOILS_SUMS = frozenset({"link-not-read", "strange-step", "empty-step"})


def read_recipe(source: Source, key: str, found: Found) -> Recipe | None:
    """The recipe, or None where too little of it could be read to go on."""
    split = split_header(source, found)
    if split is None:
        return None
    before = len(found)
    values = HEADER.read(split.header, found) or {}
    sections = read_sections(split.body, source.path, split.body_line, found, steps_in=STEPS)
    by_title = _sections_by_title(sections, found)
    steps_section = by_title.pop(STEPS, None)
    if steps_section is None:
        # A heading that is nearly this one was complained of already.
        if not any("## Steps" in each.hint for each in found[before:]):
            add(
                found,
                "no-steps",
                Place(source.path, split.body_line),
                "This recipe has no heading “Steps”, so nothing in it is read as a step.",
                "## Steps",
            )
        return None
    steps = read_steps(steps_section, found)
    if not steps:
        add(
            found,
            "no-steps",
            steps_section.place,
            "No numbered step stands under this heading.",
            "Begin each step with its number: 1. and a space.",
        )
    if _NEEDED - values.keys() or not steps:
        return None
    if any(each.code in _SPOILS_SUMS for each in found[before:]):
        return None
    return _built(key, source.path, values, sections[0], steps, by_title)


def _sections_by_title(sections: Sequence[Section], found: Found) -> dict[str, Section]:
    known = (STEPS, *SECTIONS)
    by_title: dict[str, Section] = {}
    for section in sections[1:]:
        title = section.title.casefold()
        if title not in known:
            close = STEPS if title in _OTHER_STEPS else nearest(title, known)
            add(
                found,
                "unknown-section",
                section.place,
                f"“{section.title}” isn't a section of a recipe.",
                f"## {close.capitalize()}"
                if close
                else f"The sections are {quoted_list(word.capitalize() for word in known)}.",
                _heading(section, close),
            )
        elif title in by_title:
            add(
                found,
                "section-twice",
                section.place,
                f"“{section.title}” stands already on line {by_title[title].place.line}.",
                "Put both under one heading.",
            )
        else:
            by_title[title] = section
    return by_title


def _heading(section: Section, close: str | None) -> tuple[Edit, ...]:
    """A heading by the name that it has here."""
    if close is None:
        return ()
    known = section.title.casefold() in _OTHER_STEPS
    edits = spelling(section.place, section.title, close.capitalize())
    return tuple(replace(each, certain=each.certain or known) for each in edits)


def _built(
    key: str,
    path: str,
    values: dict[str, Any],
    headnote: Section,
    steps: tuple[Any, ...],
    sections: dict[str, Section],
) -> Recipe:
    words: tuple[Term, ...] = values.get("words", ())
    return Recipe(
        key=key,
        title=values["title"],
        origin=values.get("place", ""),
        countries=values.get("country", ()),
        serves=values["serves"],
        portion=values.get("portion"),
        ingredients=values["ingredients"],
        swaps=values.get("swaps", ()),
        words=words,
        oven=values.get("oven"),
        pan=values.get("pan"),
        headnote=tuple(headnote.blocks),
        steps=steps,
        sections={name: tuple(section.blocks) for name, section in sections.items()},
        place=Place(path, 1),
        accept=values.get("accept", ()),
        at=values.get("at"),
        sources=values.get("sources", ()),
        packaged_cousin=values.get("packaged cousin"),
    )
