"""What a step's own words say where no note does: that something boils, that it is shaped.

English words, from memory; a recipe in another language is judged by its notes alone.
"""

from __future__ import annotations

import re
from functools import lru_cache

from spoonfold.model.pantry import singulars
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
_BOIL_OR_SIMMER = re.compile(r"\b(boil|simmer)(s|ed|ing)?\b")
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
_WASHED = {thing: re.compile(rf"\b(wash|wipe)\b[^.;]*\bthe (raw )?{thing}s?\b")
           for thing in ("table", "board", "knife", "bowl", "grater")}
_THROWN = re.compile(r"\b(throw|discard|bin|drain|pour off|away|wipe|leave|left)\b")
_MARINADE = re.compile(r"\bmarinade\b")
# Words that make a tool one of its own: “the second board”.
_READY_ONE = r"(ready|second|other|another|clean|fresh|new|own|separate)"


def tokens_of(text: str) -> frozenset[str]:
    """The words of a text, each in the singular that it may be the plural of."""
    return frozenset(
        form for word in _TOKEN.findall(text.casefold()) for form in _singulars(word))


@lru_cache(maxsize=4096)
def _singulars(word: str) -> tuple[str, ...]:
    return tuple(singulars(word))


def _with_notes(step: Step) -> str:
    return " ".join((step.words, *(term.text.casefold() for term in step.adult)))


def on_stove(step: Step) -> bool:
    """At a burner."""
    return not step.tools.isdisjoint(STOVES)


def on_heat(step: Step) -> bool:
    """At anything hot."""
    return not step.tools.isdisjoint(HEAT_SOURCES)


def is_chilled(step: Step) -> bool:
    """It ends in the cold."""
    return not step.tools.isdisjoint(COLD_PLACES)


def bowls(step: Step) -> int:
    """How many bowls it needs."""
    return sum(need.count for need in step.needs if "bowl" in need.name.casefold().split())


def goes_elsewhere(step: Step) -> bool:
    """Whether what was in a bowl comes into a pan, a tray or the heat."""
    return any(_CONTAINERS.search(name) for name in step.tools)


def boils_water(step: Step) -> bool:
    """A sentence has both the water and the boil."""
    return any("water" in part and _BOIL.search(part) for part in _SENTENCE.split(step.words))


def boils(step: Step) -> bool:
    """It is at a boil or a simmer."""
    return bool(_BOIL_OR_SIMMER.search(step.words))


def drains(step: Step) -> bool:
    """Something is drained."""
    return bool(_DRAIN.search(_with_notes(step)))


def steams(step: Step) -> bool:
    """At the heat: a lid, a boil, a ladle."""
    return bool(_STEAM.search(step.words))


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
    return bool(_WAITS_HOT.search(step.words))


def cuts(step: Step) -> bool:
    """Something is cut or torn."""
    return bool(_CUTS.search(step.words))


def speaks_of_mix(step: Step) -> bool:
    """The words mean what was mixed before, or it is shaped."""
    shaped = any(term.text.casefold() in ("shape", "mix by hand", "knead") for term in step.skills)
    return shaped or bool(_MIX.search(step.words))


def speaks_of_it(step: Step) -> bool:
    """A pronoun."""
    return bool(_PRONOUN.search(step.words))


def works_dough(step: Step) -> bool:
    """Flour comes onto the table."""
    on_table = step.tools & {"board", "rolling pin", "table"}
    return bool(on_table) or bool(_WORKED.search(step.words))


def firm_egg(step: Step) -> bool:
    """The chart's own words: yolk and white are firm."""
    text = step.words
    return "yolk" in text and "white" in text and bool(_FIRM_EGG.search(text))


def flaky_fish(step: Step) -> bool:
    """The chart's own words for fish."""
    return "opaque" in step.words and "flake" in step.words


def done_shellfish(step: Step) -> bool:
    """The chart's own words for shellfish."""
    return bool(_SHELLFISH.search(step.words))


def says_wash(step: Step) -> tuple[str, ...]:
    """What the words, or a skill, say is washed."""
    text = step.words
    skills = {term.text.casefold() for term in step.skills}
    found = ["hands"] if "wash hands" in skills or _WASHES.search(text) else []
    found += (thing for thing, washed in _WASHED.items() if washed.search(text))
    return tuple(found)


def sauces_with_marinade(step: Step) -> bool:
    """The marinade is served, not thrown away."""
    return any(_MARINADE.search(part) and not _THROWN.search(part)
               for part in _SENTENCE.split(step.words))


def ready_one(step: Step, tool: str) -> bool:
    """The words give ready food a tool of its own."""
    return bool(re.search(rf"\b{_READY_ONE}\s+{tool}", step.words))
