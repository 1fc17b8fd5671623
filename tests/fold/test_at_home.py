"""Shopping at home: costs by the class's own prices, what will do instead, what is left."""

from __future__ import annotations

from fractions import Fraction as F
from pathlib import Path

import pytest

from demo_class import demo_facts, demo_folder
from spoonfold.check import examine
from spoonfold.language.texts import Texts
from spoonfold.sheets.booklet.at_home import HomeShopping, home_shopping
from spoonfold.sheets.shared.recipe import Household
from spoonfold.sheets.shopping.words import money
from tiny_class import RICE, write_class

DEMO = demo_folder()
USES = demo_facts().uses
TEXTS = Texts("en")
PANTRY = """\
rice: {packages: [{size: 2 lb, price: "3.20"}]}
salt: {packages: [{size: 26 oz, price: "1.30"}]}
"""


def said(key: str, people: int) -> HomeShopping:
    """What the demo says of a recipe."""
    assert DEMO.classroom is not None
    return home_shopping(Household(DEMO, DEMO.classroom, USES, people, TEXTS), key)


@pytest.fixture
def rice(tmp_path: Path) -> HomeShopping:
    """A dish whose prices are known."""
    facts = examine(write_class(tmp_path, {"pantry.yaml": PANTRY, "recipes/rice.md": RICE})).facts
    assert facts.folder.classroom is not None
    household = Household(facts.folder, facts.folder.classroom, facts.uses, 4, TEXTS)
    return home_shopping(household, "rice")


def test_the_cost_is_by_the_class_prices(rice: HomeShopping) -> None:
    """A cup of rice, 185 g by USDA SR26 20044, out of the 2 lb package (907.18474 g) at 3.20;
    salt is taken as needed and not counted in. Whole packages: both."""
    used = F(185) / F("907.18474") * F("3.20")
    assert rice.costs == (f"{money(used)}; each {money(used / 4)}; bought {money(F('4.50'))}",)


@pytest.mark.parametrize("key", sorted(DEMO.recipes))
def test_it_is_short(key: str) -> None:
    """A row of at most two foods in each cell, at any size of household."""
    for people in (2, 4, 6, 7):
        row = said(key, people)
        assert not row.is_empty
        assert all(len(texts) <= 2 for texts in (row.costs, row.instead, row.left))


def test_more_people_cost_more() -> None:
    """What goes into the dish grows with the household; nothing is taken from the class's."""

    def used(people: int) -> F:
        return F(said("red-lentil-soup", people).costs[0].split(";")[0])

    assert used(2) < used(4) < used(6)
    assert used(4) == pytest.approx(float(2 * used(2)), abs=0.3)


def test_what_is_left_names_another_dish_that_takes_it() -> None:
    """The can of tomato paste is opened: it keeps four days, and the feast's rice takes the
    rest."""
    left = said("red-lentil-soup", 4).left
    assert left == (
        "tomato paste, about ¾ of 1 can (6 oz): 4 days in the fridge; also in "
        "Tomato rice for a feast",
    )


def test_nothing_for_the_pan_stands_in_for_what_stays_raw() -> None:
    """Dried mint doesn't go on a fruit salad, and does into what is cooked."""
    assert not any("dried mint" in text for text in said("fruit-salad", 4).instead)
    assert any("dried parsley" in text for text in said("chickpea-stew", 4).instead)


def test_another_food_brings_its_own_allergens() -> None:
    """Bottled juice may hold sulphite, which the fruit doesn't: its label is to be read."""
    (lime,) = [text for text in said("fruit-salad", 4).instead if "lime juice" in text]
    assert "check the label for sulphite" in lime
