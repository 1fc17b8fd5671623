"""Each child's share: exact, easily said, or not said at all."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction as F

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spoonfold.model.classroom import HOME_MEASURING
from spoonfold.model.pantry import Item
from spoonfold.plan.amounts.convert import CUP, known_unit
from spoonfold.plan.amounts.measure import measure
from spoonfold.plan.amounts.share import Share, share_of
from spoonfold.plan.amounts.tools import kitchen_of
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.unit import PIECE

KITCHEN = kitchen_of(HOME_MEASURING)
ONION = Item("onion", "onions", divides="quarter")
CARROT = Item("carrot", "carrots", divides="half")
PAPER = Item("rice paper", "rice papers", divides="whole")
EGG = Item("egg", "eggs", divides="whole", raw="egg")
CAN = known_unit("can")


def shared(amount: Amount, item: Item, children: int) -> Share | None:
    return share_of(measure(amount, item, None, KITCHEN), item, children)


@pytest.mark.parametrize(
    ("item", "whole", "children", "each", "more_for", "more"),
    [
        (ONION, F(1), 4, F(1, 4), 0, None),
        (ONION, F(1), 2, F(1, 2), 0, None),
        (ONION, F(5, 4), 2, F(1, 2), 1, F(1, 4)),
        (CARROT, F(2), 4, F(1, 2), 0, None),
        (CARROT, F(5), 2, F(5, 2), 0, None),
        (CARROT, F(5), 4, F(1), 1, F(1)),
        (PAPER, F(10), 4, F(2), 2, F(1)),
        (PAPER, F(8), 4, F(2), 0, None),
    ],
)
def test_counted_things_are_dealt_out(
    item: Item, whole: F, children: int, each: F, more_for: int, more: F | None
) -> None:
    """Whole ones, halves and quarters come out even, or some children take one piece more."""
    share = shared(Amount(whole, PIECE), item, children)
    assert share is not None
    assert (share.each.low, share.more_for) == (each, more_for)
    assert (share.more.low if share.more else None) == more


@pytest.mark.parametrize(
    ("amount", "item", "children"),
    [
        (Amount(F(3), PIECE), ONION, 4),  # three quarters of an onion
        (Amount(F(1), PIECE), CARROT, 4),  # a carrot isn't cut in quarters
        (Amount(F(1), PIECE), EGG, 2),  # half an egg
        (Amount(F(1), CAN), ONION, 2),  # half a can
        (Amount(F(1), PIECE), ONION, 1),  # a child alone takes all of it
        (Amount(F(2), PIECE, F(4)), ONION, 2),  # nobody knows how many there will be
        (Amount(F(1, 2), known_unit("lb")), ONION, 2),  # weighed
        (Amount(F(3, 4), CUP), ONION, 2),  # a half and a quarter cup
    ],
)
def test_an_absurd_share_is_not_said(amount: Amount, item: Item, children: int) -> None:
    """No share is better than one that no child can do."""
    assert shared(amount, item, children) is None


def test_beaten_eggs_are_measured_by_one() -> None:
    """What is beaten together and measured in scoops is no longer anybody's own."""
    measured = measure(Amount(F(2), CUP), EGG, None, KITCHEN)
    assert share_of(measured, EGG, 2) is not None
    assert share_of(replace(measured, beaten=3), EGG, 2) is None


def test_scoops_are_shared_where_everyone_has_the_same() -> None:
    """Two cups among two are a cup each; one cup can't be scooped by two."""
    share = shared(Amount(F(2), CUP), ONION, 2)
    assert share == Share(2, Amount(F(1), CUP))
    assert shared(Amount(F(1), CUP), ONION, 2) is None


@given(
    item=st.sampled_from([ONION, CARROT, PAPER, EGG]),
    amount=st.builds(
        Amount, st.fractions(F(1, 8), F(20), max_denominator=8), st.sampled_from([PIECE, CAN, CUP])
    ),
    children=st.integers(1, 6),
)
def test_shares_add_up_to_what_is_measured(item: Item, amount: Amount, children: int) -> None:
    """Whatever is said is exact, for every child at least something that a knife can make."""
    measured = measure(amount, item, None, KITCHEN)
    share = share_of(measured, item, children)
    if share is not None:
        assert share.whole == measured.shown[0].to(share.each.unit).low
        assert share.children == children and 0 <= share.more_for < children
        assert share.each.low.denominator in (1, 2, 3, 4, 8)
        if share.each.unit == PIECE:
            parts = {"quarter": (1, 2, 4), "half": (1, 2), "whole": (1,)}[item.divides or "whole"]
            # Thirds only where an adult has cut them.
            thirds = measured.shown[0].low.denominator == 3
            assert share.each.low.denominator in ((1, 3) if thirds else parts)
