"""Words that cooks write for many foods at once: chicken, cheese, nuts, broth."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from spoonfold.knowledge.data import data
from spoonfold.knowledge.names import bare


@dataclass(frozen=True, slots=True)
class Family:
    """What a food of the family is, as far as its word alone tells."""

    name: str
    raw: str | None
    """The worst raw hazard of any of them, in the pantry's words; None: they are eaten as sold."""
    allergens: tuple[str, ...]
    """What most of them have."""
    check_label: tuple[str, ...]
    """What some brands have."""
    tags: tuple[str, ...]
    """What kind of food all of them are, in the pantry's words."""
    often_a_verb: bool
    source: str

    @property
    def is_sure(self) -> bool:
        """Whether most of them have something for sure."""
        return bool(self.allergens or self.tags)

    @property
    def known_by(self) -> tuple[str, ...]:
        """What a listed food of the family carries, so that its sheets tell of it already: what
        most have, or where they differ what labels say."""
        return (*self.allergens, *self.tags) or self.check_label


@lru_cache(maxsize=1)
def families() -> Mapping[str, Family]:
    """Each family, by every word for it."""
    known: dict[str, Family] = {}
    for row in data("families.json"):
        for word in (row["family"], *row.get("also", ())):
            known[word] = Family(
                word,
                row.get("raw"),
                tuple(row.get("allergens", ())),
                tuple(row.get("check label", ())),
                tuple(row.get("tags", ())),
                row.get("often a verb", False),
                row["source"],
            )
    return known


@lru_cache(maxsize=4)
def family_names(language: str) -> Mapping[str, str]:
    """The name of each family, by every word for it in another language, without accents."""
    return {
        bare(word): row["family"] for row in data("families.json") for word in row.get(language, ())
    }
