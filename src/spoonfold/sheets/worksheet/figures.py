"""What is drawn beside a question: bars, cups, number lines. Values alone; press draws them.

Here are those that several kinds of question show; what one alone shows stands with it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.sheets.worksheet.names import Names
from spoonfold.sheets.worksheet.numbers import TBSP_IN_CUP, TSP_IN_TBSP, Food

TSP = {"cup": TBSP_IN_CUP * TSP_IN_TBSP, "tbsp": TSP_IN_TBSP, "tsp": 1}
"""Measures that can be drawn, in teaspoons."""
_MOST_SHADED = 3
"""As many wholes as there is room for beside a question."""


@dataclass(frozen=True, slots=True)
class Bar:
    """One whole, divided into equal parts, shaded from the left."""

    parts: int
    shaded: Fraction
    """0 to 1."""
    label: str


@dataclass(frozen=True, slots=True)
class Bars:
    """Wholes of one size, in reading order."""

    bars: tuple[Bar, ...]
    words: str
    """For who can't see it."""


@dataclass(frozen=True, slots=True)
class Cup:
    """A cup measure, drawn at its true size beside the others."""

    tsp: Fraction
    label: str
    is_lost: bool = False


@dataclass(frozen=True, slots=True)
class Cups:
    """Cup measures in a row."""

    cups: tuple[Cup, ...]
    has_boxes: bool
    """A box under each for how many are taken."""
    words: str


@dataclass(frozen=True, slots=True)
class Mark:
    """A place on a line, and what stands there."""

    at: Fraction
    label: str


@dataclass(frozen=True, slots=True)
class Line:
    """A number line with a tick at every step."""

    low: Fraction
    high: Fraction
    step: Fraction
    above: tuple[Mark, ...]
    """Numbers of the line."""
    below: tuple[Mark, ...]
    """A second row of numbers."""
    points: tuple[Mark, ...]
    """Dots on the line, with their letters or words."""
    words: str


Figure = Bars | Cups | Line


def filled(food: Food, parts: int, names: Names) -> tuple[Bar, ...]:
    """As many wholes as hold the amount, each in so many parts, shaded up to it."""
    one = names.amount(Fraction(1), food.unit)
    return tuple(
        Bar(parts, min(Fraction(1), food.amount - at), one) for at in range(math.ceil(food.amount))
    )


def shaded(food: Food, parts: int, names: Names) -> Bars:
    """The amount as bars, each whole in so many parts."""
    bars = filled(food, parts, names)
    return Bars(
        bars,
        names.texts.say(
            "Bars, each one whole: {count}. Shaded in all: {amount}.",
            count=len(bars),
            amount=names.amount(food.amount, food.unit),
        ),
    )


def shaded_amount(food: Food, names: Names) -> Bars | None:
    """The amount as bars in its own parts, where it is a few cups or spoons."""
    if food.unit not in TSP or food.amount > _MOST_SHADED:
        return None
    return shaded(food, food.amount.denominator, names)


def cup_of(size: Fraction, names: Names, is_lost: bool = False) -> Cup:
    """A cup measure of so many cups."""
    return Cup(size * TSP["cup"], names.cups(size), is_lost)


def one_of(unit: str, names: Names) -> Cup:
    """The measure of a unit: a cup, a tablespoon, a teaspoon."""
    return Cup(Fraction(TSP[unit]), names.amount(Fraction(1), unit))


def two_measures(first: Cup, second: Cup, names: Names) -> Cups:
    """Two of them beside each other."""
    said = names.texts.say(
        "Two measures at true size: {first} and {second}.", first=first.label, second=second.label
    )
    return Cups((first, second), False, said)
