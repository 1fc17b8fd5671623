"""What the tables really measure of each ingredient, as far as somebody must buy it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.model.classroom import Setting
from spoonfold.model.pantry import Item, Pantry, fold
from spoonfold.model.recipe import Ingredient, Recipe
from spoonfold.plan.amounts.eaters import portions_at_tables
from spoonfold.plan.amounts.scale import ScaledLine, scaled_for_class
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.safety.avoid import Finding
from spoonfold.plan.safety.swapped import TableSwap, table_swaps
from spoonfold.quantity.amount import Amount

FROM_THE_TAP = frozenset({"water"})
"""Foods of the pantry that nobody buys."""


@dataclass(frozen=True, slots=True)
class Taken:
    """An ingredient line of a table, of what is made for all, or of a swap."""

    key: str
    ingredient: Ingredient
    item: Item | None
    dish: str
    amounts: tuple[Amount, ...]
    table: int | None = None
    instead_of: tuple[str, ...] = ()
    only_if: tuple[Finding, ...] = ()


def taken_by(recipe: Recipe, uses: Uses, pantry: Pantry, setting: Setting) -> Iterator[Taken]:
    """All that is to be bought for a dish, table by table, then for all, then its swaps."""
    scale = scaled_for_class(recipe, uses, pantry, setting)
    swaps = table_swaps(recipe, uses, pantry, setting)
    # What goes into the pot for everyone is bought for everyone, even where one table makes
    # its own apart: the lead cook decides on the day. A label in the hand decides too.
    replaced = {
        (swap.table, each.key) for swap in swaps if not swap.if_label for each in swap.originals
    }
    numbers = [at for at, each in enumerate(portions_at_tables(setting), start=1) if each]
    places = [*zip(numbers, scale.tables, strict=True)]
    lines = [(number, line) for number, table in places for line in table.lines]
    lines += [(0, line) for line in (scale.shared.lines if scale.shared else ())]
    for number, line in lines:
        item = pantry.find(line.ingredient.name)
        if (number, line.ingredient.key) in replaced or (item and item.name in FROM_THE_TAP):
            continue
        yield Taken(_key(line.ingredient, item), line.ingredient, item, recipe.key, _bought(line))
    for swap in swaps:
        yield _of_swap(swap, recipe, pantry)


def _of_swap(swap: TableSwap, recipe: Recipe, pantry: Pantry) -> Taken:
    use = swap.swap.use
    item = pantry.find(use.name)
    measured = swap.amount
    shown = (
        ()
        if measured is None
        else ((whole(measured.exact, measured.beaten),) if measured.beaten else measured.shown)
    )
    return Taken(
        _key(use, item),
        use,
        item,
        recipe.key,
        shown,
        swap.table,
        tuple(each.name for each in swap.originals),
        swap.if_label,
    )


def _key(ingredient: Ingredient, item: Item | None) -> str:
    return fold(ingredient.name) if item is None else item.name


def _bought(line: ScaledLine) -> tuple[Amount, ...]:
    """What is measured; of what is beaten to be measured, the whole ones."""
    beaten = sum(use.measured.beaten or 0 for use in line.uses if use.measured)
    if beaten and line.exact is not None:
        return (whole(line.exact, beaten),)
    return line.amounts


def whole(exact: Amount, count: int) -> Amount:
    """So many of what an amount counts."""
    return Amount(Fraction(count), exact.unit, None, exact.size, exact.each)
