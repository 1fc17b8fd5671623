"""Grade 6: the ratio of one food to another."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations
from math import gcd

from spoonfold.quantity.show import show_number as n
from spoonfold.sheets.worksheet.chance import Draws
from spoonfold.sheets.worksheet.names import Names
from spoonfold.sheets.worksheet.numbers import Food, Numbers
from spoonfold.sheets.worksheet.question import AboutFood, Answer, Asked, Question, Topic


def ratios(numbers: Numbers, grade: int, draws: Draws) -> Iterator[Question]:
    """Two whole numbers of one unit; those that can be made smaller, where there are any."""
    if grade != 6:
        return
    whole = [food for food in numbers.foods(grade) if food.whole]
    pairs = [
        (one, two)
        for one, two in combinations(whole, 2)
        if one.dish == two.dish and one.unit == two.unit and one.amount != two.amount
    ]
    common = [pair for pair in pairs if gcd(int(pair[0].amount), int(pair[1].amount)) > 1]
    for one, two in common or pairs:
        yield Ratio("6.RP.A.1", one, two)


@dataclass(frozen=True, slots=True)
class Ratio(AboutFood):
    """The ratio of one food to another, in the smallest whole numbers."""

    other: Food

    @property
    def answer(self) -> Answer:
        one, two = int(self.food.amount), int(self.other.amount)
        common = gcd(one, two)
        return (Fraction(one // common), Fraction(two // common))

    @property
    def foods(self) -> tuple[Food, ...]:
        return (self.food, self.other)

    def asked(self, names: Names) -> Asked:
        text = names.texts.say(
            "The recipe has {what} and {other}. Write the ratio of the first to the "
            "second in the smallest whole numbers.",
            what=names.food(self.food),
            other=names.food(self.other),
        )
        one, two = map(n, self.answer)
        return Asked(text, ("", ""), f"{one} : {two}", between=":")

    def work(self, names: Names) -> tuple[str, ...]:
        one, two = self.answer
        common = self.food.amount / one
        ratio = f"{n(self.food.amount)} : {n(self.other.amount)}"
        if common == 1:
            return (ratio, names.texts.say("Only 1 divides both: that is the smallest."))
        smaller = names.texts.say(
            "Both divided by {number}: {ratio}", number=n(common), ratio=f"{one} : {two}"
        )
        return (ratio, smaller)


ASKS = {Topic.RATIO: ratios}
