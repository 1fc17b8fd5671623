"""Raw and ready: a marinade that met raw meat isn't eaten as it is."""

from __future__ import annotations

import re
from collections.abc import Iterator

from spoonfold.check.rule import Facts, Rule, error, flows_of
from spoonfold.model.recipe import Step
from spoonfold.plan.safety.flow import MEATS
from spoonfold.plan.safety.limits import POULTRY
from spoonfold.plan.safety.words import boils, on_heat, sauces_with_marinade
from spoonfold.problem import Problem
from spoonfold.read.folder import PANTRY_FILE


def _boils(step: Step) -> bool:
    """What raw meat lay in is safe after it: it boils, or is as hot as poultry must be."""
    assert POULTRY.least is not None
    return (on_heat(step) and boils(step)) or (
        step.heat is not None and step.heat.fahrenheit >= POULTRY.least.fahrenheit
    )


def marinade_not_sauce(facts: Facts) -> Iterator[Problem]:
    """A marinade that met raw meat and is served."""
    for flow in flows_of(facts):
        starts = [each for each in flow.raw if each.hazard.kind in MEATS]
        for step in flow.recipe.steps:
            if not sauces_with_marinade(step) or _boils(step):
                continue
            met = next(
                (
                    each
                    for each in starts
                    if each.cooked is not None and step.number in flow.order.following[each.cooked]
                ),
                None,
            )
            if met is not None:
                yield error(
                    "marinade-not-sauce",
                    step.place,
                    f"The marinade met raw {met.hazard.name} at step {met.hazard.start}, and step "
                    f"{step.number} serves it without another boil.",
                    "Set some aside before the meat goes in and call it the sauce; or boil the "
                    "marinade in a step with `needs: burner`, and say so.",
                )


_CALLED_READY = re.compile(
    r"\b(?:ready[- ]to[- ](?:eat|serve)|(?:already |fully |pre-?)cooked)\b", re.IGNORECASE
)
_OF_ANIMALS = MEATS | {"egg"}
_BOUGHT_COOKED = {
    "egg": "hard-boiled egg",
    "fish": "canned tuna",
    "shellfish": "cooked shrimp",
    "poultry": "cooked chicken",
    "beef": "cooked beef",
    "pork": "pulled pork",
}
"""By the raw hazard or the tag of a food: one that is sold cooked."""


def ready_but_raw(facts: Facts) -> Iterator[Problem]:
    """A food that is sold raw, and that its own line calls ready or cooked."""
    for recipe in facts.folder.recipes.values():
        for line in (*recipe.ingredients, *(swap.use for swap in recipe.swaps)):
            item = facts.folder.pantry.find(line.name)
            called = _CALLED_READY.search(line.preparation or "")
            if item is None or called is None or item.raw not in _OF_ANIMALS:
                continue
            kinds = (item.raw, *sorted(item.tags))
            other = next((_BOUGHT_COOKED[kind] for kind in kinds if kind in _BOUGHT_COOKED), None)
            bought = f", such as {other}" if other else ""
            yield error(
                "ready-but-raw",
                line.place,
                f"“{line.name}” is sold raw, and no word behind the comma cooks it: “{called[0]}” "
                "would print as if it needed no heat.",
                f"Cook it in a step with its temperature, and leave “{called[0]}” out; or call it "
                f"by what you buy cooked{bought}, or describe that in {PANTRY_FILE}.",
            )


RULES = (
    Rule("marinade-not-sauce", marinade_not_sauce, of_one=True),
    Rule("ready-but-raw", ready_but_raw, of_one=True),
)
