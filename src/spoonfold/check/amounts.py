"""Amounts agree with each other, and can be measured with what is on hand."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from spoonfold.check.rule import Facts, Rule, warning
from spoonfold.knowledge.equipment import Kind
from spoonfold.model.classroom import Setting
from spoonfold.model.pantry import Item
from spoonfold.model.recipe import Ingredient
from spoonfold.plan.amounts.convert import TSP, converted
from spoonfold.plan.safety.flow import MEATS
from spoonfold.problem import Problem
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.show import show_amount
from spoonfold.quantity.unit import Dimension
from spoonfold.read.folder import CLASS_FILE

TOLERANCE = Fraction(1, 10)
"""Two measures of one thing may differ by this much: cups are filled that unevenly
(common practice)."""

_MEATS = frozenset(("meat", "poultry", "beef", "pork", "lamb", "seafood"))


def _listed(facts: Facts) -> Iterator[tuple[Ingredient, Item]]:
    """Every line, swaps too, of a food that the pantry knows."""
    for recipe in facts.folder.recipes.values():
        for each in (*recipe.ingredients, *(swap.use for swap in recipe.swaps)):
            item = facts.folder.pantry.find(each.name)
            if item is not None:
                yield each, item


def _second(each: Ingredient, item: Item) -> Amount | None:
    """The amount in brackets in the unit of the first."""
    if each.amount is None or each.second is None:
        return None
    return converted(each.second, each.amount.unit, item, each.preparation)


def second_differs(facts: Facts) -> Iterator[Problem]:
    """`250 g (2 cups)`, where two cups weigh something else."""
    for each, item in _listed(facts):
        second = _second(each, item)
        if each.amount is None or each.second is None or second is None:
            continue
        if _near(each.amount, second):
            continue
        yield warning(
            "second-differs",
            each.place,
            f"{show_amount(each.second)} of {item.name} is about {_rounded(second)}, not "
            f"{show_amount(each.amount)}. The first amount is the one that counts.",
            f"Correct one of the two, or leave out ({show_amount(each.second)}).",
        )


def _near(first: Amount, second: Amount) -> bool:
    """Whether the two, or the two ranges, come within the tolerance of each other."""
    low, high = first.low * (1 - TOLERANCE), (first.high or first.low) * (1 + TOLERANCE)
    return low <= (second.high or second.low) and second.low <= high


def _rounded(amount: Amount) -> str:
    """An amount to two figures or a quarter: it is said, not measured."""
    step = Fraction(1, 4) if amount.low < 10 else Fraction(1) if amount.low < 100 else Fraction(5)

    def near(value: Fraction) -> Fraction:
        return max(round(value / step) * step, step)

    high = None if amount.high is None else near(amount.high)
    low = near(amount.low)
    return show_amount(Amount(low, amount.unit, high if high and high > low else None))


def cannot_convert(facts: Facts) -> Iterator[Problem]:
    """A second amount that nothing published can be compared with."""
    for each, item in _listed(facts):
        if each.amount is None or each.second is None or _second(each, item) is not None:
            continue
        yield warning(
            "cannot-convert",
            each.place,
            f"Nothing in the pantry says how much {show_amount(each.second)} of {item.name} is, so "
            f"it can't be compared with {show_amount(each.amount)}.",
            f"Give {item.name} a weight in content/pantry.yaml, or leave out "
            f"({show_amount(each.second)}).",
        )


def _has_scale(facts: Facts) -> bool:
    classroom = facts.folder.classroom
    if classroom is None or CLASS_FILE in facts.troubled:
        return True
    settings: tuple[Setting, ...] = (
        classroom.setting,
        *(session.setting for session in classroom.sessions),
    )
    return any(each.listed(Kind.SCALE) for each in settings)


def no_way_to_weigh(facts: Facts) -> Iterator[Problem]:
    """A weight, no scale, and no published weight to scoop it by."""
    if _has_scale(facts):
        return
    for each, item in _listed(facts):
        amount = each.amount
        if amount is None or amount.unit.dimension is not Dimension.MASS:
            continue
        if item.raw in MEATS or item.tags & _MEATS or _as_sold(amount, item):
            continue
        if converted(amount, TSP, item, each.preparation) is None:
            yield warning(
                "no-way-to-weigh",
                each.place,
                f"There is no scale in {CLASS_FILE}, and the pantry doesn't say what a cup of "
                f"{item.name} weighs, so nobody could measure {show_amount(amount)}.",
                "Give the amount in cups or pieces, list a scale under `equipment`, or give "
                f"{item.name} a weight in content/pantry.yaml.",
            )


def _as_sold(amount: Amount, item: Item) -> bool:
    """Whether whole packages, or quarters of one divided by eye, make the amount up."""
    for package in item.packages:
        if package.size.unit.dimension is Dimension.MASS:
            count = amount.low / package.size.to(amount.unit).low
            if amount.high is None and count.denominator in (1, 2, 4):
                return True
    return False


RULES = (
    Rule("second-differs", second_differs),
    Rule("cannot-convert", cannot_convert),
    Rule("no-way-to-weigh", no_way_to_weigh),
)
