"""Words for many foods: what they may be, and that a step which says one isn't passed over."""

from __future__ import annotations

from pathlib import Path

import pytest

from spoonfold.check import examine
from spoonfold.knowledge.data import data
from spoonfold.knowledge.families import families
from spoonfold.read.pantry import ALLERGENS, RAW, TAGS, read_pantry
from tiny_class import RICE, write_class

PANTRY = read_pantry(None, [])


def test_every_row_has_a_source() -> None:
    """And no family is told of twice."""
    rows = data("families.json")
    assert all(row["source"] for row in rows)
    words = [word for row in rows for word in (row["family"], *row.get("also", ()))]
    assert len(words) == len(set(words)) == len(families())


@pytest.mark.parametrize("word", families())
def test_families_speak_the_pantrys_words(word: str) -> None:
    """And are none of its foods: of one food it knows more than of many."""
    family = families()[word]
    assert {*family.allergens, *family.check_label} <= set(ALLERGENS)
    assert set(family.tags) <= set(TAGS)
    assert family.raw is None or family.raw in RAW
    assert family.known_by
    assert word not in PANTRY.called


# The nine of FD&C Act 201(qq), and molluscs of Regulation (EU) No 1169/2011, Annex II: what the
# law's own examples are of. Meat by the rows of the Safe Minimum Internal Temperature chart.
@pytest.mark.parametrize(
    ("word", "allergen"),
    [
        ("cheese", "milk"),
        ("nut", "tree nut"),
        ("fish fillet", "fish"),
        ("lobster", "crustacean"),
        ("clam", "mollusc"),
        ("noodle", "wheat"),
        ("sesame", "sesame"),
    ],
)
def test_sure_allergens(word: str, allergen: str) -> None:
    """What the thing has by its name."""
    assert allergen in families()[word].allergens


@pytest.mark.parametrize(
    ("word", "raw"),
    [("chicken", "poultry"), ("wing", "poultry"), ("beef", "ground meat"), ("fish fillet", "fish")],
)
def test_raw_as_the_worst(word: str, raw: str) -> None:
    """The highest temperature that the chart has for any of them."""
    assert families()[word].raw == raw


def _told(step: str, folder: Path) -> list[str]:
    recipe = RICE.replace("## Steps\n\n1. ", f"## Steps\n\n1. {step} ")
    assert recipe != RICE
    problems = examine(write_class(folder, {"recipes/rice.md": recipe})).problems
    return [each.message for each in problems if each.code == "unlisted-food"]


@pytest.mark.parametrize(
    "step",
    [
        "Stir in the chocolate.",
        "Fry the wings.",
        "Add the broth.",
        "Stir the curry paste in.",
        "Lay the fish fillets in.",
        "Sprinkle the croutons over it.",
    ],
)
def test_a_family_that_the_list_lacks_is_told(step: str, tmp_path: Path) -> None:
    """Its allergens would be on no sheet."""
    assert len(_told(step, tmp_path)) == 1


@pytest.mark.parametrize(
    "step", ["Cut it to the size of a nut.", "Fish out the pips.", "Serve it without chocolate."]
)
def test_what_isnt_in_it_is_not(step: str, tmp_path: Path) -> None:
    """A verb, a likeness, a denial."""
    assert _told(step, tmp_path) == []


@pytest.mark.parametrize(
    ("name", "raw"),
    [
        ("beef sirloin tip", "ground meat"),
        ("turkey escalope", "poultry"),
        ("lamb neck fillet", "ground meat"),
        ("fish cheeks", "fish"),
        # Not the meat, or not only.
        ("vegan turkey escalope", None),
        ("beef flavored crisps", None),
        ("fish head curry paste", None),
        ("peanut chicken strips", None),
        ("beef and bean burrito", None),
    ],
)
def test_a_cut_that_nobody_knows_is_of_its_animal(name: str, raw: str | None) -> None:
    """As raw as the worst of it (Safe Minimum Internal Temperature chart)."""
    item = PANTRY.find(name)
    assert (item.raw if item else None) == raw
    assert item is None or item.is_family
