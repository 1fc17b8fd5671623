"""The published rounding guide, row by row and at every boundary."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spoonfold.plan.amounts.scoop import (
    CUP,
    GALLON,
    POUND,
    QUART,
    TBSP,
    round_to,
    round_weight,
    volume_step,
    weight_step,
)

SPECK = Fraction(1, 1000)

# "Guide for Rounding Off Weights and Measures", USDA FNS and NFSMI, 2002 (the row from
# 3/4 cup to 2 cups from memory). From, up to, step; in teaspoons.
VOLUME_ROWS = [
    (Fraction(0), TBSP, Fraction(1, 8)),
    (TBSP, 3 * TBSP, Fraction(1, 4)),
    (3 * TBSP, CUP / 2, Fraction(1, 2)),
    (CUP / 2, CUP * 3 / 4, Fraction(1)),
    (CUP * 3 / 4, 2 * CUP, TBSP),
    (2 * CUP, 2 * QUART, CUP / 4),
    (2 * QUART, 4 * QUART, CUP / 2),
    (GALLON, 2 * GALLON, CUP),
    (2 * GALLON, 10 * GALLON, QUART),
    (10 * GALLON, 20 * GALLON, GALLON / 2),
    (20 * GALLON, 1000 * GALLON, GALLON),
]

# In ounces; below 2 oz the guide gives no step, and an eighth is ours.
WEIGHT_ROWS = [
    (Fraction(0), Fraction(2), Fraction(1, 8)),
    (Fraction(2), Fraction(10), Fraction(1, 4)),
    (Fraction(10), POUND * 5 / 2, Fraction(1, 2)),
    (POUND * 5 / 2, POUND * 5, Fraction(1)),
    (POUND * 5, POUND * 500, POUND / 4),
]


class TestVolume:
    @pytest.mark.parametrize(("start", "end", "step"), VOLUME_ROWS)
    def test_row(self, start: Fraction, end: Fraction, step: Fraction) -> None:
        """Just inside both ends of a row, and in its middle, its step holds."""
        for amount in (start + SPECK, (start + end) / 2, end - SPECK):
            assert volume_step(amount, accurate=False) == step

    @pytest.mark.parametrize(
        ("amount", "step"),
        [
            (3 * TBSP, Fraction(1, 2)),
            (CUP / 2, Fraction(1, 2)),
            (2 * CUP, CUP / 4),
            (2 * QUART, CUP / 4),
            (GALLON, CUP),
            (2 * GALLON, CUP),
        ],
    )
    def test_printed_boundary(self, amount: Fraction, step: Fraction) -> None:
        """A boundary that the guide prints in one row has that row's step."""
        assert volume_step(amount, accurate=False) == step

    @pytest.mark.parametrize(
        ("amount", "step"),
        [
            (TBSP, Fraction(1, 8)),
            (CUP * 3 / 4, Fraction(1)),
            (10 * GALLON, QUART),
            (20 * GALLON, GALLON / 2),
        ],
    )
    def test_gap(self, amount: Fraction, step: Fraction) -> None:
        """An amount that the guide leaves in no row has the finer neighbouring step."""
        assert volume_step(amount, accurate=False) == step

    @pytest.mark.parametrize("gallons", [3, 10, 15, 20, 40])
    def test_accurate(self, gallons: int) -> None:
        """What needs its ratios stays at a full cup above 2 gallons (footnote a)."""
        assert volume_step(gallons * GALLON, accurate=True) == CUP

    @pytest.mark.parametrize(("start", "end", "step"), VOLUME_ROWS[:8])
    def test_accurate_is_no_coarser(self, start: Fraction, end: Fraction, step: Fraction) -> None:
        """Up to 2 gallons the footnote changes nothing."""
        assert volume_step((start + end) / 2, accurate=True) == step


class TestWeight:
    @pytest.mark.parametrize(("start", "end", "step"), WEIGHT_ROWS)
    def test_row(self, start: Fraction, end: Fraction, step: Fraction) -> None:
        """Just inside both ends of a row, and in its middle, its step holds."""
        for amount in (start + SPECK, (start + end) / 2, end - SPECK):
            assert weight_step(amount) == step

    @pytest.mark.parametrize(
        ("amount", "step"), [("2", "1/4"), ("10", "1/4"), ("40", "1"), ("80", "1")]
    )
    def test_boundary(self, amount: str, step: str) -> None:
        """A boundary has the step of the row that prints it."""
        assert weight_step(Fraction(amount)) == Fraction(step)

    @pytest.mark.parametrize(
        ("ounces", "rounded"),
        [
            ("5.60", "5.5"),
            ("9.9", "10"),
            ("10.3", "10.5"),
            ("39.7", "39.5"),
            ("40.4", "40"),
            ("69.6", "70"),
            ("83.52", "84"),
            ("72", "72"),
            ("1/100", "1/8"),
        ],
    )
    def test_rounded(self, ounces: str, rounded: str) -> None:
        """Weights go to the nearest step, and never to nothing."""
        assert round_weight(Fraction(ounces)) == Fraction(rounded)


class TestWorkedNumbers:
    """US Department of Defense, food service, General Information No. A-1(2)."""

    def test_factor_and_pounds(self) -> None:
        """1.25 lb for 100 are 4.35 lb for 348, which are 4 lb 5 1/2 oz to the quarter ounce."""
        pounds = Fraction("1.25") * Fraction(348, 100)
        assert pounds == Fraction("4.35")
        assert round_to((pounds - 4) * POUND, Fraction(1, 4)) == Fraction("5.5")

    @pytest.mark.parametrize(
        ("start", "end", "ounces"),
        [(0, 12, "0"), (13, 37, "1/4"), (38, 62, "1/2"), (63, 87, "3/4"), (88, 99, "1")],
    )
    def test_ounce_scale(self, start: int, end: int, ounces: str) -> None:
        """Every hundredth of an ounce goes where the printed scale puts it."""
        for hundredths in range(start, end + 1):
            assert round_to(Fraction(hundredths, 100), Fraction(1, 4)) == Fraction(ounces)

    def test_cups(self) -> None:
        """2 1/2 cups times 1.5 are 3 3/4 cups, which the guide leaves as they are."""
        tsp = Fraction(5, 2) * CUP * Fraction(3, 2)
        assert round_to(tsp, volume_step(tsp, accurate=False)) == Fraction(15, 4) * CUP


@given(st.fractions(0, 20_000), st.sampled_from([row[2] for row in VOLUME_ROWS]))
def test_nearest(value: Fraction, step: Fraction) -> None:
    """Rounding gives a whole number of steps, at most half a step away, a half downward."""
    rounded = round_to(value, step)
    assert (rounded / step).denominator == 1
    assert -step / 2 < value - rounded <= step / 2
