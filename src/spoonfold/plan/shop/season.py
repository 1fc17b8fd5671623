"""A late change of a session, and what can be bought once for the season."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from spoonfold.model.classroom import Session
from spoonfold.model.pantry import Item
from spoonfold.plan.amounts.total import added
from spoonfold.plan.shop.left import Trip, best_place
from spoonfold.plan.shop.portion import Part, scale_for
from spoonfold.plan.shop.shop import Line, Need, Purchase, purchase_for
from spoonfold.quantity.amount import Amount


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
