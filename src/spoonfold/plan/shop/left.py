"""Over the season: what should be left of a package, and whether it still keeps.

Nothing is ever subtracted in silence. What should be left is something to look for; beside it
stand what to buy where it is there, and where it isn't.

A late change of a session, and what can be bought once for the season."""

from __future__ import annotations

import datetime
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from spoonfold.model.classroom import Session
from spoonfold.model.pantry import Item, Keeping, Package, Pantry
from spoonfold.model.recipe import Recipe
from spoonfold.plan.amounts.total import added
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.shop.portion import Part, held, scale_for
from spoonfold.plan.shop.shop import Line, Need, Purchase, purchase_for, session_lines
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.unit import PIECE, Dimension, Unit

_LEAST = Fraction(1, 8)
"""Of less than this share of a package nobody counts on finding it (common practice)."""

_AFTER_TASTING = Fraction(1, 2)
"""What is taken as needed has no amount: half of the package is said to be left."""


@dataclass(frozen=True, slots=True)
class Lot:
    """What should be left of one package."""

    package: Package
    share: Fraction
    since: datetime.date
    """The session for which it was bought."""
    until: datetime.date
    """The last day that it keeps."""
    place: str
    """`cupboard`, `fridge` or `freezer`."""


@dataclass(frozen=True, slots=True)
class SeasonLine:
    """A line of a session, with what should be there already."""

    line: Line
    at_hand: tuple[Lot, ...] = ()
    """Where to look first."""
    instead: Purchase | None = None
    """What to buy where all of that is there; None: nothing at hand to count on."""


@dataclass(frozen=True, slots=True)
class Trip:
    """The shopping for one session."""

    session: Session
    lines: tuple[SeasonLine, ...]

    @property
    def children(self) -> int:
        """How many cook."""
        return sum(self.session.setting.tables)

    @property
    def cost(self) -> Fraction:
        """At the till, where everything is bought; what has no price isn't in it."""
        return sum((_cost(each.line.purchase) for each in self._surely), Fraction(0))

    @property
    def least(self) -> Fraction:
        """At the till, where everything is found that should be left."""
        return sum(
            (
                _cost(each.line.purchase if each.instead is None else each.instead)
                for each in self._surely
            ),
            Fraction(0),
        )

    @property
    def unpriced(self) -> tuple[Line, ...]:
        """Lines whose cost isn't known."""
        return tuple(
            each.line
            for each in self._surely
            if each.line.purchase is None or each.line.purchase.cost is None
        )

    @property
    def over(self) -> Fraction:
        """How far the cost of a child is above the budget; 0 where it isn't, or there is none."""
        budget = self.session.setting.budget
        if budget is None or not self.children:
            return Fraction(0)
        return max(Fraction(0), self.cost / self.children - budget)

    @property
    def _surely(self) -> tuple[SeasonLine, ...]:
        return tuple(each for each in self.lines if not each.line.only_if)


def _cost(purchase: Purchase | None) -> Fraction:
    return Fraction(0) if purchase is None or purchase.cost is None else purchase.cost


def trips_of(
    sessions: Sequence[Session],
    recipes: Mapping[str, Recipe],
    uses: Mapping[str, Uses],
    pantry: Pantry,
) -> tuple[Trip, ...]:
    """The shopping for every session, by date: each looks first for what the ones before
    should have left."""
    shelf: dict[str, tuple[Lot, ...]] = {}
    trips = []
    for session in sorted(sessions, key=lambda each: (each.date, each.number)):
        lines = session_lines(session, recipes, uses, pantry)
        trips.append(Trip(session, tuple(_with_shelf(line, session.date, shelf) for line in lines)))
    return tuple(trips)


def _with_shelf(line: Line, date: datetime.date, shelf: dict[str, tuple[Lot, ...]]) -> SeasonLine:
    """The line beside what is on the shelf, and the shelf as the session leaves it."""
    item = line.item
    if item is None or line.only_if or line.purchase is None:
        return SeasonLine(line)
    lots = tuple(lot for lot in shelf.get(item.name, ()) if lot.until >= date)
    sizes = [_size(lot, line, item) for lot in lots]
    there = tuple(lot for lot, size in zip(lots, sizes, strict=True) if size is not None)
    known = [size for size in sizes if size is not None]
    if not there:
        shelf[item.name] = lots + _new(line, line.purchase, item, date)
        return SeasonLine(line)
    if line.need is None:
        # Taken as needed: some is there, and nobody knows how much of it will go.
        shelf[item.name] = lots
        return SeasonLine(line, there, Purchase((), Fraction(0), Fraction(0)))
    instead = purchase_for(line.need, item, sum(known, Fraction(0)))
    assert instead is not None
    rest = _used_up(lots, sizes, line.need.size)
    shelf[item.name] = rest + _new(line, instead, item, date)
    # Where as much must be bought as without it, there is nothing to look for.
    same = instead.packages == line.purchase.packages
    return SeasonLine(line) if same else SeasonLine(line, there, instead)


def _size(lot: Lot, line: Line, item: Item) -> Fraction | None:
    """How much a lot should still hold, on the scale of the need."""
    if line.need is None:
        return lot.share
    full = held(lot.package.size, line.need.scale, item)
    return None if full is None else full * lot.share


def _used_up(
    lots: Sequence[Lot], sizes: Sequence[Fraction | None], need: Fraction
) -> tuple[Lot, ...]:
    """What is left of the lots, the one that spoils first used first."""
    rest = []
    for lot, size in sorted(
        zip(lots, sizes, strict=True), key=lambda each: (each[0].until, each[0].since)
    ):
        if size is None:
            rest.append(lot)
            continue
        taken = min(size, need)
        need -= taken
        kept = replace(lot, share=lot.share * (1 - taken / size))
        rest += _counted(kept)
    return tuple(rest)


def left_of(line: Line, date: datetime.date) -> tuple[Lot, ...]:
    """What is left of a line that is bought for one dish on that day, as far as it is known to
    keep."""
    if line.item is None or line.purchase is None:
        return ()
    return _new(line, line.purchase, line.item, date)


def _new(line: Line, purchase: Purchase, item: Item, date: datetime.date) -> tuple[Lot, ...]:
    """What a purchase leaves, as far as it is known to keep."""
    if not purchase.packages:
        return ()
    package = purchase.packages[0][1]
    share = purchase.left if line.need is not None else _AFTER_TASTING
    keeping = _keeping(line, item, package)
    place = best_place(keeping)
    if share == 0 or keeping is None or place is None:
        return ()
    until = date + datetime.timedelta(days=keeping.days[place])
    return tuple(_counted(Lot(package, share, date, until, place)))


def _counted(lot: Lot) -> list[Lot]:
    """The lot in whole pieces, where it is counted; none where it is hardly anything."""
    share = lot.share
    if _stays_whole(lot.package.size.unit):
        size = lot.package.size.low
        share = math.floor(share * size) / size
        return [replace(lot, share=share)] if share else []
    return [lot] if share >= _LEAST else []


def _stays_whole(unit: Unit) -> bool:
    """Whether others can be taken out of the package without cutting it."""
    return unit == PIECE or "stays whole" in unit.marks


def _keeping(line: Line, item: Item, package: Package) -> Keeping | None:
    """How long the rest of a package keeps: as opened, unless it is made of whole pieces."""
    unit = package.size.unit
    whole = _stays_whole(unit) or (
        unit.dimension is Dimension.MASS
        and bool(line.measured)
        and all(each.unit == PIECE for each in line.measured)
    )
    if whole or item.opened is None:
        return item.keeps
    return item.opened


def best_place(keeping: Keeping | None) -> str | None:
    """Where it keeps longest; in the freezer only what is sold frozen."""
    if keeping is None or not keeping.days:
        return None
    places = [place for place in keeping.days if place != "freezer"] or list(keeping.days)
    return max(places, key=lambda place: keeping.days[place])


@dataclass(frozen=True, slots=True)
class Stock:
    """One food for several sessions."""

    name: str
    item: Item
    sessions: tuple[int, ...]
    measured: tuple[Amount, ...]
    """The sum of what the sessions measure, without what is taken as needed."""
    purchase: Purchase
    """The best packages for the sum."""
    apart: int
    """How many packages it would be, bought session by session."""


def with_children(session: Session, children: int) -> Session:
    """The session with so many children, spread over its tables as evenly as they go."""
    count = len(session.setting.tables)
    tables = tuple(children // count + (at < children % count) for at in range(count))
    return replace(session, setting=replace(session.setting, tables=tables))


def stock_of(trips: Sequence[Trip]) -> tuple[Stock, ...]:
    """Every food that more than one session measures and that keeps, opened, for all of them."""
    used: dict[str, list[tuple[Trip, Line]]] = {}
    for trip in trips:
        for each in trip.lines:
            if each.line.item is not None and each.line.measured and not each.line.only_if:
                used.setdefault(each.line.item.name, []).append((trip, each.line))
    found = (_stock(uses) for uses in used.values() if len(uses) > 1)
    return tuple(stock for stock in found if stock is not None)


def _stock(uses: Sequence[tuple[Trip, Line]]) -> Stock | None:
    first, last = uses[0][0].session.date, uses[-1][0].session.date
    line = uses[0][1]
    item = line.item
    assert item is not None
    keeping = item.opened or item.keeps
    place = best_place(keeping)
    if keeping is None or place is None or keeping.days[place] <= (last - first).days:
        return None
    parts = [part for _, each in uses for taking in each.takings for part in taking.parts]
    spare = [Part(each.spare, None) for _, each in uses if each.spare is not None]
    scale = scale_for([*parts, *spare], item.packages, item)
    purchase = None if scale is None else purchase_for(Need(*scale), item)
    if purchase is None:
        return None
    return Stock(
        name=line.name,
        item=item,
        sessions=tuple(trip.session.number for trip, _ in uses),
        measured=added((part.amount,) for part in parts),
        purchase=purchase,
        apart=sum(
            count for _, each in uses if each.purchase for count, _ in each.purchase.packages
        ),
    )
