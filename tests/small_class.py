"""A class of one dish that has everything a printed sheet must carry."""

from __future__ import annotations

from pathlib import Path

CLASS = """\
name: Tuesday Pan
place: Corner Hall
first day: 2027-09-14
starts: "15:00"
minutes: 60
fixed: {arrive: 5, talk: 5, eat: 10, clean up: 5}
ages: 9-12
tables: [4]
helpers: 1
measuring: {cups: [1, 1/2, 1/3, 1/4], tablespoon: 1, teaspoons: [1, 1/2, 1/4]}
equipment: {burner: 1, pot: 1, knife: 4, board: 4}
households: [2, 4]
languages: [en]
paper: PAPER
sessions:
  - {dishes: [rice]}
"""

RICE = """\
---
title: Rice with carrot
place: Lima, Peru
country: PE
serves: 4
ingredients:
  - 1 cup rice, rinsed
  - 2 cups water
  - 1 medium carrot
  - 1 tsp salt
words: [dice]
---

Rice as it is eaten every day.

## Steps

1. Dice the carrot.
    - time: 3 min
    - needs: knife, board
    - watch: sharp edge
2. Boil the rice in the water with the salt.
    - time: 3 min
    - wait: 15 min
    - needs: burner, pot
    - watch: boiling water, steam, hot handle
    - adult: stays at the burner
3. Dice an end of the carrot for the top, and lift the lid.
    - time: 1 min
    - after: 1, 2
    - needs: knife, board
    - watch: sharp edge, steam
    - adult: lifts the lid; faces stay back

## Talk

- What did the rice do?
"""

WORDS = """\
dice:
  say: DYSS
  meaning: to cut into small, even cubes
"""


def write_small_class(folder: Path, paper: str = "letter", title: str = "Rice with carrot") -> Path:
    """Writes the class below `folder`, on that paper and with that title of its dish."""
    files = {
        "class.yaml": CLASS.replace("PAPER", paper),
        "recipes/rice.md": RICE.replace("Rice with carrot", title),
        "words.yaml": WORDS,
    }
    for name, text in files.items():
        path = folder / "content" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return folder
