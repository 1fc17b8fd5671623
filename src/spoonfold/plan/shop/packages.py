"""The best packages that cover a need: an integer search, exact and bounded.

Least cost; of those that cost the same, least left over; of those, fewest packages. Where a
price is missing nothing can be said of the cost, and least left over comes first.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

MOST_TRIES = 100_000
"""So many choices are looked at; a shop's packages need a few hundred."""


@dataclass(frozen=True, slots=True)
class Offer:
    """A package by what it holds, in the unit of the need, above 0; and its price."""

    size: Fraction
    price: Fraction | None


@dataclass(frozen=True, slots=True)
class Cover:
    """How many of each offer to take."""

    counts: tuple[int, ...]
    """In the order of the offers."""
    size: Fraction
    """All that they hold."""
    cost: Fraction | None
    """None: one that is taken has no price."""
    proven: bool = True
    """False: the search was cut short, and a better cover may exist."""


_Best = tuple[int, int, int, tuple[int, ...]]
"""Cost, size, how many, and the counts: compared in this order."""


def cover(offers: Sequence[Offer], need: Fraction, most_tries: int = MOST_TRIES) -> Cover:
    """The best packages for a need, of at least one offer; nothing where nothing is needed."""
    if need <= 0:
        return Cover((0,) * len(offers), Fraction(0), Fraction(0))
    priced = all(offer.price is not None for offer in offers)
    costs = _whole(
        [offer.price if priced and offer.price is not None else Fraction(0) for offer in offers]
    )
    *sizes, whole_need = _whole([*(offer.size for offer in offers), need])
    order = _worth_trying(sizes, costs, whole_need)
    search = _Search(
        [sizes[at] for at in order],
        [costs[at] for at in order],
        _most(sizes, costs, order, whole_need),
        most_tries,
    )
    found = search.best(0, whole_need)[-1]
    counts = [0] * len(offers)
    for at, count in zip(order, found, strict=True):
        counts[at] = count
    taken = [(count, offer) for count, offer in zip(counts, offers, strict=True) if count]
    prices = [count * offer.price for count, offer in taken if offer.price is not None]
    return Cover(
        tuple(counts),
        sum((count * offer.size for count, offer in taken), Fraction(0)),
        sum(prices, Fraction(0)) if len(prices) == len(taken) else None,
        search.tries <= most_tries,
    )


def _whole(numbers: Sequence[Fraction]) -> list[int]:
    """Numbers on one scale on which all are whole: the search is many times as fast."""
    scale = math.lcm(*(number.denominator for number in numbers))
    return [int(number * scale) for number in numbers]


def _worth_trying(sizes: Sequence[int], costs: Sequence[int], need: int) -> list[int]:
    """Which offers can be in the best cover, the largest first.

    One that costs more than another and holds no more never is; nor is a second of a kind.
    """
    kept = []
    seen = set()
    for at, size in enumerate(sizes):
        worse = any(
            cost < costs[at] and min(other, need) >= min(size, need)
            for other, cost in zip(sizes, costs, strict=True)
        )
        if not worse and (size, costs[at]) not in seen:
            seen.add((size, costs[at]))
            kept.append(at)
    return sorted(kept, key=lambda at: (-sizes[at], costs[at]))


def _most(sizes: Sequence[int], costs: Sequence[int], order: Sequence[int], need: int) -> list[int]:
    """How many of each the best cover can hold at most.

    The offer that is cheapest by its size covers the need at a known cost. Every other costs a
    known sum more than the same amount of that one, so only so many of it fit below that cost.
    """
    best = min(order, key=lambda at: (Fraction(costs[at], sizes[at]), -sizes[at]))
    slack = _times(need, sizes[best]) * costs[best] * sizes[best] - costs[best] * need
    most = []
    for at in order:
        extra = costs[at] * sizes[best] - costs[best] * sizes[at]
        limit = _times(need, sizes[at])
        most.append(min(limit, slack // extra) if extra > 0 else limit)
    return most


def _times(need: int, size: int) -> int:
    """How many of a size cover a need."""
    return -(-need // size)


class _Search:
    """Offer by offer, remembering what is best for every rest that was met."""

    def __init__(
        self, sizes: Sequence[int], costs: Sequence[int], most: Sequence[int], most_tries: int
    ) -> None:
        self.sizes = sizes
        self.costs = costs
        self.most = most
        self.most_tries = most_tries
        self.tries = 0
        self.known: dict[tuple[int, int], _Best] = {}

    def best(self, at: int, need: int) -> _Best:
        """The best cover of a need by the offers from `at` on."""
        left = len(self.sizes) - at
        if need <= 0:
            return 0, 0, 0, (0,) * left
        enough = _times(need, self.sizes[at])
        if left == 1 or self.tries > self.most_tries:
            # Cut short, one kind alone covers it: never too little, perhaps not the best.
            return (
                enough * self.costs[at],
                enough * self.sizes[at],
                enough,
                (enough, *(0,) * (left - 1)),
            )
        found = self.known.get((at, need))
        if found is None:
            most = min(enough, self.most[at])
            found = self.with_count(at, need, most)
            for count in range(most - 1, -1, -1):
                if self.tries > self.most_tries:
                    break
                found = min(found, self.with_count(at, need, count))
            self.known[at, need] = found
        return found

    def with_count(self, at: int, need: int, count: int) -> _Best:
        """The best cover that has so many of the offer `at`."""
        self.tries += 1
        size = count * self.sizes[at]
        cost, more, packages, rest = self.best(at + 1, need - size)
        return cost + count * self.costs[at], more + size, packages + count, (count, *rest)
