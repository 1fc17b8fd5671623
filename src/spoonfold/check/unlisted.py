"""Foods that a step names and the list lacks: their allergens would be on no sheet."""

from __future__ import annotations

import re
from collections.abc import Iterator

from spoonfold.check.rule import Facts, Rule, warning
from spoonfold.model.pantry import Item, Pantry, fold, singulars
from spoonfold.model.recipe import Recipe
from spoonfold.plan.mentions import Mention, Names, mentions_in, plain_runs
from spoonfold.problem import Problem

_NOT_HERE = re.compile(
    r"(?:\b(?:no|not|without|instead of|never|like|as big as|(?:size|shape|thickness) of)"
    r"\s+(?:an?\s+|the\s+|any\s+)?|-)$", re.IGNORECASE)
"""Words in front of a food that doesn't go in: “without milk”, “the size of a walnut”."""

_OTHERWISE = frozenset({"fish"})
"""Names of foods that are more often something else in a step: “fish out the pips”."""


def unlisted_food(facts: Facts) -> Iterator[Problem]:
    """A food with an allergen, or of an animal, that a step names and the list doesn't."""
    pantry = facts.folder.pantry
    # All foods: a longer name that is harmless (`coconut milk`) keeps the shorter one inside it
    # from being seen.
    items = tuple(item for item in map(pantry.find, pantry.names) if item is not None)
    names = Names.of_items(items)
    for recipe in facts.folder.recipes.values():
        if recipe.place.path not in facts.troubled:
            yield from _unlisted_in(recipe, pantry, names, items)


def _unlisted_in(
    recipe: Recipe, pantry: Pantry, names: Names, items: tuple[Item, ...]
) -> Iterator[Problem]:
    listed = (*recipe.ingredients, *(swap.use for swap in recipe.swaps))
    own = Names(listed, pantry)
    words = {form for each in listed for word in _words(f"{each.name} {each.preparation or ''}")
             for form in singulars(word)}
    told: set[str] = set()
    for step in recipe.steps:
        for run in plain_runs(step.text):
            for mention in mentions_in(run, step.number, names):
                item = _dangerous(mention, items)
                if item is None or item.name in told or _is_own(mention, own, words):
                    continue
                told.add(item.name)
                yield _problem(mention, item)


def _dangerous(mention: Mention, items: tuple[Item, ...]) -> Item | None:
    """The food that is meant, where it may hurt someone that nobody reads of it."""
    if mention.words.casefold() in _OTHERWISE or _NOT_HERE.search(mention.before):
        return None
    meant = [items[index] for index in sorted(mention.meant)]
    return meant[0] if meant and all(
        item.allergens or item.raw or "animal" in item.tags for item in meant) else None


def _is_own(mention: Mention, own: Names, listed: set[str]) -> bool:
    """Whether the list has it by this name, or all its words in one name or another."""
    words = _words(mention.words)
    return bool(own.meant(" ".join(words))) or all(
        listed.intersection(singulars(word)) for word in words)


def _words(text: str) -> list[str]:
    return re.findall(r"\w+", fold(text))


def _problem(mention: Mention, item: Item) -> Problem:
    why = f" ({', '.join(item.allergens)})" if item.allergens else ""
    return warning(
        "unlisted-food", mention.place,
        f"This step names “{mention.words}”, and the list of ingredients has none: nobody buys "
        f"it, and its allergens{why} are on no sheet.",
        f"Add it to the list with its amount, or, where no {item.name} goes in, say it in other "
        "words.")


RULES = (
    Rule(
        "unlisted-food", unlisted_food,
        "The shopping list, the amounts and the allergens are all worked out from the list of "
        "ingredients. Food that only the steps name is bought by nobody and warned of by nothing, "
        "and a child may be allergic to it. Only foods that carry an allergen or come from an "
        "animal are looked for, by the names that the pantry knows.",
        mend="Put it into `ingredients:` with its amount. Where the word means something else, "
             "say it another way, or accept the warning with your reason.",
    ),
)
