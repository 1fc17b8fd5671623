"""Grade 5: without working it out, is it more or less than the recipe says?"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.quantity.show import show_number as n
from spoonfold.sheets.worksheet.chance import Draws
from spoonfold.sheets.worksheet.figures import Bars, shaded_amount
from spoonfold.sheets.worksheet.names import Names
from spoonfold.sheets.worksheet.numbers import Numbers
from spoonfold.sheets.worksheet.question import AboutFood, Answer, Asked, Question, Topic


def more_or_less(numbers: Numbers, grade: int, draws: Draws) -> Iterator[Question]:
    """Amounts and times that are both no whole numbers: else there is nothing to think about."""
    for food in numbers.foods(grade) if grade == 5 else ():
        for times in numbers.factors(food) if not food.whole else ():
            if times.denominator != 1 and food.times(times).is_sensible(grade):
                yield MoreOrLess("5.NF.B.5.b", food, times)


@dataclass(frozen=True, slots=True)
class MoreOrLess(AboutFood):
    """Times a number: is it less than the recipe says (0), the same (1) or more (2)?"""

    times: Fraction

    @property
    def answer(self) -> Answer:
        return (Fraction(1 + (self.times > 1) - (self.times < 1)),)

    def asked(self, names: Names) -> Asked:
        say = names.texts.say
        made = (
            say("You make the recipe {times} times.", times=n(self.times))
            if self.times > 1
            else say("You make {part} of the recipe.", part=n(self.times))
        )
        text = say("Don't work it out: do you need less, the same or more?")
        choices = (say("less"), say("the same"), say("more"))
        return Asked(
            f"{names.need(self.food)} {made} {text}",
            answer=choices[int(self.answer[0])],
            choices=choices,
        )

    def work(self, names: Names) -> tuple[str, ...]:
        say = names.texts.say
        if self.times > 1:
            return (f"{n(self.times)} > 1", say("Times a number above 1 gives more."))
        return (f"{n(self.times)} < 1", say("Times a number below 1 gives less."))

    def figure(self, names: Names) -> Bars | None:
        return shaded_amount(self.food, names)


ASKS = {Topic.RATIO: more_or_less}
