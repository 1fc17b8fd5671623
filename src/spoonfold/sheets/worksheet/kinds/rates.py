"""Grade 6: how much it is for one person, for others at that rate, and in a table."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.quantity.show import show_number as n
from spoonfold.sheets.worksheet.chance import Draws
from spoonfold.sheets.worksheet.figures import Line, Mark
from spoonfold.sheets.worksheet.names import Names
from spoonfold.sheets.worksheet.numbers import DENOMINATORS, Food, Numbers
from spoonfold.sheets.worksheet.question import AboutFood, Answer, Asked, Question, Topic
from spoonfold.sheets.worksheet.working import divided, multiplied

_MOST_ON_LINE = 16
_COLUMNS = (2, 4, 6, 8, 10, 12)
_FEWEST_COLUMNS, _MOST_COLUMNS = 4, 5
_MOST_IN_TABLE = 48


def for_others(numbers: Numbers, grade: int, draws: Draws) -> Iterator[Question]:
    """For more people than the recipe's, and not for twice as many."""
    for food in numbers.foods(grade) if grade == 6 else ():
        for factor in numbers.factors(food):
            broken = factor > 1 and factor.denominator != 1
            fits = broken and food.times(factor).is_sensible(grade)
            if fits and food.whole and _is_fair(food):
                yield AtThatRate("6.RP.A.3.b", food, int(food.people * factor))


def rates(numbers: Numbers, grade: int, draws: Draws) -> Iterator[Question]:
    """For one person, and a table of people and amounts (whole numbers, as 6.RP.A.3.a has it)."""
    for food in numbers.foods(grade) if grade == 6 else ():
        if not food.whole:
            continue
        rate = food.amount / food.people
        if _is_fair(food) and rate.denominator in food.parts:
            yield PerPerson("6.RP.A.2", food)
        columns = tuple(
            people
            for people in _COLUMNS
            if (rate * people).denominator == 1 and rate * people <= _MOST_IN_TABLE
        )[:_MOST_COLUMNS]
        if len(columns) < _FEWEST_COLUMNS or food.people not in columns or rate == 1:
            continue
        for blank, people in enumerate(columns):
            if people != food.people:
                yield RatioTable("6.RP.A.3.a", food, columns, blank)


def _is_fair(food: Food) -> bool:
    """A rate a person that is a number to reckon with, and isn't just one."""
    rate = food.amount / food.people
    return rate != 1 and rate.denominator in DENOMINATORS[6]


@dataclass(frozen=True, slots=True)
class PerPerson(AboutFood):
    """How much one person gets: the unit rate."""

    @property
    def answer(self) -> Answer:
        return (self.food.amount / self.food.people,)

    def asked(self, names: Names) -> Asked:
        text = names.texts.say(
            "{people} people share {what}. How much is that for each person?",
            people=self.food.people,
            what=names.food(self.food),
        )
        return self.asked_amount(text, names)

    def work(self, names: Names) -> tuple[str, ...]:
        return (divided(self.food.amount, self.food.people),)

    def figure(self, names: Names) -> Line | None:
        return _double_line(self.food, self.food.people, names)


@dataclass(frozen=True, slots=True)
class AtThatRate(AboutFood):
    """How much other people need at the same amount a person."""

    others: int

    @property
    def answer(self) -> Answer:
        return (self.food.amount / self.food.people * self.others,)

    def asked(self, names: Names) -> Asked:
        text = names.texts.say(
            "{people} people need {what}. How much do {others} people need, if each gets the same?",
            people=self.food.people,
            what=names.food(self.food),
            others=self.others,
        )
        return self.asked_amount(text, names)

    def work(self, names: Names) -> tuple[str, ...]:
        return _by_one(self.food, self.others, names)

    def figure(self, names: Names) -> Line | None:
        return _double_line(self.food, self.others, names)


@dataclass(frozen=True, slots=True)
class RatioTable(AboutFood):
    """A table of people and amounts with one number missing."""

    columns: tuple[int, ...]
    """Numbers of people."""
    blank: int
    """The column whose amount is asked."""

    @property
    def answer(self) -> Answer:
        return (self._amount(self.columns[self.blank]),)

    def _amount(self, people: int) -> Fraction:
        return self.food.amount * people / self.food.people

    def asked(self, names: Names) -> Asked:
        say, food = names.texts.say, self.food
        text = say("Everybody gets the same amount. Which number is missing in the table?")
        cells = [n(self._amount(people)) for people in self.columns]
        cells[self.blank] = ""
        name = names.name(food, Fraction(2))
        name = f"{name} ({names.unit(food.unit)})" if food.unit else name
        rows = ((say("People"), *map(str, self.columns)), (name, *cells))
        answer = names.food(food, self.answer[0])
        return Asked(text, (names.measure(food),), answer, rows=rows)

    def work(self, names: Names) -> tuple[str, ...]:
        return _by_one(self.food, self.columns[self.blank], names)


def _by_one(food: Food, people: int, names: Names) -> tuple[str, ...]:
    """First what each person gets, then so many times that."""
    each = names.texts.say("Each person: {sum}", sum=divided(food.amount, food.people))
    return (each, *multiplied(food.amount / food.people, Fraction(people)))


def _double_line(food: Food, people: int, names: Names) -> Line | None:
    """People above, amounts below: only the amount that the recipe says."""
    end = max(people, food.people)
    if end > _MOST_ON_LINE:
        return None
    amount = names.amount(food.amount, food.unit)
    return Line(
        low=Fraction(0),
        high=Fraction(end),
        step=Fraction(1),
        above=tuple(Mark(Fraction(at), str(at)) for at in range(end + 1)),
        below=(Mark(Fraction(0), "0"), Mark(Fraction(food.people), amount)),
        points=(),
        words=names.texts.say(
            "A double number line: people from 0 to {end}, and below {people} the amount {amount}.",
            end=end,
            people=food.people,
            amount=amount,
        ),
    )


ASKS = {Topic.MULTIPLY: for_others, Topic.RATIO: rates}
