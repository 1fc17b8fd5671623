"""The swaps of a dish at the tables that need them, scaled and measured."""

from __future__ import annotations

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
from spoonfold.plan.safety.avoid import Finding
from spoonfold.plan.safety.needs import SURE, Answer, answers_of, replaced
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
    is_taste: bool = False
    """The original is only not liked there: a crumb of it harms nobody."""
    is_missing: bool = False
    """The original isn't there on that day; nobody avoids it."""


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
                kitchen,
                table,
                swap,
                answers,
                portions[table - 1] / recipe.serves,
            ),
        )
    return tuple(found.values())


def _tables(need: DietNeed, setting: Setting) -> Sequence[int]:
    """A need without a table holds at every one at which somebody sits."""
    taken = [table for table, children in enumerate(setting.tables, start=1) if children]
    return taken if need.table is None else [each for each in taken if each == need.table]


def _at_table(
    recipe: Recipe,
    uses: Uses,
    pantry: Pantry,
    kitchen: Kitchen,
    table: int,
    swap: Swap,
    answers: Sequence[Answer],
    factor: Fraction,
) -> TableSwap:
    originals = replaced(recipe, swap)
    item = pantry.find(swap.use.name)
    once = {step.number for step in recipe.steps if step.shared}
    shared = any(use.step in once for each in originals for use in uses.of(each))
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
        is_taste=all(answer.need.is_taste for answer in answers),
        is_missing=all(answer.need.is_missing for answer in answers),
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
