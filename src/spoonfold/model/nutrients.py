"""What is in 100 g of a food, and packaged foods to set a dish beside."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.quantity.amount import Amount

NUTRIENTS = ("sodium", "sugars", "fibre")
"""Sodium in milligrams, sugars and fibre in grams."""


@dataclass(frozen=True, slots=True)
class FoodRow:
    """One row of the USDA table."""

    ndb: str
    """Its number in the USDA National Nutrient Database, release 26."""
    food: str
    per_100_g: Mapping[str, Fraction]
    """By nutrient, in 100 g of what is edible; without those that weren't measured."""


@dataclass(frozen=True, slots=True)
class PackagedFood:
    """A packaged food without a brand, and one portion of it."""

    name: str
    row: FoodRow
    """Every nutrient of it is known."""
    portion: Amount
    """By a household measure."""
    grams: Fraction
    """What that portion weighs."""
