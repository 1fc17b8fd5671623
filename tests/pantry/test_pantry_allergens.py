"""What a food surely contains, and where a label must be read: these lists protect children.

Sources: FD&C Act 201(qq) for the US nine; Regulation (EU) No 1169/2011, Annex II, for the
fourteen. Hidden carriers are common practice, from memory.
"""

from __future__ import annotations

import re
from typing import Any

import pytest

Entry = dict[str, Any]

US_NINE = {"milk", "egg", "fish", "crustacean", "tree nut", "peanut", "wheat", "soy", "sesame"}
EU_MORE = {"gluten", "celery", "mustard", "sulphite", "lupin", "mollusc"}

# By hand: what each surely contains, all of it.
SURE = {
    "soy sauce": {"soy", "wheat", "gluten"},
    "tamari": {"soy"},
    "fish sauce": {"fish"},
    "worcestershire sauce": {"fish"},
    "oyster sauce": {"mollusc"},
    "shrimp paste": {"crustacean"},
    "miso paste": {"soy"},
    "firm tofu": {"soy"},
    "edamame": {"soy"},
    "tempeh": {"soy"},
    "tahini": {"sesame"},
    "hummus": {"sesame"},
    "sesame oil": {"sesame"},
    "za'atar": {"sesame"},
    "pesto": {"milk", "tree nut"},
    "couscous": {"wheat", "gluten"},
    "bulgur": {"wheat", "gluten"},
    "semolina": {"wheat", "gluten"},
    "panko": {"wheat", "gluten"},
    "all-purpose flour": {"wheat", "gluten"},
    "flour tortilla": {"wheat", "gluten"},
    "udon noodle": {"wheat", "gluten"},
    "soba noodle": {"wheat", "gluten"},
    "egg noodle": {"wheat", "gluten", "egg"},
    "naan": {"wheat", "gluten", "milk"},
    "pearl barley": {"gluten"},
    "ghee": {"milk"},
    "butter": {"milk"},
    "plain yogurt": {"milk"},
    "cheddar cheese": {"milk"},
    "sweetened condensed milk": {"milk"},
    "dry milk powder": {"milk"},
    "mayonnaise": {"egg"},
    "egg": {"egg"},
    "peanut butter": {"peanut"},
    "peanut oil": {"peanut"},
    "almond milk": {"tree nut"},
    "almond flour": {"tree nut"},
    "walnut": {"tree nut"},
    "pine nut": {"tree nut"},
    "imitation crab": {"fish"},
    "anchovy": {"fish"},
    "bonito flake": {"fish"},
    "dashi": {"fish"},
    "shrimp": {"crustacean"},
    "squid": {"mollusc"},
    "mussel": {"mollusc"},
    "celery": {"celery"},
    "dijon mustard": {"mustard"},
    "lupin bean": {"lupin"},
    "corn tortilla": set(),
    "rice paper": set(),
    "vegetable broth": set(),
    "rolled oats": {"gluten"},
    "buckwheat": set(),
    "coconut milk": set(),
    "coconut": set(),
    "red curry paste": set(),
    "ground turkey": set(),
}
# By hand: where brands differ, at least these must be looked for.
UNSURE = {
    "vegetable broth": {"celery", "wheat", "gluten", "soy", "milk"},
    "chicken broth": {"celery", "wheat", "gluten", "soy", "milk"},
    "red curry paste": {"crustacean", "fish"},
    "green curry paste": {"crustacean", "fish"},
    "mayonnaise": {"mustard"},
    "rice paper": {"wheat"},
    "rolled oats": {"wheat"},
    "oat milk": {"wheat"},
    "tamari": {"wheat", "gluten"},
    "miso paste": {"wheat", "gluten"},
    "flour tortilla": {"milk", "soy"},
    "corn tortilla": {"wheat"},
    "white bread": {"milk", "soy", "egg", "sesame"},
    "hamburger bun": {"milk", "egg", "sesame"},
    "curry powder": {"mustard", "celery"},
    "margarine": {"milk", "soy"},
    "semisweet chocolate": {"milk", "soy", "tree nut"},
    "raisin": {"sulphite"},
    "dried apricot": {"sulphite"},
    "imitation crab": {"crustacean", "egg", "wheat"},
    "hoisin sauce": {"sesame"},
    "kimchi": {"fish", "crustacean"},
    "walnut": {"peanut"},
    "peanut": {"tree nut"},
    "canned tuna": {"soy"},
    "coconut yogurt": {"milk", "tree nut", "soy"},
}
# A word in a name, what it means, and the names where it means something else.
CARRIERS = [
    (
        r"\b(milk|butter|buttermilk|cheese|cream|yogurt|paneer|ghee)\b",
        "milk",
        {
            "coconut milk",
            "soy milk",
            "oat milk",
            "rice milk",
            "almond milk",
            "coconut yogurt",
            "plain soy yogurt",
            "peanut butter",
            "almond butter",
            "sunflower seed butter",
            "butter lettuce",
            "coconut cream",
            "cream of tartar",
            "cream-style corn",
        },
    ),
    (r"\beggs?\b", "egg", set()),
    (r"\bfish\b", "fish", set()),
    (r"\b(shrimp|crab|prawn|lobster)\b", "crustacean", {"imitation crab"}),
    (
        r"\b(almond|walnut|pecan|hazelnut|cashew|pistachio|macadamia|brazil nut|pine nut)\b",
        "tree nut",
        set(),
    ),
    (r"\bpeanuts?\b", "peanut", set()),
    (r"\b(soy|tofu|miso|tempeh|edamame|tamari)\b", "soy", set()),
    (r"\b(sesame|tahini)\b", "sesame", set()),
    (
        r"\b(wheat|couscous|bulgur|semolina|macaroni|spaghetti|pasta shell|udon|somen|ramen"
        r"|panko|breadcrumbs|baguette|naan|pita|bun|matzo)\b",
        "wheat",
        set(),
    ),
    (r"\bbarley\b", "gluten", set()),
    (r"\bcelery\b", "celery", set()),
    (r"\bmustard\b", "mustard", set()),
]


@pytest.mark.parametrize("name", sorted(SURE))
def test_sure_allergens_by_hand(pantry: dict[str, Entry], name: str) -> None:
    """The allergens of a food are exactly those that a person worked out by hand."""
    assert set(pantry[name].get("allergens", ())) == SURE[name]


@pytest.mark.parametrize("name", sorted(UNSURE))
def test_labels_to_read_by_hand(pantry: dict[str, Entry], name: str) -> None:
    """Where brands differ, the label is to be read for at least these."""
    assert set(pantry[name].get("check label", ())) >= UNSURE[name]


@pytest.mark.parametrize(("word", "allergen", "otherwise"), CARRIERS)
def test_a_name_betrays_its_allergen(
    pantry: dict[str, Entry], word: str, allergen: str, otherwise: set[str]
) -> None:
    """A food that is named after an allergen has it."""
    named = [name for name in pantry if re.search(word, name) and name not in otherwise]
    assert named
    for name in named:
        assert allergen in pantry[name].get("allergens", ()), name
    assert otherwise <= set(pantry)


def test_every_allergen_occurs(pantry: dict[str, Entry]) -> None:
    """The US nine and what the EU fourteen add to them: each is surely in something, or must
    be looked for on labels."""
    sure = {each for entry in pantry.values() for each in entry.get("allergens", ())}
    unsure = {each for entry in pantry.values() for each in entry.get("check label", ())}
    assert sure >= US_NINE
    assert sure | unsure == US_NINE | EU_MORE


def test_wheat_is_gluten(pantry: dict[str, Entry]) -> None:
    """Wheat always comes with gluten, sure or unsure."""
    for name, entry in pantry.items():
        for key in ("allergens", "check label"):
            if "wheat" in entry.get(key, ()):
                both = {*entry.get("allergens", ()), *entry.get(key, ())}
                assert "gluten" in both, f"{name}: {key}"


def test_animal_allergens_are_animal(pantry: dict[str, Entry]) -> None:
    """Milk, egg, fish and shellfish make a food animal; fish and shellfish make it seafood."""
    for name, entry in pantry.items():
        sure = set(entry.get("allergens", ()))
        if sure & {"milk", "egg", "fish", "crustacean", "mollusc"}:
            assert "animal" in entry["tags"], name
        if sure & {"fish", "crustacean", "mollusc"}:
            assert "seafood" in entry["tags"], name


def test_seafood_names_its_allergen(pantry: dict[str, Entry]) -> None:
    """Nothing of the sea is without fish, crustacean or mollusc, sure or on the label."""
    for name, entry in pantry.items():
        if "seafood" in entry["tags"]:
            listed = {*entry.get("allergens", ()), *entry.get("check label", ())}
            assert listed & {"fish", "crustacean", "mollusc"}, name


def test_coconut_is_tagged_but_no_tree_nut(pantry: dict[str, Entry]) -> None:
    """Coconut is no tree nut (FDA allergen guidance, 2025; from memory) but is always tagged,
    since some families avoid it."""
    for name, entry in pantry.items():
        if "coconut" in name:
            assert "coconut" in entry["tags"], name
            assert "tree nut" not in entry.get("allergens", ()), name


def test_nuts_and_seeds_are_checked(pantry: dict[str, Entry]) -> None:
    """Nuts and seeds are packed on shared lines: each has an allergen or a label to read."""
    for name, entry in pantry.items():
        if entry["section"] == "nuts and seeds":
            assert entry.get("allergens") or entry.get("check label"), name


def test_packets_with_long_lists_are_checked(pantry: dict[str, Entry]) -> None:
    """A formulated product without a sure allergen has a label to read, but for a few."""
    plain = {"light corn syrup", "food colouring", "rice milk"}
    for name, entry in pantry.items():
        if entry["processing"] == "4" and name not in plain:
            assert entry.get("allergens") or entry.get("check label"), name
