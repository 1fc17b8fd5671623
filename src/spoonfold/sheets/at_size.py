"""The words of a step where it is made at another size than it was written for.

“Put 5 cups of the water in the pot” is true for the recipe's own size alone. A link that says an
amount says the measured one instead; “half the oil” stays true at every size. Where a sheet
shows several sizes at once, such a link says the ingredient alone: the amounts stand beside.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from spoonfold.language.amounts import amount_of
from spoonfold.language.texts import Texts
from spoonfold.model.pantry import Pantry
from spoonfold.model.prose import Emphasis, Explained, Inline, Link, Text, plain
from spoonfold.plan.amounts.scale import ScaledUse
from spoonfold.quantity.unit import unit_named
from spoonfold.sheets.amounts import ingredient_name


def at_size(
    text: tuple[Inline, ...], uses: Sequence[ScaledUse], pantry: Pantry, texts: Texts
) -> tuple[Inline, ...]:
    """The words of a step with every amount in its links as the step really takes it."""

    def says(use: ScaledUse) -> str:
        shown = use.measured.shown if use.measured else ()
        ingredient = use.use.ingredient
        name = ingredient_name(ingredient, shown, pantry.find(ingredient.name), texts)
        return amount_of(shown, name, texts)

    return _with(text, uses, says)


def at_any_size(text: tuple[Inline, ...], uses: Sequence[ScaledUse]) -> tuple[Inline, ...]:
    """The words of a step without the amounts in its links."""
    return _with(text, uses, lambda use: use.use.ingredient.said)


def _with(
    text: tuple[Inline, ...], uses: Sequence[ScaledUse], says: Callable[[ScaledUse], str]
) -> tuple[Inline, ...]:
    return tuple(_link_with(child, uses, says) for child in text)


def _link_with(
    child: Inline, uses: Sequence[ScaledUse], says: Callable[[ScaledUse], str]
) -> Inline:
    match child:
        case Emphasis(children, strong):
            return Emphasis(_with(children, uses, says), strong)
        case Explained(children, term):
            return Explained(_with(children, uses, says), term)
        case Link(children, address, _, place) if address.startswith("#"):
            use = next((each for each in uses if each.use.place == place), None)
            if use is None or use.measured is None or not says_amount(plain(children)):
                return child
            return Text(says(use), place)
        case _:
            return child


def says_amount(words: str) -> bool:
    """Whether words hold a number or a unit: `5 cups of the water`, `the last cup`."""
    return any(letter.isnumeric() for letter in words) or any(
        unit_named(word.strip(".,;:()").casefold()) is not None for word in words.split()
    )
