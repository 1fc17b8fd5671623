"""What is cooked apart: a table's swap for a food of the dish that is made once for everyone."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence

from spoonfold.model.classroom import Setting
from spoonfold.model.pantry import Pantry
from spoonfold.model.recipe import Recipe
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.clock.step_order import Order, StepKey
from spoonfold.plan.safety.swapped import table_swaps


def portions_apart(
    recipes: Sequence[Recipe], uses: Mapping[str, Uses], pantry: Pantry, setting: Setting
) -> Mapping[StepKey, int]:
    """How many portions are made beside the one for all, for each step that makes any apart.

    A portion is apart from the step on that takes the food which it is without. Nobody knows
    which of the shared steps behind that one still work on the same food, so all of them count:
    a pot too many is carried back, one too few is shared. A swap that hangs on a label counts
    too, since the label is read on the day.
    """
    apart: dict[StepKey, int] = {}
    for recipe in recipes:
        order = Order(recipe.steps)
        once = {step.number for step in recipe.steps if step.shared}
        swapped: dict[int, dict[int, set[int]]] = defaultdict(lambda: defaultdict(set))
        for each in table_swaps(recipe, uses[recipe.key], pantry, setting):
            taking = {use.step for old in each.originals for use in uses[recipe.key].of(old)}
            for number in taking & once:
                for later in once & {number, *order.following[number]}:
                    swapped[later][each.table].add(recipe.swaps.index(each.swap))
        for number, tables in swapped.items():
            portions = _portions(list(tables.values()), len(setting.tables))
            if portions > 1:
                apart[recipe.key, number] = portions - 1
    return apart


def _portions(swaps: Sequence[set[int]], tables: int) -> int:
    """One for each table with swaps and one for the rest; where all have the same, one for all."""
    if len(swaps) < tables:
        return len(swaps) + 1
    return 1 if all(each == swaps[0] for each in swaps) else tables
