"""A shopping list for a terminal, and what comes of the season."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping, Sequence

from spoonfold.language.amounts import amounts_text
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom
from spoonfold.model.folder import ClassFolder
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.shop.left import Stock, Trip, stock_of, trips_of, with_children
from spoonfold.press.rows import comma_separated
from spoonfold.sheets.shopping import (
    Shopping,
    ShoppingRow,
    corner_table,
    shopping_of,
    shopping_table,
)
from spoonfold.sheets.shopping.words import bought_text, day_short, loosely_one, money

_BOX = "[ ] "
_BUY = 26
"""Columns for what to buy; the rest of the line is what it is, and its price."""
_PRICE = 8


def shop_text(
    folder: ClassFolder,
    classroom: Classroom,
    uses: Mapping[str, Uses],
    number: int | None,
    children: int | None,
    *,
    corner: bool,
    as_csv: bool,
    width: int,
) -> str:
    """The list of one session, or of the season where no number is given.

    `children` come to that session instead of those who were expected.
    """
    texts = Texts("en")
    sessions = [
        with_children(session, children) if children and session.number == number else session
        for session in classroom.sessions
    ]
    trips = trips_of(sessions, folder.recipes, uses, folder.pantry)
    asked = [trip for trip in trips if number in (None, trip.session.number)]
    if number is None and not corner and not as_csv:
        return season_list(trips, stock_of(trips), width)
    sheets = [shopping_of(folder, classroom, trip, texts) for trip in asked]
    if as_csv:
        return comma_separated((corner_table if corner else shopping_table)(sheets))
    show = corner_list if corner else session_list
    return "\n\n".join(show(sheet, width) for sheet in sheets)


def session_list(sheet: Shopping, width: int) -> str:
    """One session's list, by section."""
    lines = [*_head(sheet, width)]
    for section in sheet.sections:
        lines += ["", section.title.upper()]
        for row in section.rows:
            lines += _row(row, width)
    return "\n".join(lines)


def corner_list(sheet: Shopping, width: int) -> str:
    """What a small shop has instead."""
    lines = [*_head(sheet, width, costs=False), "", "AT A SMALL SHOP ON THE CORNER"]
    if not sheet.corner:
        lines.append("Nothing on this list has a canned, frozen or dried form that we know.")
    for row in sheet.corner:
        lines += _beside(_BOX + row.instead_of, f"{row.name}: {row.buy}", width)
        lines += [line for note in row.notes for line in _beside("", note, width)]
    return "\n".join(lines)


def season_list(trips: Sequence[Trip], stock: Sequence[Stock], width: int) -> str:
    """Every session's cost, and what is cheaper bought once."""
    texts = Texts("en")
    lines = ["Session  Date    A child  If found  Dishes", "-" * min(width, 72)]
    for trip in trips:
        is_priced = trip.children and len(trip.unpriced) < len(trip.lines)
        a_child = money(trip.cost / trip.children) if is_priced else "-"
        found = money(trip.least / trip.children) if is_priced else "-"
        lead = (
            f"{trip.session.number:>7}  {day_short(trip.session.date, texts):<6}  "
            f"{a_child:>7}  {found:>8}  "
        )
        dishes = ", ".join(dish.text for dish in trip.session.dishes)
        lines += textwrap.wrap(lead + dishes, width, subsequent_indent=" " * len(lead))
        if trip.over:
            lines.append(" " * len(lead) + f"over the budget by {money(trip.over)} a child")
    lines += [
        "",
        *textwrap.wrap(
            "A child: all that the session's list says, bought at the till. If found: without what "
            "earlier sessions should have left. What has no price isn't in the sums.",
            width,
        ),
    ]
    if stock:
        lines += ["", "ONCE FOR THE SEASON: IT KEEPS"]
    for each in stock:
        sessions = ", ".join(map(str, each.sessions))
        amounts = tuple(one for total in each.measured for one in loosely_one(total))
        lines += _beside(
            _BOX + bought_text(each.purchase, texts),
            f"{each.name}: {amounts_text(amounts, texts)} in sessions {sessions} "
            f"(bought each time: {each.apart})",
            width,
        )
    return "\n".join(lines)


def _head(sheet: Shopping, width: int, costs: bool = True) -> Iterator[str]:
    yield from textwrap.wrap(
        f"Session {sheet.number}, {sheet.date}: {'; '.join(sheet.dishes)}. {sheet.for_whom}.", width
    )
    if costs:
        for said in sheet.costs:
            yield from textwrap.wrap(said, width)


def _row(row: ShoppingRow, width: int) -> Iterator[str]:
    what = f"{row.name}: {row.need}" if row.need else row.name
    first, *rest = _beside(_BOX + row.buy, what, width - _PRICE)
    yield f"{first:<{width - _PRICE}}{row.price:>{_PRICE}}" if row.price else first
    yield from rest
    notes = []
    if row.look:
        notes.append(f"Look first: {row.look}. Found: buy {row.if_found}.")
    if row.label:
        notes.append(f"Label must not name {row.label}.")
    if row.brands:
        notes.append(f"Some brands contain {row.brands}.")
    for note in (*notes, *row.notes):
        yield from _beside("", note, width)


def _beside(left: str, right: str, width: int) -> list[str]:
    """Two texts side by side, each wrapped in its own column."""
    lefts = textwrap.wrap(left, _BUY - 2, subsequent_indent=" " * len(_BOX)) or [""]
    rights = textwrap.wrap(right, max(width - _BUY, 20)) or [""]
    rows = max(len(lefts), len(rights))
    lefts += [""] * (rows - len(lefts))
    rights += [""] * (rows - len(rights))
    return [f"{one:<{_BUY}}{two}".rstrip() for one, two in zip(lefts, rights, strict=True)]
