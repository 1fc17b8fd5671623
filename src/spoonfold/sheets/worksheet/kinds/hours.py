"""Hours as minutes in grade 4, minutes as hours in grade 5."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.quantity.show import show_number as n
from spoonfold.sheets.worksheet.chance import Draws
from spoonfold.sheets.worksheet.names import Names
from spoonfold.sheets.worksheet.numbers import Numbers
from spoonfold.sheets.worksheet.question import Answer, Asked, Question, Topic
from spoonfold.sheets.worksheet.working import with_mixed

_PARTS = frozenset({2, 3, 4, 6})
"""Parts of an hour that a clock face shows."""


def in_other_units(numbers: Numbers, grade: int, draws: Draws) -> Iterator[Question]:
    """The session's own length, and in grade 5 also the steps'."""
    room = numbers.room
    hours, rest = divmod(room.minutes, 60)
    if grade == 4 and hours and rest:
        yield SessionMinutes("4.MD.A.1", hours, rest)
    if grade == 5:
        for dish in numbers.dishes:
            for each in dish.timed_steps:
                if Fraction(each.minutes, 60).denominator in _PARTS:
                    yield HourPart("5.MD.A.1", dish.key, each.step, each.minutes)
        if Fraction(room.minutes, 60).denominator in _PARTS:
            yield HourPart("5.MD.A.1", numbers.dishes[0].key, 0, room.minutes)


@dataclass(frozen=True, slots=True)
class SessionMinutes(Question):
    """Hours and minutes as minutes."""

    hours: int
    minutes: int

    @property
    def answer(self) -> Answer:
        return (Fraction(self.hours * 60 + self.minutes),)

    def asked(self, names: Names) -> Asked:
        say = names.texts.say
        text = say(
            "Our class lasts {hours} h {minutes} min. How many minutes is that?",
            hours=self.hours,
            minutes=self.minutes,
        )
        answer = say("{number} minutes", number=n(self.answer[0]))
        return Asked(text, (say("minutes"),), answer, say("1 hour = 60 minutes"))

    def work(self, names: Names) -> tuple[str, ...]:
        hours = self.hours * 60
        return (f"{self.hours} × 60 = {hours}", f"{hours} + {self.minutes} = {n(self.answer[0])}")


@dataclass(frozen=True, slots=True)
class HourPart(Question):
    """Minutes as hours; `step` 0 is the whole session."""

    dish: str
    step: int
    minutes: int

    @property
    def answer(self) -> Answer:
        return (Fraction(self.minutes, 60),)

    def asked(self, names: Names) -> Asked:
        say = names.texts.say
        told = (
            say(
                "{dish}: step {step} takes {minutes} minutes.",
                dish=names.titles[self.dish],
                step=self.step,
                minutes=self.minutes,
            )
            if self.step
            else say("Our class lasts {minutes} minutes.", minutes=self.minutes)
        )
        text = say("How many hours is that? Write it with a fraction.")
        answer = say("{hours} h", hours=n(self.answer[0]))
        return Asked(f"{told} {text}", (say("h"),), answer, say("1 hour = 60 minutes"))

    def work(self, names: Names) -> tuple[str, ...]:
        return (with_mixed(f"{self.minutes} ÷ 60 = {self.minutes}/60", self.answer[0]),)


ASKS = {Topic.TIME: in_other_units}
