"""Four recipes of different kinds, from memory, in plain words: title, for how many, ingredients,
steps. What is asked of each, and that the lines that are advised are all that it takes."""

from __future__ import annotations

from pathlib import Path

import pytest

from spoonfold.author.start import start
from spoonfold.check import examine
from spoonfold.problem import Level, Problem

PLAIN = Path(__file__).with_name("plain")
ASKED = {
    # How much, where a letter could be two measures, and which of two.
    "apple-muffins": {3: "serves: 12", 7: "  - 2 large apples, peeled and grated"},
    "carrot-soup": {
        5: "  - 2 tbsp butter",
        7: "  - 2 large carrots",
        9: "  - 4 cups vegetable broth",
    },
    "chicken-tacos": {},
    "flatbread": {9: "  - 3 tbsp butter, melted, divided"},
}
"""By line: what is written there in the end."""
OF_SAFETY = {"heat-missing", "not-understood"}
"""What is hers to say, in her own words or by a temperature."""


def errors(folder: Path, text: str) -> list[Problem]:
    """What keeps the sheets of a class with this recipe from being made."""
    (folder / "content/recipes/plain.md").write_text(text, encoding="utf-8")
    return [each for each in examine(folder).problems if each.level is Level.ERROR]


@pytest.mark.parametrize("name", sorted(ASKED))
def test_what_is_asked(name: str, tmp_path: Path) -> None:
    """Only what words can't say, once, each with the line that works as it stands; then at most
    the question of safety that her words leave open."""
    start(tmp_path)
    text = (PLAIN / f"{name}.md").read_text("utf-8")
    found = [each for each in errors(tmp_path, text) if each.code not in OF_SAFETY]
    assert {each.place.line for each in found} == ASKED[name].keys()
    lines = text.split("\n")
    for each in found:
        wanted = ASKED[name][each.place.line]
        assert wanted.split(maxsplit=1)[1] == each.hint.split(" or ")[0]
        lines[each.place.line - 1] = wanted
    assert {each.code for each in errors(tmp_path, "\n".join(lines))} <= OF_SAFETY


def test_the_same_food_in_two_parts() -> None:
    """The lime of each part goes into the step that is about that part."""
    from spoonfold.plan.amounts.uses import uses_of
    from spoonfold.read.files import Source
    from spoonfold.read.folder import read_folder
    from spoonfold.read.recipe import read_recipe

    text = (PLAIN / "chicken-tacos.md").read_text("utf-8")
    recipe = read_recipe(Source("content/recipes/tacos.md", text), "tacos", [])
    assert recipe is not None
    uses = uses_of(recipe, read_folder(Path("missing")).folder.pantry)
    limes = {each.part: each for each in recipe.ingredients if each.name == "lime"}
    steps = {part: [use.step for use in uses.of(lime)] for part, lime in limes.items()}
    assert steps == {"For the chicken": [1], "For the salsa": [3]}
    (chicken,) = [each for each in recipe.ingredients if "thighs" in each.name]
    assert [use.step for use in uses.of(chicken)] == [1]
