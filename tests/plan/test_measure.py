"""Measuring, converting and adding amounts. Published values name their source."""

from __future__ import annotations

from fractions import Fraction as F

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spoonfold.model.classroom import HOME_MEASURING
from spoonfold.model.recipe import Pan
from spoonfold.plan.amounts.convert import CUP, GRAM, OUNCE, TSP, converted
from spoonfold.plan.amounts.measure import Measured, Way, measure
from spoonfold.plan.amounts.scale import KNOWN_PANS, pan_area, pan_for
from spoonfold.plan.amounts.tools import kitchen_of
from spoonfold.plan.amounts.total import added, expressed
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.grammar import Refusal, read_amount
from spoonfold.quantity.show import show_amount
from spoonfold.quantity.unit import size_in
from spoonfold.read.pantry import read_pantry

PANTRY = read_pantry(None, [])
HOME = kitchen_of(HOME_MEASURING)


def amount(text: str) -> Amount:
    read = read_amount(text)
    assert not isinstance(read, Refusal), read
    return read


def measured(text: str, name: str = "rice", preparation: str | None = None) -> Measured:
    return measure(amount(text), PANTRY.find(name), preparation, HOME)


def words(amounts: tuple[Amount, ...]) -> str:
    return " + ".join(show_amount(each) for each in amounts)


class TestConverting:
    @pytest.mark.parametrize(
        ("text", "name", "preparation", "grams"),
        [
            # USDA National Nutrient Database for Standard Reference, release 26.
            ("1 cup", "onion", "chopped", 160),  # 11282: 1 cup, chopped
            ("1 cup", "onion", "sliced", 115),  # 11282: 1 cup, sliced
            ("2 cups", "all-purpose flour", None, 250),  # 20081: 1 cup, 125 g
            ("1 large", "egg", None, 50),  # 01123: 1 large
            ("1 cup", "honey", None, 339),  # 19296: 1 cup
        ],
    )
    def test_volume_to_mass_by_published_weights(
        self, text: str, name: str, preparation: str | None, grams: int
    ) -> None:
        got = converted(amount(text), GRAM, PANTRY.find(name), preparation)
        assert got is not None and got.low == grams

    @pytest.mark.parametrize(
        ("text", "name", "preparation"),
        [
            ("1 cup", "onion", "in wedges"),  # no published weight for that form
            ("1 cup", "dragon scales", None),  # nobody knows it
            ("1 can (15 oz)", "black beans", None),  # the net weight counts the liquid
        ],
    )
    def test_nothing_is_guessed(self, text: str, name: str, preparation: str | None) -> None:
        """What no published weight says is None, not a number."""
        assert converted(amount(text), GRAM, PANTRY.find(name), preparation) is None

    def test_to_any_weight(self) -> None:
        """A cup of flour, 125 g (USDA SR26 20081), in ounces of 28.349523125 g (NIST Handbook
        44, appendix C)."""
        got = converted(amount("1 cup"), OUNCE, PANTRY.find("all-purpose flour"), None)
        assert got is not None and got.low == 125 / F("28.349523125")

    @given(st.fractions(F(1, 8), 50, max_denominator=16))
    def test_there_and_back(self, cups: F) -> None:
        """Volume to mass to volume is the same amount, exactly."""
        flour = PANTRY.find("all-purpose flour")
        mass = converted(Amount(cups, CUP), GRAM, flour, None)
        assert mass is not None
        back = converted(mass, CUP, flour, None)
        assert back is not None and back.low == cups


class TestMeasuring:
    @pytest.mark.parametrize(
        ("text", "name", "expected"),
        [
            ("1 1/2 cups", "rice", "1½ cups"),
            ("11/12 cup", "rice", "⅔ cup + ¼ cup"),
            ("250 ml", "milk", "1 cup + 1 tbsp"),  # 250/236.59 of a cup, from below
            ("1/16 tsp", "salt", "1 pinch"),
            ("250 g", "all-purpose flour", "2 cups"),  # 125 g a cup (USDA SR26 20081)
            ("1 lb", "ground turkey", "1 lb"),
            ("20 oz", "ground turkey", "1¼ lb"),
            ("250 g", "ground turkey", "250 g"),
        ],
    )
    def test_worked(self, text: str, name: str, expected: str) -> None:
        assert words(measured(text, name).shown) == expected

    @pytest.mark.parametrize(
        ("text", "name", "shown", "off"),
        [
            ("1/16 tsp", "salt", "1 pinch", F(0)),
            ("1/20 tsp", "salt", "1 pinch", F(1, 4)),
            ("248 g", "ground turkey", "250 g", F(2, 248)),
            ("252 g", "ground turkey", "250 g", F(-2, 252)),
            ("1 g", "ground turkey", "1 g", F(0)),
        ],
    )
    def test_how_far_off(self, text: str, name: str, shown: str, off: F) -> None:
        """What is shown is too much or too little by so much of what was asked. A pinch is a
        sixteenth of a teaspoon (common practice)."""
        got = measured(text, name)
        assert (words(got.shown), got.off) == (shown, off)

    def test_a_weight_without_scale_or_weights_stays_a_weight(self) -> None:
        assert measured("8 oz", "ground beef").way is Way.WEIGHT

    def test_a_scale_keeps_weights(self) -> None:
        kitchen = kitchen_of(HOME_MEASURING, scale=True)
        got = measure(amount("250 g"), PANTRY.find("all-purpose flour"), None, kitchen)
        assert words(got.shown) == "250 g"

    @pytest.mark.parametrize(
        ("text", "name", "expected"),
        [
            ("1 7/8", "onion", "2"),
            ("1 1/4", "onion", "1¼"),
            ("1/3", "cabbage", "⅓"),
            ("7 1/2", "lemon", "8"),
            ("2 2/3 cloves", "garlic", "3 cloves"),
            ("3/4 can (15 oz each)", "black beans", "¾ can (15 oz each)"),
            ("5 7/10", "tortilla", "6"),
        ],
    )
    def test_whole_things_come_out_as_a_knife_makes_them(
        self, text: str, name: str, expected: str
    ) -> None:
        """Within a tenth the easier number, else the nearest part (common practice)."""
        assert words(measured(text, name).shown) == expected

    @given(st.fractions(F(1, 4), 90, max_denominator=24))
    def test_what_is_off_is_said(self, tsp: F) -> None:
        """The error is exactly what is shown against what was asked."""
        got = measure(Amount(tsp, TSP), PANTRY.find("rice"), None, HOME)
        shown = sum((each.low * size_in(each.unit, TSP) for each in got.shown), F(0))
        assert got.off == shown / tsp - 1


class TestAdding:
    @pytest.mark.parametrize(
        ("parts", "expected"),
        [
            (["1 cup", "3/4 cup"], "1¾ cups"),
            (["1 tbsp", "1 1/2 tsp"], "1½ tbsp"),
            (["2/3 cup", "1/4 cup"], "¾ cup + 2 tbsp + 2 tsp"),
            (["1 lb", "4 oz"], "1¼ lb"),
            (["200 g", "150 g"], "350 g"),
            (["1 large", "2 large"], "3 large"),
            (["1 can (15 oz)", "1/2 can (15 oz each)"], "1½ cans (15 oz each)"),
            (["2-3", "1"], "3–4"),
            (["1 cup", "2 cloves"], "1 cup + 2 cloves"),
        ],
    )
    def test_worked(self, parts: list[str], expected: str) -> None:
        assert words(added((amount(each),) for each in parts)) == expected

    @given(st.fractions(F(1, 8), 2000, max_denominator=8))
    def test_a_total_is_exact(self, tsp: F) -> None:
        """A sum that is read, not scooped, is never rounded."""
        shown = expressed(tsp)
        assert sum((each.low * size_in(each.unit, TSP) for each in shown), F(0)) == tsp


# Square inches, as the trade's tables give them (8 in round 50.3, 9 in 63.6, 10 in 78.5).
AREAS = {
    "8 in round": F(503, 10),
    "8 x 8 in": F(64),
    "9 in round": F(636, 10),
    "10 in round": F(785, 10),
    "9 x 9 in": F(81),
    "9 x 13 in": F(117),
    "13 x 18 in": F(234),
}


class TestPans:
    def test_known_areas(self) -> None:
        for pan in KNOWN_PANS:
            assert abs(pan_area(pan) - AREAS[pan.text]) <= F(1, 20)

    @given(st.sampled_from(KNOWN_PANS), st.fractions(F(1, 4), 50, max_denominator=8))
    def test_the_area_is_reached(self, pan: Pan, factor: F) -> None:
        """To a twentieth, with a fifth more at most, and by the fewest pans; else by those with
        the least too much."""
        need = pan_for(pan, factor)
        assert need.area == pan_area(pan) * factor
        mine = pan_area(need.pan) * need.count
        assert need.off == mine / need.area - 1
        others = [(pan_area(each), n) for each in KNOWN_PANS for n in range(1, 700)]
        near = [n for own, n in others if F(-1, 20) <= own * n / need.area - 1 <= F(1, 5)]
        if near:
            assert need.count == min(near) and F(-1, 20) <= need.off <= F(1, 5)
        else:
            assert mine == min(own * n for own, n in others if own * n >= need.area)

    def test_many_pans(self) -> None:
        """25 times a dish of 8 x 8 in, 1600 square inches: seven half sheets of 13 x 18 (234)."""
        need = pan_for(next(each for each in KNOWN_PANS if each.text == "8 x 8 in"), F(25))
        assert (need.count, need.pan.text) == (7, "13 x 18 in")


def test_ounces_are_avoirdupois() -> None:
    """1 oz = 28.349523125 g exactly (NIST Handbook 44, Appendix C)."""
    assert size_in(OUNCE, GRAM) == F(28349523125, 10**9)
