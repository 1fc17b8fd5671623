"""What a dish looks like from above: its foods in their true shares by weight.

A drawing for a family, worked out from the recipe: what is cooked together lies in the middle,
what is put on or beside it around that. How it is cut is read from the list (English words, from
memory; a food whose cut isn't known is in pieces). Water, oil, salt and spices aren't seen.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.language.texts import Texts
from spoonfold.model.pantry import Item, Pantry
from spoonfold.model.recipe import Ingredient, Recipe
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.amounts.weights import weights_of
from spoonfold.plan.safety.words import on_heat

_LEAST = Fraction(1, 100)
"""What is less than a hundredth of the dish isn't seen."""
_NAMED = 6
"""So many foods are told to who doesn't see the plate."""
_MEATS = frozenset({"meat", "poultry", "beef", "pork", "lamb", "seafood", "fish"})
_CUTS: Mapping[str, frozenset[str]] = {
    "shreds": frozenset({"shredded", "grated", "strips", "julienned", "ribbons"}),
    "sticks": frozenset({"stick", "sticks", "wedges", "batons"}),
    "rounds": frozenset({"sliced", "slices", "rings", "rounds", "moons"}),
    "chop": frozenset({"chopped", "minced", "picked", "torn"}),
    "dice": frozenset({"diced", "cubes", "cubed", "cut"}),
}
_BY_NAME: Mapping[str, frozenset[str]] = {
    "noodles": frozenset({"noodle", "noodles", "vermicelli", "spaghetti", "pasta"}),
    "sheets": frozenset({"tortilla", "tortillas", "paper", "bread", "pita", "wrapper"}),
    "grains": frozenset(
        {"rice", "couscous", "bulgur", "quinoa", "oats", "lentil", "lentils", "flour", "meal"}
    ),
    "beans": frozenset(
        {"bean", "beans", "chickpea", "chickpeas", "pea", "peas", "corn", "nut", "nuts"}
    ),
    "leaf": frozenset({"lettuce", "spinach", "kale", "chard"}),
}
_COLOURS: Mapping[str, str] = {
    "black": "dark",
    "brown": "brown",
    "red": "red",
    "green": "green",
    "yellow": "yellow-orange",
    "tomato": "red",
    "ketchup": "red",
}
"""Of foods that are no fruit or vegetable, by a word of their names."""


@dataclass(frozen=True, slots=True)
class Food:
    """One food on the plate."""

    colour: str
    """One of the five of `teach/groups`, or `meat`, `brown`, `pale`, `dark`."""
    cut: str
    share: float
    """Of the part of the plate that it lies in."""


@dataclass(frozen=True, slots=True)
class PlateView:
    """What is drawn."""

    seed: str
    """The same dish is drawn the same way every time."""
    middle: tuple[Food, ...]
    """Cooked together."""
    around: tuple[Food, ...]
    middle_share: float
    """Of the whole dish."""
    words: str
    """The same for who doesn't see it."""


def plate_view(recipe: Recipe, uses: Uses, pantry: Pantry, texts: Texts) -> PlateView | None:
    """The plate of a recipe; None where nothing that is seen of it has a known weight."""
    hot = _cooked_at(recipe)
    seen = [
        (each.ingredient, each.item, each.grams)
        for each in weights_of(recipe, uses, pantry)
        if each.item is not None and each.grams and is_seen(each.item)
    ]
    whole = sum((grams for _, _, grams in seen), Fraction(0))
    if not whole:
        return None
    foods: dict[bool, dict[tuple[str, str], Fraction]] = {True: {}, False: {}}
    by_name: dict[str, Fraction] = {}
    for ingredient, item, grams in seen:
        into = foods[any(use.step in hot for use in uses.of(ingredient))]
        kind = (colour_of(item), cut_of(ingredient, item))
        into[kind] = into.get(kind, Fraction(0)) + grams
        by_name[ingredient.said] = by_name.get(ingredient.said, Fraction(0)) + grams
    heaviest = sorted(by_name.items(), key=lambda each: -each[1])[:_NAMED]
    return PlateView(
        seed=recipe.key,
        middle=tuple(_foods(foods[True], whole)),
        around=tuple(_foods(foods[False], whole)),
        middle_share=float(sum(foods[True].values(), Fraction(0)) / whole),
        words=texts.say(
            "The plate from above, by weight: {foods}.",
            foods=", ".join(
                f"{name} {texts.say('{percent} %', percent=round(100 * grams / whole))}"
                for name, grams in heaviest
            ),
        ),
    )


def is_seen(item: Item) -> bool:
    """Not what only goes into it: water, oil, sugar, salt, leavening, spice."""
    is_food = item.group not in (None, "fat")
    return item.colour is not None or is_food or item.name in _COLOURS


def _foods(grams: Mapping[tuple[str, str], Fraction], whole: Fraction) -> Iterator[Food]:
    """The heaviest first."""
    seen = {kind: mass for kind, mass in grams.items() if mass / whole >= _LEAST}
    total = sum(seen.values(), Fraction(0))
    for (colour, cut), mass in sorted(seen.items(), key=lambda each: (-each[1], each[0])):
        yield Food(colour, cut, float(mass / total))


def _cooked_at(recipe: Recipe) -> frozenset[int]:
    """The steps that cook, and all that lead to them."""
    after = {step.number: step.follows for step in recipe.steps}
    found: set[int] = set()
    todo = [step.number for step in recipe.steps if on_heat(step)]
    while todo:
        number = todo.pop()
        if number in after and number not in found:
            found.add(number)
            todo += after[number]
    return frozenset(found)


def colour_of(item: Item) -> str:
    """One of the tones of a drawn food."""
    if item.colour is not None:
        return item.colour
    if item.tags & _MEATS:
        return "meat"
    if "egg" in item.allergens:
        return "yellow-orange"
    words = item.name.casefold().split()
    return next((_COLOURS[word] for word in words if word in _COLOURS), "pale")


def cut_of(ingredient: Ingredient, item: Item) -> str:
    """The shape of its pieces."""
    words = (ingredient.preparation or "").casefold().replace(",", " ").split()
    named = item.name.casefold().split()
    for cut, called in _CUTS.items():
        if not called.isdisjoint(words):
            return cut
    for cut, called in _BY_NAME.items():
        if not called.isdisjoint(named):
            return cut
    if item.liquid or "milk" in item.allergens:
        return "pool"
    if "egg" in item.allergens:
        return "curds"
    return "patties" if item.tags & _MEATS else "dice"
