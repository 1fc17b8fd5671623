"""What cooks usually take in place of a food."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from spoonfold.knowledge.data import data


@cache
def replacements() -> Mapping[str, tuple[str, ...]]:
    """By the food that is replaced: others, measure for measure, the usual one first."""
    return {food: tuple(others) for food, others in data("replacements.json")["foods"].items()}
