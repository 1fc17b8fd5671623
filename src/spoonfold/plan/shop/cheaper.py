"""What a recipe itself names instead of an ingredient because of the price."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.model.classroom import Setting
from spoonfold.model.pantry import Item, Pantry
from spoonfold.model.recipe import Recipe
from spoonfold.plan.amounts.eaters import portions_at_tables
from spoonfold.plan.safety.avoid import Finding, findings_of
from spoonfold.plan.safety.needs import replaced
from spoonfold.plan.shop.portion import Part, scale_for
from spoonfold.plan.shop.shop import Line, Need, Purchase, purchase_for
from spoonfold.quantity.amount import Amount

PRICE = "price"


@dataclass(frozen=True, slots=True)
class Cheaper:
    """A swap for the price, for the whole class."""

    dish: str
    name: str
    item: Item | None
    amount: Amount | None
    """Multiplied exactly; None: as needed."""
    purchase: Purchase | None
    findings: tuple[Finding, ...]
    """What the needs of the session have to do with it."""


def cheaper_of(
    line: Line,
    recipes: Mapping[str, Recipe],
    setting: Setting,
    pantry: Pantry,
    words: tuple[str, ...],
) -> tuple[Cheaper, ...]:
    """The swaps for the price of the dishes that take a line, as it is listed."""
    found = []
    portions = sum(portions_at_tables(setting), Fraction(0))
    for taking in line.takings:
        recipe = recipes[taking.dish]
        for swap in recipe.swaps:
            same = any(pantry.find(each.name) == line.item for each in replaced(recipe, swap))
            if taking.tables or swap.because.text != PRICE or line.item is None or not same:
                continue
            item = pantry.find(swap.use.name)
            amount = swap.use.amount
            amount = None if amount is None else amount.times(portions / recipe.serves)
            purchase = None
            if item is not None and amount is not None:
                scale = scale_for((Part(amount, swap.use.preparation),), item.packages, item)
                purchase = None if scale is None else purchase_for(Need(*scale), item)
            found.append(
                Cheaper(
                    recipe.key,
                    swap.use.name,
                    item,
                    amount,
                    purchase,
                    findings_of(item, words, pantry),
                )
            )
    return tuple(found)
