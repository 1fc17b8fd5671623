"""What met raw food and then meets food that is eaten as it is, by the words of the steps.

At the end of a step, what raw food touched is washed: that line is printed. Within a step nothing
is washed unless the words say so, and what a step takes up “again” was not washed either.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from spoonfold.kitchen.actions import Action, Tidy
from spoonfold.kitchen.lexicon import english
from spoonfold.knowledge.equipment import Kind, all_tools
from spoonfold.plan.safety.flow import MEATS, Flow
from spoonfold.plan.safety.ledger import Stay, Where, heats_food

HANDS = "hands"
_RISKY = MEATS | {"egg"}
_BY_HAND = frozenset({"cut", "shape"})
"""Kinds of work in which fingers are in the food."""
_HOLDS = frozenset({"plate", "tray", "cooling rack", "baking dish"})
"""Things that food lies on and that no line has washed: “the plate” is the one that was used."""
_STAY_CLEAN = frozenset(
    tool.name for tool in all_tools() if tool.kinds & {Kind.COLD_PLACE, Kind.HEAT_SOURCE, Kind.SINK}
)


@dataclass(frozen=True, slots=True)
class Carried:
    """A thing, or hands, with raw food on it, where it meets other food."""

    action: Action
    thing: str
    raw: str
    """The food that was raw on it."""
    meets: str
    """The food that is eaten as it is."""


def carried(flow: Flow) -> Iterator[Carried]:
    """Every such meeting, the first one for each step."""
    before: dict[str, str] = {}
    for number in flow.order.sorted:
        here: dict[str, str] = {}
        stays = flow.ledger.stays[number]
        found = False
        for action in flow.actions[number].actions:
            if action.denied:
                continue
            _wash(action, here, before)
            mine = [each for each in stays if each.action is action]
            raw = next((each for each in mine if _is_raw(each)), None)
            if heats_food(action):
                # What is as hot as the food carries nothing on.
                here.pop(action.vessel, None)
                before.pop(action.vessel, None)
                continue
            if raw is not None:
                for thing in _used(action):
                    here[thing] = before[thing] = raw.nature.name
                continue
            meeting = None if found else _meets(flow, number, action, mine, here, before)
            if meeting is not None:
                found = True
                yield meeting


def _is_raw(stay: Stay) -> bool:
    return stay.is_raw and stay.nature.raw in _RISKY


def _used(action: Action) -> Iterator[str]:
    yield from (each.name for each in action.tools if each.name not in _STAY_CLEAN)
    if action.vessel and action.vessel not in _STAY_CLEAN:
        yield action.vessel
    if action.kind in _BY_HAND or not action.words.isdisjoint(english().groups["fingers"]):
        yield HANDS


def _wash(action: Action, here: dict[str, str], before: dict[str, str]) -> None:
    """What the words have washed is clean, and gloves that are changed are clean hands."""
    changed = {"gloves", "glove"} & action.words
    if action.kind != "wash" and not changed:
        return
    washed = set(action.washed) | ({HANDS} if changed else set())
    every = {"everything", "all", "up"} & action.words
    for things in (here, before):
        for thing in [each for each in things if each in washed or every]:
            del things[thing]


def _meets(
    flow: Flow,
    number: int,
    action: Action,
    stays: list[Stay],
    here: dict[str, str],
    before: dict[str, str],
) -> Carried | None:
    ready = next((each for each in stays if _is_eaten_so(flow, number, each)), None)
    if ready is None:
        return None
    again = not english().groups["again"].isdisjoint(action.words)
    for thing in _used(action):
        tidy = next((each.tidy for each in action.tools if each.name == thing), Tidy.UNKNOWN)
        if tidy is Tidy.CLEAN or (thing == HANDS and "clean" in action.words):
            continue
        raw = here.get(thing)
        back = again or tidy is Tidy.SAME or (tidy is Tidy.KNOWN and thing in _HOLDS)
        if raw is None and back and _is_named(action, thing):
            raw = before.get(thing)
        if raw is not None and (raw != ready.nature.name or ready.is_cooked):
            return Carried(action, thing, raw, ready.nature.name)
    return None


def _is_named(action: Action, thing: str) -> bool:
    return any(each.name == thing and not each.implied for each in action.tools)


def _is_eaten_so(flow: Flow, number: int, stay: Stay) -> bool:
    """Whether a food gets no heat any more from here on."""
    later: list[Stay] = []
    seen = False
    for n in flow.order.sorted:
        for each in flow.ledger.stays[n]:
            if n == number and each is stay:
                seen = True
            elif seen and each.portion == stay.portion:
                later.append(each)
    return all(each.where is not Where.HOT for each in later)
