"""Foods that a step names and the list lacks: their allergens would be on no sheet."""

from __future__ import annotations

import re
from collections.abc import Iterator

from spoonfold.check.rule import Facts, Rule, warning
from spoonfold.model.pantry import Item, Pantry
from spoonfold.model.recipe import Recipe
from spoonfold.plan.mentions import Mention, Names, mentions_in
from spoonfold.plan.uses import plain_runs
from spoonfold.problem import Problem

_NOT_HERE = re.compile(
    r"(?:\b(?:no|not|without|instead of|never|like|as big as|(?:size|shape|thickness) of)"
    r"\s+(?:an?\s+|the\s+|any\s+)?|-)$", re.IGNORECASE)
"""Words in front of a food that doesn't go in: “without milk”, “the size of a walnut”."""

_OTHERWISE = frozenset({"fish"})
"""Names of foods that are more often something else in a step: “fish out the pips”."""


def unlisted_food(facts: Facts) -> Iterator[Problem]:
    """A food with an allergen, or of an animal, that a step names and the list doesn't."""
    foods = _foods(facts.folder.pantry)
    if foods is None:
        return
    names, items = foods
    for key, recipe in facts.folder.recipes.items():
        if recipe.place.path not in facts.troubled and key in facts.uses:
            yield from _of(recipe, facts.folder.pantry, names, items)


def _foods(pantry: Pantry) -> tuple[Names, tuple[Item, ...]] | None:
    """Every name of every known food; a longer name that is harmless (`peanut butter` has its
    own, `butter lettuce` none) keeps a shorter one inside it from being seen."""
    items = tuple(item for item in map(pantry.find, pantry.names) if item is not None)
    return (Names.of_items(items), items) if items else None


def _of(
    recipe: Recipe, pantry: Pantry, names: Names, items: tuple[Item, ...]
) -> Iterator[Problem]:
    swapped = [swap.use for swap in recipe.swaps]
    own = Names((*recipe.ingredients, *swapped), pantry)
    listed = {word for each in (*recipe.ingredients, *swapped)
              for word in re.findall(r"\w+", f"{each.name} {each.preparation or ''}".casefold())}
    told: set[str] = set()
    for step in recipe.steps:
        for run in plain_runs(step.text):
            for mention in mentions_in(run, step.number, names):
                item = _dangerous(mention, items)
                if item is None or item.name in told or _is_own(mention, own, listed):
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
    """Whether the list has it by this name, or has all its words in one name or another."""
    words = re.findall(r"\w+", mention.words.casefold())
    singular = {word.removesuffix("es") for word in words} | {
        word.removesuffix("s") for word in words}
    return bool(own.meant(" ".join(words))) or all(
        word in listed or word.removesuffix("s") in listed for word in words) or bool(
        singular & listed and len(words) == 1)


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
