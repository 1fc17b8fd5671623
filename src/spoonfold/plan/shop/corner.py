"""What a small shop on the corner has instead: canned, frozen, dried, to the same edible portion.

Vegetables and fruit go by weight, ready to eat for ready to eat (common practice). Beans go by
the cups of cooked ones that a pound of dry ones gives. Herbs, garlic and ginger go by the
spoonfuls that cooks know. Where no published weight leads from one to the other there is a
name without a number: a number that was guessed is worse than none.

What a recipe itself names instead of an ingredient because of the price, or where the shop has
none."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from spoonfold.knowledge.corner import instead
from spoonfold.model.classroom import Setting
from spoonfold.model.pantry import Item, Package, Pantry
from spoonfold.model.recipe import Recipe
from spoonfold.plan.amounts.convert import CUP, GRAM, POUND, TBSP, TSP, grams_of_one, known_unit
from spoonfold.plan.amounts.eaters import portions_at_tables
from spoonfold.plan.safety.avoid import Finding, findings_of
from spoonfold.plan.safety.needs import replaced
from spoonfold.plan.shop.portion import Kind, Part, Scale, as_purchased, held, needed, scale_for
from spoonfold.plan.shop.shop import Line, Need, Purchase, purchase_for
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.unit import size_in


class State(Enum):
    """How the other one is sold."""

    CANNED = "canned"
    FROZEN = "frozen"
    DRIED = "dried"
    BOTTLED = "bottled"


@dataclass(frozen=True, slots=True)
class Other:
    """Something that will do instead."""

    item: Item
    state: State
    amount: Amount | None
    """The same edible portion, to measure or to weigh drained; None: nothing published says."""
    drained: bool
    purchase: Purchase | None
    """By the author's packages, or by cans as they are usually sold."""
    cooked_only: bool
    """Fit to be cooked, not for what is eaten raw."""
    findings: tuple[Finding, ...]


_CAN = Package(
    Amount(Fraction(1), known_unit("can"), None, None, Amount(Fraction(15), known_unit("oz"))), None
)
"""The can that shops have most often, where the author lists none (common practice)."""


def others_of(line: Line, pantry: Pantry, words: tuple[str, ...]) -> tuple[Other, ...]:
    """What will do instead of a line; `words` are what the session's needs avoid."""
    item = line.item
    if item is None or not line.measured:
        return ()
    parts = tuple(part for taking in line.takings for part in taking.parts)
    found = [
        *_by_weight(item, parts, pantry, words),
        *_beans(item, parts, pantry, words),
        *_by_spoon(item, parts, pantry, words),
        *_juices(line, item, parts, pantry, words),
    ]
    return tuple(found)


def _by_weight(
    item: Item, parts: tuple[Part, ...], pantry: Pantry, words: tuple[str, ...]
) -> list[Other]:
    found = []
    grams = _grams(parts, item)
    known = instead()
    for name in known.by_weight.get(item.name, ()):
        other = pantry.find(name)
        if other is not None:
            state = State.FROZEN if other.section == "frozen" else State.CANNED
            found.append(_other(other, state, grams, pantry, words, item.name in known.only_cooked))
    return found


def _beans(
    item: Item, parts: tuple[Part, ...], pantry: Pantry, words: tuple[str, ...]
) -> list[Other]:
    found = []
    for (canned, dry), cups in instead().cups_a_pound.items():
        if item.name not in (canned, dry):
            continue
        other = pantry.find(dry if item.name == canned else canned)
        tin = item if item.name == canned else other
        cup = grams_of_one(tin, CUP, None, "drained") if tin else None
        if other is None or cup is None:
            continue
        grams = _grams(parts, item)
        a_pound = size_in(POUND, GRAM)
        if grams is not None:
            # Cups of cooked beans lead from one to the other.
            grams = (
                grams / cup[0] / cups * a_pound if item is tin else grams / a_pound * cups * cup[0]
            )
        state = State.DRIED if item is tin else State.CANNED
        found.append(_other(other, state, grams, pantry, words))
    return found


def _by_spoon(
    item: Item, parts: tuple[Part, ...], pantry: Pantry, words: tuple[str, ...]
) -> list[Other]:
    known = instead()
    name, share = known.by_spoon.get(item.name, ("", Fraction(0)))
    tsp = needed(parts, Scale(Kind.VOLUME), item) if name else None
    if item.name in known.by_clove:
        name, share = known.by_clove[item.name]
        clove = Amount(Fraction(1), known_unit("clove"))
        tsp = needed(parts, Scale(Kind.PIECES, clove), item)
    other = pantry.find(name) if name else None
    if other is None:
        return []
    amount = None if tsp is None else Amount(_eighths(tsp * share), TSP)
    if amount is not None and amount.low >= size_in(TBSP, TSP):
        amount = Amount(_halves(amount.to(TBSP).low), TBSP)
    return [Other(other, State.DRIED, amount, False, None, True, findings_of(other, words, pantry))]


def _juices(
    line: Line, item: Item, parts: tuple[Part, ...], pantry: Pantry, words: tuple[str, ...]
) -> list[Other]:
    """Bottled juice for fruit of which only the juice is used."""
    bottled = instead().juices.get(item.name)
    other = pantry.find(bottled) if bottled else None
    uses = [said for taking in line.takings for said in taking.preparations]
    juice = item.pieces.get("juice")
    if other is None or juice is None or not uses or not all("juice" in said for said in uses):
        return []
    count = needed(parts, Scale(Kind.PIECES, parts[0].amount.times(1 / parts[0].amount.low)), item)
    spoon = grams_of_one(other, TBSP, None, None)
    amount = None
    if count is not None and spoon is not None and juice.amount.unit == GRAM:
        amount = Amount(_halves(count * juice.amount.low / spoon[0]), TBSP)
    return [
        Other(other, State.BOTTLED, amount, False, None, False, findings_of(other, words, pantry))
    ]


def _grams(parts: tuple[Part, ...], item: Item) -> Fraction | None:
    """The edible portion in grams: drained, of what is drained."""
    drained = needed(parts, Scale(Kind.DRAINED), item)
    return needed(parts, Scale(Kind.WEIGHT), item) if drained is None else drained


def _other(
    other: Item,
    state: State,
    grams: Fraction | None,
    pantry: Pantry,
    words: tuple[str, ...],
    cooked_only: bool = False,
) -> Other:
    """So many grams to eat of another food, as it is sold."""
    drained = state is State.CANNED and any(each.form == "drained" for each in other.weights)
    purchase = amount = None
    if grams is not None:
        scale = Scale(Kind.DRAINED if drained else Kind.WEIGHT)
        purchase = purchase_for(Need(scale, grams), other)
        if purchase is None and state is State.CANNED:
            size = held(_CAN.size, scale, other)
            if size is not None:
                count = math.ceil(grams / size)
                purchase = Purchase(((count, _CAN),), None, count - grams / size)
        weight = grams if drained else as_purchased(grams, other)
        amount = Amount(Fraction(math.ceil(weight)), GRAM)
    return Other(
        other, state, amount, drained, purchase, cooked_only, findings_of(other, words, pantry)
    )


def _eighths(tsp: Fraction) -> Fraction:
    """Up to the next eighth of a spoon."""
    return Fraction(math.ceil(tsp * 8), 8)


def _halves(spoons: Fraction) -> Fraction:
    """Up to the next half of a spoon."""
    return Fraction(math.ceil(spoons * 2), 2)


PRICE = "price"
SHOP = "shop"
"""Where the shop has none."""


@dataclass(frozen=True, slots=True)
class StandIn:
    """A swap for no need, for the whole class: for the price, or where the shop has none."""

    dish: str
    because: str
    name: str
    item: Item | None
    amount: Amount | None
    """Multiplied exactly; None: as needed."""
    purchase: Purchase | None
    findings: tuple[Finding, ...]
    """What the needs of the session have to do with it."""


def stand_ins_of(
    line: Line,
    recipes: Mapping[str, Recipe],
    setting: Setting,
    pantry: Pantry,
    words: tuple[str, ...],
) -> tuple[StandIn, ...]:
    """The swaps for no need of the dishes that take a line, as it is listed."""
    found = []
    portions = sum(portions_at_tables(setting), Fraction(0))
    for taking in line.takings:
        recipe = recipes[taking.dish]
        for swap in recipe.swaps:
            same = any(pantry.find(each.name) == line.item for each in replaced(recipe, swap))
            reason = swap.because.text
            if taking.tables or reason not in (PRICE, SHOP) or line.item is None or not same:
                continue
            item = pantry.find(swap.use.name)
            amount = swap.use.amount
            amount = None if amount is None else amount.times(portions / recipe.serves)
            purchase = None
            if item is not None and amount is not None:
                scale = scale_for((Part(amount, swap.use.preparation),), item.packages, item)
                purchase = None if scale is None else purchase_for(Need(*scale), item)
            found.append(
                StandIn(
                    recipe.key,
                    reason,
                    swap.use.name,
                    item,
                    amount,
                    purchase,
                    findings_of(item, words, pantry),
                )
            )
    return tuple(found)
