"""Needs and swaps as readable text.

Each case is a sentence behind `#`, then keys as an educator writes them: `needs`, `sessions`
and `tables` are those of class.yaml, `pantry` is pantry.yaml, the others are a recipe's header.
A problem stands on its line, behind `!`.
"""

from __future__ import annotations

import re
from pathlib import Path

from tiny_class import CLASS
from titled_cases import Case

HERE = Path(__file__).parent
RECIPE = "content/recipes/dish.md"
_CLASS_KEYS = ("needs", "sessions", "tables")
_HEAD = "---\ntitle: Dish\nplace: Lima, Peru\ncountry: PE\nserves: 4\n"
_BODY = "---\n\nA dish.\n\n## Steps\n\n1. Stir it.\n    - time: 3 min\n"


def files_of(case: Case) -> tuple[dict[str, str | None], list[tuple[int, str]]]:
    """The files of a case, and its problems as (line of the recipe, “level code”)."""
    parts: dict[str, list[str]] = {"class": [], "pantry": [], "recipe": []}
    expected = []
    into = "recipe"
    for line in case.lines:
        text, _, problem = (each.strip() for each in line.rstrip().partition(" ! "))
        if not line.startswith(" "):
            key = text.split(":")[0]
            into = "class" if key in _CLASS_KEYS else key if key == "pantry" else "recipe"
        kept = line[: len(line) - len(line.lstrip())] + text
        parts[into].append(kept)
        if problem:
            assert into == "recipe", case.where
            expected.append((_HEAD.count("\n") + len(parts["recipe"]), problem))
    klass = CLASS.replace("tables: [4]", "tables: [4, 4]")
    if any(line.startswith("sessions:") for line in parts["class"]):
        klass = klass[: klass.index("sessions:")]
    else:
        klass = klass.replace("[rice]", "[dish]")
    pantry = "".join(f"{line[2:]}\n" for line in parts["pantry"][1:])
    return {
        "class.yaml": klass + "".join(f"{line}\n" for line in parts["class"]),
        "pantry.yaml": pantry or None,
        "recipes/rice.md": None,
        "recipes/dish.md": re.sub(r"\A", _HEAD, "".join(f"{line}\n" for line in parts["recipe"]))
        + _BODY,
    }, expected
