"""Every dish stands in its own country, by outlines that the drawing doesn't use."""

from __future__ import annotations

import json
from dataclasses import replace
from fractions import Fraction
from math import hypot
from pathlib import Path

import pytest

from demo_class import demo_folder
from spoonfold.model.folder import ClassFolder
from spoonfold.model.recipe import Position
from spoonfold.read.grammar import read_position
from spoonfold.teach.places import middles, place_of

HERE = Path(__file__).parent
OUTLINES: dict[str, list[list[tuple[float, float]]]] = json.loads(
    (HERE / "country-outlines.json").read_text(encoding="utf-8")
)["outlines"]
"""Natural Earth at 1:50 million, public domain: longitude before latitude."""
COAST = 0.1
"""Degrees by which a coast of that scale may be off: ten kilometres."""


@pytest.fixture(scope="module")
def folder() -> ClassFolder:
    return demo_folder()


def _contains(country: str, place: Position) -> bool:
    """By the number of times that a line to the west crosses the outline."""
    x, y = float(place.longitude), float(place.latitude)
    inside = False
    for ring in OUTLINES[country]:
        for (ax, ay), (bx, by) in zip(ring, ring[1:] + ring[:1], strict=True):
            if (ay > y) != (by > y) and ax + (y - ay) / (by - ay) * (bx - ax) < x:
                inside = not inside
    return inside


def _off(country: str, place: Position) -> float:
    """Degrees to the nearest piece of the outline."""
    x, y = float(place.longitude), float(place.latitude)
    nearest = 360.0
    for ring in OUTLINES[country]:
        for (ax, ay), (bx, by) in zip(ring, ring[1:] + ring[:1], strict=True):
            dx, dy = bx - ax, by - ay
            along = ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy or 1)
            along = min(1.0, max(0.0, along))
            nearest = min(nearest, hypot(ax + along * dx - x, ay + along * dy - y))
    return nearest


def test_the_dishes_stand_in_their_countries(folder: ClassFolder) -> None:
    """What a header says under `at` lies within the country that it says, or, for a port, no
    further out than the outline is coarse."""
    for recipe in folder.recipes.values():
        assert recipe.at is not None
        country = recipe.countries[0]
        assert _contains(country, recipe.at) or _off(country, recipe.at) < COAST, recipe.key
        others = set(OUTLINES) - set(recipe.countries)
        assert not any(_contains(other, recipe.at) for other in others), recipe.key


@pytest.mark.parametrize("country", sorted(OUTLINES))
def test_the_middle_of_a_country_lies_in_it(country: str) -> None:
    """True of these nine; of a country bent like a horseshoe it need not be."""
    assert _contains(country, middles()[country])


def test_the_table_knows_nearly_every_country() -> None:
    """193 states are members of the United Nations; of these, Tuvalu is too small for the data."""
    assert len(middles()) > 220
    assert {"AU", "BR", "CL", "FJ", "MT", "NZ", "SG", "ZA"} <= middles().keys()
    south = {"AU", "NZ", "ZA", "AR"}
    assert all(
        (middles()[each].latitude < 0) == (each in south)
        for each in (*south, "CA", "EG", "FI", "IN")
    )


def test_a_dish_without_degrees_stands_in_the_middle_of_its_country(folder: ClassFolder) -> None:
    """And one of no known country nowhere."""
    recipe = replace(folder.recipes["tomato-rice"], at=None)
    assert place_of(recipe) == middles()["GH"]
    assert place_of(replace(recipe, countries=("ZZ",))) is None
    assert place_of(replace(recipe, countries=("ZZ", "GH"))) == middles()["GH"]


def test_degrees_are_exact() -> None:
    """A minus sign may be typed or set."""
    assert read_position("19.04, -98.21") == Position(Fraction("19.04"), Fraction("-98.21"))
    assert read_position("−12, −77.5") == Position(Fraction(-12), Fraction("-77.5"))
