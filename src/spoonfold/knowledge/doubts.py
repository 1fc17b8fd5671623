"""Words that are known and may still tell of a danger: what is asked about, beside what."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from typing import Any

from spoonfold.knowledge.data import data
from spoonfold.knowledge.habits import Said

_WORD = re.compile(r"[^\W_]+")


class Beside(StrEnum):
    """What makes a word doubtful."""

    MET_RAW = "met raw"
    """Raw meat, fish or egg was handled there, or in a step before."""
    RAW_INSIDE = "raw inside"
    """Raw meat, egg or flour is in it, and no heat was yet."""
    SPOILS = "spoils"
    """Food that spoils, neither cold nor hot."""
    HEAT = "heat"
    """Something is hot, or was in the step before."""
    BLADE = "blade"
    ANYTHING = "anything"


@dataclass(frozen=True, slots=True)
class Doubt:
    """A sentence with a word of each group and none of the others is asked about."""

    beside: Beside
    groups: tuple[Said, ...]
    begins: frozenset[str]
    """The words of which one stands in any step that it asks about, without hyphens and signs."""
    dish: Said | None
    """Of these, one stands anywhere in the steps or the list."""
    unless: Said
    clause: bool
    """Only what stands in the same clause counts."""
    idle: bool
    """Only where the sentence tells nobody to do any work with food."""
    ask: str
    """`{words}` stands for what was found, `{risk}` for the food."""
    write: str

    def met(self, words: Sequence[str], before: Sequence[str] = ()) -> tuple[int, str] | None:
        """What the first group asks for, and where it begins; None: there is nothing to ask.
        Words before may answer it too."""
        found = self.groups[0].found(words)
        if found is None or any(group.at(words) is None for group in self.groups[1:]):
            return None
        return found if self.unless.at((*before, *words)) is None else None


@cache
def doubts() -> tuple[Doubt, ...]:
    """Every row that ships."""
    known = data("doubts.json")
    lists = known["lists"]

    def doubt_of(row: Mapping[str, Any]) -> Doubt:
        groups = tuple(Said(_spelled(group, lists)) for group in row["sentence"])
        return Doubt(
            Beside(row["beside"]),
            groups,
            frozenset(_WORD.findall(" ".join(groups[0].firsts))),
            Said(row["dish"]) if "dish" in row else None,
            Said(_spelled(row.get("unless", ()), lists)),
            row.get("clause", False),
            row.get("idle", False),
            row["ask"],
            row["write"],
        )

    return tuple(map(doubt_of, known["rows"]))


def _spelled(phrases: Iterable[str], lists: Mapping[str, Any]) -> Iterator[str]:
    """The phrases, with every named list in full."""
    for each in phrases:
        yield from lists[each[1:]] if each.startswith("@") else (each,)
