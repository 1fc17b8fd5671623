"""Every field of the shipped pantry speaks the known vocabulary, and nothing is left out."""

from __future__ import annotations

import re
from typing import Any

import pytest

Entry = dict[str, Any]
Sections = dict[str, list[tuple[str, list[tuple[str, Any]]]]]

KEYS = (
    "plural",
    "also",
    "names",
    "usda",
    "weights",
    "edible",
    "pieces",
    "section",
    "colour",
    "group",
    "allergens",
    "check label",
    "tags",
    "raw",
    "exactness",
    "divides",
    "processing",
    "keeps",
    "opened",
)
REQUIRED = {"names", "section", "tags", "exactness", "processing"}
FILES = {
    "vegetables": "vegetables",
    "fruit": "fruit",
    "herbs": "herbs",
    "dairy-eggs": "dairy and eggs",
    "meat-fish": "meat and fish",
    "cans-jars": "cans and jars",
    "dry-goods": "dry goods",
    "baking": "baking",
    "spices": "spices",
    "oils-sauces": "oils and sauces",
    "bread": "bread",
    "frozen": "frozen",
    "nuts-seeds": "nuts and seeds",
    "other": "other",
}
WORDS = {
    "colour": {"red", "yellow-orange", "green", "blue-purple", "white-brown"},
    "group": {
        "dark green",
        "red and orange",
        "beans peas lentils",
        "starchy",
        "other vegetable",
        "fruit",
        "grain",
        "whole grain",
        "dairy",
        "protein",
        "fat",
    },
    "raw": {
        "poultry",
        "ground poultry",
        "ground meat",
        "whole meat",
        "pork",
        "fish",
        "shellfish",
        "egg",
        "flour",
        "sprouts",
    },
    "exactness": {"exact", "close", "forgiving"},
    "divides": {"whole", "half", "quarter"},
    "processing": {"1", "2", "3", "4"},
}
ALLERGENS = {
    "milk",
    "egg",
    "fish",
    "crustacean",
    "tree nut",
    "peanut",
    "wheat",
    "soy",
    "sesame",
    "gluten",
    "celery",
    "mustard",
    "sulphite",
    "lupin",
    "mollusc",
}
TAGS = {
    "plant",
    "animal",
    "meat",
    "poultry",
    "beef",
    "pork",
    "lamb",
    "seafood",
    "gelatin",
    "alcohol",
    "honey",
    "liquid",
    "salty",
    "hot spice",
    "leavening",
    "sweetener",
    "oil",
    "perishable",
    "cut tcs",
    "cooked tcs",
    "choking",
    "round bite",
    "burns skin",
    "cook frozen",
    "cut cold",
    "cools like rice",
    "solid fat",
    "coconut",
}
# Neither plant nor animal: minerals, water, fungi of baking, made colours.
NEITHER = {
    "salt",
    "kosher salt",
    "sea salt",
    "baking powder",
    "baking soda",
    "active dry yeast",
    "instant yeast",
    "fresh yeast",
    "baking ammonia",
    "single-acting baking powder",
    "water",
    "ice",
    "sparkling water",
    "food colouring",
}


def scalars(value: object) -> list[object]:
    """Every value within a value that is neither a list nor a mapping."""
    if isinstance(value, dict):
        return [each for part in value.values() for each in scalars(part)]
    if isinstance(value, list):
        return [each for part in value for each in scalars(part)]
    return [value]


def test_enough_ingredients(pantry: dict[str, Entry]) -> None:
    """A class can cook round the world with what ships."""
    assert len(pantry) >= 900


def test_a_file_for_each_section(sections: Sections) -> None:
    """A file holds exactly the entries of its own shop section."""
    assert set(sections) == set(FILES)
    for file, entries in sections.items():
        assert {dict(pairs)["section"] for _, pairs in entries} == {FILES[file]}, file


def test_keys_are_known_and_in_order(sections: Sections) -> None:
    """An entry has only known keys, in the order that a reader gets used to."""
    for entries in sections.values():
        for name, pairs in entries:
            keys = [key for key, _ in pairs]
            assert keys == [key for key in KEYS if key in keys], name
            assert set(keys) >= REQUIRED, name


def test_every_scalar_is_text(pantry: dict[str, Entry]) -> None:
    """Numbers are written as text, so that none is rounded on the way in; none is empty."""
    for name, entry in pantry.items():
        assert all(isinstance(each, str) and each for each in scalars(entry)), name
        assert all(value for value in entry.values()), name


@pytest.mark.parametrize("key", sorted(WORDS))
def test_words_are_known(pantry: dict[str, Entry], key: str) -> None:
    """A field with a fixed vocabulary has one of its words."""
    for name, entry in pantry.items():
        assert entry.get(key) in WORDS[key] | {None}, f"{name}: {entry.get(key)}"


def test_lists_are_known(pantry: dict[str, Entry]) -> None:
    """Allergens and tags are known words, each at most once, never both sure and unsure."""
    for name, entry in pantry.items():
        sure, unsure = entry.get("allergens", []), entry.get("check label", [])
        assert set(sure) | set(unsure) <= ALLERGENS, name
        assert set(entry["tags"]) <= TAGS, name
        for listed in (sure + unsure, entry["tags"]):
            assert len(listed) == len(set(listed)), f"{name}: {listed}"


def test_plant_or_animal(pantry: dict[str, Entry]) -> None:
    """Everything says that it is of a plant or of an animal, save what is of neither."""
    for name, entry in pantry.items():
        assert bool({"plant", "animal"} & set(entry["tags"])) is (name not in NEITHER), name


def test_days_are_numbers(pantry: dict[str, Entry]) -> None:
    """How long a food keeps is a number of days in a known place."""
    for name, entry in pantry.items():
        for key in ("keeps", "opened"):
            places = {k: v for k, v in entry.get(key, {}).items() if k != "source"}
            assert set(places) <= {"cupboard", "fridge", "freezer"}, name
            assert all(re.fullmatch(r"[1-9]\d* days", days) for days in places.values()), name


def test_raw_animal_food_is_kept_cold(pantry: dict[str, Entry]) -> None:
    """Raw meat, poultry, fish and eggs are perishable and never keep in the cupboard."""
    for name, entry in pantry.items():
        if entry.get("raw") not in {None, "flour"}:
            assert "perishable" in entry["tags"], name
            assert "cupboard" not in entry.get("keeps", {}), name


@pytest.mark.parametrize(
    ("raw", "tag"),
    [
        ("poultry", "poultry"),
        ("ground poultry", "poultry"),
        ("pork", "pork"),
        ("ground meat", "meat"),
        ("whole meat", "meat"),
        ("fish", "seafood"),
        ("shellfish", "seafood"),
        ("egg", "animal"),
        ("sprouts", "plant"),
        ("flour", "plant"),
    ],
)
def test_raw_hazards_match_tags(pantry: dict[str, Entry], raw: str, tag: str) -> None:
    """A raw hazard stands only on the kind of food that has it."""
    having = [name for name, entry in pantry.items() if entry.get("raw") == raw]
    assert having
    for name in having:
        assert tag in pantry[name]["tags"], name


def test_kinds_of_meat_are_meat(pantry: dict[str, Entry]) -> None:
    """Poultry, beef, pork and lamb are meat too, and all of it is animal."""
    for name, entry in pantry.items():
        tags = set(entry["tags"])
        if tags & {"poultry", "beef", "pork", "lamb"}:
            assert "meat" in tags, name
        if tags & {"meat", "seafood", "gelatin", "honey"}:
            assert "animal" in tags, name


def test_every_flour_is_a_raw_food(pantry: dict[str, Entry]) -> None:
    """Flour that is milled from raw grain or pulses is marked as a raw food."""
    # Ground nuts are not grain.
    for name, entry in pantry.items():
        if re.search(r"\b(flour|cornmeal|semolina|masa)\b", name) and "tortilla" not in name:
            assert entry.get("raw") == ("flour" if name != "almond flour" else None), name


def test_what_must_be_exact(pantry: dict[str, Entry]) -> None:
    """Salt, leavening, flour and hot spice are never measured by eye."""
    for name, entry in pantry.items():
        leavening = "leavening" in entry["tags"]
        flour = entry.get("raw") == "flour" and entry["section"] == "baking"
        salt = re.search(r"\bsalt$", name)
        spice = "hot spice" in entry["tags"] and entry["section"] == "spices"
        if leavening or flour or salt or spice:
            assert entry["exactness"] == "exact", name


def test_time_and_temperature_control(pantry: dict[str, Entry]) -> None:
    """Cut melon, tomato and leafy greens, and cooked rice, beans, potato, pasta: FDA Food Code
    1-201.10."""
    cut = {
        "watermelon",
        "cantaloupe",
        "honeydew melon",
        "tomato",
        "spinach",
        "kale",
        "romaine lettuce",
        "green cabbage",
    }
    cooked = {
        "long-grain rice",
        "cooked rice",
        "black bean",
        "dry chickpea",
        "red lentil",
        "potato",
        "spaghetti",
        "couscous",
        "sweet potato",
        "bean sprout",
    }
    assert {name for name in cut if "cut tcs" not in pantry[name]["tags"]} == set()
    assert {name for name in cooked if "cooked tcs" not in pantry[name]["tags"]} == set()


def test_choking_shapes(pantry: dict[str, Entry]) -> None:
    """The foods of the choking list in USDA FNS-305 that the pantry has are marked."""
    listed = {
        "grape",
        "cherry",
        "cherry tomato",
        "almond",
        "peanut",
        "sunflower seed",
        "popcorn kernel",
        "carrot",
        "celery",
        "marshmallow",
        "raisin",
        "peanut butter",
    }
    assert {name for name in listed if "choking" not in pantry[name]["tags"]} == set()
