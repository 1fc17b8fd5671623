"""Shopping for a dish at home: what it costs, what a small shop has instead, what is left over.

All by the class's own pantry and prices, for one household; nobody's needs are in it. What keeps
and for how long is the pantry's, most of it from memory there.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from spoonfold.language.texts import Texts
from spoonfold.model.classroom import HOME_MEASURING, Session, Setting
from spoonfold.model.recipe import Ingredient, Recipe, Term
from spoonfold.plan.safety.words import on_heat
from spoonfold.plan.shop.corner import Other, others_of
from spoonfold.plan.shop.left import Trip, left_of, trips_of
from spoonfold.plan.shop.shop import Line, Purchase
from spoonfold.sheets.shared.recipe import Household
from spoonfold.sheets.shopping import other_amount
from spoonfold.sheets.shopping.words import lot_amount, money

_MOST = 2
"""Foods that one cell names: more are read by nobody."""

_SHORT_DAYS = 30
"""What keeps longer than a month stands in the cupboard without being thought of."""


@dataclass(frozen=True, slots=True)
class HomeShopping:
    """A dish in the table of what shopping for it means at home."""

    costs: tuple[str, ...]
    instead: tuple[str, ...]
    """What a small shop has in place of something."""
    left: tuple[str, ...]
    """What is left over, and how long it keeps."""

    @property
    def is_empty(self) -> bool:
        """Whether there is nothing to know."""
        return not (self.costs or self.instead or self.left)


@dataclass(frozen=True, slots=True)
class _Home:
    """A dish that one household buys everything for."""

    household: Household
    recipe: Recipe
    trip: Trip


def home_shopping(household: Household, key: str) -> HomeShopping:
    """What to know of the shopping for the recipe with that key."""
    folder, classroom = household.folder, household.classroom
    recipe = folder.recipes[key]
    # The day itself doesn't matter: what is told are spans of days.
    date = classroom.first_day
    session = Session(
        0,
        date,
        (Term(key, recipe.place),),
        None,
        None,
        _setting(classroom.setting, household.people),
        recipe.place,
    )
    trip = trips_of([session], folder.recipes, household.uses, folder.pantry)[0]
    home = _Home(household, recipe, trip)
    return HomeShopping(
        tuple(_costs(home)), tuple(_instead(home))[:_MOST], tuple(_left(home, date))[:_MOST]
    )


def _setting(setting: Setting, people: int) -> Setting:
    """One table, at which everyone in the household eats whole portions of the recipe as it is."""
    return replace(
        setting,
        tables=(people,),
        helpers=0,
        helpers_eat=False,
        portion=Fraction(1),
        measuring=HOME_MEASURING,
        equipment={},
        budget=None,
        needs=(),
    )


def _costs(home: _Home) -> Iterator[str]:
    trip, texts = home.trip, home.household.texts
    unpriced = [_said(line, home) for line in trip.unpriced]
    if len(unpriced) == len(trip.lines):
        return
    used = sum((_used(each.line.purchase) for each in trip.lines), Fraction(0))
    yield texts.say(
        "{used}; each {share}; bought {cost}",
        used=money(used),
        share=money(used / home.household.people),
        cost=money(trip.cost),
    )
    if unpriced:
        yield texts.say("without a price: {foods}", foods=", ".join(dict.fromkeys(unpriced)))


def _used(purchase: Purchase | None) -> Fraction:
    """What a purchase costs without what is left of its largest package."""
    if purchase is None or purchase.cost is None or not purchase.packages:
        return Fraction(0)
    return purchase.cost - purchase.left * (purchase.packages[0][1].price or 0)


def _instead(home: _Home) -> Iterator[str]:
    """The first thing that will do for each food, with what is to be known of it."""
    texts = home.household.texts
    for line in (each.line for each in home.trip.lines):
        for other in others_of(line, home.household.folder.pantry, ())[:1]:
            name = other.item.called(texts.language, True)
            if name is None or (other.cooked_only and not _is_cooked(line, home)):
                continue
            notes = [other_amount(other, texts), *_labels(other, texts)]
            yield texts.say(
                "{other} instead of {food} ({notes})",
                other=name,
                food=_said(line, home),
                notes="; ".join(notes),
            )


def _is_cooked(line: Line, home: _Home) -> bool:
    """Whether it is in the dish before the last heat: what comes after stays raw."""
    hot = {step.number for step in home.recipe.steps if on_heat(step)}
    last = max(hot, default=0)
    uses = home.household.uses[home.recipe.key]
    return all(use.step <= last for each in _listed(line, home) for use in uses.of(each))


def _labels(other: Other, texts: Texts) -> Iterator[str]:
    """What no listed ingredient's label has said: the other food is another packet."""
    item = other.item
    if item.allergens:
        yield texts.say("contains {what}", what=", ".join(map(texts.say, sorted(item.allergens))))
    if item.check_label:
        yield texts.say(
            "check the label for {what}", what=", ".join(map(texts.say, sorted(item.check_label)))
        )


def _left(home: _Home, date: datetime.date) -> Iterator[str]:
    """What must be thought of, the first to spoil first, and another dish that takes it."""
    texts = home.household.texts
    lots = [
        (lot, each.line)
        for each in home.trip.lines
        for lot in left_of(each.line, date)
        if (lot.until - date).days <= _SHORT_DAYS
    ]
    is_first = True
    for lot, line in sorted(lots, key=lambda pair: (pair[0].until, _said(pair[1], home))):
        keeps = texts.count(
            "1 day in the {place}",
            "{number} days in the {place}",
            (lot.until - date).days,
            place=texts.say(lot.place),
        )
        dish = _another(home, line) if is_first else ""
        said = texts.say(
            "{food}, {amount}: {keeps}",
            food=_said(line, home),
            amount=lot_amount(lot, texts),
            keeps=keeps,
        )
        is_first = False
        yield texts.say("{what}; also in {dish}", what=said, dish=dish) if dish else said


def _another(home: _Home, line: Line) -> str:
    """The first other dish of the class that uses the same food; empty for none."""
    folder = home.household.folder
    for key, recipe in folder.recipes.items():
        if (
            key != home.recipe.key
            and line.item is not None
            and any(folder.pantry.find(each.name) is line.item for each in recipe.ingredients)
        ):
            return recipe.title
    return ""


def _said(line: Line, home: _Home) -> str:
    """The food as the recipe lists it in the reader's language."""
    return next((each.said for each in _listed(line, home)), line.name)


def _listed(line: Line, home: _Home) -> Iterator[Ingredient]:
    """The ingredients of the recipe that a line is bought for."""
    for each in home.recipe.ingredients:
        item = home.household.folder.pantry.find(each.name)
        if each.name == line.name or (item is not None and item is line.item):
            yield each
