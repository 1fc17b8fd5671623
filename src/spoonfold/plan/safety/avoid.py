"""Whether one food is something that must be avoided: surely, perhaps, or nobody knows.

Allergens go by the pantry, through compound foods (soy sauce is soy and wheat). Patterns such
as “no meat” go by the kinds that the pantry gives each food, by the table below. Hidden
carriers are common practice, from memory. Nothing is ever concluded to be safe: a food that
isn't in the pantry stays unknown.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from functools import lru_cache

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


@dataclass(frozen=True, slots=True)
class _Kinds:
    """What counts as one word of a need, by the tags and allergens of the pantry."""

    tags: frozenset[str] = frozenset()
    allergens: frozenset[str] = frozenset()
    label_tags: frozenset[str] = frozenset()
    ask_tags: frozenset[str] = frozenset()
    label_foods: frozenset[str] = frozenset()
    """Hidden carriers: foods of which some brands are it."""
    ask_foods: frozenset[str] = frozenset()


_SEA = frozenset({"fish", "crustacean", "mollusc"})
_LAND = frozenset({"meat", "poultry", "beef", "pork", "lamb"})
# Some yogurts and creams are set with gelatin (from memory).
_SET_WITH_GELATIN = frozenset(
    {"plain yogurt", "greek yogurt", "sour cream", "ice cream", "cream cheese"}
)
# Some are still made with lard (from memory).
_MADE_WITH_LARD = frozenset({"flour tortilla", "bolillo", "refried beans with lard"})

_KINDS: Mapping[str, _Kinds] = {
    # Wheat is one of the cereals that contain gluten: Regulation (EU) No 1169/2011, Annex II, 1.
    "gluten": _Kinds(allergens=frozenset({"gluten", "wheat"})),
    # Gelatin is made from skins and bones and lard is fat: who eats no animal eats neither.
    # The family that does eat gelatin names the animals instead (poultry, beef ...). Of fish
    # and of rennet in hard cheese the word “meat” doesn't say: the family is asked.
    "meat": _Kinds(
        tags=_LAND | {"gelatin"},
        ask_tags=frozenset({"seafood"}),
        label_foods=_SET_WITH_GELATIN | _MADE_WITH_LARD,
        ask_foods=frozenset({"parmesan cheese"}),
    ),
    # Of gelatin, and of meat without a name, only the label tells the animal.
    "pork": _Kinds(
        tags=frozenset({"pork"}),
        label_tags=frozenset({"gelatin"}),
        label_foods=_SET_WITH_GELATIN | _MADE_WITH_LARD | {"chicken sausage"},
    ),
    "beef": _Kinds(
        tags=frozenset({"beef"}), label_tags=frozenset({"gelatin"}), label_foods=_SET_WITH_GELATIN
    ),
    "lamb": _Kinds(tags=frozenset({"lamb"})),
    "poultry": _Kinds(tags=frozenset({"poultry"})),
    "seafood": _Kinds(tags=frozenset({"seafood"}), allergens=_SEA),
    "gelatin": _Kinds(tags=frozenset({"gelatin"}), label_foods=_SET_WITH_GELATIN),
    "animal": _Kinds(
        tags=_LAND | {"animal", "seafood", "gelatin", "honey"},
        allergens=_SEA | {"milk", "egg"},
        label_foods=_MADE_WITH_LARD,
    ),
    # Extracts carry alcohol; brewed sauces list it; of wine vinegar families think differently.
    "alcohol": _Kinds(
        tags=frozenset({"alcohol"}),
        label_foods=frozenset(
            {"soy sauce", "reduced-sodium soy sauce", "tamari", "teriyaki sauce", "dijon mustard"}
        ),
        ask_foods=frozenset({"red wine vinegar", "white wine vinegar", "balsamic vinegar"}),
    ),
    "honey": _Kinds(
        tags=frozenset({"honey"}),
        label_foods=frozenset(
            {"granola", "graham cracker", "barbecue sauce", "teriyaki sauce", "whole wheat bread"}
        ),
    ),
}
_ALL_KINDS: Mapping[str, _Kinds] = {
    word: _Kinds(
        tags=frozenset({word}) if word in TAGS else frozenset(),
        allergens=frozenset({word}) if word in ALLERGENS else frozenset(),
    )
    for word in (*ALLERGENS, *TAGS)
} | dict(_KINDS)
_SPECIES = _LAND - {"meat"}
_RANKS = {match: rank for rank, match in enumerate(Match)}

# Foods that don't have in their name what they are made of (from memory).
_MADE_OF: Mapping[str, frozenset[str]] = {
    "corn": frozenset(
        {
            "cornstarch",
            "cornmeal",
            "precooked cornmeal",
            "masa harina",
            "polenta",
            "grits",
            "hominy",
            "popcorn kernel",
            "tortilla chip",
            "tostada",
        }
    ),
    "tomato": frozenset({"ketchup", "pasta sauce", "salsa", "barbecue sauce"}),
    "apple": frozenset({"applesauce", "apple cider vinegar"}),
    "chickpea": frozenset({"hummus"}),
    "garlic": frozenset({"hummus", "pesto", "salsa", "pasta sauce", "kimchi", "sriracha"}),
    "onion": frozenset({"salsa", "pasta sauce", "ketchup"}),
    "rice": frozenset({"mirin"}),
    "grape": frozenset(
        {"raisin", "dried currant", "red wine vinegar", "white wine vinegar", "balsamic vinegar"}
    ),
}
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
    kinds = _ALL_KINDS[word]
    if item.tags & kinds.tags or kinds.allergens.intersection(item.allergens):
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
        or item.tags & kinds.label_tags
        or item.name in kinds.label_foods
        or kinds.allergens.intersection(item.check_label)
    ):
        return Match.LABEL
    if item.tags & kinds.ask_tags or item.name in kinds.ask_foods:
        return Match.ASK
    return None


def _by_name(item: Item, food: Item, word: str) -> Match | None:
    """A free food: itself, what is named after it, and whatever may have it in a long list."""
    if item.name == food.name:
        return Match.CERTAIN
    sought = (food.name, food.plural, word)
    if item.name in _MADE_OF.get(word, ()) or item.name in _MADE_OF.get(food.name, ()):
        return Match.CERTAIN
    if any(_names(item.name, each) for each in sought):
        return Match.CERTAIN
    if item.processing == _FORMULATED:
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
