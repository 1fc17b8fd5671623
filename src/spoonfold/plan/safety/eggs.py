"""Eggs that are separated: each of the two parts needs its own heat (FDA and FSIS on raw egg)."""

from __future__ import annotations

from spoonfold.plan.safety.flow import Flow, Hazard
from spoonfold.plan.safety.ledger import heats_food
from spoonfold.plan.safety.words import on_heat
from spoonfold.problem import Place

_PARTS = ("white", "yolk")
_KEPT = frozenset({"another", "tomorrow", "freeze", "freezer", "save", "keep", "discard", "throw",
                   "pasteurized", "pasteurised"})  # fmt: skip
"""What becomes of a part that isn't in the dish."""


def raw_part(flow: Flow, hazard: Hazard) -> tuple[str, Place] | None:
    """The part of separated eggs that no heat reaches, though the other one is heated, and where it
    is last spoken of; None: there is none."""
    key = hazard.ingredient.key
    parted = any(
        action.verb.name == "separate" and key in {each.key for each in action.foods}
        for read in flow.actions.values()
        for action in read.actions
    )
    if not parted:
        return None
    for part, other in (_PARTS, _PARTS[::-1]):
        spoken = [number for number in flow.order.sorted if _speaks(flow, number, part)]
        # Where a step speaks of both, nobody can tell which one its heat is for.
        own = [number for number in spoken if not _speaks(flow, number, other)]
        if not own or own[-1] != spoken[-1]:
            continue
        last = own[-1]
        if not any(_heats(flow, n) for n in (last, *flow.order.following[last])):
            return part, flow.steps[last].place
    return None


def _heats(flow: Flow, number: int) -> bool:
    """Whether the words, or the notes, of a step itself heat something."""
    if "needs" in flow.steps[number].notes:
        return on_heat(flow.steps[number])
    return any(
        heats_food(action) and (action.heat_said or bool(action.verb.implied.heat))
        for action in flow.actions[number].actions
    )


def _speaks(flow: Flow, number: int, part: str) -> bool:
    return any(
        not {part, f"{part}s"}.isdisjoint(sentence.words) and _KEPT.isdisjoint(sentence.words)
        for sentence in flow.sentences[number]
    )
