"""Each published danger, said in Spanish, is found by the rule that finds it in English.

`dangers-es.txt` holds one small dish a row of `dangers.tsv`, whose sources are named there.
"""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from test_words_of_danger import Dish, all_problems_in, dishes

from spoonfold.problem import Level

HERE = Path(__file__).parent
DISHES = dishes("dangers-es.txt")


@pytest.mark.parametrize("dish", DISHES, ids=lambda dish: dish.title)
def test_the_danger_is_an_error(tmp_path: Path, dish: Dish) -> None:
    """By the code of its row."""
    told = all_problems_in(tmp_path, dish, "es")
    errors = {each.code for each in told if each.level is Level.ERROR}
    assert set(dish.found) <= errors, [f"{each.code}: {each.message}" for each in told]


def test_every_row_with_a_rule_for_its_words_is_said() -> None:
    """But for what a caution says, and what only a class's equipment or notes can show."""
    with (HERE / "dangers.tsv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file, delimiter="\t"))
    topics = {row["topic"] for row in rows if row["code"] and " " not in row["code"]}
    assert {dish.title for dish in DISHES} >= topics - NOT_IN_WORDS
    assert {dish.title for dish in DISHES} <= {row["topic"] for row in rows}


NOT_IN_WORDS = frozenset(
    {
        "Meat that stands to lose its chill",
        "Frozen vegetables, sold to be cooked",
        "Water in a microwave",
    }
)
