"""A part of the recipe: a half, a quarter, three quarters, the same in percent; one whole dealt
out evenly."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.quantity.show import show_number as n
from spoonfold.sheets.worksheet.chance import Draws
from spoonfold.sheets.worksheet.figures import Bar, Bars, Line, Mark, shaded_amount
from spoonfold.sheets.worksheet.names import Names
from spoonfold.sheets.worksheet.numbers import DENOMINATORS, Food, Numbers
from spoonfold.sheets.worksheet.question import AboutFood, Answer, Asked, Question, Topic
from spoonfold.sheets.worksheet.working import divided, multiplied

_PARTS = (Fraction(1, 2), Fraction(1, 4), Fraction(3, 4))
_AMONG = (2, 3, 4, 6, 8)
_DIVIDED = ("3.OA.A.3", "5.NF.B.7.c")
"""Standards of division: there a part is worked out as a quotient."""


def parted(numbers: Numbers, grade: int, draws: Draws) -> Iterator[Question]:
    """Parts for a whole number of people that a kitchen can measure."""
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
                yield PartOf("4.NF.B.4.c", food, part)
            if grade == 5 and not food.whole:
                is_unit = food.amount.numerator == 1 and part.numerator == 1
                yield PartOf("5.NF.B.7.c" if is_unit else "5.NF.B.6", food, part)
            if grade == 6 and food.amount > 1:
                yield PercentOf("6.RP.A.3.c", food, int(part * 100))


def _shared(food: Food) -> Iterator[Question]:
    """Grade 3: a whole number halved, or one whole in equal parts."""
    if food.whole and food.amount % 2 == 0 and food.people % 2 == 0:
        yield PartOf("3.OA.A.3", food, Fraction(1, 2))
    for among in _AMONG:
        if food.amount == 1 and food.unit in ("cup", "") and among in food.parts:
            yield ShareOne("3.NF.A.1", food, among)


@dataclass(frozen=True, slots=True)
class PartOf(AboutFood):
    """A half, a quarter or three quarters of the recipe."""

    part: Fraction

    @property
    def answer(self) -> Answer:
        return (self.food.amount * self.part,)

    def asked(self, names: Names) -> Asked:
        text = names.texts.say(
            "For {people} people you need {what}. You make {part} of the recipe. "
            "How much do you need?",
            people=self.food.people,
            what=names.food(self.food),
            part=n(self.part),
        )
        return self.asked_amount(text, names)

    def work(self, names: Names) -> tuple[str, ...]:
        if self.standard in _DIVIDED:
            return (divided(self.food.amount, 1 / self.part),)
        return multiplied(self.food.amount, self.part)

    def figure(self, names: Names) -> Bars | None:
        return shaded_amount(self.food, names)


@dataclass(frozen=True, slots=True)
class PercentOf(AboutFood):
    """So many per cent of the recipe."""

    percent: int

    @property
    def answer(self) -> Answer:
        return (self.food.amount * self.percent / 100,)

    def asked(self, names: Names) -> Asked:
        text = names.texts.say(
            "For {people} people you need {what}. You make {percent} % of the recipe. "
            "How much do you need?",
            people=self.food.people,
            what=names.food(self.food),
            percent=self.percent,
        )
        return self.asked_amount(text, names)

    def work(self, names: Names) -> tuple[str, ...]:
        part = Fraction(self.percent, 100)
        percent = f"{self.percent} % = {self.percent}/100 = {n(part)}"
        return (percent, *multiplied(self.food.amount, part))

    def figure(self, names: Names) -> Line:
        whole = names.amount(self.food.amount, self.food.unit)
        return Line(
            low=Fraction(0),
            high=Fraction(100),
            step=Fraction(25),
            above=tuple(Mark(Fraction(at), f"{at} %") for at in (0, 25, 50, 75, 100)),
            below=(Mark(Fraction(0), "0"), Mark(Fraction(100), whole)),
            points=(),
            words=names.texts.say(
                "A double number line: 0 to 100 percent, and below 100 percent the amount "
                "{amount}.",
                amount=whole,
            ),
        )


@dataclass(frozen=True, slots=True)
class ShareOne(AboutFood):
    """One whole dealt out evenly: each one's part."""

    among: int

    @property
    def answer(self) -> Answer:
        return (self.food.amount / self.among,)

    def asked(self, names: Names) -> Asked:
        say, food = names.texts.say, self.food
        text = say(
            "You share {what} evenly among {among} bowls. How much goes in each bowl?",
            what=names.food(food),
            among=self.among,
        )
        measure = say(food.unit) if food.unit else names.name(food, Fraction(1))
        return Asked(text, (measure,), names.food(food, self.answer[0]))

    def work(self, names: Names) -> tuple[str, ...]:
        part = n(self.answer[0])
        return (
            names.texts.say("1 of {count} equal parts is {part}.", count=self.among, part=part),
        )

    def figure(self, names: Names) -> Bars:
        food = self.food
        return Bars(
            (Bar(1, Fraction(0), names.amount(food.amount, food.unit)),),
            names.texts.say("An empty bar to divide: {what}.", what=names.food(food)),
        )


ASKS = {Topic.HALVE: parted}
