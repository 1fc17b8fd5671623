"""Published tables of food safety, as values: how hot, how long, how cold, each with its source.

The set for homes and community kitchens is used throughout; the Food Code, for licensed
kitchens, stands beside it where it says more. Local rules decide which of them holds.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.quantity.temperature import Temperature


@dataclass(frozen=True, slots=True)
class Source:
    """Where a value is published."""

    name: str
    year: int
    section: str = ""

    def __str__(self) -> str:
        return f"{self.name}, {self.year}" + (f", {self.section}" if self.section else "")


CHART_SOURCE = Source("FoodSafety.gov / USDA FSIS, Safe Minimum Internal Temperature chart", 2019)
GROUPS_SOURCE = Source("USDA FSIS, Cooking for Groups: A Volunteer's Guide to Food Safety", 2011)
FLOUR_SOURCE = Source("CDC and FDA, advice on raw flour and dough", 2016)
HANDS_SOURCE = Source("CDC, When and How to Wash Your Hands", 2024)
CHOKING_SOURCE = Source("Institute of Child Nutrition, Mealtime Memo, December", 2022)
YOUNG_SOURCE = Source("Caring for Our Children Basics (year from memory)", 2015)
_FOOD_CODE_YEAR = 2017


def food_code(section: str) -> Source:
    """A section of the FDA Food Code; its 2017 edition first has the 17 seconds."""
    return Source("FDA Food Code", _FOOD_CODE_YEAR, section)


def fahrenheit(degrees: int) -> Temperature:
    """A published temperature in °F."""
    return Temperature(Fraction(degrees))


@dataclass(frozen=True, slots=True)
class ChartRow:
    """One row of the chart."""

    food: str
    least: Temperature | None
    """None: judged by its looks alone."""
    rest: Fraction = Fraction(0)
    """Minutes to stand after the heat, before it is cut."""
    looks: str = ""
    """What the chart accepts in place of a thermometer."""


GROUND_MEAT = ChartRow("ground beef, pork, veal or lamb", fahrenheit(160))
GROUND_POULTRY = ChartRow("ground turkey or chicken", fahrenheit(165))
WHOLE_MEAT = ChartRow(
    "steaks, roasts and chops of beef, veal or lamb", fahrenheit(145), Fraction(3)
)
POULTRY = ChartRow("poultry, whole or in parts, and stuffing", fahrenheit(165))
PORK = ChartRow("fresh pork and raw ham", fahrenheit(145), Fraction(3))
PACKED_HAM = ChartRow("cooked ham from an inspected plant, heated again", fahrenheit(140))
OTHER_HAM = ChartRow("any other cooked ham, heated again", fahrenheit(165))
EGGS = ChartRow("eggs by themselves", None, looks="yolk and white are firm")
EGG_DISHES = ChartRow("dishes with egg", fahrenheit(160))
LEFTOVERS = ChartRow("leftovers", fahrenheit(165))
CASSEROLES = ChartRow("casseroles", fahrenheit(165))
FISH = ChartRow("fish with fins", fahrenheit(145), looks="opaque and flakes with a fork")
CRUSTACEANS = ChartRow("shrimp, lobster and crab", None, looks="pearly and opaque")
SHELLS = ChartRow("clams, oysters and mussels", None, looks="shells open in the heat")
SCALLOPS = ChartRow("scallops", None, looks="milky white or opaque, and firm")
GAME = ChartRow("rabbit and venison (from memory)", fahrenheit(160))

CHART = (
    GROUND_MEAT,
    GROUND_POULTRY,
    WHOLE_MEAT,
    POULTRY,
    PORK,
    PACKED_HAM,
    OTHER_HAM,
    EGGS,
    EGG_DISHES,
    LEFTOVERS,
    CASSEROLES,
    FISH,
    CRUSTACEANS,
    SHELLS,
    SCALLOPS,
    GAME,
)

FOOD_CODE_FISH = fahrenheit(145)
"""Fish and shellfish for 15 seconds: Food Code 3-401.11(A)(1). The chart has no degrees for
shellfish, so a thermometer goes by this."""

FROZEN_VEGETABLES = fahrenheit(165)
"""What packets of vegetables that aren't ready to eat ask for; from memory."""

REHEATED = fahrenheit(165)
"""Leftovers by the chart; Food Code 3-403.11 says the same, within two hours."""


@dataclass(frozen=True, slots=True)
class RawNeed:
    """What a raw food of the pantry needs before it is eaten."""

    row: ChartRow | None
    """None: cooked through; no temperature is published."""
    least: Temperature | None
    source: Source


RAW_NEEDS: Mapping[str, RawNeed] = {
    "poultry": RawNeed(POULTRY, POULTRY.least, CHART_SOURCE),
    "ground poultry": RawNeed(GROUND_POULTRY, GROUND_POULTRY.least, CHART_SOURCE),
    "ground meat": RawNeed(GROUND_MEAT, GROUND_MEAT.least, CHART_SOURCE),
    "whole meat": RawNeed(WHOLE_MEAT, WHOLE_MEAT.least, CHART_SOURCE),
    "pork": RawNeed(PORK, PORK.least, CHART_SOURCE),
    "fish": RawNeed(FISH, FISH.least, CHART_SOURCE),
    "shellfish": RawNeed(CRUSTACEANS, FOOD_CODE_FISH, CHART_SOURCE),
    "egg": RawNeed(EGG_DISHES, EGG_DISHES.least, CHART_SOURCE),
    "flour": RawNeed(None, None, FLOUR_SOURCE),
    "sprouts": RawNeed(None, None, food_code("1-201.10")),
}
"""By the pantry's word for the raw hazard."""

# Holding.
HOT_AT_HOME, COLD_AT_HOME = fahrenheit(140), fahrenheit(40)
"""USDA FSIS, Cooking for Groups: hot food at least, cold food at most."""
HOT_BY_CODE, COLD_BY_CODE = fahrenheit(135), fahrenheit(41)
"""Food Code 3-501.16."""

# Time out of the cold, in minutes: USDA FSIS, the two-hour rule.
MOST_OUT = Fraction(120)
MOST_OUT_HOT = Fraction(60)
HOT_DAY = fahrenheit(90)
"""Above this the two hours become one."""
BY_TIME_ALONE = Fraction(240)
"""Food Code 3-501.19: for kitchens with written procedures; not ours to use."""


@dataclass(frozen=True, slots=True)
class CoolingStage:
    """From the first temperature to the second within so many minutes of the start."""

    start: Temperature
    end: Temperature
    minutes: Fraction


COOLING = (
    CoolingStage(fahrenheit(135), fahrenheit(70), Fraction(120)),
    CoolingStage(fahrenheit(135), fahrenheit(41), Fraction(360)),
)
"""Food Code 3-501.14(A): both from the moment at which it leaves 135 °F."""
COOLING_FROM_ROOM = CoolingStage(fahrenheit(70), fahrenheit(41), Fraction(240))
"""Food Code 3-501.14(B): what was made of food at room temperature."""

HANDWASH_SECONDS = 20
"""CDC; Food Code 2-301.12 says the same."""

UNDER_AGE_FOR_CHOKING_FOODS = 4
"""Caring for Our Children Basics: the foods of the choking list aren't offered below it."""
UNDER_AGE_FOR_ROUND_FOODS = 6
"""Round, hard and sticky bites are still cut small below school age; common practice."""
