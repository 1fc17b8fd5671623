"""Classes of every shape, made from a seed: how many children sit at how many tables, with what
they measure, what they avoid, what they cook."""

from __future__ import annotations

import random
import shutil
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]

SALAD = """\
---
title: Chickpea salad with lemon
place: Nicosia, Cyprus
country: CY
serves: 4
portion: 1 cup
ingredients:
  - 2 cans (15 oz each) chickpeas
  - 1 medium cucumber, diced
  - 2 medium tomatoes, diced
  - 1/2 cup feta cheese, crumbled
  - 1/3 cup parsley, chopped
  - 1 lemon
  - 2 tbsp olive oil
  - 1/2 tsp salt
swaps:
  - instead of: feta cheese
    use: 1/2 cup green olives, pitted
    because: milk
---

A salad out of cans and what is fresh.

## Steps

1. Open the cans of chickpeas, tip them into a colander and rinse them.
    - time: 3 min
2. Dice the cucumber and the tomatoes.
    - time: 4 min
    - hands: 2
    - after: none
3. Chop the parsley.
    - time: 2 min
    - after: none
4. Squeeze the lemon into a mixing bowl. Add the olive oil and the salt, and whisk.
    - time: 2 min
    - after: none
5. Add the chickpeas, cucumber, tomatoes, parsley and the feta cheese. Toss gently.
    - time: 2 min
    - after: 1, 2, 3, 4

## Talk

- Which food came from farthest away?
"""

SOUP = """\
---
title: Potato and leek soup
place: Cardiff, Wales
country: GB
serves: 4
portion: 1 bowl
ingredients:
  - 2 leeks, sliced
  - 3 medium potatoes, diced
  - 1 tbsp butter
  - 4 cups water
  - 1 tsp salt
  - 1/2 cup whole milk
swaps:
  - instead of: butter
    use: 1 tbsp sunflower oil
    because: milk
  - instead of: whole milk
    use: 1/2 cup oat milk
    because: milk
---

A soup of what is in the cellar.

## Steps

1. Wash the leeks well and slice them.
    - time: 4 min
    - needs: sink, knife, board
2. Peel and dice the potatoes.
    - time: 6 min
    - hands: 2
    - after: none
    - needs: peeler, knife, board
3. Melt the butter in a pot and soften the leeks in it.
    - time: 5 min
    - after: 1, 2
    - needs: burner, pot, wooden spoon
4. Add the potatoes, the water and the salt. Bring to the boil, then simmer until the potatoes
   are soft.
    - time: 3 min
    - wait: 20 min
    - needs: burner, pot
5. Stir in the milk and heat the soup again, but don't let it boil. An adult ladles it.
    - time: 3 min
    - needs: burner, pot, ladle

## Talk

- What makes it thick?
"""

OATS = """\
---
title: Apple and oat bowl
place: Perth, Scotland
country: GB
serves: 4
portion: 1 bowl
ingredients:
  - 2 cups rolled oats
  - 3 medium apples
  - 1 cup plain yogurt
  - 1/4 cup raisins
  - 2 tbsp honey
  - 1/4 tsp ground cinnamon
  - 1/4 cup almonds, chopped
swaps:
  - instead of: plain yogurt
    use: 1 cup coconut yogurt
    because: milk
  - instead of: almonds
    use: 1/4 cup pumpkin seeds
    because: tree nut
---

A breakfast that nobody cooks.

## Steps

1. Grate the apples into a mixing bowl.
    - time: 4 min
    - hands: 2
    - needs: grater, mixing bowl
2. Stir in the rolled oats, plain yogurt, raisins, honey and cinnamon.
    - time: 3 min
    - needs: mixing bowl, wooden spoon
3. Chop the almonds and scatter them on top.
    - time: 2 min
    - needs: knife, board

## Talk

- What would you put in?
"""

OWN = {"chickpea-salad": SALAD, "leek-soup": SOUP, "oat-bowl": OATS}


_CUSTOMARY = "{cups: [1, 1/2, 1/3, 1/4], tablespoon: 1, teaspoons: [1, 1/2, 1/4], sets: 2}"


@dataclass(frozen=True, slots=True)
class Shape:
    """What a class must have; the seed chooses the rest."""

    name: str
    tables: tuple[int, ...]
    dishes: tuple[tuple[str, ...], ...]
    """By session."""
    avoids: tuple[tuple[int, str], ...] = ()
    """A table and what one there avoids."""
    measuring: str = _CUSTOMARY


_METRIC = "{cups: [250 ml, 125 ml, 60 ml], tablespoon: 15 ml, teaspoons: [5 ml, 2 ml], jug: 500 ml}"

SHAPES: Sequence[Shape] = (
    Shape("three-children", (3,), (("chickpea-salad",),), ((1, "milk"),)),
    Shape("metric", (3, 2), (("egg-fried-rice",),), ((2, "sesame"),), _METRIC),
    Shape("two-needs", (4, 4), (("oat-bowl",),), ((2, "milk"), (2, "tree nut"))),
    Shape("two-dishes", (5, 1), (("leek-soup", "chickpea-salad"),), ((2, "milk"),)),
    Shape("fifteen-children", (3, 3, 3, 3, 3), (("oat-bowl",),), ((4, "milk"),)),
)
"""Each needs what the others don't: one table alone, metric tools, two needs at one table, two
dishes on a day and a child alone, five tables."""


def shape_of(seed: int) -> Shape:
    """Another class, of any of these kinds, by its seed."""
    chance = random.Random(seed)
    tables = tuple(chance.randint(1, 5) for _ in range(chance.randint(1, 5)))
    while sum(tables) > 15:
        tables = tables[:-1]
    dishes = chance.sample(
        [*OWN, "egg-fried-rice", "turkey-kofta", "red-lentil-soup"], chance.choice((1, 1, 2))
    )
    table = chance.randint(1, len(tables))
    avoids = {
        "egg-fried-rice": "sesame",
        "turkey-kofta": "meat",
        "red-lentil-soup": "",
        "oat-bowl": "tree nut",
    }
    own = dict.fromkeys(word for dish in dishes if (word := avoids.get(dish, "milk")))
    return Shape(
        f"seed-{seed}",
        tables,
        (tuple(dishes),),
        tuple((table, word) for word in own),
        chance.choice((_METRIC, _CUSTOMARY)),
    )


def write_generated(folder: Path, shape: Shape, seed: int) -> Path:
    """Writes the class below `folder`; the seed chooses helpers, minutes and the size of a
    portion."""
    chance = random.Random(seed)
    helpers = chance.randint(1, len(shape.tables) + 1)
    portion = chance.choice(("1", "1", "1/2"))
    eat = chance.choice(("yes", "no"))
    guests = chance.choice((0, 0, 1, 7))
    children = sum(shape.tables)
    needs = "".join(f"\n  - {{table: {table}, avoid: [{word}]}}" for table, word in shape.avoids)
    content = folder / "content"
    (content / "recipes").mkdir(parents=True)
    for name in {dish for dishes in shape.dishes for dish in dishes}:
        text = OWN.get(name)
        if text is None:
            text = (ROOT / f"content/recipes/{name}.md").read_text(encoding="utf-8")
        (content / f"recipes/{name}.md").write_text(text, encoding="utf-8")
    for name in ("pantry.yaml", "words.yaml", "skills.yaml"):
        shutil.copy(ROOT / "content" / name, content / name)
    sessions = "".join(f"\n  - {{dishes: [{', '.join(each)}]}}" for each in shape.dishes)
    (content / "class.yaml").write_text(
        f"""\
name: Generated Table
place: Quay Hall
first day: 2027-09-18
starts: "15:30"
minutes: 240
fixed: {{arrive: 10, talk: 10, eat: 15, clean up: 10}}
ages: 9-12
tables: [{", ".join(map(str, shape.tables))}]
helpers: {helpers}
helpers eat: {eat}
guests: {guests}
portion: {portion}
measuring: {shape.measuring}
equipment:
  {{burner: 1, oven shelf: 2, refrigerator: 1, sink: 1, cooler: 1, big pot: 2, pot: 4, skillet: 4,
  baking pan: 6, colander: {len(shape.tables)}, mixing bowl: 20, knife: {children}, board: 20,
  clean towel: 20, grater: 6, peeler: 4, can opener: 3, thermometer: 3, wooden spoon: 8,
  spatula: 6, whisk: 6, tongs: 6, scissors: 3, ladle: 2}}
households: [4]
languages: [en]
paper: letter
needs:{needs or " []"}
sessions:{sessions}
""",
        encoding="utf-8",
    )
    return folder
