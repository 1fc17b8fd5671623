"""A class folder in which every file is there and every key is given, without an error."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

CLASS = """\
name: Tiny Table
place: The Small Hall
site: https://example.org/tiny/
first day: 2027-09-18
every: two weeks
not on: [2027-10-02]
starts: "10:00"
minutes: 100
fixed: {arrive: 10, talk: 10, eat: 15, clean up: 10}
ages: 9-12
pace: 2
tables: [4, 4]
helpers: 2
helpers eat: yes
guests: 2
portion: 1
measuring: {cups: [1, 1/2, 1/3, 1/4], tablespoon: 1, teaspoons: [1, 1/2, 1/4], jug: 2 cups, sets: 2}
equipment: {burner: 2, pot: 2, knife: 8, board: 8, mixing bowl: 4, cooler: 1}
kept: {site: [burner], home: [cooler], helpers: [pot]}
watts: {burner: 1500}
circuits: 2
households: [2, 4]
languages: [en, es]
paper: a4
budget: 4.50
needs:
  - {table: 2, avoid: [milk]}
  - {avoid: peanut, keep out of the room: yes}
from home: 30 min
hot days: no
sessions:
  - {dishes: [rice], lesson: soap, note: bring the big spoon}
  - {dishes: [rice], date: 2027-11-06, tables: [3, 1]}
accept:
  - {warning: idle-hands, because: they wash up meanwhile}
"""

RICE = """\
---
title: Rice with carrot
place: Lima, Peru
country: [PE, CL]
serves: 4
portion: 1 bowl
pan: 9 x 13 in
ingredients:
  - part: Rice
  - 1 cup rice, rinsed
  - 2 cups water
  - 1 tbsp butter
  - part: Top
  - 1 medium carrot, diced
  - salt, to taste
swaps:
  - {instead of: butter, use: 1 tbsp olive oil, because: milk}
words: [dice]
accept:
  - {warning: no-time, because: it takes a moment}
---

Rice as it is eaten *every* day, from [a page](https://example.org/rice "a title").

## Steps

### Rice

1. Boil the rice in [the water](#water "2 cups") with the butter.
    - time: 3 min
    - class time: 5 min
    - wait: 15 min aside
    - for: class
    - hands: 2
    - needs: burner, pot
    - watch: boiling water, hot handle, steam, hot oil, cord, allergen swap
    - adult: stays at the burner
    - easier: an adult pours

### Top

2. Dice the carrot.
    - time: 3 min
    - after: none
    - skills: claw grip
    - needs: knife, board x2
    - watch: sharp edge
    - wash: hands, board
3. Lay it on the rice, with salt.
    - after: 1, 2
    - holds: 4 portions

## Culture

It is eaten everywhere.

- at noon
- in the evening

## Talk

> Who ate rice today?

## Science

Starch.

## At home

Enjoy.
"""

RICE_ES = """\
---
title: Arroz con zanahoria
portion: 1 plato
ingredients:
  - part: Arroz
  - arroz, lavado
  - agua
  - mantequilla
  - part: Encima
  - zanahoria, en cubitos
  - sal, al gusto
read by: draft
---

El arroz de cada día.

## Pasos

### Arroz

1. Hervir el arroz en [el agua](#water "2 cups") con la mantequilla.
    - adult: se queda junto a la hornilla
    - easier: vierte un adulto

### Encima

2. Cortar la zanahoria en cubitos.
3. Ponerla encima, con sal.

## Cultura

Se come en todas partes.

## Conversación

¿Quién ha comido arroz hoy?

## Ciencia

Almidón.

## En casa

Buen provecho.
"""

PANTRY = """\
rice: {packages: [{size: 2 lb, price: "1.89"}], corner: a small bag of rice}
carrot: {packages: [{size: 1 medium, price: "0.20"}]}
butter: {packages: [{size: 1 lb, price: "3.90"}]}
purple corn:
  plural: purple corn
  also: [dark corn]
  names: {es: [maíz morado]}
  usda: "11167"
  weights:
    - {measure: 1 cup, form: whole, grams: 160, source: weighed by me}
  edible: {share: 0.9, source: from memory}
  pieces: {kernels: {amount: 1 cup, source: from memory}}
  section: dry goods
  colour: blue-purple
  group: starchy
  allergens: []
  check label: [gluten]
  tags: [plant]
  exactness: exact
  divides: half
  processing: 1
  keeps: {cupboard: 90 days, source: from memory}
  opened: {cupboard: 30 days}
  packages: [{size: 1 lb, price: "2.10"}]
  corner: yellow corn
"""

WORDS = """\
dice: {say: DYSS, meaning: to cut into small cubes, from: a game, forms: [dices, diced]}
"""

SKILLS = """\
wash hands: {how: Wet and rub., by the piece: no}
claw grip:
  how: Curl the fingers under.
  caution: Stop when you are tired.
  short: Fingertips back
  after: [wash hands]
  by the piece: yes
"""

LESSON = """\
---
title: Soap
minutes: 10
aims: [Each child washes hands.]
sources: [Common practice.]
---

## Say

Soap lifts it off.

- Rub.
"""

AFTER = """\
---
came: 7
minutes: {rice: 49 min}
keep: [The tasting.]
change: [Two pots.]
---

Two pots next time.

## For families

It was *good*.
"""

CHILDREN = "[Ada, Bo, Cem, Dee, Eva, Fay, Gil, Hal]\n"

FILES: Mapping[str, str] = {
    "recipes/rice.md": RICE,
    "class.yaml": CLASS,
    "pantry.yaml": PANTRY,
    "recipes/rice.es.md": RICE_ES,
    "words.yaml": WORDS,
    "skills.yaml": SKILLS,
    "lessons/soap.md": LESSON,
    "after/2027-09-18.md": AFTER,
    "private/children.yaml": CHILDREN,
}
"""By name below `content/`; the first is the richest."""


def write_full_class(folder: Path, changes: Mapping[str, str | bytes] | None = None) -> Path:
    """Writes the class below `folder`; `changes` replaces or adds files of `content/`."""
    for name, text in {**FILES, **(changes or {})}.items():
        path = folder / "content" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return folder
