"""Where on the earth a dish is from."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import lru_cache
from importlib.resources import files

from spoonfold.model.recipe import Position, Recipe


def place_of(recipe: Recipe) -> Position | None:
    """The place that the recipe says, or else the middle of its first country.

    None where it says none and no middle is known, as for countries too small for the data.
    """
    if recipe.at is not None:
        return recipe.at
    return next((middles()[code] for code in recipe.countries if code in middles()), None)


@lru_cache(maxsize=1)
def middles() -> Mapping[str, Position]:
    """By ISO 3166-1 alpha-2, the middle of each country's largest piece of land.

    From Natural Earth at 1:50 million, public domain.
    """
    text = files("spoonfold.teach").joinpath("countries.txt").read_text(encoding="utf-8")
    rows = (line.split() for line in text.splitlines() if not line.startswith("#"))
    return {code: Position(Fraction(north), Fraction(east)) for code, north, east in rows}
