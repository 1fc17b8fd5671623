"""What a table cooks otherwise than the rest has its own vessel, and something to cook on."""

from __future__ import annotations

from collections.abc import Iterator

from spoonfold.check.rule import Facts, Rule, error
from spoonfold.knowledge.equipment import Kind
from spoonfold.model.recipe import Need, Step
from spoonfold.plan.clock.class_work import Timed
from spoonfold.plan.clock.step_order import Order
from spoonfold.plan.clock.times import Dish
from spoonfold.plan.safety.swapped import TableSwap, table_swaps
from spoonfold.problem import Place, Problem


def swap_without_tools(facts: Facts) -> Iterator[Problem]:
    """A table cooks its swap apart or otherwise, and the kitchen has no vessel or fire for that."""
    told: set[tuple[Place, str]] = set()
    for each in facts.clocks:
        for dish in each.work.dishes:
            for table, own in enumerate(dish.at_tables, start=1):
                swap = _swap(facts, each, dish, table)
                for step in own.recipe.steps if swap else ():
                    for need, wanted in _lacking(each, dish, own, step):
                        assert swap is not None
                        if (swap.swap.use.place, need.name) not in told:
                            told.add((swap.swap.use.place, need.name))
                            yield _problem(each, table, swap, step, need, wanted)


def _swap(facts: Facts, each: Timed, dish: Dish, table: int) -> TableSwap | None:
    """What the table swaps for sure: the first is named."""
    recipe = facts.folder.recipes[dish.recipe.key]
    swaps = table_swaps(recipe, facts.uses[recipe.key], facts.folder.pantry, each.session.setting)
    return next((one for one in swaps if one.table == table and not one.if_label), None)


def _lacking(each: Timed, dish: Dish, own: Dish, step: Step) -> Iterator[tuple[Need, int]]:
    """What a table's step lacks that the same step of the others doesn't, with how many it takes
    at all places together."""
    listed = dish.step(step.number)
    if step.when is not None or step == listed:
        return
    vessels = step.named(Kind.VESSEL)
    apart = [dish.at(table).step(step.number) for table in dish.apart(listed)]
    for need in step.needs:
        has = each.session.setting.equipment.get(need.name, 0)
        if need.name not in vessels | step.named(Kind.HOT):
            continue
        if need.name not in listed.tools and has < need.count:
            yield need, need.count
        elif apart and need.name in vessels and _stays(need.name, own, step):
            # What is done in one step goes through one pan, this table first.
            wanted = sum(_count(one, need.name) for one in apart)
            if len(apart) < len(dish.at_tables):
                wanted += _count(listed, need.name)
            if wanted > has:
                yield need, wanted


def _count(step: Step, name: str) -> int:
    return sum(need.count for need in step.needs if need.name == name)


def _stays(name: str, own: Dish, step: Step) -> bool:
    """Whether the food stays in a vessel for a later step."""
    later = Order(own.recipe.steps).following[step.number]
    return any(name in own.step(number).tools for number in later)


def _problem(
    each: Timed, table: int, swap: TableSwap, step: Step, need: Need, wanted: int
) -> Problem:
    has = each.session.setting.equipment.get(need.name, 0)
    return error(
        "swap-without-tools",
        swap.swap.use.place,
        f"Table {table} cooks {swap.swap.use.name} instead of {swap.originals[0].name}, and in "
        f"step {step.number} that takes {wanted} × {need.name} at once in session "
        f"{each.session.number}, with what the others have. There {'is' if has == 1 else 'are'} "
        f"{has or 'none'}.",
        f"Bring more (`{need.name}: {wanted}` under `equipment`), do step {step.number} at the "
        "tables or `when: before class`, or list the swap as the ingredient, for everyone.",
    )


RULES = (Rule("swap-without-tools", swap_without_tools),)
