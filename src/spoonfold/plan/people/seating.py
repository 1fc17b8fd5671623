"""Who sits where: a seat keeps its letter for the season, even when tables change for a day."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import count

_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


def seat_letter(seat: int) -> str:
    """The letter of a seat, counted from 0: A to Z, then AA, AB ..."""
    letters = ""
    seat += 1
    while seat:
        seat, rest = divmod(seat - 1, len(_LETTERS))
        letters = _LETTERS[rest] + letters
    return letters


def seats_at_tables(usual: Sequence[int], today: Sequence[int]) -> tuple[tuple[int, ...], ...]:
    """The seats at each table of a day, counted from 0 through the class as it usually sits.

    `usual` and `today` are children at each table. Who can, stays at the usual table: a table's
    needs are those of the children who sit there. Only who finds no room moves, and only a child
    beyond the usual number gets a new letter.
    """
    home: list[list[int]] = []
    first = 0
    for children in usual:
        home.append(list(range(first, first + children)))
        first += children
    own = [home[table][:size] if table < len(home) else [] for table, size in enumerate(today)]
    staying = {seat for seats in own for seat in seats}
    moving = [seat for seats in home for seat in seats if seat not in staying]
    new = count(first)
    for seats, size in zip(own, today, strict=True):
        while len(seats) < size:
            seats.append(moving.pop(0) if moving else next(new))
    return tuple(map(tuple, own))
