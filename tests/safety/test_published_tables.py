"""Every row of the published tables that Spoonfold goes by.

The values here are typed again from the sources named, not taken from the code.
"""

from __future__ import annotations

from fractions import Fraction as F

import pytest

from spoonfold.knowledge.cautions import CAUTIONS
from spoonfold.plan.safety import limits
from spoonfold.plan.safety.limits import CHART, COOLING, RAW_NEEDS, ChartRow
from spoonfold.quantity.temperature import Temperature, show_temperature
from spoonfold.read.pantry import RAW

# FoodSafety.gov / USDA FSIS, Safe Minimum Internal Temperature chart: food, °F, minutes of rest,
# and what it accepts by its looks.
PUBLISHED = [
    ("ground beef, pork, veal or lamb", 160, 0, ""),
    ("ground turkey or chicken", 165, 0, ""),
    ("steaks, roasts and chops of beef, veal or lamb", 145, 3, ""),
    ("poultry, whole or in parts, and stuffing", 165, 0, ""),
    ("fresh pork and raw ham", 145, 3, ""),
    ("cooked ham from an inspected plant, heated again", 140, 0, ""),
    ("any other cooked ham, heated again", 165, 0, ""),
    ("eggs by themselves", None, 0, "firm"),
    ("dishes with egg", 160, 0, ""),
    ("leftovers", 165, 0, ""),
    ("casseroles", 165, 0, ""),
    ("fish with fins", 145, 0, "flakes"),
    ("shrimp, lobster and crab", None, 0, "opaque"),
    ("clams, oysters and mussels", None, 0, "open"),
    ("scallops", None, 0, "firm"),
    ("rabbit and venison (from memory)", 160, 0, ""),
]
# The pantry's word for a raw food, and what the chart asks of it; shellfish by Food Code
# 3-401.11(A)(1), because the chart has only its looks.
BY_KIND = {
    "poultry": 165,
    "ground poultry": 165,
    "ground meat": 160,
    "whole meat": 145,
    "pork": 145,
    "fish": 145,
    "shellfish": 145,
    "egg": 160,
    "flour": None,
    "sprouts": None,
}
# The same chart's own degrees Celsius, to a tenth.
IN_CELSIUS = {140: F("60.0"), 145: F("62.8"), 160: F("71.1"), 165: F("73.9")}


@pytest.mark.parametrize(
    ("row", "published"),
    list(zip(CHART, PUBLISHED, strict=True)),
    ids=[each[0] for each in PUBLISHED],
)
def test_chart_row(row: ChartRow, published: tuple[str, int | None, int, str]) -> None:
    """Each row's food, degrees, rest and looks."""
    food, degrees, rest, looks = published
    assert row.food == food
    assert (row.least.fahrenheit if row.least else None) == degrees
    assert row.rest == rest
    assert looks in row.looks and bool(looks) == bool(row.looks)


@pytest.mark.parametrize(("kind", "degrees"), BY_KIND.items())
def test_each_raw_food_goes_by_its_row(kind: str, degrees: int | None) -> None:
    """No raw food of the pantry goes without."""
    need = RAW_NEEDS[kind]
    assert (need.least.fahrenheit if need.least else None) == degrees
    assert need.source.name and need.source.year


def test_every_raw_hazard_of_the_pantry_has_a_need() -> None:
    """A new word in the pantry without a need would never be checked."""
    assert set(RAW_NEEDS) == set(RAW) == set(BY_KIND)


@pytest.mark.parametrize(("fahrenheit", "celsius"), IN_CELSIUS.items())
def test_both_scales_agree_with_the_chart(fahrenheit: int, celsius: F) -> None:
    """To the tenth that the chart prints."""
    exact = Temperature(F(fahrenheit)).celsius
    assert abs(exact - celsius) <= F(1, 20)


@pytest.mark.parametrize(
    ("celsius", "fahrenheit", "enough"), [(74, F("165.2"), True), (73, F("163.4"), False)]
)
def test_celsius_is_compared_exactly(celsius: int, fahrenheit: F, enough: bool) -> None:
    """74 °C is enough for poultry and 73 °C isn't, though both are shown as whole degrees."""
    assert F(celsius) * F(9, 5) + 32 == fahrenheit
    least = RAW_NEEDS["poultry"].least
    assert least is not None and (fahrenheit >= least.fahrenheit) is enough


def test_cooling_is_the_two_stages() -> None:
    """Food Code 3-501.14(A): 135 to 70 °F within 2 hours, to 41 °F within 6 in all; (B): from
    room temperature to 41 °F within 4."""
    assert [(each.start.fahrenheit, each.end.fahrenheit, each.minutes) for each in COOLING] == [
        (135, 70, 2 * 60),
        (135, 41, 6 * 60),
    ]
    room = limits.COOLING_FROM_ROOM
    assert (room.end.fahrenheit, room.minutes) == (41, 4 * 60)


def test_holding_and_the_two_hours() -> None:
    """USDA FSIS, Cooking for Groups: 140 and 40 °F, two hours, one above 90 °F; Food Code
    3-501.16: 135 and 41 °F; 3-501.19: four hours by time alone."""
    assert limits.HOT_AT_HOME.fahrenheit == 140 and limits.COLD_AT_HOME.fahrenheit == 40
    assert limits.HOT_BY_CODE.fahrenheit == 135 and limits.COLD_BY_CODE.fahrenheit == 41
    assert (limits.MOST_OUT, limits.MOST_OUT_HOT) == (120, 60)
    assert limits.HOT_DAY.fahrenheit == 90
    assert limits.BY_TIME_ALONE == 240


def test_reheating_and_hands() -> None:
    """Chart, leftovers, and Food Code 3-403.11: 165 °F. CDC: twenty seconds."""
    assert limits.REHEATED.fahrenheit == 165
    assert limits.HANDWASH_SECONDS == 20


def test_choking_foods_are_for_four_and_older() -> None:
    """Caring for Our Children Basics: the listed foods aren't for children under four."""
    assert limits.UNDER_AGE_FOR_CHOKING_FOODS == 4
    assert limits.UNDER_AGE_FOR_ROUND_FOODS > 4


@pytest.mark.parametrize(
    ("name", "degrees"),
    [
        ("raw poultry", (165,)),
        ("raw meat", (160,)),
        ("raw fish", (145,)),
        ("reheat", (165,)),
        ("keep hot", (140,)),
        ("cut fruit cold", (41,)),
        ("rice cooling", (70, 41)),
        ("cool quickly", (70, 41)),
    ],
)
def test_cautions_print_the_published_degrees(name: str, degrees: tuple[int, ...]) -> None:
    """What a card says is what the tables say, in both scales."""
    for each in degrees:
        assert show_temperature(Temperature(F(each))) in CAUTIONS[name].text


def test_sources_say_name_year_and_section() -> None:
    """As `spoonfold why` prints them."""
    assert str(limits.food_code("3-501.14")) == "FDA Food Code, 2017, 3-501.14"
    assert str(limits.CHART_SOURCE).endswith("chart, 2019")
