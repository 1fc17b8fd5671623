"""What must be bought is within the budget, and the packages can be compared with it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING

from spoonfold.check.rule import Facts, Rule, key_place, warning
from spoonfold.model.pantry import Item, Package
from spoonfold.plan.shop.portion import Kind, Part, Scale, held, scale_for
from spoonfold.problem import Place, Problem
from spoonfold.quantity.show import show_amount

if TYPE_CHECKING:
    from spoonfold.plan.shop.left import Trip
    from spoonfold.plan.shop.shop import Line

_DEAREST = 3
"""So many lines are named: enough to choose from, few enough to read."""


def over_budget(facts: Facts) -> Iterator[Problem]:
    """A session that costs more a child than there is."""
    classroom = facts.folder.classroom
    # A recipe that wasn't read whole would be bought in part.
    if classroom is None or facts.troubled:
        return
    if all(session.setting.budget is None for session in classroom.sessions):
        return
    # Multiplying out loads the unit registry, which takes longer than all other rules together:
    # only a class with a budget pays for it.
    from spoonfold.plan.shop.left import trips_of

    over: dict[Place, list[Trip]] = {}
    for trip in trips_of(classroom.sessions, facts.folder.recipes, facts.uses, facts.folder.pantry):
        if trip.over:
            session = trip.session
            over.setdefault(key_place(session.setting, "budget", session.place), []).append(trip)
    for place, trips in over.items():
        dearest = max(trips, key=lambda trip: trip.over)
        others = [str(trip.session.number) for trip in trips if trip is not dearest]
        yield warning("over-budget", place, _too_much(dearest, others), _way_out(dearest))


def _too_much(trip: Trip, others: Sequence[str]) -> str:
    """How far the dearest session is over the budget, and which others are."""
    budget = trip.cost / trip.children - trip.over
    said = (
        f"Session {trip.session.number} costs {_money(trip.cost / trip.children)} a child at "
        f"the till, and the budget is {_money(budget)}: "
        f"{_money(trip.over * trip.children)} too much for {trip.children}."
    )
    if others:
        said += f" Over it too: session{'s' * (len(others) > 1)} {', '.join(others)}."
    return said


def _way_out(trip: Trip) -> str:
    """What is dear, and what may be there already."""
    lines = sorted(
        (each.line for each in trip.lines if not each.line.only_if), key=_cost, reverse=True
    )
    dear = ", ".join(f"{line.name} {_money(_cost(line))}" for line in lines[:_DEAREST])
    hint = f"Dearest: {dear}. Swap one of them (because: price), or list a smaller package."
    if trip.least < trip.cost:
        hint += (
            f" With what should be left from earlier sessions it comes to "
            f"{_money(trip.least / trip.children)} a child."
        )
    return hint


def _cost(line: Line) -> Fraction:
    purchase = line.purchase
    return Fraction(0) if purchase is None or purchase.cost is None else purchase.cost


def _money(amount: Fraction) -> str:
    return f"{round(amount * 100) / 100:.2f}"


def package_no_weight(facts: Facts) -> Iterator[Problem]:
    """A package that nothing published compares with what the dishes measure."""
    measured: dict[str, list[Part]] = {}
    for recipe in facts.folder.recipes.values():
        for each in (*recipe.ingredients, *(swap.use for swap in recipe.swaps)):
            item = facts.folder.pantry.find(each.name)
            if item is not None and each.amount is not None:
                measured.setdefault(item.name, []).append(Part(each.amount, each.preparation))
    for name, parts in measured.items():
        item = facts.folder.pantry.find(name)
        place = facts.folder.pantry.place(item) if item is not None else None
        if item is None or place is None:
            continue
        for package in item.packages:
            if not any(_compares(package, part, item) for part in parts):
                yield warning(
                    "package-no-weight",
                    place,
                    f"A package of {item.name} is {show_amount(package.size)}, and the dishes "
                    f"measure {show_amount(parts[0].amount)}: nothing published says how the two "
                    "compare, so the list can only say what is measured.",
                    f"weights: [{{measure: {_unweighed(package, parts[0], item)}, grams: …, "
                    "source: weighed by me}]",
                )


def _compares(package: Package, part: Part, item: Item) -> bool:
    found = scale_for((part,), (package,), item)
    return found is not None and held(package.size, found[0], item) is not None


def _unweighed(package: Package, part: Part, item: Item) -> str:
    """The measure that wants a weight: the package's, or else the dishes'."""
    unweighed = held(package.size, Scale(Kind.WEIGHT), item) is None
    amount = package.size if unweighed else part.amount
    return show_amount(amount.times(1 / amount.low))


RULES = (Rule("over-budget", over_budget), Rule("package-no-weight", package_no_weight))
