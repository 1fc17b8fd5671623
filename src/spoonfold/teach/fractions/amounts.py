"""Questions on how much: times the recipe, for one person, a half of it, ratios."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import combinations
from math import gcd

from spoonfold.teach.fractions.amount_kinds import (
    AtThatRate,
    Compare,
    MoreOrLess,
    Multiply,
    PartOf,
    PercentOf,
    PerPerson,
    Ratio,
    RatioTable,
    ReadLine,
    ShareOne,
    Times,
    TimesPercent,
)
from spoonfold.teach.fractions.chance import Draws, pick
from spoonfold.teach.fractions.kinds import Question, Topic
from spoonfold.teach.fractions.numbers import DENOMINATORS, Food, Numbers

_TIMES = (2, 3, 4, 5)
"""Times that a class or a party makes of a recipe (common practice: more is made in batches)."""
_MOST_PERCENT = 250
_PARTS = (Fraction(1, 2), Fraction(1, 4), Fraction(3, 4))
_AMONG = (2, 3, 4, 6, 8)
_LINE_END = 2
"""A number line of grade 3 ends at two wholes."""


def times_the_recipe(numbers: Numbers, grade: int, draws: Draws) -> Iterator[Question]:
    """How many times the recipe is made."""
    for dish in numbers.dishes:
        if grade in (3, 4):
            standard = "3.OA.A.3" if grade == 3 else "4.OA.A.2"
            for times in _TIMES:
                yield Times(Topic.TIMES, standard, dish.key, dish.serves, dish.serves * times)
        for people in numbers.people(dish) if grade > 4 else ():
            factor = Fraction(people, dish.serves)
            if grade == 5 and factor.denominator != 1 and factor.denominator in DENOMINATORS[5]:
                yield Times(Topic.TIMES, "5.NF.B.3", dish.key, dish.serves, people)
            percent = factor * 100
            if grade == 6 and percent.denominator == 1 and percent <= _MOST_PERCENT:
                yield TimesPercent(Topic.TIMES, "6.RP.A.3.c", dish.key, dish.serves, people)


def multiplied(numbers: Numbers, grade: int, draws: Draws) -> Iterator[Question]:
    """An amount times a number."""
    for food in numbers.foods(grade):
        dish = next(each for each in numbers.dishes if each.key == food.dish)
        if grade < 5 and food.whole == (grade == 3) and food.amount != 1:
            standard = "3.OA.A.3" if grade == 3 else "4.NF.B.4.c"
            for factor in map(Fraction, _TIMES):
                if food.times(factor).is_sensible(grade):
                    yield Multiply(Topic.MULTIPLY, standard, food, factor)
        for people in numbers.people(dish) if grade > 4 else ():
            factor = Fraction(people, dish.serves)
            if factor < 1 or factor.denominator == 1 or not food.times(factor).is_sensible(grade):
                continue
            if grade == 5 and food.amount != 1:
                yield Multiply(Topic.MULTIPLY, "5.NF.B.6", food, factor)
            elif grade == 6 and food.whole and _is_fair_rate(food):
                yield AtThatRate(Topic.MULTIPLY, "6.RP.A.3.b", food, people)


def _is_fair_rate(food: Food) -> bool:
    """A rate a person that is a number to reckon with, and isn't just one."""
    rate = food.amount / food.people
    return rate != 1 and rate.denominator in DENOMINATORS[6]


def compared(numbers: Numbers, grade: int, draws: Draws) -> Iterator[Question]:
    """Which is more; ratios."""
    foods = numbers.foods(grade)
    if grade in (3, 4):
        yield from _scoops_compared(numbers, grade)
    for food in foods:
        if grade == 3 and food.unit == "cup" and not food.whole and food.amount < _LINE_END:
            yield _on_line(food, draws)
        if grade == 5 and not food.whole:
            dish = next(each for each in numbers.dishes if each.key == food.dish)
            for people in numbers.people(dish):
                times = Fraction(people, dish.serves)
                # With a whole number there is nothing to think about.
                if times.denominator != 1 and food.times(times).is_sensible(grade):
                    yield MoreOrLess(Topic.RATIO, "5.NF.B.5.b", food, times)
        if grade == 6 and food.whole:
            yield from _rates(food)
    if grade == 6:
        yield from _ratios(foods)


def _ratios(foods: Sequence[Food]) -> Iterator[Question]:
    """Two whole numbers of one unit; those that can be made smaller, where there are any."""
    pairs = [
        (one, two)
        for one, two in combinations([food for food in foods if food.whole], 2)
        if one.dish == two.dish and one.unit == two.unit and one.amount != two.amount
    ]
    common = [pair for pair in pairs if gcd(int(pair[0].amount), int(pair[1].amount)) > 1]
    for one, two in common or pairs:
        yield Ratio(Topic.RATIO, "6.RP.A.1", one, two)


def _on_line(food: Food, draws: Draws) -> Question:
    """Four letters on the ticks of a number line from 0 to 2, one of them at the amount."""
    below = food.amount.denominator
    ticks = [Fraction(n, below) for n in range(1, _LINE_END * below)]
    marks = {food.amount}
    while len(marks) < min(4, len(ticks)):
        marks.add(pick(draws, ticks))
    return ReadLine(Topic.RATIO, "3.NF.A.2.b", food, tuple(sorted(marks)))


def _scoops_compared(numbers: Numbers, grade: int) -> Iterator[Question]:
    """Scoops of two sizes; in grade 3 equally many, in grade 4 not, and never more than one cup."""
    cups = [cup for cup in numbers.room.cups if cup < 1]
    foods = [food for food in numbers.foods(grade) if food.unit == "cup"]
    for large, small in combinations(cups, 2):
        for first in (1, 2, 3):
            for second in (1, 2, 3):
                one, two = first * large, second * small
                if one == two or max(one, two) > 1 or (first == second) != (grade == 3):
                    continue
                # Equally many of a smaller scoop, and fewer of it too, is no question.
                if grade == 4 and second < first:
                    continue
                standard = "3.NF.A.3.d" if grade == 3 else "4.NF.A.2"
                for food in foods:
                    yield Compare(Topic.RATIO, standard, food, (first, second), (large, small))


def _rates(food: Food) -> Iterator[Question]:
    """For one person, and a table of people and amounts (whole numbers, as 6.RP.A.3.a has it)."""
    rate = food.amount / food.people
    if _is_fair_rate(food) and rate.denominator in food.parts:
        yield PerPerson(Topic.RATIO, "6.RP.A.2", food)
    columns = tuple(
        people
        for people in (2, 4, 6, 8, 10, 12)
        if (rate * people).denominator == 1 and rate * people <= 48
    )[:5]
    if len(columns) < 4 or food.people not in columns or rate == 1:
        return
    for blank, people in enumerate(columns):
        if people != food.people:
            yield RatioTable(Topic.RATIO, "6.RP.A.3.a", food, columns, blank)


def halved(numbers: Numbers, grade: int, draws: Draws) -> Iterator[Question]:
    """A half, a quarter or three quarters of it."""
    for food in numbers.foods(grade):
        if grade == 3:
            yield from _shared(food)
        for part in _PARTS if grade > 3 else ():
            made = food.amount * part
            people = food.people * part
            fits = people.denominator == 1 and made.denominator in food.parts
            if not fits or made.denominator not in DENOMINATORS[grade]:
                continue
            if grade == 4 and food.whole and made.denominator != 1:
                yield PartOf(Topic.HALVE, "4.NF.B.4.c", food, part)
            if grade == 5 and not food.whole:
                is_unit = food.amount.numerator == 1 and part.numerator == 1
                standard = "5.NF.B.7.c" if is_unit else "5.NF.B.6"
                yield PartOf(Topic.HALVE, standard, food, part)
            if grade == 6 and food.amount > 1:
                yield PercentOf(Topic.HALVE, "6.RP.A.3.c", food, int(part * 100))


def _shared(food: Food) -> Iterator[Question]:
    """Grade 3: a whole number halved, or one whole in equal parts."""
    half = Fraction(1, 2)
    if food.whole and food.amount % 2 == 0 and food.people % 2 == 0:
        yield PartOf(Topic.HALVE, "3.OA.A.3", food, half)
    for among in _AMONG:
        if food.amount == 1 and food.unit in ("cup", "") and among in food.parts:
            yield ShareOne(Topic.HALVE, "3.NF.A.1", food, among)
