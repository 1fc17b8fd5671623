"""Foods that a step names and the list lacks: their allergens would be on no sheet."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from spoonfold.check.rule import Facts, Rule, warning
from spoonfold.knowledge.families import families
from spoonfold.knowledge.names import fold, singulars
from spoonfold.model.pantry import Item, Pantry
from spoonfold.model.recipe import Recipe
from spoonfold.plan.amounts.mentions import Mention, Names, mentions_in, plain_runs
from spoonfold.problem import Problem
from spoonfold.read.pantry import ALLERGENS

_NOT_HERE = re.compile(
    r"(?:\b(?:no|not|without|instead of|never|like|as big as|(?:size|shape|thickness) of)"
    r"\s+(?:an?\s+|the\s+|any\s+)?|-)$",
    re.IGNORECASE,
)
"""Words in front of a food that doesn't go in: “without milk”, “the size of a walnut”."""

_THE_FOOD = re.compile(r"\b(?:add|any|in|into|little|more|of|some|the|with)\s+$", re.IGNORECASE)
"""Words in front of a family that is also a verb: “fish out the pips”, “cream the butter” aren't
foods."""


def unlisted_food(facts: Facts) -> Iterator[Problem]:
    """A food with an allergen, or of an animal, that a step names and the list doesn't."""
    foods = _Foods(facts.folder.pantry)
    for recipe in facts.folder.recipes.values():
        if recipe.place.path not in facts.troubled:
            yield from _unlisted_in(recipe, foods)


@dataclass(frozen=True, slots=True)
class _Danger:
    """What a step names that may hurt someone."""

    mention: Mention
    name: str
    allergens: tuple[str, ...]
    is_kind: bool = False
    """A word for many foods: most of them carry the allergens."""


class _Foods:
    """All foods of the pantry: a longer name that is harmless (`coconut milk`) keeps the shorter
    one inside it from being seen."""

    def __init__(self, pantry: Pantry) -> None:
        self.pantry = pantry
        # An author may have a food of her own by such a name.
        self.kinds = {
            word: family for word, family in families().items() if word not in pantry.called
        }
        self.verbs = frozenset(word for word, each in self.kinds.items() if each.often_a_verb)
        self.foods = (*pantry.names, *self.kinds)
        self.names = Names.of_pantry(pantry, tuple(self.kinds))
        self.position = {name: index for index, name in enumerate(pantry.names)}
        self.harmless: set[int] = set()
        """As far as steps have named them."""

    def dangers_in(self, recipe: Recipe, listed: Sequence[Item]) -> Iterator[_Danger]:
        """What the steps name that may hurt someone, but for what the list has as this food."""
        known = self.harmless | {self.position[item.name] for item in listed if not item.is_family}
        for step in recipe.steps:
            for run in plain_runs(step.text):
                for mention in mentions_in(run, step.number, self.names, known):
                    danger = self._danger(mention)
                    if danger is not None:
                        yield danger

    def _danger(self, mention: Mention) -> _Danger | None:
        word = mention.words.casefold()
        if _NOT_HERE.search(mention.before) or (
            word in self.verbs and not _THE_FOOD.search(mention.before)
        ):
            return None
        named = [self.foods[index] for index in sorted(mention.meant)]
        if len(named) == 1 and named[0] in self.kinds:
            family = self.kinds[named[0]]
            carried = tuple(each for each in family.known_by if each in ALLERGENS)
            return _Danger(mention, family.name, carried, is_kind=True)
        meant = [item for name in named if (item := self.pantry.find(name)) is not None]
        found = [item for item in meant if item.allergens or item.raw or "animal" in item.tags]
        if len(found) < len(meant):
            if len(meant) == 1:
                self.harmless.update(mention.meant)
            return None
        return _Danger(mention, found[0].name, found[0].allergens)


def _unlisted_in(recipe: Recipe, foods: _Foods) -> Iterator[Problem]:
    listed = (*recipe.ingredients, *(swap.use for swap in recipe.swaps))
    items = [item for each in listed if (item := foods.pantry.find(each.name)) is not None]
    found = tuple(foods.dangers_in(recipe, items))
    if not found:
        return
    own = Names(listed, foods.pantry)
    words = {
        form
        for each in listed
        for word in _words(f"{each.name} {each.preparation or ''}")
        for form in singulars(word)
    }
    # What most of a kind carry stands on every sheet, where a listed food carries it.
    carried = {each for item in items for each in (*item.allergens, *item.tags)}
    labels = {each for item in items for each in item.check_label}
    kinds = {
        kind
        for kind, of in foods.kinds.items()
        if not (carried if of.is_sure else carried | labels).isdisjoint(of.known_by)
    }
    told: set[str] = set()
    for danger in found:
        if danger.name not in told | kinds and not _is_own(danger.mention, own, words):
            told.add(danger.name)
            yield _problem(danger)


def _is_own(mention: Mention, own: Names, listed: set[str]) -> bool:
    """Whether the list has it by this name, or all its words in one name or another."""
    words = _words(mention.words)
    return bool(own.meant(" ".join(words))) or all(
        listed.intersection(singulars(word)) for word in words
    )


def _words(text: str) -> list[str]:
    return re.findall(r"\w+", fold(text))


def _problem(danger: _Danger) -> Problem:
    carried = f"{'most often ' if danger.is_kind else ''}{', '.join(danger.allergens)}"
    missed = (
        f"its allergens ({carried}) are on no sheet"
        if danger.allergens
        else ("no sheet warns those who avoid it")
    )
    return warning(
        "unlisted-food",
        danger.mention.place,
        f"This step names “{danger.mention.words}”, and the list of ingredients has none: nobody "
        f"buys it, and {missed}.",
        f"Add it to the list with its amount, or, where no {danger.name} goes in, say it in other "
        "words.",
    )


RULES = (Rule("unlisted-food", unlisted_food),)
