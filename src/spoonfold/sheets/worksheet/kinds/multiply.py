"""How much it is when the recipe is made so many times."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.quantity.show import show_number as n
from spoonfold.sheets.worksheet.chance import Draws
from spoonfold.sheets.worksheet.figures import Bar, Bars, shaded_amount
from spoonfold.sheets.worksheet.names import Names
from spoonfold.sheets.worksheet.numbers import BATCHES, Numbers
from spoonfold.sheets.worksheet.question import AboutFood, Answer, Asked, Question, Topic
from spoonfold.sheets.worksheet.working import multiplied

_MOST_BARS = 5


def multiplied_foods(numbers: Numbers, grade: int, draws: Draws) -> Iterator[Question]:
    """Whole numbers in grade 3, fractions times whole numbers in grade 4, mixed ones in grade 5."""
    for food in numbers.foods(grade):
        if grade < 5 and food.whole == (grade == 3) and food.amount != 1:
            standard = "3.OA.A.3" if grade == 3 else "4.NF.B.4.c"
            for factor in map(Fraction, BATCHES):
                if food.times(factor).is_sensible(grade):
                    yield Multiply(standard, food, factor)
        for factor in numbers.factors(food) if grade == 5 and food.amount != 1 else ():
            broken = factor > 1 and factor.denominator != 1
            if broken and food.times(factor).is_sensible(grade):
                yield Multiply("5.NF.B.6", food, factor)


@dataclass(frozen=True, slots=True)
class Multiply(AboutFood):
    """How much it is when the recipe is made so many times."""

    times: Fraction

    @property
    def answer(self) -> Answer:
        return (self.food.amount * self.times,)

    def asked(self, names: Names) -> Asked:
        text = names.texts.say(
            "For {people} people you need {what}. You make the recipe {times} times. "
            "How much do you need?",
            people=self.food.people,
            what=names.food(self.food),
            times=n(self.times),
        )
        return self.asked_amount(text, names)

    def work(self, names: Names) -> tuple[str, ...]:
        return multiplied(self.food.amount, self.times)

    def figure(self, names: Names) -> Bars | None:
        if self.times.denominator != 1:
            return shaded_amount(self.food, names)
        return self._repeated(int(self.times), names)

    def _repeated(self, times: int, names: Names) -> Bars | None:
        """The amount again and again, one bar each."""
        food = self.food
        if food.whole or food.amount > 1 or times > _MOST_BARS:
            return None
        bar = Bar(food.amount.denominator, food.amount, names.amount(Fraction(1), food.unit))
        return Bars(
            (bar,) * times,
            names.texts.say(
                "{count} bars, each one whole, each shaded to {amount}.",
                count=times,
                amount=names.amount(food.amount, food.unit),
            ),
        )


ASKS = {Topic.MULTIPLY: multiplied_foods}
