"""Words of a step that mean several listed foods at once: the vegetables, everything."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from spoonfold.knowledge.data import data


@dataclass(frozen=True, slots=True)
class Collective:
    """One such group of words, and which foods it means."""

    said: re.Pattern[str]
    is_all: bool
    sections: frozenset[str]
    """Of the pantry."""
    tags: frozenset[str]
    """One of them does where the section doesn't."""
    without: frozenset[str]
    foods: frozenset[str]
    """By the pantry's names."""

    def means(self, name: str, section: str, tags: frozenset[str]) -> bool:
        """Whether a food is meant, as the pantry calls and describes it."""
        if not self.without.isdisjoint(tags):
            return False
        by_kind = section in self.sections or not self.tags.isdisjoint(tags)
        return self.is_all or by_kind or name in self.foods


@cache
def collectives() -> Sequence[Collective]:
    """Every group, in the order of the list."""
    return tuple(
        Collective(
            re.compile(rf"\b(?:{'|'.join(row['words'])})\b", re.IGNORECASE),
            row.get("all", False),
            frozenset(row.get("sections", ())),
            frozenset(row.get("tags", ())),
            frozenset(row.get("without", ())),
            frozenset(row.get("foods", ())),
        )
        for row in data("collective.json")["rows"]
    )
