"""Every row of the published lists: its foods are found, and a dish with one isn't let through.

US: FD&C Act 201(qq), 21 U.S.C. 321(qq), which names the examples in brackets, with the FASTER
Act of 2021 (P.L. 117-11) for sesame. EU: Regulation (EU) No 1169/2011, Annex II, by number.
The compound foods of a row are hidden carriers (common practice, from memory).
"""

from __future__ import annotations

from pathlib import Path

import pytest
from need_cases import Case, files_of
from test_need_cases import found_in

from spoonfold.plan.safety.avoid import Match, finding_of
from spoonfold.read.pantry import ALLERGENS, read_pantry
from tiny_class import write_class

PANTRY = read_pantry(None, [])

# Row, the word of a need, foods that surely are it.
ROWS = (
    ("US milk", "milk", ("milk", "butter", "ghee", "plain yogurt", "cheddar cheese", "pesto")),
    ("US egg", "egg", ("egg", "egg white", "egg yolk", "mayonnaise", "egg noodle")),
    (
        "US fish (bass, flounder, cod)",
        "fish",
        ("cod", "salmon", "anchovy", "fish sauce", "worcestershire sauce", "imitation crab"),
    ),
    (
        "US Crustacean shellfish (crab, lobster, shrimp)",
        "crustacean",
        ("crab meat", "shrimp", "shrimp paste"),
    ),
    (
        "US tree nuts (almonds, pecans, walnuts)",
        "tree nut",
        ("almond", "pecan", "walnut", "almond milk", "almond flour", "pesto"),
    ),
    (
        "US wheat",
        "wheat",
        (
            "all-purpose flour",
            "couscous",
            "bulgur",
            "semolina",
            "panko",
            "soy sauce",
            "udon noodle",
        ),
    ),
    ("US peanuts", "peanut", ("peanut", "peanut butter", "mixed nut")),
    ("US soybeans", "soy", ("firm tofu", "soy sauce", "miso paste", "edamame", "tempeh")),
    ("US sesame", "sesame", ("sesame seed", "tahini", "hummus", "sesame oil", "za'atar")),
    (
        "EU 1 cereals containing gluten: wheat, rye, barley, oats",
        "gluten",
        (
            "rolled oats",
            "whole wheat flour",
            "rye flour",
            "rye bread",
            "pearl barley",
            "malt vinegar",
            "oat flour",
            "oat milk",
        ),
    ),
    ("EU 2 crustaceans", "crustacean", ("shrimp", "crab meat")),
    ("EU 3 eggs", "egg", ("egg", "hard-boiled egg")),
    ("EU 4 fish", "fish", ("salmon", "fish stock", "dashi", "bonito flake")),
    ("EU 5 peanuts", "peanut", ("peanut", "peanut oil")),
    ("EU 6 soybeans", "soy", ("soy milk", "soft tofu", "textured soy protein")),
    ("EU 7 milk, including lactose", "milk", ("skim milk", "buttermilk", "dry milk powder")),
    (
        "EU 8 nuts: almond, hazelnut, walnut, cashew, pecan, Brazil, pistachio, macadamia",
        "tree nut",
        (
            "almond",
            "hazelnut",
            "walnut",
            "cashew",
            "pecan",
            "brazil nut",
            "pistachio",
            "macadamia nut",
        ),
    ),
    ("EU 9 celery", "celery", ("celery", "celery root", "celery seed", "celery salt")),
    ("EU 10 mustard", "mustard", ("mustard seed", "ground mustard", "dijon mustard")),
    ("EU 11 sesame seeds", "sesame", ("sesame seed", "dukkah")),
    ("EU 13 lupin", "lupin", ("lupin bean",)),
    ("EU 14 molluscs", "mollusc", ("mussel", "squid", "oyster sauce")),
)
# Of these the amount or the field decides: only the label can say.
LABELS = (
    ("EU 1 oats, which meet wheat", "wheat", ("rolled oats", "oat flour", "oat milk")),
    (
        "EU 12 sulphites above 10 mg/kg",
        "sulphite",
        ("dried apricot", "raisin", "balsamic vinegar", "molasses"),
    ),
)
# What the lists leave out: highly refined oil (21 U.S.C. 321(qq)(2); EU 6), and coconut (FDA
# guidance of January 2025, from memory).
EXCEPTIONS = (
    ("US highly refined oil; EU 6 fully refined soybean oil", "soy", "vegetable oil"),
    ("US guidance of 2025: coconut", "tree nut", "coconut"),
    ("US guidance of 2025: coconut", "tree nut", "coconut milk"),
)


def dish_with(food: str, word: str) -> Case:
    return Case(
        food, food, [f"needs: [{{table: 1, avoid: [{word}]}}]", "ingredients:", f"  - 1 cup {food}"]
    )


@pytest.mark.parametrize(("row", "word", "foods"), ROWS, ids=[row for row, _, _ in ROWS])
def test_a_dish_with_a_listed_food_is_an_error(
    row: str, word: str, foods: tuple[str, ...], tmp_path: Path
) -> None:
    """Every food of the row is found in the pantry, and stopped where a child avoids it."""
    for food in foods:
        item = PANTRY.find(food)
        assert item is not None and finding_of(item, word, PANTRY) is Match.CERTAIN, food
    for number, food in enumerate(foods[:2]):
        files, _ = files_of(dish_with(food, word))
        problems = found_in(write_class(tmp_path / str(number), files))
        assert [each.code for each in problems] == ["need-not-met"], food
        assert word in problems[0].message


@pytest.mark.parametrize(("row", "word", "foods"), LABELS, ids=[row for row, _, _ in LABELS])
def test_what_only_the_label_says_is_a_warning(
    row: str, word: str, foods: tuple[str, ...], tmp_path: Path
) -> None:
    """The label is to be read; nothing is taken for sure, and nothing for safe."""
    for number, food in enumerate(foods):
        assert finding_of(PANTRY.find(food), word, PANTRY) is Match.LABEL, food
        files, _ = files_of(dish_with(food, word))
        problems = found_in(write_class(tmp_path / str(number), files))
        assert [each.code for each in problems] == ["need-label"], food


@pytest.mark.parametrize(("row", "word", "food"), EXCEPTIONS)
def test_what_the_lists_leave_out_is_never_certain(row: str, word: str, food: str) -> None:
    """An exception of the lists is no error."""
    assert finding_of(PANTRY.find(food), word, PANTRY) in (None, Match.LABEL)


def test_every_allergen_has_its_row() -> None:
    """The nine and the fourteen, and no word of ours beside them."""
    assert sum(row.startswith("US ") for row, _, _ in ROWS) == 9
    assert {row.split()[1] for row, _, _ in (*ROWS, *LABELS) if row.startswith("EU ")} == {
        str(number) for number in range(1, 15)
    }
    assert {word for _, word, _ in (*ROWS, *LABELS)} == set(ALLERGENS)
