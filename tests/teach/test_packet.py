"""The packet: friendly numbers, one right answer each, and the rows behind them."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction as F
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from demo_class import demo_facts
from spoonfold.check import examine
from spoonfold.model.pantry import NUTRIENTS, FoodRow
from spoonfold.plan.amounts.weights import weights_of
from spoonfold.read.nutrients import food_rows, packaged_foods, packaged_names
from spoonfold.read.pantry import read_pantry
from spoonfold.teach.packet import STEPS, Dishful, Race, friendly, race_of, rounded
from tiny_class import RICE


def _row(sodium: str = "0", sugars: str = "0", fibre: str = "0") -> FoodRow:
    return FoodRow("1", "x", dict(zip(NUTRIENTS, map(F, (sodium, sugars, fibre)), strict=True)))


def _demo() -> Iterator[tuple[list[Dishful], F, Race]]:
    facts = demo_facts()
    for key, recipe in facts.folder.recipes.items():
        if recipe.packaged_cousin is None:
            continue
        foods = [
            Dishful(each.ingredient.name, each.grams, food_rows().get(each.eaten[0].usda or ""))
            for each in weights_of(recipe, facts.uses[key], facts.folder.pantry)
            if each.grams is not None
        ]
        yield (
            foods,
            recipe.serves,
            race_of(foods, recipe.serves, packaged_foods()[recipe.packaged_cousin]),
        )


# Rows


@pytest.mark.parametrize(
    ("ndb", "sodium", "sugars", "fibre"),
    [
        ("02047", "38758", "0.00", "0.0"),  # salt, table
        ("11282", "4", "4.24", "1.7"),  # onions, raw
        ("11124", "69", "4.74", "2.8"),  # carrots, raw
        ("09176", "1", "13.66", "1.6"),  # mangos, raw
        ("16059", "522", "1.19", "4.4"),  # chili with beans, canned
        ("09105", "6", "18.11", "1.0"),  # fruit salad, canned, heavy syrup
    ],
)
def test_rows_are_those_of_the_published_table(
    ndb: str, sodium: str, sugars: str, fibre: str
) -> None:
    """USDA National Nutrient Database for Standard Reference, release 26, in 100 g."""
    assert food_rows()[ndb].per_100_g == {
        "sodium": F(sodium),
        "sugars": F(sugars),
        "fibre": F(fibre),
    }


def test_every_row_that_the_pantry_names_is_there() -> None:
    """Whatever a recipe uses of the shipped pantry, its row can be found."""
    pantry = read_pantry(None, [])
    numbers = {
        item.usda
        for name in pantry.names
        if (item := pantry.find(name)) is not None and item.usda is not None
    }
    assert len(numbers) > 300
    assert numbers <= food_rows().keys()


def test_every_packaged_food_can_be_compared() -> None:
    """Each has all three nutrients, a portion by a household measure, and no brand."""
    assert tuple(packaged_foods()) == packaged_names() == tuple(sorted(packaged_names()))
    for food in packaged_foods().values():
        assert set(food.row.per_100_g) == set(NUTRIENTS)
        assert food.grams > 0 and food.name == food.name.lower()


def test_what_was_not_measured_is_not_zero() -> None:
    """Dry couscous has no sugars in the table: the row lacks them."""
    assert "sugars" not in food_rows()["20028"].per_100_g
    assert food_rows()["20028"].per_100_g["sodium"] == 10


# Friendly numbers


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        ("794", "790"),
        ("17.91", "18"),
        ("9", "9"),
        ("38758", "39000"),
        ("0.044", "0.044"),
        ("0", "0"),
        ("4.25", "4.3"),
        ("99.5", "100"),
        ("256", "260"),
    ],
)
def test_friendly_numbers_have_two_figures(value: str, expected: str) -> None:
    """Halves go up."""
    assert friendly(F(value)) == F(expected)


@given(st.fractions(min_value=F(1, 1000), max_value=100_000))
def test_a_friendly_number_is_near(value: F) -> None:
    """Two figures are never more than one part in twenty off."""
    assert abs(friendly(value) - value) <= value / 20


# The sums


def test_the_whole_sheet_of_a_small_dish() -> None:
    """Worked out by hand: lines, what is left over, total, portion, and the same weight."""
    cousin = packaged_foods()["canned chili with beans"]
    foods = [
        Dishful("salt", F(6), _row(sodium="38758")),
        Dishful("beans", F(503), _row("20", "2", "6")),
        Dishful("onion", F(148), _row("4", "4.24", "1.7")),
        Dishful("oil", F(14), _row("2")),
        Dishful("spice", F(2), None),
    ]
    race = race_of(foods, F(4), cousin)
    sodium, sugars, fibre = race.sums
    # 6 / 100 x 39,000 = 2,340; 500 / 100 x 20 = 100; 150 / 100 x 4 = 6; the oil's 0.28 is nothing.
    assert [(line.name, line.grams, line.per_100_g, line.answer) for line in sodium.lines] == [
        ("salt", 6, 39000, 2340),
        ("beans", 500, 20, 100),
        ("onion", 150, 4, 6),
    ]
    assert (sodium.rest, sodium.total, sodium.portion) == (0, 2446, 612)
    # 500 / 100 x 2 = 10; 150 / 100 x 4.2 = 6.3.
    assert (sugars.total, sugars.portion) == (F("16.3"), F("4.1"))
    # 500 / 100 x 6 = 30; 150 / 100 x 1.7 = 2.55, rounded 2.6.
    assert (fibre.total, fibre.portion) == (F("32.6"), F("8.2"))
    assert sodium.exact == (F("2325.48") + F("100.6") + F("5.92") + F("0.28")) / 4
    assert sodium.unknown == ("spice",)
    # 673 g for four are 168.25 g, as much as 0.66 of 256 g: three quarters.
    assert (race.our_grams, race.packet_grams, race.times) == (170, 260, F(3, 4))
    # 260 / 100 x 520 = 1,352, and three quarters of it 1,014.
    assert (race.packets[0].answer, race.packets[0].same_weight) == (1352, 1014)


def test_more_than_three_foods_are_given_as_a_sum() -> None:
    """The fourth and later ones are added up before they are rounded."""
    foods = [
        Dishful(name, F(100), _row(sodium))
        for name, sodium in (("a", "0.4"), ("b", "30"), ("c", "0.4"), ("d", "20"), ("e", "10"))
    ]
    sodium = race_of(foods, F(1), packaged_foods()["canned baked beans"]).sums[0]
    assert [line.name for line in sodium.lines] == ["b", "d", "e"]
    assert (sodium.rest, sodium.total) == (1, 61)


def test_every_answer_of_the_demo_follows_from_its_line() -> None:
    """A child who does what the line says gets what the key says."""
    races = list(_demo())
    assert len(races) >= 2
    for _, serves, race in races:
        for each in race.sums:
            step = STEPS[each.nutrient]
            for line in each.lines:
                assert line.answer == rounded(line.grams / 100 * line.per_100_g, step)
            assert each.total == sum(line.answer for line in each.lines) + each.rest
            assert each.portion == rounded(each.total / serves, step)
        for packet in race.packets:
            step = STEPS[packet.nutrient]
            assert packet.answer == rounded(race.packet_grams / 100 * packet.per_100_g, step)
            assert packet.same_weight == rounded(packet.answer * race.times, step)


def test_friendly_numbers_change_no_answer_much() -> None:
    """A portion by friendly numbers is within a twentieth of the table's own, or one step."""
    for foods, serves, race in _demo():
        for each in race.sums:
            known = (
                sum(
                    (
                        food.grams * food.row.per_100_g.get(each.nutrient, F(0)) / 100
                        for food in foods
                        if food.row is not None
                    ),
                    F(0),
                )
                / serves
            )
            assert each.exact == known
            assert abs(each.portion - known) <= max(known / 20, STEPS[each.nutrient])


# The header


def test_a_packaged_cousin_is_one_of_the_table(make_class: Callable[..., Path]) -> None:
    """A name with a slip is refused, and the nearest is suggested."""

    def problems(name: str) -> list[tuple[str, str]]:
        folder = make_class(
            {
                "recipes/rice.md": RICE.replace(
                    "serves: 4\n", f"serves: 4\npackaged cousin: {name}\n"
                )
            }
        )
        return [
            (each.code, each.hint)
            for each in examine(folder).problems
            if "cousin" in each.message or each.code == "unknown-choice"
        ]

    assert problems("canned refried beans") == []
    assert problems("canned refried bean") == [
        ("unknown-choice", "Did you mean `canned refried beans`?")
    ]
