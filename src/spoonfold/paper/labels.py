"""What a dish surely contains, what to read on the label, and what isn't known of it."""

from __future__ import annotations

from dataclasses import dataclass

from spoonfold.language.texts import Texts
from spoonfold.model.pantry import Pantry
from spoonfold.model.recipe import Recipe


@dataclass(frozen=True, slots=True)
class Label:
    """An allergen and the ingredients that bring it."""

    allergen: str
    ingredients: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Labels:
    """Never the word of an authority: the label in the hand decides, and the family."""

    contains: tuple[Label, ...]
    check: tuple[Label, ...]
    """Brands differ."""
    unknown: tuple[str, ...]
    """Ingredients that the pantry doesn't know."""


def labels_of(recipe: Recipe, pantry: Pantry, texts: Texts) -> Labels:
    """By the pantry, through every listed ingredient; swaps are labelled where they are used."""
    contains: dict[str, list[str]] = {}
    check: dict[str, list[str]] = {}
    unknown = []
    for ingredient in recipe.ingredients:
        item = pantry.find(ingredient.name)
        if item is None:
            unknown.append(ingredient.name)
            continue
        for allergens, into in ((item.allergens, contains), (item.check_label, check)):
            for allergen in allergens:
                into.setdefault(allergen, []).append(ingredient.name)
    return Labels(
        _labels(contains, texts),
        _labels({name: by for name, by in check.items() if name not in contains}, texts),
        tuple(unknown),
    )


def _labels(found: dict[str, list[str]], texts: Texts) -> tuple[Label, ...]:
    return tuple(
        Label(texts.say(name), tuple(dict.fromkeys(by))) for name, by in sorted(found.items())
    )
