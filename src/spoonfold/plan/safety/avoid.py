"""Whether one food is something that must be avoided: surely, perhaps, or nobody knows.

Allergens go by the pantry, through compound foods (soy sauce is soy and wheat). Patterns such
as “no meat” go by the kinds that the pantry gives each food, and by what hides in some foods
(`knowledge/carriers.json`). Nothing is ever concluded to be safe: a food that isn't in the pantry
stays unknown.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from functools import lru_cache

from spoonfold.knowledge.carriers import Kinds, kinds, made_of
from spoonfold.knowledge.names import fold, singulars
from spoonfold.model.pantry import Item, Pantry
from spoonfold.read.pantry import ALLERGENS, TAGS


class Match(Enum):
    """How surely a food is what is to be avoided; the surest first."""

    CERTAIN = "certain"
    UNKNOWN = "unknown"
    """The pantry doesn't know the food."""
    LABEL = "label"
    """Brands differ: its label says."""
    ASK = "ask"
    """Families differ: some who avoid the one avoid the other."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing to be avoided, and how surely a food is it."""

    avoided: str
    match: Match


_SEA = frozenset({"fish", "crustacean", "mollusc"})
_LAND = frozenset({"meat", "poultry", "beef", "pork", "lamb"})
_ALL_KINDS: Mapping[str, Kinds] = {
    word: Kinds(
        tags=frozenset({word}) if word in TAGS else frozenset(),
        allergens=frozenset({word}) if word in ALLERGENS else frozenset(),
    )
    for word in (*ALLERGENS, *TAGS)
} | dict(kinds())
_SPECIES = _LAND - {"meat"}
_RANKS = {match: rank for rank, match in enumerate(Match)}

_FORMULATED = 4
"""NOVA group 4: a list of ingredients too long to be known from the food's name."""


def finding_of(item: Item | None, avoided: str, pantry: Pantry) -> Match | None:
    """How surely a food is what is to be avoided; None where nothing says that it is.

    `avoided` is an allergen, a tag of the pantry, or the name of any of its foods. None isn't
    a promise: the label in the hand and the family's own word decide.
    """
    if item is None:
        return Match.UNKNOWN
    word = fold(avoided)
    if word in _ALL_KINDS:
        return _by_kind(item, word)
    food = pantry.find(avoided)
    return None if food is None else _by_name(item, food, word)


def findings_of(item: Item | None, avoided: Iterable[str], pantry: Pantry) -> tuple[Finding, ...]:
    """Everything to be avoided that a food is or may be, the surest first."""
    return _findings(item, tuple(avoided), pantry)


# A class has few needs, and many dishes have the same few foods.
@lru_cache(maxsize=1 << 10)
def _findings(item: Item | None, avoided: tuple[str, ...], pantry: Pantry) -> tuple[Finding, ...]:
    found = [
        Finding(word, match)
        for word in dict.fromkeys(avoided)
        if (match := finding_of(item, word, pantry)) is not None
    ]
    return tuple(sorted(found, key=lambda each: _RANKS[each.match]))


def worst(findings: Sequence[Finding]) -> Match | None:
    """The surest of some findings."""
    return min((each.match for each in findings), key=_RANKS.__getitem__, default=None)


def _by_kind(item: Item, word: str) -> Match | None:
    known = _ALL_KINDS[word]
    if item.tags & known.tags or known.allergens.intersection(item.allergens):
        return Match.CERTAIN
    unnamed = word in _SPECIES and "meat" in item.tags and not item.tags & _SPECIES
    # Seafood of which the pantry says no more: which kind it is, only its label tells.
    unnamed = unnamed or (
        word in _SEA
        and "seafood" in item.tags
        and not (_SEA.intersection(item.allergens) or _SEA.intersection(item.check_label))
    )
    if (
        unnamed
        or (
            item.is_family
            and item.check_label
            and "plant" not in item.tags
            and word not in ALLERGENS
        )
        or item.tags & known.label_tags
        or item.name in known.label_foods
        or known.allergens.intersection(item.check_label)
    ):
        return Match.LABEL
    if item.tags & known.ask_tags or item.name in known.ask_foods:
        return Match.ASK
    return None


def _by_name(item: Item, food: Item, word: str) -> Match | None:
    """A free food: itself, what is named after it, and whatever may have it in a long list."""
    if item.name == food.name:
        return Match.CERTAIN
    sought = (food.name, food.plural, word)
    if item.name in made_of().get(word, ()) or item.name in made_of().get(food.name, ()):
        return Match.CERTAIN
    if any(_names(item.name, each) for each in sought):
        return Match.CERTAIN
    if item.processing == _FORMULATED or (
        item.is_family and (item.check_label or any(_names(each, item.name) for each in sought))
    ):
        return Match.LABEL
    # Another name may only liken it (an “alligator pear” is an avocado): the family knows.
    return Match.ASK if any(_names(name, each) for name in item.also for each in sought) else None


def _names(name: str, sought: str) -> bool:
    """Whether a name has another in it as whole words: `garlic` in `garlic powder`."""
    words, wanted = fold(name).split(" "), fold(sought).split(" ")
    return any(
        all(_same(word, want) for word, want in zip(words[start:], wanted, strict=False))
        for start in range(len(words) - len(wanted) + 1)
    )


def _same(word: str, other: str) -> bool:
    return word == other or word in singulars(other) or other in singulars(word)
