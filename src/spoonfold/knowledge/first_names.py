"""First names that are something else as well."""

from __future__ import annotations

from functools import lru_cache

from spoonfold.knowledge.data import data


@lru_cache(maxsize=1)
def words() -> frozenset[str]:
    """Words of English, Spanish, French and Haitian Creole that children are called, folded."""
    return frozenset(" ".join(data("first-names.json")["words"]).split())


@lru_cache(maxsize=1)
def places_and_months() -> frozenset[str]:
    """Those that always have a capital, so that it tells nothing."""
    return frozenset(" ".join(data("first-names.json")["places and months"]).split())


@lru_cache(maxsize=1)
def dishes() -> tuple[str, ...]:
    """Foods and dishes that are named after somebody."""
    return tuple(data("first-names.json")["dishes"])
