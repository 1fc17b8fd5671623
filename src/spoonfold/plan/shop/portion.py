"""Edible portion and as purchased: what is measured and what a shop sells, on one scale.

Weights of the pantry that come from the USDA table are edible portion: a piece without its
peel and core. A weight, a bunch or a box as a shop sells it has them still, and only the
edible share of it counts. So what is bought by the piece and used by the piece needs no
yield; what is bought by weight and used by the cup does.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from spoonfold.knowledge.corner import all_food
from spoonfold.model.pantry import Item, Package, Weight
from spoonfold.plan.amounts.convert import GRAM, TSP, grams_of_one
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.unit import Dimension, Unit, size_in

_USDA = "USDA"
_NOT_AS_BOUGHT = frozenset(
    {"cooked", "boiled", "steamed", "soaked", "popped", "cooled", "leftover"}
)
"""Water went in or out: such a measure says nothing of what is bought."""

_DRAINED = "drained"
_FITS_DRAINED = (Fraction(1, 2), Fraction(4, 5))
_FITS_WHOLE = (Fraction(9, 10), Fraction(11, 10))
"""A published can is of one size that isn't always said. It is taken for a can on the shelf
where its weight, drained or whole, is such a share of the printed one (common practice)."""

_CANNED = "cans and jars"

_WORD = re.compile(r"[a-z]+")


@dataclass(frozen=True, slots=True)
class Part:
    """Some of an ingredient as it is measured."""

    amount: Amount
    preparation: str | None


class Kind(Enum):
    """What a need and a package are compared by, the plainest first."""

    PIECES = "pieces"
    """So many of one unit and size."""
    CONTENTS = "contents"
    """The weight printed on cans and jars."""
    VOLUME = "volume"
    """Teaspoons, edible portion."""
    WEIGHT = "weight"
    """Grams, edible portion."""
    DRAINED = "drained"
    """Grams, drained."""


@dataclass(frozen=True, slots=True)
class Scale:
    """What amounts of one ingredient are compared by."""

    kind: Kind
    one: Amount | None = None
    """The piece that is counted, where it is by pieces."""


def edible_portion(as_purchased: Fraction, item: Item) -> Fraction:
    """What can be eaten of a weight as purchased: EP = AP x yield."""
    return as_purchased * item.edible


def as_purchased(edible: Fraction, item: Item) -> Fraction:
    """The weight to buy for an edible portion: AP = EP / yield."""
    return edible / item.edible


def scale_for(
    parts: Sequence[Part], packages: Sequence[Package], item: Item | None
) -> tuple[Scale, Fraction] | None:
    """The scale on which all the parts and the most packages can be compared, and the need on
    it; None where the parts have no sum by published weights."""
    best: tuple[int, Scale, Fraction] | None = None
    first = parts[0].amount
    for scale in (
        Scale(Kind.PIECES, Amount(Fraction(1), first.unit, None, first.size, first.each)),
        *(Scale(kind) for kind in Kind if kind is not Kind.PIECES),
    ):
        need = needed(parts, scale, item)
        if need is None:
            continue
        count = sum(held(package.size, scale, item) is not None for package in packages)
        if best is None or count > best[0]:
            best = count, scale, need
    return None if best is None else best[1:]


def needed(parts: Sequence[Part], scale: Scale, item: Item | None) -> Fraction | None:
    """The sum of what is measured, by a scale; ranges by their upper end."""
    total = Fraction(0)
    for part in parts:
        amount = part.amount
        one = _on_scale(amount, scale, item, part.preparation, bought=False)
        if one is None:
            return None
        total += one * (amount.high or amount.low)
    return total


def held(size: Amount, scale: Scale, item: Item | None) -> Fraction | None:
    """What a package of a size holds that can be used, by a scale; None where no published
    weight tells."""
    form = _DRAINED if scale.kind is Kind.DRAINED else None
    one = _on_scale(size, scale, item, form, bought=True)
    return None if one is None else one * size.low


def _on_scale(
    amount: Amount, scale: Scale, item: Item | None, preparation: str | None, bought: bool
) -> Fraction | None:
    """One of the amount's unit, by a scale."""
    unit, each = amount.unit, amount.each
    match scale.kind:
        case Kind.PIECES:
            one = scale.one
            same = (
                one is not None
                and unit.dimension is Dimension.COUNT
                and (unit, amount.size, each) == (one.unit, one.size, one.each)
            )
            return Fraction(1) if same else None
        case Kind.CONTENTS:
            if each is not None and each.unit.dimension is Dimension.MASS:
                return each.to(GRAM).low
            return size_in(unit, GRAM) if bought and unit.dimension is Dimension.MASS else None
        case Kind.VOLUME:
            volume = each if each is not None else Amount(Fraction(1), unit)
            if volume.unit.dimension is not Dimension.VOLUME:
                return None
            tsp = volume.to(TSP).low
            return edible_portion(tsp, item) if bought and item is not None else tsp
        case Kind.WEIGHT | Kind.DRAINED:
            if item is None:
                return None
            drained = scale.kind is Kind.DRAINED
            return _grams(amount, item, preparation, bought, drained)


def _grams(
    amount: Amount, item: Item, preparation: str | None, bought: bool, drained: bool
) -> Fraction | None:
    """What one of the unit gives to eat, in grams."""
    words = set(_WORD.findall((preparation or "").lower()))
    if words & _NOT_AS_BOUGHT:
        return None
    each = amount.each
    if each is not None:
        return _contents(amount.unit, each, item, words, bought, drained)
    if drained != (_DRAINED in words and _is_drained(item)):
        return None
    if amount.unit.dimension is Dimension.MASS:
        # Of a weight drained and of one with its liquid the shelf says only the second.
        if drained and bought:
            return None
        grams = size_in(amount.unit, GRAM)
        return edible_portion(grams, item) if bought else grams
    found = grams_of_one(item, amount.unit, amount.size, preparation)
    if found is None or not _meant(found[1], amount.size, drained):
        return None
    grams, weight = found
    if weight.form == "cooked":
        return None
    return edible_portion(grams, item) if _with_trimmings(weight, amount.unit, bought) else grams


def _with_trimmings(weight: Weight, unit: Unit, bought: bool) -> bool:
    """Whether a published weight is one as purchased."""
    if unit.dimension is Dimension.VOLUME:
        return bought
    # Trimmings and all, where no USDA weight says otherwise.
    return "as sold" in unit.marks and not weight.source.startswith(_USDA)


def _meant(weight: Weight, size: str | None, drained: bool) -> bool:
    """Whether a published weight is that of the size and state asked for, not of the usual one
    for want of a better."""
    form = weight.form or weight.measure.size
    if drained and weight.form != _DRAINED:
        return False
    return size is None or form == size


def _is_drained(item: Item) -> bool:
    """Comes in a liquid that is poured away."""
    return any(weight.form == _DRAINED for weight in item.weights)


def _contents(
    unit: Unit, each: Amount, item: Item, words: set[str], bought: bool, drained: bool
) -> Fraction | None:
    """What one package gives that prints what it holds, in grams."""
    if each.unit.dimension is not Dimension.MASS:
        of_one = _grams(Amount(Fraction(1), each.unit), item, None, bought, drained)
        return None if of_one is None else of_one * each.low
    printed = each.to(GRAM).low
    poured = "drained" in unit.marks and (
        _DRAINED in words or (item.section == _CANNED and item.name not in all_food())
    )
    if not poured:
        # The printed weight is food.
        return None if drained else edible_portion(printed, item)
    low, high = _FITS_DRAINED if drained else _FITS_WHOLE
    for weight in item.weights:
        if weight.measure.unit == unit and (weight.form == _DRAINED) is drained:
            grams = weight.grams / weight.measure.low
            if low <= grams / printed <= high:
                return grams
    return None
