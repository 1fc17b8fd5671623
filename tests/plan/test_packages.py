"""The package cover against brute force and against an exact solver."""

from __future__ import annotations

import itertools
import math
import random
from collections.abc import Sequence
from fractions import Fraction as F
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from in_full import sampled
from spoonfold.plan.shop.packages import Cover, Offer, cover

SIZES = st.fractions(min_value=F(1, 4), max_value=12, max_denominator=12)
PRICES = st.integers(10, 900).map(lambda cents: F(cents, 100))
PRICED = st.lists(st.builds(Offer, SIZES, PRICES), min_size=1, max_size=3)
UNPRICED = st.lists(st.builds(Offer, SIZES, st.none()), min_size=1, max_size=3)
NEEDS = st.fractions(min_value=F(1, 12), max_value=10, max_denominator=12)


def _value(offers: Sequence[Offer], counts: Sequence[int]) -> tuple[F, F, int]:
    """Cost (0 where a price is missing), size, how many: what is to be least, in this order."""
    priced = all(offer.price is not None for offer in offers)
    cost = sum((n * (offer.price or 0) for n, offer in zip(counts, offers, strict=True)), F(0))
    size = sum((n * offer.size for n, offer in zip(counts, offers, strict=True)), F(0))
    return (cost if priced else F(0)), size, sum(counts)


def _by_brute_force(offers: Sequence[Offer], need: F) -> tuple[F, F, int]:
    counts = itertools.product(*(range(math.ceil(need / offer.size) + 1) for offer in offers))
    values = (_value(offers, each) for each in counts)
    return min(value for value in values if value[1] >= need)


class TestCover:
    @given(PRICED, NEEDS)
    @settings(max_examples=sampled(20, 60), deadline=None)
    def test_priced(self, offers: list[Offer], need: F) -> None:
        """With prices it is least cost, then least left over, then fewest packages."""
        found = cover(offers, need)
        assert _value(offers, found.counts) == _by_brute_force(offers, need)
        assert found.proven
        assert found.size == _value(offers, found.counts)[1]
        assert found.cost == _value(offers, found.counts)[0]

    @given(UNPRICED, NEEDS)
    @settings(max_examples=sampled(20, 60), deadline=None)
    def test_unpriced(self, offers: list[Offer], need: F) -> None:
        """Without prices it is least left over, then fewest packages."""
        found = cover(offers, need)
        assert _value(offers, found.counts) == _by_brute_force(offers, need)
        assert found.cost is None

    @given(PRICED, UNPRICED, NEEDS)
    @settings(max_examples=sampled(20, 40), deadline=None)
    def test_some_priced(self, priced: list[Offer], unpriced: list[Offer], need: F) -> None:
        """One price missing, and no cover is called cheaper than another."""
        offers = [priced[0], *unpriced[:2]]
        assert _value(offers, cover(offers, need).counts) == _by_brute_force(offers, need)

    def test_cheaper_twice_the_small(self) -> None:
        """Two small packages are taken where they are cheaper than the large one."""
        assert cover([Offer(F(1), F(1)), Offer(F(3), F(5, 2))], F(2)).counts == (2, 0)

    def test_same_cost(self) -> None:
        """Of two that cost the same, the one that leaves less over is taken."""
        assert cover([Offer(F(10), F(1)), Offer(F(8), F(1))], F(7)).counts == (0, 1)

    def test_fewest(self) -> None:
        """Of two that cost the same and leave the same over, fewer packages are carried."""
        assert cover([Offer(F(1), F(1)), Offer(F(2), F(2))], F(4)).counts == (0, 2)

    def test_nothing(self) -> None:
        """Where nothing is needed nothing is bought."""
        assert cover([Offer(F(1), F(1))], F(0)) == Cover((0,), F(0), F(0))

    def test_cut_short(self) -> None:
        """A search that is cut short still covers the need, and says that it isn't proven."""
        offers = [Offer(F(97, 13), F(3)), Offer(F(61, 7), F(7, 2)), Offer(F(53, 11), F(2))]
        found = cover(offers, F(400), most_tries=20)
        assert not found.proven
        assert found.size >= 400
        assert cover(offers, F(400)).proven

    def test_hostile(self) -> None:
        """Millions of crumbs are covered without a search through all their numbers."""
        found = cover([Offer(F(1, 999_983), F(1)), Offer(F(1, 999_979), F(1))], F(5_000))
        assert found.size >= 5_000


class TestAgainstSolver:
    def test_random(self) -> None:
        """Cost, size and number are those of CP-SAT, on random shelves of a shop."""
        cp_model = pytest.importorskip(
            "ortools.sat.python.cp_model", reason="OR-Tools isn't installed"
        )
        rng = random.Random(20270918)
        for _ in range(60):
            offers = [
                Offer(F(rng.randint(2, 80)), F(rng.randint(40, 900), 100))
                for _ in range(rng.randint(1, 5))
            ]
            need = F(rng.randint(1, 400))
            assert _value(offers, cover(offers, need).counts) == _solved(cp_model, offers, need)


def _solved(cp_model: Any, offers: Sequence[Offer], need: F) -> tuple[F, F, int]:
    """The same by an exact solver: each aim in turn, held at its best for the next."""
    model = cp_model.CpModel()
    counts = [
        model.new_int_var(0, math.ceil(need / offer.size), f"n{at}")
        for at, offer in enumerate(offers)
    ]
    size = sum(n * int(offer.size) for n, offer in zip(counts, offers, strict=True))
    cents = sum(n * int((offer.price or 0) * 100) for n, offer in zip(counts, offers, strict=True))
    model.add(size >= int(need))
    best = []
    for aim in (cents, size, sum(counts)):
        model.minimize(aim)
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        assert solver.solve(model) == cp_model.OPTIMAL
        best.append(round(solver.objective_value))
        model.add(aim == best[-1])
    return F(best[0], 100), F(best[1]), best[2]
