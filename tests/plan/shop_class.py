"""A class of rolls, eggs and oil, small enough to reckon by hand."""

from __future__ import annotations

from collections.abc import Mapping

CLASS = """\
name: Tiny Table
place: The Small Hall
first day: 2027-09-18
every: week
starts: "10:00"
minutes: 60
fixed: {arrive: 5, talk: 5, eat: 10, clean up: 5}
ages: 9-12
tables: [4, 4]
helpers: 2
helpers eat: no
measuring: {cups: [1, 1/2, 1/3, 1/4], tablespoon: 1, teaspoons: [1, 1/2, 1/4]}
equipment: {mixing bowl: 2, spoon: 2}
households: [4]
languages: [en]
budget: 3
needs:
  - {table: 2, avoid: [milk]}
sessions:
  - {dishes: [rolls]}
  - {dishes: [rolls, salad]}
  - {dishes: [rolls]}
"""

ROLLS = """\
---
title: Rolls
place: Lima, Peru
country: PE
serves: 4
ingredients:
  - 10 rice papers
  - 1/2 cup plain yogurt
  - 4 tbsp olive oil
  - moon dust, to taste
swaps:
  - instead of: plain yogurt
    use: 1/2 cup coconut yogurt
    because: milk
  - instead of: olive oil
    use: 4 tbsp sunflower oil
    because: price
---

Rolls to dip.

## Steps

1. Fill the rice papers with the plain yogurt, olive oil and moon dust.
    - time: 5 min
    - needs: mixing bowl, spoon
    - watch: allergen swap
"""

SALAD = """\
---
title: Salad
place: Lima, Peru
country: PE
serves: 4
ingredients:
  - 2 large onions, diced
  - 2 tbsp olive oil
---

Onions in oil.

## Steps

1. Mix the onions with the olive oil.
    - time: 5 min
    - needs: mixing bowl, spoon
"""

PANTRY = """\
moon dust: {allergens: [], check label: []}
rice paper: {packages: [{size: "25", price: "2.50"}]}
plain yogurt: {packages: [{size: 32 oz, price: "3.00"}]}
coconut yogurt: {packages: [{size: 24 oz, price: "4.00"}]}
olive oil: {packages: [{size: 16 fl oz, price: "6.00"}]}
sunflower oil: {packages: [{size: 8 fl oz, price: "1.00"}]}
onion: {packages: [{size: 1 large, price: "0.50"}, {size: 3 lb, price: "1.70"}]}
"""

FILES: Mapping[str, str | None] = {
    "class.yaml": CLASS,
    "pantry.yaml": PANTRY,
    "recipes/rice.md": None,
    "recipes/rolls.md": ROLLS,
    "recipes/salad.md": SALAD,
}
