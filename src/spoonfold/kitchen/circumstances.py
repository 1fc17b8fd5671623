"""With what, where and on what heat something is done."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache

from spoonfold.kitchen.actions import Tidy, ToolUse
from spoonfold.kitchen.drafts import Draft
from spoonfold.kitchen.lexicon import Implied, Verb, english
from spoonfold.kitchen.mentions import Mention
from spoonfold.kitchen.nouns import Sort
from spoonfold.knowledge.equipment import Kind, Tool, all_tools
from spoonfold.quantity.temperature import Temperature

OVEN_FROM = 250
"""°F: hotter than this is an oven, oil or a pan, never the middle of a food."""

_COLD_VESSELS = frozenset({"plate", "jar", "zip bag", "cup", "jug", "board", "cart", "table",
                           "colander", "sieve"})  # fmt: skip
_CARTS = frozenset({"cart", "trolley", "serving cart"})
_BARE_COLD = frozenset({"ice", "cold"})


@dataclass(slots=True)
class Circumstances:
    """What the words of a draft name besides its foods; empty where they name none."""

    tools: list[ToolUse] = field(default_factory=list)
    vessel: str = ""
    where: str = ""
    spot: str = ""
    out_of_cold: bool = False
    heat: str = ""
    level: str = ""


@cache
def _tools() -> Mapping[str, Tool]:
    return {tool.name: tool for tool in all_tools()}


def implied_by(verb: Verb, words: Sequence[str], names: frozenset[str]) -> Implied:
    """What goes with a verb among these words, with foods of these names."""
    near, text = names.union(words), f" {' '.join(words)} "
    for case in verb.unless:
        if not case.words.isdisjoint(near) or any(f" {each} " in text for each in case.phrases):
            return case.implied
    return verb.implied


def may_be_heated(vessel: str) -> bool:
    """Whether a vessel may stand on a stove or in an oven."""
    return Kind.BOWL not in _tools()[vessel].kinds and vessel not in _COLD_VESSELS


def is_vessel(name: str) -> bool:
    """Whether food stays in a thing of this name."""
    return name in _tools() and Kind.VESSEL in _tools()[name].kinds


def is_pan(name: str) -> bool:
    """Whether food is fried in it."""
    return name in _tools() and Kind.PAN in _tools()[name].kinds


def circumstances_of(draft: Draft) -> Circumstances:
    """What its words name, a phrase in front of the command included."""
    found = Circumstances()
    placing, unlit = english().small.placing, english().groups["unlit"]
    for mention in (*draft.lead, *draft.mentions):
        noun, before = mention.noun, mention.before
        if noun is None:
            continue
        name = (
            " ".join(draft.clause.words[mention.at : mention.end])
            if mention in draft.mentions
            else noun.name
        )
        match noun.sort:
            case Sort.LEVEL:
                found.level = found.level or noun.name
            case Sort.HOT if draft.verb.kind == "rest" and name in unlit:
                # Nobody says that it is lit.
                found.where, found.spot = "warm", name
            case Sort.TOOL if noun.name == "burner" and draft.verb.kind == "rest":
                found.where, found.spot = "warm", name
            case Sort.HOT:
                if noun.name in _tools() and Kind.HEATED_POT in _tools()[noun.name].kinds:
                    found.vessel = noun.name
                found.heat = found.heat or noun.name
                found.where, found.spot = "hot", name
                found.level = found.level or (name.split(" ")[0] if name.endswith(" heat") else "")
            case Sort.COLD if before in ("out", "from"):
                found.out_of_cold = True
            case Sort.COLD if before in placing or before == "with" or noun.name not in _BARE_COLD:
                found.where, found.spot = "cold", noun.name
            case Sort.WARM if before in placing and found.where != "cold":
                found.where, found.spot = found.where or "warm", found.spot or noun.name
            case Sort.PART if noun.name == "side" and before == "on" and _stays(draft, mention):
                found.where, found.spot = found.where or "warm", found.spot or noun.name
            case Sort.TOOL if (noun.name == "table" or name in _CARTS) and before in placing:
                found.tools.append(ToolUse(noun.name, mention.tidy, False))
                found.where, found.spot = found.where or "warm", found.spot or name
            case Sort.TOOL:
                found.tools.append(ToolUse(noun.name, mention.tidy, False))
                kinds = _tools()[noun.name].kinds
                if Kind.HEAT_SOURCE in kinds and before not in ("out", "from", "off"):
                    found.heat = found.heat or _heat_of(noun.name, kinds)
                    if Kind.HEATED_POT in kinds:
                        found.vessel = noun.name
                elif Kind.COLD_PLACE in kinds:
                    found.where, found.spot = "cold", noun.name
                elif kinds & {Kind.VESSEL, Kind.HOLDER} and before not in ("out", "from", "off"):
                    found.vessel = noun.name
            case _:
                pass
    return found


def is_another(draft: Draft, vessel: str) -> bool:
    """Whether the words give it a vessel that stood empty: a bowl, a second pan."""
    words = draft.clause.words
    for mention in draft.mentions:
        if mention.noun is not None and mention.noun.name == vessel:
            before = words[max(0, mention.at - 3) : mention.at]
            return mention.tidy is Tidy.CLEAN or "a" in before or "an" in before
    return bool(draft.lead)


def _stays(draft: Draft, mention: Mention) -> bool:
    """“On the side” is beside the stove, and no side of a pancake."""
    words = draft.clause.words
    return draft.verb.kind in ("rest", "move", "thaw", "cold") and (
        words[mention.at - 1 : mention.at] == ("the",) and mention.end == len(words)
    )


def _heat_of(name: str, kinds: frozenset[Kind]) -> str:
    if Kind.OVEN in kinds and name in ("oven",):
        return "oven"
    if Kind.STOVE in kinds:
        return "stove"
    return name


def _at_degrees(words: Sequence[str]) -> bool:
    """“At 180 °F”, and not “at a simmer, 165 °F”."""
    return any(
        word == "at" and any(each[0].isdigit() for each in words[n + 1 : n + 3])
        for n, word in enumerate(words)
    )


def temperatures_of(draft: Draft, heat: str) -> tuple[Temperature | None, Temperature | None]:
    """Of the food, and of what heats it."""
    food = appliance = None
    words = draft.words | set(draft.until)
    inside = not english().groups["inside"].isdisjoint(words)
    of_appliance = draft.verb.kind == "stove" or (
        not inside and ("oven" in draft.words or _at_degrees(draft.all_words)) and bool(heat)
    )
    for said in draft.degrees:
        value = said.value
        if value.fahrenheit > OVEN_FROM or (of_appliance and not draft.until):
            appliance = value
        else:
            food = value
    return food, appliance
