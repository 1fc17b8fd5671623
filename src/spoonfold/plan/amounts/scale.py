"""A recipe multiplied: for a household, a table, the whole class.

Every use in every step is measured by itself, and a line's total is the sum of what its
steps really measure.

The pan that a multiplied recipe needs: the same depth, so the area grows with the factor."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence, Set
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache, lru_cache
from itertools import cycle

from spoonfold.model.classroom import Setting
from spoonfold.model.pantry import Item, Pantry
from spoonfold.model.recipe import Ingredient, Pan, Recipe, Step
from spoonfold.plan.amounts.dealt import Share, dealt
from spoonfold.plan.amounts.eaters import portions_at_tables
from spoonfold.plan.amounts.measure import Measured, counted, measure
from spoonfold.plan.amounts.tools import Kitchen, class_kitchen
from spoonfold.plan.amounts.total import added
from spoonfold.plan.amounts.uses import Use, Uses
from spoonfold.plan.safety.apart import apart_of
from spoonfold.plan.safety.swapped import table_swaps
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.exactness import Exactness
from spoonfold.quantity.unit import Dimension

# Pi to more places than a pan's rim is true to.
_PI = Fraction(355, 113)

KNOWN_PANS: tuple[Pan, ...] = tuple(
    Pan(tuple(map(Fraction, sides)), text)
    for sides, text in (
        ((8,), "8 in round"),
        ((8, 8), "8 x 8 in"),
        ((9,), "9 in round"),
        ((10,), "10 in round"),
        ((9, 9), "9 x 9 in"),
        ((9, 13), "9 x 13 in"),
        ((13, 18), "13 x 18 in"),
    )
)
"""Common sizes in American kitchens; their areas stand in the tests with their source."""


@dataclass(frozen=True, slots=True)
class PanNeed:
    """What the factor asks of the pan."""

    area: Fraction
    """Square inches at the recipe's own depth."""
    pan: Pan
    """The known pan that comes nearest, so many of them."""
    count: int
    off: Fraction
    """How much more area that has, as a share; negative: less."""


def pan_area(pan: Pan) -> Fraction:
    """Square inches; a round pan by its diameter, to a millionth (pi as 355/113)."""
    if len(pan.sides) == 1:
        return _PI * pan.sides[0] ** 2 / 4
    return pan.sides[0] * pan.sides[1]


@lru_cache(maxsize=256)
def pan_for(pan: Pan, factor: Fraction) -> PanNeed:
    """The fewest known pans alike that have the area to a twentieth and at most a fifth more; where
    none do, those that have it and the least more: a pan that is too small runs over."""
    area = pan_area(pan) * factor
    needs = []
    for each in (pan, *KNOWN_PANS):
        fewest = math.ceil(area * (1 - _LESS) / pan_area(each))
        for count in (fewest, fewest + 1):
            needs.append(PanNeed(area, each, count, pan_area(each) * count / area - 1))
    near = [each for each in needs if each.off <= _MORE]
    if near:
        return min(near, key=lambda each: (each.count, abs(each.off)))
    return min(needs, key=lambda each: (each.off < 0, each.off, each.count))


_LESS, _MORE = Fraction(1, 20), Fraction(1, 5)
"""So much less or more area than is needed still bakes alike (common practice)."""


LARGEST_BATCH = 4
"""Above four times a recipe is made in batches (common practice)."""


@dataclass(frozen=True, slots=True)
class ScaledUse:
    """Some of an ingredient in a step, at this size."""

    use: Use
    measured: Measured | None
    """None: as needed."""


@dataclass(frozen=True, slots=True)
class ScaledLine:
    """An ingredient line at this size."""

    ingredient: Ingredient
    amounts: tuple[Amount, ...]
    """What is shown; empty: as needed."""
    exact: Amount | None
    off: Fraction
    """How far what is measured is from what was asked, signed, as a share."""
    uses: tuple[ScaledUse, ...]
    taste_first: bool = False
    """Start with three quarters, then taste."""


@dataclass(frozen=True, slots=True)
class Scaled:
    """A recipe at one size."""

    recipe: Recipe
    portions: Fraction
    factor: Fraction
    """The conversion factor: portions wanted over portions stated."""
    lines: tuple[ScaledLine, ...]
    by_step: Mapping[int, tuple[ScaledUse, ...]]
    batches: int
    pan: PanNeed | None

    def line(self, ingredient: Ingredient) -> ScaledLine | None:
        """The line of an ingredient; None where no step takes any."""
        return _line_in(self.lines, ingredient)


@dataclass(frozen=True, slots=True)
class ClassScale:
    """A recipe for the whole class: each table's own, what is made once for all, and the sum."""

    tables: tuple[Scaled, ...]
    shared: Scaled | None
    totals: tuple[ScaledLine, ...]
    portions: Fraction

    def total(self, ingredient: Ingredient) -> ScaledLine | None:
        """What all tables take of an ingredient; None where no step takes any."""
        return _line_in(self.totals, ingredient)


def _line_in(lines: Sequence[ScaledLine], ingredient: Ingredient) -> ScaledLine | None:
    return next((each for each in lines if each.ingredient.key == ingredient.key), None)


def scaled(
    recipe: Recipe,
    uses: Uses,
    pantry: Pantry,
    kitchen: Kitchen,
    portions: Fraction,
    steps: Callable[[Step], bool] = lambda step: True,
    less: Mapping[int, Fraction] | None = None,
) -> Scaled:
    """The recipe for so many portions; `steps` says which steps are made at this size, `less` of
    which of them some portions are made elsewhere."""
    less = less or {}
    factor = portions / recipe.serves
    wanted = {
        step.number: (portions - less[step.number]) / recipe.serves
        if step.number in less
        else factor
        for step in recipe.steps
        if steps(step)
    }
    by_step = {
        number: tuple(
            scaled_use(use, wanted[number], pantry.find(use.ingredient.name), kitchen)
            for use in found
        )
        for number, found in uses.by_step.items()
        if wanted.get(number)
    }
    by_key: dict[str, list[ScaledUse]] = defaultdict(list)
    for found in by_step.values():
        for each in found:
            by_key[each.use.ingredient.key].append(each)
    lines = []
    for ingredient in recipe.ingredients:
        own = by_key.get(ingredient.key)
        if own:
            lines.append(
                line_of(
                    ingredient,
                    tuple(own),
                    factor > 1 and is_tasted(recipe, uses, ingredient, pantry),
                )
            )
    return Scaled(
        recipe=recipe,
        portions=portions,
        factor=factor,
        lines=tuple(lines),
        by_step=by_step,
        batches=batches_for(factor),
        pan=pan_for(recipe.pan, factor) if recipe.pan is not None else None,
    )


def scaled_for_class(recipe: Recipe, uses: Uses, pantry: Pantry, setting: Setting) -> ClassScale:
    """Each table, what is done once for everyone, and the sum of what is really measured: it may
    differ a little from the recipe times the class."""
    kitchen = class_kitchen(setting)
    portions = portions_at_tables(setting)
    apart = apart_of(recipe, uses, pantry, setting)

    @cache
    def at_a_table(each: Fraction, own: frozenset[int]) -> Scaled:
        return scaled(
            recipe, uses, pantry, kitchen, each, lambda step: not step.shared or step.number in own
        )

    parts = [
        at_a_table(each, apart.steps.get(table, frozenset()))
        for table, each in enumerate(portions, start=1)
        if each
    ]
    everyone = sum(portions, Fraction(0))
    is_shared = everyone > 0 and any(step.shared for step in recipe.steps)
    if is_shared:
        parts.append(
            scaled(
                recipe, uses, pantry, kitchen, everyone, lambda step: step.shared, apart.portions
            )
        )
    numbers = [number for number, each in enumerate(portions, start=1) if each]
    swapped = {
        (numbers.index(swap.table), each.key)
        for swap in table_swaps(recipe, uses, pantry, setting)
        if swap.table in numbers and not swap.if_label
        for each in swap.originals
    }
    swapped |= {(len(numbers), each.key) for swap in apart.for_all for each in swap.originals}
    parts = _dealt_out(parts, pantry, swapped)
    shared = parts[-1] if is_shared else None
    tables = tuple(parts[: len(numbers)])
    return ClassScale(tables, shared, _totals(recipe, parts), everyone)


def _dealt_out(
    parts: Sequence[Scaled], pantry: Pantry, swapped: Set[tuple[int, str]]
) -> list[Scaled]:
    """The places of a class with what is divided between them in shares that add up, but for the
    tables that take something else instead: by their place, and the key of what they don't take."""
    found = list(parts)
    for ingredient in parts[0].recipe.ingredients if len(parts) > 1 else ():
        lines = [
            (at, line)
            for at, each in enumerate(parts)
            if (line := each.line(ingredient)) and (at, ingredient.key) not in swapped
        ]
        # Pieces are parts of the same whole ones: the first stands for all of them.
        counted = [
            (at, line.uses[:1] if line.uses[0].use.piece else line.uses) for at, line in lines
        ]
        shares = [Share(at, each.measured) for at, own in counted for each in own if each.measured]
        taken = dealt(shares, pantry.find(ingredient.name)) if len(lines) > 1 and shares else None
        if taken is None:
            continue
        of_place: dict[int, list[Measured]] = defaultdict(list)
        for share, measured in zip(shares, taken, strict=True):
            of_place[share.table].append(measured)
        for at, line in lines:
            found[at] = _with_uses(found[at], line, of_place[at])
    return found


def _with_uses(part: Scaled, line: ScaledLine, measured: Sequence[Measured]) -> Scaled:
    """A place where the steps take so much of a line; of pieces all take the same."""
    new = dict(zip(map(id, line.uses), cycle(measured), strict=False))

    def changed(use: ScaledUse) -> ScaledUse:
        return replace(use, measured=new[id(use)]) if id(use) in new else use

    own = line_of(line.ingredient, tuple(map(changed, line.uses)), line.taste_first)
    return replace(
        part,
        lines=tuple(own if each is line else each for each in part.lines),
        by_step={number: tuple(map(changed, uses)) for number, uses in part.by_step.items()},
    )


def batches_for(factor: Fraction) -> int:
    """In how many batches the recipe is made at this factor."""
    return max(1, math.ceil(factor / LARGEST_BATCH))


def scaled_use(use: Use, factor: Fraction, item: Item | None, kitchen: Kitchen) -> ScaledUse:
    """What a step takes at this factor, as this kitchen measures it."""
    listed = use.ingredient.amount
    if listed is None or use.share is None:
        return ScaledUse(use, None)
    amount = listed.times(factor * use.share)
    if use.piece is not None and amount.unit.dimension is Dimension.COUNT:
        return ScaledUse(use, counted(amount, item))
    return ScaledUse(use, measure(amount, item, use.ingredient.preparation, kitchen))


def line_of(
    ingredient: Ingredient, uses: tuple[ScaledUse, ...], tasted: bool = False
) -> ScaledLine:
    """The sum of what the steps take; `tasted`: start with three quarters."""
    counted = uses if not uses[0].use.piece else uses[:1]
    measured = [each.measured for each in counted if each.measured is not None]
    if not measured:
        return ScaledLine(ingredient, (), None, Fraction(0), uses)
    if len(measured) == 1:
        (one,) = measured
        return ScaledLine(ingredient, one.shown, one.exact, one.off, uses, tasted)
    amounts = added(each.shown for each in measured)
    asked = sum((each.exact.low for each in measured), Fraction(0))
    off = sum((each.off * each.exact.low for each in measured), Fraction(0)) / asked
    return ScaledLine(ingredient, amounts, _with_low(measured, asked), off, uses, tasted)


def _with_low(measured: Sequence[Measured], low: Fraction) -> Amount:
    first = measured[0].exact
    high = sum((each.exact.high or each.exact.low for each in measured), Fraction(0))
    return Amount(low, first.unit, high if high > low else None, first.size, first.each)


def _totals(recipe: Recipe, parts: Sequence[Scaled]) -> tuple[ScaledLine, ...]:
    totals = []
    for ingredient in recipe.ingredients:
        lines = [line for part in parts if (line := part.line(ingredient)) is not None]
        if lines:
            totals.append(total_of(ingredient, lines))
    return tuple(totals)


def total_of(ingredient: Ingredient, lines: Sequence[ScaledLine]) -> ScaledLine:
    """The sum of an ingredient's lines at several tables."""
    counted = [line for line in lines if line.exact is not None]
    asked = sum((line.exact.low for line in counted if line.exact), Fraction(0))
    off = Fraction(0)
    exact = None
    if counted and counted[0].exact is not None:
        off = (
            sum((line.off * line.exact.low for line in counted if line.exact), Fraction(0)) / asked
        )
        first = counted[0].exact
        exact = Amount(asked, first.unit, None, first.size, first.each)
    return ScaledLine(
        ingredient,
        added(line.amounts for line in counted),
        exact,
        off,
        tuple(use for line in lines for use in line.uses),
        any(line.taste_first for line in lines),
    )


def is_tasted(recipe: Recipe, uses: Uses, ingredient: Ingredient, pantry: Pantry) -> bool:
    """Whether to start with three quarters and taste: salt and hot spice, where tasting is safe.

    Never while anything raw (meat, fish, egg, flour) is in it and hasn't reached its heat, nor
    where it goes in later: nobody tastes raw batter, and what is kept back for the tasting would
    be forgotten. A food that nobody knows may be raw.
    """
    item = pantry.find(ingredient.name)
    if item is None or ingredient.amount is None or not _is_strong(item):
        return False
    raw = salted = False
    for step in recipe.steps:
        here = uses.by_step.get(step.number, ())
        raw = raw or any(_may_be_raw(pantry.find(use.ingredient.name)) for use in here)
        salted = salted or any(use.ingredient.key == ingredient.key for use in here)
        if raw and salted:
            return False
        if step.heat is not None:
            raw = False
    return True


def _is_strong(item: Item) -> bool:
    """Salt or a hot spice: a little too much of it can't be taken out again."""
    if item.exactness is not Exactness.EXACT:
        return False
    return "hot spice" in item.tags or ("salty" in item.tags and item.section == "spices")


def _may_be_raw(item: Item | None) -> bool:
    return item is None or item.raw is not None
