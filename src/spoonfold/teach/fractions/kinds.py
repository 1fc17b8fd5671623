"""Every kind of question about amounts, its given numbers and its one answer.

An answer is a tuple of exact numbers, as many as the sheet has blanks. Standards are named by
their codes in the Common Core State Standards for Mathematics (2010).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from functools import lru_cache
from math import gcd, lcm

from spoonfold.teach.fractions.numbers import Food

Numbers = tuple[Fraction, ...]

TSP_IN_TBSP, TBSP_IN_CUP = 3, 16
"""NIST Handbook 44, appendix C: 1 tablespoon is 3 teaspoons, 1 cup is 16 tablespoons."""
_MOST_SCOOPS = 12


class Topic(Enum):
    """What a question is about."""

    TIMES = "times"
    MULTIPLY = "multiply"
    SCOOPS = "scoops"
    LOST = "lost"
    RATIO = "ratio"
    CONVERT = "convert"
    HALVE = "halve"
    TIME = "time"
    TEMPERATURE = "temperature"


@dataclass(frozen=True, slots=True)
class Question:
    """One question; its kinds follow."""

    topic: Topic
    standard: str

    @property
    def answer(self) -> Numbers:
        raise NotImplementedError

    @property
    def foods(self) -> tuple[Food, ...]:
        """What it asks about, so that a sheet doesn't ask about one food all the time."""
        return ()


@dataclass(frozen=True, slots=True)
class About(Question):
    """A question about an amount of one food."""

    food: Food

    @property
    def foods(self) -> tuple[Food, ...]:
        return (self.food,)


@dataclass(frozen=True, slots=True)
class Times(Question):
    """How many times the recipe is made."""

    dish: str
    serves: int
    people: int

    @property
    def answer(self) -> Numbers:
        return (Fraction(self.people, self.serves),)


@dataclass(frozen=True, slots=True)
class TimesPercent(Times):
    """How many per cent of the recipe are made."""

    @property
    def answer(self) -> Numbers:
        return (Fraction(self.people * 100, self.serves),)


@dataclass(frozen=True, slots=True)
class Multiply(About):
    """How much it is when the recipe is made so many times."""

    times: Fraction

    @property
    def answer(self) -> Numbers:
        return (self.food.amount * self.times,)


@dataclass(frozen=True, slots=True)
class PerPerson(About):
    """How much one person gets: the unit rate."""

    @property
    def answer(self) -> Numbers:
        return (self.food.amount / self.food.people,)


@dataclass(frozen=True, slots=True)
class AtThatRate(About):
    """How much other people need at the same amount a person."""

    others: int

    @property
    def answer(self) -> Numbers:
        return (self.food.amount / self.food.people * self.others,)


@dataclass(frozen=True, slots=True)
class RatioTable(About):
    """A table of people and amounts with one number missing."""

    columns: tuple[int, ...]
    """Numbers of people."""
    blank: int
    """The column whose amount is asked."""

    def amount(self, people: int) -> Fraction:
        return self.food.amount * people / self.food.people

    @property
    def answer(self) -> Numbers:
        return (self.amount(self.columns[self.blank]),)


@dataclass(frozen=True, slots=True)
class Ratio(About):
    """The ratio of one food to another, in the smallest whole numbers."""

    other: Food

    @property
    def answer(self) -> Numbers:
        one, two = int(self.food.amount), int(self.other.amount)
        common = gcd(one, two)
        return (Fraction(one // common), Fraction(two // common))

    @property
    def foods(self) -> tuple[Food, ...]:
        return (self.food, self.other)


@dataclass(frozen=True, slots=True)
class CountScoops(About):
    """How many scoops of one size make an amount of cups."""

    scoop: Fraction

    @property
    def answer(self) -> Numbers:
        return (self.food.amount / self.scoop,)


@dataclass(frozen=True, slots=True)
class FewestScoops(About):
    """Which cups make an amount with the fewest scoops."""

    cups: Numbers
    """The largest first."""

    @property
    def answer(self) -> Numbers:
        return tuple(map(Fraction, fewest_scoops(self.food.amount, self.cups)[0]))


@dataclass(frozen=True, slots=True)
class LostToScoop(About):
    """A cup is lost: how many of a smaller one stand in for it."""

    lost: Fraction
    other: Fraction

    @property
    def answer(self) -> Numbers:
        return (self.lost / self.other,)


@dataclass(frozen=True, slots=True)
class LostToSpoons(About):
    """A cup is lost: how many whole tablespoons, and how many teaspoons for what is left."""

    lost: Fraction

    @property
    def answer(self) -> Numbers:
        tsp = self.lost * TBSP_IN_CUP * TSP_IN_TBSP
        tbsp, rest = divmod(tsp, TSP_IN_TBSP)
        return (Fraction(tbsp), rest) if rest else (Fraction(tbsp),)


@dataclass(frozen=True, slots=True)
class Compare(About):
    """So many of one scoop or so many of another: which holds more (0 the first, 1 the second)."""

    counts: tuple[int, int]
    scoops: tuple[Fraction, Fraction]

    @property
    def filled(self) -> tuple[Fraction, Fraction]:
        return (self.counts[0] * self.scoops[0], self.counts[1] * self.scoops[1])

    @property
    def answer(self) -> Numbers:
        first, second = self.filled
        return (Fraction(int(second > first)),)


@dataclass(frozen=True, slots=True)
class MoreOrLess(About):
    """Times a number: is it less than the recipe says (0), the same (1) or more (2)?"""

    times: Fraction

    @property
    def answer(self) -> Numbers:
        return (Fraction(1 + (self.times > 1) - (self.times < 1)),)


@dataclass(frozen=True, slots=True)
class ReadLine(About):
    """Which letter on a number line stands at the amount; 0 is the first letter."""

    marks: Numbers
    """Where the letters stand, from left to right."""

    @property
    def answer(self) -> Numbers:
        return (Fraction(self.marks.index(self.food.amount)),)


@dataclass(frozen=True, slots=True)
class SameAs(About):
    """The same amount with another denominator: its numerator."""

    below: int

    @property
    def answer(self) -> Numbers:
        return (self.food.amount * self.below,)


@dataclass(frozen=True, slots=True)
class Convert(About):
    """An amount in another unit."""

    to: str
    """The other unit's name."""
    large: str
    small: str
    rate: int
    """One `large` is so many `small`."""

    @property
    def answer(self) -> Numbers:
        amount = self.food.amount
        return (amount * self.rate if self.to == self.small else amount / self.rate,)


@dataclass(frozen=True, slots=True)
class PartOf(About):
    """A half, a quarter or three quarters of the recipe."""

    part: Fraction

    @property
    def answer(self) -> Numbers:
        return (self.food.amount * self.part,)


@dataclass(frozen=True, slots=True)
class ShareOne(About):
    """One whole dealt out evenly: each one's part."""

    among: int

    @property
    def answer(self) -> Numbers:
        return (self.food.amount / self.among,)


@dataclass(frozen=True, slots=True)
class PercentOf(About):
    """So many per cent of the recipe."""

    percent: int

    @property
    def answer(self) -> Numbers:
        return (self.food.amount * self.percent / 100,)


@lru_cache(maxsize=1024)
def fewest_scoops(amount: Fraction, cups: Numbers) -> tuple[tuple[int, ...], ...]:
    """Every way to fill an amount exactly with the fewest scoops, as counts of each cup.

    Cups the largest first. None at all where it takes more than a dozen.
    """
    parts = lcm(amount.denominator, *(cup.denominator for cup in cups))
    sizes = tuple(int(cup * parts) for cup in cups)
    for scoops in range(1, _MOST_SCOOPS + 1):
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
