"""Grade 3: the same amount with another denominator."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.quantity.show import show_number as n
from spoonfold.sheets.worksheet.chance import Draws
from spoonfold.sheets.worksheet.figures import Bar, Bars, filled
from spoonfold.sheets.worksheet.names import Names
from spoonfold.sheets.worksheet.numbers import DENOMINATORS, Numbers, a_few_cups
from spoonfold.sheets.worksheet.question import AboutFood, Answer, Asked, Question, Topic
from spoonfold.sheets.worksheet.working import over

_SMALLER = (2, 3, 4)


def same_numbers(numbers: Numbers, grade: int, draws: Draws) -> Iterator[Question]:
    """Each part in two, three or four smaller ones."""
    for food in a_few_cups(numbers.foods(grade), grade) if grade == 3 else ():
        for times in _SMALLER if not food.whole else ():
            below = food.amount.denominator * times
            if below in DENOMINATORS[grade]:
                yield SameAs("3.NF.A.3.b", food, below)


@dataclass(frozen=True, slots=True)
class SameAs(AboutFood):
    """The same amount with another denominator: its numerator."""

    below: int

    @property
    def answer(self) -> Answer:
        return (self.food.amount * self.below,)

    def asked(self, names: Names) -> Asked:
        text = names.texts.say("Write the same number another way. What belongs on top?")
        return Asked(
            f"{names.need(self.food)} {text}",
            ("",),
            n(self.answer[0]),
            hint=f"{over(self.food.amount)} = ?/{self.below}",
        )

    def work(self, names: Names) -> tuple[str, ...]:
        amount, top = self.food.amount, n(self.answer[0])
        by = self.below // amount.denominator
        mixed = [f"{n(amount)} = {over(amount)}"] if amount > 1 else []
        return (
            *mixed,
            names.texts.say("Each part becomes {count} smaller ones.", count=by),
            f"{amount.numerator} × {by} = {top}",
            f"{over(amount)} = {top}/{self.below}",
        )

    def figure(self, names: Names) -> Bars:
        """The amount shaded, and under it the same wholes divided anew, for the child to shade."""
        food, parts = self.food, self.food.amount.denominator
        given = filled(food, parts, names)
        blank = tuple(Bar(self.below, Fraction(0), bar.label) for bar in given)
        return Bars(
            given + blank,
            names.texts.say(
                "Bars in {first} parts, shaded to {amount}; under them bars to shade, in {second} "
                "parts.",
                first=parts,
                second=self.below,
                amount=names.amount(food.amount, food.unit),
            ),
        )


ASKS = {Topic.CONVERT: same_numbers}
