"""Foods, tools and habits that can hurt a child whatever the dish, with their sources."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from spoonfold.knowledge.data import data


@dataclass(frozen=True, slots=True)
class Danger:
    """Foods that are refused unless the words say what makes them safe."""

    code: str
    name: str
    """Of its list of words: its code may have several rows."""
    foods: tuple[str, ...]
    """What they are called, in words without hyphens."""
    say: str
    """What is told of them; `{words}` stands for what was found."""
    write: str
    """What to write instead."""
    answered_by: frozenset[str]
    """Words of a step that make them safe; empty: nothing does."""
    answered_in_line: frozenset[str]
    """Words of their own line that make them another food, or safe."""
    beside: frozenset[str]
    """Looked for only where the list has one of these; empty: everywhere."""
    in_list: bool
    """They are looked for in the list."""
    in_steps: bool
    """They are looked for in the steps."""
    ages_below: int | None
    """Refused only where a child may be younger than this."""


@cache
def _known() -> Mapping[str, Any]:
    known: Mapping[str, Any] = data("dangers.json")
    return known


@cache
def dangers() -> tuple[Danger, ...]:
    """Every food of this kind that is known."""
    return tuple(
        Danger(
            row["code"],
            f"{row['code']} {number}",
            tuple(row["foods"]),
            row["say"],
            row["write"],
            frozenset(row["answered by"]),
            frozenset(row.get("answered in its line", ())),
            frozenset(row.get("beside", ())),
            row.get("also in list", True),
            row.get("also in steps", False),
            row.get("ages below"),
        )
        for number, row in enumerate(_known()["rows"])
    )


@cache
def danger_words() -> Mapping[str, tuple[str, ...]]:
    """Every list of names and words, by its code or its name in the file."""
    lists = {row.name: row.foods for row in dangers()}
    lists |= {
        name: tuple(each["words"])
        for name, each in _known().items()
        if isinstance(each, dict) and "words" in each
    }
    return lists


@cache
def boil_minutes() -> int:
    """How long dry kidney beans boil at least."""
    return int(_known()["dry beans"]["boil minutes"])


@cache
def not_dry() -> frozenset[str]:
    """Words that say of beans that they were cooked before."""
    return frozenset(_known()["dry beans"]["not"])


@cache
def keeps_warm() -> frozenset[str]:
    """Foods of the pantry that a refrigerator keeps longer, and that spoil no child without it."""
    return frozenset(_known()["keeps warm"]["words"])


@cache
def keeping_words(name: str) -> frozenset[str]:
    """The single words of one list of how food is kept: “jars”, “keeps”, “acid or sugar”."""
    return frozenset(_known()["keeping"][name])


@cache
def spoils_open() -> frozenset[str]:
    """Foods of the pantry in cans, jars and cartons that need the cold once they are open."""
    return frozenset(_known()["spoils open"]["words"])
