"""Where a shop has a food, or which colour it counts as, takes no danger away."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest
from safety_cases import files_of

from spoonfold.check import examine
from tiny_class import write_class
from titled_cases import Case

DANGERS = {
    "frozen pea": (
        "- 1 cup frozen peas",
        "- 1 cup plain yogurt",
        "1. Stir the peas into the yogurt.",
    ),
    "jalapeño": (
        "- 2 jalapeños",
        "- 1 cup salsa",
        "1. Stir the jalapeños into the salsa.",
        "    - needs: mixing bowl",
    ),
    "mango": (
        "- 2 mangoes",
        "1. Slice the mangoes.",
        "    - needs: knife, board",
        "    - when: before class",
        "2. Serve the mangoes.",
    ),
    "long-grain rice": (
        "- 1 cup long-grain rice",
        "- 2 cups water",
        "1. Boil the rice in the water and chill it.",
        "    - needs: burner, pot, refrigerator",
        "    - when: day before",
        "2. Serve the rice cold.",
    ),
    "milk": ("- 2 cups whole milk", "1. Warm the milk.", "    - needs: burner, pot"),
    "butter": ("- 2 tbsp butter", "1. Melt the butter.", "    - needs: burner, skillet"),
    "grape": ("- 2 cups grapes", "1. Serve the grapes.", "    - needs: mixing bowl"),
}
SAID = {
    "frozen pea": "heat-missing",
    "jalapeño": "chili hands",
    "mango": "cut fruit cold",
    "long-grain rice": "rice cooling",
    "milk": "steam",
    "butter": "hot oil",
    "grape": "choking shape",
}
OTHERWISE = ("section: other", "section: spices", "group: other vegetable", "colour: red")


def _found(lines: tuple[str, ...], pantry: str | None, folder: Path) -> Counter[str]:
    files, _ = files_of(Case("", "", ["ages: 4-6", *lines]))
    found = examine(write_class(folder, files | {"pantry.yaml": pantry}))
    told = [f"{each.code}: {each.message}" for each in found.problems]
    steps = found.facts.folder.recipes["dish"].steps
    told += [f"step {step.number}: {term.text}" for step in steps for term in step.watch]
    return Counter(told)


@pytest.mark.parametrize("name", DANGERS)
@pytest.mark.parametrize("key", OTHERWISE)
def test_a_word_for_the_shop_takes_nothing_away(name: str, key: str, tmp_path: Path) -> None:
    """What is found of a food is found of it in every part of the shop."""
    shipped = _found(DANGERS[name], None, tmp_path / "shipped")
    assert any(SAID[name] in each for each in shipped)
    own = _found(DANGERS[name], f"{name}: {{{key}}}\n", tmp_path / "own")
    assert shipped - own == Counter()


@pytest.mark.parametrize(
    ("line", "is_found"),
    [
        ("- 1 cup peas, frozen", True),
        ("- 1 cup peas, frozen, ready to eat by the label", False),
        ("- 1 cup peas", False),
        ("- 1 cup mangoes, frozen", False),
    ],
)
def test_frozen_may_be_said_in_the_line(line: str, is_found: bool, tmp_path: Path) -> None:
    """Of a food that spoils once it is cooked: a frozen one was blanched, and not by the cook."""
    lines = (line, "- 1 cup plain yogurt", "1. Stir the peas, the mangoes and the yogurt.")
    found = _found(lines, None, tmp_path)
    assert any(each.startswith("heat-missing") for each in found) is is_found


def test_a_section_of_her_own_food_still_says_that_it_is_frozen(tmp_path: Path) -> None:
    """As it did before there was a tag for it."""
    lines = ("- 1 cup romanesco", "- 1 cup plain yogurt", "1. Stir the romanesco and the yogurt.")
    own = "romanesco: {section: frozen, tags: [plant, cooked tcs]}\n"
    assert any(each.startswith("heat-missing") for each in _found(lines, own, tmp_path))
