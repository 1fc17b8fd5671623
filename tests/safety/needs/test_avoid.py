"""Whether a food is what is avoided: patterns, free foods, and what is never concluded."""

from __future__ import annotations

import pytest

from spoonfold.check.needs import suggested
from spoonfold.knowledge.replacements import replacements
from spoonfold.model.pantry import Item
from spoonfold.plan.safety.avoid import Match, finding_of, findings_of
from spoonfold.read.pantry import ALLERGENS, TAGS, read_pantry

PANTRY = read_pantry(None, [])
CERTAIN, LABEL, ASK = Match.CERTAIN, Match.LABEL, Match.ASK

# What a pattern takes in, by hand.
PATTERNS = (
    (
        "meat",
        CERTAIN,
        (
            "bacon",
            "ground turkey",
            "ground lamb",
            "beef broth",
            "lard",
            "chicken bouillon cube",
            "gelatin powder",
            "marshmallow",
        ),
    ),
    ("meat", LABEL, ("flour tortilla", "plain yogurt")),
    ("meat", ASK, ("fish sauce", "shrimp", "worcestershire sauce", "parmesan cheese")),
    ("meat", None, ("egg", "milk", "butter", "honey", "firm tofu", "vegetable broth")),
    ("pork", CERTAIN, ("bacon", "ham", "lard", "chorizo", "refried beans with lard")),
    ("pork", LABEL, ("gelatin powder", "marshmallow", "chicken sausage", "bolillo")),
    ("pork", None, ("ground beef", "ground turkey", "chicken broth", "fish sauce")),
    ("beef", CERTAIN, ("ground beef", "beef broth")),
    ("beef", LABEL, ("gelatin powder",)),
    ("poultry", CERTAIN, ("whole chicken", "deli turkey", "chicken broth")),
    ("poultry", None, ("egg", "ground beef", "gelatin powder")),
    ("seafood", CERTAIN, ("cod", "shrimp", "squid", "fish sauce", "oyster sauce", "dashi")),
    ("seafood", LABEL, ("kimchi", "kombu")),
    ("seafood", None, ("nutritional yeast", "salt")),
    ("gelatin", CERTAIN, ("gelatin powder", "marshmallow")),
    ("gelatin", LABEL, ("plain yogurt", "sour cream")),
    ("gelatin", None, ("agar powder",)),
    ("alcohol", CERTAIN, ("vanilla extract", "mirin", "rice wine")),
    ("alcohol", LABEL, ("soy sauce", "dijon mustard")),
    ("alcohol", ASK, ("red wine vinegar",)),
    ("alcohol", None, ("white vinegar", "apple juice")),
    ("honey", CERTAIN, ("honey",)),
    ("honey", LABEL, ("granola",)),
    (
        "animal",
        CERTAIN,
        ("honey", "milk", "egg", "gelatin powder", "fish sauce", "mayonnaise", "bacon", "squid"),
    ),
    ("animal", LABEL, ("margarine", "white bread")),
    ("animal", None, ("firm tofu", "olive oil", "maple syrup")),
    ("coconut", CERTAIN, ("coconut milk", "coconut oil")),
    ("hot spice", CERTAIN, ("cayenne pepper",)),
)


@pytest.mark.parametrize(("word", "match", "foods"), PATTERNS)
def test_a_pattern_is_what_families_mean(
    word: str, match: Match | None, foods: tuple[str, ...]
) -> None:
    """Meat takes in gelatin and lard, pork only what is surely of a pig; the rest is asked."""
    for food in foods:
        item = PANTRY.find(food)
        assert item is not None
        assert finding_of(item, word, PANTRY) is match, food


@pytest.mark.parametrize(
    ("word", "food", "match"),
    [
        ("kiwi", "kiwi", CERTAIN),
        ("kiwi", "lime", None),
        ("kiwi", "ice cream", LABEL),
        ("tomato", "tomato paste", CERTAIN),
        ("tomato", "ketchup", CERTAIN),
        ("tomato", "cherry tomato", CERTAIN),
        ("tomato", "potato", None),
        ("corn", "cornmeal", CERTAIN),
        ("corn", "corn tortilla", CERTAIN),
        ("corn", "peppercorn", None),
        ("apple", "pineapple", None),
        ("apple", "applesauce", CERTAIN),
        ("pear", "pearl barley", None),
        ("pear", "avocado", ASK),
        ("orange", "orange juice", CERTAIN),
        ("chickpea", "hummus", CERTAIN),
        ("pea", "peanut", None),
        ("pea", "snow pea", CERTAIN),
        ("garlic", "garlic powder", CERTAIN),
        ("coriander", "cilantro", ASK),
        ("scallion", "green onion", CERTAIN),
    ],
)
def test_a_free_food_goes_by_whole_words(word: str, food: str, match: Match | None) -> None:
    """A food that is named after another has it; one that only sounds like it doesn't."""
    assert finding_of(PANTRY.find(food), word, PANTRY) is match


@pytest.mark.parametrize("word", [*ALLERGENS, *TAGS, "kiwi"])
def test_an_unknown_food_is_never_safe(word: str) -> None:
    """Whatever is avoided, a food that the pantry doesn't know stays unknown."""
    assert finding_of(None, word, PANTRY) is Match.UNKNOWN


def test_what_an_allergen_makes_certain_no_tag_takes_back() -> None:
    """Over the whole pantry: what surely contains an allergen is certain for it, and what may
    contain it is at least a label."""
    for name in PANTRY.names:
        item = PANTRY.find(name)
        assert item is not None
        for word in item.allergens:
            assert finding_of(item, word, PANTRY) is CERTAIN, (name, word)
        for word in item.check_label:
            assert finding_of(item, word, PANTRY) in (CERTAIN, LABEL), (name, word)
        for word in item.tags:
            assert finding_of(item, word, PANTRY) is CERTAIN, (name, word)


def test_meat_and_seafood_without_a_kind_are_read() -> None:
    """An author's own sausage may be of any animal, and their fish paste of any of the sea."""
    sausage = Item("star sausage", "star sausages", tags=frozenset({"animal", "meat"}))
    paste = Item("star paste", "star pastes", tags=frozenset({"animal", "seafood"}))
    for word in ("pork", "beef", "poultry", "lamb"):
        assert finding_of(sausage, word, PANTRY) is LABEL
    for word in ("fish", "crustacean", "mollusc"):
        assert finding_of(paste, word, PANTRY) is LABEL


def test_findings_come_with_the_surest_first() -> None:
    """What is certain is said before what a label says, each word once."""
    found = findings_of(PANTRY.find("walnut"), ("peanut", "tree nut", "peanut"), PANTRY)
    assert [(each.avoided, each.match) for each in found] == [
        ("tree nut", CERTAIN),
        ("peanut", LABEL),
    ]


@pytest.mark.parametrize("food", sorted(replacements()))
def test_a_suggestion_never_brings_what_is_avoided(food: str) -> None:
    """For every food with a usual replacement and every allergen and kind, alone and in pairs."""
    item = PANTRY.find(food)
    assert item is not None and item.name == food
    assert all((found := PANTRY.find(name)) and found.name == name for name in replacements()[food])
    words = (*ALLERGENS, "meat", "pork", "gelatin", "alcohol", "honey", "animal")
    for first in words:
        for second in words:
            other = suggested(item, (first, second), PANTRY)
            if other is not None:
                found_in = findings_of(other, (first, second), PANTRY)
                assert all(each.match in (LABEL, ASK) for each in found_in), (food, other.name)
