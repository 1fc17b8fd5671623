"""Grade 3: which letter on a number line stands at the amount."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.quantity.show import show_number as n
from spoonfold.sheets.worksheet.chance import Draws, pick
from spoonfold.sheets.worksheet.figures import Line, Mark
from spoonfold.sheets.worksheet.names import Names
from spoonfold.sheets.worksheet.numbers import Numbers
from spoonfold.sheets.worksheet.question import AboutFood, Answer, Asked, Question, Topic
from spoonfold.sheets.worksheet.working import over

_END = 2
"""A number line of grade 3 ends at two wholes."""
_LETTERS = "ABCD"


def letters_on_a_line(numbers: Numbers, grade: int, draws: Draws) -> Iterator[Question]:
    """Four letters on the ticks of a number line from 0 to 2, one of them at the amount."""
    for food in numbers.foods(grade) if grade == 3 else ():
        if food.unit != "cup" or food.whole or food.amount >= _END:
            continue
        below = food.amount.denominator
        ticks = [Fraction(tick, below) for tick in range(1, _END * below)]
        marks = {food.amount}
        while len(marks) < min(len(_LETTERS), len(ticks)):
            marks.add(pick(draws, ticks))
        yield ReadLine("3.NF.A.2.b", food, tuple(sorted(marks)))


@dataclass(frozen=True, slots=True)
class ReadLine(AboutFood):
    """Which letter on a number line stands at the amount; 0 is the first letter."""

    marks: tuple[Fraction, ...]
    """Where the letters stand, from left to right."""

    @property
    def answer(self) -> Answer:
        return (Fraction(self.marks.index(self.food.amount)),)

    @property
    def _letter(self) -> str:
        return _LETTERS[int(self.answer[0])]

    def asked(self, names: Names) -> Asked:
        text = names.texts.say(
            "Which letter stands at {amount} on the line?", amount=names.cups(self.food.amount)
        )
        return Asked(
            f"{names.need(self.food)} {text}",
            answer=self._letter,
            choices=tuple(_LETTERS[: len(self.marks)]),
        )

    def work(self, names: Names) -> tuple[str, ...]:
        amount = self.food.amount
        return (
            names.texts.say("One space of the line is {part}.", part=f"1/{amount.denominator}"),
            f"{n(amount)} = {over(amount)}",
            f"{self._letter} = {over(amount)}",
        )

    def figure(self, names: Names) -> Line:
        below = self.food.amount.denominator
        points = tuple(Mark(at, letter) for at, letter in zip(self.marks, _LETTERS, strict=False))
        return Line(
            low=Fraction(0),
            high=Fraction(_END),
            step=Fraction(1, below),
            above=tuple(Mark(Fraction(at), str(at)) for at in range(_END + 1)),
            below=(),
            points=points,
            words=names.texts.say(
                "A line of cups from 0 to 2, with {parts} spaces in each cup, and letters "
                "at these spaces: {places}.",
                parts=below,
                places=", ".join(f"{mark.label} {n(mark.at * below)}" for mark in points),
            ),
        )


ASKS = {Topic.RATIO: letters_on_a_line}
