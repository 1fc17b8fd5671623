"""The published guide for rounding weights and measures, as numbers.

Source: "Guide for Rounding Off Weights and Measures", USDA FNS and National Food Service
Management Institute, Measuring Success with Standardized Recipes (2002). The row for
3/4 cup to 2 cups is from memory.

The guide leaves exactly 1 tablespoon, 3/4 cup, 10 gallons and 20 gallons in no row: here
they take the finer of the two neighbouring steps.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil

TBSP = Fraction(3)
CUP = Fraction(48)
QUART = 4 * CUP
GALLON = 4 * QUART
POUND = Fraction(16)

_VOLUME_STEPS: tuple[tuple[Fraction, bool, Fraction], ...] = (
    (TBSP, True, Fraction(1, 8)),
    (3 * TBSP, False, Fraction(1, 4)),
    (CUP / 2, True, Fraction(1, 2)),
    (CUP * 3 / 4, True, Fraction(1)),
    (2 * CUP, False, TBSP),
    (2 * QUART, True, CUP / 4),
    (GALLON, False, CUP / 2),
    (2 * GALLON, True, CUP),
    (10 * GALLON, True, QUART),
    (20 * GALLON, True, GALLON / 2),
)
"""Up to this many teaspoons, whether that very amount belongs here, and the step."""

_WEIGHT_STEPS: tuple[tuple[Fraction, bool, Fraction], ...] = (
    # The guide weighs nothing below 2 oz but 1/4, 1/2 and 3/4 oz; where there is no measure
    # to turn to, an eighth is what a kitchen scale shows (common practice, from memory).
    (Fraction(2), False, Fraction(1, 8)),
    (Fraction(10), True, Fraction(1, 4)),
    (POUND * 5 / 2, False, Fraction(1, 2)),
    (POUND * 5, True, Fraction(1)),
)
"""The same in ounces."""

_WORTH_WEIGHING = (Fraction(1, 4), Fraction(1, 2), Fraction(3, 4))


def volume_step(amount_in_tsp: Fraction, accurate: bool) -> Fraction:
    """The step, in teaspoons, to which a volume in teaspoons is rounded.

    `accurate` is the guide's footnote for baked goods and whatever else needs its ratios
    kept: above 2 gallons the step stays a full cup.
    """
    step = _step(_VOLUME_STEPS, amount_in_tsp, GALLON)
    return min(step, CUP) if accurate else step


def weight_step(oz: Fraction) -> Fraction:
    """The step, in ounces, to which a weight in ounces is rounded."""
    return _step(_WEIGHT_STEPS, oz, POUND / 4)


def is_weighed(oz: Fraction) -> bool:
    """Whether the guide weighs this at all, rather than measuring it by volume."""
    return oz >= 2 or oz in _WORTH_WEIGHING


def round_weight(oz: Fraction) -> Fraction:
    """A weight in ounces by the guide; never nothing, however little it is."""
    step = weight_step(oz)
    return round_to(oz, step) or step


def round_to(value: Fraction, step: Fraction) -> Fraction:
    """The nearest multiple of a step; of two that are as near, the smaller.

    The guide does not say which, and too little can be mended.
    """
    return ceil(value / step - Fraction(1, 2)) * step


def _step(
    steps: tuple[tuple[Fraction, bool, Fraction], ...], amount: Fraction, largest: Fraction
) -> Fraction:
    for limit, included, step in steps:
        if amount < limit or (included and amount == limit):
            return step
    return largest
