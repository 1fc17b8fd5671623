"""The lines of an ingredient list as a sheet shows them, with their amounts at every size."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.language.texts import Texts
from spoonfold.model.classroom import HOME_MEASURING
from spoonfold.model.pantry import Pantry
from spoonfold.model.recipe import Ingredient, Recipe, Swap
from spoonfold.plan.amounts.measure import kitchen_of
from spoonfold.plan.amounts.metric import metric_amounts, metric_line
from spoonfold.plan.amounts.scale import ClassScale, Scaled, line_of, scaled, scaled_use
from spoonfold.plan.amounts.uses import Use, Uses
from spoonfold.problem import Place
from spoonfold.quantity.amount import Amount
from spoonfold.sheets.amounts import AmountView, ingredient_name, line_view
from spoonfold.sheets.labels import food_label, label_words


@dataclass(frozen=True, slots=True)
class LineView:
    """An ingredient with its amount in every column."""

    key: str
    name: str
    names: tuple[str, ...]
    """The name for each size: `onion` and `onions`."""
    preparation: str
    sizes: tuple[AmountView, ...]
    for_class: tuple[AmountView, ...]
    part: str | None


@dataclass(frozen=True, slots=True)
class SwapView:
    """What to use instead, for every size."""

    instead_of: str
    names: tuple[str, ...]
    sizes: tuple[AmountView, ...]
    preparation: str
    because: str
    label: str
    """What the replacement contains and what its label must be read for."""


@dataclass(frozen=True, slots=True)
class HomeSize:
    """A recipe for one household."""

    scaled: Scaled
    metric: Mapping[Place, Amount]
    """What of it is measured in grams and milliliters, by where it is written."""


def home_sizes(
    recipe: Recipe, uses: Uses, pantry: Pantry, people: Sequence[int]
) -> tuple[HomeSize, ...]:
    """The recipe for so many people each, as a family measures it."""
    found = []
    for each in people:
        whole = scaled(recipe, uses, pantry, kitchen_of(HOME_MEASURING), Fraction(each))
        found.append(HomeSize(whole, metric_amounts(whole, pantry)))
    return tuple(found)


def lines_view(
    recipe: Recipe,
    sizes: Sequence[HomeSize],
    in_class: ClassScale | None,
    pantry: Pantry,
    texts: Texts,
) -> tuple[LineView, ...]:
    """Every line at these sizes, and for the class where its amounts are given: for tables that
    are alike once, then for all."""
    alike = {} if in_class is None else {each.portions: each for each in in_class.tables}
    views = []
    for ingredient in recipe.ingredients:
        item = pantry.find(ingredient.name)
        lines = [each.scaled.line(ingredient) for each in sizes]
        for_class = [each.line(ingredient) for each in alike.values()]
        if in_class is not None:
            for_class.append(in_class.total(ingredient))
        views.append(
            LineView(
                key=ingredient.key,
                name=ingredient.said,
                names=tuple(
                    ingredient_name(ingredient, line.amounts if line else (), item, texts)
                    for line in lines
                ),
                preparation=_preparation(ingredient, texts),
                sizes=tuple(
                    line_view(line, texts, size.metric.get(ingredient.place))
                    for line, size in zip(lines, sizes, strict=True)
                ),
                for_class=tuple(line_view(line, texts) for line in for_class),
                part=ingredient.part,
            )
        )
    return tuple(views)


def _preparation(ingredient: Ingredient, texts: Texts) -> str:
    said = ingredient.said_preparation
    if not ingredient.optional:
        return said
    optional = texts.say("optional")
    return f"{said}, {optional}" if said else optional


def swaps_view(
    recipe: Recipe, people: Sequence[int], pantry: Pantry, texts: Texts
) -> tuple[SwapView, ...]:
    """What may be used instead, for so many people at home."""
    return tuple(_swap(each, recipe, people, pantry, texts) for each in recipe.swaps)


def _swap(
    swap: Swap, recipe: Recipe, people: Sequence[int], pantry: Pantry, texts: Texts
) -> SwapView:
    use, item = swap.use, pantry.find(swap.use.name)
    whole = Use(use, 0, Fraction(1), None, use.place)
    sizes = []
    for each in people:
        taken = scaled_use(whole, each / recipe.serves, item, kitchen_of(HOME_MEASURING))
        line = line_of(use, (taken,))
        metric = metric_line(line, item)
        sizes.append((line.amounts, line_view(line, texts, metric.amount if metric else None)))
    return SwapView(
        instead_of=swap.said_instead_of,
        names=tuple(ingredient_name(use, amounts, item, texts) for amounts, _ in sizes),
        # How to scoop it is on the line that it replaces.
        sizes=tuple(
            AmountView(view.text, joint=view.joint, metric=view.metric) for _, view in sizes
        ),
        preparation=_preparation(use, texts),
        because=texts.say(swap.because.text),
        label=label_words(food_label(use, pantry, texts, recipe.is_draft), texts),
    )
