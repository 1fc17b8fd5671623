"""How many eat, at each table and in the whole class: eaters aren't only cooks."""

from __future__ import annotations

from fractions import Fraction

from spoonfold.model.classroom import Setting


def eaters_at_tables(setting: Setting) -> tuple[int, ...]:
    """People who eat at each table: its children, and its helpers where helpers eat.

    Helpers are spread as evenly as they go, the first tables first. The lead cook tastes
    from the pot and isn't counted.
    """
    tables = len(setting.tables)
    helpers = setting.helpers if setting.helpers_eat else 0
    return tuple(
        children + helpers // tables + (index < helpers % tables)
        for index, children in enumerate(setting.tables)
    )


def portions_at_tables(setting: Setting) -> tuple[Fraction, ...]:
    """Portions to make at each table; a tasting is a part of a portion for each."""
    return tuple(count * setting.portion for count in eaters_at_tables(setting))
