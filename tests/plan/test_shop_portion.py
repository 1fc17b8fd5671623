"""Edible portion and as purchased: published worked cases, and the traps between them."""

from __future__ import annotations

import math
from fractions import Fraction as F

import pytest

from spoonfold.model.pantry import Item, Package, Pantry, Weight
from spoonfold.plan.amounts.convert import CUP, GRAM, POUND, known_unit
from spoonfold.plan.shop.portion import (
    Kind,
    Part,
    Scale,
    as_purchased,
    edible_portion,
    held,
    needed,
    scale_for,
)
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.unit import PIECE, Unit, size_in
from spoonfold.read.pantry import read_pantry

OZ = known_unit("oz")
CAN = known_unit("can")


@pytest.fixture(scope="module")
def pantry() -> Pantry:
    """What ships with the package."""
    return read_pantry(None, [])


def _item(edible: F, *weights: Weight) -> Item:
    return Item("food", "foods", edible=edible, weights=weights)


def _part(
    low: F | int,
    unit: Unit = PIECE,
    size: str | None = None,
    preparation: str | None = None,
    each: Amount | None = None,
) -> Part:
    return Part(Amount(F(low), unit, None, size, each), preparation)


class TestPublishedCases:
    """OpenWA, Bakery and Business Math, chapter 25; USDA Food Buying Guide, January 2013."""

    @pytest.mark.parametrize(
        ("bought", "share", "to_eat"),
        [
            (F(3), F(95, 100), F(285, 100)),  # 3 lb zucchini
            (F(5000), F(87, 100), F(4350)),  # 5000 g strawberries
            (F(1), F(23, 100), F(23, 100)),  # 1 lb artichokes, cooked
        ],
    )
    def test_edible_portion(self, bought: F, share: F, to_eat: F) -> None:
        """EP is AP times the yield, exactly, and back."""
        assert edible_portion(bought, _item(share)) == to_eat
        assert as_purchased(to_eat, _item(share)) == bought

    def test_hundred_servings(self) -> None:
        """A hundred quarter-cups at 1.49 a pound are 67.2 lb: as much as is needed, rounded up."""
        pounds = F(100) / F(149, 100)
        assert math.ceil(pounds * 10) == 672

    def test_package_of_zucchini(self) -> None:
        """A 3 lb bag of zucchini covers 2.85 lb ready to eat."""
        grams = held(Amount(F(3), POUND), Scale(Kind.WEIGHT), _item(F(95, 100)))
        assert grams is not None
        assert grams * size_in(GRAM, POUND) == F(285, 100)


class TestTraps:
    def test_piece_by_the_piece(self, pantry: Pantry) -> None:
        """What is bought by the piece and used by the piece has no yield."""
        pepper = pantry.find("red bell pepper")
        package = Package(Amount(F(1), PIECE, None, "medium"), None)
        found = scale_for([_part(4, size="medium")], [package], pepper)
        assert found is not None and found[1] == 4
        assert held(package.size, found[0], pepper) == 1

    def test_piece_out_of_a_bag(self, pantry: Pantry) -> None:
        """A published piece is edible portion, a bag of them is not: 3 lb hold 8 onions, not 9."""
        onion = pantry.find("onion")
        assert onion is not None
        scale = Scale(Kind.WEIGHT)
        one = needed([_part(1, size="large")], scale, onion)
        bag = held(Amount(F(3), POUND), scale, onion)
        assert one == 150 and bag is not None
        assert math.floor(bag / one) == 8
        assert math.floor(3 * size_in(POUND, GRAM) / one) == 9

    def test_weight_for_cups(self, pantry: Pantry) -> None:
        """What is bought by weight and used by the cup has a yield."""
        cabbage = pantry.find("red cabbage")
        assert cabbage is not None
        cups = needed([_part(2, CUP, preparation="finely shredded")], Scale(Kind.WEIGHT), cabbage)
        assert cups == 140
        assert as_purchased(cups, cabbage) == 140 / cabbage.edible

    def test_bunch_has_stalks(self, pantry: Pantry) -> None:
        """A bunch by its trade weight is as purchased; a head by USDA's is edible portion."""
        mint, cabbage = pantry.find("mint"), pantry.find("green cabbage")
        assert mint is not None and cabbage is not None
        scale = Scale(Kind.WEIGHT)
        assert held(Amount(F(1), known_unit("bunch")), scale, mint) == 40 * mint.edible
        assert held(Amount(F(1), known_unit("head")), scale, cabbage) == 908

    def test_cooked_is_not_dry(self, pantry: Pantry) -> None:
        """A cup of cooked rice says nothing of the packet of dry rice."""
        rice = pantry.find("long-grain rice")
        part = _part(1, CUP, preparation="cooked and cooled")
        assert needed([part], Scale(Kind.WEIGHT), rice) is None

    def test_size_not_published(self, pantry: Pantry) -> None:
        """A size that nobody weighed isn't taken for the usual one."""
        onion = pantry.find("onion")
        assert needed([_part(1, size="extra large")], Scale(Kind.WEIGHT), onion) is None


class TestCans:
    def test_printed_weight_is_not_drained_weight(self, pantry: Pantry) -> None:
        """A cup of drained beans is covered by what is drained out of a can, not by its 15 oz."""
        beans = pantry.find("black beans")
        fifteen = Amount(F(1), CAN, each=Amount(F(15), OZ))
        assert beans is not None
        assert held(fifteen, Scale(Kind.DRAINED), beans) == 255
        cup = _part(1, CUP, preparation="drained and rinsed")
        found = scale_for([cup], [Package(fifteen, None)], beans)
        assert found is not None
        assert found[0].kind is Kind.DRAINED and found[1] == 170

    def test_can_of_another_size(self, pantry: Pantry) -> None:
        """A published can stands for cans of about its own size alone."""
        beans = pantry.find("black beans")
        big = Amount(F(1), CAN, each=Amount(F(28), OZ))
        assert held(big, Scale(Kind.DRAINED), beans) is None

    def test_cans_for_cans(self, pantry: Pantry) -> None:
        """Cans of another size are compared by the printed weight."""
        tomatoes = pantry.find("crushed tomatoes")
        part = _part(2, CAN, each=Amount(F(28), OZ))
        small = Package(Amount(F(1), CAN, each=Amount(F(14), OZ)), None)
        found = scale_for([part], [small], tomatoes)
        assert found is not None
        size = held(small.size, found[0], tomatoes)
        assert size is not None and found[1] / size == 4

    def test_fruit_in_juice(self, pantry: Pantry) -> None:
        """Of a can whose juice nobody has weighed there is no guess."""
        pineapple = pantry.find("canned pineapple")
        twenty = Amount(F(1), CAN, each=Amount(F(20), OZ))
        assert held(twenty, Scale(Kind.WEIGHT), pineapple) is None

    def test_paste_is_all_food(self, pantry: Pantry) -> None:
        """Nothing is poured off tomato paste: six printed ounces are six ounces of it."""
        paste = pantry.find("tomato paste")
        six = Amount(F(1), CAN, each=Amount(F(6), OZ))
        assert held(six, Scale(Kind.WEIGHT), paste) == 6 * size_in(OZ, GRAM)


class TestNoGuess:
    def test_unknown_food(self) -> None:
        """A food that the pantry doesn't know has no packages and is bought as measured."""
        assert scale_for([_part(2, CUP)], [], None) == (Scale(Kind.VOLUME), F(2) * 48)
        assert held(Amount(F(1), POUND), Scale(Kind.VOLUME), None) is None

    def test_cups_and_pounds_without_a_weight(self) -> None:
        """Without a published weight a cup and a pound never meet."""
        found = scale_for([_part(2, CUP)], [Package(Amount(F(1), POUND), None)], _item(F(1)))
        assert found is not None
        assert held(Amount(F(1), POUND), found[0], _item(F(1))) is None
