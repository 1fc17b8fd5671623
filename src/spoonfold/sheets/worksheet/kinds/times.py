"""How many times the recipe is made; in grade 6, what percent of it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.quantity.show import show_number as n
from spoonfold.sheets.worksheet.chance import Draws
from spoonfold.sheets.worksheet.figures import Line, Mark
from spoonfold.sheets.worksheet.names import Names
from spoonfold.sheets.worksheet.numbers import BATCHES, DENOMINATORS, Numbers
from spoonfold.sheets.worksheet.question import Answer, Asked, Question, Topic
from spoonfold.sheets.worksheet.working import divided, over

_MOST_PERCENT = 250
_MOST_ON_LINE = 24


def times_the_recipe(numbers: Numbers, grade: int, draws: Draws) -> Iterator[Question]:
    """Whole times up to grade 4; from grade 5 on what the people who come make of it."""
    for dish in numbers.dishes:
        if grade in (3, 4):
            standard = "3.OA.A.3" if grade == 3 else "4.OA.A.2"
            for times in BATCHES:
                yield Times(standard, dish.key, dish.serves, dish.serves * times)
        for people in numbers.people(dish) if grade > 4 else ():
            factor = Fraction(people, dish.serves)
            if grade == 5 and factor.denominator != 1 and factor.denominator in DENOMINATORS[5]:
                yield Times("5.NF.B.3", dish.key, dish.serves, people)
            percent = factor * 100
            if grade == 6 and percent.denominator == 1 and percent <= _MOST_PERCENT:
                yield TimesPercent("6.RP.A.3.c", dish.key, dish.serves, people)


@dataclass(frozen=True, slots=True)
class Times(Question):
    """How many times the recipe is made."""

    dish: str
    serves: int
    people: int

    @property
    def answer(self) -> Answer:
        return (Fraction(self.people, self.serves),)

    def asked(self, names: Names) -> Asked:
        say = names.texts.say
        text = say("How many times the recipe is that?")
        answer = say("{number} times", number=n(self.answer[0]))
        return Asked(f"{self._told(names)} {text}", (say("times"),), answer)

    def _told(self, names: Names) -> str:
        return names.texts.say(
            "The recipe for {dish} serves {serves}. You cook for {people} people.",
            dish=names.titles[self.dish],
            serves=self.serves,
            people=self.people,
        )

    def work(self, names: Names) -> tuple[str, ...]:
        return (divided(self.people, self.serves),)

    def figure(self, names: Names) -> Line | None:
        """People on a line, a number after every recipe's worth."""
        end = math.ceil(Fraction(self.people, self.serves)) * self.serves
        if end > _MOST_ON_LINE:
            return None
        return Line(
            low=Fraction(0),
            high=Fraction(end),
            step=Fraction(1),
            above=tuple(Mark(Fraction(at), str(at)) for at in range(0, end + 1, self.serves)),
            below=(),
            points=(Mark(Fraction(self.people), names.texts.say("people")),),
            words=names.texts.say(
                "A number line from 0 to {end} people with a number after every {serves}, and "
                "a dot at {people}.",
                end=end,
                serves=self.serves,
                people=self.people,
            ),
        )


@dataclass(frozen=True, slots=True)
class TimesPercent(Times):
    """How many per cent of the recipe are made."""

    @property
    def answer(self) -> Answer:
        return (Fraction(self.people * 100, self.serves),)

    def asked(self, names: Names) -> Asked:
        text = names.texts.say("What percent of the recipe do you make?")
        return Asked(f"{self._told(names)} {text}", ("%",), f"{n(self.answer[0])} %")

    def work(self, names: Names) -> tuple[str, ...]:
        percent = n(self.answer[0])
        part = over(Fraction(self.people, self.serves))
        return (divided(self.people, self.serves), f"{part} = {percent}/100 = {percent} %")


ASKS = {Topic.TIMES: times_the_recipe}
