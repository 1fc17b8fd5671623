"""The lines of an ingredient list as a sheet shows them, with their amounts at every size."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from spoonfold.language.texts import Texts
from spoonfold.model.classroom import HOME_MEASURING, Setting
from spoonfold.model.pantry import Item, Pantry
from spoonfold.model.recipe import Ingredient, Recipe, Swap
from spoonfold.plan.amounts.measure import Kitchen, Measured, class_kitchen, kitchen_of
from spoonfold.plan.amounts.sizes import AtSize, Listed, Taken, at_sizes, in_class
from spoonfold.quantity.amount import Amount
from spoonfold.sheets.amounts import (
    AmountView,
    count_of,
    in_metric_too,
    ingredient_name,
    line_view,
    use_view,
)
from spoonfold.sheets.labels import food_label, label_words
from spoonfold.sheets.recipe_sizes import table_portions

_NOTHING = AmountView("")


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
class Counts:
    """How the name of a food goes with its amount at each size: 1 onion, 2 onions."""

    examples: tuple[tuple[Amount, ...], ...]
    """One amount for each way in which a name can go."""
    ways: tuple[int, ...]
    """At each size the way, as an index."""

    def names(self, ingredient: Ingredient, item: Item | None, texts: Texts) -> tuple[str, ...]:
        """What an ingredient is called at each size."""
        names = [ingredient_name(ingredient, each, item, texts) for each in self.examples]
        return tuple(names[way] for way in self.ways)


@dataclass(frozen=True, slots=True)
class UseCells:
    """What one step takes of a line, at every size."""

    sizes: tuple[AmountView, ...]
    measured: tuple[Measured | None, ...]
    """None: as needed."""
    counts: Counts


@dataclass(frozen=True, slots=True)
class Cells:
    """A line at every size, by whatever name."""

    sizes: tuple[AmountView, ...]
    counts: Counts
    uses: tuple[UseCells, ...]
    """In the order of the steps."""


def cells_of(listed: Mapping[str, Listed], people: Sequence[int], texts: Texts) -> dict[str, Cells]:
    """The lines of a recipe for so many people at home, by their ingredients' keys."""
    portions = tuple(map(Fraction, people))
    return {key: _cells(line, portions, texts) for key, line in listed.items()}


# Of a thousand dishes in two languages nearly every line stands twice and many far more often.
@lru_cache(maxsize=1 << 11)
def _cells(listed: Listed, portions: tuple[Fraction, ...], texts: Texts) -> Cells:
    found = at_sizes(listed, portions, kitchen_of(HOME_MEASURING))
    if not found:
        return Cells((_NOTHING,) * len(portions), _counts([()] * len(portions)), ())
    return Cells(
        tuple(_cell(each, texts) for each in found),
        _counts([each.line.amounts for each in found]),
        tuple(_use_cells(found, index, texts) for index in range(len(listed.taken))),
    )


def _counts(shown: Sequence[tuple[Amount, ...]]) -> Counts:
    ways: dict[object, int] = {}
    examples: list[tuple[Amount, ...]] = []
    found = []
    for amounts in shown:
        way = count_of(amounts)
        if way not in ways:
            ways[way] = len(examples)
            examples.append(amounts)
        found.append(ways[way])
    return Counts(tuple(examples), tuple(found))


def _cell(size: AtSize, texts: Texts) -> AmountView:
    if not size.line.amounts:
        return _NOTHING
    view = line_view(size.line, texts)
    return in_metric_too(view, size.metric.amount if size.metric else None, texts)


def _use_cells(found: Sequence[AtSize], index: int, texts: Texts) -> UseCells:
    measured = [each.line.uses[index].measured for each in found]
    return UseCells(
        tuple(
            in_metric_too(
                use_view(each.line.uses[index], texts),
                each.metric.uses[index] if each.metric else None,
                texts,
            )
            for each in found
        ),
        tuple(measured),
        _counts([each.shown if each else () for each in measured]),
    )


def lines_view(
    recipe: Recipe,
    listed: Mapping[str, Listed],
    cells: Mapping[str, Cells],
    setting: Setting | None,
    texts: Texts,
) -> tuple[LineView, ...]:
    """Every line, for the class too where its setting is given."""
    kitchen = None if setting is None else class_kitchen(setting)
    tables = () if setting is None else table_portions(setting)
    views = []
    for ingredient in recipe.ingredients:
        line, own = listed[ingredient.key], cells[ingredient.key]
        views.append(
            LineView(
                key=ingredient.key,
                name=ingredient.said,
                names=own.counts.names(ingredient, line.item, texts),
                preparation=_preparation(ingredient, texts),
                sizes=own.sizes,
                for_class=() if kitchen is None else _class_cells(line, tables, kitchen, texts),
                part=ingredient.part,
            )
        )
    return tuple(views)


@lru_cache(maxsize=1 << 11)
def _class_cells(
    listed: Listed, tables: tuple[Fraction, ...], kitchen: Kitchen, texts: Texts
) -> tuple[AmountView, ...]:
    """For tables that are alike once, then for the whole class."""
    at_tables, in_all = in_class(listed, tables, kitchen)
    alike = dict(zip(tables, at_tables, strict=True))
    return tuple(
        _NOTHING if line is None or not line.amounts else line_view(line, texts)
        for line in (*alike.values(), in_all)
    )


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
    use = swap.use
    whole = Listed(
        use.amount,
        use.preparation,
        pantry.find(use.name),
        (Taken(Fraction(1), None, False),),
        recipe.serves,
    )
    cells = _cells(whole, tuple(map(Fraction, people)), texts)
    return SwapView(
        instead_of=swap.said_instead_of,
        names=cells.counts.names(use, whole.item, texts),
        # How to scoop it is on the line that it replaces.
        sizes=tuple(
            AmountView(each.text, joint=each.joint, metric=each.metric) for each in cells.sizes
        ),
        preparation=_preparation(use, texts),
        because=texts.say(swap.because.text),
        label=label_words(food_label(use, pantry, texts, recipe.is_draft), texts),
    )
