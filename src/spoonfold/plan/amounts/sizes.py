"""A line of an ingredient list at many sizes, worked out once for all that list it alike.

A page shows a dish for one to twelve people and for the class, in every language of the class;
and of many dishes quite a few take a teaspoon of salt in one step.

An amount as a kitchen with a scale and a metric jug measures it.

Volume becomes weight through the pantry's published weights alone; without one, and for what
pours, it stays volume. Small amounts stay level spoons: a scale is too coarse for them."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache

from spoonfold.model.pantry import Item, Pantry
from spoonfold.model.recipe import Ingredient, Recipe
from spoonfold.plan.amounts.convert import GRAM, TBSP, converted, known_unit
from spoonfold.plan.amounts.measure import Kitchen, Measured, Way
from spoonfold.plan.amounts.scale import (
    ScaledLine,
    ScaledUse,
    is_tasted,
    line_of,
    scaled_use,
    total_of,
)
from spoonfold.plan.amounts.uses import Use, Uses
from spoonfold.problem import Place
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.unit import Dimension

MILLILITRE, CENTIMETRE = known_unit("ml"), known_unit("cm")

SPOONS_BELOW = Fraction(2)
"""Tablespoons of a whole line: less of it is measured with spoons (common practice)."""

SMALLEST = Fraction(10)
"""Grams or millilitres of a whole line: less of it is nothing for a scale in a kitchen (common
practice)."""

_STEPS = (Fraction(10), Fraction(5), Fraction(1))
"""Grams and millilitres that cooks say (common practice), the coarsest first."""

_WITHIN = Fraction(3, 100)
"""A coarser step may be this far off, as a share."""


@dataclass(frozen=True, slots=True)
class MetricLine:
    """An ingredient line in metric measures."""

    amount: Amount
    """The sum of what its steps take."""
    uses: tuple[Amount, ...]
    """What each of them takes, in the order of the steps."""


def metric_line(line: ScaledLine, item: Item | None) -> MetricLine | None:
    """A line in metric measures; None where it is measured as it always is: by the spoon, by the
    piece, as needed.

    It is asked of the whole line, so that its steps are measured in one way and add up.
    """
    if _by_the_spoon([each.measured for each in line.uses if each.measured is not None]):
        return None
    uses = tuple(_of_use(use, item) for use in line.uses)
    known = tuple(each for each in uses if each is not None)
    if not known or len(known) < len(uses):
        return None
    first = known[0]
    if len(known) == 1:
        return None if _is_nothing_for_a_scale(first) else MetricLine(first, known)
    if any((each.unit, each.each) != (first.unit, first.each) for each in known):
        return None
    low = sum((each.low for each in known), Fraction(0))
    if low < SMALLEST and first.unit in (GRAM, MILLILITRE):
        return None
    high = sum((each.high or each.low for each in known), Fraction(0))
    return MetricLine(replace(first, low=low, high=high if high > low else None), known)


def _is_nothing_for_a_scale(amount: Amount) -> bool:
    return amount.low < SMALLEST and amount.unit in (GRAM, MILLILITRE)


def _by_the_spoon(measured: Sequence[Measured]) -> bool:
    volumes = [
        each.exact.to(TBSP).low
        for each in measured
        if each.exact.unit.dimension is Dimension.VOLUME
    ]
    if len(volumes) == 1:
        return volumes[0] < SPOONS_BELOW
    return bool(volumes) and sum(volumes, Fraction(0)) < SPOONS_BELOW


def _of_use(use: ScaledUse, item: Item | None) -> Amount | None:
    if use.measured is None or use.use.piece:
        return None
    return _measured(use.measured, item, use.use.ingredient.preparation)


def _measured(measured: Measured, item: Item | None, preparation: str | None) -> Amount | None:
    if measured.exact.unit.dimension is not Dimension.COUNT:
        return metric_of(measured.exact, item, preparation)
    # Cans are opened whole or in parts that can be told, as they are without a scale.
    return metric_of(measured.shown[0], item, None) if measured.way is Way.COUNT else None


@lru_cache(maxsize=1 << 13)
def metric_of(amount: Amount, item: Item | None, preparation: str | None) -> Amount | None:
    """One amount in grams, millilitres or centimetres; None where it has none of these."""
    match amount.unit.dimension:
        case Dimension.VOLUME:
            grams = (
                None
                if item is not None and item.liquid
                else converted(amount, GRAM, item, preparation)
            )
            return _rounded(grams or amount.to(MILLILITRE))
        case Dimension.MASS:
            return _rounded(amount.to(GRAM))
        case Dimension.LENGTH:
            return _stepped(amount.to(CENTIMETRE), Fraction(1, 2))
        case Dimension.COUNT:
            if amount.each is None or amount.each.unit.dimension not in (
                Dimension.MASS,
                Dimension.VOLUME,
            ):
                return None
            # What a can holds is printed on it to the gram, and rounding would name no can.
            unit = GRAM if amount.each.unit.dimension is Dimension.MASS else MILLILITRE
            return replace(amount, each=_stepped(amount.each.to(unit), Fraction(1)))


def _rounded(amount: Amount) -> Amount:
    """Both ends to the coarsest step that is near enough to each."""
    low = _near(amount.low)
    high = None if amount.high is None else _near(amount.high)
    return replace(amount, low=low, high=high if high is not None and high > low else None)


def _near(value: Fraction) -> Fraction:
    for step in _STEPS:
        shown = _nearest(value, step)
        if abs(shown - value) <= _WITHIN * value:
            return shown
    return max(_nearest(value, _STEPS[-1]), _STEPS[-1])


def _stepped(amount: Amount, step: Fraction) -> Amount:
    low = max(_nearest(amount.low, step), step)
    high = None if amount.high is None else _nearest(amount.high, step)
    return replace(amount, low=low, high=high if high is not None and high > low else None)


def _nearest(value: Fraction, step: Fraction) -> Fraction:
    """The nearest multiple of a step; halves go up."""
    return math.floor(value / step + Fraction(1, 2)) * step


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
