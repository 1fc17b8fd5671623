"""Dishes of every measure in a class of their own, to see whether the booklet holds them."""

from __future__ import annotations

from pathlib import Path

from small_class import CLASS

_FOODS = (
    "1 large onion, diced",
    "2 medium carrots, sliced",
    "1 medium zucchini, diced",
    "2 cloves garlic, minced",
    "1 tbsp ginger, minced",
    "2 tbsp olive oil",
    "1 tsp ground cumin",
    "1 tsp paprika",
    "3/4 cup red lentils, rinsed",
    "2 cups water",
    "1 tsp salt",
    "1 cup frozen peas",
    "1/2 cup parsley, chopped",
    "1 lemon, juiced",
    "2 medium tomatoes, diced",
    "1/2 cup plain yogurt",
)
_STEPS = (
    ("Dice the onion and mince the garlic and ginger.", "needs: knife, board", "watch: sharp edge"),
    ("Slice the carrots into thin rounds.", "needs: knife, board", "watch: sharp edge"),
    ("Dice the zucchini.", "needs: knife, board", "watch: sharp edge"),
    ("Dice the tomatoes.", "needs: knife, board", "watch: sharp edge, cut fruit cold"),
    ("Chop the parsley.", "needs: knife, board", "watch: sharp edge"),
    ("Rinse the red lentils until the water runs clear.", "needs: sink"),
    (
        "Warm the olive oil in a pot and soften the onion and carrots in it.",
        "needs: burner, pot",
        "watch: hot handle, hot oil",
        "adult: stays at the burner",
    ),
    (
        "Stir in the garlic, ginger, cumin and paprika for one minute.",
        "needs: burner, pot",
        "watch: hot handle",
        "adult: stays at the burner",
    ),
    (
        "Add the lentils, water and salt and simmer until the lentils are soft.",
        "wait: 20 min",
        "needs: burner, pot",
        "watch: steam, hot handle",
        "adult: stays at the burner",
    ),
    (
        "Add the zucchini and the frozen peas and cook until all is hot.",
        "wait: 5 min",
        "needs: burner, pot, thermometer",
        "watch: steam, hot handle",
        "adult: checks with the thermometer",
        "heat: 165 °F",
    ),
    ("Squeeze the lemon and stir in its juice.", "needs: knife, board", "watch: sharp edge"),
    ("Spoon into bowls, with tomatoes, parsley and plain yogurt on top.", "wash: hands"),
)


def _recipe(title: str, foods: tuple[str, ...], steps: tuple[tuple[str, ...], ...]) -> str:
    lines = ["---", f"title: {title}", "place: Lima, Peru", "country: PE", "serves: 4"]
    lines += ["ingredients:", *(f"  - {food}" for food in foods), "---", "", "A dish to try.", ""]
    lines += ["## Steps", ""]
    number = 0
    for words, *notes in steps:
        if words.startswith("###"):
            lines += ["", words, ""]
            continue
        number += 1
        lines += [f"{number}. {words}", "    - time: 2 min", *(f"    - {note}" for note in notes)]
    return "\n".join([*lines, "", "## Talk", "", "- What did you see?", ""])


DISHES = {
    "short": _recipe(
        "Carrots", ("2 medium carrots", "1 tsp salt"), (("Grate the carrots with the salt.",),)
    ),
    "full": _recipe("Red lentils with everything that the market had", _FOODS, _STEPS),
    "long-words": _recipe(
        "Extraordinarily slow-simmered countryside vegetables",
        tuple(
            food.replace("diced", "cut into extraordinarily small, even, bite-sized cubes")
            for food in _FOODS
        ),
        tuple(
            (
                f"{words} Take all the time that it needs, look after each other, and say so. " * 2,
                *notes,
            )
            if index
            else (words, *notes)
            for index, (words, *notes) in enumerate(_STEPS)
        ),
    ),
    "two-parts": _recipe(
        "Rice with a sauce",
        (
            "part: Rice",
            "1 cup rice",
            "2 cups water",
            "part: Sauce",
            "1/2 cup plain yogurt",
            "1 tsp salt",
        ),
        (
            ("### The rice",),
            (
                "Simmer the rice in the water until it is soft.",
                "wait: 15 min",
                "needs: burner, pot",
                "watch: steam, hot handle",
                "adult: stays at the burner",
            ),
            ("### The sauce",),
            ("Stir the salt into the plain yogurt.", "watch: mind the drips, wet floor"),
        ),
    ),
}
"""By the name of each file. The long one repeats its words, so that no opening can hold it."""


def write_dishes(folder: Path, paper: str) -> Path:
    """Writes a class with all of them below `folder`."""
    sessions = "".join(f"  - {{dishes: [{key}]}}\n" for key in DISHES)
    files = {
        "class.yaml": CLASS.replace("PAPER", paper).replace("  - {dishes: [rice]}\n", sessions),
        "words.yaml": "dice: {meaning: to cut into small cubes}\n",
        **{f"recipes/{key}.md": text for key, text in DISHES.items()},
    }
    for name, text in files.items():
        path = folder / "content" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return folder
