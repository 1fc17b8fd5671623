"""What a dish surely contains, what to read on the label, and what isn't known of it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from spoonfold.language.marks import beside_original
from spoonfold.language.texts import Texts
from spoonfold.model.pantry import Pantry
from spoonfold.model.recipe import Ingredient, Recipe
from spoonfold.plan.safety.avoid import Match, finding_of
from spoonfold.read.pantry import ALLERGENS


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
    left_out: tuple[Label, ...] = ()
    """What foods usually have, and the author's own pantry.yaml says that hers haven't."""


@dataclass(frozen=True, slots=True)
class FoodLabel:
    """One food: what it is or contains, what to read on its label, in words."""

    name: str
    contains: tuple[str, ...]
    check: tuple[str, ...]
    kinds: tuple[str, ...]
    """Meat, honey, alcohol ...: no allergens, and still asked for."""
    known: bool

    @property
    def plain(self) -> bool:
        """Known, with nothing that is looked for."""
        return self.known and not (self.contains or self.check or self.kinds)


# What families ask for besides allergens; of seafood the allergen says more.
KINDS = ("meat", "poultry", "beef", "pork", "lamb", "gelatin", "alcohol", "honey")
ON_LABELS: Mapping[str, str] = {
    "meat": "meat, lard or gelatin",
    "animal": "anything of an animal",
    "pork": "pork, lard or gelatin",
    "beef": "beef or gelatin",
    "seafood": "fish, crustacean or mollusc",
}
"""What is read for on a label where a family avoids a kind: it names what is in the food."""
_READ_FOR = ("pork", "gelatin", "alcohol", "honey")
"""Kinds that some brands of a food hide."""


def food_label(
    ingredient: Ingredient, pantry: Pantry, texts: Texts, is_draft: bool = False
) -> FoodLabel:
    """One line of a list, by the pantry: an unknown food is nothing but unknown. On a draft of
    a translation every word of a label has its original beside it."""
    name = ingredient.said
    if ingredient.optional:
        name = texts.say("{name} (optional)", name=name)
    item = pantry.find(ingredient.name)
    if item is None:
        return FoodLabel(name, (), (), (), False)
    hidden = [kind for kind in _READ_FOR if finding_of(item, kind, pantry) is Match.LABEL]

    def said(words: Iterable[str]) -> tuple[str, ...]:
        return tuple(beside_original(word, is_draft, texts) for word in words)

    return FoodLabel(
        name,
        said(sorted(item.allergens)),
        said((*sorted(item.check_label), *hidden)),
        said(kind for kind in KINDS if kind in item.tags),
        True,
    )


def label_words(label: FoodLabel, texts: Texts) -> str:
    """A food's label as a short clause; empty where there is nothing to say of it."""
    if not label.known:
        return texts.say("unknown: read its label")
    said = []
    if label.contains or label.kinds:
        said.append(texts.say("contains {what}", what=", ".join((*label.contains, *label.kinds))))
    if label.check:
        said.append(texts.say("check the label for {what}", what=", ".join(label.check)))
    return "; ".join(said)


def labels_of(recipe: Recipe, pantry: Pantry, texts: Texts) -> Labels:
    """By the pantry, through every listed ingredient; swaps are labelled where they are used.

    What one ingredient surely has isn't asked of another's label, but where a swap takes it
    out: then that label is all that stands between the dish and who avoids it.
    """
    swapped = {swap.because.text for swap in recipe.swaps}
    contains: dict[str, list[str]] = {}
    check: dict[str, list[str]] = {}
    unknown = []
    left_out: dict[str, list[str]] = {}
    for ingredient in recipe.ingredients:
        item = pantry.find(ingredient.name)
        if item is None:
            unknown.append(ingredient.said)
            continue
        gone = [each for each in item.taken_away if each in ALLERGENS]
        for allergens, into in (
            (item.allergens, contains),
            (item.check_label, check),
            (gone, left_out),
        ):
            for allergen in allergens:
                into.setdefault(allergen, []).append(ingredient.said)
    return Labels(
        _labels(contains, recipe.is_draft, texts),
        _labels(
            {name: by for name, by in check.items() if name not in contains or name in swapped},
            recipe.is_draft,
            texts,
        ),
        tuple(unknown),
        _labels(left_out, recipe.is_draft, texts),
    )


def _labels(found: dict[str, list[str]], is_draft: bool, texts: Texts) -> tuple[Label, ...]:
    return tuple(
        Label(beside_original(name, is_draft, texts), tuple(dict.fromkeys(by)))
        for name, by in sorted(found.items())
    )
