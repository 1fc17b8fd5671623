"""Metric measures: by published weights, rounded little, and adding up over the steps."""

from __future__ import annotations

from fractions import Fraction as F

import pytest
from hypothesis import given
from hypothesis import strategies as st

from demo_class import demo_examined
from spoonfold.check import Examined
from spoonfold.model.classroom import HOME_MEASURING
from spoonfold.model.recipe import Ingredient
from spoonfold.plan.amounts.convert import CUP, GRAM
from spoonfold.plan.amounts.metric import MILLILITRE, SMALLEST, metric_line, metric_of
from spoonfold.plan.amounts.scale import line_of, scaled, scaled_use
from spoonfold.plan.amounts.tools import kitchen_of
from spoonfold.plan.amounts.uses import Use
from spoonfold.problem import Place
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.grammar import Refusal, read_amount
from spoonfold.quantity.show import show_amount
from spoonfold.read.pantry import read_pantry

PANTRY = read_pantry(None, [])
HOME = kitchen_of(HOME_MEASURING)


def amount(text: str) -> Amount:
    read = read_amount(text)
    assert not isinstance(read, Refusal), read
    return read


def shown(text: str, name: str, preparation: str | None = None) -> str:
    item = PANTRY.find(name)
    ingredient = Ingredient(name, amount(text), preparation, Place("rice.md"))
    whole = Use(ingredient, 1, F(1), None, Place("rice.md"))
    metric = metric_line(line_of(ingredient, (scaled_use(whole, F(1), item, HOME),)), item)
    return "" if metric is None else show_amount(metric.amount)


class TestOne:
    @pytest.mark.parametrize(
        ("text", "name", "preparation", "wanted"),
        [
            # USDA SR26: 20081, 1 cup is 125 g; 11282, 1 cup chopped 160 g, sliced 115 g.
            ("1 cup", "all-purpose flour", None, "125 g"),
            ("1 cup", "onion", "chopped", "160 g"),
            ("1 cup", "onion", "sliced", "115 g"),
            # What pours stays volume: NIST SP 811, 1 cup is 236.588 ml.
            ("1 cup", "water", None, "240 ml"),
            ("1/4 cup", "soy sauce", None, "60 ml"),
            ("1/3 cup", "milk", None, "80 ml"),
            # 1 lb is 453.592 g, 1 oz 28.3495 g.
            ("1 lb", "ground turkey", None, "450 g"),
            ("1 can (15 oz)", "black beans", None, "1 can (425 g)"),
            ("2 cans (14.5 oz each)", "crushed tomatoes", None, "2 cans (411 g each)"),
            # A food without a published weight stays volume.
            ("1 cup", "something unheard of", None, "240 ml"),
        ],
    )
    def test_measures(self, text: str, name: str, preparation: str | None, wanted: str) -> None:
        assert shown(text, name, preparation) == wanted

    @pytest.mark.parametrize(
        ("text", "name"),
        [
            ("1 tsp", "salt"),
            ("1 1/2 tbsp", "olive oil"),
            ("2 tbsp", "mint"),
            ("1 pinch", "salt"),
            ("3 large", "egg"),
            ("2 cloves", "garlic"),
            ("1/2 large", "egg"),
        ],
    )
    def test_what_no_scale_helps_with(self, text: str, name: str) -> None:
        """Spoons, pieces and weights below 10 g are measured as they always are."""
        assert shown(text, name) == ""

    @pytest.mark.parametrize(
        ("text", "name", "wanted"),
        [
            ("1-2 cups", "water", "240–470 ml"),
            # 1 in is 2.54 cm: NIST Handbook 44, appendix C. Half a centimeter is the least.
            ("1-2 inches", "ginger", "2½–5 cm"),
            ("1/8-1/4 inch", "ginger", "½ cm"),
        ],
    )
    def test_both_ends_of_a_range(self, text: str, name: str, wanted: str) -> None:
        """One end alone where both are the same for who measures."""
        assert shown(text, name) == wanted

    def test_a_step_takes_little_of_a_line(self) -> None:
        """A teaspoon of salt is 6 g (USDA SR26 02047): a step that takes a quarter of it asks for
        2 g, not for the nearest 5 g."""
        assert metric_of(amount("1/4 tsp"), PANTRY.find("salt"), None) == amount("2 g")

    @given(st.fractions(min_value=F(1, 4), max_value=40, max_denominator=24))
    def test_rounding_is_little(self, cups: F) -> None:
        """From 17 g up at most 3 % off, and a whole number of grams or milliliters."""
        for name, unit in (("all-purpose flour", GRAM), ("water", MILLILITRE)):
            exact = amount("1 cup").times(cups)
            found = metric_of(exact, PANTRY.find(name), None)
            assert found is not None and found.unit == unit and found.low.denominator == 1
            one = F(125) if unit == GRAM else amount("1 cup").to(MILLILITRE).low
            assert abs(found.low / (one * cups) - 1) <= F(3, 100)


@pytest.fixture(scope="module")
def demo() -> Examined:
    return demo_examined()


def test_lines_are_the_sum_of_their_steps(demo: Examined) -> None:
    """At every size of every dish of the demo, what the steps take adds up to the line; a line
    and its steps are measured in one way; and it is as much as the cups are, within 5 %."""
    folder, checked = demo.read.folder, 0
    for key, recipe in folder.recipes.items():
        for people in range(1, 13):
            size = scaled(recipe, demo.facts.uses[key], folder.pantry, HOME, F(people))
            for line in size.lines:
                metric = metric_line(line, folder.pantry.find(line.ingredient.name))
                if metric is None:
                    continue
                assert len(metric.uses) == len(line.uses)
                assert all(each.unit == metric.amount.unit for each in metric.uses)
                assert sum(each.low for each in metric.uses) == metric.amount.low
                if metric.amount.unit not in (GRAM, MILLILITRE) or line.exact is None:
                    continue
                assert metric.amount.low >= SMALLEST
                if metric.amount.unit == MILLILITRE:
                    exact = line.exact.to(MILLILITRE).low
                    assert abs(metric.amount.low / exact - 1) <= F(5, 100), (key, people, line)
                checked += 1
    assert checked > 200


def test_flour_goes_by_its_own_weight_in_every_form() -> None:
    """A cup that is twice as large weighs twice as much, whatever it is called."""
    item = PANTRY.find("all-purpose flour")
    cup = metric_of(Amount(F(4), CUP), item, None)
    pint = metric_of(amount("2 pints"), item, None)
    assert cup == pint == Amount(F(500), GRAM)
