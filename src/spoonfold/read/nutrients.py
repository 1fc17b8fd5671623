"""The shipped rows of the USDA nutrient table, and the packaged foods that a recipe may name."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from functools import lru_cache
from importlib.resources import files

from spoonfold.model.pantry import NUTRIENTS, FoodRow, PackagedFood
from spoonfold.quantity.grammar import Refusal, read_amount

_COLUMNS = {"sodium": "sodium_mg", "sugars": "sugars_g", "fibre": "fibre_g"}


@lru_cache(maxsize=1)
def food_rows() -> Mapping[str, FoodRow]:
    """Every shipped row, by its NDB number."""
    return {
        row["ndb"]: FoodRow(
            row["ndb"],
            row["food"],
            {
                nutrient: Fraction(row[_COLUMNS[nutrient]])
                for nutrient in NUTRIENTS
                if row[_COLUMNS[nutrient]]
            },
        )
        for row in _table("usda-sr26-nutrients.tsv")
    }


@lru_cache(maxsize=1)
def packaged_foods() -> Mapping[str, PackagedFood]:
    """Every packaged food that a recipe may be set beside, by its name."""
    found = {}
    for row in _table("packaged-foods.tsv"):
        portion = read_amount(row["measure"])
        if isinstance(portion, Refusal):
            raise ValueError(f"packaged-foods.tsv: {row['name']}: {portion.why}")
        found[row["name"]] = PackagedFood(
            row["name"], food_rows()[row["ndb"]], portion, Fraction(row["grams"])
        )
    return found


@lru_cache(maxsize=1)
def packaged_names() -> tuple[str, ...]:
    """Their names, without the rows behind them: all that reading a recipe needs."""
    return tuple(row["name"] for row in _table("packaged-foods.tsv"))


def _table(name: str) -> Iterator[dict[str, str]]:
    """The rows of a shipped file: comments, a line of column names, then values, all by tabs."""
    text = (files("spoonfold") / "knowledge" / "foods" / name).read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if not line.startswith("#")]
    columns = lines[0].split("\t")
    for line in lines[1:]:
        yield dict(zip(columns, line.split("\t"), strict=True))
