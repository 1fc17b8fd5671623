"""The smallest class folder that is right in every way, for tests to bend."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

CLASS = """\
name: Tiny Table
place: The Small Hall
first day: 2027-09-18
starts: "10:00"
minutes: 60
fixed: {arrive: 5, talk: 5, eat: 10, clean up: 5}
ages: 9-12
tables: [4]
helpers: 1
measuring: {cups: [1, 1/2, 1/3, 1/4], tablespoon: 1, teaspoons: [1, 1/2, 1/4]}
equipment: {burner: 1, pot: 1, knife: 4, board: 4}
households: [2, 4]
languages: [en]
sessions:
  - {dishes: [rice]}
"""

RICE = """\
---
title: Plain rice
place: Lima, Peru
country: PE
serves: 4
ingredients:
  - 1 cup rice, rinsed
  - 2 cups water
  - salt, to taste
---

Rice as it is eaten every day.

## Steps

1. Boil the rice in the water with salt.
    - time: 3 min
    - wait: 15 min
    - needs: burner, pot
    - watch: boiling water, hot handle, steam
    - adult: stays at the burner
"""

FILES: Mapping[str, str] = {"class.yaml": CLASS, "recipes/rice.md": RICE}


def write_class(folder: Path, changes: Mapping[str, str | bytes | None] | None = None) -> Path:
    """Writes the tiny class below `folder`; `changes` replaces, adds or (None) leaves out files
    of `content/`."""
    for name, text in {**FILES, **(changes or {})}.items():
        if text is None:
            continue
        path = folder / "content" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return folder
