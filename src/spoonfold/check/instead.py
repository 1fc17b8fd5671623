"""What could replace a food, for hints: usual replacements, as far as the pantry has them.

Common practice, from memory. A suggestion is made only where the pantry names nothing of
what is to be avoided, and the cook decides whether it cooks alike.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from spoonfold.model.pantry import Item, Pantry
from spoonfold.model.recipe import Ingredient, slug
from spoonfold.plan.safety.avoid import Match, findings_of, worst
from spoonfold.quantity.show import show_amount
from spoonfold.quantity.unit import PIECE

# Measure for measure, in about the same job; the usual one first.
_USUAL: Mapping[str, tuple[str, ...]] = {
    "plain yogurt": ("coconut yogurt", "plain soy yogurt"),
    "greek yogurt": ("coconut yogurt", "plain soy yogurt"),
    "sour cream": ("coconut yogurt", "plain soy yogurt"),
    "milk": ("oat milk", "soy milk", "rice milk"),
    "reduced-fat milk": ("oat milk", "soy milk", "rice milk"),
    "skim milk": ("oat milk", "soy milk", "rice milk"),
    "buttermilk": ("oat milk", "soy milk"),
    "heavy cream": ("coconut cream",),
    "half-and-half": ("coconut milk",),
    "butter": ("olive oil", "sunflower oil"),
    "salted butter": ("olive oil", "sunflower oil"),
    "ghee": ("sunflower oil", "olive oil"),
    "margarine": ("olive oil", "sunflower oil"),
    "paneer": ("firm tofu", "chickpea"),
    "sesame oil": ("sunflower oil", "olive oil"),
    "peanut oil": ("sunflower oil", "canola oil"),
    "vegetable oil": ("sunflower oil", "canola oil"),
    "tahini": ("sunflower seed butter",),
    "peanut butter": ("sunflower seed butter",),
    "almond butter": ("sunflower seed butter",),
    "sesame seed": ("sunflower seed", "pumpkin seed"),
    "peanut": ("sunflower seed", "pumpkin seed"),
    "almond": ("sunflower seed", "pumpkin seed"),
    "walnut": ("sunflower seed", "pumpkin seed"),
    "cashew": ("sunflower seed", "pumpkin seed"),
    "soy sauce": ("tamari", "coconut aminos"),
    "reduced-sodium soy sauce": ("tamari", "coconut aminos"),
    "fish sauce": ("coconut aminos", "soy sauce"),
    "oyster sauce": ("hoisin sauce", "coconut aminos"),
    "worcestershire sauce": ("balsamic vinegar", "coconut aminos"),
    "firm tofu": ("chickpea",),
    "couscous": ("instant rice", "quinoa", "millet"),
    "bulgur": ("quinoa", "millet"),
    "all-purpose flour": ("rice flour",),
    "whole wheat flour": ("rice flour",),
    "flour tortilla": ("corn tortilla",),
    "panko": ("cornmeal",),
    "dry breadcrumbs": ("cornmeal",),
    "egg noodle": ("rice noodle",),
    "spaghetti": ("rice noodle",),
    "udon noodle": ("rice noodle",),
    "soba noodle": ("rice noodle",),
    "pearl barley": ("brown rice", "quinoa"),
    "rolled oats": ("quinoa",),
    "chicken broth": ("vegetable broth", "water"),
    "beef broth": ("vegetable broth", "water"),
    "fish stock": ("vegetable broth", "water"),
    "vegetable broth": ("water",),
    "lard": ("coconut oil", "sunflower oil"),
    "gelatin powder": ("agar powder",),
    "honey": ("maple syrup", "agave syrup"),
    "ground turkey": ("firm tofu", "chickpea"),
    "ground beef": ("firm tofu", "chickpea"),
    "ground pork": ("ground turkey", "firm tofu", "chickpea"),
    "ground chicken": ("firm tofu", "chickpea"),
    "mirin": ("apple juice",),
    "rice wine": ("apple juice",),
    "celery": ("fennel", "carrot"),
}


def suggested(item: Item | None, avoided: Iterable[str], pantry: Pantry) -> Item | None:
    """A usual replacement without anything to be avoided; the one with the least to read."""
    if item is None:
        return None
    words = tuple(avoided)
    found = []
    for name in _USUAL.get(item.name, ()):
        candidate = pantry.find(name)
        findings = findings_of(candidate, words, pantry)
        if candidate is not None and worst(findings) not in (Match.CERTAIN, Match.UNKNOWN):
            found.append((len(findings), candidate))
    return min(found, key=lambda each: each[0])[1] if found else None


def swap_line(ingredient: Ingredient, because: str, avoided: Iterable[str], pantry: Pantry) -> str:
    """An entry for `swaps:` to paste, or one with a blank to fill where nothing is usual."""
    item = suggested(pantry.find(ingredient.name), avoided, pantry)
    listed = ingredient.amount
    name = "…" if item is None else item.name
    if item is not None and listed is not None and listed.unit == PIECE and listed.low > 1:
        name = item.plural
    use = f"{show_amount(listed)} {name}" if listed else f"{name}, {ingredient.as_needed}"
    what = ingredient.name if ingredient.key == slug(ingredient.name) else ingredient.key
    return f'- {{instead of: "{what}", use: "{use}", because: {because}}}'
