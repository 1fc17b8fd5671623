"""Foods that a step names and the list lacks: their allergens would be on no sheet."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from spoonfold.check.rule import Facts, Rule, warning
from spoonfold.model.pantry import Item, Pantry, fold, singulars
from spoonfold.model.recipe import Ingredient, Recipe
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
    foods = _Foods(facts.folder.pantry)
    for recipe in facts.folder.recipes.values():
        if recipe.place.path not in facts.troubled:
            yield from _unlisted_in(recipe, foods)


class _Foods:
    """All foods of the pantry: a longer name that is harmless (`coconut milk`) keeps the shorter
    one inside it from being seen."""

    def __init__(self, pantry: Pantry) -> None:
        self.pantry = pantry
        self.names = Names.of_pantry(pantry)
        self.foods = pantry.names
        self.position = {name: index for index, name in enumerate(self.foods)}
        self.harmless: set[int] = set()
        """As far as steps have named them."""

    def dangers_in(self, recipe: Recipe, listed: Sequence[Ingredient]) -> Iterator[
            tuple[Mention, Item]]:
        """What the steps name that may hurt someone, but for what the list has as this food."""
        items = (self.pantry.find(each.name) for each in listed)
        known = self.harmless | {self.position[item.name] for item in items if item is not None}
        for step in recipe.steps:
            for run in plain_runs(step.text):
                for mention in mentions_in(run, step.number, self.names, known):
                    item = self._danger(mention)
                    if item is not None:
                        yield mention, item

    def _danger(self, mention: Mention) -> Item | None:
        meant = [self.pantry.find(self.foods[index]) for index in sorted(mention.meant)]
        found = [item for item in meant
                 if item is not None and (item.allergens or item.raw or "animal" in item.tags)]
        if len(found) < len(meant):
            if len(meant) == 1:
                self.harmless.update(mention.meant)
            return None
        if mention.words.casefold() in _OTHERWISE or _NOT_HERE.search(mention.before):
            return None
        return found[0]


def _unlisted_in(recipe: Recipe, foods: _Foods) -> Iterator[Problem]:
    listed = (*recipe.ingredients, *(swap.use for swap in recipe.swaps))
    found = tuple(foods.dangers_in(recipe, listed))
    if not found:
        return
    own = Names(listed, foods.pantry)
    words = {form for each in listed for word in _words(f"{each.name} {each.preparation or ''}")
             for form in singulars(word)}
    told: set[str] = set()
    for mention, item in found:
        if item.name not in told and not _is_own(mention, own, words):
            told.add(item.name)
            yield _problem(mention, item)


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
