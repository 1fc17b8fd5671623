"""How many eat, at each table and in the whole class: eaters aren't only cooks."""

from __future__ import annotations

from fractions import Fraction

from spoonfold.model.classroom import Setting


def eaters_at_tables(setting: Setting) -> tuple[int, ...]:
    """People who eat at each table: its children, its helpers where helpers eat, its guests.

    The lead cook tastes from the pot and isn't counted. Nobody eats where no child sits.
    """
    return tuple(
        sum(people)
        for people in zip(
            setting.tables, helpers_at_tables(setting), guests_at_tables(setting), strict=True
        )
    )


def helpers_at_tables(setting: Setting) -> tuple[int, ...]:
    """Helpers who eat at each table, as evenly as they go, the first tables first."""
    return _spread(setting.helpers if setting.helpers_eat else 0, setting.tables)


def guests_at_tables(setting: Setting) -> tuple[int, ...]:
    """Guests at each table, as evenly as they go, the last tables first: the first have the odd
    helper."""
    return _spread(setting.guests, setting.tables[::-1])[::-1]


def _spread(people: int, tables: tuple[int, ...]) -> tuple[int, ...]:
    """So many people over the tables at which children sit."""
    taken = [index for index, children in enumerate(tables) if children]
    found = [0] * len(tables)
    for turn, index in enumerate(taken):
        found[index] = people // len(taken) + (turn < people % len(taken))
    return tuple(found)


def portions_at_tables(setting: Setting) -> tuple[Fraction, ...]:
    """Portions to make at each table; a tasting is a part of a portion for each."""
    return tuple(count * setting.portion for count in eaters_at_tables(setting))
