"""How long kitchen work takes, and what the times of boiling are worked out from."""

from __future__ import annotations

from fractions import Fraction
from functools import cache

from spoonfold.knowledge.data import data


@cache
def _values() -> dict[str, Fraction]:
    return {row["what"]: Fraction(row["value"]) for row in data("times.json")}


def known_time(what: str) -> Fraction:
    """The value of a row of `times.json`, in what the row says.

    Raises KeyError where there is none: what asks names its row.
    """
    return _values()[what]
