"""Cases of food safety as readable text.

A case is a sentence behind `#`, then keys of class.yaml where it needs any, the ingredients
behind `-`, swaps behind `~ OLD > NEW`, and the steps with their notes. A problem stands on its
line, behind `!`. A step without a time gets five minutes, so that the cases stay short.
"""

from __future__ import annotations

import re
from pathlib import Path

from titled_cases import Case

HERE = Path(__file__).parent / "cases"
RECIPE = "content/recipes/dish.md"
CLASS = """\
name: Tiny Table
place: The Small Hall
first day: 2027-09-18
starts: "10:00"
minutes: 300
fixed: {arrive: 10, talk: 10, eat: 15, clean up: 10}
tables: [4]
helpers: 1
measuring: {cups: [1, 1/2, 1/3, 1/4], tablespoon: 1, teaspoons: [1, 1/2, 1/4]}
equipment: {burner: 2, griddle: 1, oven shelf: 2, pot: 4, big pot: 1, skillet: 3, baking pan: 3,
  colander: 2, mixing bowl: 9, knife: 12, board: 12, grater: 3, peeler: 2, can opener: 2,
  thermometer: 2, spatula: 6, tongs: 3, refrigerator: 1, cooler: 1, scissors: 3, ladle: 1,
  blender: 1, scale: 1, table: 3}
households: [4]
languages: [en]
sessions:
  - {dishes: [dish]}
"""
_CLASS_KEY = re.compile(r"(ages|hot days|from home|pace|watts|needs|accept): ")
_HEAD = ("---", "title: Dish", "place: Lima, Peru", "country: PE", "serves: 4")


def files_of(case: Case) -> tuple[dict[str, str | None], list[tuple[int, str]]]:
    """The files of a case, and what is found in its recipe, as (line, code)."""
    keys, listed, swaps, steps, header = [], [], [], [], []
    for line in case.lines:
        text = line.partition(" ! ")[0].rstrip()
        if _CLASS_KEY.match(text):
            keys.append(text)
        elif text.startswith("- "):
            listed.append(f"  {line}")
        elif text.startswith("~ "):
            old, _, new = text[2:].partition(" > ")
            mark = line[len(text) :]
            swaps += [f"  - instead of: {old}", f"    use: {new}{mark}", "    because: price"]
        elif re.match(r"[0-9]+\. |    - ", text):
            steps.append(line)
        else:
            header.append(line)
    lines = [
        *_HEAD,
        *header,
        "ingredients:",
        *listed,
        *(["swaps:", *swaps] if swaps else []),
        "---",
        "",
        "A dish.",
        "",
        "## Steps",
        "",
        *_timed(steps),
    ]
    expected = [
        (number, line.partition(" ! ")[2].strip())
        for number, line in enumerate(lines, 1)
        if " ! " in line
    ]
    ages = [] if any(key.startswith("ages") for key in keys) else ["ages: 9-12"]
    recipe = "".join(f"{line.partition(' ! ')[0].rstrip()}\n" for line in lines)
    return {
        "class.yaml": "\n".join([*ages, *keys, CLASS]),
        "recipes/rice.md": None,
        "recipes/dish.md": recipe,
    }, expected


def _timed(steps: list[str]) -> list[str]:
    timed: list[str] = []
    has_time = True
    for line in [*steps, "0. "]:
        if re.match(r"[0-9]+\. ", line):
            if not has_time:
                timed.append("    - time: 5 min")
            has_time = False
        has_time = has_time or bool(re.match(r"    - (time|wait|class time):", line))
        timed.append(line)
    return timed[:-1]
