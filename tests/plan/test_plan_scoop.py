"""The choice of scoops, against worked cases and against trying everything."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from in_full import sampled
from spoonfold.plan.amounts.scoop import CUP, Scoops, Tool, Tools, round_to, scoop, volume_step
from spoonfold.quantity.exactness import Exactness

JUG = Tool("jug", 2 * CUP, "jug")
CUPS = tuple(
    Tool(f"{name} cup", CUP * Fraction(size), "cup")
    for name, size in (("1", "1"), ("½", "1/2"), ("⅓", "1/3"), ("¼", "1/4"))
)
SPOONS = (
    Tool("1 tbsp", Fraction(3), "tbsp"),
    Tool("1 tsp", Fraction(1), "tsp"),
    Tool("½ tsp", Fraction(1, 2), "tsp"),
    Tool("¼ tsp", Fraction(1, 4), "tsp"),
    Tool("⅛ tsp", Fraction(1, 8), "tsp"),
)
SET: Tools = (JUG, *CUPS, *SPOONS)


def shown(scoops: Scoops | None) -> str:
    return "none" if scoops is None else ", ".join(f"{n} x {t.name}" for t, n in scoops.counts)


@pytest.mark.parametrize(
    ("tsp", "exactness", "liquid", "expected"),
    [
        ("1", Exactness.EXACT, False, "1 x 1 tsp"),
        ("3/2", Exactness.EXACT, False, "1 x 1 tsp, 1 x ½ tsp"),
        ("3", Exactness.EXACT, False, "1 x 1 tbsp"),
        # 3/4 tsp for 4 is 45/16 tsp for 15: a tie between 2 3/4 and 2 7/8 tsp.
        ("45/16", Exactness.EXACT, False, "2 x 1 tsp, 1 x ½ tsp, 1 x ¼ tsp"),
        # 1/3 cup for 4 is 1 1/4 cups for 15.
        ("60", Exactness.EXACT, False, "1 x 1 cup, 1 x ¼ cup"),
        ("32", Exactness.EXACT, False, "2 x ⅓ cup"),
        ("36", Exactness.EXACT, False, "1 x ½ cup, 1 x ¼ cup"),
        ("192", Exactness.CLOSE, True, "2 x jug"),
        ("192", Exactness.CLOSE, False, "4 x 1 cup"),
        ("48", Exactness.CLOSE, True, "1 x 1 cup"),
        # 1.2 cups: 4 % more is one scoop of each of two cups.
        ("288/5", Exactness.CLOSE, False, "1 x 1 cup, 3 x 1 tbsp"),
        ("288/5", Exactness.FORGIVING, False, "1 x 1 cup, 1 x ¼ cup"),
        # 1 1/8 cups: the nearest quarter cup is more than a tenth off.
        ("54", Exactness.FORGIVING, False, "1 x 1 cup, 2 x 1 tbsp"),
        # Half a step of 1/8 tsp is too far for salt, where anything nearer exists.
        ("13/16", Exactness.CLOSE, False, "1 x ½ tsp, 1 x ¼ tsp"),
        ("1/32", Exactness.CLOSE, False, "none"),
        ("0", Exactness.CLOSE, False, "none"),
        ("-1", Exactness.CLOSE, False, "none"),
    ],
)
def test_worked(tsp: str, exactness: Exactness, liquid: bool, expected: str) -> None:
    """Amounts become the scoops that a cook would count out."""
    assert shown(scoop(Fraction(tsp), SET, exactness, liquid)) == expected


def test_result_explains_itself() -> None:
    """The scoops say what they make, what it should have been, and how far off that is."""
    scoops = scoop(Fraction(288, 5), SET, Exactness.FORGIVING, liquid=False)
    assert scoops is not None
    assert scoops.exact_tsp == Fraction(288, 5)
    assert scoops.total_tsp == 60
    assert scoops.off == Fraction(1, 24)


def test_no_tools() -> None:
    """Without a tool, and with a jug alone for flour, nothing can be measured."""
    assert scoop(Fraction(96), (), Exactness.CLOSE, liquid=True) is None
    assert scoop(Fraction(96), (JUG,), Exactness.CLOSE, liquid=False) is None
    assert scoop(Fraction(95), (JUG,), Exactness.CLOSE, liquid=True) is None


def test_exact_falls_back_to_the_nearest() -> None:
    """Salt that no scoops hit within 3 % gets the nearest, though fewer scoops are near enough."""
    one, two = Tool("odd", Fraction(11, 20), "tsp"), Tool("odder", Fraction(47, 200), "tsp")
    assert shown(scoop(Fraction(1, 2), (one, two), Exactness.CLOSE, liquid=False)) == "1 x odd"
    assert shown(scoop(Fraction(1, 2), (one, two), Exactness.EXACT, liquid=False)) == "2 x odder"


def test_order_of_tools_does_not_matter() -> None:
    """The same tools in any order give the same scoops, the largest first."""
    forward = scoop(Fraction(100), SET, Exactness.CLOSE, liquid=True)
    backward = scoop(Fraction(100), SET[::-1], Exactness.CLOSE, liquid=True)
    assert forward == backward
    assert forward is not None
    sizes = [tool.tsp for tool, _ in forward.counts]
    assert sizes == sorted(sizes, reverse=True)


SIZES = [Fraction(n, 8) for n in (1, 2, 3, 4, 5, 8, 12, 16, 24, 32)] + [
    Fraction(1, 3),
    Fraction(11, 20),
    Fraction(47, 200),
]
SMALL_SETS = st.sets(st.sampled_from(SIZES), min_size=1, max_size=4).map(
    lambda sizes: tuple(Tool(str(size), size, "tsp") for size in sorted(sizes, reverse=True))
)
SMALL_CUPS = st.sets(st.sampled_from([CUP, CUP / 2, CUP / 3, CUP / 4, CUP / 8]), min_size=1).map(
    lambda sizes: tuple(Tool(str(size), size, "cup") for size in sorted(sizes))
)


@given(SMALL_SETS, st.fractions(Fraction(1, 48), 9, max_denominator=48), st.sampled_from(Exactness))
@settings(max_examples=sampled(80, 400), deadline=None)
def test_optimal_spoons(tools: Tools, tsp: Fraction, exactness: Exactness) -> None:
    """No other scoops of spoons are better than the chosen ones."""
    assert ranked(scoop(tsp, tools, exactness, liquid=False)) == best_of_all(tsp, tools, exactness)


@given(SMALL_CUPS, st.fractions(3, 200, max_denominator=12), st.sampled_from(Exactness))
@settings(max_examples=sampled(80, 400), deadline=None)
def test_optimal_cups(tools: Tools, tsp: Fraction, exactness: Exactness) -> None:
    """No other scoops of cups are better than the chosen ones."""
    assert ranked(scoop(tsp, tools, exactness, liquid=False)) == best_of_all(tsp, tools, exactness)


Rank = tuple[int, bool, int, Fraction, Fraction]


def ranked(scoops: Scoops | None) -> Rank | None:
    if scoops is None:
        return None
    counts = [n for _, n in scoops.counts]
    total = sum((tool.tsp * n for tool, n in scoops.counts), Fraction(0))
    assert total == scoops.total_tsp
    assert min(counts) > 0
    error = abs(total - scoops.exact_tsp)
    return sum(counts), error > 0, len(counts), error, total


def best_of_all(tsp: Fraction, tools: Tools, exactness: Exactness) -> Rank | None:
    """Every combination that is not far too much, judged by the rules as they are written."""
    half = volume_step(tsp, exactness is Exactness.EXACT) / 2
    most = max(tsp + half, tsp * Fraction(11, 10))
    every = [
        (sum(counts), total != tsp, sum(map(bool, counts)), abs(total - tsp), total)
        for counts, total in combinations(tools, most)
        if total
    ]
    within = [rank for rank in every if rank[3] <= half]
    if exactness is Exactness.EXACT:
        near = [rank for rank in within if rank[3] <= tsp * Fraction(3, 100)]
        least = min((rank[3] for rank in within), default=None)
        within = near or [rank for rank in within if rank[3] == least]
    if exactness is Exactness.FORGIVING:
        quarter = round_to(tsp, CUP / 4)
        if abs(quarter - tsp) <= tsp / 10:
            within += [rank for rank in every if rank[4] == quarter]
    return min(within, default=None)


def combinations(tools: Tools, most: Fraction) -> Iterator[tuple[tuple[int, ...], Fraction]]:
    if not tools:
        yield (), Fraction(0)
        return
    count = 0
    while count * tools[0].tsp <= most:
        taken = count * tools[0].tsp
        for rest, total in combinations(tools[1:], most - taken):
            yield (count, *rest), taken + total
        count += 1
