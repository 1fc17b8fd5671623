"""Multiplying a recipe. Worked numbers name their published source beside the check."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction as F

import pytest
from hypothesis import given
from hypothesis import strategies as st

from demo_class import demo_folder
from spoonfold.model.classroom import HOME_MEASURING, Measuring, Setting
from spoonfold.model.recipe import Recipe
from spoonfold.plan.amounts.eaters import eaters_at_tables, portions_at_tables
from spoonfold.plan.amounts.scale import Scaled, ScaledLine, is_tasted, scaled, scaled_for_class
from spoonfold.plan.amounts.tools import kitchen_of
from spoonfold.plan.amounts.uses import uses_of
from spoonfold.problem import Problem
from spoonfold.quantity.show import show_amount
from spoonfold.quantity.unit import size_in, unit_named
from spoonfold.read.files import Source
from spoonfold.read.pantry import read_pantry
from spoonfold.read.recipe import read_recipe

PANTRY = read_pantry(None, [])
DEMO = demo_folder()
assert DEMO.classroom is not None
SETTING: Setting = DEMO.classroom.setting


def recipe_of(ingredients: str, steps: str, header: str = "", serves: str = "4") -> Recipe:
    """A small recipe that must read without a problem."""
    lines = "".join(f"  - {line}\n" for line in ingredients.strip().splitlines())
    text = (
        f"---\ntitle: Dish\nplace: Town, Peru\ncountry: PE\nserves: {serves}\n{header}"
        f"ingredients:\n{lines}---\n\nA dish.\n\n## Steps\n\n{steps.strip()}\n"
    )
    found: list[Problem] = []
    recipe = read_recipe(Source("content/recipes/dish.md", text), "dish", found)
    assert recipe is not None and not found, found
    assert uses_of(recipe, PANTRY).problems == ()
    return recipe


def scale(recipe: Recipe, portions: int | F, measuring: Measuring = HOME_MEASURING) -> Scaled:
    return scaled(recipe, uses_of(recipe, PANTRY), PANTRY, kitchen_of(measuring), F(portions))


def line(size: Scaled, key: str) -> ScaledLine:
    return next(each for each in size.lines if each.ingredient.key == key)


def shown(size: Scaled, key: str) -> str:
    return " + ".join(show_amount(each) for each in line(size, key).amounts)


class TestConversionFactor:
    """Factor = portions wanted / portions stated (Virginia CTE competencies)."""

    @pytest.mark.parametrize(
        ("stated", "wanted", "factor"),
        [
            # US Dept of Defense food-service General Information No. A-1(2): 348 / 100.
            ("100", 348, F(348, 100)),
            # Culinary textbook page: 8 -> 18 portions, 10 -> 15 portions.
            ("8", 18, F(9, 4)),
            ("10", 15, F(3, 2)),
            # Computed: a family recipe of four for fifteen children.
            ("4", 15, F(15, 4)),
        ],
    )
    def test_the_factor_is_exact(self, stated: str, wanted: int, factor: F) -> None:
        """No two-place decimals: the factor is a fraction."""
        size = scale(
            recipe_of("1 cup rice", "1. Boil the rice.\n    - time: 5 min", "", stated), wanted
        )
        assert size.factor == factor

    def test_worked_measures_of_the_textbook_page(self) -> None:
        """10 -> 15 portions: 48 oz become 4 lb 8 oz, 2 1/2 c become 3 3/4 c (textbook page)."""
        recipe = recipe_of(
            "48 oz ground beef\n2 1/2 cups water",
            "1. Boil the ground beef in the water.\n    - time: 5 min",
            "",
            "10",
        )
        size = scale(recipe, 15)
        assert shown(size, "ground-beef") == "4½ lb"
        assert shown(size, "water") == "3¾ cups"

    def test_worked_weight_of_the_defense_department(self) -> None:
        """1.25 lb x 3.48 = 4.35 lb; the guide's full ounce above 2 lb 8 oz makes it 4 lb 6 oz.

        The department's own scale (General Information No. A-1(2)) keeps half ounces there:
        4 lb 5 1/2 oz. Ours is the guide of Measuring Success with Standardized Recipes (2002).
        """
        size = scale(
            recipe_of(
                "1.25 lb ground beef", "1. Fry the ground beef.\n    - time: 5 min", "", "100"
            ),
            348,
        )
        exact = line(size, "ground-beef").exact
        assert exact is not None and exact.low == F(435, 100)
        assert shown(size, "ground-beef") == "4 lb + 6 oz"

    def test_fifteen_from_four(self) -> None:
        """1/3 c x 15/4 is exactly 5/4 c; 3/4 tsp is an exact tie that is shown with its error."""
        recipe = recipe_of(
            "1/3 cup sugar\n3/4 tsp salt\n1 cup rice",
            "1. Mix sugar, salt and rice.\n    - time: 5 min",
        )
        size = scale(recipe, 15)
        assert shown(size, "sugar") == "1¼ cups"
        salt = line(size, "salt")
        assert salt.exact is not None and salt.exact.low == F(45, 16)
        assert abs(salt.off) == F(1, 45)


class TestWhatDoesNotMultiply:
    def test_as_needed_stays_as_needed(self) -> None:
        """`salt, to taste` has no amount at any size."""
        recipe = recipe_of(
            "1 cup rice\nsalt, to taste", "1. Boil the rice with salt.\n    - time: 5 min"
        )
        assert line(scale(recipe, 40), "salt").amounts == ()

    def test_a_pan_keeps_its_depth(self) -> None:
        """9 x 13 in is 117 square inches; twice that is a half sheet of 13 x 18 (234)."""
        recipe = recipe_of("1 cup rice", "1. Bake the rice.\n    - time: 5 min", "pan: 9 x 13 in\n")
        pan = scale(recipe, 8).pan
        assert pan is not None
        assert (pan.area, pan.pan.text, pan.count, pan.off) == (234, "13 x 18 in", 1, 0)

    @pytest.mark.parametrize(("portions", "batches"), [(4, 1), (16, 1), (17, 2), (33, 3)])
    def test_above_four_times_it_is_made_in_batches(self, portions: int, batches: int) -> None:
        """Common practice: no batch is larger than four times the recipe."""
        recipe = recipe_of("1 cup rice", "1. Boil the rice.\n    - time: 5 min")
        assert scale(recipe, portions).batches == batches


class TestTasting:
    """Salt and hot spice: start with three quarters, but never where tasting is unsafe."""

    SALTED = "1 tsp salt\n1 cup rice"

    def test_salt_is_tasted_when_multiplied_up(self) -> None:
        recipe = recipe_of(self.SALTED, "1. Boil the rice with the salt.\n    - time: 5 min")
        assert line(scale(recipe, 8), "salt").taste_first
        assert not line(scale(recipe, 4), "salt").taste_first

    @pytest.mark.parametrize("raw", ["1 lb ground turkey", "2 large eggs", "1 cup flour"])
    def test_nothing_raw_is_tasted(self, raw: str) -> None:
        """Season raw meat, egg and batter in full."""
        name = raw.split(" ", 2)[2]
        recipe = recipe_of(
            f"{raw}\n1 tsp salt",
            f"1. Mix the {name} with the salt.\n    - time: 5 min\n"
            "2. Fry it.\n    - time: 5 min\n    - heat: 165 °F",
        )
        assert not line(scale(recipe, 8), "salt").taste_first

    @pytest.mark.parametrize("strong", ["salt", "cayenne"])
    @pytest.mark.parametrize("later", ["1 lb ground turkey", "2 large eggs"])
    def test_nor_where_something_raw_comes_later(self, strong: str, later: str) -> None:
        """What is kept back for the tasting would be forgotten, or tasted raw."""
        recipe = recipe_of(
            f"{later}\n1 tsp {strong}\n1 onion, chopped",
            f"1. Mix {strong} and onion.\n    - time: 5 min\n"
            f"2. Add the {later.split(' ', 2)[2]}.\n    - time: 5 min\n"
            "3. Fry it.\n    - time: 5 min\n    - heat: 165 °F",
        )
        assert not line(scale(recipe, 8), strong).taste_first

    def test_what_nobody_knows_may_be_raw(self) -> None:
        recipe = recipe_of(
            "2 cups zorble\n1 tsp salt", "1. Mix the zorble with the salt.\n    - time: 5 min"
        )
        assert not line(scale(recipe, 8), "salt").taste_first

    def test_what_has_reached_its_heat_is_tasted(self) -> None:
        recipe = recipe_of(
            "2 large eggs\n1 tsp salt",
            "1. Fry the eggs.\n    - time: 5 min\n    - heat: 160 °F\n"
            "2. Sprinkle the salt.\n    - time: 1 min",
        )
        assert line(scale(recipe, 8), "salt").taste_first


class TestWholeThings:
    def test_an_egg_is_whole_or_beaten_and_measured(self) -> None:
        """Half an egg: beat one, measure half of its 50 g (USDA SR26 01123: large, 50 g;
        1 cup, 243 g), which is 4.9 tsp."""
        recipe = recipe_of("1 large egg\n1 cup rice", "1. Mix egg and rice.\n    - time: 5 min")
        egg = line(scale(recipe, 2), "egg")
        measured = egg.uses[0].measured
        assert measured is not None and measured.beaten == 1
        exact = F(1, 2) * F(50, 243) * 48
        assert (
            abs(measured.total * size_in(measured.shown[0].unit, unit_named("tsp")) - exact)
            <= F(3, 100) * exact
        )

    def test_a_can_is_opened_and_halved(self) -> None:
        recipe = recipe_of("1 can (15 oz) black beans", "1. Heat the beans.\n    - time: 5 min")
        assert shown(scale(recipe, 6), "black-beans") == "1½ cans (15 oz each)"

    def test_what_is_off_says_how_far(self) -> None:
        """Garlic stays whole: 2½ cloves become 3, a fifth too much, or 2."""
        recipe = recipe_of("2 cloves garlic", "1. Fry the garlic.\n    - time: 5 min")
        garlic = line(scale(recipe, 5), "garlic")
        assert garlic.amounts[0].low in (2, 3) and garlic.off == garlic.amounts[0].low / F(5, 2) - 1

    def test_a_range_stays_a_range(self) -> None:
        recipe = recipe_of("2-3 medium carrots", "1. Slice the carrots.\n    - time: 5 min")
        assert shown(scale(recipe, 8), "carrots") == "4–6 medium"


class TestTheClass:
    def test_eaters_are_not_only_cooks(self) -> None:
        """Helpers eat where the class says so; the lead cook isn't counted."""
        assert eaters_at_tables(SETTING) == (5, 5, 5)
        assert eaters_at_tables(replace(SETTING, helpers_eat=False)) == (4, 4, 4)
        assert eaters_at_tables(replace(SETTING, helpers=2)) == (5, 5, 4)

    def test_guests_eat_at_every_table(self) -> None:
        """Spread evenly; the last tables have the odd guest, as the first have the odd helper."""
        assert eaters_at_tables(replace(SETTING, guests=12)) == (9, 9, 9)
        assert eaters_at_tables(replace(SETTING, helpers=2, guests=4)) == (6, 6, 6)

    def test_nobody_eats_where_no_child_sits(self) -> None:
        """Not a helper, and not a guest."""
        empty = replace(SETTING, tables=(4, 0, 3), guests=5)
        assert eaters_at_tables(empty) == (4 + 2 + 2, 0, 3 + 1 + 3)

    def test_a_tasting_is_a_part_of_a_portion(self) -> None:
        assert portions_at_tables(replace(SETTING, portion=F(1, 2))) == (F(5, 2),) * 3

    @pytest.mark.parametrize("key", sorted(DEMO.recipes))
    def test_the_class_is_the_sum_of_what_is_measured(self, key: str) -> None:
        """Every total is what the tables, and the pot for all, really measure."""
        recipe = DEMO.recipes[key]
        whole = scaled_for_class(recipe, uses_of(recipe, DEMO.pantry), DEMO.pantry, SETTING)
        parts = (*whole.tables, whole.shared) if whole.shared else whole.tables
        for total in whole.totals:
            lines = [
                each
                for part in parts
                for each in part.lines
                if each.ingredient.key == total.ingredient.key
            ]
            if not total.amounts or len({each.unit.dimension for each in total.amounts}) > 1:
                continue
            base = total.amounts[0].unit
            summed = sum(
                (
                    amount.low * size_in(amount.unit, base)
                    for each in lines
                    for amount in each.amounts
                ),
                F(0),
            )
            assert (
                sum((each.low * size_in(each.unit, base) for each in total.amounts), F(0)) == summed
            )

    @pytest.mark.parametrize("key", sorted(DEMO.recipes))
    def test_shared_steps_are_measured_once(self, key: str) -> None:
        """No use stands both at a table and in what is done for everyone."""
        recipe = DEMO.recipes[key]
        whole = scaled_for_class(recipe, uses_of(recipe, DEMO.pantry), DEMO.pantry, SETTING)
        shared = set(whole.shared.by_step) if whole.shared else set()
        assert shared == {step.number for step in recipe.steps if step.shared}
        assert all(not shared & set(table.by_step) for table in whole.tables)


@given(
    st.fractions(min_value=F(1, 4), max_value=60, max_denominator=12),
    st.sampled_from(sorted(DEMO.recipes)),
)
def test_exact_until_shown(portions: F, key: str) -> None:
    """At any size the exact amount is the listed one times the factor, and every line that
    has an amount shows one."""
    recipe = DEMO.recipes[key]
    uses = uses_of(recipe, DEMO.pantry)
    size = scaled(recipe, uses, DEMO.pantry, kitchen_of(SETTING.measuring), portions)
    for each in size.lines:
        listed = each.ingredient.amount
        if listed is None:
            assert each.amounts == ()
            continue
        assert each.exact is not None and each.exact.low == listed.low * portions / recipe.serves
        assert each.amounts and all(amount.low > 0 for amount in each.amounts)


@pytest.mark.parametrize(
    ("listed", "steps", "tasted"),
    [
        ("1 tsp salt", "1. Stir the salt into the water.\n    - time: 5 min", True),
        ("1 tsp olive oil", "1. Stir the olive oil into the water.\n    - time: 5 min", False),
        ("1 tsp moon dust", "1. Stir the moon dust into the water.\n    - time: 5 min", False),
        ("salt, to taste", "1. Stir the salt into the water.\n    - time: 5 min", False),
        (
            "1 tsp salt\n2 eggs",
            "1. Beat the eggs and salt into the water.\n    - time: 5 min",
            False,
        ),
    ],
)
def test_only_what_is_strong_and_safe_is_tasted(listed: str, steps: str, tasted: bool) -> None:
    """Salt is; oil, what nobody knows, what has no amount, and salt among raw egg are not."""
    recipe = recipe_of(f"1 cup water\n{listed}", steps)
    uses = uses_of(recipe, PANTRY)
    assert is_tasted(recipe, uses, recipe.ingredients[1], PANTRY) is tasted
