"""The swaps of a dish at the tables that need them, scaled and measured.

What is cooked apart: a table's swap for a food of the dish that is made once for everyone."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.model.classroom import DietNeed, Setting
from spoonfold.model.pantry import Pantry
from spoonfold.model.recipe import Ingredient, Recipe, Swap
from spoonfold.plan.amounts.eaters import portions_at_tables
from spoonfold.plan.amounts.measure import Measured, measure
from spoonfold.plan.amounts.tools import Kitchen, class_kitchen
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.clock.step_order import Order, StepKey
from spoonfold.plan.safety.avoid import Finding, findings_of, worst
from spoonfold.plan.safety.needs import SURE, Answer, answers_of, avoids, replaced
from spoonfold.quantity.unit import Dimension


@dataclass(frozen=True, slots=True)
class TableSwap:
    """One swap at one table."""

    table: int
    swap: Swap
    originals: tuple[Ingredient, ...]
    """What it replaces."""
    if_label: tuple[Finding, ...]
    """Not empty: the original may be used, unless its label names one of these."""
    duties: tuple[Finding, ...]
    """What the replacement's label must be read for, or the family be asked."""
    amount: Measured | None
    """For this table; None: as needed."""
    by_step: Mapping[int, Measured]
    """What each step takes of it; empty where the steps can't be told apart."""
    shared: bool
    """The original goes into something that is made once for everyone: the table's own is made
    apart."""
    for_class: Measured | None
    """Where it is shared and nobody in the class avoids the replacement: so much, for all."""


def table_swaps(
    recipe: Recipe, uses: Uses, pantry: Pantry, setting: Setting
) -> tuple[TableSwap, ...]:
    """Every swap that the needs of a session ask for, by table; one for each replaced line."""
    kitchen = class_kitchen(setting)
    portions = portions_at_tables(setting)
    asked: dict[tuple[int, str], list[Answer]] = {}
    for answer in answers_of(recipe, setting.needs, pantry):
        if answer.swap is not None:
            for table in _tables(answer.need, setting):
                asked.setdefault((table, answer.ingredient.key), []).append(answer)
    found: dict[tuple[int, int], TableSwap] = {}
    for (table, _), answers in sorted(asked.items(), key=lambda each: each[0][0]):
        swap = answers[0].swap
        assert swap is not None
        number = recipe.swaps.index(swap)
        found.setdefault(
            (table, number),
            _at_table(
                recipe,
                uses,
                pantry,
                setting,
                kitchen,
                table,
                swap,
                answers,
                portions[table - 1] / recipe.serves,
                sum(portions, Fraction(0)) / recipe.serves,
            ),
        )
    return tuple(found.values())


def _tables(need: DietNeed, setting: Setting) -> Sequence[int]:
    """A need without a table holds at every one."""
    if need.table is None:
        return range(1, len(setting.tables) + 1)
    return (need.table,) if need.table <= len(setting.tables) else ()


def _at_table(
    recipe: Recipe,
    uses: Uses,
    pantry: Pantry,
    setting: Setting,
    kitchen: Kitchen,
    table: int,
    swap: Swap,
    answers: Sequence[Answer],
    factor: Fraction,
    class_factor: Fraction,
) -> TableSwap:
    originals = replaced(recipe, swap)
    item = pantry.find(swap.use.name)
    once = {step.number for step in recipe.steps if step.shared}
    shared = any(use.step in once for each in originals for use in uses.of(each))
    everyone = tuple(word for need in setting.needs for word in avoids(need))
    suits_all = worst(findings_of(item, everyone, pantry)) not in SURE
    listed = swap.use.amount

    def measured(share: Fraction) -> Measured | None:
        return (
            None
            if listed is None
            else measure(listed.times(share), item, swap.use.preparation, kitchen)
        )

    certain = any(answer.match in SURE for answer in answers)
    return TableSwap(
        table=table,
        swap=swap,
        originals=originals,
        if_label=() if certain else _together(answer.findings for answer in answers),
        duties=_together(answer.duties for answer in answers),
        amount=measured(factor),
        by_step={
            number: amount
            for number, share in _shares(originals, uses).items()
            if (amount := measured(factor * share)) is not None
        },
        shared=shared,
        for_class=measured(class_factor) if shared and suits_all else None,
    )


def _together(groups: Iterable[tuple[Finding, ...]]) -> tuple[Finding, ...]:
    return tuple(dict.fromkeys(each for group in groups for each in group))


def shares_of(originals: Sequence[Ingredient]) -> tuple[Fraction | None, ...]:
    """What part of a replacement stands for each line that it replaces. Where their amounts have
    no sum (a can and a cup have none without a weight), all of it stands for the first, and None,
    as needed, for the others."""
    if len(originals) == 1:
        return (Fraction(1),)
    amounts = [each.amount for each in originals]
    kinds = {
        amount.unit if amount.unit.dimension is Dimension.COUNT else amount.unit.dimension
        for amount in amounts
        if amount is not None
    }
    if None in amounts or len(kinds) != 1:
        return (Fraction(1), *(None for _ in originals[1:]))
    unit = next(amount.unit for amount in amounts if amount is not None)
    sizes = [amount.to(unit).low for amount in amounts if amount is not None]
    return tuple(size / sum(sizes) for size in sizes)


def _shares(originals: Sequence[Ingredient], uses: Uses) -> dict[int, Fraction]:
    """What share of the replaced amount each step takes, where the steps say it."""
    parts = shares_of(originals)
    if None in parts or any(each.amount is None for each in originals):
        return {}
    shares: dict[int, Fraction] = {}
    for each, part in zip(originals, parts, strict=True):
        for use in uses.of(each):
            if use.piece is not None or use.share is None or part is None:
                return {}
            shares[use.step] = shares.get(use.step, Fraction(0)) + use.share * part
    return shares


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
