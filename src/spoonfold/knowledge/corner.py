"""What a small shop has instead: canned, frozen, dried and bottled for fresh, and back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import Any

from spoonfold.knowledge.data import data


@dataclass(frozen=True, slots=True)
class Instead:
    """Which foods do for which others, by how they are measured against each other."""

    by_weight: Mapping[str, tuple[str, ...]]
    """The same edible weight."""
    only_cooked: frozenset[str]
    """Foods of which the others are fit to be cooked, not for what is eaten raw."""
    cups_a_pound: Mapping[tuple[str, str], Fraction]
    """Cups of cooked beans that a pound of dry ones gives, by (canned, dry)."""
    by_spoon: Mapping[str, tuple[str, Fraction]]
    """The dried one, and its share of the fresh one's volume."""
    by_clove: Mapping[str, tuple[str, Fraction]]
    """The powder, and teaspoons of it for a clove."""
    juices: Mapping[str, str]
    """Bottled juice."""


@lru_cache(maxsize=1)
def instead() -> Instead:
    """All of it."""
    by: dict[str, list[dict[str, Any]]] = {}
    for row in data("corner.json")["instead"]:
        by.setdefault(row["by"], []).append(row)
    return Instead(
        {row["food"]: tuple(row["instead"]) for row in by["weight"]},
        frozenset(row["food"] for row in by["weight"] if row.get("only cooked")),
        {
            (row["food"], row["instead"][0]): Fraction(row["quarter cups"]) / 4
            for row in by["cooked cups of a pound"]
        },
        {row["food"]: (row["instead"][0], Fraction(row["share"])) for row in by["spoon"]},
        {row["food"]: (row["instead"][0], Fraction(row["teaspoons"])) for row in by["clove"]},
        {row["food"]: row["instead"][0] for row in by["juice"]},
    )


@lru_cache(maxsize=1)
def all_food() -> frozenset[str]:
    """Canned foods of which nothing is poured away."""
    return frozenset(data("corner.json")["all food"]["foods"])
