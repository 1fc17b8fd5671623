"""Foods that a step names and the list lacks: their allergens would be on no sheet."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

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
    foods, names = pantry.names, Names.of_pantry(pantry)
    for recipe in facts.folder.recipes.values():
        if recipe.place.path not in facts.troubled:
            yield from _unlisted_in(recipe, pantry, names, foods)


def _unlisted_in(
    recipe: Recipe, pantry: Pantry, names: Names, foods: Sequence[str]
) -> Iterator[Problem]:
    listed = (*recipe.ingredients, *(swap.use for swap in recipe.swaps))
    # What is in the list as this very food needs no second look at its words.
    known = {item.name for each in listed if (item := pantry.find(each.name)) is not None}
    found = [
        (mention, item) for step in recipe.steps for run in plain_runs(step.text)
        for mention in mentions_in(run, step.number, names)
        if (item := _dangerous(mention, pantry, foods)) is not None and item.name not in known]
    if not found:
        return
    own = Names(listed, pantry)
    words = {form for each in listed for word in _words(f"{each.name} {each.preparation or ''}")
             for form in singulars(word)}
    told: set[str] = set()
    for mention, item in found:
        if item.name not in told and not _is_own(mention, own, words):
            told.add(item.name)
            yield _problem(mention, item)


def _dangerous(mention: Mention, pantry: Pantry, foods: Sequence[str]) -> Item | None:
    """The food that is meant, where it may hurt someone that nobody reads of it."""
    meant = [pantry.find(foods[index]) for index in sorted(mention.meant)]
    found = [item for item in meant
             if item is not None and (item.allergens or item.raw or "animal" in item.tags)]
    if len(found) < len(meant):
        return None
    if mention.words.casefold() in _OTHERWISE or _NOT_HERE.search(mention.before):
        return None
    return found[0]


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
