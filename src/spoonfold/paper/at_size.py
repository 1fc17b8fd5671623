"""The words of a step where it is made at another size than it was written for.

“Put 5 cups of the water in the pot” is true for the recipe's own size alone. A link that says an
amount says the measured one instead; “half the oil” stays true at every size.
"""

from __future__ import annotations

from collections.abc import Sequence

from spoonfold.language.amounts import amounts_text
from spoonfold.language.texts import Texts
from spoonfold.model.pantry import Pantry
from spoonfold.model.prose import Emphasis, Explained, Inline, Link, Text, plain
from spoonfold.paper.amounts import ingredient_name
from spoonfold.plan.scale import ScaledUse
from spoonfold.quantity.unit import unit_named


def at_size(
    text: tuple[Inline, ...], uses: Sequence[ScaledUse], pantry: Pantry, texts: Texts
) -> tuple[Inline, ...]:
    """The words of a step with every amount in its links as the step really takes it."""
    return tuple(_at_size(child, uses, pantry, texts) for child in text)


def _at_size(
    child: Inline, uses: Sequence[ScaledUse], pantry: Pantry, texts: Texts
) -> Inline:
    match child:
        case Emphasis(children, strong):
            return Emphasis(at_size(children, uses, pantry, texts), strong)
        case Explained(children, term):
            return Explained(at_size(children, uses, pantry, texts), term)
        case Link(children, address, _, place) if address.startswith("#"):
            use = next((each for each in uses if each.use.place == place), None)
            if use is None or use.measured is None or not says_amount(plain(children)):
                return child
            ingredient, shown = use.use.ingredient, use.measured.shown
            name = ingredient_name(ingredient, shown, pantry.find(ingredient.name))
            return Text(f"{amounts_text(shown, texts)} {name}", place)
        case _:
            return child


def says_amount(words: str) -> bool:
    """Whether words hold a number or a unit: `5 cups of the water`, `the last cup`."""
    return any(letter.isnumeric() for letter in words) or any(
        unit_named(word.strip(".,;:()").casefold()) is not None for word in words.split())
