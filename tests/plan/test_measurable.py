"""No sheet asks for what no tool of the class measures, and the tables' shares are what is bought.

Recipes and classes that nobody wrote: 3 to 15 children at 1 to 5 tables, cups or metric tools, with
and without a scale.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction as F
from functools import lru_cache

from hypothesis import given, settings
from hypothesis import strategies as st
from test_scale import PANTRY, SETTING, recipe_of

from in_full import sampled
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import HOME_MEASURING, Measuring, Setting
from spoonfold.plan.amounts.scale import Scaled, scaled_for_class
from spoonfold.plan.amounts.scoop import Tool
from spoonfold.plan.amounts.tools import Kitchen, class_kitchen
from spoonfold.plan.amounts.uses import uses_of
from spoonfold.plan.shop.shop import taken_by
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.grammar import read_amount
from spoonfold.quantity.unit import Dimension
from spoonfold.sheets.table_cards.uses import Instead, uses_at

FOODS = (
    *("bell pepper", "onion", "carrot", "cabbage", "lemons", "large eggs", "tortillas"),
    *("cloves garlic", "cups spinach", "cups kale, chopped", "cups rice", "cup parsley, chopped"),
    *("cups water", "cups milk", "tbsp olive oil", "tsp salt", "tsp ground cumin", "tsp vanilla"),
    *("oz ground turkey", "g all-purpose flour", "oz firm tofu", "lb macaroni", "g butter"),
    *("cans (15 oz each) black beans", "tbsp honey", "cups plain yogurt", "slices white bread"),
)
NUMBERS = ("1/8", "1/4", "1/3", "1/2", "2/3", "3/4", "1", "1 1/2", "2", "3", "5", "7", "12")


def _sizes(*texts: str) -> tuple[Amount, ...]:
    read = (read_amount(each) for each in texts)
    return tuple(each for each in read if isinstance(each, Amount))


MEASURING = (
    HOME_MEASURING,
    replace(HOME_MEASURING, jug=_sizes("2 cups")[0]),
    replace(HOME_MEASURING, jug=_sizes("1 l")[0], ladles=_sizes("4 fl oz")),
    Measuring(_sizes("250 ml", "125 ml"), _sizes("15 ml"), _sizes("5 ml", "2.5 ml")),
    Measuring(_sizes("1 cup"), _sizes("1 tbsp"), _sizes("1 tsp")),
)
TABLES = st.lists(st.integers(1, 6), min_size=1, max_size=5).filter(
    lambda tables: 3 <= sum(tables) <= 15
)


@st.composite
def classes(draw: st.DrawFn) -> Setting:
    return replace(
        SETTING,
        tables=tuple(draw(TABLES)),
        helpers=draw(st.integers(0, 3)),
        helpers_eat=draw(st.booleans()),
        portion=draw(st.sampled_from((F(1), F(1, 2)))),
        measuring=draw(st.sampled_from(MEASURING)),
        equipment=draw(st.sampled_from(({"knife": 1}, {"knife": 1, "scale": 1}))),
        needs=(),
    )


@lru_cache(maxsize=1 << 12)
def is_made_of(amount: F, sizes: tuple[F, ...]) -> bool:
    """Whether so many of these sizes make it, tried the plain way."""
    if amount <= 0 or not sizes:
        return amount == 0
    return any(
        is_made_of(amount - count * sizes[0], sizes[1:])
        for count in range(int(amount / sizes[0]), -1, -1)
    )


def _held(tools: tuple[Tool, ...], unit: str) -> tuple[F, ...]:
    """What the tools hold whose amounts are said in a unit: in millilitres, what is engraved."""
    if unit in ("ml", "l"):
        engraved = ((t.size, t.part) for t in tools if t.size and t.size.unit.system == "metric")
        return tuple(size.to(_TSP).low * part for size, part in engraved)
    kinds = {"tbsp": ("tbsp",), "tsp": ("tsp",)}.get(unit, ("cup", "jug", "ladle"))
    return tuple(t.tsp for t in tools if not t.metric and t.kind in kinds)


def assert_measurable(shown: Amount, kitchen: Kitchen) -> None:
    """Scoops of that unit, whole pinches and drops, or parts that a knife and an eye make."""
    for end in (shown.low, shown.high or shown.low):
        match shown.unit.dimension:
            case Dimension.VOLUME if shown.unit.name in ("pinch", "drop"):
                assert end.denominator == 1
            case Dimension.VOLUME:
                tsp = Amount(end, shown.unit).to(_TSP).low
                assert is_made_of(tsp, _held(kitchen.tools, shown.unit.name)), shown
            case Dimension.MASS if kitchen.scale:
                pass
            case Dimension.MASS:
                assert end.denominator in (1, 2, 3, 4, 8), shown
            case _:
                assert end.denominator in (1, 2, 3, 4), shown


_TSP = _sizes("1 tsp")[0].unit


def _shown(place: Scaled) -> Iterator[Amount]:
    for found in place.by_step.values():
        for use in found:
            if use.measured is not None:
                yield from use.measured.shown


@given(
    foods=st.lists(st.sampled_from(FOODS), min_size=1, max_size=4, unique=True),
    numbers=st.lists(st.sampled_from(NUMBERS), min_size=4, max_size=4),
    serves=st.sampled_from(("3", "4", "6")),
    setting=classes(),
    once=st.booleans(),
)
@settings(max_examples=sampled(60, 1500), deadline=None)
def test_every_table_can_measure_its_share(
    foods: list[str], numbers: list[str], serves: str, setting: Setting, once: bool
) -> None:
    """On cards and at the pot; what the tables take is what is bought, and whole where it was
    dealt out."""
    lines = [f"{number} {food}" for number, food in zip(numbers, foods, strict=False)]
    names = [food.split(",")[0].split(" each) ")[-1].split(" ", 1) for food in foods]
    units = ("cloves", "cups", "cup", "tbsp", "tsp", "oz", "g", "lb", "slices", "large")
    plain = [name[1] if name[0] in units else " ".join(name) for name in names]
    mixed = "1. Mix the " + " and the ".join(plain) + ".\n    - time: 5 min"
    recipe = recipe_of("\n".join(lines), mixed + ("\n    - for: class" * once), "", serves)
    uses = uses_of(recipe, PANTRY)
    scale = scaled_for_class(recipe, uses, PANTRY, setting)
    kitchen = class_kitchen(setting)
    places = (*scale.tables, *([scale.shared] if scale.shared else ()))
    for place in places:
        for amount in _shown(place):
            assert_measurable(amount, kitchen)
        for step in recipe.steps:
            for card in uses_at(step, place, Instead({}), PANTRY, Texts("en")):
                assert "/" not in card.amount.text, card
    for total in scale.totals:
        for amount in total.amounts:
            assert amount.low.denominator in (1, 2, 3, 4, 8), total
        dealt = [
            use.measured
            for place in places
            for use in place.by_step.get(1, ())
            if use.use.ingredient is total.ingredient and use.measured and use.measured.of_all
        ]
        if dealt:
            assert sum(each.shown[0].low for each in dealt) <= (dealt[0].of_all or 0)
            assert [each.low for each in total.amounts] == [dealt[0].of_all]
    bought: dict[str, F] = {}
    for part in taken_by(recipe, uses, PANTRY, setting):
        for amount in part.amounts:
            if amount.unit.dimension is Dimension.COUNT:
                bought[part.key] = bought.get(part.key, F(0)) + amount.low
    taken: dict[str, F] = {}
    for place in places:
        for line in place.lines:
            measured = [use.measured for use in line.uses if use.measured]
            item = PANTRY.find(line.ingredient.name)
            key = item.name if item else line.ingredient.name
            for each in measured:
                if each.beaten:
                    taken[key] = taken.get(key, F(0)) + each.beaten
                elif each.way.value == "count":
                    taken[key] = taken.get(key, F(0)) + each.shown[0].low
    assert {key: bought.get(key) for key in taken} == taken
