"""From grade 5 on: how long it takes until all have washed their hands."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.quantity.show import show_number as n
from spoonfold.sheets.worksheet.chance import Draws
from spoonfold.sheets.worksheet.names import Names
from spoonfold.sheets.worksheet.numbers import Numbers
from spoonfold.sheets.worksheet.question import Answer, Asked, Question, Topic
from spoonfold.sheets.worksheet.working import divided

_PARTS = (1, 2, 3)


def washed(numbers: Numbers, grade: int, draws: Draws) -> Iterator[Question]:
    """As many children as give minutes in halves or thirds."""
    standard = "5.MD.A.1" if grade == 5 else "6.RP.A.3.d"
    for children in range(2, numbers.room.children + 1) if grade > 4 else ():
        made = WashTime(standard, children, numbers.room.wash_seconds)
        if made.answer[0].denominator in _PARTS and made.answer[0] > 1:
            yield made


@dataclass(frozen=True, slots=True)
class WashTime(Question):
    """How many minutes it takes when children wash hands one after the other."""

    children: int
    seconds: int

    @property
    def answer(self) -> Answer:
        return (Fraction(self.children * self.seconds, 60),)

    def asked(self, names: Names) -> Asked:
        say = names.texts.say
        text = say(
            "{children} children wash their hands at one tap, one after the other, "
            "each for {seconds} seconds. How many minutes is that?",
            children=self.children,
            seconds=self.seconds,
        )
        answer = say("{number} minutes", number=n(self.answer[0]))
        return Asked(text, (say("minutes"),), answer, say("1 minute = 60 seconds"))

    def work(self, names: Names) -> tuple[str, ...]:
        seconds = self.children * self.seconds
        return (f"{self.children} × {self.seconds} = {seconds}", divided(seconds, 60))


ASKS = {Topic.TIME: washed}
