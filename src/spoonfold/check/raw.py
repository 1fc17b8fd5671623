"""Raw and ready: a marinade that met raw meat isn't eaten as it is."""

from __future__ import annotations

from collections.abc import Iterator

from spoonfold.check.rule import Facts, Rule, error, flows_of
from spoonfold.model.recipe import Step
from spoonfold.plan.safety.flow import MEATS
from spoonfold.plan.safety.limits import POULTRY
from spoonfold.plan.safety.words import boils, on_heat, sauces_with_marinade
from spoonfold.problem import Problem


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


RULES = (Rule("marinade-not-sauce", marinade_not_sauce),)
