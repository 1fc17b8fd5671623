"""What isn't divided is said in whole ones, at every size and for every reader."""

from __future__ import annotations

from fractions import Fraction as F

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spoonfold.knowledge.data import data
from spoonfold.model.classroom import HOME_MEASURING
from spoonfold.model.pantry import Item
from spoonfold.plan.amounts.convert import known_unit
from spoonfold.plan.amounts.measure import Way, measure
from spoonfold.plan.amounts.share import share_of
from spoonfold.plan.amounts.tools import kitchen_of
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.show import show_amount
from spoonfold.quantity.unit import PIECE, UNITS, Dimension, Unit
from spoonfold.read.pantry import read_pantry

KITCHEN = kitchen_of(HOME_MEASURING)
PANTRY = read_pantry(None, [])
WHOLE = [
    item
    for name in PANTRY.names
    if (item := PANTRY.find(name)) is not None and item.divides == "whole"
]
ONE_PIECE = [unit for unit in UNITS if unit.is_one_piece]


def shown(number: F, unit: str, name: str) -> str:
    amount = Amount(number, known_unit(unit) if unit else PIECE)
    (said,) = measure(amount, PANTRY.find(name), None, KITCHEN).shown
    return show_amount(said)


@pytest.mark.parametrize(
    ("number", "unit", "name", "said"),
    [
        (F(1, 2), "clove", "garlic", "1 clove"),
        (F(3, 2), "clove", "garlic", "2 cloves"),
        (F(1, 3), "", "bay leaf", "1"),
        (F(1, 2), "", "flour tortilla", "1"),
        (F(5, 4), "", "rice paper", "1"),
        (F(1, 2), "sprig", "thyme", "1 sprig"),
        # A bunch of what stays whole is parted between its pieces.
        (F(1, 2), "bunch", "green onion", "½ bunch"),
        (F(1, 2), "head", "garlic", "½ head"),
        # Bread is cut where whole slices would be far off.
        (F(1, 2), "slice", "white bread", "½ slice"),
        (F(1, 2), "can", "black bean", "½ can"),
        (F(1, 2), "", "onion", "½"),
    ],
)
def test_as_a_cook_takes_it(number: F, unit: str, name: str, said: str) -> None:
    """Nobody is asked for half a clove."""
    assert shown(number, unit, name) == said


@given(
    item=st.sampled_from(WHOLE),
    unit=st.sampled_from(ONE_PIECE),
    number=st.fractions(F(1, 12), 40, max_denominator=12),
    children=st.integers(2, 6),
)
def test_whole_ones_for_every_table_and_child(
    item: Item, unit: Unit, number: F, children: int
) -> None:
    """The measure and the shares of it; an egg is beaten and measured instead."""
    measured = measure(Amount(number, unit), item, None, KITCHEN)
    if measured.beaten:
        assert item.raw == "egg"
        return
    assert measured.way is Way.COUNT
    assert [each.low.denominator for each in measured.shown] == [1]
    share = share_of(measured, item, children)
    if share is not None:
        assert share.each.low.denominator == 1
        assert share.more is None or share.more.low.denominator == 1


def test_every_unit_has_its_source_and_its_way_to_be_divided() -> None:
    """One row a unit says all of it."""
    for row in data("units.json"):
        assert row["source"], row["name"]
        if row["measures"] == Dimension.COUNT.value:
            assert row["divides"] in ("whole", "seldom", "by halves", "freely"), row["name"]
        else:
            assert row["system"] in ("US", "metric") and row["cldr"], row["name"]
            # The gram and the centimetre are what all others are told in.
            assert ("definition" in row) is (row["name"] not in ("g", "cm")), row["name"]
