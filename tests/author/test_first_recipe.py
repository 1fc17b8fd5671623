"""From an empty folder to a first recipe of her own, command by command."""

from __future__ import annotations

from pathlib import Path

import pytest
from authoring import run

FILLED = """\
---
# What stands behind a # is a note for you. Fill in what is missing, save, and type:
# spoonfold check
title: Tomato and cucumber salad
place: Izmir, Türkiye
country: TR
serves: 4
ingredients:     # one on a line: 1 1/2 cups red lentils, rinsed
  - 3 medium tomatoes, diced
  - 1 medium cucumber, diced
  - 1 tbsp olive oil
  - salt, to taste
---

Red and green, cold and crisp. It is on the table in a few minutes.

## Steps

1. Dice the tomatoes and the cucumber.
    - time: 6 min
    - hands: 2
    - skills: claw grip
    - needs: knife x2, board x2
    - watch: sharp edge
2. Toss them in a bowl with the oil. Season with salt.
    - time: 2 min
    - needs: mixing bowl, wooden spoon
"""


def test_a_first_recipe_in_five_minutes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every command as it is typed, what it answers, and at the end a page of the new dish."""
    monkeypatch.chdir(tmp_path)
    assert run("start", "my-class").exit_code == 0
    monkeypatch.chdir(tmp_path / "my-class")
    assert run("check").output == "Read 1 recipe: no problems.\n"
    assert run("new", "recipe", "Tomato and cucumber salad").output == """\
Made content/recipes/tomato-and-cucumber-salad.md.

Next, open it in a text editor and fill in what is missing; behind each # it
says what goes there. Until then spoonfold build leaves the sheets as they are.

See what is still missing:

  spoonfold check

Put it on a day:

  spoonfold new session tomato-and-cucumber-salad
"""
    result = run("check")
    assert (result.exit_code, result.output.split("\n")[-2]) == (1, "Read 2 recipes: 6 errors.")
    recipe = Path("content/recipes/tomato-and-cucumber-salad.md")
    recipe.write_text(FILLED, encoding="utf-8")
    assert run("new", "session", "tomato-and-cucumber-salad").output == """\
Added session 2 on line 43 of content/class.yaml. By the rhythm of the class it
is on Saturday, September 25, 2027.

Next, see whether it fits into the time:

  spoonfold clock 2
"""
    output = run("check").output
    assert output.startswith(f"{recipe}: 1 error\n\n  error on line 24: caution-missing\n")
    assert output.endswith("\n  write: - watch: sharp edge, cut fruit cold\n\n"
                           "Why it matters: spoonfold why caution-missing\n\n"
                           "Read 2 recipes: 1 error.\n")
    text = recipe.read_text("utf-8")
    recipe.write_text(text.replace("watch: sharp edge", "watch: sharp edge, cut fruit cold"),
                      encoding="utf-8")
    assert run("check").output == "Read 2 recipes: no problems.\n"
    assert run("build", "--only", "site").exit_code == 0
    page = Path("build/site/recipes/tomato-and-cucumber-salad.html").read_text("utf-8")
    assert "Tomato and cucumber salad" in page
