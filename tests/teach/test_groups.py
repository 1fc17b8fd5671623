"""Colours, kinds, plants and processing: weights, shares, what is missing, and the bars."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from fractions import Fraction as F
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from demo_class import demo_facts
from spoonfold.check import facts_of
from spoonfold.check.rule import Facts
from spoonfold.knowledge.produce import everyday_produce
from spoonfold.language.texts import load_texts
from spoonfold.model.pantry import COLOURS
from spoonfold.plan.amounts.weights import weights_of
from spoonfold.press.figures.shares import PATTERNS, share_bar, swatch
from spoonfold.press.layouts import shipped_layouts
from spoonfold.read.folder import read_folder
from spoonfold.read.pantry import GROUPS
from spoonfold.sheets.colours import Bar, Plate, Segment, colours_sheet, plate_of
from spoonfold.teach.groups import (
    VEGETABLES,
    Part,
    colours_of,
    fillers,
    origins_of,
    percents,
    processing_of,
    vegetables_of,
)
from tiny_class import RICE

TEXTS = load_texts("en", shipped_layouts())


@pytest.fixture(scope="module")
def demo() -> Facts:
    return demo_facts()


def _plates(facts: Facts) -> Iterator[Plate]:
    folder = facts.folder
    assert folder.classroom is not None
    sheet = colours_sheet(folder, folder.classroom, facts.uses, TEXTS)
    assert sheet is not None
    yield sheet.season
    yield from (each.plate for each in sheet.sessions)
    for key, recipe in folder.recipes.items():
        yield plate_of(recipe, facts.uses[key], folder.pantry, folder.classroom.setting, TEXTS)


# Weights


@pytest.mark.parametrize(
    ("recipe", "ingredient", "grams"),
    [
        ("red-lentil-soup", "carrot", 61),  # 11124: 1 medium
        ("red-lentil-soup", "red lentils", 288),  # 16144: 1 cup, 192
        ("red-lentil-soup", "lemon", 48),  # 09152: 1 lemon yields so much juice
        ("rice-paper-rolls", "limes", 88),  # 09160: 1 lime yields 44
        ("egg-fried-rice", "carrot", 61),  # "diced small" is no small carrot
        ("egg-fried-rice", "frozen peas", 134),  # 11312: 1 cup
        ("black-bean-tacos", "limes", 134),  # 09159: eaten in wedges, 67 each
        ("black-bean-tacos", "salt", 3),  # 02047: 1 tsp, 6.0
        ("turkey-kofta", "ground turkey", F("453.59237")),  # the pound of NIST Handbook 44
    ],
)
def test_weights_are_those_of_the_table(
    demo: Facts, recipe: str, ingredient: str, grams: F | int
) -> None:
    """Edible portion at the recipe's own size, by the USDA row that the pantry names."""
    found = {
        each.ingredient.name: each.grams
        for each in weights_of(demo.folder.recipes[recipe], demo.uses[recipe], demo.folder.pantry)
    }
    assert found[ingredient] == grams


def test_every_amount_of_the_demo_has_a_weight(demo: Facts) -> None:
    """Nothing of the demo is left out of the bars but what is taken to taste."""
    assert all(plate.unweighed == () for plate in _plates(demo))


def test_what_has_no_published_weight_is_named_and_not_guessed(
    make_class: Callable[..., Path],
) -> None:
    """A food that the pantry doesn't know is said beside the bars."""
    folder = read_folder(
        make_class(
            {
                "recipes/rice.md": RICE.replace(
                    "  - 2 cups water\n", "  - 2 cups water\n  - 1 cup blue stars\n"
                ).replace("with salt", "with salt and blue stars"),
                "pantry.yaml": "blue stars: {tags: [plant], colour: blue-purple}\n",
            }
        )
    ).folder
    facts = facts_of(folder)
    assert folder.classroom is not None
    plate = plate_of(
        folder.recipes["rice"], facts.uses["rice"], folder.pantry, folder.classroom.setting, TEXTS
    )
    assert plate.unweighed == ("blue stars",)
    assert plate.colours.is_empty


# Shares


def test_all_shares_sum_to_one(demo: Facts) -> None:
    """Exactly, for every dish, session and the season, and so do the percents that are shown."""
    counted = 0
    for plate in _plates(demo):
        for bar in (plate.colours, plate.vegetables, plate.origins, plate.processing):
            if bar.is_empty:
                continue
            counted += 1
            assert sum(each.share for each in bar.segments) == 1
            shown = [each.percent for each in bar.segments]
            whole = [int(text.removesuffix(" %")) for text in shown if "under" not in text]
            assert sum(whole) == 100
    assert counted > 60


@given(st.lists(st.integers(0, 10_000), min_size=1, max_size=6).filter(any))
def test_percents_sum_to_a_hundred_and_are_never_off_by_one(grams: list[int]) -> None:
    """Each is its share rounded down or up, whatever the shares."""
    total = sum(grams)
    shares: dict[Part, F] = {at: F(each, total) for at, each in enumerate(grams)}
    found = percents(shares)
    assert sum(found.values()) == 100
    assert all(abs(found[part] - share * 100) < 1 for part, share in shares.items())


def test_the_season_counts_a_portion_of_each_dish(demo: Facts) -> None:
    """A dish for eight weighs no more in the season than the same dish for four."""
    folder = demo.folder
    soup = folder.recipes["red-lentil-soup"]
    eaten = [
        (each.item, each.grams / soup.serves)
        for each in weights_of(soup, demo.uses[soup.key], folder.pantry)
        if each.item and each.grams
    ]
    kinds = vegetables_of(eaten)
    # Lentils 288 g, onion 150 g, carrot 61 g and tomato paste 32.75 g for four.
    assert kinds.total == (288 + 150 + 61 + F("32.75")) / 4
    assert kinds.parts["beans peas lentils"] == 288 / (288 + 150 + 61 + F("32.75"))
    assert kinds.missing == ("dark green", "starchy")


def test_water_is_no_food_and_salt_no_plant(demo: Facts) -> None:
    """Six cups of water would drown every other share."""
    pantry = demo.folder.pantry
    names = {"water": 1000, "salt": 10, "carrot": 60, "egg": 40, "vegetable oil": 10}
    eaten = [
        (item, F(grams)) for name, grams in names.items() if (item := pantry.find(name)) is not None
    ]
    assert len(eaten) == len(names)
    assert processing_of(eaten).grams == {1: 100, 2: 20, 3: 0, 4: 0}
    assert origins_of(eaten).grams == {"plants": 70, "animals": 40}


def test_parts_are_those_of_the_pantry() -> None:
    """Every kind of vegetable is a group of the pantry."""
    assert set(VEGETABLES) <= set(GROUPS)


def test_colour_is_not_kind(demo: Facts) -> None:
    """A green pepper is another kind than a red one, and green peas are starchy (7 CFR 210.10)."""
    found = {
        name: (item.colour, item.group)
        for name in ("green bell pepper", "red bell pepper", "frozen pea")
        if (item := demo.folder.pantry.find(name)) is not None
    }
    assert found == {
        "green bell pepper": ("green", "other vegetable"),
        "red bell pepper": ("red", "red and orange"),
        "frozen pea": ("green", "starchy"),
    }


# What would fill the gaps


@pytest.mark.parametrize("name", [*everyday_produce(False), *everyday_produce(True)])
def test_everyday_produce_is_in_the_pantry(demo: Facts, name: str) -> None:
    """Each can bring something: a colour or a kind, hardly processed or a canned bean."""
    item = demo.folder.pantry.find(name)
    assert item is not None and item.name == name
    assert item.colour in COLOURS or item.group in VEGETABLES
    assert item.processing == 1 or item.group == "beans peas lentils"


def test_all_that_is_missing_can_be_brought(demo: Facts) -> None:
    """For nothing at all, a few foods bring every colour and every kind."""
    found = fillers(COLOURS, VEGETABLES, demo.folder.pantry)
    assert {item.colour for item in found} >= set(COLOURS)
    assert {item.group for item in found} >= set(VEGETABLES)
    # One that brings two things comes before one that brings one.
    assert len(found) < len(COLOURS) + len(VEGETABLES) - 2


def test_nothing_is_brought_that_somebody_avoids(demo: Facts) -> None:
    """By its name or by what it contains; a dish of fruit is filled with fruit."""
    pantry = demo.folder.pantry
    (first,) = fillers(["blue-purple"], [], pantry)
    (second,) = fillers(["blue-purple"], [], pantry, {first.name})
    assert first.name == "red cabbage" and second.name == "beet"
    assert [item.group for item in fillers(["red"], VEGETABLES, pantry, fruit=True)] == ["fruit"]
    assert fillers([], [], pantry) == ()


def test_a_dish_of_fruit_lacks_no_vegetable(demo: Facts) -> None:
    """The fruit salad is asked for colours alone."""
    folder = demo.folder
    assert folder.classroom is not None
    plate = plate_of(
        folder.recipes["fruit-salad"],
        demo.uses["fruit-salad"],
        folder.pantry,
        folder.classroom.setting,
        TEXTS,
    )
    assert plate.missing == ("red", "blue and purple", "white and brown")
    assert all("cabbage" not in each for each in plate.to_try)


def test_colours_count_vegetables_fruit_and_herbs_alone(demo: Facts) -> None:
    """Turkey and rice have no colour here."""
    pantry = demo.folder.pantry
    eaten = [
        (item, F(100))
        for name in ("ground turkey", "long-grain rice", "tomato")
        if (item := pantry.find(name)) is not None
    ]
    assert colours_of(eaten).parts["red"] == 1


# The bar


def _borders(svg: str) -> list[float]:
    """Where a part ends, from left to right."""
    return [float(x) for x in re.findall(r'd="M([\d.]+) 1\.2V[\d.]+" stroke-width="1\.2"', svg)]


def test_a_bar_is_to_scale() -> None:
    """Each border stands where the sum of the shares before it says."""
    shares = [F(1, 2), F(1, 3), F(1, 6)]
    parts = tuple(
        Segment("a part", "x", share, name)
        for share, name in zip(shares, ("rising", "blank", "crossed"), strict=True)
    )
    svg = share_bar(Bar(parts, "words"), "b", 302.4, 30)
    assert _borders(svg) == [1.2 + 150, 1.2 + 250, 1.2 + 300]
    assert '<title id="b-title">words</title>' in svg


def test_a_narrow_part_has_no_number_on_it() -> None:
    """Its number stands in the key alone; a part of nothing isn't drawn."""
    parts = (
        Segment("most", "95 %", F(95, 100), "blank"),
        Segment("little", "5 %", F(5, 100), "dotted"),
        Segment("nothing", "0 %", F(0), "crossed"),
    )
    svg = share_bar(Bar(parts, "words"), "b", 200, 20)
    assert re.findall(r">(\d+ %)</text>", svg) == ["95 %"]
    assert len(_borders(svg)) == 2
    assert share_bar(Bar(parts[2:], "words"), "b", 200, 20) == ""


def test_patterns_differ_without_colour(demo: Facts) -> None:
    """Each pattern is drawn otherwise, and no bar uses one twice."""
    assert len({swatch(name) for name in PATTERNS}) == len(PATTERNS)
    assert 'fill="none" stroke="currentColor"' in swatch("blank")
    plate = next(_plates(demo))
    for bar in (plate.colours, plate.vegetables, plate.origins, plate.processing):
        names = [each.pattern for each in bar.segments]
        assert len(set(names)) == len(names) and set(names) <= PATTERNS.keys()


def test_a_number_stands_on_bare_ground() -> None:
    """No line of a pattern crosses the middle of a wide part, where the number stands."""
    for name in PATTERNS:
        svg = share_bar(Bar((Segment("all", "100 %", F(1), name),), "words"), "b", 200, 30)
        for data in re.findall(r'd="([^"]+)"', svg):
            for x, y in re.findall(r"M([\d.]+) ([\d.]+)", data):
                assert not (86 < float(x) < 114 and 9.5 < float(y) < 20.5), (name, x, y)
