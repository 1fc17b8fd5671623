"""A recipe file: header, headnote, steps, sections."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from spoonfold.model.recipe import Ingredient, Recipe, Swap, Term, slug
from spoonfold.problem import Level, Place, Problem
from spoonfold.quantity.grammar import Refusal, read_line, read_number
from spoonfold.quantity.temperature import read_temperature
from spoonfold.quantity.words import NUMBER_WORDS
from spoonfold.read.accept import ACCEPT
from spoonfold.read.files import Source
from spoonfold.read.grammar import read_country, read_pan, read_position
from spoonfold.read.header import split_header
from spoonfold.read.markdown import Section, read_sections
from spoonfold.read.nodes import Mapping, Node, Scalar, describe, shorten
from spoonfold.read.nodes import Sequence as NodeList
from spoonfold.read.nutrients import packaged_names
from spoonfold.read.record import Key, ListOf, Record, is_too_long
from spoonfold.read.shape import (
    Choice,
    Found,
    Line,
    Named,
    Parsed,
    Shape,
    add,
    is_refused,
    nearest,
    quoted_list,
    refused,
)
from spoonfold.read.steps import read_steps

STEPS = "steps"
SECTIONS = ("culture", "talk", "science", "at home")
_OTHER_STEPS = frozenset({"directions", "instructions", "method", "preparation", "procedure",
                          "how to make it", "how to cook it"})
"""What the same heading is called elsewhere."""
MOST_INGREDIENTS = 300
MOST_SERVINGS = 10_000
"""More than that is a typing mistake, whatever the occasion."""


@dataclass(frozen=True, slots=True)
class IngredientLine:
    """One line of the list, by the grammar of amounts."""

    @property
    def written(self) -> tuple[Shape, ...]:
        return (Line("an ingredient line"),)

    def read(self, node: Node, found: Found) -> Ingredient | None:
        if isinstance(node, Mapping):
            _mapping_in_list(node, found)
            return None
        text = Line("an ingredient line").read(node, found)
        if text is None:
            return None
        if isinstance(node, Scalar) and node.last_line > node.place.line:
            add(found, "line-broken", node.place,
                f"“{shorten(text)}” runs over more than one line of the file: two ingredients, "
                "with a hyphen missing between them?",
                "Begin each ingredient with a hyphen, and keep each on one line.")
            return None
        line = read_line(text)
        if isinstance(line, Refusal):
            shift = 1 if isinstance(node, Scalar) and node.quoted else 0
            place = node.place
            refused(line, Place(place.path, place.line, place.column + shift), found)
            return None
        return Ingredient(
            name=line.name,
            amount=line.amount,
            preparation=line.preparation,
            place=node.place,
            second=line.second,
            optional=line.optional,
            as_needed=line.as_needed,
        )


def _mapping_in_list(node: Mapping, found: Found) -> None:
    key, value = next(iter(node.entries.items()), ("", None))
    text = value.text if isinstance(value, Scalar) else ""
    add(found, "colon-in-line", node.place,
        f"A colon with a space after “{key}” makes a key of it; only `part` may stand here.",
        _without_colon(key, text))


def _without_colon(key: str, text: str) -> str:
    """What may have been meant by `To finish:`, `parts: To finish` or `water: 2 cups`."""
    if not text:
        return f"- part: {key}"
    if nearest(key, ("part",)):
        return f"- part: {text}"
    for line, shown in ((f"{text} {key}", f"{text} {key}"), (f"{key}: {text}", f'"{key}: {text}"')):
        if not isinstance(read_line(line), Refusal):
            return f"- {shown}"
    return "Write the amount first, then the ingredient, without a colon."


PART = Record(
    (Key("part", Line("a heading"), "a heading inside the list", True, "To finish"),),
    "a heading in the list",
)


@dataclass(frozen=True, slots=True)
class _ListEntry:
    """What may stand in the list; headings are taken out before it is read."""

    @property
    def written(self) -> tuple[Shape, ...]:
        return (IngredientLine(), PART)

    def read(self, node: Node, found: Found) -> Ingredient | None:
        return IngredientLine().read(node, found)


class IngredientList:
    """Ingredient lines with `part:` headings between them."""

    @property
    def written(self) -> tuple[Shape, ...]:
        return (ListOf(_ListEntry(), least=1),)

    def read(self, node: Node, found: Found) -> tuple[Ingredient, ...] | None:
        if is_refused(node):
            return None
        if not isinstance(node, NodeList):
            add(found, "not-a-list", node.place,
                f"Here goes the list of ingredients, not {describe(node)}.",
                "Write each on a line of its own behind a plain hyphen: `- 1 cup rice, rinsed`.")
            return None
        if not node.items:
            add(found, "empty-list", node.place, "No ingredient is listed.", "- 1 cup rice, rinsed")
        if is_too_long(node.items, MOST_INGREDIENTS, node, found):
            return None
        part: str | None = None
        heading: Node | None = None
        unread = 0
        ingredients: list[Ingredient] = []
        for item in node.items:
            if isinstance(item, Mapping) and tuple(item.entries) == ("part",):
                _check_part(heading, found)
                part = Line("a heading").read(item.entries["part"], found)
                heading = item
                continue
            heading = None
            ingredient = _ListEntry().read(item, found)
            if ingredient is not None:
                ingredients.append(replace(ingredient, part=part))
            unread += ingredient is None
        _check_part(heading, found)
        keyed = _with_keys(ingredients, found)
        # With a line unread, every sum below would be wrong.
        return None if unread else keyed


def _check_part(heading: Node | None, found: Found) -> None:
    """A heading that another one, or the end, follows at once."""
    if heading is not None:
        found.append(Problem("empty-part", Level.WARNING, heading.place,
                             "No ingredient stands under this heading, so it is left out.",
                             "Remove it, or list what belongs there."))


def _with_keys(ingredients: Sequence[Ingredient], found: Found) -> tuple[Ingredient, ...]:
    """Each with the address that links use; the same name twice in one part is a problem."""
    names = Counter(slug(each.name) for each in ingredients)
    seen: dict[tuple[str | None, str], Place] = {}
    keyed = []
    for each in ingredients:
        name = slug(each.name)
        first = seen.setdefault((each.part, name), each.place)
        if first is not each.place:
            add(found, "ingredient-twice", each.place,
                f"“{each.name}” stands already on line {first.line}, in the same part.",
                "Add the two amounts up in one line, or put a `- part: …` heading between them.")
            continue
        key = f"{slug(each.part)}-{name}" if names[name] > 1 and each.part else name
        keyed.append(replace(each, key=key))
    return tuple(keyed)


@dataclass(frozen=True, slots=True)
class SwapEntry:
    """What to use instead."""

    @property
    def written(self) -> tuple[Shape, ...]:
        return (_SWAP,)

    def read(self, node: Node, found: Found) -> Swap | None:
        values = _SWAP.read(node, found)
        if values is None or not {"instead of", "use", "because"} <= values.keys():
            return None
        return Swap(values["instead of"], values["use"], values["because"], node.place)


_SWAP = Record(
    (
        Key("instead of", Named("a listed ingredient"), "the ingredient as listed", True, "butter"),
        Key("use", IngredientLine(), "the line that replaces it", True, "2 tbsp sunflower oil"),
        Key("because", Named("a reason"), "an allergen, a pattern or the price", True, "milk"),
    ),
    "a swap",
)


def _serves(text: str) -> Fraction | Refusal:
    number = read_number(text)
    if isinstance(number, Refusal):
        figures = dict(NUMBER_WORDS).get(text.strip().lower())
        if figures is not None:
            return Refusal("word-for-number", "Write numbers in figures.", 0, figures)
        if number.code == "zero-amount":
            return replace(number, why="A recipe feeds somebody: this is its household yield.",
                           instead="4")
        return number
    if number > MOST_SERVINGS:
        return Refusal("number-too-large", "No pot feeds as many as that.", 0, "4")
    return number


HEADER = Record(
    (
        Key("title", Line("the dish's name"), "the dish's name", True, "Red lentil soup"),
        Key("place", Line("a town or region and its country"), "where the dish comes from", True,
            "Gaziantep, Türkiye"),
        Key("country", ListOf(Parsed(read_country, "a country code"), or_one=True, least=1),
            "its country as two letters (ISO 3166-1)", True, "TR"),
        Key("at", Parsed(read_position, "degrees north, degrees east"),
            "where it is on the map: degrees north, then east"),
        Key("serves", Parsed(_serves, "how many it feeds"), "how many people it feeds at home",
            True, "4"),
        Key("portion", Line("one portion"), "what one portion is"),
        Key("ingredients", IngredientList(), "the list of ingredients", True),
        Key("swaps", ListOf(SwapEntry()), "what to use instead, and why"),
        Key("words", ListOf(Named("a word of words.yaml"), or_one=True), "words taught here"),
        Key("sources", ListOf(Line("a source"), or_one=True),
            "where its culture and science were looked up"),
        Key("packaged cousin", Choice(packaged_names()),
            "a packaged food to set the dish beside on a worksheet"),
        Key("oven", Parsed(read_temperature, "a temperature, such as 400 °F"), "the oven's heat"),
        Key("pan", Parsed(read_pan, "a pan's size, such as 9 x 13 in"), "the pan's size"),
        ACCEPT,
    ),
    "a recipe's header",
)


# After one of these the sums of a recipe can't be trusted: what they would report
# as missing may only be unread.
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
            add(found, "no-steps", Place(source.path, split.body_line),
                "This recipe has no heading “Steps”, so nothing in it is read as a step.",
                "## Steps")
        return None
    steps = read_steps(steps_section, found)
    if not steps:
        add(found, "no-steps", steps_section.place, "No numbered step stands under this heading.",
            "Begin each step with its number: 1. and a space.")
    needed = {key.name for key in HEADER.keys if key.required}
    if not needed <= values.keys() or not steps:
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
            add(found, "unknown-section", section.place,
                f"“{section.title}” isn't a section of a recipe.",
                f"## {close.capitalize()}" if close
                else f"The sections are {quoted_list(word.capitalize() for word in known)}.")
        elif title in by_title:
            add(found, "section-twice", section.place,
                f"“{section.title}” stands already on line {by_title[title].place.line}.",
                "Put both under one heading.")
        else:
            by_title[title] = section
    return by_title


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
        origin=values["place"],
        countries=values["country"],
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
