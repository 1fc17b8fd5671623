"""What a step's own words say where no note does: that something boils, that it is shaped.

English words, from memory; a recipe in another language is judged by its notes alone.
"""

from __future__ import annotations

import re
from functools import lru_cache

from spoonfold.model.pantry import singulars
from spoonfold.model.prose import plain
from spoonfold.model.recipe import Step

STOVES = frozenset({"burner", "stove", "stovetop", "cooktop", "hot plate", "hob"})
OVENS = frozenset({"oven", "oven shelf", "toaster oven"})
GRIDDLES = frozenset({"griddle", "electric griddle", "plancha"})
OTHER_HEAT = frozenset({
    "grill", "microwave", "air fryer", "rice cooker", "slow cooker", "waffle iron",
    "electric skillet", "fryer",
})
HEAT_SOURCES = STOVES | OVENS | GRIDDLES | OTHER_HEAT
CORDED = frozenset({
    "blender", "food processor", "hand mixer", "mixer", "kettle", "electric kettle",
    "toaster", "toaster oven", "microwave", "air fryer", "rice cooker", "slow cooker",
    "waffle iron", "electric skillet", "electric griddle", "fryer", "hot plate",
})
VESSELS = frozenset({
    "pot", "big pot", "large pot", "stockpot", "stock pot", "small pot", "saucepan", "skillet",
    "frying pan", "pan", "wok", "saute pan", "kettle",
})
BIG_POTS = frozenset({"big pot", "large pot", "stockpot", "stock pot"})
COLD_PLACES = frozenset({"refrigerator", "fridge", "cooler", "freezer"})
_CONTAINERS = re.compile(r"\b(pan|pot|skillet|griddle|oven|burner|sheet|tray|dish|wok|stockpot)\b")

_TOKEN = re.compile(r"[^\W\d_]{3,}")
_BOIL = re.compile(r"\bboil(s|ed|ing)?\b")
_DRAIN = re.compile(r"\b(drain|strain)(s|ed|ing)?\b")
_STEAM = re.compile(
    r"\b(boil(s|ed|ing)?|bubbl(e|es|ing)|simmer(s|ed|ing)?|poach(ed|ing)?|blanch(ed|ing)?|steam(s|ed|ing|y)?"
    r"|lids?|foil|ladles?|cover(s|ed)?)\b")
_STEAM_AFTER = re.compile(r"\b(steam(s|ed|ing)?|lids?|foil|ladles?|uncover(s|ed)?)\b")
_MOVED = re.compile(r"\b(tip|pour|drain|carry|carries|lift|take|move)(s|ed)?\b")
_TIPPED = re.compile(r"\b(tip|pour|drain)(s|ed)?\b")
_SENTENCE = re.compile(r"[.;:!?]+")
_WAITS_HOT = re.compile(r"\bkeep\b[^.;]*\b(warm|hot)\b")
_CUTS = re.compile(
    r"\b(cut|slice|dice|chop|shred|grate|mince|tear|halve|quarter|snip|core|wedges?)(s|d|ed)?\b")
_MIX = re.compile(
    r"\b(the|this|that|each|your|raw|its)\s+(\w+\s+)?(mix|mixture|batter|dough|meat|patty|patties"
    r"|balls?|meatballs?|marinade|pieces|skewers?)\b"
    r"|\b(shape|knead|coat|marinate|roll out)\b")
_PRONOUN = re.compile(r"\b(it|them|these)\b")
_WORKED = re.compile(r"\b(knead|roll (it |the dough |them )?out|dust|shape)\b")
_FIRM_EGG = re.compile(r"\b(firm|hard|set)\b")
_SHELLFISH = re.compile(r"\b(opaque|pearly|shells? (are )?open)\b")
_WASHES = re.compile(r"\b(wash|scrub)(es)?\b[^.;]*\bhands\b")
_THROWN = re.compile(r"\b(throw|discard|bin|drain|pour off|away|wipe|leave|left)\b")
_MARINADE = re.compile(r"\bmarinade\b")
# Words that make a tool one of its own: “the second board”.
_READY_ONE = r"(ready|second|other|another|clean|fresh|new|own|separate)"


@lru_cache(maxsize=2048)
def _folded(text: str) -> str:
    return " ".join(text.casefold().split())


def words(step: Step) -> str:
    """The step's words in lower case."""
    return _folded(plain(step.text))


@lru_cache(maxsize=4096)
def tokens_of(text: str) -> frozenset[str]:
    """The words of a text, each in the singular that it may be the plural of."""
    found: set[str] = set()
    for word in _TOKEN.findall(_folded(text)):
        found.add(word)
        found.update(singulars(word))
    return frozenset(found)


def tokens(step: Step) -> frozenset[str]:
    """The same of a step."""
    return tokens_of(words(step))


def _with_notes(step: Step) -> str:
    return " ".join((words(step), *(term.text.casefold() for term in step.adult)))


def needed(step: Step) -> frozenset[str]:
    """The names of the equipment."""
    return frozenset(need.name.casefold() for need in step.needs)


def on_stove(step: Step) -> bool:
    """At a burner."""
    return bool(needed(step) & STOVES)


def on_heat(step: Step) -> bool:
    """At anything hot."""
    return bool(needed(step) & HEAT_SOURCES)


def bowls(step: Step) -> int:
    """How many bowls it needs."""
    return sum(need.count for need in step.needs if "bowl" in need.name.casefold().split())


def goes_elsewhere(step: Step) -> bool:
    """Whether what was in a bowl comes into a pan, a tray or the heat."""
    return any(_CONTAINERS.search(name) for name in needed(step))


def boils_water(step: Step) -> bool:
    """A sentence has both the water and the boil."""
    return any("water" in part and _BOIL.search(part) for part in _SENTENCE.split(words(step)))


def boils(step: Step) -> bool:
    """It is at a boil or a simmer."""
    return bool(re.search(r"\b(boil|simmer)(s|ed|ing)?\b", words(step)))


def drains(step: Step) -> bool:
    """Something is drained."""
    return bool(_DRAIN.search(_with_notes(step)))


def steams(step: Step) -> bool:
    """At the heat: a lid, a boil, a ladle."""
    return bool(_STEAM.search(words(step)))


def still_steams(step: Step) -> bool:
    """Just off the heat: a lid, a ladle."""
    return bool(_STEAM_AFTER.search(_with_notes(step)))


def moves_pot(step: Step) -> bool:
    """A pot is carried or tipped."""
    return bool(_MOVED.search(_with_notes(step)))


def tips_pot(step: Step) -> bool:
    """What is in a pot is poured."""
    return bool(_TIPPED.search(_with_notes(step)))


def waits_hot(step: Step) -> bool:
    """Food is kept warm."""
    return bool(_WAITS_HOT.search(words(step)))


def cuts(step: Step) -> bool:
    """Something is cut or torn."""
    return bool(_CUTS.search(words(step)))


def speaks_of_mix(step: Step) -> bool:
    """The words mean what was mixed before, or it is shaped."""
    shaped = any(term.text.casefold() in ("shape", "mix by hand", "knead") for term in step.skills)
    return shaped or bool(_MIX.search(words(step)))


def speaks_of_it(step: Step) -> bool:
    """A pronoun."""
    return bool(_PRONOUN.search(words(step)))


def works_dough(step: Step) -> bool:
    """Flour comes onto the table."""
    on_table = needed(step) & {"board", "rolling pin", "table"}
    return bool(on_table) or bool(_WORKED.search(words(step)))


def firm_egg(step: Step) -> bool:
    """The chart's own words: yolk and white are firm."""
    text = words(step)
    return "yolk" in text and "white" in text and bool(_FIRM_EGG.search(text))


def flaky_fish(step: Step) -> bool:
    """The chart's own words for fish."""
    return "opaque" in words(step) and "flake" in words(step)


def done_shellfish(step: Step) -> bool:
    """The chart's own words for shellfish."""
    return bool(_SHELLFISH.search(words(step)))


def says_wash(step: Step) -> tuple[str, ...]:
    """What the words, or a skill, say is washed."""
    text = words(step)
    skills = {term.text.casefold() for term in step.skills}
    found = ["hands"] if "wash hands" in skills or _WASHES.search(text) else []
    for thing in ("table", "board", "knife", "bowl", "grater"):
        if re.search(rf"\b(wash|wipe)\b[^.;]*\bthe (raw )?{thing}s?\b", text):
            found.append(thing)
    return tuple(found)


def sauces_with_marinade(step: Step) -> bool:
    """The marinade is served, not thrown away."""
    return any(_MARINADE.search(part) and not _THROWN.search(part)
               for part in _SENTENCE.split(words(step)))


def ready_one(step: Step, tool: str) -> bool:
    """The words give ready food a tool of its own."""
    return bool(re.search(rf"\b{_READY_ONE}\s+{tool}", words(step)))
