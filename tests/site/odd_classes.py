"""Small classes with content that a layout doesn't expect."""

from __future__ import annotations

from collections.abc import Mapping

from tiny_class import CLASS, RICE

_LONG = "Donaudampfschifffahrtsgesellschaftskapitänsmützenreis"

_BUSY = f"""\
---
title: {_LONG} & <friends>
place: Llanfairpwllgwyngyllgogerychwyrndrobwllllantysiliogogogoch, Wales
country: GB
serves: 4
portion: 1 bowl
oven: 400 °F
ingredients:
  - 1 3/4 cups sugar, sifted-and-sifted-and-sifted-again-until-it-is-fine
  - 7 tbsp olive oil
  - 1 1/4 tsp salt
  - part: {_LONG}
  - 2 1/2 cups water
  - 3 medium carrots
words: [whisk]
---

Whisking is {_LONG.lower()} work, says nobody & everybody.

- first "point"
- second point

## Steps

### Before

1. Whisk the sugar, salt and olive oil.
    - time: 3 min
    - watch: wet floor
    - wash: hands

### After

2. Grate the carrots, add the water and bake.
    - time: 3 min
    - wait: 20 min
    - needs: oven shelf, thermometer
    - watch: grater edge, hot oven, steam
    - adult: sets the oven
    - heat: 165 °F

## Culture

One [page](https://example.org/a?b=1&c=2) about *it*.

### A heading inside

## Talk

- Why?

## Science

Because.

## At home

Enjoy.
"""

_WORDS = """\
whisk:
  meaning: to beat quickly with wires
  say: WISK
  from: Norse
  forms: [whisks, whisking, whisked]
"""

_BARE = """\
---
title: Rice
place: Lima, Peru
country: PE
serves: 4
ingredients:
  - 1 cup rice
  - 2 cups water
---

## Steps

1. Boil the rice in the water.
"""

_MANY = "households: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]"


def _class(*changes: tuple[str, str]) -> str:
    text = CLASS
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return text


ODD: Mapping[str, Mapping[str, str]] = {
    # Long words, twelve sizes, headings and lists where prose may have them.
    "busy": {
        "class.yaml": _class(
            ("households: [2, 4]", _MANY),
            ("[rice]", "[busy, rice]"),
            ("board: 4}", "board: 4, thermometer: 1}"),
            ("name: Tiny Table", f"name: {_LONG}"),
        ),
        "recipes/busy.md": _BUSY,
        "words.yaml": _WORDS,
    },
    # One household size, and nothing that a recipe may leave out.
    "bare": {
        "class.yaml": _class(("households: [2, 4]", "households: [3]")),
        "recipes/rice.md": _BARE,
    },
    # Written from right to left.
    "arabic": {
        "class.yaml": _class(
            ("languages: [en]", "languages: [ar]"), ("name: Tiny Table", "name: مائدة السبت")
        ),
        "recipes/rice.md": RICE.replace("title: Plain rice", "title: أرز أبيض"),
    },
}
