"""What a step's own words say where no note does: that something boils, that it is shaped.

English words, of which the lists are data (`knowledge/step-words.json`); a recipe in another
language is judged by its notes alone.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache

from spoonfold.kitchen.actions import Action
from spoonfold.knowledge.equipment import Kind, all_tools, tool_named
from spoonfold.knowledge.names import singulars
from spoonfold.knowledge.step_words import step_words
from spoonfold.model.recipe import Step, words_in

_TOKEN = re.compile(r"[^\W\d_]{3,}")


def _either(words: frozenset[str]) -> str:
    """A pattern for any of the words."""
    return f"({'|'.join(sorted(words))})"


# Sets of whole words where no order counts: a search through the text of every step for each of
# them took half of the time of all rules.
_BOIL = step_words("boil")
_BOIL_OR_SIMMER = step_words("boil", "simmer")
_DRAIN = step_words("drain")
_STEAM = _BOIL_OR_SIMMER | step_words("lid or ladle", "steam", "cover", "cook in steam or water")
_STEAM_AFTER = step_words("lid or ladle", "steam", "uncover")
_TIPPED = step_words("tip")
_MOVED = step_words("tip", "carry")
_CUTS = step_words("cut")
_PRONOUN = step_words("pronoun")
_FIRM_EGG = step_words("firm")

_SENTENCE = re.compile(r"[.;:!?]+")
_WAITS_HOT = re.compile(r"\bkeep\b[^.;]*\b(warm|hot)\b")
_SHAPED = step_words("shape by hand")
_MIXED = step_words("what was mixed")
_MIX = re.compile(
    rf"\b(the|this|that|each|your|raw|its)\s+(\w+\s+)?{_either(_MIXED)}\b|\broll out\b"
)
_WORKED = re.compile(r"\b(knead|roll (it |the dough |them )?out|dust|shape)\b")
_SHELLFISH = re.compile(r"\b(opaque|pearly|shells? (are )?open)\b")
_SCRUB, _WIPE = step_words("wash hands"), step_words("wash a thing")
_WASHES = re.compile(rf"\b{_either(_SCRUB)}\b[^.;]*\bhands\b")


@lru_cache(maxsize=1)
def _washed() -> Mapping[str, re.Pattern[str]]:
    """The words that say that a thing is washed, by what the note `wash` calls it."""
    names: dict[str, list[str]] = {}
    for tool in all_tools():
        if tool.wash is not None:
            names.setdefault(tool.wash, []).extend((tool.name, *tool.names.get("en", ())))
    return {
        wash: re.compile(
            rf"\b{_either(_WIPE)}\b[^.;]*\bthe (raw )?({'|'.join(map(re.escape, called))})s?\b"
        )
        for wash, called in names.items()
    }


_THROWN = re.compile(rf"\b{_either(step_words('throw away'))}\b")
# Words that make a tool one of its own: “the second board”.
_READY_ONE = re.compile(
    rf"\b(?:{'|'.join(sorted(step_words('one of its own')))})\s+(?=(\w+(?: \w+)?))"
)


def tokens_of(words: Iterable[str]) -> frozenset[str]:
    """Words of three letters and more, each also in the singular that it may be the plural of."""
    return frozenset(form for word in words for form in _tokens(word))


@lru_cache(maxsize=4096)
def _tokens(word: str) -> tuple[str, ...]:
    return tuple(form for token in _TOKEN.findall(word) for form in singulars(token))


def _says(step: Step, words: frozenset[str]) -> bool:
    """Whether any of the words stands in the step."""
    return not step.word_set.isdisjoint(words)


def _notes_say(step: Step, words: frozenset[str]) -> bool:
    """Whether any of them stands in the step or in what its adult does."""
    return _says(step, words) or any(
        not words_in(term.text.casefold()).isdisjoint(words) for term in step.adult
    )


def on_stove(step: Step) -> bool:
    """At a burner, or in a pot with a heat of its own."""
    return step.has(Kind.STOVE, Kind.HEATED_POT)


def on_heat(step: Step) -> bool:
    """Where food is cooked."""
    return step.has(Kind.HEAT_SOURCE)


def is_chilled(step: Step) -> bool:
    """It ends in the cold."""
    return step.has(Kind.COLD_PLACE)


def bowls(step: Step) -> int:
    """How many bowls it needs."""
    names = step.named(Kind.BOWL)
    return sum(need.count for need in step.needs if need.name in names)


def goes_elsewhere(step: Step) -> bool:
    """Whether what was in a bowl comes into a pan, a tray or the heat."""
    return step.has(Kind.HEAT_SOURCE) or not (step.named(Kind.VESSEL) <= step.named(Kind.BOWL))


def heats_of(actions: Sequence[Action]) -> Iterator[tuple[Action, str]]:
    """The actions of a step that somebody does, each with what it heats food with, if anything.

    To light an oven heats no food. Food that was on the heat before goes on there where it is
    stirred for a time or until a sign, or where the step heats anyway, and where it is covered
    until a sign; a pot that is left, covered or put somewhere is off it.
    """
    done = [each for each in actions if not each.denied]
    own = {each.place: _own_heat(each) for each in done}
    hot = any(own.values())
    for each in done:
        goes_on = (
            each.kind in _GOES_ON_HOT and (hot or bool(each.until or (each.minutes or 0) >= 1))
        ) or (each.kind == "cover" and "until" in each.until)
        stays = each.heat if goes_on and each.heat != "oven" else ""
        yield each, own[each.place] or stays


def _own_heat(action: Action) -> str:
    """What the words of an action, or its verb, heat with."""
    name = action.verb.name
    if action.kind == "stove" or any(each.key.startswith(f"{name}-") for each in action.foods):
        # Brown sugar in a list is browned by nobody.
        return ""
    if action.kind == "rest":
        if action.heat not in _LIT:
            return action.heat
        # On the stove, nobody says that it is lit.
        kept = name in ("keep", "hold") and action.spot in ("hot", "warm")
        return action.heat or "stove" if kept or action.level else ""
    return action.heat if action.heat_said or action.verb.implied.heat else ""


_LIT = frozenset({"", "stove", "oven", "griddle", "grill"})
"""What may be cold; any other appliance heats as long as food is in it."""
_GOES_ON_HOT = frozenset({"mix", "check", "soak", "cut", "grind"})


def boils_water(step: Step) -> bool:
    """A sentence has both the water and the boil."""
    return _says(step, _BOIL) and any(
        "water" in part and not words_in(part).isdisjoint(_BOIL)
        for part in _SENTENCE.split(step.words)
    )


def boils(step: Step) -> bool:
    """It is at a boil or a simmer."""
    return _says(step, _BOIL_OR_SIMMER)


def drains(step: Step) -> bool:
    """Something is drained."""
    return _notes_say(step, _DRAIN)


def steams(step: Step) -> bool:
    """At the heat: a lid, a boil, a ladle."""
    return _says(step, _STEAM)


def still_steams(step: Step) -> bool:
    """Just off the heat: a lid, a ladle."""
    return _notes_say(step, _STEAM_AFTER)


def moves_pot(step: Step) -> bool:
    """A pot is carried or tipped."""
    return _notes_say(step, _MOVED)


def tips_pot(step: Step) -> bool:
    """What is in a pot is poured."""
    return _notes_say(step, _TIPPED)


def waits_hot(step: Step) -> bool:
    """Food is kept warm."""
    return "keep" in step.word_set and bool(_WAITS_HOT.search(step.words))


def cuts(step: Step) -> bool:
    """Something is cut or torn."""
    return _says(step, _CUTS)


def speaks_of_mix(step: Step) -> bool:
    """The words mean what was mixed before, or it is shaped."""
    shaped = any(term.text.casefold() in ("shape", "mix by hand", "knead") for term in step.skills)
    return (
        shaped
        or _says(step, _SHAPED)
        or (_says(step, _MIXED | {"roll"}) and bool(_MIX.search(step.words)))
    )


def speaks_of_it(step: Step) -> bool:
    """A pronoun."""
    return _says(step, _PRONOUN)


def works_dough(step: Step) -> bool:
    """Flour comes onto the table."""
    return step.has(Kind.SURFACE) or bool(_WORKED.search(step.words))


def firm_egg(step: Step) -> bool:
    """The chart's own words: yolk and white are firm."""
    text = step.words
    return "yolk" in text and "white" in text and _says(step, _FIRM_EGG)


def flaky_fish(step: Step) -> bool:
    """The chart's own words for fish."""
    return "opaque" in step.words and "flake" in step.words


def done_shellfish(step: Step) -> bool:
    """The chart's own words for shellfish."""
    return bool(_SHELLFISH.search(step.words))


def says_wash(step: Step) -> tuple[str, ...]:
    """What the words, or a skill, say is washed."""
    text = step.words
    washes = _says(step, _SCRUB | _WIPE)
    by_skill = any(term.text.casefold() == "wash hands" for term in step.skills)
    found = ["hands"] if by_skill or (washes and _WASHES.search(text)) else []
    if washes:
        found += (thing for thing, washed in _washed().items() if washed.search(text))
    return tuple(found)


def sauces_with_marinade(step: Step) -> bool:
    """The marinade is served, not thrown away."""
    return "marinade" in step.word_set and any(
        "marinade" in words_in(part) and not _THROWN.search(part)
        for part in _SENTENCE.split(step.words)
    )


def ready_one(step: Step, tool: str) -> bool:
    """The words give ready food a tool of its own; `tool` as the note `wash` calls it."""
    return any(
        (known := tool_named(match[1])) is not None and known.wash == tool
        for match in _READY_ONE.finditer(step.words)
    )
