"""A line of an ingredient list at many sizes, worked out once for all that list it alike.

A page shows a dish for one to twelve people and for the class, in every language of the class;
and of many dishes quite a few take a teaspoon of salt in one step.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from spoonfold.model.pantry import Item, Pantry
from spoonfold.model.recipe import Ingredient, Recipe
from spoonfold.plan.amounts.measure import Kitchen
from spoonfold.plan.amounts.metric import MetricLine, metric_line
from spoonfold.plan.amounts.scale import ScaledLine, is_tasted, line_of, scaled_use, total_of
from spoonfold.plan.amounts.uses import Use, Uses
from spoonfold.problem import Place
from spoonfold.quantity.amount import Amount

_NOWHERE = Place("")


@dataclass(frozen=True, slots=True)
class Taken:
    """What one step takes of a line."""

    share: Fraction | None
    """Of the listed amount; None for what is taken as needed."""
    piece: str | None
    """`zest`, `yolk` ...: only that part of it."""
    is_shared: bool
    """Taken once for all tables."""


@dataclass(frozen=True, slots=True)
class Listed:
    """All of an ingredient line that its amounts depend on, whatever it is called."""

    amount: Amount | None
    preparation: str | None
    item: Item | None
    taken: tuple[Taken, ...]
    """In the order of the steps; empty: no step takes it."""
    serves: Fraction
    tasted: bool = False
    """Where the dish is made larger, three quarters first."""

    def __hash__(self) -> int:
        """By what differs most."""
        return hash((self.amount, self.item, self.preparation, len(self.taken)))


@dataclass(frozen=True, slots=True)
class AtSize:
    """A line at one size."""

    line: ScaledLine
    """Of an ingredient without a name."""
    metric: MetricLine | None
    """The same in metric measures; None where it is measured as always."""


def listed_lines(recipe: Recipe, uses: Uses, pantry: Pantry) -> Mapping[str, Listed]:
    """The lines of a recipe by their ingredients' keys."""
    shared = {step.number for step in recipe.steps if step.shared}
    return {
        each.key: Listed(
            each.amount,
            each.preparation,
            pantry.find(each.name),
            tuple(Taken(use.share, use.piece, use.step in shared) for use in uses.of(each)),
            recipe.serves,
            is_tasted(recipe, uses, each, pantry),
        )
        for each in recipe.ingredients
    }


@lru_cache(maxsize=1 << 11)
def at_sizes(
    listed: Listed, portions: tuple[Fraction, ...], kitchen: Kitchen
) -> tuple[AtSize, ...]:
    """The line for so many portions each; nothing where no step takes it."""
    uses = _uses(listed, listed.taken)
    lines = [_line(listed, uses, each, kitchen) for each in portions if uses]
    return tuple(AtSize(line, metric_line(line, listed.item)) for line in lines)


@lru_cache(maxsize=1 << 11)
def in_class(
    listed: Listed, tables: tuple[Fraction, ...], kitchen: Kitchen
) -> tuple[tuple[ScaledLine | None, ...], ScaledLine | None]:
    """What each table of so many portions takes, and the sum with what is made once for all;
    None where nothing is taken."""
    own = _uses(listed, tuple(each for each in listed.taken if not each.is_shared))
    common = _uses(listed, tuple(each for each in listed.taken if each.is_shared))
    at_tables = tuple(_line(listed, own, each, kitchen) if own else None for each in tables)
    for_all = [_line(listed, common, sum(tables, Fraction(0)), kitchen)] if common else []
    lines = [*(each for each in at_tables if each is not None), *for_all]
    return at_tables, total_of(lines[0].ingredient, lines) if lines else None


def _uses(listed: Listed, taken: tuple[Taken, ...]) -> tuple[Use, ...]:
    ingredient = Ingredient("", listed.amount, listed.preparation, _NOWHERE)
    return tuple(Use(ingredient, 0, each.share, each.piece, _NOWHERE) for each in taken)


def _line(
    listed: Listed, uses: tuple[Use, ...], portions: Fraction, kitchen: Kitchen
) -> ScaledLine:
    factor = portions / listed.serves
    scaled = tuple(scaled_use(use, factor, listed.item, kitchen) for use in uses)
    return line_of(uses[0].ingredient, scaled, factor > 1 and listed.tasted)
