"""What each ingredient of a dish weighs, ready to eat and as it is measured.

Edible portion, before cooking: a carrot without its peel, beans drained where the list says so,
dry lentils dry. Where the pantry has no published weight the answer is None, never a guess.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from spoonfold.model.pantry import Item, Pantry
from spoonfold.model.recipe import Ingredient, Recipe
from spoonfold.plan.amounts.convert import GRAM, converted
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.shop.portion import Kind, Part, Scale, needed
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.unit import Dimension

_JUICED = re.compile(r"\bjuiced?\b", re.IGNORECASE)
_JUICE = "juice"


@dataclass(frozen=True, slots=True)
class Weighed:
    """An ingredient of a recipe and what it weighs at the recipe's own size."""

    ingredient: Ingredient
    item: Item | None
    """What it is as bought; None: the pantry doesn't know it."""
    eaten: tuple[Item, ...]
    """What of it is eaten: the lime itself, or its juice."""
    grams: Fraction | None
    """None: no amount, or nothing published says how heavy that is."""


def weights_of(recipe: Recipe, uses: Uses, pantry: Pantry) -> tuple[Weighed, ...]:
    """Every ingredient of a recipe, weighed; ranges by their upper end."""
    return tuple(_weighed(each, uses, pantry) for each in recipe.ingredients)


def _weighed(ingredient: Ingredient, uses: Uses, pantry: Pantry) -> Weighed:
    item = pantry.find(ingredient.name)
    amount = ingredient.amount
    if item is None or amount is None:
        return Weighed(ingredient, item, () if item is None else (item,), None)
    pieces = _pieces(ingredient, item, uses)
    if pieces:
        parts = tuple(pantry.find(f"{item.name} {piece}") or item for piece in sorted(pieces))
        return Weighed(ingredient, item, parts, _pieces_grams(amount, item, pieces, pantry))
    # A size that the list says is its own: "diced small" isn't a small carrot.
    sized = amount.size is not None
    grams = _grams(amount, None if sized else ingredient.preparation, item)
    return Weighed(ingredient, item, (item,), grams)


@lru_cache(maxsize=1 << 11)
def _grams(amount: Amount, preparation: str | None, item: Item) -> Fraction | None:
    part = [Part(amount, preparation)]
    grams = needed(part, Scale(Kind.WEIGHT), item)
    return needed(part, Scale(Kind.DRAINED), item) if grams is None else grams


def _pieces(ingredient: Ingredient, item: Item, uses: Uses) -> frozenset[str]:
    """The pieces that are used where nothing but pieces is."""
    used = {use.piece for use in uses.of(ingredient)}
    named = frozenset(piece for piece in used if piece is not None)
    if named and None not in used:
        return named
    juiced = _JUICE in item.pieces and _JUICED.search(ingredient.preparation or "")
    return frozenset((_JUICE,)) if juiced else frozenset()


def _pieces_grams(
    amount: Amount, item: Item, pieces: Collection[str], pantry: Pantry
) -> Fraction | None:
    """What the pieces of so many weigh."""
    if amount.unit.dimension is not Dimension.COUNT:
        return None
    count = amount.low if amount.high is None else amount.high
    total = Fraction(0)
    for name in pieces:
        piece = item.pieces[name].amount
        grams = converted(piece, GRAM, pantry.find(f"{item.name} {name}"), None)
        if grams is None:
            return None
        total += grams.low * count
    return total
