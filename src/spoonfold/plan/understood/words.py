"""What the words of a step say of its tools, its temperature, its minutes and its day."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from math import ceil
from typing import Any

from spoonfold.kitchen.actions import Action
from spoonfold.knowledge.equipment import Kind
from spoonfold.model.recipe import Ingredient, Step, Term, WorkedOut
from spoonfold.plan.safety.flow import Flow
from spoonfold.plan.safety.words import heats_of
from spoonfold.plan.understood.days import Earlier, earlier_steps, waits_for
from spoonfold.plan.understood.kit import BIG_POT, POT, Kit
from spoonfold.quantity.temperature import Temperature

_MINUTES = frozenset({"time", "wait", "class time"})
_LEAST_DONE = 130
"""°F: nothing is cooked below it; milk for yeast is warmed to less."""
_HANDS_OFF = frozenset({"rest", "cold", "thaw", "soak", "move"})
"""What goes on with the equipment free."""
_TAKES_TIME = frozenset({"rest", "stand", "rise", "prove", "proof", "sit", "ferment"})
"""Verbs of lying about that say of themselves that time goes by."""
_GOES_ON = frozenset({"wet", "cook"})
_TO_THE_BOIL = Fraction(5)
_MOST_PIECES = 12
_WORDS = "the words"
_SETS_OVEN = "sets the oven"
_POTS = frozenset({POT, BIG_POT})


def with_words(flow: Flow, kit: Kit) -> tuple[Step, ...]:
    """The steps with what their words say and no note of theirs does."""
    earlier = earlier_steps(flow)
    pots = _pots(flow, kit, earlier)
    return tuple(_told(flow, step, kit, earlier, pots) for step in flow.recipe.steps)


_OWN_POT = re.compile(r"\b(?:an?|another|second|new|clean|other) (?:\w+ )?(?:pot|saucepan)\b")


def _pots(flow: Flow, kit: Kit, earlier: Mapping[int, Earlier]) -> Mapping[int, str]:
    """By step, which pot is meant by “the pot”: the last one that was named on the way there. One
    that nobody names is the big one where it is cooked for all at once."""
    found: dict[int, str] = {}
    for number in flow.order.sorted:
        step = flow.steps[number]
        named = [
            tool.name
            for each in flow.actions[number].actions
            for tool in each.tools
            if not tool.implied and tool.name in _POTS
        ]
        before = [found[n] for n in flow.order.direct[number] if n in found]
        shared = step.shared or number in earlier
        if POT in named and not _OWN_POT.search(step.words):
            named = [name for name in named if name != POT]
        usual = BIG_POT if shared and kit.of_kind(Kind.BIG_POT) else POT
        found[number] = (*named, *before, usual)[0]
    return found


def _told(
    flow: Flow, step: Step, kit: Kit, earlier: Mapping[int, Earlier], pots: Mapping[int, str]
) -> Step:
    done = [each for each in flow.actions[step.number].actions if not each.denied]
    new: dict[str, Any] = {}
    found: list[WorkedOut] = []
    if "needs" not in step.notes:
        needs = dict(_needs(flow, step, done, kit, pots[step.number]))
        new["needs"] = tuple(kit.need(name, step.place) for name in needs)
        found += (WorkedOut("needs", name, why, why == _WORDS) for name, why in needs.items())
    if "heat" not in step.notes:
        said = _heat(step, done)
        if said is not None:
            new["heat"] = said
            found.append(WorkedOut("heat", f"{said.whole_fahrenheit} °F", _WORDS))
    if _MINUTES.isdisjoint(step.notes):
        aside = _is_aside(done)
        for note, minutes, why in _minutes(flow, step, done):
            new[note] = minutes
            value = f"{minutes} min" + (" aside" if note == "wait" and aside else "")
            found.append(WorkedOut(note, value, why, why == _WORDS))
        new["wait_aside"] = "wait" in new and aside
    lit = [each for each in done if each.kind == "stove" and each.heat == "oven"]
    heats = any(source for _, source in heats_of(done))
    in_class = step.when is None and step.number not in earlier
    if lit and not heats and in_class and not step.adult and not step.has(Kind.HOT):
        new["adult"] = (Term(_SETS_OVEN, step.place),)
        found.append(WorkedOut("adult", _SETS_OVEN, f"“{lit[0].verb.name}”"))
    then = earlier.get(step.number)
    if then is not None:
        new["when"], new["after"] = then.when, waits_for(flow, step, earlier)
        found.append(WorkedOut("when", then.when, then.why))
    if not found:
        return step
    return replace(step, **new, worked_out=(*step.worked_out, *found))


def _needs(
    flow: Flow, step: Step, done: Sequence[Action], kit: Kit, pot: str
) -> Iterator[tuple[str, str]]:
    """Each thing once, with what it follows from; the words before the verbs."""
    used = [
        (name, is_said, each)
        for each, source in heats_of(done)
        for name, is_said in kit.used(each, source, pot)
        if is_said or not (each.verb.name == "squeeze" and _is_cut(flow, step, each))
    ]
    said = {name for name, is_said, _ in used if is_said}
    told = set()
    for name, _, action in used:
        if name not in told:
            told.add(name)
            yield name, _WORDS if name in said else f"“{action.verb.name}”"
    towel = kit.of_kind(Kind.TOWEL)
    if towel is not None and towel not in told and kit.has_all(told, Kind.KNIFE, Kind.BOARD):
        yield towel, "the board, which must not slip"


def _is_cut(flow: Flow, step: Step, action: Action) -> bool:
    """Whether what is squeezed was cut before."""
    keys = {portion.key for portion in action.foods}
    return any(
        each.kind == "cut" and not keys.isdisjoint(portion.key for portion in each.foods)
        for number in flow.order.before[step.number] | {step.number}
        for each in flow.actions[number].actions
    )


def _heat(step: Step, done: Sequence[Action]) -> Temperature | None:
    """What the middle of the food reaches; of several the least, so that too little is seen."""
    said = [
        each.degrees
        for each in done
        if each.degrees is not None
        and each.degrees.fahrenheit >= _LEAST_DONE
        and each.kind not in ("cold", "thaw", "stove")
        and not _is_denied(each.degrees, step)
    ]
    return min(said, key=lambda each: each.fahrenheit, default=None)


_DENIED = re.compile(
    r"\b(?:not|never|nobody|no|n't|cannot)\b(?:(?!\band\b)[^.,:;!?])*?"
    r"\b(\d+) ?(?:°|º|degrees|f\b|c\b)"
)


def _is_denied(degrees: Temperature, step: Step) -> bool:
    """“It must not be 165 °F hot” is no proof of anything."""
    said = {Fraction(each) for each in _DENIED.findall(step.words.replace("n't", " n't"))}
    return not said.isdisjoint((degrees.fahrenheit, degrees.celsius))


_KEEPS = 1440
"""From a day on, the words say how long something keeps: no step of a class takes so long."""


def _minutes(flow: Flow, step: Step, done: Sequence[Action]) -> Iterator[tuple[str, Fraction, str]]:
    """Work and wait in whole minutes: as the words say, or as such work usually takes."""
    work = wait = Fraction(0)
    guessed: list[str] = []
    for at, action in enumerate(done):
        minutes, name = action.minutes, action.verb.name
        if minutes is not None and minutes >= _KEEPS:
            continue
        if minutes is None or minutes < 1:
            if name in guessed and _is_waited_for(action):
                # “Cook the rice” first says what the rest of the step tells in full.
                continue
            minutes = _usual(flow, step, action, done[at + 1 :])
            if not minutes:
                continue
            guessed.append(name)
        if _is_waited_for(action):
            wait += minutes
        else:
            work += minutes
    why = _WORDS if not guessed else "a guess for " + ", ".join(dict.fromkeys(guessed))
    if work or wait:
        yield "time", Fraction(max(1, round(work))), why
    if wait:
        yield "wait", Fraction(ceil(wait)), why


def _is_waited_for(action: Action) -> bool:
    """Whether it goes on without hands: as it cooks, or where it was put."""
    return action.verb.passive or (action.kind == "move" and bool(action.where))


def _usual(flow: Flow, step: Step, action: Action, then: Sequence[Action]) -> Fraction:
    """How long such work takes where nobody says; zero where nobody can know."""
    if action.verb.minutes is None:
        return Fraction(0)
    if (
        action.kind == "rest"
        and action.verb.name not in _TAKES_TIME
        and "until" not in action.until
    ):
        return Fraction(0)
    if action.verb.name == "boil" and any(each.kind in _GOES_ON for each in then):
        return _TO_THE_BOIL
    once, a_piece = action.verb.minutes
    return once + a_piece * _pieces(flow, step, action)


def _is_aside(done: Sequence[Action]) -> bool:
    """Whether nothing stands on the heat while it waits."""
    return all(
        each.kind in _HANDS_OFF and not source
        for each, source in heats_of(done)
        if _is_waited_for(each)
    )


def _pieces(flow: Flow, step: Step, action: Action) -> Fraction:
    """How many pieces of food are worked on, at the size that is written."""
    keys = {portion.key for portion in action.foods}
    return max(
        Fraction(1),
        sum(
            (
                min(_count(use.ingredient) * (use.share or 1), Fraction(_MOST_PIECES))
                for use in flow.uses.by_step.get(step.number, ())
                if use.ingredient.key in keys
            ),
            Fraction(0),
        ),
    )


def _count(ingredient: Ingredient) -> Fraction:
    amount = ingredient.amount
    if amount is None or not amount.unit.is_one_piece:
        return Fraction(1)
    return amount.middle
