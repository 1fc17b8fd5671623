"""What is divided between tables: shares that add up to what is bought."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction as F

import pytest
from hypothesis import given
from hypothesis import strategies as st
from test_scale import SETTING, recipe_of

from spoonfold.model.classroom import DietNeed
from spoonfold.model.pantry import Package, Pantry
from spoonfold.model.recipe import Term
from spoonfold.plan.amounts.dealt import apportioned
from spoonfold.plan.amounts.measure import measure
from spoonfold.plan.amounts.scale import ClassScale, scaled_for_class
from spoonfold.plan.amounts.tools import class_kitchen
from spoonfold.plan.amounts.uses import uses_of
from spoonfold.plan.shop.shop import taken_by
from spoonfold.problem import Place, Problem
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.grammar import Refusal, read_amount
from spoonfold.quantity.show import show_amount
from spoonfold.read.files import Source
from spoonfold.read.pantry import read_pantry
from spoonfold.read.recipe import read_recipe

PANTRY = read_pantry(None, [])


def amount(text: str) -> Amount:
    read = read_amount(text)
    assert not isinstance(read, Refusal), read
    return read


def in_class(
    ingredients: str, steps: str, tables: tuple[int, ...], pantry: Pantry = PANTRY
) -> ClassScale:
    recipe = recipe_of(ingredients, steps)
    setting = replace(SETTING, tables=tables, helpers=0, needs=())
    return scaled_for_class(recipe, uses_of(recipe, pantry), pantry, setting)


def taken(scale: ClassScale, key: str) -> list[str]:
    return [
        " + ".join(show_amount(each) for each in line.amounts)
        for table in scale.tables
        for line in table.lines
        if line.ingredient.key == key
    ]


STEP = "1. Dice the {}.\n    - time: 5 min"


@pytest.mark.parametrize(
    ("listed", "name", "tables", "shares"),
    [
        # 3¾ peppers: four are bought, and the odd one is cut in three.
        ("1 bell pepper", "bell pepper", (5, 5, 5), ["1⅓", "1⅓", "1⅓"]),
        # 3½: four, and the odd one is halved for the two larger tables.
        ("1 bell pepper", "bell pepper", (5, 5, 4), ["1½", "1½", "1"]),
        # Whole already: 5 for four tables of five.
        ("1 bell pepper", "bell pepper", (5, 5, 5, 5), ["1¼"] * 4),
        # Halves are cut at the table, and half a lemon is left.
        ("2 lemons", "lemons", (5, 5, 5), ["2½", "2½", "2½"]),
        # What is never cut is counted, and so bought.
        ("2 cloves garlic", "garlic", (5, 5, 5), ["3 cloves"] * 3),
        # One table has nobody to share with.
        ("1 bell pepper", "bell pepper", (5,), ["1¼"]),
    ],
)
def test_worked(listed: str, name: str, tables: tuple[int, ...], shares: list[str]) -> None:
    """Listed for four, one portion each."""
    scale = in_class(listed, STEP.format(name), tables)
    assert taken(scale, scale.totals[0].ingredient.key) == shares


def test_each_step_takes_its_part_of_the_share() -> None:
    """The table's 1½ peppers of four are halved between two steps."""
    scale = in_class(
        "1 bell pepper",
        '1. Dice [half the pepper](#bell-pepper "1/2").\n    - time: 5 min\n'
        '2. Slice [the rest of the pepper](#bell-pepper "rest").\n    - time: 5 min',
        (5, 5, 4),
    )
    for table in scale.tables:
        (line,) = table.lines
        steps = [use.measured.shown[0].low for use in line.uses if use.measured]
        assert sum(steps) == line.amounts[0].low
    assert [each.low for total in scale.totals for each in total.amounts] == [4]


def test_a_table_that_takes_something_else_has_no_share() -> None:
    """Of three tables of five one cooks without turkey: two share 2½ packages, not 4."""
    lines = "  - 1 lb ground turkey\n"
    found: list[Problem] = []
    recipe = read_recipe(
        Source(
            "content/recipes/dish.md",
            "---\ntitle: Dish\nplace: Town, Peru\ncountry: PE\nserves: 4\n"
            f"ingredients:\n{lines}swaps:\n  - instead of: ground turkey\n"
            "    use: 14 oz firm tofu, crumbled\n    because: no meat\n"
            "---\n\nA dish.\n\n## Steps\n\n1. Fry the ground turkey.\n    - time: 5 min\n",
        ),
        "dish",
        found,
    )
    assert recipe is not None and not found, found
    packed = replace(
        PANTRY.find("ground turkey") or pytest.fail(), packages=(Package(amount("1 lb"), None),)
    )
    pantry = Pantry(
        {"ground turkey": "ground turkey", "firm tofu": "firm tofu"},
        {"ground turkey": packed, "firm tofu": PANTRY.find("firm tofu")}.get,
    )
    need = DietNeed((Term("meat", Place("x")),), 3, False, Place("x"))
    setting = replace(SETTING, tables=(5, 5, 5), helpers=0, needs=(need,), equipment={})
    uses = uses_of(recipe, pantry)
    scale = scaled_for_class(recipe, uses, pantry, setting)
    assert taken(scale, "ground-turkey")[:2] == ["1¼ packages (1 lb each)"] * 2
    bought = [each for each in taken_by(recipe, uses, pantry, setting) if not each.instead_of]
    assert sum(part.low for each in bought for part in each.amounts) == F(5, 2)


@given(
    total=st.integers(1, 60).map(lambda halves: F(halves, 2)),
    wanted=st.lists(st.integers(1, 15).map(F), min_size=1, max_size=6),
    parts=st.sampled_from([(1,), (1, 2), (1, 2, 3, 4)]),
)
def test_what_is_dealt_out_adds_up(total: F, wanted: list[F], parts: tuple[int, ...]) -> None:
    """Nothing is left and nobody gets nothing; who wants as much never gets a whole part less."""
    shares = apportioned(total, wanted, parts)
    if shares is None:
        return
    assert sum(shares) == total and all(shares)
    assert all(each.denominator in (1, 2, 3, 4) for each in shares)
    for one, share in zip(wanted, shares, strict=True):
        for other, theirs in zip(wanted, shares, strict=True):
            assert one < other or share > theirs or theirs - share <= 1


class TestEggs:
    def test_separated_eggs_are_counted(self) -> None:
        """Whole eggs are cracked: three for four are 2¼ for three, so two; whites and yolks are
        of the same two, and each is bought once."""
        recipe = recipe_of(
            "3 large eggs",
            '1. Whisk the [whites](#eggs "white").\n    - time: 5 min\n'
            '2. Stir the [yolks](#eggs "yolk").\n    - time: 5 min',
        )
        setting = replace(SETTING, tables=(4, 3, 5), helpers=0, needs=())
        uses = uses_of(recipe, PANTRY)
        scale = scaled_for_class(recipe, uses, PANTRY, setting)
        for table, eggs in zip(scale.tables, (3, 2, 4), strict=True):
            for use in table.lines[0].uses:
                assert use.measured is not None and not use.measured.beaten
                assert [each.low for each in use.measured.shown] == [eggs]
        bought = list(taken_by(recipe, uses, PANTRY, setting))
        assert [part.low for each in bought for part in each.amounts] == [3, 2, 4]

    def test_beaten_eggs_are_bought_once(self) -> None:
        """2¼ eggs in two steps: three are cracked, not two for each step."""
        recipe = recipe_of(
            "3 large eggs",
            '1. Whisk [half the eggs](#eggs "1/2").\n    - time: 5 min\n'
            '2. Fry [the rest of the eggs](#eggs "rest").\n    - time: 5 min',
        )
        setting = replace(SETTING, tables=(3,), helpers=0, needs=())
        bought = list(taken_by(recipe, uses_of(recipe, PANTRY), PANTRY, setting))
        assert [part.low for each in bought for part in each.amounts] == [3]


class TestWithoutAScale:
    KITCHEN = class_kitchen(replace(SETTING, equipment={"knife": 1}))
    WEIGHED = class_kitchen(replace(SETTING, equipment={"scale": 1}))

    @pytest.mark.parametrize(
        ("text", "name", "package", "shown"),
        [
            ("12 oz", "ground turkey", "1 lb", "¾ package (1 lb each)"),
            ("15 oz", "firm tofu", "14 oz", "1 package (14 oz)"),
            ("13 1/3 oz", "ground turkey", None, "¾ lb"),
            ("5 oz", "rice vermicelli", None, "⅓ lb"),
            # Nothing near a part of the package: it is scooped.
            ("2 oz", "butter", "1 lb", "¼ cup"),
        ],
    )
    def test_weights_are_parted_by_eye(
        self, text: str, name: str, package: str | None, shown: str
    ) -> None:
        """As shares of the package, or of a pound."""
        item = PANTRY.find(name)
        assert item is not None
        if package is not None:
            item = replace(item, packages=(Package(amount(package), None),))
        got = measure(amount(text), item, None, self.KITCHEN)
        assert " + ".join(map(show_amount, got.shown)) == shown
        weighed = measure(amount(text), item, None, self.WEIGHED)
        assert all(each.unit.name in ("oz", "lb") for each in weighed.shown)

    @pytest.mark.parametrize(
        ("text", "name", "preparation", "shown", "weighed"),
        [
            # USDA SR26 11457: a cup of spinach 30 g, a bunch 340 g; 11233: a cup of kale 67 g.
            ("26 1/4 cups", "spinach", None, "2½ bunches", "790 g"),
            ("11 cups", "kale", "chopped", "11 handfuls", "740 g"),
            ("3 cups", "kale", "chopped", "3 cups", "3 cups"),
            ("9 cups", "onion", "chopped", "9 cups", "9 cups"),
        ],
    )
    def test_nobody_counts_cups_of_leaves(
        self, text: str, name: str, preparation: str | None, shown: str, weighed: str
    ) -> None:
        """Bunches, handfuls or grams; what isn't leaves, and a few cups of them, are scooped."""
        for kitchen, said in ((self.KITCHEN, shown), (self.WEIGHED, weighed)):
            got = measure(amount(text), PANTRY.find(name), preparation, kitchen)
            assert " + ".join(map(show_amount, got.shown)) == said
