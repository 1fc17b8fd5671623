"""An amount as a kitchen with a scale and a metric jug measures it.

Volume becomes weight through the pantry's published weights alone; without one, and for what
pours, it stays volume. Small amounts stay level spoons: a scale is too coarse for them."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache

from spoonfold.model.pantry import Item, Pantry
from spoonfold.plan.amounts.convert import GRAM, TBSP, converted, known_unit
from spoonfold.plan.amounts.measure import MILLILITRE, Measured, Way
from spoonfold.plan.amounts.scale import Scaled, ScaledLine, ScaledUse
from spoonfold.problem import Place
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.unit import Dimension

CENTIMETRE = known_unit("cm")

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


def metric_amounts(whole: Scaled, pantry: Pantry) -> Mapping[Place, Amount]:
    """What of a recipe at one size is measured in metric: a line's amount by the line's place, and
    what a step takes of it by the place in the step."""
    found = {}
    for line in whole.lines:
        metric = metric_line(line, pantry.find(line.ingredient.name))
        if metric is not None:
            found[line.ingredient.place] = metric.amount
            places = (each.use.place for each in line.uses)
            found.update(zip(places, metric.uses, strict=True))
    return found


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
    if any((each.unit, each.each) != (first.unit, first.each) for each in known):
        return None
    low = sum((each.low for each in known), Fraction(0))
    if low < SMALLEST and first.unit in (GRAM, MILLILITRE):
        return None
    high = sum((each.high or each.low for each in known), Fraction(0))
    return MetricLine(replace(first, low=low, high=high if high > low else None), known)


def _by_the_spoon(measured: Sequence[Measured]) -> bool:
    volumes = [
        each.exact.to(TBSP).low
        for each in measured
        if each.exact.unit.dimension is Dimension.VOLUME
    ]
    return bool(volumes) and sum(volumes, Fraction(0)) < SPOONS_BELOW


def _of_use(use: ScaledUse, item: Item | None) -> Amount | None:
    measured = use.measured
    if measured is None or use.use.piece:
        return None
    if measured.exact.unit.dimension is not Dimension.COUNT:
        return metric_of(measured.exact, item, use.use.ingredient.preparation)
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
