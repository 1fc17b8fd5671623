"""What the words of a step give away: each danger with a neighbour that is right.

`cases.txt` holds small dishes as a cook writes them, without the notes that other rules ask for:
a title, `= CODE` where something must be found, the list, the steps. Temperatures are those of
the USDA FSIS chart, 2019; times and cooling those of the FDA Food Code, 2017.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

import pytest

from spoonfold.check import asks, dangers, examine, habits, keeping, kitchen, warm
from spoonfold.problem import Problem
from tiny_class import CLASS, write_class

CODES = frozenset(
    rule.code for family in (kitchen, warm, asks, dangers, habits, keeping) for rule in family.RULES
)
ASKED = "not-understood"


@dataclass(frozen=True)
class Dish:
    title: str
    found: tuple[str, ...]
    ages: str
    lines: tuple[str, ...]
    steps: tuple[str, ...]


def dishes(name: str = "cases.txt") -> list[Dish]:
    """The dishes of a file beside this one."""
    text = (Path(__file__).parent / name).read_text("utf-8")
    made = []
    for block in text.strip().split("\n\n"):
        lines = block.split("\n")
        made.append(
            Dish(
                lines[0].removeprefix("# "),
                tuple(each.removeprefix("= ") for each in lines if each.startswith("= ")),
                next((each[6:] for each in lines if each.startswith("ages: ")), "9-12"),
                tuple(each for each in lines if each.startswith("- ")),
                tuple(each for each in lines if re.match(r"\d|    - ", each)),
            )
        )
    return made


def all_problems_in(folder: Path, dish: Dish, language: str = "en") -> tuple[Problem, ...]:
    """What is said of a class that cooks the dish."""
    recipe = (
        "---\ntitle: A dish\nplace: Lima, Peru\ncountry: PE\nserves: 4\ningredients:\n"
        + "\n".join(f"  {line}" for line in dish.lines)
        + "\n---\n\n## Steps\n\n"
        + "\n".join(dish.steps)
        + "\n"
    )
    made = write_class(
        folder,
        {
            "class.yaml": CLASS.replace("ages: 9-12", f"ages: {dish.ages}").replace(
                "languages: [en]", f"languages: [{language}]"
            ),
            "recipes/rice.md": recipe,
        },
    )
    return examine(made).problems


def problems_in(folder: Path, dish: Dish) -> list[Problem]:
    """What these rules say of it."""
    return [each for each in all_problems_in(folder, dish) if each.code in CODES]


@pytest.mark.parametrize("dish", dishes(), ids=lambda dish: dish.title)
def test_dish(dish: Dish, tmp_path: Path) -> None:
    """Just what the case names is found, and nothing in the neighbour that is right. What is
    refused may be asked about too."""
    found = {each.code for each in problems_in(tmp_path, dish)}
    assert (found - {ASKED} if dish.found and ASKED not in dish.found else found) == set(dish.found)


@pytest.mark.parametrize(("meat", "degrees"), [("ground beef", 160), ("ground turkey", 165)])
def test_what_stops_short_is_told_how_hot(meat: str, degrees: int, tmp_path: Path) -> None:
    """By the chart, each kind of meat its own."""
    fried = f"1. Fry the {meat} in the skillet until it is still rosy inside."
    dish = Dish("Rosy", (), "9-12", (f"- 1 lb {meat}",), (fried,))
    (found,) = [each for each in problems_in(tmp_path, dish) if each.code != ASKED]
    assert f"{degrees} °F" in found.hint


def test_every_code_has_a_wrong_case_and_a_right_one_behind_it() -> None:
    """What no case sets off might as well not be looked for; what none just escapes might refuse
    what is right."""
    cases = dishes()
    held = {
        code for wrong, right in pairwise(cases) for code in wrong.found if code not in right.found
    }
    assert held == CODES - {"words-not-read"}


def test_a_language_that_is_not_read_is_told(tmp_path: Path) -> None:
    """Silence would look like safety."""
    vietnamese = {"class.yaml": CLASS.replace("languages: [en]", "languages: [vi]")}
    told = [each.code for each in examine(write_class(tmp_path / "vi", vietnamese)).problems]
    assert told.count("words-not-read") == 1
    for language in ("en", "es", "es-MX"):
        read = {"class.yaml": CLASS.replace("languages: [en]", f"languages: [{language}]")}
        found = [each.code for each in examine(write_class(tmp_path / language, read)).problems]
        assert "words-not-read" not in found
