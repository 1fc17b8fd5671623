"""Questions on how it is measured: which scoops, a lost cup, other units."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from spoonfold.teach.fractions.chance import Draws
from spoonfold.teach.fractions.kinds import Question, Topic
from spoonfold.teach.fractions.measure_kinds import (
    Convert,
    CountScoops,
    FewestScoops,
    LostToScoop,
    LostToSpoons,
    SameAs,
    fewest_scoops,
)
from spoonfold.teach.fractions.numbers import DENOMINATORS, Food, Numbers

_MOST_SCOOPS = {3: 8, 4: 12, 5: 24, 6: 24}
_RATES = (
    ("tbsp", "tsp", 3),
    ("cup", "tbsp", 16),
    ("cup", "fl oz", 8),
    ("lb", "oz", 16),
    ("pint", "cup", 2),
    ("quart", "cup", 4),
)
"""NIST Handbook 44, appendix C."""
_LABEL_RATES = (("cup", "ml", 240), ("tbsp", "ml", 15), ("tsp", "ml", 5))
"""What a measure counts as on food labels: 21 CFR 101.9(b)(5)(viii)."""
_MOST_WHOLE, _MOST_BROKEN = 64, 12
"""The largest answer in another unit: nobody counts 26⅔ tablespoons."""
_QUARTER = Fraction(1, 4)
_LEAST = {"pint": Fraction(1), "quart": Fraction(1)}
"""The smallest answer: nobody says a third of a quart."""
_GOOD_PARTS = frozenset({1, 2, 3, 4, 8})


def scooped(numbers: Numbers, grade: int, draws: Draws) -> Iterator[Question]:
    """How many scoops of a size, or the fewest of all sizes."""
    cups = numbers.room.cups
    for food in _in_cups(numbers.scaled_foods(grade), grade) if cups else ():
        for scoop in cups:
            count = food.amount / scoop
            standard = _scoop_standard(food.amount, scoop, grade)
            if (
                standard
                and scoop < 1
                and count.denominator == 1
                and (1 < count <= _MOST_SCOOPS[grade])
            ):
                yield CountScoops(Topic.SCOOPS, standard, food, scoop)
        if grade == 5 and not food.whole and food.amount <= 4:
            ways = fewest_scoops(food.amount, cups)
            if len(ways) == 1 and sum(map(bool, ways[0])) > 1:
                yield FewestScoops(Topic.SCOOPS, "5.NF.A.2", food, cups)


def _in_cups(foods: tuple[Food, ...], grade: int) -> list[Food]:
    most = 2 if grade == 3 else 6
    return [food for food in foods if food.unit == "cup" and food.amount <= most]


def _scoop_standard(amount: Fraction, scoop: Fraction, grade: int) -> str:
    """What counting these scoops is about; empty where it is no matter of that grade."""
    if scoop.numerator != 1:
        return ""
    match grade:
        case 3 if amount.denominator == 1:
            return "3.NF.A.3.c"
        case 3:
            return "3.NF.A.1" if amount.denominator == scoop.denominator else "3.NF.A.3.b"
        case 4:
            return "4.NF.B.4.a"
        case 5:
            return "5.NF.B.7.c" if amount.denominator == 1 else ""
        case _:
            return "6.NS.A.1" if amount.denominator != 1 else ""


def lost(numbers: Numbers, grade: int, draws: Draws) -> Iterator[Question]:
    """A cup that the amount needs is lost."""
    cups = numbers.room.cups
    for food in _in_cups(numbers.scaled_foods(grade), grade):
        for cup in cups:
            if food.amount != cup and (cup == 1 or food.amount % 1 != cup):
                continue
            if grade == 3:
                for other in cups:
                    count = cup / other
                    if other < cup and count.denominator == 1:
                        standard = "3.NF.A.3.c" if cup == 1 else "3.NF.A.3.b"
                        yield LostToScoop(Topic.LOST, standard, food, cup, other)
            elif cup < 1:
                standard = {4: "4.MD.A.2", 5: "5.MD.A.1", 6: "6.NS.A.1"}[grade]
                yield LostToSpoons(Topic.LOST, standard, food, cup)


def converted(numbers: Numbers, grade: int, draws: Draws) -> Iterator[Question]:
    """The same amount in another unit; in grade 3 with another denominator."""
    if grade == 3:
        for food in _in_cups(numbers.foods(grade), grade):
            for times in (2, 3, 4):
                below = food.amount.denominator * times
                if not food.whole and below in DENOMINATORS[grade]:
                    yield SameAs(Topic.CONVERT, "3.NF.A.3.b", food, below)
        return
    for food in numbers.scaled_foods(grade):
        if food.amount == 1:
            # The rate itself is told beside the question.
            continue
        for large, small, rate in _RATES:
            down = food.unit == large
            if not down and (food.unit != small or grade == 4):
                continue
            if grade == 4 and not food.whole:
                continue
            standard = {4: "4.MD.A.1", 5: "5.MD.A.1", 6: "6.RP.A.3.d"}[grade]
            made = Convert(
                Topic.CONVERT, standard, food, small if down else large, large, small, rate
            )
            (value,) = made.answer
            good = value.denominator in _GOOD_PARTS & DENOMINATORS[grade]
            most = _MOST_WHOLE if value.denominator == 1 else _MOST_BROKEN
            if good and _LEAST.get(made.to, _QUARTER) <= value <= most:
                yield made
        for unit, small, rate in _LABEL_RATES if grade == 6 else ():
            made = Convert(Topic.CONVERT, "6.RP.A.3.d", food, small, unit, small, rate)
            if food.unit == unit and made.answer[0].denominator == 1 and made.answer[0] <= 2000:
                yield made
