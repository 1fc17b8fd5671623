"""How many scoops of one size make an amount; in grade 5 also the fewest of all sizes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from math import lcm

from spoonfold.quantity.show import show_number as n
from spoonfold.sheets.worksheet.chance import Draws
from spoonfold.sheets.worksheet.figures import Bars, Cups, cup_of, one_of, shaded, two_measures
from spoonfold.sheets.worksheet.names import Names
from spoonfold.sheets.worksheet.numbers import Numbers, a_few_cups
from spoonfold.sheets.worksheet.question import AboutFood, Answer, Asked, Question, Topic
from spoonfold.sheets.worksheet.working import in_scoops, over

_MOST_COUNTED = {3: 8, 4: 12, 5: 24, 6: 24}
_MOST_OF_ALL = 12
_MOST_SHADED = 3


def scooped(numbers: Numbers, grade: int, draws: Draws) -> Iterator[Question]:
    """Whole numbers of the scoops that are on hand, for all who may come."""
    cups = numbers.room.cups
    for food in a_few_cups(numbers.scaled_foods(grade), grade) if cups else ():
        for scoop in cups:
            count = food.amount / scoop
            standard = _standard(food.amount, scoop, grade)
            if (
                standard
                and scoop < 1
                and count.denominator == 1
                and 1 < count <= _MOST_COUNTED[grade]
            ):
                yield CountScoops(standard, food, scoop)
        if grade == 5 and not food.whole and food.amount <= 4:
            ways = fewest_scoops(food.amount, cups)
            if len(ways) == 1 and sum(map(bool, ways[0])) > 1:
                yield FewestScoops("5.NF.A.2", food, cups)


def _standard(amount: Fraction, scoop: Fraction, grade: int) -> str:
    """What counting these scoops is about; empty where it is no matter of that grade."""
    if scoop.numerator != 1:
        return ""
    match grade:
        case 3 if amount.denominator == 1:
            return "3.NF.A.3.c"
        case 3:
            return "3.NF.A.1" if amount.denominator == scoop.denominator else "3.NF.A.3.b"
        case 4:
            return "4.NF.B.4.a"
        case 5:
            return "5.NF.B.7.c" if amount.denominator == 1 else ""
        case _:
            return "6.NS.A.1" if amount.denominator != 1 else ""


@dataclass(frozen=True, slots=True)
class CountScoops(AboutFood):
    """How many scoops of one size make an amount of cups."""

    scoop: Fraction

    @property
    def answer(self) -> Answer:
        return (self.food.amount / self.scoop,)

    def asked(self, names: Names) -> Asked:
        say = names.texts.say
        text = say(
            "You have only the {scoop} scoop. How many level scoops do you take?",
            scoop=names.cups(self.scoop),
        )
        answer = say("{number} scoops", number=n(self.answer[0]))
        return Asked(f"{names.need(self.food)} {text}", (say("scoops"),), answer)

    def work(self, names: Names) -> tuple[str, ...]:
        amount, scoop, count = self.food.amount, self.scoop, self.answer[0]
        if self.standard in ("5.NF.B.7.c", "6.NS.A.1"):
            return (f"{n(amount)} ÷ {n(scoop)} = {over(amount)} × {n(1 / scoop)} = {n(count)}",)
        below = scoop.denominator
        parts = f"{n(amount * below)}/{below}"
        same = [] if amount < 1 and over(amount) == parts else [f"{n(amount)} = {parts}"]
        return (*same, in_scoops(self.standard, parts, count, scoop, names))

    def figure(self, names: Names) -> Bars | Cups:
        if self.food.amount > _MOST_SHADED:
            return two_measures(one_of("cup", names), cup_of(self.scoop, names), names)
        parts = self.scoop.denominator if self.standard.startswith("3") else 1
        return shaded(self.food, parts, names)


@dataclass(frozen=True, slots=True)
class FewestScoops(AboutFood):
    """Which cups make an amount with the fewest scoops."""

    cups: tuple[Fraction, ...]
    """The largest first."""

    @property
    def answer(self) -> Answer:
        return tuple(map(Fraction, fewest_scoops(self.food.amount, self.cups)[0]))

    def asked(self, names: Names) -> Asked:
        text = names.texts.say(
            "Fill it exactly, with as few level scoops as you can. How many of each?"
        )
        answer = " + ".join(
            f"{count} × {names.cups(cup)}"
            for cup, count in zip(self.cups, self.answer, strict=True)
            if count
        )
        return Asked(f"{names.need(self.food)} {text}", (), answer)

    def work(self, names: Names) -> tuple[str, ...]:
        taken = [
            n(cup)
            for cup, count in zip(self.cups, self.answer, strict=True)
            for _ in range(int(count))
        ]
        return (" + ".join(taken) + f" = {n(self.food.amount)}",)

    def figure(self, names: Names) -> Cups:
        cups = tuple(cup_of(cup, names) for cup in self.cups)
        return Cups(
            cups,
            True,
            names.texts.say(
                "Cups at true size, each with a box for a number: {cups}.",
                cups=", ".join(cup.label for cup in cups),
            ),
        )


@lru_cache(maxsize=1024)
def fewest_scoops(amount: Fraction, cups: tuple[Fraction, ...]) -> tuple[tuple[int, ...], ...]:
    """Every way to fill an amount exactly with the fewest scoops, as counts of each cup.

    Cups the largest first. None at all where it takes more than a dozen.
    """
    parts = lcm(amount.denominator, *(cup.denominator for cup in cups))
    sizes = tuple(int(cup * parts) for cup in cups)
    for scoops in range(1, _MOST_OF_ALL + 1):
        found = tuple(_fillings(int(amount * parts), sizes, scoops))
        if found:
            return found
    return ()


def _fillings(left: int, sizes: tuple[int, ...], scoops: int) -> Iterator[tuple[int, ...]]:
    """All ways to fill what is left with exactly so many scoops."""
    size, *smaller = sizes
    if scoops * size < left:
        return
    if not smaller:
        if scoops * size == left:
            yield (scoops,)
        return
    for first in range(min(scoops, left // size), -1, -1):
        for rest in _fillings(left - first * size, tuple(smaller), scoops - first):
            yield (first, *rest)


ASKS = {Topic.SCOOPS: scooped}
