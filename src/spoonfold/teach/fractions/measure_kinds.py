"""Every kind of question on how it is measured: which scoops, a lost cup, other units."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from math import lcm

from spoonfold.teach.fractions.kinds import About, Numbers

TSP_IN_TBSP, TBSP_IN_CUP = 3, 16
"""NIST Handbook 44, appendix C: 1 tablespoon is 3 teaspoons, 1 cup is 16 tablespoons."""
_MOST_SCOOPS = 12


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
