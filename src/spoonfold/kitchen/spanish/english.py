"""The sorts of words, and the English words by which a Spanish sentence is put together."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from spoonfold.kitchen.spanish.forms import Form
from spoonfold.knowledge.lexicons import lexicon_of


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
_WORDS = lexicon_of("es")["english"]


def _words(name: str) -> frozenset[str]:
    return frozenset(_WORDS[name])


DETERMINERS = _words("determiners")
PREPOSITIONS = _words("prepositions")
TAILS = _words("tails")
JOINS = _words("joins")
IS = _words("is")
BEING = _words("being")
"""Without their accents, “this” and “is” are one."""
ADVERBS = _words("adverbs")
OBJECTS: Mapping[str, str] = _WORDS["objects"]
DROPPED = _words("dropped")
MADE = _words("made")
TAKES_OUT = _words("takes out")
LEFT = _words("left")
"""What food is taken out of or off."""
BAKES = _words("bakes")
"""What happens “a 180 °C”: so hot is what heats, and not the food."""
CARRIED_ON = _words("carried on")
"""What may stand in front of “a hervir”, where only what follows is meant."""
