"""From grade 4 on: the same amount in another unit."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.sheets.worksheet.chance import Draws
from spoonfold.sheets.worksheet.figures import TSP, Cups, one_of, two_measures
from spoonfold.sheets.worksheet.names import Names
from spoonfold.sheets.worksheet.numbers import DENOMINATORS, TBSP_IN_CUP, TSP_IN_TBSP, Numbers
from spoonfold.sheets.worksheet.question import AboutFood, Answer, Asked, Question, Topic
from spoonfold.sheets.worksheet.working import divided, multiplied

_RATES = (
    ("tbsp", "tsp", TSP_IN_TBSP),
    ("cup", "tbsp", TBSP_IN_CUP),
    ("cup", "fl oz", 8),
    ("lb", "oz", 16),
    ("pint", "cup", 2),
    ("quart", "cup", 4),
)
"""NIST Handbook 44, appendix C."""
_OF_LIQUIDS = frozenset({"fl oz", "pint", "quart"})
"""A pint or quart of what doesn't pour is a dry one, which is larger; a fluid ounce it has none."""
_LABEL_RATES = (("cup", "ml", 240), ("tbsp", "ml", 15), ("tsp", "ml", 5))
"""What a measure counts as on food labels: 21 CFR 101.9(b)(5)(viii)."""
_MOST_WHOLE, _MOST_BROKEN = 64, 12
"""The largest answer in another unit: nobody counts 26⅔ tablespoons."""
_MOST_METRIC = 2000
_QUARTER = Fraction(1, 4)
_LEAST = {"pint": Fraction(1), "quart": Fraction(1)}
"""The smallest answer: nobody says a third of a quart."""
_GOOD_PARTS = frozenset({1, 2, 3, 4, 8})


def converted(numbers: Numbers, grade: int, draws: Draws) -> Iterator[Question]:
    """To a smaller unit; from grade 5 on also to a larger one, in grade 6 to millilitres."""
    for food in numbers.scaled_foods(grade) if grade > 3 else ():
        if food.amount == 1:
            # The rate itself is told beside the question.
            continue
        for large, small, rate in _RATES:
            if _OF_LIQUIDS & {large, small} and not food.is_liquid:
                continue
            down = food.unit == large
            if not down and (food.unit != small or grade == 4):
                continue
            if grade == 4 and not food.whole:
                continue
            standard = {4: "4.MD.A.1", 5: "5.MD.A.1", 6: "6.RP.A.3.d"}[grade]
            made = Convert(standard, food, small if down else large, large, small, rate)
            (value,) = made.answer
            good = value.denominator in _GOOD_PARTS & DENOMINATORS[grade]
            most = _MOST_WHOLE if value.denominator == 1 else _MOST_BROKEN
            if good and _LEAST.get(made.to, _QUARTER) <= value <= most:
                yield made
        for unit, small, rate in _LABEL_RATES if grade == 6 else ():
            made = Convert("6.RP.A.3.d", food, small, unit, small, rate)
            (value,) = made.answer
            if food.unit == unit and value.denominator == 1 and value <= _MOST_METRIC:
                yield made


@dataclass(frozen=True, slots=True)
class Convert(AboutFood):
    """An amount in another unit."""

    to: str
    """The other unit's name."""
    large: str
    small: str
    rate: int
    """One `large` is so many `small`."""

    @property
    def answer(self) -> Answer:
        amount = self.food.amount
        return (amount * self.rate if self.to == self.small else amount / self.rate,)

    def asked(self, names: Names) -> Asked:
        text = names.texts.say(
            "For {people} people you need {what}. How many {unit} is that?",
            people=self.food.people,
            what=names.food(self.food),
            unit=names.unit(self.to),
        )
        return Asked(
            text,
            (names.unit(self.to),),
            names.amount(self.answer[0], self.to),
            names.equal(self.large, self.rate, self.small),
        )

    def work(self, names: Names) -> tuple[str, ...]:
        amount = self.food.amount
        if self.to == self.small:
            return multiplied(amount, Fraction(self.rate))
        if amount.denominator != 1:
            # Grade 5 multiplies fractions and doesn't yet divide any fraction (5.NF.B.7).
            return multiplied(amount, Fraction(1, self.rate))
        return (divided(amount, self.rate),)

    def figure(self, names: Names) -> Cups | None:
        if not {self.large, self.small} <= TSP.keys():
            return None
        return two_measures(one_of(self.large, names), one_of(self.small, names), names)


ASKS = {Topic.CONVERT: converted}
