"""Two foods in one name, and what the author's own pantry.yaml takes away."""

from __future__ import annotations

from pathlib import Path

import pytest

from spoonfold.check import examine
from spoonfold.model.pantry import Pantry
from spoonfold.read.files import Source
from spoonfold.read.pantry import read_pantry
from tiny_class import CLASS, RICE, write_class

PANTRY = read_pantry(None, [])


@pytest.mark.parametrize(
    ("name", "allergens", "raw"),
    [
        ("granola with almonds", {"tree nut"}, None),
        ("macaroni and cheese", {"wheat", "gluten", "milk"}, None),
        ("rice, peas and chicken", set(), "poultry"),
        ("spinach plus eggs", {"egg"}, "egg"),
    ],
)
def test_a_name_of_two_foods_has_what_both_have(
    name: str, allergens: set[str], raw: str | None
) -> None:
    """Nothing of either is lost, and no weight is made up."""
    item = PANTRY.find(name)
    assert item is not None
    assert set(item.allergens) == allergens and item.raw == raw
    assert item.weights == ()


@pytest.mark.parametrize(
    "name", ["granola with moon dust", "moon dust and salt", "salt, moon dust"]
)
def test_one_unknown_food_leaves_the_whole_unknown(name: str) -> None:
    """What is in it is said by nobody."""
    assert PANTRY.find(name) is None


def _own(text: str) -> Pantry:
    return read_pantry(Source("content/pantry.yaml", text), [])


@pytest.mark.parametrize(
    ("text", "gone"),
    [
        ("cheddar: {allergens: []}", ("milk",)),
        ("cheddar: {allergens: [], check label: [milk, egg]}", ("milk",)),
        ("soy sauce: {allergens: [soy]}", ("wheat", "gluten")),
        ("ground turkey: {raw: whole meat}", ("raw ground poultry",)),
        ("peanut: {tags: [plant]}", ("choking", "round bite")),
        ("broth: {check label: [celery, soy, milk, fish]}", ("wheat",)),
        ("onion: {section: frozen}", ()),
        ("cheddar: {packages: [{size: 1 lb, price: 5}]}", ()),
        ("moon cheese: {allergens: []}", ()),
    ],
)
def test_what_an_entry_takes_away_is_known(text: str, gone: tuple[str, ...]) -> None:
    """An allergen, a label to read, a raw hazard, a tag that safety rests on; and of a food that
    doesn't ship nothing can be taken."""
    pantry = _own(text + "\n")
    item = pantry.find(text.partition(":")[0])
    assert item is not None and item.taken_away == gone
    assert [each for each, _ in pantry.retold if each.taken_away] == ([item] if gone else [])


def test_it_is_told_and_no_accept_reaches_it(tmp_path: Path) -> None:
    """Neither in the recipe that uses it nor in class.yaml."""
    accept = "accept: {warning: pantry-takes-away, because: ours has none}\n"
    recipe = RICE.replace("  - 2 cups water", "  - 2 cups water\n  - 1 cup cheddar")
    recipe = recipe.replace("serves: 4\n", f"serves: 4\n{accept}")
    files = {
        "pantry.yaml": "cheddar: {allergens: []}\n",
        "recipes/rice.md": recipe,
        "class.yaml": CLASS + accept,
    }
    codes = [each.code for each in examine(write_class(tmp_path, files)).problems]
    assert codes.count("pantry-takes-away") == 1
    assert codes.count("accepts-nothing") == 2


_LABELS = """\
  - 1 cup granola
  - 1 tbsp curry powder
"""


def _told(accept: str, folder: Path) -> list[tuple[str, str]]:
    recipe = RICE.replace("  - 2 cups water\n", f"  - 2 cups water\n{_LABELS}")
    recipe = recipe.replace("serves: 4\n", f"serves: 4\n{accept}")
    recipe = recipe.replace("with salt.", "with salt, the granola and the curry powder.")
    files = {"recipes/rice.md": recipe, "class.yaml": CLASS + "needs: [{table: 1, avoid: [soy]}]\n"}
    problems = examine(write_class(folder, files)).problems
    return [
        (each.code, each.hint)
        for each in problems
        if each.code in ("need-label", "accepts-nothing", "accepts-several-foods")
    ]


def test_an_accepted_warning_names_its_food_and_hides_no_other(tmp_path: Path) -> None:
    """Of two foods whose labels must be read, the one that was read."""
    accept = "accept: {warning: need-label, food: curry powder, because: I read it}\n"
    ((code, hint),) = _told(accept, tmp_path)
    assert code == "need-label" and "granola" in hint


def test_a_food_that_it_isnt_told_of_is_said(tmp_path: Path) -> None:
    """A slip in the name would accept nothing, unseen."""
    accept = "accept: {warning: need-label, food: curry powders of old, because: I read it}\n"
    assert [code for code, _ in _told(accept, tmp_path)] == ["accepts-nothing"] + ["need-label"] * 2


def test_an_entry_without_a_name_holds_for_one_food_alone(tmp_path: Path) -> None:
    """For two it gives the whole lines, which hold when they are pasted."""
    accept = "accept: {warning: need-label, because: I read it}\n"
    told = _told(accept, tmp_path)
    assert [code for code, _ in told] == ["accepts-several-foods"] + ["need-label"] * 2
    lines = told[0][1].partition("\n")[2] + "\n"
    assert _told(lines, tmp_path) == []
