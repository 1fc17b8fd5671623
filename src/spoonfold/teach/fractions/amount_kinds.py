"""Every kind of question on how much: times the recipe, for one person, a part of it, ratios."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import gcd

from spoonfold.teach.fractions.kinds import About, Numbers, Question
from spoonfold.teach.fractions.numbers import Food


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
