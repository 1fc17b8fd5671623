"""Volume to mass and back, through the pantry's published weights alone.

Where the pantry has no weight for the measure and the form, the answer is None: a
number that was guessed is worse than none.
"""

from __future__ import annotations

import re
from fractions import Fraction

from spoonfold.model.pantry import Item, Weight
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.unit import Dimension, Unit, size_in, unit_named

_WORD = re.compile(r"[a-z]+")

# Which published form a preparation means, where it isn't the same word: common practice.
_SAME_FORM = {
    "diced": "chopped",
    "cut": "chopped",
    "rinsed": None,
    "peeled": None,
    "cubes": "cubed",
    "shreds": "shredded",
    "slices": "sliced",
    "puree": "pureed",
}


def known_unit(name: str) -> Unit:
    """A unit that ships with Spoonfold; a wrong name is a bug."""
    unit = unit_named(name)
    if unit is None:
        raise KeyError(name)
    return unit


CUP, TBSP, TSP, GRAM, OUNCE, POUND = map(known_unit, ("cup", "tbsp", "tsp", "g", "oz", "lb"))


def _forms(preparation: str | None) -> frozenset[str]:
    """Forms that a preparation may mean."""
    words = _WORD.findall((preparation or "").lower())
    forms = {_SAME_FORM.get(word, word) for word in words} | set(words)
    return frozenset(form for form in forms if form)


def grams_of_one(
    item: Item, unit: Unit, size: str | None, preparation: str | None
) -> tuple[Fraction, Weight] | None:
    """What one `unit` weighs in grams, and the published weight that says so."""
    if unit.dimension is Dimension.MASS:
        return None
    wanted = _forms(preparation) | ({size} if size else set())
    plain: tuple[Fraction, Weight] | None = None
    for weight in item.weights:
        measure = weight.measure
        if measure.unit.dimension is not unit.dimension:
            continue
        if unit.dimension is Dimension.COUNT and measure.unit != unit:
            continue
        one = weight.grams / (measure.low * size_in(measure.unit, unit))
        form = weight.form or measure.size
        if form is not None and form in wanted:
            return one, weight
        if form is None and plain is None:
            plain = one, weight
    return plain


def converted(
    amount: Amount, unit: Unit, item: Item | None, preparation: str | None
) -> Amount | None:
    """The amount in another unit, or None where nothing published says how much that is."""
    if amount.unit.dimension is unit.dimension and (
        unit.dimension is not Dimension.COUNT or amount.unit == unit
    ):
        return amount.to(unit)
    if item is None:
        return None
    grams = _in_grams(amount, item, preparation)
    if grams is None:
        return None
    if unit.dimension is Dimension.MASS:
        return _scaled(amount, unit, grams * size_in(GRAM, unit))
    one = grams_of_one(item, unit, None, preparation)
    return None if one is None else _scaled(amount, unit, grams / one[0])


def _in_grams(amount: Amount, item: Item, preparation: str | None) -> Fraction | None:
    """The low end of an amount in grams."""
    if amount.unit.dimension is Dimension.MASS:
        return amount.low * size_in(amount.unit, GRAM)
    if amount.each is not None and amount.each.unit.dimension is Dimension.MASS:
        # A can's printed weight is its net weight, liquid and all: no measure of the food.
        return None
    one = grams_of_one(item, amount.unit, amount.size, preparation)
    return None if one is None else amount.low * one[0]


def _scaled(amount: Amount, unit: Unit, low: Fraction) -> Amount:
    high = None if amount.high is None else low * amount.high / amount.low
    return Amount(low=low, unit=unit, high=high)
