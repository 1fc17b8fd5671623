"""What a family that reads another language of the class would find untranslated.

One hint a file and language, not one a line: a season is translated dish by dish.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from spoonfold.check.rule import Facts, Rule, advice, error, key_place
from spoonfold.model.pantry import Pantry
from spoonfold.model.recipe import Recipe
from spoonfold.model.teaching import Skill, Word
from spoonfold.model.translation import Translation
from spoonfold.problem import Place, Problem
from spoonfold.read.folder import CLASS_FILE, SKILLS_FILE, WORDS_FILE

_MOST = 4
"""Names to list before `and so many more`."""


def _others(facts: Facts) -> tuple[str, ...]:
    """The languages of the class besides the first."""
    classroom = facts.folder.classroom
    return classroom.languages[1:] if classroom is not None else ()


def untranslated(facts: Facts) -> Iterator[Problem]:
    """Dishes, parts of dishes, words and skills without a translation."""
    yield from _recipes(facts)
    yield from _parts(facts)
    yield from _entries(facts, facts.folder.words, WORDS_FILE, "meaning: …")
    yield from _entries(facts, facts.folder.skills, SKILLS_FILE, "how: …")


def _recipes(facts: Facts) -> Iterator[Problem]:
    """Dishes that a language of the class has no translation of."""
    for language in _others(facts):
        for name, recipe in facts.folder.recipes.items():
            path = f"content/recipes/{name}.{language}.md"
            # A translation that can't be read was complained of already.
            if (name, language) not in facts.folder.translations and (
                path not in facts.folder.files
            ):
                yield advice(
                    "untranslated",
                    recipe.place,
                    f"There is no translation into “{language}”: its sheets show this dish in "
                    "its own language, with a mark.",
                    f"Write {path}.",
                )


def _parts(facts: Facts) -> Iterator[Problem]:
    """Parts that only the original has."""
    for (name, language), translation in facts.folder.translations.items():
        recipe = facts.folder.recipes.get(name)
        if (
            recipe is None
            or translation.place.path in facts.troubled
            or (language not in _others(facts))
        ):
            continue
        missing = tuple(_missing_parts(recipe, translation, facts.folder.pantry))
        if missing:
            yield advice(
                "untranslated",
                translation.place,
                f"Not translated: {_listed(missing)}.",
                "What is missing here stands in the original's language, with a mark.",
            )


def _missing_parts(recipe: Recipe, translation: Translation, pantry: Pantry) -> Iterator[str]:
    if recipe.portion and not translation.portion:
        yield "the portion"
    if len(recipe.ingredients) == len(translation.ingredients):
        for own, other in zip(recipe.ingredients, translation.ingredients, strict=True):
            if own.part and not other.part:
                yield f"the heading “{own.part}”"
            if own.said_preparation and not other.preparation:
                yield f"“{own.said_preparation}” after {own.name}"
    for swap in recipe.swaps if not translation.swaps else ():
        item = pantry.find(swap.use.name)
        if item is None or item.called(translation.language, False) is None:
            yield f"the swap {swap.use.name}"
    for swap, other in zip(recipe.swaps, translation.swaps, strict=False):
        worded = {each.number for each in other.steps}
        for each in swap.steps:
            if each.number not in worded:
                yield f"step {each.number} with {swap.use.name}"


def swaps_missing(facts: Facts) -> Iterator[Problem]:
    """Another number of swaps."""
    for (name, _), translation in facts.folder.translations.items():
        recipe = facts.folder.recipes.get(name)
        if recipe is None or translation.place.path in facts.troubled or not translation.swaps:
            continue
        wanted, got = len(recipe.swaps), len(translation.swaps)
        if wanted != got:
            yield error(
                "translation-swaps",
                translation.swaps[0].place,
                f"The original has {wanted} swaps and this names {got}, so a table would cook "
                "with the wrong food.",
                "In the original's order: " + "; ".join(each.use.name for each in recipe.swaps),
            )


def _entries(
    facts: Facts, entries: Mapping[str, Word] | Mapping[str, Skill], path: str, example: str
) -> Iterator[Problem]:
    for language in _others(facts):
        missing = [name for name, each in entries.items() if language not in each.translations]
        if missing and path not in facts.troubled:
            yield advice(
                "untranslated",
                Place(path),
                f"Not translated into “{language}”: {_listed(missing)}.",
                f"Below the entry:\n{language}: {{{example}}}",
            )


def _listed(names: Iterable[str]) -> str:
    listed = tuple(names)
    shown = ", ".join(listed[:_MOST])
    rest = len(listed) - _MOST
    return f"{shown} and {rest} more" if rest > 0 else shown


def cards_in_no_language(facts: Facts) -> Iterator[Problem]:
    """Table cards in a language that the class doesn't have."""
    classroom = facts.folder.classroom
    for language in classroom.table_cards if classroom else ():
        if classroom is not None and language not in classroom.languages:
            yield error(
                "table-cards-language",
                key_place(classroom.setting, "table cards", classroom.place),
                f"Table cards are wanted in “{language}”, which isn't a language of the class.",
                f"languages: [{', '.join((*classroom.languages, language))}] in {CLASS_FILE}",
            )


RULES = (
    Rule("untranslated", untranslated),
    Rule("translation-swaps", swaps_missing),
    Rule("table-cards-language", cards_in_no_language),
)
