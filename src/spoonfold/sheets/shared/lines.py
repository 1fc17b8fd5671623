"""The lines of a recipe's list, at the class's size or at home, and the swaps below it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from spoonfold.language.amounts import number_text, off_text
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import HOME_MEASURING, Setting
from spoonfold.model.pantry import Pantry
from spoonfold.model.recipe import Ingredient, Recipe, Swap
from spoonfold.plan.amounts.eaters import eaters_at_tables, portions_at_tables
from spoonfold.plan.amounts.metric import metric_amounts, metric_line
from spoonfold.plan.amounts.scale import (
    ClassScale,
    PanNeed,
    Scaled,
    batches_for,
    line_of,
    pan_for,
    scaled,
    scaled_for_class,
    scaled_use,
)
from spoonfold.plan.amounts.tools import kitchen_of
from spoonfold.plan.amounts.uses import Use, Uses
from spoonfold.plan.shop.corner import SHOP
from spoonfold.problem import Place
from spoonfold.quantity.amount import Amount
from spoonfold.sheets.shared.amounts import AmountView, ingredient_name, line_view
from spoonfold.sheets.shared.labels import food_label, label_words


@dataclass(frozen=True, slots=True)
class Column:
    """One size of the recipe."""

    key: str
    label: str
    factor: str
    """The conversion factor as a fraction: `× 1½`."""


def home_columns(recipe: Recipe, people: Sequence[int], texts: Texts) -> tuple[Column, ...]:
    """For so many people each."""
    return tuple(_home_column(recipe.serves, each, texts) for each in people)


def _home_column(serves: Fraction, people: int, texts: Texts) -> Column:
    return Column(
        str(people),
        texts.count("1 person", "{number} people", people),
        _factor(people / serves, texts),
    )


def table_portions(setting: Setting) -> tuple[Fraction, ...]:
    """What each table makes, tables at which nobody eats left out."""
    return tuple(each for each in portions_at_tables(setting) if each)


def class_columns(recipe: Recipe, setting: Setting, texts: Texts) -> tuple[Column, ...]:
    """One column for tables that are alike, then the whole class."""
    eaters = [each for each in eaters_at_tables(setting) if each]
    alike = dict(zip(table_portions(setting), eaters, strict=True))
    columns = [
        Column(
            f"table-{index}",
            texts.count("A table of 1", "A table of {number}", count),
            _factor(portions / recipe.serves, texts),
        )
        for index, (portions, count) in enumerate(alike.items(), start=1)
    ]
    whole = sum(table_portions(setting), Fraction(0)) / recipe.serves
    return (
        *columns,
        Column(
            "class",
            texts.count("The class, 1", "The class, {number}", sum(eaters)),
            _factor(whole, texts),
        ),
    )


def _factor(factor: Fraction, texts: Texts) -> str:
    return f"× {number_text(factor, texts)}"


def size_notes(recipe: Recipe, people: int, texts: Texts) -> tuple[str, ...]:
    """Batches and pans for so many people."""
    notes = []
    factor = people / recipe.serves
    label = texts.count("For 1 person", "For {number} people", people)
    batches = batches_for(factor)
    if batches > 1:
        notes.append(
            texts.say("{label}: cook it in {batches} batches.", label=label, batches=batches)
        )
    if recipe.pan is not None and factor != 1:
        notes.append(f"{label}: {_pan(pan_for(recipe.pan, factor), texts)}")
    return tuple(notes)


def _pan(need: PanNeed, texts: Texts) -> str:
    off = off_text(need.off, texts)
    pan = need.pan.text if need.count == 1 else f"{need.count} × {need.pan.text}"
    text = texts.say(
        "the pan needs {area} square inches, such as {pan}", area=round(need.area), pan=pan
    )
    return f"{text} ({off})." if off else f"{text}."


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


@dataclass(frozen=True, slots=True)
class DishAmounts:
    """What a dish takes at every size that a sheet shows: the same in every language."""

    sizes: tuple[HomeSize, ...]
    in_class: ClassScale | None
    """None: it is shown at home alone."""


def dish_amounts(
    recipe: Recipe, uses: Uses, pantry: Pantry, people: Sequence[int], setting: Setting | None
) -> DishAmounts:
    """The recipe for so many people each, as a family measures it, and for the class where a
    setting is given."""
    found = []
    for each in people:
        whole = scaled(recipe, uses, pantry, kitchen_of(HOME_MEASURING), Fraction(each))
        found.append(HomeSize(whole, metric_amounts(whole, pantry)))
    in_class = None
    if setting is not None:
        # The dish as it is listed: who needs something else stands on no page for everyone.
        in_class = scaled_for_class(recipe, uses, pantry, replace(setting, needs=()))
    return DishAmounts(tuple(found), in_class)


def lines_view(
    recipe: Recipe, amounts: DishAmounts, pantry: Pantry, texts: Texts
) -> tuple[LineView, ...]:
    """Every line at these sizes, and for the class where its amounts are given: for tables that
    are alike once, then for all."""
    sizes, in_class = amounts.sizes, amounts.in_class
    alike: dict[Fraction, Scaled] = {}
    for table in () if in_class is None else in_class.tables:
        alike.setdefault(table.portions, table)
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
        because=texts.say("if the shop has none")
        if swap.because.text == SHOP
        else texts.say(swap.because.text),
        label=label_words(food_label(use, pantry, texts, recipe.is_draft), texts),
    )
