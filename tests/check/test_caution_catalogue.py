"""The named cautions: short, drawn, sourced, and enough for the demo class."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from demo_class import demo_folder
from spoonfold.knowledge.cautions import ADULT, CAUTIONS
from spoonfold.quantity.temperature import Temperature, read_temperature

ROOT = Path(__file__).resolve().parents[2]
ICONS = {path.stem for path in (ROOT / "layouts" / "icons").glob("*.svg")}

# °F. Cooking and leftovers: FoodSafety.gov / USDA FSIS, Safe Minimum Internal Temperature chart.
# Cold and cooling: FDA Food Code 3-501.16 and 3-501.14. Hot: USDA FSIS, Cooking for Groups.
PUBLISHED = {
    "raw poultry": [165],
    "raw meat": [160],
    "raw fish": [145],
    "reheat": [165],
    "cut fruit cold": [41],
    "rice cooling": [70, 41],
    "cool quickly": [70, 41],
    "keep hot": [140],
}

every_caution = pytest.mark.parametrize("name", sorted(CAUTIONS))


@every_caution
def test_text_is_one_or_two_short_sentences(name: str) -> None:
    """A child reads it while the pan is hot: at most three sentences and thirty-five words."""
    text = CAUTIONS[name].text
    assert 1 <= len(re.findall(r"[.!](?:\s|$)", text)) <= 3
    assert len(text.split()) <= 35
    assert text[0].isupper() and text.endswith(".")


@every_caution
def test_picture_is_drawn(name: str) -> None:
    """Every caution has an icon that ships with the layouts."""
    assert CAUTIONS[name].icon in ICONS


@every_caution
def test_source_is_named(name: str) -> None:
    """Every caution says where its fact is from, if only that it is common practice."""
    assert CAUTIONS[name].source


@every_caution
def test_name_is_what_steps_write(name: str) -> None:
    """Names are small letters without commas: a comma would part them in a note."""
    assert re.fullmatch(r"[a-z]+( [a-z]+)*", name)
    assert CAUTIONS[name].name == name


@pytest.mark.parametrize("name", sorted(PUBLISHED))
def test_temperatures_are_the_published_ones(name: str) -> None:
    """The temperatures in the words are the published ones, and the Celsius in brackets is the
    same to the degree."""
    found = re.findall(r"(\d+) °F \((\d+) °C\)", CAUTIONS[name].text)
    assert [int(fahrenheit) for fahrenheit, _ in found] == PUBLISHED[name]
    for fahrenheit, celsius in found:
        shown = read_temperature(f"{fahrenheit} °F")
        assert isinstance(shown, Temperature)
        assert shown.whole_celsius == int(celsius)


def test_no_other_caution_gives_a_temperature() -> None:
    """A new temperature must be added to the published ones above."""
    given = {name for name, each in CAUTIONS.items() if "°" in each.text}
    assert given == set(PUBLISHED)


def test_adults_jobs_are_sentences() -> None:
    """An adult's job reads as a whole sentence that says who."""
    for name, job in ADULT.items():
        assert job.name == name
        assert job.text.startswith("An adult ")
        assert job.text.endswith(".")


def test_the_demo_class_uses_named_cautions_alone() -> None:
    """Whatever the demo warns of is printed in full in every language."""
    recipes = demo_folder().recipes
    used = {
        term.text for recipe in recipes.values() for step in recipe.steps for term in step.watch
    }
    assert used
    assert used <= set(CAUTIONS)
