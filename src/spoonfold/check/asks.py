"""What the words of a step don't tell, beside food that can make a child ill: asked, not guessed.

A word in a verb's place, a tool or a place that isn't known, a degree without its unit: what is
done there may be right, and nobody can say so. Other words answer, or a note; nothing else does.
"""

from __future__ import annotations

from collections.abc import Iterator

from spoonfold.check.kitchen import read_flows
from spoonfold.check.rule import Facts, Rule, error
from spoonfold.kitchen.actions import Unread
from spoonfold.plan.safety.flow import MEATS, Flow
from spoonfold.plan.safety.ledger import heats_food
from spoonfold.problem import Problem

_RISKY = MEATS | {"egg"}


def not_understood(facts: Facts) -> Iterator[Problem]:
    """Words beside raw, spoiling or hot food that aren't understood."""
    for flow in read_flows(facts):
        for number in flow.order.sorted:
            unread = flow.actions[number].unread
            if not unread:
                continue
            risk = _risk(flow, number)
            if risk:
                for each in unread:
                    if _matters(flow, number, each, risk):
                        yield _asked(number, each, risk)


def _risk(flow: Flow, number: int) -> str:
    """What in a step can make somebody ill, or hurt: a raw food, else one that spoils or is hot."""
    for journey in flow.raw:
        if journey.hazard.kind in _RISKY and number in journey.touched:
            return f"raw {journey.hazard.name.removeprefix('raw ')}"
    for stay in flow.ledger.stays[number]:
        if stay.is_raw and stay.nature.raw in _RISKY:
            return f"raw {stay.nature.name.removeprefix('raw ')}"
    for stay in flow.ledger.stays[number]:
        if stay.spoils:
            return stay.nature.name
    return ""


def _matters(flow: Flow, number: int, unread: Unread, risk: str) -> bool:
    match unread.sort:
        case "degrees":
            return not any(_has_degrees(flow, number))
        case "verb" | "place":
            return True
        case _:
            return risk.startswith("raw ")


def _has_degrees(flow: Flow, number: int) -> Iterator[bool]:
    yield flow.steps[number].heat is not None
    for action in flow.actions[number].actions:
        yield action.degrees is not None and heats_food(action)


_WHAT = {
    "verb": ("isn't a word for something that is done that Spoonfold knows",
             "Say it with a plainer word (cut, mix, put, fry, bake ...)."),
    "place": ("isn't a vessel or a place that Spoonfold knows",
              "Name it plainly: a bowl, a plate, the table, the refrigerator, the oven."),
    "thing": ("isn't a tool that Spoonfold knows",
              "Name it plainly: a knife, a spoon, tongs, a clean plate."),
    "degrees": ("has no unit, and could be °F or °C", "Write its unit: “165 °F”."),
}  # fmt: skip


def _asked(number: int, unread: Unread, risk: str) -> Problem:
    what, write = _WHAT[unread.sort]
    return error(
        "not-understood",
        unread.place,
        f"Step {number} handles {risk}, and “{unread.word}” {what}: whether it is safe can't be "
        "told.",
        write,
    )


RULES = (Rule("not-understood", not_understood, of_one=True),)
