"""The sorts of words, and the English words by which a Spanish sentence is put together."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from spoonfold.kitchen.spanish.forms import Form


class Sort(StrEnum):
    """What a run of words is."""

    VERB = "verb"
    NOUN = "noun"
    FOOD = "food"
    ADJECTIVE = "adjective"
    PERSON = "person"
    MODAL = "modal"
    SMALL = "small"
    PHRASE = "phrase"
    SIGN = "sign"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Word:
    """A run of words and what English says of it."""

    sort: Sort
    said: str
    begin: int
    """Its first character in the text."""
    end: int
    bare: str
    form: Form | None = None
    """Of a verb."""
    pronoun: str = ""
    """`it` or `them`, where a verb has it at its end or in front."""
    reflexive: bool = False
    """`se` stands with it."""


FINITE = frozenset({Form.COMMAND, Form.WISH, Form.OTHER})
DETERMINERS = frozenset(
    {
        "the",
        "a",
        "some",
        "your",
        "this",
        "these",
        "that",
        "those",
        "each",
        "all",
        "both",
        "two",
        "three",
        "four",
        "five",
        "six",
        "seven",
        "eight",
        "nine",
        "ten",
        "twelve",
        "several",
        "another",
        "few",
        "plenty of",
    }
)
PREPOSITIONS = frozenset(
    {
        "in",
        "on",
        "over",
        "under",
        "with",
        "without",
        "to",
        "to the",
        "of",
        "of the",
        "for",
        "by",
        "between",
        "from",
        "near",
        "instead of",
        "against",
        "toward",
        "around",
        "through",
        "behind",
    }
)
TAILS = frozenset(
    {
        "until",
        "when",
        "once",
        "while",
        "if",
        "so that",
        "because",
        "although",
        "which",
        "who",
        "where",
        "before",
        "after",
        "for which",
        "as",
    }
)
JOINS = frozenset({"and", "or", "but", "then", "nor"})
IS = frozenset({"is", "are", "be"})
BEING = frozenset({"este", "esta", "esten", "estan"})
"""Without their accents, “this” and “is” are one."""
ADVERBS = frozenset({"very", "well", "almost", "still", "already", "more", "too", "less", "just"})
OBJECTS = {"lo": "it", "la": "it", "le": "it", "los": "them", "las": "them", "les": "them"}
DROPPED = frozenset({"me", "te", "nos", "os", "le", "les"})
MADE = frozenset(
    {
        "sauce",
        "soup",
        "broth",
        "juice",
        "puree",
        "salad",
        "cake",
        "paste",
        "dough",
        "cream",
        "dressing",
        "stew",
        "filling",
        "mix",
        "batter",
        "jam",
        "smoothie",
        "oil",
        "vinegar",
        "flour",
        "cheese",
        "bread",
        "breast",
        "thigh",
        "fillet",
        "loin",
        "wing",
        "meat",
        "sausage",
        "leaf",
        "steak",
        "milk",
        "seed",
        "skin",
        "shell",
        "peel",
        "butter",
        "breasts",
        "thighs",
        "fillets",
        "wings",
        "leaves",
        "seeds",
        "shoulder",
        "rib",
        "ribs",
        "patties",
        "patty",
        "cookie",
        "cookies",
        "skewer",
        "skewers",
    }
)
TAKES_OUT = frozenset({"take", "remove", "transfer", "lift"})
LEFT = frozenset(
    {
        "refrigerator",
        "freezer",
        "cooler",
        "oven",
        "heat",
        "skillet",
        "pot",
        "water",
        "fire",
        "stove",
        "griddle",
        "burner",
        "microwave",
        "grill",
        "pan",
        "tray",
        "plate",
        "baking pan",
        "marinade",
        "can",
        "bowl",
    }
)
"""What food is taken out of or off."""
BAKES = frozenset({"bake", "roast", "broil", "fry", "deep-fry", "simmer"})
"""What happens “a 180 °C”: so hot is what heats, and not the food."""
CARRIED_ON = frozenset({"put", "take", "pour", "bring"})
"""What may stand in front of “a hervir”, where only what follows is meant."""
