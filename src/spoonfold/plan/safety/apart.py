"""What a table cooks apart from the one pot for everyone, because its swap mustn't meet that pot.

From the step on that takes the replaced food, the table cooks its part by itself: in its own
vessel, on its own burner, with its own minutes. Water that was boiled for the food and nothing else
is its own too. What all tables swap alike is cooked in the one pot.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from spoonfold.knowledge.equipment import Kind, Tool
from spoonfold.model.classroom import Setting
from spoonfold.model.pantry import Pantry
from spoonfold.model.recipe import Need, Recipe, Step
from spoonfold.plan.amounts.eaters import portions_at_tables
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.clock.step_order import Order, StepKey
from spoonfold.plan.safety.swapped import TableSwap, table_swaps

_WATER = "water"


@dataclass(frozen=True, slots=True)
class Apart:
    """Where each part of a dish is cooked that the one pot can't give to every table."""

    for_all: tuple[TableSwap, ...]
    """What every table swaps alike, as at the first of them: it goes into the one pot."""
    steps: Mapping[int, frozenset[int]]
    """By table: the steps done in class, once for everyone, that it does for itself."""
    portions: Mapping[int, Fraction]
    """By step: how many portions of it are made at tables; the pot makes those less."""


def apart_of(recipe: Recipe, uses: Uses, pantry: Pantry, setting: Setting) -> Apart:
    """Who makes what apart; swaps that hang on a label are decided on the day."""
    portions = portions_at_tables(setting)
    eating = [table for table, each in enumerate(portions, start=1) if each]
    swaps: dict[int, list[TableSwap]] = {table: [] for table in eating}
    for each in table_swaps(recipe, uses, pantry, setting):
        if not each.if_label and each.table in swaps:
            swaps[each.table].append(each)
    for_all = _for_all(list(swaps.values()))
    alike = [each.swap for each in for_all]
    once = frozenset(step.number for step in recipe.steps if step.shared)
    in_class = frozenset(step.number for step in recipe.steps if step.for_class and not step.when)
    order = Order(recipe.steps)
    steps: dict[int, frozenset[int]] = {}
    made: dict[int, Fraction] = defaultdict(Fraction)
    for table, own in swaps.items():
        taking = {
            use.step
            for each in own
            if each.swap not in alike
            for old in each.originals
            for use in uses.of(old)
        } & once
        behind = {later for number in taking for later in order.following[number]}
        found = in_class & (taking | behind | _water(taking, order, uses, pantry))
        if found:
            steps[table] = found
        for number in found:
            made[number] += portions[table - 1]
    return Apart(for_all, steps, made)


def _for_all(swaps: Sequence[Sequence[TableSwap]]) -> tuple[TableSwap, ...]:
    first, *others = swaps or ((),)
    return tuple(
        each for each in first if all(any(each.swap == one.swap for one in own) for own in others)
    )


def _water(taking: set[int], order: Order, uses: Uses, pantry: Pantry) -> set[int]:
    """The steps right before that boil water for it, and nothing else."""
    found: set[int] = set()
    todo = [before for number in taking for before in order.direct[number]]
    while todo:
        number = todo.pop()
        own = uses.by_step.get(number, ())
        names = {item.name for use in own if (item := pantry.find(use.ingredient.name))}
        if number not in found and own and names == {_WATER}:
            found.add(number)
            todo += order.direct[number]
    return found


def at_the_table(step: Step, setting: Setting) -> Step:
    """A step for everyone as one table does it for itself, in a vessel of its own."""
    vessels = step.named(Kind.VESSEL, Kind.STIRRER)
    return replace(
        step,
        for_class=False,
        needs=tuple(_own(need, setting) if need.name in vessels else need for need in step.needs),
    )


def _own(need: Need, setting: Setting) -> Need:
    name = another(need.name, need.count, setting)
    return need if name == need.name else Need(name, need.count, need.place, setting.tool(name))


def another(name: str, count: int, setting: Setting) -> str:
    """What a table's own portion is cooked in, where the class has no more of the large one."""
    known = setting.tool(name)
    if setting.equipment.get(name, count + 1) > count or known is None:
        return name
    alike = (
        each
        for each in setting.equipment
        if each != name and (other := setting.tool(each)) and _is_alike(known, other)
    )
    return next(alike, name)


def _is_alike(one: Tool, other: Tool) -> bool:
    """Whether one can stand in for the other: the same thing, or a pot of another size."""
    pots = Kind.POT in one.kinds and one.kinds ^ other.kinds <= {Kind.BIG_POT}
    return one.name == other.name or (pots and one.cautions == other.cautions)


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
