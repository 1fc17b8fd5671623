"""Grades 3 and 4: which of two bowls gets more."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations, product
from math import lcm

from spoonfold.quantity.show import show_number as n
from spoonfold.sheets.worksheet.chance import Draws
from spoonfold.sheets.worksheet.figures import Bar, Bars
from spoonfold.sheets.worksheet.names import Names
from spoonfold.sheets.worksheet.numbers import Numbers
from spoonfold.sheets.worksheet.question import AboutFood, Answer, Asked, Question, Topic

_COUNTS = (1, 2, 3)


def two_bowls(numbers: Numbers, grade: int, draws: Draws) -> Iterator[Question]:
    """Scoops of two sizes; in grade 3 equally many, in grade 4 not, and never more than one cup."""
    if grade not in (3, 4):
        return
    cups = [cup for cup in numbers.room.cups if cup < 1]
    foods = [food for food in numbers.foods(grade) if food.unit == "cup"]
    for (large, small), first, second in product(combinations(cups, 2), _COUNTS, _COUNTS):
        one, two = first * large, second * small
        if one == two or max(one, two) > 1 or (first == second) != (grade == 3):
            continue
        # Equally many of a smaller scoop, and fewer of it too, is no question.
        if grade == 4 and second < first:
            continue
        standard = "3.NF.A.3.d" if grade == 3 else "4.NF.A.2"
        for food in foods:
            yield Compare(standard, food, (first, second), (large, small))


@dataclass(frozen=True, slots=True)
class Compare(AboutFood):
    """So many of one scoop or so many of another: which holds more (0 the first, 1 the second)."""

    counts: tuple[int, int]
    scoops: tuple[Fraction, Fraction]

    @property
    def answer(self) -> Answer:
        first, second = self._filled
        return (Fraction(int(second > first)),)

    @property
    def _filled(self) -> tuple[Fraction, Fraction]:
        return (self.counts[0] * self.scoops[0], self.counts[1] * self.scoops[1])

    def asked(self, names: Names) -> Asked:
        say = names.texts.say
        first, second = (
            f"{count} × {names.cups(scoop)}"
            for count, scoop in zip(self.counts, self.scoops, strict=True)
        )
        text = say(
            "Level scoops of {name}: the first bowl gets {first}, the second bowl gets "
            "{second}. Which bowl has more?",
            name=names.name(self.food, Fraction(2)),
            first=first,
            second=second,
        )
        choices = (say("the first bowl"), say("the second bowl"))
        return Asked(text, answer=choices[int(self.answer[0])], choices=choices)

    def work(self, names: Names) -> tuple[str, ...]:
        """Grade 3 reasons from equal tops; grade 4 brings both to one denominator."""
        one, two = self._filled
        sign = ">" if one > two else "<"
        overs = [
            f"{count * scoop.numerator}/{scoop.denominator}"
            for count, scoop in zip(self.counts, self.scoops, strict=True)
        ]
        if self.counts[0] == self.counts[1]:
            said = names.texts.say(
                "Equally many scoops, and {large} is more than {small}.",
                large=n(max(self.scoops)),
                small=n(min(self.scoops)),
            )
            return (said, f"{overs[0]} {sign} {overs[1]}")
        below = lcm(*(scoop.denominator for scoop in self.scoops))
        lines = [
            f"{over} = {n(value * below)}/{below}"
            for over, value in zip(overs, (one, two), strict=True)
            if not over.endswith(f"/{below}")
        ]
        return (*lines, f"{n(one * below)}/{below} {sign} {n(two * below)}/{below}")

    def figure(self, names: Names) -> Bars:
        one = names.cups(Fraction(1))
        first, second = (scoop.denominator for scoop in self.scoops)
        return Bars(
            (Bar(first, Fraction(0), one), Bar(second, Fraction(0), one)),
            names.texts.say(
                "Two bars to shade, each one cup: the first in {first} equal parts, "
                "the second in {second}.",
                first=first,
                second=second,
            ),
        )


ASKS = {Topic.RATIO: two_bowls}
