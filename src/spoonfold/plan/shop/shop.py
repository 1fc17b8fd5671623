"""What a session needs from the shop: what its tables really measure, as packages to buy.

What the tables really measure of each ingredient, as far as somebody must buy it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from spoonfold.knowledge.names import fold
from spoonfold.model.classroom import Session, Setting
from spoonfold.model.pantry import Item, Package, Pantry
from spoonfold.model.recipe import Ingredient, Recipe
from spoonfold.plan.amounts.measure import Way
from spoonfold.plan.amounts.scale import ScaledLine
from spoonfold.plan.amounts.total import added
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.safety.avoid import Finding, findings_of
from spoonfold.plan.safety.dish import parts_of
from spoonfold.plan.safety.needs import avoids, of_safety
from spoonfold.plan.safety.swapped import TableSwap
from spoonfold.plan.shop.packages import Offer, cover
from spoonfold.plan.shop.portion import Kind, Part, Scale, as_purchased, held, needed, scale_for
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.unit import PIECE, Dimension

FROM_THE_TAP = frozenset({"water"})
"""Foods of the pantry that nobody buys."""


@dataclass(frozen=True, slots=True)
class Taken:
    """An ingredient line of a table, of what is made for all, or of a swap."""

    key: str
    ingredient: Ingredient
    item: Item | None
    dish: str
    amounts: tuple[Amount, ...]
    table: int | None = None
    instead_of: tuple[str, ...] = ()
    only_if: tuple[Finding, ...] = ()


def taken_by(recipe: Recipe, uses: Uses, pantry: Pantry, setting: Setting) -> Iterator[Taken]:
    """All that is to be bought for a dish, table by table, then for all, then its swaps."""
    swapped = []
    for part in parts_of(recipe, uses, pantry, setting, recipe.language or "en"):
        for line in part.scaled.lines:
            item = pantry.find(line.ingredient.name)
            if item and item.name in FROM_THE_TAP:
                continue
            taken = Taken(
                _key(line.ingredient, item), line.ingredient, item, recipe.key, _bought(line)
            )
            swap = part.dish.instead_of.get(line.ingredient.key)
            if swap is None:
                yield taken
            else:
                names = tuple(each.name for each in swap.originals)
                swapped.append(
                    replace(taken, ingredient=swap.swap.use, table=part.table, instead_of=names)
                )
        # A label in the hand decides: the original is bought, and beside it what may replace it.
        swapped += [_of_swap(each, recipe, pantry) for each in part.dish.perhaps if part.table]
    yield from swapped


def _of_swap(swap: TableSwap, recipe: Recipe, pantry: Pantry) -> Taken:
    use = swap.swap.use
    item = pantry.find(use.name)
    measured = swap.amount
    shown = (
        ()
        if measured is None
        else ((whole(measured.exact, measured.beaten),) if measured.beaten else measured.shown)
    )
    return Taken(
        _key(use, item),
        use,
        item,
        recipe.key,
        shown,
        swap.table,
        tuple(each.said for each in swap.originals),
        swap.if_label,
    )


def _key(ingredient: Ingredient, item: Item | None) -> str:
    return fold(ingredient.name) if item is None else item.name


def _bought(line: ScaledLine) -> tuple[Amount, ...]:
    """What is measured; of what is beaten to be measured, the whole ones: each once, also where
    what one step leaves of it goes into another."""
    measured = [use.measured for use in line.uses if use.measured is not None]
    if any(each.way is Way.LOOSE for each in measured) and line.exact is not None:
        # How many handfuls a bag holds nobody publishes.
        return (line.exact,)
    if any(each.beaten for each in measured) and line.exact is not None:
        return (whole(line.exact, math.ceil(line.exact.high or line.exact.low)),)
    return line.amounts


def whole(exact: Amount, count: int) -> Amount:
    """So many of what an amount counts."""
    return Amount(Fraction(count), exact.unit, None, exact.size, exact.each)


SPARES: Mapping[str, Fraction] = {
    "egg": Fraction(1, 12),
    "rice paper": Fraction(1, 10),
    "spring roll wrapper": Fraction(1, 10),
    "wonton wrapper": Fraction(1, 10),
    "corn tortilla": Fraction(1, 10),
    "flour tortilla": Fraction(1, 20),
    "tostada": Fraction(1, 10),
    "nori": Fraction(1, 10),
}
"""What breaks or tears in children's hands, and how many more to buy for each that is used; at
least one (common practice)."""


@dataclass(frozen=True, slots=True)
class Taking:
    """What one dish takes of an ingredient."""

    dish: str
    """The recipe's key."""
    parts: tuple[Part, ...]
    """As measured, by table; empty: as needed."""
    tables: tuple[int, ...] = ()
    """Not empty: a swap, for these tables alone."""
    instead_of: tuple[str, ...] = ()
    """What it replaces there, as listed."""
    preparations: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Need:
    """How much must be bought, on the scale that packages are compared by."""

    scale: Scale
    size: Fraction


@dataclass(frozen=True, slots=True)
class Purchase:
    """The packages to take from the shelf."""

    packages: tuple[tuple[int, Package], ...]
    """How many of each, the largest first."""
    cost: Fraction | None
    """None: a price is missing."""
    left: Fraction
    """What is left over when all is measured, as a share of the largest package taken."""


@dataclass(frozen=True, slots=True)
class Line:
    """One thing to buy."""

    name: str
    item: Item | None
    """None: the pantry doesn't know it."""
    takings: tuple[Taking, ...]
    measured: tuple[Amount, ...]
    """The sum of what is measured; empty: as needed."""
    spare: Amount | None
    as_needed: bool
    """Some dish takes it as needed: there must be some."""
    optional: bool
    need: Need | None
    """None: nothing published says how what is measured compares with a package."""
    purchase: Purchase | None
    """None: no package fits; it is bought as measured."""
    grams: Fraction | None
    """Where no package fits: the weight as purchased, by published weights."""
    findings: tuple[Finding, ...]
    """What the needs of the session have to do with it."""
    only_if: tuple[Finding, ...] = ()
    """Not empty: a swap that is bought only if the original's label names one of these."""

    @property
    def section(self) -> str:
        """Where the shop has it."""
        return "other" if self.item is None else self.item.section


def session_lines(
    session: Session, recipes: Mapping[str, Recipe], uses: Mapping[str, Uses], pantry: Pantry
) -> tuple[Line, ...]:
    """Everything that a session's dishes need, one line for each food, in order of the dishes."""
    merged: dict[tuple[str, tuple[Finding, ...]], list[Taken]] = {}
    for dish in session.dishes:
        if dish.text in recipes:
            for taken in taken_by(recipes[dish.text], uses[dish.text], pantry, session.setting):
                merged.setdefault((taken.key, taken.only_if), []).append(taken)
    words = tuple(word for need in of_safety(session.setting.needs) for word in avoids(need))
    lines = tuple(_line(taken, words, pantry) for taken in merged.values())
    sure = {line.item.name: line for line in lines if line.item and not line.only_if}
    return tuple(
        _beside(line, sure.get(line.item.name)) if line.item and line.only_if else line
        for line in lines
    )


def _beside(line: Line, sure: Line | None) -> Line:
    """What is bought only if a label says so, less what is left of the same food anyway."""
    if sure is None or sure.purchase is None or line.need is None or line.item is None:
        return line
    largest = sure.purchase.packages[0][1]
    full = held(largest.size, line.need.scale, line.item) or Fraction(0)
    return replace(line, purchase=purchase_for(line.need, line.item, sure.purchase.left * full))


def _line(taken: Sequence[Taken], words: Sequence[str], pantry: Pantry) -> Line:
    first = taken[0]
    item = first.item
    parts = [Part(amount, each.ingredient.preparation) for each in taken for amount in each.amounts]
    spare = _spare(parts, item)
    packages = item.packages if item else ()
    found = (
        scale_for([*parts, *([Part(spare, None)] if spare else [])], packages, item)
        if parts
        else None
    )
    need = None if found is None else Need(*found)
    purchase = purchase_for(need, item) if parts else _smallest(packages)
    return Line(
        name=_name(first.ingredient, item, parts),
        item=item,
        takings=_takings(taken),
        measured=added((part.amount,) for part in parts),
        spare=spare,
        as_needed=any(not each.amounts for each in taken),
        optional=all(each.ingredient.optional for each in taken),
        need=need,
        purchase=purchase,
        grams=_grams(parts, item) if purchase is None else None,
        findings=findings_of(item, tuple(dict.fromkeys(words)), pantry),
        only_if=first.only_if,
    )


def _name(ingredient: Ingredient, item: Item | None, parts: Sequence[Part]) -> str:
    """As listed; what is counted out of a bin as many as there are of it."""
    pieces = [part.amount for part in parts if part.amount.unit == PIECE]
    if item is None or not pieces:
        return ingredient.said
    many = sum((each.high or each.low for each in pieces), Fraction(0)) > 1
    if ingredient.wording is not None:
        return item.called(ingredient.wording.language, many) or ingredient.said
    return item.plural if many else item.name


def _takings(taken: Sequence[Taken]) -> tuple[Taking, ...]:
    """By dish, its swaps apart."""
    grouped: dict[tuple[str, tuple[str, ...]], list[Taken]] = {}
    for each in taken:
        grouped.setdefault((each.dish, each.instead_of), []).append(each)
    return tuple(
        Taking(
            dish,
            tuple(
                Part(amount, each.ingredient.preparation)
                for each in group
                for amount in each.amounts
            ),
            tuple(each.table for each in group if each.table is not None),
            instead_of,
            tuple(
                dict.fromkeys(
                    each.ingredient.preparation for each in group if each.ingredient.preparation
                )
            ),
        )
        for (dish, instead_of), group in grouped.items()
    )


def _spare(parts: Sequence[Part], item: Item | None) -> Amount | None:
    """What to buy more of, where it is counted and breaks."""
    share = SPARES.get(item.name) if item else None
    pieces = [
        part.amount
        for part in parts
        if part.amount.unit == PIECE or part.amount.unit.name == "sheet"
    ]
    if share is None or not pieces:
        return None
    count = sum((each.high or each.low for each in pieces), Fraction(0))
    return whole(pieces[0], math.ceil(count * share))


def purchase_for(
    need: Need | None, item: Item | None, at_hand: Fraction = Fraction(0)
) -> Purchase | None:
    """The best packages for a need, less what is at hand; None where no package compares."""
    if need is None or item is None:
        return None
    sizes = [
        (package, size)
        for package in item.packages
        if (size := held(package.size, need.scale, item)) is not None
    ]
    if not sizes:
        return None
    wanted = max(need.size - at_hand, Fraction(0))
    found = cover([Offer(size, package.price) for package, size in sizes], wanted)
    taken = sorted(
        (
            (size, count, package)
            for (package, size), count in zip(sizes, found.counts, strict=True)
            if count
        ),
        key=lambda each: -each[0],
    )
    left = (found.size - wanted) / taken[0][0] if taken else Fraction(0)
    return Purchase(tuple((count, package) for _, count, package in taken), found.cost, left)


def _smallest(packages: Sequence[Package]) -> Purchase | None:
    """Of what is taken as needed: the cheapest package, or the first where a price is missing."""
    if not packages:
        return None
    priced = [
        (package.price, at) for at, package in enumerate(packages) if package.price is not None
    ]
    at = min(priced)[1] if len(priced) == len(packages) else 0
    package = packages[at]
    return Purchase(((1, package),), package.price, Fraction(1))


def _grams(parts: Sequence[Part], item: Item | None) -> Fraction | None:
    """The weight as purchased of what no package fits; None for what is bought by the piece."""
    if (
        item is None
        or not parts
        or all(part.amount.unit.dimension is Dimension.COUNT for part in parts)
    ):
        return None
    edible = needed(parts, Scale(Kind.WEIGHT), item)
    return None if edible is None else as_purchased(edible, item)
