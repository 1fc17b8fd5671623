"""What hides in foods, and how long things take: rows with their sources, and none unused."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from spoonfold.knowledge.carriers import kinds, made_of
from spoonfold.knowledge.corner import all_food
from spoonfold.knowledge.data import data
from spoonfold.read.pantry import ALLERGENS, TAGS, read_pantry

SOURCE = Path(__file__).resolve().parents[2] / "src" / "spoonfold"
PANTRY = read_pantry(None, [])


@pytest.mark.parametrize("part", ["groups", "avoided", "made of"])
def test_every_row_of_carriers_has_its_source(part: str) -> None:
    """From memory is said too."""
    assert all(row["source"] for row in data("carriers.json")[part])


def test_carriers_are_foods_of_the_pantry() -> None:
    """By their own names: another spelling would carry nothing."""
    named = {food for each in kinds().values() for food in (*each.label_foods, *each.ask_foods)} | {
        food for foods in made_of().values() for food in foods
    }
    assert named <= set(PANTRY.names)
    for each in kinds().values():
        assert {*each.tags, *each.label_tags, *each.ask_tags} <= set(TAGS)
        assert each.allergens <= set(ALLERGENS)


def test_a_small_shop_has_foods_of_the_pantry() -> None:
    """By their own names, and each row with its source."""
    known = data("corner.json")
    rows = known["instead"]
    assert all(row["source"] for row in rows) and known["all food"]["source"]
    named = {food for row in rows for food in (row["food"], *row["instead"])} | all_food()
    assert named <= set(PANTRY.names)


def test_every_time_has_its_source_and_is_asked_for() -> None:
    """What nothing asks for would only look like knowledge."""
    asked = {
        what
        for path in SOURCE.rglob("*.py")
        for what in re.findall(r'known_time\("([^"]+)"\)', path.read_text("utf-8"))
    }
    rows = data("times.json")
    assert {row["what"] for row in rows} == asked
    assert len(rows) == len(asked)
    assert all(row["source"] and row["in"] for row in rows)
