"""What stands in for a food by what it does in a dish: egg that binds, flour that thickens."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from spoonfold.knowledge.data import data


@dataclass(frozen=True, slots=True)
class StandIn:
    """One row of a substitution table."""

    foods: tuple[str, ...]
    """What it stands in for, by the pantry's names."""
    function: str
    """What that food does there; empty where it does one thing in every dish."""
    of: tuple[Fraction, str]
    """So much of the food, and its unit; empty: pieces."""
    use: tuple[Fraction, str]
    name: str
    preparation: str
    effect: str
    """What it does to the dish; mostly not empty."""
    not_for: str
    source: str
    """Empty: from memory."""


@cache
def stand_ins() -> Sequence[StandIn]:
    """Every row, the usual one of a function first."""
    read = data("functions.json")
    return tuple(
        StandIn(
            tuple(row["foods"]),
            row["function"],
            _amount(row["for"]),
            _amount(row["use"]),
            row["name"],
            row["preparation"],
            row["effect"],
            row["not for"],
            read["sources"].get(row["source"], ""),
        )
        for row in read["rows"]
    )


def _amount(written: Sequence[str]) -> tuple[Fraction, str]:
    number, unit = written
    return sum((Fraction(part) for part in number.split()), Fraction(0)), unit
