"""What counts as one word of a need, and which foods hide it: by tags, allergens and names."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from spoonfold.knowledge.data import data


@dataclass(frozen=True, slots=True)
class Kinds:
    """What counts as one word of a need, by the tags, allergens and names of the pantry."""

    tags: frozenset[str] = frozenset()
    allergens: frozenset[str] = frozenset()
    label_tags: frozenset[str] = frozenset()
    ask_tags: frozenset[str] = frozenset()
    label_foods: frozenset[str] = frozenset()
    """Hidden carriers: foods of which some brands are it."""
    ask_foods: frozenset[str] = frozenset()
    """Foods of which families think differently."""


@lru_cache(maxsize=1)
def kinds() -> Mapping[str, Kinds]:
    """By the word of the need; a word that isn't there means the tag or the allergen itself."""
    known = data("carriers.json")
    groups = {row["group"]: row["foods"] for row in known["groups"]}
    return {
        row["avoided"]: Kinds(
            tags=frozenset(row.get("tags", ())),
            allergens=frozenset(row.get("allergens", ())),
            label_tags=frozenset(row.get("label tags", ())),
            ask_tags=frozenset(row.get("ask tags", ())),
            label_foods=frozenset(row.get("label foods", ())).union(
                *(groups[group] for group in row.get("label groups", ()))
            ),
            ask_foods=frozenset(row.get("ask foods", ())),
        )
        for row in known["avoided"]
    }


@lru_cache(maxsize=1)
def made_of() -> Mapping[str, frozenset[str]]:
    """Foods that don't have in their name what they are made of, by what that is."""
    return {row["of"]: frozenset(row["foods"]) for row in data("carriers.json")["made of"]}


@lru_cache(maxsize=1)
def household_words() -> Mapping[str, str]:
    """What families say for the allergens and tags of labels and pantry.

    A food of the pantry may bear one of them too (“flour”), but who writes it into a need means
    the allergen.
    """
    words: Mapping[str, str] = data("carriers.json")["household words"]
    return words
