"""A dish beside its packaged cousin: sums that children can do, with friendly numbers.

Sodium, sugars and fibre by weight, from the USDA National Nutrient Database for Standard
Reference, release 26. Estimates, for learning: weights are those before cooking, and a table's
carrot is nobody's carrot.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.model.pantry import NUTRIENTS, FoodRow, PackagedFood

STEPS: Mapping[str, Fraction] = {
    "sodium": Fraction(1),
    "sugars": Fraction(1, 10),
    "fibre": Fraction(1, 10),
}
"""To what each answer is rounded: milligrams, then grams."""

_MOST_LINES = 3
"""Foods that are worked out one by one; the others are given as a sum."""
_QUARTER = Fraction(1, 4)


@dataclass(frozen=True, slots=True)
class Dishful:
    """One food of a dish."""

    name: str
    grams: Fraction
    """In the whole recipe."""
    row: FoodRow | None
    """None: the table doesn't have it."""


@dataclass(frozen=True, slots=True)
class Line:
    """One food's part of one nutrient, in friendly numbers."""

    name: str
    grams: Fraction
    per_100_g: Fraction
    answer: Fraction
    """grams / 100 x per 100 g, rounded to the nutrient's step."""


@dataclass(frozen=True, slots=True)
class Sum:
    """One nutrient of the dish."""

    nutrient: str
    lines: tuple[Line, ...]
    rest: Fraction
    """What all other foods bring together; rounded, and given."""
    total: Fraction
    portion: Fraction
    exact: Fraction
    """A portion by the table, with no number rounded on the way."""
    unknown: tuple[str, ...]
    """Foods of which the table doesn't say it."""


@dataclass(frozen=True, slots=True)
class Packet:
    """One nutrient of the packaged food."""

    nutrient: str
    per_100_g: Fraction
    answer: Fraction
    """In its portion."""
    same_weight: Fraction
    """In as much as weighs what a portion of the dish weighs."""


@dataclass(frozen=True, slots=True)
class Race:
    """A dish and its packaged cousin, with one right answer to every question."""

    sums: tuple[Sum, ...]
    packets: tuple[Packet, ...]
    serves: Fraction
    our_grams: Fraction
    """A portion of the dish, to the nearest 10 g."""
    packet_grams: Fraction
    """A portion of the packaged food, in a friendly number."""
    times: Fraction
    """How many of the packet's portions weigh as much as one of ours, to the nearest quarter."""


def race_of(foods: Sequence[Dishful], serves: Fraction, cousin: PackagedFood) -> Race:
    """The whole worksheet; weights in grams, sodium in milligrams, sugars and fibre in grams."""
    portion = sum((food.grams for food in foods), Fraction(0)) / serves
    packet_grams = friendly(cousin.grams)
    times = max(_QUARTER, rounded(portion / cousin.grams, _QUARTER))
    return Race(
        sums=tuple(_sum(nutrient, foods, serves) for nutrient in NUTRIENTS),
        packets=tuple(_packet(nutrient, cousin.row, packet_grams, times) for nutrient in NUTRIENTS),
        serves=serves,
        our_grams=rounded(portion, Fraction(10)),
        packet_grams=packet_grams,
        times=times,
    )


def friendly(value: Fraction) -> Fraction:
    """A number of two figures, halves up: 794 becomes 790, 17.91 becomes 18."""
    if value <= 0:
        return Fraction(0)
    step = Fraction(1)
    while value >= step * 100:
        step *= 10
    while value < step * 10:
        step /= 10
    return rounded(value, step)


def rounded(value: Fraction, step: Fraction) -> Fraction:
    """To the nearest multiple of a step, halves up."""
    return math.floor(value / step + Fraction(1, 2)) * step


def _sum(nutrient: str, foods: Sequence[Dishful], serves: Fraction) -> Sum:
    step = STEPS[nutrient]
    known = [
        (food, food.row.per_100_g[nutrient])
        for food in foods
        if food.row is not None and nutrient in food.row.per_100_g
    ]
    parts = sorted(
        ((food.grams * per / 100, at) for at, (food, per) in enumerate(known)),
        key=lambda each: (-each[0], each[1]),
    )
    shown = [(amount, at) for amount, at in parts[:_MOST_LINES] if rounded(amount, step)]
    lines = []
    for _, at in shown:
        food, per = known[at]
        grams, per = friendly(food.grams), friendly(per)
        lines.append(Line(food.name, grams, per, rounded(grams * per / 100, step)))
    rest = rounded(sum((amount for amount, _ in parts[len(shown) :]), Fraction(0)), step)
    total = sum((line.answer for line in lines), Fraction(0)) + rest
    names = {food.name for food, _ in known}
    return Sum(
        nutrient=nutrient,
        lines=tuple(lines),
        rest=rest,
        total=total,
        portion=rounded(total / serves, step),
        exact=sum((amount for amount, _ in parts), Fraction(0)) / serves,
        unknown=tuple(food.name for food in foods if food.name not in names),
    )


def _packet(nutrient: str, row: FoodRow, grams: Fraction, times: Fraction) -> Packet:
    step = STEPS[nutrient]
    per = friendly(row.per_100_g[nutrient])
    answer = rounded(grams * per / 100, step)
    return Packet(nutrient, per, answer, rounded(answer * times, step))
